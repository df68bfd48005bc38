"""Rules on links between records: what leads nowhere, what nobody needs, what runs in a circle."""

# Longer than 300 lines: each rule carries its reason and its examples, which are most of the text.

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Iterator, Mapping
from contextlib import suppress
from graphlib import CycleError, TopologicalSorter
from itertools import chain, pairwise
from typing import Final

from shearpin.book.book import Key
from shearpin.book.linked import LinkedBook
from shearpin.book.links import Use
from shearpin.checks.nearest import did_you_mean
from shearpin.checks.rule import AnyRule, Fault, Wording, rule
from shearpin.checks.unwritten import waits_for_an_id
from shearpin.model.finding import Severity
from shearpin.model.kinds import KINDS

_MOST_CIRCLES: Final = 100
"""Circles that are listed; a book with more has one fault that is everywhere."""


def _file(linked: LinkedBook, key: Key) -> str:
    return linked.book.file_of[key].path


def _kinds_with(linked: LinkedBook, record_id: str) -> list[str]:
    return [kind for kind in KINDS if (kind, record_id) in linked.book.file_of]


def _dead_uses(linked: LinkedBook) -> tuple[Use, ...]:
    """Return references to records that do not exist, whether another kind has one of that name or not."""
    # A value in a text is that of VAL003.
    return tuple(use for use in linked.links.dead() if not (use.kinds == ("value",) and use.offset))


@rule("REF001", wording=Wording.NONE)
def dangling_reference(linked: LinkedBook) -> Iterator[Fault]:
    """A reference to a record that does not exist.

    ## Why
    The reader is sent to a page that is not there, or a step loses the caution it was to show.

    ## Hint
    did you mean `auger-shear-bolt`?

    ## Bad
    ```yaml
    # kb/tools/pin-punch.yaml
    title: Pin punch
    summary: Drives out the {part:auger-sheer-bolt}.
    ```

    ## Good
    ```yaml
    # kb/tools/pin-punch.yaml
    title: Pin punch
    summary: Drives out the {part:auger-shear-bolt}.
    ```
    """
    for use in linked.once(_dead_uses):
        unknown = [kind for kind in use.kinds if kind not in KINDS]
        if unknown or not _kinds_with(linked, use.id):
            wanted = " or ".join(use.kinds)
            if unknown:
                message, known = f"there is no kind of record called `{unknown[0]}`", list(KINDS)
                advice = did_you_mean(unknown[0], known) or "kinds: " + ", ".join(known)
            else:
                message = f"there is no {wanted} `{use.id}`"
                known = [i for kind in use.kinds for i in linked.book.of_kind(kind)]
                advice = did_you_mean(use.id, known) or (
                    f"begin it with `shearpin new {use.kinds[0]} {use.id}`, or correct the id"
                )
                if waits_for_an_id(use.id):
                    message = f"`{use.id}` still waits for the id of its {wanted}"
                    advice = f"name a record of the kind {wanted}, or delete what you do not need"
            yield Fault(_file(linked, use.origin), use.path, message, advice, use.on_key, use.offset)


@rule("REF002", wording=Wording.NONE)
def reference_to_another_kind(linked: LinkedBook) -> Iterator[Fault]:
    """A reference to a record of a kind that does not belong there.

    ## Why
    A procedure listed among causes, or a tool among parts, would be shown where it makes no sense.

    ## Hint
    name a tool

    ## Bad
    ```yaml
    # kb/terms/drift.yaml
    title: Drift
    definition: A rod that drives out pins.
    tools: [auger-shear-bolt]
    ```

    ## Good
    ```yaml
    # kb/terms/drift.yaml
    title: Drift
    definition: A rod that drives out pins.
    tools: [pin-punch]
    ```
    """
    for use in linked.once(_dead_uses):
        other = _kinds_with(linked, use.id)
        if other and all(kind in KINDS for kind in use.kinds):
            message = f"`{use.id}` is a {other[0]}, and here a {' or '.join(use.kinds)} is meant"
            known = [i for kind in use.kinds for i in linked.book.of_kind(kind)]
            advice = did_you_mean(use.id, known) or f"name a {use.kinds[0]}"
            yield Fault(_file(linked, use.origin), use.path, message, advice, use.on_key, use.offset)


