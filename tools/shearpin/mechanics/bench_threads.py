"""Bench calculations on threads and bolt strength, in words, and what the other bolt calculations share."""

from __future__ import annotations

from shearpin.mechanics.calculation import Answer, Calculation, Choice, Input, Output, Readings
from shearpin.mechanics.guards import ImpossibleInputError, with_unit
from shearpin.mechanics.strength import GRADES, Strength, load_n, parse_grade, strength_at
from shearpin.mechanics.threads import (
    Thread,
    minor_area_mm2,
    minor_diameter_mm,
    parse_thread,
    stress_area_mm2,
)

_GROUP = "fasteners"

GRADE_CHOICES = tuple(Choice(grade.short, grade.name) for grade in GRADES)
THREAD = Input("thread", "thread", "thread", note="write it like M6, M8×1, 1/4-20 or No. 10-32")
GRADE = Input("grade", "strength grade", "choice", choices=GRADE_CHOICES)


def thread_of(readings: Readings) -> Thread:
    """The thread that was typed. Errors: ImpossibleInputError when there is none such."""
    return parse_thread(readings.name("thread"))


def strength_of(readings: Readings, diameter_mm: float, key: str = "grade") -> Strength:
    """Strength of the chosen grade at a diameter. Errors: ImpossibleInputError when the grade ends below."""
    try:
        return strength_at(parse_grade(readings.name(key)), diameter_mm)
    except ImpossibleInputError as error:
        raise ImpossibleInputError(
            key if error.argument == "grade" else error.argument, str(error)
        ) from error


def remarks(*notes: str) -> tuple[str, ...]:
    """The notes that say something."""
    return tuple(note for note in notes if note)


def area_of(thread: Thread) -> float:
    """Stress area of a thread, mm². Errors: none for a thread that was parsed."""
    return stress_area_mm2(thread.diameter_mm, thread.pitch_mm, thread.system)


def _thread_sizes(readings: Readings) -> Answer:
    thread = thread_of(readings)
    area = area_of(thread)
    root_area = minor_area_mm2(thread.diameter_mm, thread.pitch_mm, thread.system)
    root = minor_diameter_mm(thread.diameter_mm, thread.pitch_mm, thread.system)
    worked = (
        f"{with_unit(area, 'mm²', 3)} stress area: {thread.designation}, "
        f"pitch {with_unit(thread.pitch_mm, 'mm', 3)}"
    )
    return Answer((area, root_area, thread.diameter_mm, root, thread.pitch_mm), worked)


def _bolt_strength(readings: Readings) -> Answer:
    thread = thread_of(readings)
    strength, area = strength_of(readings, thread.diameter_mm), area_of(thread)
    proof_kn = load_n(strength.proof_mpa, area) / 1000
    yield_kn = load_n(strength.yield_mpa, area) / 1000
    tensile_kn = load_n(strength.tensile_mpa, area) / 1000
    worked = f"{with_unit(proof_kn, 'kN', 3)} proof load: {thread.designation}, {strength.grade.short}"
    notes = remarks(strength.note, f"Strengths: {strength.source}.")
    return Answer((proof_kn, yield_kn, tensile_kn), worked, notes)


CALCULATIONS: tuple[Calculation, ...] = (
    Calculation(
        name="bolt-strength",
        title="Proof, yield and tensile load of a bolt",
        group=_GROUP,
        formula="F = S·A_t",
        symbols="S proof, yield or tensile strength; A_t stress area",
        inputs=(THREAD, GRADE),
        outputs=(
            Output("proof-load", "proof load", "force", "kN"),
            Output("yield-load", "yield load", "force", "kN"),
            Output("tensile-load", "tensile load", "force", "kN"),
        ),
        source="SAE J429; ISO 898-1",
        caution="Minimum strengths of a sound bolt along its axis; without a head marking, rely on none.",
        function=_bolt_strength,
    ),
    Calculation(
        name="thread-sizes",
        title="Areas and diameters of a thread",
        group=_GROUP,
        formula="A_t = π/4·(D - 0.9743/n)² or π/4·(d - 0.9382·p)²",
        symbols="D, d nominal diameter; n threads per inch; p pitch",
        inputs=(THREAD,),
        outputs=(
            Output("stress-area", "stress area", "area", "mm²"),
            Output("root-area", "area at the root", "area", "mm²"),
            Output("diameter", "nominal diameter", "length", "mm"),
            Output("root-diameter", "diameter at the root", "length", "mm"),
            Output("pitch", "pitch", "length", "mm"),
        ),
        source="ASME B1.1; ISO 898-1; Shigley 9th ed. Table 8-2",
        caution="Check the pitch with a gauge: metric and inch threads that nearly fit strip.",
        function=_thread_sizes,
    ),
)
