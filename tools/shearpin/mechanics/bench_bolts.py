"""Bench calculations on the torque and preload of bolts, in words."""

from __future__ import annotations

from shearpin.mechanics.bench_threads import (
    GRADE,
    THREAD,
    area_of,
    remarks,
    strength_of,
    thread_of,
)
from shearpin.mechanics.calculation import Answer, Calculation, Choice, Input, Output, Readings
from shearpin.mechanics.guards import shown, with_unit
from shearpin.mechanics.strength import load_n, percent_of_load, yield_margin
from shearpin.mechanics.threads import minor_diameter_mm
from shearpin.mechanics.tightening import (
    GENERAL_TORQUE_TOLERANCE,
    NUT_FACTORS,
    PERMANENT_JOINT_SHARE,
    REUSABLE_JOINT_SHARE,
    SCATTER_DRY,
    SCATTER_LUBRICATED,
    helix_angle_deg,
    long_nut_factor,
    preload_range_n,
    target_preload_n,
    torque_for_preload_nm,
    turn_of_nut_deg,
)

_GROUP = "fasteners"

MANUAL_FIRST = "The torque in the maker's manual goes first; this figure only tells whether one is plausible."
SAME_TORQUE = (
    "A fastener of a higher grade than the original is tightened to the torque of the original "
    "(TM 5-3895-367-14&P)."
)


def _k_words(nut_factor: float) -> str:
    """K as books print it: three digits, and never fewer than two decimals (`0.20`, `0.295`)."""
    whole, _, decimals = shown(nut_factor, 3).partition(".")
    return f"{whole}.{decimals.ljust(2, '0')}"


_CONDITION = Input(
    "condition",
    "surface and lubrication",
    "choice",
    default="not-stated",
    choices=tuple(
        Choice(factor.name, f"{factor.condition}: K {_k_words(factor.value)}, {factor.source}")
        for factor in NUT_FACTORS
    ),
    note="sources disagree, on zinc above all: take the one that fits the fastener in hand",
)
_NUT_FACTOR = Input(
    "nut-factor",
    "nut factor K",
    "number",
    default="",
    note="a K of your own, between 0 and 1, instead of the condition",
)
_SHARE = Input(
    "share",
    "share of proof load",
    "ratio",
    "%",
    f"{shown(100 * REUSABLE_JOINT_SHARE)} %",
    note=(
        f"{shown(100 * REUSABLE_JOINT_SHARE)} % where the joint comes apart again, "
        f"{shown(100 * PERMANENT_JOINT_SHARE)} % where it does not"
    ),
)


def _chosen_nut_factor(readings: Readings) -> tuple[float, str]:
    """K and where it comes from."""
    if readings.has("nut-factor"):
        return readings.number("nut-factor"), "K as entered."
    factor = next(factor for factor in NUT_FACTORS if factor.name == readings.name("condition"))
    return factor.value, f"K {_k_words(factor.value)}: {factor.condition}, {factor.source}."


def _bolt_torque(readings: Readings) -> Answer:
    thread = thread_of(readings)
    strength = strength_of(readings, thread.diameter_mm)
    nut_factor, origin = _chosen_nut_factor(readings)
    share = readings.number("share") / 100
    preload_n = target_preload_n(load_n(strength.proof_mpa, area_of(thread)), share)
    torque = torque_for_preload_nm(nut_factor, thread.diameter_mm, preload_n)
    worked = (
        f"{with_unit(torque, 'N·m', 3)}: {thread.designation}, {strength.grade.short}, "
        f"K {_k_words(nut_factor)}, {shown(100 * share, 3)} % of proof load"
    )
    return Answer((torque, preload_n / 1000), worked, remarks(strength.note, origin))


def _bolt_preload(readings: Readings) -> Answer:
    thread = thread_of(readings)
    strength, area = strength_of(readings, thread.diameter_mm), area_of(thread)
    nut_factor, origin = _chosen_nut_factor(readings)
    torque = readings.number("torque")
    tolerance = readings.spread("torque")
    if tolerance is None:
        tolerance = torque * readings.number("tolerance") / 100
    scatter = SCATTER_LUBRICATED if readings.name("scatter") == "lubricated" else SCATTER_DRY
    preload = preload_range_n(nut_factor, thread.diameter_mm, torque, tolerance, scatter)
    proof_n = load_n(strength.proof_mpa, area)
    percent = percent_of_load(preload.nominal_n, proof_n)
    highest = percent_of_load(preload.highest_n, proof_n)
    margin = 100 * yield_margin(preload.nominal_n, load_n(strength.yield_mpa, area))
    worked = (
        f"{with_unit(torque, 'N·m', 3)}: {thread.designation}, {strength.grade.short}, "
        f"K {_k_words(nut_factor)}, {shown(percent, 3)} % of proof load"
    )
    beyond = "With the full scatter of a wrench the preload can pass the proof load." if highest > 100 else ""
    loads_kn = (preload.nominal_n / 1000, preload.lowest_n / 1000, preload.highest_n / 1000)
    return Answer((percent, highest, *loads_kn, margin), worked, remarks(beyond, strength.note, origin))


def _turn_of_nut(readings: Readings) -> Answer:
    thread = thread_of(readings)
    strength, area = strength_of(readings, thread.diameter_mm), area_of(thread)
    share, grip = readings.number("share") / 100, readings.number("grip")
    preload_n = target_preload_n(load_n(strength.proof_mpa, area), share)
    angle = turn_of_nut_deg(preload_n, area, grip, readings.number("elastic"), thread.pitch_mm)
    worked = (
        f"{with_unit(angle, '°', 3)} from snug: {thread.designation}, {strength.grade.short}, "
        f"{with_unit(grip, 'mm', 3)} grip, {shown(100 * share, 3)} % of proof load"
    )
    return Answer((angle, preload_n / 1000), worked, remarks(strength.note))


