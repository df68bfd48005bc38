"""Torque and preload of a bolt, and what disturbs the relation between them."""

from __future__ import annotations

import math
from dataclasses import dataclass

from shearpin.mechanics.guards import (
    ImpossibleInputError,
    require_between,
    require_not_negative,
    require_positive,
    shown,
)

# TM 5-3805-248-23-1: above 30 lbf·ft (41 N·m) tighten in a pattern, first pass at 70 % of the final torque.
STAGED_ABOVE_NM = 41.0
FIRST_PASS_SHARE = 0.70

# TM 5-3895-367-14&P and TM 9-2320-362-14&P: tolerance on a torque where none is given.
GENERAL_TORQUE_TOLERANCE = 0.10

# NASA-STD-5020B Table 3, second-hand: how far the preload of a torque wrench strays.
SCATTER_DRY = 0.35
SCATTER_LUBRICATED = 0.25

# Shigley 9th ed. section 8-9, second-hand: preload as a share of the proof load.
REUSABLE_JOINT_SHARE = 0.75
PERMANENT_JOINT_SHARE = 0.90


@dataclass(frozen=True, slots=True)
class NutFactor:
    """A nut factor K with the condition it holds for and the source that prints it; sources disagree."""

    name: str
    condition: str
    value: float
    source: str


_SHIGLEY_K = "Shigley 9th ed., Table 8-15 (second-hand)"
_BICKFORD_K = "Bickford & Nassar (eds.), Handbook of Bolts and Bolted Joints, ch. 2 Table 1 (second-hand)"

NUT_FACTORS: tuple[NutFactor, ...] = (
    NutFactor("not-stated", "condition not stated", 0.20, "Shigley 9th ed., section 8-8, from memory"),
    NutFactor("black", "not plated, black finish", 0.30, _SHIGLEY_K),
    NutFactor("zinc-shigley", "zinc plated", 0.20, _SHIGLEY_K),
    NutFactor("zinc-dry-bickford", "zinc plated, dry", 0.295, _BICKFORD_K),
    NutFactor("bare-bickford", "bare steel", 0.20, _BICKFORD_K),
    NutFactor("lubricated", "lubricated", 0.18, _SHIGLEY_K),
    NutFactor("cadmium-shigley", "cadmium plated", 0.16, _SHIGLEY_K),
    NutFactor("cadmium-dry-bickford", "cadmium plated, dry", 0.20, _BICKFORD_K),
    NutFactor("anti-seize", "an anti-seize compound", 0.12, _SHIGLEY_K),
)


@dataclass(frozen=True, slots=True)
class TorqueReduction:
    """How much less than the dry torque a condition needs, as a share, with what else to look at."""

    name: str
    condition: str
    share: float
    note: str
    source: str


_TM_REDUCTION = "TM 5-3895-367-14&P Appendix H; TM 9-6115-604-34 Table 1-2 notes"

TORQUE_REDUCTIONS: tuple[TorqueReduction, ...] = (
    TorqueReduction("oiled", "oil on the threads", 0.10, "", _TM_REDUCTION),
    TorqueReduction("new-plated", "new plated cap screws", 0.20, "", _TM_REDUCTION),
    TorqueReduction(
        "into-aluminium",
        "screwed into aluminium",
        0.30,
        "Reduce by 30 % or more, and engage at least two bolt diameters of thread.",
        _TM_REDUCTION,
    ),
)


@dataclass(frozen=True, slots=True)
class PreloadRange:
    """What preload a torque can leave behind, in newtons: lowest, nominal, highest."""

    lowest_n: float
    nominal_n: float
    highest_n: float


def torque_for_preload_nm(nut_factor: float, diameter_mm: float, preload_n: float) -> float:
    """Tightening torque that gives a preload.

    Formula: T = K·d·F.
    Symbols: T torque, N·m; K nut factor, no unit; d nominal diameter, mm (taken in m); F preload, N.
    Valid: K from above 0 to below 1; below yield; clean threads in the condition K was measured for.
    Errors: ImpossibleInputError (a ValueError) for sizes or loads at or below zero or not finite, or K of 1
        and above.
    Source: Shigley 9th ed., Eq. 8-27 (equation number from memory).
    """
    _require_nut_factor(nut_factor)
    require_positive(diameter_mm=diameter_mm, preload_n=preload_n)
    return nut_factor * diameter_mm / 1000 * preload_n


