"""The rule that keeps shear bolts the weakest part: nothing may name a stronger bolt for one."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Final

from shearpin.book.linked import LinkedBook
from shearpin.book.values import ResolvedValue
from shearpin.checks.record_rules import steps_of
from shearpin.checks.rule import AnyRule, Fault, Wording, rule
from shearpin.mechanics.guards import ImpossibleInputError
from shearpin.mechanics.recorded import OF_RECORDED
from shearpin.mechanics.refusals import refused
from shearpin.mechanics.strength import Grade, parse_grade, strength_at
from shearpin.mechanics.threads import parse_thread
from shearpin.model.fields import Plate
from shearpin.model.machines import Part, Plated, ShearBolt, Value
from shearpin.model.position import FieldPath
from shearpin.model.steps import Work

_GRADE: Final = re.compile(
    r"\b(?:(?:SAE )?(?:J ?429 )?(?:grade|gr\.?) ?[0-9]\b|(?:ISO )?(?:898(?:-1)? )?(?:property )?class [0-9]{1,2}\.[0-9]\b)",
    re.IGNORECASE,
)
_GREASE: Final = re.compile(r"\bNLGI $", re.IGNORECASE)
_SHEAR: Final = re.compile(r"\bshear|\{[a-z-]*shear", re.IGNORECASE)
_SEPARATORS: Final = re.compile(r"[\s./-]+")


@dataclass(frozen=True, slots=True)
class _Specified:
    """The grade that one machine specifies for a shear bolt, with its tensile strength."""

    machine: str
    title: str
    grade: Grade
    tensile_mpa: float
    diameter_mm: float


@rule("TRQ005", wording=Wording.OWN, titles_of=("machine",), bones_of=(*OF_RECORDED, "part"))
def stronger_bolt_for_a_shear_bolt(linked: LinkedBook) -> Iterator[Fault]:
    """A shear bolt is replaced by one of a higher grade than the machine specifies.

    ## Why
    Release torque rises with the tensile strength of the bolt: grade 5 in place of grade 2 lets go at 120/74 = 1.62 times
    the torque (SAE J429). The bolt is then no longer the weakest part, and the next stone breaks gearbox, shaft or
    impeller. Found where a part's note or name, a step or a value's note names a stronger grade than the machine's value,
    and where one order number is given for machines that specify different grades.

    ## Hint
    name the specified bolt, or write `never` right before the stronger one

    ## Bad
    ```yaml
    # kb/values/auger-shear-bolt.thread.yaml
    title: Auger shear bolt thread
    quantity: designation
    plate: machine
    applies_to: {class: two-stage}
    sources: [bench-notes]
    # kb/values/auger-shear-bolt.grade.yaml
    title: Auger shear bolt grade
    quantity: designation
    plate: machine
    applies_to: {class: two-stage}
    shear_bolt: {thread: auger-shear-bolt.thread}
    sources: [bench-notes]
    # kb/machines/brook-d24.yaml
    title: Brook D24
    summary: A two-stage snow thrower.
    class: two-stage
    engine: ell-e212
    plate: {where: rear frame}
    values:
      auger-shear-bolt.torque: {is: 8 N·m, basis: demo}
      auger-shear-bolt.thread: {is: 1/4-20 UNC, basis: demo}
      auger-shear-bolt.grade: {is: SAE J429 grade 2, basis: demo}
    sources: [bench-notes]
    # kb/machines/brook-t28.yaml
    title: Brook T28
    summary: A two-stage snow thrower on tracks.
    class: two-stage
    engine: ell-e212
    plate: {where: rear frame}
    values:
      auger-shear-bolt.torque: {is: 9 ± 1 N·m, basis: demo}
      auger-shear-bolt.thread: {is: 1/4-20 UNC, basis: demo}
      auger-shear-bolt.grade: {is: SAE J429 grade 2, basis: demo}
    sources: [bench-notes]
    # kb/parts/auger-shear-bolt.yaml
    title: Auger shear bolt
    summary: It breaks before the gears do; nothing stronger may be fitted.
    plate: machine
    applies_to: {class: two-stage}
    systems: [auger-drive]
    numbers:
      brook-d24: {number: B-1024, note: A grade 5 bolt of the same size will do.}
      brook-t28: {number: B-1028}
    values: [auger-shear-bolt.grade, auger-shear-bolt.torque]
    sources: [bench-notes]
    ```

    ## Good
    ```yaml
    # kb/values/auger-shear-bolt.thread.yaml
    title: Auger shear bolt thread
    quantity: designation
    plate: machine
    applies_to: {class: two-stage}
    sources: [bench-notes]
    # kb/values/auger-shear-bolt.grade.yaml
    title: Auger shear bolt grade
    quantity: designation
    plate: machine
    applies_to: {class: two-stage}
    shear_bolt: {thread: auger-shear-bolt.thread}
    sources: [bench-notes]
    # kb/machines/brook-d24.yaml
    title: Brook D24
    summary: A two-stage snow thrower.
    class: two-stage
    engine: ell-e212
    plate: {where: rear frame}
    values:
      auger-shear-bolt.torque: {is: 8 N·m, basis: demo}
      auger-shear-bolt.thread: {is: 1/4-20 UNC, basis: demo}
      auger-shear-bolt.grade: {is: SAE J429 grade 2, basis: demo}
    sources: [bench-notes]
    # kb/machines/brook-t28.yaml
    title: Brook T28
    summary: A two-stage snow thrower on tracks.
    class: two-stage
    engine: ell-e212
    plate: {where: rear frame}
    values:
      auger-shear-bolt.torque: {is: 9 ± 1 N·m, basis: demo}
      auger-shear-bolt.thread: {is: 1/4-20 UNC, basis: demo}
      auger-shear-bolt.grade: {is: SAE J429 grade 2, basis: demo}
    sources: [bench-notes]
    # kb/parts/auger-shear-bolt.yaml
    title: Auger shear bolt
    summary: It breaks before the gears do; nothing stronger may be fitted.
    plate: machine
    applies_to: {class: two-stage}
    systems: [auger-drive]
    numbers:
      brook-d24: {number: B-1024, note: A grade 2 bolt. Never fit a grade 5 bolt.}
      brook-t28: {number: B-1028}
    values: [auger-shear-bolt.grade, auger-shear-bolt.torque]
    sources: [bench-notes]
    ```
    """
    for name, kind in linked.book.with_word("value", "shear_bolt"):
        if not isinstance(kind, Value) or kind.shear_bolt is None:
            continue
        specified = _specified(linked, name, kind.shear_bolt)
        users = (part_id for _, part_id in linked.links.origins(("value", name), "part"))
        parts = [(p, part) for p in users if name in (part := linked.book.parts[p]).values]
        yield from _in_value_notes(linked, name, specified)
        for part_id, part in parts:
            file = linked.book.file_of["part", part_id].path
            yield from _in_part(linked, file, part, specified)
            yield from _shared_numbers(linked, file, part, specified)
        yield from _in_work(linked, {part_id for part_id, _ in parts}, specified)


def _specified(linked: LinkedBook, name: str, bolt: ShearBolt) -> dict[str, _Specified]:
    """Return what each machine specifies, where its thread and grade are known to the standards."""
    found = {}
    for machine_id in linked.values.machines_with(name):
        grade_value = linked.values.resolve(name, machine_id)
        thread_value = linked.values.resolve(bolt.thread, machine_id)
        if not isinstance(grade_value, ResolvedValue) or not isinstance(thread_value, ResolvedValue):
            continue
        try:
            diameter_mm = parse_thread(thread_value.quantity.text).diameter_mm
            strength = strength_at(parse_grade(grade_value.quantity.text), diameter_mm)
        except ImpossibleInputError:
            continue
        title = linked.book.machines[machine_id].title
        found[machine_id] = _Specified(machine_id, title, strength.grade, strength.tensile_mpa, diameter_mm)
    return found


def _weakest(specified: dict[str, _Specified], machines: Iterable[str]) -> _Specified | None:
    known = [specified[machine] for machine in sorted(machines) if machine in specified]
    return min(known, key=lambda each: each.tensile_mpa, default=None)


def _stronger(file: str, path: FieldPath, text: str | None, weakest: _Specified | None) -> Iterator[Fault]:
    """Yield every grade in a text that is stronger than specified, unless the text refuses it."""
    if not text or weakest is None:
        return
    for match in _GRADE.finditer(text):
        if refused(text, match.start(), match.end(), _GRADE) or _GREASE.search(text[: match.start()]):
            continue
        try:
            fitted = strength_at(parse_grade(match.group()), weakest.diameter_mm)
        except ImpossibleInputError:
            continue
        if fitted.tensile_mpa > weakest.tensile_mpa:
            message = f"`{match.group()}` is stronger than the {weakest.grade.short} that the {weakest.title} specifies"
            advice = "name the specified bolt, or write `never` right before the stronger one"
            yield Fault(file, path, message, advice, offset=match.start())


def _in_value_notes(linked: LinkedBook, name: str, specified: dict[str, _Specified]) -> Iterator[Fault]:
    for holder in ("machine", "engine"):
        for record_id in linked.book.of_kind(holder):
            record = linked.book.get(holder, record_id)
            entry = record.values.get(name) if isinstance(record, Plated) else None
            if entry is not None:
                file = linked.book.file_of[holder, record_id].path
                yield from _stronger(
                    file,
                    ("values", name, "note"),
                    entry.note,
                    _weakest(specified, _machines_of(linked, Plate(holder), record_id)),
                )


def _machines_of(linked: LinkedBook, plate: Plate, plate_id: str) -> tuple[str, ...]:
    """Return the machine of a plate, or the machines with the engine of that plate."""
    if plate is Plate.MACHINE:
        return (plate_id,)
    return tuple(
        machine_id for machine_id, machine in linked.book.machines.items() if machine.engine == plate_id
    )


def _in_part(linked: LinkedBook, file: str, part: Part, specified: dict[str, _Specified]) -> Iterator[Fault]:
    for plate_id, number in part.numbers.items():
        weakest = _weakest(specified, _machines_of(linked, part.plate, plate_id))
        yield from _stronger(file, ("numbers", plate_id, "note"), number.note, weakest)
    everywhere = _weakest(specified, linked.applicability.machines_for(part.applies_to))
    yield from _stronger(file, ("consumable",), part.consumable, everywhere)
    for index, name in enumerate(part.also):
        yield from _stronger(file, ("also", index), name, everywhere)


def _shared_numbers(
    linked: LinkedBook, file: str, part: Part, specified: dict[str, _Specified]
) -> Iterator[Fault]:
    """Yield each plate that gets, by its order number, a bolt that another plate specifies stronger."""
    for plate_id, number in part.numbers.items():
        own = _weakest(specified, _machines_of(linked, part.plate, plate_id))
        for other_id, other_number in part.numbers.items():
            other = _weakest(specified, _machines_of(linked, part.plate, other_id))
            same = _plain(number.number) == _plain(other_number.number)
            if own is not None and other is not None and same and other.tensile_mpa > own.tensile_mpa:
                message = (
                    f"`{number.number}` is also ordered for the {other.title}, which specifies {other.grade.short}; "
                    f"the {own.title} specifies {own.grade.short}"
                )
                advice = "give each machine the number of its own shear bolt, or correct its grade"
                related = ((file, ("numbers", other_id, "number")),)
                yield Fault(file, ("numbers", plate_id, "number"), message, advice, related=related)
                break


def _plain(number: str) -> str:
    return _SEPARATORS.sub("", number).casefold()


def _in_work(linked: LinkedBook, part_ids: set[str], specified: dict[str, _Specified]) -> Iterator[Fault]:
    using = {key for part_id in part_ids for key in linked.links.to.get(("part", part_id), ())}
    for key, work in linked.asked_work():
        uses = _uses(work, part_ids) if key in using else []
        if not uses:
            continue
        file = linked.book.file_of[key].path
        here = linked.applicability.machines_for(work.applies_to)
        for index in uses:
            condition = work.parts[index].if_needed
            yield from _stronger(file, ("parts", index, "if_needed"), condition, _weakest(specified, here))
        for path, step in steps_of(work):
            weakest = _weakest(specified, here & linked.applicability.machines_for(step.applies_to))
            for name in ("do", "confirm", "note"):
                text = getattr(step, name)
                if text and _SHEAR.search(text):  # other bolts of the same work may well be stronger
                    yield from _stronger(file, (*path, name), text, weakest)


def _uses(work: Work, part_ids: set[str]) -> list[int]:
    """Return where in the list of parts the shear bolts of some work stand."""
    return [index for index, use in enumerate(work.parts) if use.part in part_ids]


SHEAR_RULES: Final[tuple[AnyRule, ...]] = (stronger_bolt_for_a_shear_bolt,)
