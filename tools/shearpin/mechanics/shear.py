"""Shear bolts: the force and torque at which they let go, and what another grade does to that."""

from __future__ import annotations

import math
from enum import StrEnum

from shearpin.mechanics.guards import (
    ImpossibleInputError,
    require_between,
    require_positive,
)

# NASA RP-1228 and general handbooks, from memory: ultimate shear over ultimate tensile strength of steel
# bolts.
ULTIMATE_SHEAR_RATIO = 0.60

# Distortion-energy theory (Shigley, von Mises criterion, from memory): shear yield over tensile yield.
YIELD_SHEAR_RATIO = 1 / math.sqrt(3)

# Wentzell, Machine Design, Example 3.3: below the first a pin holds, above the second it shears.
HOLDS_BELOW_RATIO = 0.5
SHEARS_ABOVE_RATIO = 0.6


class ShearState(StrEnum):
    """What a stress means for a pin or bolt across its shear planes."""

    HOLDS = "holds"
    MAY_SHEAR = "may shear"
    SHEARS = "shears"


def shank_area_mm2(diameter_mm: float) -> float:
    """Cross-section of a plain shank or pin.

    Formula: A = π·d²/4.
    Symbols: d diameter, mm; A mm².
    Valid: solid round sections.
    Errors: ImpossibleInputError (a ValueError) for a size at or below zero or not finite.
    Source: geometry.
    """
    require_positive(diameter_mm=diameter_mm)
    return math.pi / 4 * diameter_mm**2


def shear_force_n(tensile_mpa: float, area_mm2: float, ratio: float = ULTIMATE_SHEAR_RATIO) -> float:
    """Force that shears one plane.

    Formula: F = k·S_u·A.
    Symbols: k shear over tensile strength, no unit; S_u tensile strength, MPa; A area in the shear plane,
        mm²; F N.
    Valid: steel bolts; k 0.5 to 0.65. Fit, bending and the true strength move the real figure.
    Errors: ImpossibleInputError for strength or area at or below zero or not finite, or a ratio outside 0.1
        to 1.
    Source: NASA RP-1228 and general handbooks, from memory, for k = 0.60; Shigley, from memory, for 1/√3.
    """
    require_positive(tensile_mpa=tensile_mpa, area_mm2=area_mm2)
    require_between(0.1, 1, ratio=ratio)
    return ratio * tensile_mpa * area_mm2


def release_torque_nm(force_n: float, shaft_diameter_mm: float, planes: int) -> float:
    """Torque on the shaft at which a bolt across it lets go.

    Formula: T = m·F·D/2.
    Symbols: m shear planes, 1 (bolt through a flange at D/2 from the axis) or 2 (bolt across the shaft); F
        force that shears one plane, N; D diameter on which the planes lie, mm (taken in m); T N·m.
    Valid: a bolt square to the shaft; an estimate of arithmetic, not a test of a machine.
    Errors: ImpossibleInputError for a force or size at or below zero or not finite, or planes other than 1 or
        2.
    Source: equilibrium of moments.
    """
    require_positive(force_n=force_n, shaft_diameter_mm=shaft_diameter_mm)
    if planes not in (1, 2):
        raise ImpossibleInputError("planes", f"a shear bolt has one or two shear planes, not {planes}")
    return planes * force_n * shaft_diameter_mm / 2 / 1000


def shear_stress_mpa(force_n: float, area_mm2: float, planes: int) -> float:
    """Shear stress in a loaded pin.

    Formula: τ = F/(m·A).
    Symbols: F force across the pin, N; m shear planes, 1 or 2; A area of one plane, mm²; τ MPa.
    Valid: force shared evenly by the planes.
    Errors: ImpossibleInputError for a force or area at or below zero or not finite, or planes other than 1 or
        2.
    Source: definition; worked in Wentzell, Machine Design, Example 3.3.
    """
    require_positive(force_n=force_n, area_mm2=area_mm2)
    if planes not in (1, 2):
        raise ImpossibleInputError("planes", f"a pin has one or two shear planes, not {planes}")
    return force_n / (planes * area_mm2)


def shear_state(stress_mpa: float, tensile_mpa: float) -> ShearState:
    """Whether a stress leaves the pin whole, shears it, or lies in between.

    Formula: τ <= 0.5·S_u holds; τ >= 0.6·S_u shears; between the two it may.
    Symbols: τ shear stress and S_u tensile strength, MPa.
    Valid: steel pins; a screening band, not a guarantee.
    Errors: ImpossibleInputError for stress or strength at or below zero or not finite.
    Source: Wentzell, Machine Design, Example 3.3, second-hand.
    """
    require_positive(stress_mpa=stress_mpa, tensile_mpa=tensile_mpa)
    if stress_mpa <= HOLDS_BELOW_RATIO * tensile_mpa:
        return ShearState.HOLDS
    return ShearState.SHEARS if stress_mpa >= SHEARS_ABOVE_RATIO * tensile_mpa else ShearState.MAY_SHEAR


def grade_swap_ratio(fitted_tensile_mpa: float, specified_tensile_mpa: float) -> float:
    """How much higher the release torque becomes when a bolt of another grade is fitted.

    Formula: S_u,fitted/S_u,specified.
    Symbols: tensile strengths, MPa; ratio without unit; above 1 the weakest part is no longer the bolt.
    Valid: same diameter, same place of the thread.
    Errors: ImpossibleInputError for strengths at or below zero or not finite.
    Source: follows from F = k·S_u·A; that a higher grade must not replace the original's torque is in
        TM 5-3895-367-14&P.
    """
    require_positive(fitted_tensile_mpa=fitted_tensile_mpa, specified_tensile_mpa=specified_tensile_mpa)
    return fitted_tensile_mpa / specified_tensile_mpa
