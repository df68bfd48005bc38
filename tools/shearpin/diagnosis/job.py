"""A job: several procedures on one machine as one list of work, cautions, tools, parts and minutes.

What is written here is the whole rule; `job-list.js` of the pages follows it word for word. The work is the procedures
asked for, in that order, each after those that it and its preparations have in `before`; whatever occurs twice is
done once, at the first place. Preparations that are not for the machine are left out; a procedure asked for that is
not for it is refused with the reason. Cautions stand by gravity, then in the order of the work. Quantities of a part
add up; those fitted only in some cases are told apart. A procedure that puts energy into the machine, as by a function
test, undoes what made it safe: after it, the isolating preparations of any later procedure are done again.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from shearpin.book.linked import LinkedBook
from shearpin.book.safety import GRAVITY
from shearpin.diagnosis.model import LIVE_ACTIONS, takes
from shearpin.model.fields import Plate

MAX_PROCEDURES: Final = 60


@dataclass(frozen=True, slots=True)
class JobWork:
    """One procedure of the job; `asked` is false for a preparation. `serves` are the procedures that need it first.

    `again` are the preparations to do once more before the work goes on; their minutes are not counted, for who leaves
    the function tests to the end is spared them.
    """

    procedure: str
    seconds: int
    asked: bool
    serves: tuple[str, ...]
    again: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PerhapsNeeded:
    """A quantity that is only fitted in some cases: when."""

    when: str
    quantity: int


@dataclass(frozen=True, slots=True)
class JobPart:
    """A part of the job; `number` is the order number by the plate, None where none is recorded or it is no part."""

    part: str
    quantity: int
    perhaps: tuple[PerhapsNeeded, ...]
    number: str | None
    ask_for: str | None
    uses: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Job:
    """The combined list. `seconds_saved` are those of preparations that would have been done more than once."""

    machine: str
    work: tuple[JobWork, ...]
    refused: tuple[tuple[str, str], ...]
    cautions: tuple[str, ...]
    tools: tuple[str, ...]
    machine_parts: tuple[JobPart, ...]
    engine_parts: tuple[JobPart, ...]
    seconds: int
    seconds_saved: int


def make_job(linked: LinkedBook, procedures: Iterable[str], machine_id: str) -> Job:
    """Return the job; raises `KeyError` for a procedure or machine that the book does not have."""
    book = linked.book
    fitting: list[str] = []
    refused: list[tuple[str, str]] = []
    if machine_id not in book.machines:
        raise KeyError(machine_id)
    for procedure in dict.fromkeys(procedures):
        against = linked.applicability.reason_against(book.procedures[procedure].applies_to, machine_id)
        if against is None:
            fitting.append(procedure)
        else:
            refused.append((procedure, against))
    work, saved = _work(linked, fitting, machine_id)
    return Job(
        machine_id,
        work,
        tuple(refused),
        _cautions(linked, work, machine_id),
        tuple(dict.fromkeys(tool for item in work for tool in book.procedures[item.procedure].tools)),
        _parts(linked, work, machine_id, Plate.MACHINE),
        _parts(linked, work, machine_id, Plate.ENGINE),
        sum(item.seconds for item in work),
        saved,
    )


def _work(linked: LinkedBook, procedures: Sequence[str], machine_id: str) -> tuple[tuple[JobWork, ...], int]:
    book = linked.book
    serves: dict[str, list[str]] = {}
    alone = 0  # seconds were each procedure a job of its own
    for procedure in procedures:
        before = [
            name
            for name in book.preparations(book.procedures[procedure])
            if name in book.procedures
            and linked.applicability.occurs((book.procedures[name].applies_to,), machine_id)
        ]
        for name in (*before, procedure):
            known = serves.setdefault(name, [])
            if name != procedure:
                known.append(procedure)
            alone += seconds_of(linked, name)
    order = tuple(serves)
    work = tuple(
        JobWork(
            name,
            seconds_of(linked, name),
            name in procedures,
            tuple(needing),
            _again(linked, name, order[place + 1 :], serves),
        )
        for place, (name, needing) in enumerate(serves.items())
    )
    return work, alone - sum(item.seconds for item in work)


def _again(
    linked: LinkedBook, procedure: str, later: Sequence[str], serves: Mapping[str, Sequence[str]]
) -> tuple[str, ...]:
    """Return the isolating preparations that a later procedure needs and this one undoes."""
    if not powers_up(linked, procedure):
        return ()
    return tuple(
        name
        for name, needing in serves.items()
        if name not in later and linked.book.procedures[name].isolates and not set(later).isdisjoint(needing)
    )


def powers_up(linked: LinkedBook, procedure: str) -> bool:
    """Tell whether a step of a procedure puts energy into the machine."""
    return takes(linked.book.procedures[procedure], LIVE_ACTIONS)


def seconds_of(linked: LinkedBook, procedure: str) -> int:
    """Return the working time of a procedure in whole seconds."""
    return round(linked.book.procedures[procedure].time.si or 0)


def _cautions(linked: LinkedBook, work: Iterable[JobWork], machine_id: str) -> tuple[str, ...]:
    found: dict[str, int] = {}
    for item in work:
        for required in linked.safety.required("procedure", item.procedure):
            caution = linked.book.cautions[required.id]
            if linked.applicability.occurs((caution.applies_to,), machine_id):
                found.setdefault(required.id, GRAVITY[caution.signal_word])
    return tuple(
        sorted(found, key=lambda caution: found[caution])
    )  # a stable sort keeps the order of the work


def _parts(linked: LinkedBook, work: Iterable[JobWork], machine_id: str, plate: Plate) -> tuple[JobPart, ...]:
    quantities: dict[str, int] = {}
    perhaps: dict[str, list[PerhapsNeeded]] = {}
    uses: dict[str, dict[str, None]] = {}
    for item in work:
        for use in linked.book.procedures[item.procedure].parts:
            part = linked.book.parts.get(use.part)
            if (part.plate if part is not None else Plate.MACHINE) is not plate:
                continue
            if part is not None and not linked.applicability.occurs((part.applies_to,), machine_id):
                continue
            quantities.setdefault(use.part, 0)
            uses.setdefault(use.part, {})[item.procedure] = None
            if use.if_needed is None:
                quantities[use.part] += use.quantity
            else:
                perhaps.setdefault(use.part, []).append(PerhapsNeeded(use.if_needed, use.quantity))
    return tuple(
        _job_part(linked, part, count, tuple(perhaps.get(part, ())), tuple(uses[part]), machine_id)
        for part, count in quantities.items()
    )


def _job_part(
    linked: LinkedBook,
    part_id: str,
    quantity: int,
    perhaps: tuple[PerhapsNeeded, ...],
    uses: tuple[str, ...],
    machine_id: str,
) -> JobPart:
    part = linked.book.parts.get(part_id)
    if part is None:
        return JobPart(part_id, quantity, perhaps, None, None, uses)
    holder = machine_id if part.plate is Plate.MACHINE else linked.book.machines[machine_id].engine
    entry = part.numbers.get(holder or "")
    number = entry.number if entry is not None and not part.consumable else None
    return JobPart(part_id, quantity, perhaps, number, part.consumable, uses)


def read_rate(text: str) -> int | None:
    """Return a rate for an hour's work in hundredths, or None for what is not an amount such as `90` or `87.50`."""
    match = re.fullmatch(r"([0-9]{1,6})(?:[.,]([0-9]{1,2}))?", text.strip(), re.ASCII)
    return int(match[1]) * 100 + int((match[2] or "0").ljust(2, "0")) if match is not None else None


def labour(seconds: int, rate: int) -> int:
    """Return what these seconds cost at a rate for the hour, both in hundredths, halves rounded up."""
    return (2 * rate * seconds + 3600) // 7200


def money(hundredths: int) -> str:
    """Return an amount with two places."""
    return f"{hundredths // 100}.{hundredths % 100:02}"