def preload_from_torque_n(nut_factor: float, diameter_mm: float, torque_nm: float) -> float:
    """Preload that a tightening torque leaves in the bolt.

    Formula: F = T/(K·d).
    Symbols: F preload, N; T torque, N·m; K nut factor; d nominal diameter, mm (taken in m).
    Valid: as the torque formula; take off prevailing torque first.
    Errors: ImpossibleInputError for sizes or torques at or below zero or not finite, or K of 1 and above.
    Source: Shigley 9th ed., Eq. 8-27 solved for the preload.
    """
    _require_nut_factor(nut_factor)
    require_positive(diameter_mm=diameter_mm, torque_nm=torque_nm)
    return torque_nm / (nut_factor * diameter_mm / 1000)


def preload_range_n(
    nut_factor: float, diameter_mm: float, torque_nm: float, tolerance_nm: float, scatter: float
) -> PreloadRange:
    """Lowest, nominal and highest preload of a toleranced torque.

    Formula: F_max = (1 + Γ)·(T + ΔT)/(K·d); F_min = (1 - Γ)·(T - ΔT)/(K·d).
    Symbols: Γ scatter as a share (0.35 dry, 0.25 lubricated); T torque and ΔT its tolerance, N·m; K nut
        factor; d nominal diameter, mm; loads in N.
    Valid: Γ from 0 to below 1; ΔT below T.
    Errors: ImpossibleInputError for impossible sizes, a tolerance not below the torque, or a scatter outside
        0 to 0.99.
    Source: method of NASA-STD-5020B and the scatter of its Table 3, second-hand.
    """
    nominal_n = preload_from_torque_n(nut_factor, diameter_mm, torque_nm)
    require_not_negative(tolerance_nm=tolerance_nm)
    require_between(0, 0.99, scatter=scatter)
    if tolerance_nm >= torque_nm:
        raise ImpossibleInputError("tolerance_nm", "the tolerance must be smaller than the torque itself")
    return PreloadRange(
        (1 - scatter) * preload_from_torque_n(nut_factor, diameter_mm, torque_nm - tolerance_nm),
        nominal_n,
        (1 + scatter) * preload_from_torque_n(nut_factor, diameter_mm, torque_nm + tolerance_nm),
    )


def target_preload_n(proof_load_n: float, share: float = REUSABLE_JOINT_SHARE) -> float:
    """Preload as a share of the proof load.

    Formula: F_i = 0.75·F_p for a joint that comes apart again, 0.90·F_p for a permanent one.
    Symbols: F_p proof load, N; share without unit.
    Valid: share from above 0 to 1.
    Errors: ImpossibleInputError for a load at or below zero or not finite, or a share outside 0.01 to 1.
    Source: Shigley 9th ed., section 8-9, second-hand.
    """
    require_positive(proof_load_n=proof_load_n)
    if not 0.01 <= share <= 1:
        sentence = f"a preload is 1 to 100 % of the proof load, and {shown(100 * share)} % is not"
        raise ImpossibleInputError("share", sentence)
    return share * proof_load_n


def tightening_passes_nm(torque_nm: float) -> tuple[float, ...]:
    """The torques to go through, one after the other; more than one means: in a pattern, bolt by bolt.

    Formula: above 41 N·m first 0.70·T, then T; otherwise T alone.
    Symbols: T final torque, N·m.
    Valid: several bolts on one face; the maker's own sequence always goes first.
    Errors: ImpossibleInputError for a torque at or below zero or not finite.
    Source: TM 5-3805-248-23-1.
    """
    require_positive(torque_nm=torque_nm)
    return (FIRST_PASS_SHARE * torque_nm, torque_nm) if torque_nm > STAGED_ABOVE_NM else (torque_nm,)


def with_prevailing_torque_nm(torque_nm: float, prevailing_nm: float) -> float:
    """Torque to set when a lock nut already resists turning before it seats.

    Formula: T_set = T + T_prevailing; the ceiling rises alike, to the maximum + T_prevailing.
    Symbols: T recommended (or maximum) torque and T_prevailing the torque that turns the free-running nut,
        N·m.
    Valid: prevailing torque measured on the nut in hand, in its last turns before the seat.
    Errors: ImpossibleInputError for a torque at or below zero, a negative prevailing torque, or numbers not
        finite.
    Source: FAA AC 43.13-1B, paragraph 7-40 (friction-drag torque).
    """
    require_positive(torque_nm=torque_nm)
    require_not_negative(prevailing_nm=prevailing_nm)
    return torque_nm + prevailing_nm