@rule("REF004", wording=Wording.NONE)
def duplicate_id(linked: LinkedBook) -> Iterator[Fault]:
    """Two records of one kind whose ids differ in capitals only.

    ## Why
    Their pages would have the same address on Windows and macOS, and one would overwrite the other.

    ## Hint
    rename or join the two

    ## Bad
    ```yaml
    # kb/terms/drift.yaml
    title: Drift
    definition: A rod that drives out pins.
    # kb/terms/Drift.yaml
    title: Drift punch
    definition: A rod that drives out broken bolts.
    ignore: [{code: REF003, reason: shows the clash of names}]
    ```

    ## Good
    ```yaml
    # kb/terms/drift.yaml
    title: Drift
    definition: A rod that drives out pins and broken bolts.
    ```
    """
    seen: dict[tuple[str, str], str] = {}
    for file in sorted(linked.book.files, key=lambda file: (not file.id.islower(), file.path)):
        folded = (file.kind.name, file.id.casefold())
        if folded in seen:
            message = f"the id `{file.id}` is already taken by {linked.book.shown}/{seen[folded]}"
            yield Fault(
                file.path, (), message, "rename or join the two", place=(1, 1), related=((seen[folded], ()),)
            )
        else:
            seen[folded] = file.path


@rule("REF006", wording=Wording.NONE, titles_of=(), bones_of=("procedure",))
def circle_of_preparations(linked: LinkedBook) -> Iterator[Fault]:
    """Procedures that must each be done before the other.

    ## Why
    Nobody can begin: the page would send its reader round in a circle.

    ## Hint
    drop one of the `before`

    ## Bad
    ```yaml
    # kb/procedures/make-machine-safe.yaml
    title: Make the machine safe
    purpose: Nothing can start while hands are in the machine.
    isolates: [rotating-auger]
    systems: [auger-drive]
    before: [replace-auger-shear-bolt]
    time: 3 min
    steps:
      - do: Take the key out of the switch.
    sources: [bench-notes]
    ```

    ## Good
    ```yaml
    # kb/procedures/make-machine-safe.yaml
    title: Make the machine safe
    purpose: Nothing can start while hands are in the machine.
    isolates: [rotating-auger]
    systems: [auger-drive]
    time: 3 min
    steps:
      - do: Take the key out of the switch.
    sources: [bench-notes]
    ```
    """
    before = {name: linked.book.gist("procedure", name).before for name in linked.book.of_kind("procedure")}
    for circle in _circles(before):
        first = min(circle)
        turn = circle.index(first)
        order = [*circle[turn:], *circle[:turn], first]
        chain = " → ".join(f"`{name}`" for name in order)
        path = ("before", before[first].index(order[1]))
        yield Fault(
            _file(linked, ("procedure", first)), path, f"a circle: {chain}", "drop one of the `before`"
        )


def _circles(before: Mapping[str, tuple[str, ...]]) -> Iterator[list[str]]:
    """Yield circles until each `before` that is part of one was in one: so none appears only after another was mended."""
    after: dict[str, list[str]] = {name: [] for name in before}
    for name, earlier in before.items():
        for other in earlier:
            after.setdefault(other, []).append(name)
    entangled = _never_ready(before) & _never_ready(after)
    left = {
        name: [other for other in before[name] if other in entangled] for name in before if name in entangled
    }
    told: set[tuple[str, str]] = set()
    count = 0
    for name, others in left.items():
        for other in others:
            way = _way(left, other, name) if (name, other) not in told and count < _MOST_CIRCLES else []
            if way:
                told.update(pairwise([name, *way]))
                count += 1
                yield way


def _never_ready(needed: Mapping[str, Iterable[str]]) -> set[str]:
    """Return what can never be done: parts of circles, and what needs them."""
    sorter = TopologicalSorter(needed)
    with suppress(CycleError):
        sorter.prepare()
    done: set[str] = set()
    while ready := sorter.get_ready():
        done.update(ready)
        sorter.done(*ready)
    return set(needed) - done


