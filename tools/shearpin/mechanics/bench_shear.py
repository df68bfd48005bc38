"""Bench calculations on shear bolts, in words."""

from __future__ import annotations

from shearpin.mechanics.bench_threads import GRADE, GRADE_CHOICES, remarks, strength_of, thread_of
from shearpin.mechanics.calculation import Answer, Calculation, Choice, Input, Output, Readings
from shearpin.mechanics.guards import shown, with_unit
from shearpin.mechanics.shear import (
    ULTIMATE_SHEAR_RATIO,
    grade_swap_ratio,
    release_torque_nm,
    shank_area_mm2,
    shear_force_n,
    shear_state,
    shear_stress_mpa,
)
from shearpin.mechanics.threads import minor_area_mm2

_GROUP = "shear bolts"
_AS_SPECIFIED = (
    "Fit only the shear bolt that the maker specifies: a stronger one breaks the gear case, the shaft or the "
    "impeller instead."
)
_PLANES = Input(
    "planes", "shear planes", "count", "", "2", note="2 for a bolt across the shaft, 1 for a flange"
)


def _plane_area(readings: Readings) -> tuple[float, str, float]:
    """Area in the shear plane, what it is in words, and the nominal diameter in mm."""
    thread = thread_of(readings)
    if readings.name("plane") == "thread":
        area = minor_area_mm2(thread.diameter_mm, thread.pitch_mm, thread.system)
        return area, f"{thread.designation} through the thread", thread.diameter_mm
    return shank_area_mm2(thread.diameter_mm), f"{thread.designation} through the shank", thread.diameter_mm


def _release(readings: Readings) -> Answer:
    area, words, diameter = _plane_area(readings)
    strength = strength_of(readings, diameter)
    force_n = shear_force_n(strength.tensile_mpa, area, ULTIMATE_SHEAR_RATIO)
    shaft, planes = readings.number("shaft-diameter"), readings.count("planes")
    torque = release_torque_nm(force_n, shaft, planes)
    worked = (
        f"{with_unit(torque, 'N·m', 3)}: {words}, {strength.grade.short}, "
        f"{planes} plane{'s' if planes > 1 else ''}, {with_unit(shaft, 'mm', 3)} shaft"
    )
    return Answer((torque, force_n / 1000), worked, remarks(strength.note))


def _swap(readings: Readings) -> Answer:
    diameter = readings.number("diameter")
    specified = strength_of(readings, diameter, "specified")
    fitted = strength_of(readings, diameter, "fitted")
    ratio = grade_swap_ratio(fitted.tensile_mpa, specified.tensile_mpa)
    worked = f"{shown(ratio, 3)} times the release torque: {fitted.grade.short} for {specified.grade.short}"
    weakest = "The bolt is no longer the weakest part." if ratio > 1 else ""
    return Answer((ratio, 100 * (ratio - 1)), worked, remarks(weakest, specified.note, fitted.note))


def _stress(readings: Readings) -> Answer:
    diameter, planes = readings.number("diameter"), readings.count("planes")
    strength = strength_of(readings, diameter)
    stress = shear_stress_mpa(readings.number("force") * 1000, shank_area_mm2(diameter), planes)
    state = shear_state(stress, strength.tensile_mpa)
    worked = (
        f"{with_unit(stress, 'MPa', 3)}, {state.value}: {with_unit(diameter, 'mm', 3)} pin, "
        f"{strength.grade.short}, {with_unit(readings.number('force'), 'kN', 3)}"
    )
    return Answer((stress, state.value), worked, remarks(strength.note))


CALCULATIONS: tuple[Calculation, ...] = (
    Calculation(
        name="shear-release",
        title="Torque at which a shear bolt lets go",
        group=_GROUP,
        formula="T = m·0.60·S_u·A·D/2",
        symbols="m shear planes; S_u tensile strength; A area in the plane; D diameter of the planes",
        inputs=(
            Input("thread", "bolt", "thread", note="write it like M6, 1/4-20 or 5/16-18"),
            GRADE,
            Input(
                "plane",
                "what lies in the shear plane",
                "choice",
                default="shank",
                choices=(Choice("shank", "plain shank"), Choice("thread", "thread")),
            ),
            _PLANES,
            Input(
                "shaft-diameter",
                "diameter on which the shear planes lie",
                "length",
                "mm",
                note="the shaft for a bolt across it, twice the bolt's distance from the axis for a flange",
            ),
        ),
        outputs=(
            Output("torque", "release torque", "torque", "N·m"),
            Output("force", "force of one plane", "force", "kN"),
        ),
        source="NASA RP-1228 and handbooks, from memory, for 0.60; strengths SAE J429 and ISO 898-1",
        caution=f"{_AS_SPECIFIED} Fit, bending and true strength move the figure; it tests no machine.",
        function=_release,
    ),
    Calculation(
        name="shear-swap",
        title="Another grade in place of a shear bolt",
        group=_GROUP,
        formula="S_u,fitted/S_u,specified",
        symbols="S_u tensile strength",
        inputs=(
            Input("specified", "grade specified", "choice", choices=GRADE_CHOICES),
            Input("fitted", "grade fitted", "choice", choices=GRADE_CHOICES),
            Input("diameter", "diameter of the bolt", "length", "mm", note="a diameter above 0 mm"),
        ),
        outputs=(
            Output("ratio", "release torque against the specified", "number"),
            Output("more", "change of the release torque", "ratio", "%"),
        ),
        source="follows from F = k·S_u·A; strengths SAE J429 and ISO 898-1",
        caution=_AS_SPECIFIED,
        function=_swap,
    ),
    Calculation(
        name="shear-stress",
        title="Shear stress in a pin",
        group=_GROUP,
        formula="τ = F/(m·A); up to 0.5·S_u it holds, from 0.6·S_u it shears",
        symbols="F force; m shear planes; A section of the pin; S_u tensile strength",
        inputs=(
            Input("force", "force across the pin", "force", "kN", note="a force above 0 kN"),
            Input("diameter", "diameter of the pin", "length", "mm", note="a diameter above 0 mm"),
            _PLANES,
            GRADE,
        ),
        outputs=(Output("stress", "shear stress", "stress", "MPa"), Output("state", "verdict", "text")),
        source="Wentzell, Machine Design, Example 3.3 (second-hand)",
        caution="A screening band, no guarantee.",
        function=_stress,
    ),
)