def reduced_torque_nm(dry_torque_nm: float, share: float) -> float:
    """Torque for threads that turn easier, or into softer metal, than the dry torque was made for.

    Formula: T = (1 - s)·T_dry.
    Symbols: T_dry torque for clean dry threads, N·m; s reduction as a share.
    Valid: s from 0 to below 1; `TORQUE_REDUCTIONS` lists the published ones.
    Errors: ImpossibleInputError for a torque at or below zero or not finite, or a share outside 0 to 0.9.
    Source: TM 5-3895-367-14&P Appendix H; TM 9-6115-604-34 Table 1-2 notes.
    """
    require_positive(dry_torque_nm=dry_torque_nm)
    require_between(0, 0.9, share=share)
    return (1 - share) * dry_torque_nm


def turn_of_nut_deg(
    preload_n: float, area_mm2: float, grip_mm: float, elastic_mpa: float, pitch_mm: float
) -> float:
    """How far to turn the nut from snug to stretch the bolt to a preload.

    Formula: angle = 360·F·L/(A·E·p).
    Symbols: F preload, N; L stretched length, mm; A stress area, mm²; E modulus of elasticity, MPa; p pitch,
        mm; result in degrees.
    Valid: parts so stiff that the bolt alone stretches; a soft joint needs more; below yield.
    Errors: ImpossibleInputError for anything at or below zero or not finite.
    Source: Hooke's law; worked in Wentzell, Machine Design, Example 6.2.
    """
    require_positive(
        preload_n=preload_n, area_mm2=area_mm2, grip_mm=grip_mm, elastic_mpa=elastic_mpa, pitch_mm=pitch_mm
    )
    return 360 * preload_n * grip_mm / (area_mm2 * elastic_mpa * pitch_mm)


def helix_angle_deg(pitch_mm: float, mean_diameter_mm: float) -> float:
    """Rise of the thread at its mean diameter.

    Formula: tan λ = p/(π·d_m).
    Symbols: p pitch, mm; d_m mean diameter, mm; λ in degrees.
    Valid: single-start threads.
    Errors: ImpossibleInputError for sizes at or below zero or not finite.
    Source: Shigley 9th ed., section 8-8, from memory.
    """
    require_positive(pitch_mm=pitch_mm, mean_diameter_mm=mean_diameter_mm)
    return math.degrees(math.atan(pitch_mm / (math.pi * mean_diameter_mm)))


def long_nut_factor(
    diameter_mm: float,
    mean_diameter_mm: float,
    pitch_mm: float,
    thread_friction: float,
    collar_friction: float,
) -> float:
    """Nut factor from friction, when friction is known better than K.

    Formula: K = (d_m/2d)·(tan λ + f·sec α)/(1 - f·tan λ·sec α) + 0.625·f_c, with α = 30°.
    Symbols: d nominal, d_m mean diameter and p pitch, mm; tan λ = p/(π·d_m); f thread and f_c collar
        friction.
    Valid: 60° threads, collar of mean diameter 1.25·d, friction from 0 to 0.5.
    Errors: ImpossibleInputError for impossible sizes, a mean diameter above the nominal, or friction outside
        0 to 0.5.
    Source: Shigley 9th ed., Eq. 8-26, from memory.
    """
    require_positive(diameter_mm=diameter_mm)
    rise = math.tan(math.radians(helix_angle_deg(pitch_mm, mean_diameter_mm)))
    require_between(0, 0.5, thread_friction=thread_friction, collar_friction=collar_friction)
    if mean_diameter_mm > diameter_mm or pitch_mm > diameter_mm / 2:
        raise ImpossibleInputError(
            "diameter_mm", "the nominal diameter is too small for this mean diameter and pitch"
        )
    rub = thread_friction / math.cos(math.radians(30))
    return mean_diameter_mm / (2 * diameter_mm) * (rise + rub) / (1 - rub * rise) + 0.625 * collar_friction


def _require_nut_factor(nut_factor: float) -> None:
    require_positive(nut_factor=nut_factor)
    if nut_factor >= 1:
        raise ImpossibleInputError(
            "nut_factor", f"a nut factor lies between 0 and 1, about 0.2, not {nut_factor:g}"
        )