def _way(left: Mapping[str, Iterable[str]], start: str, end: str) -> list[str]:
    """Return the shortest way from one to the other, both included; empty where there is none."""
    came_from = {start: start}
    waiting = deque([start])
    while waiting and end not in came_from:
        name = waiting.popleft()
        for other in left[name]:
            if other not in came_from:
                came_from[other] = name
                waiting.append(other)
    if end not in came_from:
        return []
    way = [end]
    while way[-1] != start:
        way.append(came_from[way[-1]])
    return way[::-1]


_STAND_ALONE: Final = frozenset({"machine", "engine", "symptom", "procedure", "term", "edition", "system"})
"""Kinds that a reader looks up by themselves."""


@rule("REF007", Severity.WARNING, wording=Wording.NONE)
def unused_record(linked: LinkedBook) -> Iterator[Fault]:
    """A record that nothing refers to, of a kind nobody looks up by itself.

    ## Why
    A caution, cause, test, part, tool, value, source or figure that no page needs is a slip: either something should
    name it, or it is left over.

    ## Hint
    name it where it belongs, or delete it

    ## Bad
    ```yaml
    # kb/sources/forgotten.yaml
    title: A forgotten source
    nature: institute
    seen: own
    summary: Nothing names it.
    ```

    ## Good
    ```yaml
    # kb/sources/forgotten.yaml
    title: A source that is named
    nature: institute
    seen: own
    summary: The pin punch names it.
    # kb/tools/pin-punch.yaml
    title: Pin punch
    summary: Drives out broken shear bolts.
    sources: [forgotten]
    ```
    """
    meant, loose = _meant_by_others(linked), linked.book.loose_words
    idle = [key for key in linked.book.all_keys() if key[0] not in _STAND_ALONE and key not in meant]
    by_itself: set[Key] = set()
    if any(kind == "caution" for kind, _ in idle):
        required = (linked.safety.by_action.values(), linked.safety.by_energy.values())
        by_itself.update(("caution", caution) for ids in chain(*required) for caution in ids)
    if any(kind == "test" for kind, _ in idle):
        suspected = linked.book.causes_of("symptom") | loose
        by_itself.update(
            ("test", test_id)
            for test_id in linked.book.of_kind("test")
            if any(cause in suspected for cause, _ in linked.book.gist("test", test_id).causes)
        )
    for key in idle:
        if key not in by_itself and key[1] not in loose:
            message = f"nothing refers to this {key[0]}"
            yield Fault(
                _file(linked, key), (), message, "name it where it belongs, or delete it", place=(1, 1)
            )


def _meant_by_others(linked: LinkedBook) -> set[Key]:
    """Return every record that one besides itself may mean."""
    meant: set[Key] = set()
    known: set[int] = set()
    for origin, own in linked.pointers.items():
        for group in own:
            kinds, names = group
            if id(group) in known:  # many records point to the same, which then is in memory once
                continue
            itself = origin[0] in kinds and origin[1] in names
            if not itself:
                known.add(id(group))
            meant.update((kind, name) for kind in kinds for name in names if (kind, name) != origin)
    return meant


@rule("REF008")
def file_nobody_reads(linked: LinkedBook) -> Iterator[Fault]:
    """A file or folder in `kb/` that is no record.

    ## Why
    A record saved as `.yml`, or in a folder with a misspelt name, is not in the manual though its writer thinks so.

    ## Hint
    rename or move it

    ## Bad
    ```yaml
    # kb/tools/drift.yml
    title: Drift
    summary: Drives out pins.
    ```

    ## Good
    ```yaml
    # kb/tools/pin-punch.yaml
    title: Pin punch
    summary: Drives out broken shear bolts and pins.
    ```
    """
    for path, reason in linked.book.strays:
        folders = [kind.folder for kind in KINDS.values()]
        advice = did_you_mean(path, folders) if "/" not in path else "rename or move it"
        yield Fault(path, (), reason, advice or "folders: " + ", ".join(folders), place=(1, 1))


REFERENCE_RULES: Final[tuple[AnyRule, ...]] = (
    dangling_reference,
    reference_to_another_kind,
    duplicate_id,
    circle_of_preparations,
    unused_record,
    file_nobody_reads,
)
