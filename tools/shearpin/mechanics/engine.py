"""A small four-stroke engine: displacement, compression ratio, emission class and leak-down."""

from __future__ import annotations

import math
from dataclasses import dataclass

from shearpin.mechanics.guards import (
    ImpossibleInputError,
    require_count,
    require_finite,
    require_not_negative,
    require_positive,
    shown,
)

# FAA AC 43.13-1B, paragraphs 8-14 and 8-15: test pressure, and the loss above which a cylinder is suspect.
LEAK_DOWN_TEST_PSI = 80.0
LEAK_DOWN_SUSPECT_PERCENT = 25.0

# Common practice, no source: bands that small-engine shops use.
LEAK_DOWN_WATCH_PERCENT = 20.0
LEAK_DOWN_REPAIR_PERCENT = 40.0


@dataclass(frozen=True, slots=True)
class LeakPath:
    """Where the air of a leak-down test is heard, and what that says."""

    name: str
    heard_at: str
    meaning: str
    source: str


_PATH_SOURCE = "an aviation-press article of 2016"

LEAK_PATHS: tuple[LeakPath, ...] = (
    LeakPath("exhaust", "exhaust outlet", "the exhaust valve does not seal", _PATH_SOURCE),
    LeakPath("intake", "carburetor or air filter", "the intake valve does not seal", _PATH_SOURCE),
    LeakPath(
        "crankcase",
        "crankcase breather or oil filler",
        "the piston rings or the cylinder bore leak",
        _PATH_SOURCE,
    ),
    LeakPath(
        "head-joint",
        "joint between head and cylinder",
        "the head gasket leaks",
        "common practice, no source",
    ),
)


def displacement_cm3(bore_mm: float, stroke_mm: float, cylinders: int = 1) -> float:
    """Volume the pistons sweep.

    Formula: V = (π/4)·b²·s·N.
    Symbols: b bore and s stroke, mm (taken in cm); N cylinders; V cm³.
    Valid: any piston engine.
    Errors: ImpossibleInputError (a ValueError) for sizes at or below zero or not finite, or no cylinder.
    Source: geometry; 40 CFR 90.116 rounds the nominal figure to whole cm³.
    """
    require_positive(bore_mm=bore_mm, stroke_mm=stroke_mm)
    require_count(cylinders=cylinders)
    return math.pi / 4 * bore_mm**2 * stroke_mm * cylinders / 1000


def compression_ratio(swept_cm3: float, clearance_cm3: float) -> float:
    """Cylinder volume at the bottom of the stroke over that at the top.

    Formula: r = (V_s + V_c)/V_c.
    Symbols: V_s swept volume of one cylinder and V_c clearance volume with gasket and chamber, cm³.
    Valid: geometric ratio; a compression release lowers what a gauge sees.
    Errors: ImpossibleInputError for volumes at or below zero or not finite.
    Source: definition; worked in Rajput, Internal Combustion Engines, 2nd ed., Example 3.8.
    """
    require_positive(swept_cm3=swept_cm3, clearance_cm3=clearance_cm3)
    return (swept_cm3 + clearance_cm3) / clearance_cm3


def nominal_displacement_cm3(swept_cm3: float) -> int:
    """Displacement rounded to the whole cm³ that decides the engine class.

    Formula: nearest whole number; exactly half goes to the even one (ASTM E29).
    Symbols: V cm³.
    Valid: any positive displacement.
    Errors: ImpossibleInputError for a volume at or below zero or not finite.
    Source: 40 CFR 90.116(a).
    """
    require_positive(swept_cm3=swept_cm3)
    return round(swept_cm3)


def engine_class(swept_cm3: float, handheld: bool = False) -> str:
    """Emission class of a small spark-ignition engine.

    Formula: not handheld: I-A below 66, I-B 66 to below 100, I 100 to below 225, II from 225 cm³; handheld:
        III below 20, IV 20 to below 50, V from 50 cm³; after rounding to whole cm³.
    Symbols: V displacement, cm³.
    Valid: nonroad spark-ignition engines of the size these machines have.
    Errors: ImpossibleInputError for a volume at or below zero or not finite.
    Source: 40 CFR 90.116(b); that part 1054 keeps the scheme is from memory.
    """
    nominal = nominal_displacement_cm3(swept_cm3)
    limits = ((20, "III"), (50, "IV")) if handheld else ((66, "I-A"), (100, "I-B"), (225, "I"))
    for limit, name in limits:
        if nominal < limit:
            return name
    return "V" if handheld else "II"


def leak_down_percent(supply_pressure: float, cylinder_pressure: float) -> float:
    """Share of the supplied air that a cylinder at top dead centre loses.

    Formula: 100·(1 - p_cyl/p_in).
    Symbols: p_in supply and p_cyl cylinder pressure on the gauge, both in the same unit; result %.
    Valid: piston held at the top of its compression stroke, through the orifice of the tester.
    Errors: ImpossibleInputError for a supply at or below zero, a negative cylinder pressure, numbers not
        finite, or a cylinder above its supply.
    Source: FAA AC 43.13-1B, paragraphs 8-14 and 8-15.
    """
    require_positive(supply_pressure=supply_pressure)
    require_not_negative(cylinder_pressure=cylinder_pressure)
    if cylinder_pressure > supply_pressure:
        raise ImpossibleInputError(
            "cylinder_pressure",
            f"the cylinder cannot hold {shown(cylinder_pressure)} when {shown(supply_pressure)} is supplied",
        )
    return 100 * (1 - cylinder_pressure / supply_pressure)


def leak_down_verdict(percent: float) -> str:
    """What a leak-down figure means in the shop.

    Formula: up to 20 % good; above 20 to 40 % watch; above 40 % repair.
    Symbols: percent loss.
    Valid: small air-cooled engines. The aviation limit (FAA AC 43.13-1B) calls a loss above 25 % cause to
        suspect the cylinder, and asks to run the engine and measure again.
    Errors: ImpossibleInputError outside 0 to 100 or not finite.
    Source: common practice, no source.
    """
    require_finite(percent=percent)
    if not 0 <= percent <= 100:
        raise ImpossibleInputError(
            "percent", f"a loss lies within 0 and 100 %, and {shown(percent)} % does not"
        )
    if percent <= LEAK_DOWN_WATCH_PERCENT:
        return "good"
    return "watch" if percent <= LEAK_DOWN_REPAIR_PERCENT else "repair"


def leak_meaning(path: str) -> LeakPath:
    """What it means that air is heard at a place.

    Formula: none; a look-up.
    Symbols: `exhaust`, `intake`, `crankcase`, `head-joint`.
    Valid: one cylinder, piston at the top of its compression stroke, both valves closed.
    Errors: ImpossibleInputError for any other place.
    Source: an aviation-press article of 2016; the head joint is common practice, no source.
    """
    for leak in LEAK_PATHS:
        if leak.name == path:
            return leak
    known = ", ".join(leak.name for leak in LEAK_PATHS)
    raise ImpossibleInputError("path", f"`{path}` is no place to listen at; known are {known}")
