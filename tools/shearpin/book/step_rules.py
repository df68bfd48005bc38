"""Rules on steps and the machines that they are for."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from shearpin.book.linked import LinkedBook
from shearpin.checks.nearest import some_of
from shearpin.checks.record_rules import steps_of
from shearpin.checks.rule import AnyRule, Fault, rule
from shearpin.model.inline import Link, parse_inline
from shearpin.model.position import FieldPath
from shearpin.model.steps import Work


@rule("APP003")
def step_calls_work_for_other_machines(linked: LinkedBook) -> Iterator[Fault]:
    """A step sends the reader to a procedure or a test that does not hold for the machine on the bench.

    ## Why
    “Start the engine by that procedure” on a machine without an engine ends at a page that says it is for others, with the
    work half done. What a `note` names is information, and may be for others. Steps of a record that are wrong for the same machines
    share a finding.

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
    for key, work in linked.book.work():
        called: dict[tuple[str, ...], list[tuple[FieldPath, Link]]] = {}
        for path, link, machines in _calls_elsewhere(linked, work):
            called.setdefault(machines, []).append((path, link))
        file = linked.book.file_of[key].path
        for machines, links in called.items():
            path, link = links[0]
            others = [other for other in dict(links) if other != path]
            names = list(dict.fromkeys(link.id for _, link in links))
            one_name = len(names) == 1
            yield Fault(
                file, path,
                f"{some_of(names)} {'does' if one_name else 'do'} not hold on {some_of(machines)}, which "
                f"{f'{len(others) + 1} steps of this record are' if others else 'this step is'} for",
                f"give {'these steps' if others else 'the step'} an `applies_to`, or let {some_of(names)} hold there too",
                offset=link.offset, related=tuple((file, other) for other in others),
            )  # fmt: skip


def _calls_elsewhere(linked: LinkedBook, work: Work) -> Iterator[tuple[FieldPath, Link, tuple[str, ...]]]:
    """Yield each link of a step to work, with the machines of the step on which that work does not hold."""
    machines_for = linked.applicability.machines_for
    here = machines_for(work.applies_to)
    for place, step in steps_of(work):
        for field, text in (("do", step.do), ("confirm", step.confirm)):
            if text is None or "{" not in text:
                continue
            for link in parse_inline(text):
                called = linked.book.get(link.kind, link.id) if isinstance(link, Link) else None
                if not isinstance(link, Link) or not isinstance(called, Work):
                    continue
                left = here & machines_for(step.applies_to) - machines_for(called.applies_to)
                if left:
                    yield (*place, field), link, tuple(sorted(left))


STEP_RULES: Final[tuple[AnyRule, ...]] = (step_calls_work_for_other_machines,)