def _nut_factor_from_friction(readings: Readings) -> Answer:
    thread = thread_of(readings)
    root = minor_diameter_mm(thread.diameter_mm, thread.pitch_mm, thread.system)
    mean = (thread.diameter_mm + root) / 2
    in_thread, under_head = readings.number("thread-friction"), readings.number("collar-friction")
    factor = long_nut_factor(thread.diameter_mm, mean, thread.pitch_mm, in_thread, under_head)
    worked = (
        f"K {_k_words(factor)}: {thread.designation}, friction {shown(in_thread, 3)} in the thread, "
        f"{shown(under_head, 3)} under the head"
    )
    return Answer((factor, helix_angle_deg(thread.pitch_mm, mean)), worked)


CALCULATIONS: tuple[Calculation, ...] = (
    Calculation(
        name="bolt-torque",
        title="Torque for a bolt",
        group=_GROUP,
        formula="T = K·d·F, F = share·S_p·A_t",
        symbols="K nut factor; d nominal diameter; F preload; S_p proof strength; A_t stress area",
        inputs=(THREAD, GRADE, _CONDITION, _NUT_FACTOR, _SHARE),
        outputs=(Output("torque", "torque", "torque", "N·m"), Output("preload", "preload", "force", "kN")),
        source="Shigley 9th ed., Eq. 8-27; strengths SAE J429 and ISO 898-1",
        caution=f"{MANUAL_FIRST} {SAME_TORQUE}",
        function=_bolt_torque,
    ),
    Calculation(
        name="bolt-preload",
        title="What a torque does to a bolt",
        group=_GROUP,
        formula="F = T/(K·d); F_max = (1 + Γ)·(T + ΔT)/(K·d); F_min = (1 - Γ)·(T - ΔT)/(K·d)",
        symbols="T torque; ΔT its tolerance; K nut factor; d nominal diameter; Γ scatter; F preload",
        inputs=(
            THREAD,
            GRADE,
            Input("torque", "tightening torque", "torque", "N·m", spread=True),
            Input(
                "tolerance",
                "tolerance of the torque",
                "ratio",
                "%",
                f"{shown(100 * GENERAL_TORQUE_TOLERANCE)} %",
                note="used when the torque is written without ±; below 100 %",
            ),
            _CONDITION,
            _NUT_FACTOR,
            Input(
                "scatter",
                "scatter of a torque wrench",
                "choice",
                default="dry",
                choices=(Choice("dry", "±35 %, not lubricated"), Choice("lubricated", "±25 %, lubricated")),
            ),
        ),
        outputs=(
            Output("percent-of-proof", "share of proof load", "ratio", "%"),
            Output("highest-percent-of-proof", "share of proof load at the highest preload", "ratio", "%"),
            Output("preload", "preload", "force", "kN"),
            Output("lowest-preload", "lowest preload", "force", "kN"),
            Output("highest-preload", "highest preload", "force", "kN"),
            Output("yield-margin", "margin to yield above the preload", "ratio", "%"),
        ),
        source="Shigley 9th ed., Eq. 8-27; scatter NASA-STD-5020B Table 3 (second-hand)",
        caution=f"{MANUAL_FIRST} Take the prevailing torque of a lock nut off first.",
        function=_bolt_preload,
    ),
    Calculation(
        name="turn-of-nut",
        title="Angle to turn a nut from snug",
        group=_GROUP,
        formula="angle = 360·F·L/(A_t·E·p)",
        symbols="F preload; L stretched length; A_t stress area; E modulus of elasticity; p pitch",
        inputs=(
            THREAD,
            GRADE,
            Input("grip", "stretched length", "length", "mm", note="a length above 0 mm"),
            _SHARE,
            Input(
                "elastic",
                "modulus of elasticity",
                "stress",
                "MPa",
                "206843 MPa",
                note="steel: 30 million psi, 206843 MPa",
            ),
        ),
        outputs=(Output("angle", "angle", "angle", "°"), Output("preload", "preload", "force", "kN")),
        source="Hooke's law; Wentzell, Machine Design, Example 6.2 (second-hand)",
        caution=f"{MANUAL_FIRST} A gasket or a soft part under the head needs more turn than this.",
        function=_turn_of_nut,
    ),
    Calculation(
        name="nut-factor",
        title="Nut factor from friction",
        group=_GROUP,
        formula="K = (d_m/2d)·(tan λ + f·sec 30°)/(1 - f·tan λ·sec 30°) + 0.625·f_c",
        symbols="d_m mean of nominal and root diameter; tan λ = p/(π·d_m); f thread, f_c collar friction",
        inputs=(
            THREAD,
            Input("thread-friction", "friction in the thread", "number", default="0.15", note="0 to 0.5"),
            Input("collar-friction", "friction under the head", "number", default="0.15", note="0 to 0.5"),
        ),
        outputs=(
            Output("nut-factor", "nut factor K", "number"),
            Output("helix", "helix angle", "angle", "°"),
        ),
        source="Shigley 9th ed., Eq. 8-26 (from memory)",
        caution="Friction is seldom known better than K itself.",
        function=_nut_factor_from_friction,
    ),
)
