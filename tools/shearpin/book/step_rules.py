"""Rules on steps and the machines that they are for."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator
from dataclasses import dataclass
from typing import Final

from shearpin.book.book import Key
from shearpin.book.linked import LinkedBook
from shearpin.checks.nearest import some_of
from shearpin.checks.record_rules import steps_of
from shearpin.checks.rule import MACHINE_FACTS, AnyRule, Fault, Wording, rule
from shearpin.model.inline import Link, parse_inline
from shearpin.model.position import FieldPath
from shearpin.model.steps import Work

_FEW: Final = 3
"""Records that send their reader to work for other machines are told one by one; where there are more, the work itself is told."""


@rule("APP003", wording=Wording.NONE, titles_of=(), bones_of=("procedure", "test", MACHINE_FACTS))
def step_calls_work_for_other_machines(linked: LinkedBook) -> Iterator[Fault]:
    """A step sends the reader to a procedure or a test that does not hold for the machine on the bench.

    ## Why
    “Start the engine by that procedure” on a machine without an engine ends at a page that says it is for others, with the
    work half done. What a `note` names is information, and may be for others. Steps of a record that are wrong for the same machines
    share a finding, and where many records call the same, it is told in what they call.

    ## Hint
    give the step an `applies_to`, or let `free-track` hold there too

    ## Bad
    ```yaml
    # kb/procedures/free-track.yaml
    title: Free a frozen track
    purpose: Ice holds the track.
    applies_to: {fitted: tracks}
    systems: [auger-drive]
    before: [make-machine-safe]
    time: 5 min
    steps:
      - do: Knock the ice off the track.
    sources: [bench-notes]
    # kb/procedures/make-machine-safe.yaml
    title: Make the machine safe
    purpose: Nothing can start while hands are in the machine.
    isolates: [rotating-auger]
    systems: [auger-drive]
    time: 3 min
    steps:
      - do: Take the key out of the switch.
      - do: If the machine is frozen to the ground, follow {procedure:free-track}.
    sources: [bench-notes]
    ```

    ## Good
    ```yaml
    # kb/procedures/free-track.yaml
    title: Free a frozen track
    purpose: Ice holds the track.
    applies_to: {fitted: tracks}
    systems: [auger-drive]
    before: [make-machine-safe]
    time: 5 min
    steps:
      - do: Knock the ice off the track.
    sources: [bench-notes]
    # kb/procedures/make-machine-safe.yaml
    title: Make the machine safe
    purpose: Nothing can start while hands are in the machine.
    isolates: [rotating-auger]
    systems: [auger-drive]
    time: 3 min
    steps:
      - do: Take the key out of the switch.
      - do: If the machine is frozen to the ground, follow {procedure:free-track}.
        applies_to: {fitted: tracks}
    sources: [bench-notes]
    ```
    """
    calls = [
        _Call(key, path, link, machines)
        for key in _may_call_elsewhere(linked)
        for path, link, machines in _calls_elsewhere(linked, key)
    ]
    callers: dict[tuple[str, tuple[str, ...]], set[Key]] = {}
    for call in calls:
        if not _told_apart(linked, call.caller):
            callers.setdefault((call.link.id, call.machines), set()).add(call.caller)
    shared = {cause: found for cause, found in callers.items() if len(found) > _FEW}
    for (called, machines), found in shared.items():
        yield _called_by_many(linked, called, machines, found)
    in_record: dict[tuple[Key, tuple[str, ...]], list[_Call]] = {}
    for call in calls:
        if (call.link.id, call.machines) not in shared or _told_apart(linked, call.caller):
            in_record.setdefault((call.caller, call.machines), []).append(call)
    for found_here in in_record.values():
        yield _in_one_record(linked, found_here)


@dataclass(frozen=True, slots=True)
class _Call:
    """A link in a step to work that does not hold on some machines of the step."""

    caller: Key
    path: FieldPath
    link: Link
    machines: tuple[str, ...]


def _told_apart(linked: LinkedBook, key: Key) -> bool:
    """Whether a record suppresses this rule: then what it calls is told, and suppressed, in the record itself."""
    record = linked.book.get(*key)
    return record is not None and any(entry.code == "APP003" for entry in record.ignore)


def _called_by_many(
    linked: LinkedBook, called: str, machines: tuple[str, ...], callers: Collection[Key]
) -> Fault:
    kind = "procedure" if called in linked.book.procedures else "test"
    names = sorted(name for _, name in callers)
    return Fault(
        linked.book.file_of[kind, called].path, ("systems",),
        f"`{called}` does not hold on {some_of(machines)}, and steps of {len(names)} records send their reader to it there: "
        f"{some_of(names)}",
        "let it hold there too (its `systems` and `applies_to` say where it holds), or give those steps an `applies_to`",
        on_key=True,
        hides=tuple(linked.book.file_of[key].path for key in sorted(callers)),
    )  # fmt: skip


def _in_one_record(linked: LinkedBook, calls: list[_Call]) -> Fault:
    first = calls[0]
    file = linked.book.file_of[first.caller].path
    others = [path for path in dict.fromkeys(call.path for call in calls) if path != first.path]
    names = list(dict.fromkeys(call.link.id for call in calls))
    return Fault(
        file, first.path,
        f"{some_of(names)} {'does' if len(names) == 1 else 'do'} not hold on {some_of(first.machines)}, which "
        f"{f'{len(others) + 1} steps of this record are' if others else 'this step is'} for",
        f"give {'these steps' if others else 'the step'} an `applies_to`, or let {some_of(names)} hold there too",
        offset=first.link.offset, related=tuple((file, other) for other in others),
    )  # fmt: skip


_MAY_CALL: Final = re.compile("procedure:|test:")


def _may_call_elsewhere(linked: LinkedBook) -> Iterator[Key]:
    """Yield the procedures and tests that name work, anywhere in them, which does not hold on all of their own machines."""
    book, machines_for = linked.book, linked.applicability.machines_for
    kinds = ("procedure", "test")
    headings = {(kind, name): book.heading(kind, name) for kind in kinds for name in book.of_kind(kind)}
    holds = {
        key: machines_for(heading.applies_to) for key, heading in headings.items() if heading is not None
    }
    for key, here in holds.items():
        named = (
            (kind, name)
            for meant, names in linked.links.pointers.get(key, ())
            for kind in kinds
            if kind in meant
            for name in names
        )
        if not all(here <= holds[other] for other in named if other in holds):
            yield key


def _calls_elsewhere(linked: LinkedBook, key: Key) -> Iterator[tuple[FieldPath, Link, tuple[str, ...]]]:
    """Yield each link of a step to work, with the machines of the step on which that work does not hold."""
    work = linked.book.get(*key)
    if not isinstance(work, Work):
        return
    machines_for = linked.applicability.machines_for
    here = machines_for(work.applies_to)
    for place, step in steps_of(work):
        for field, text in (("do", step.do), ("confirm", step.confirm)):
            if text is None or "{" not in text or not _MAY_CALL.search(text):
                continue
            for link in parse_inline(text):
                called = linked.book.get(link.kind, link.id) if isinstance(link, Link) else None
                if not isinstance(link, Link) or not isinstance(called, Work):
                    continue
                left = here & machines_for(step.applies_to) - machines_for(called.applies_to)
                if left:
                    yield (*place, field), link, tuple(sorted(left))


STEP_RULES: Final[tuple[AnyRule, ...]] = (step_calls_work_for_other_machines,)
