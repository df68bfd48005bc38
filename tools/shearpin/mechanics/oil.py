"""Engine oil by the cold it must start in: what the standard tests, and what shops commonly fill."""

from __future__ import annotations

from dataclasses import dataclass

from shearpin.mechanics.guards import require_between


@dataclass(frozen=True, slots=True)
class WinterGrade:
    """A winter grade of SAE J300 with its cranking and pumping limits."""

    name: str
    cranking_max_mpa_s: int
    cranking_c: int
    pumping_max_mpa_s: int
    pumping_c: int


# SAE J300 (2015 and later), from three public reproductions that agree.
WINTER_GRADES: tuple[WinterGrade, ...] = (
    WinterGrade("0W", 6200, -35, 60_000, -40),
    WinterGrade("5W", 6600, -30, 60_000, -35),
    WinterGrade("10W", 7000, -25, 60_000, -30),
    WinterGrade("15W", 7000, -20, 60_000, -25),
    WinterGrade("20W", 9500, -15, 60_000, -20),
    WinterGrade("25W", 13_000, -10, 60_000, -15),
)


@dataclass(frozen=True, slots=True)
class OilGuidance:
    """Grades that shops commonly fill for a lowest temperature; guidance only, never a maker's figure.

    `tested_to_crank` are the winter grades that the standard tests there, `untested` those of `grades` that it
    tests only at warmer temperatures.
    """

    grades: tuple[str, ...]
    tested_to_crank: tuple[str, ...]
    untested: tuple[WinterGrade, ...] = ()
    source: str = "common practice, no source"


def winter_grades_for(lowest_c: float) -> tuple[WinterGrade, ...]:
    """Winter grades whose cranking viscosity is tested at or below a temperature.

    Formula: every grade with cranking temperature <= t.
    Symbols: t lowest temperature at which the engine must start, °C.
    Valid: -60 to 60 °C; below -35 °C no grade is tested and the result is empty.
    Errors: ImpossibleInputError (a ValueError) outside that range or not finite.
    Source: SAE J300 (2015 and later), second-hand.
    """
    require_between(-60, 60, lowest_c=lowest_c)
    return tuple(grade for grade in WINTER_GRADES if grade.cranking_c <= lowest_c)


def oil_guidance(lowest_c: float) -> OilGuidance:
    """Oil grades commonly used down to a lowest temperature.

    Formula: SAE 30 above 4 °C; 10W-30 or 5W-30 from -18 °C to 4 °C; 5W-30 or 0W-30 below -18 °C.
    Symbols: t lowest temperature at which the engine must start, °C.
    Valid: small air-cooled four-stroke engines, -60 to 60 °C; the maker's own chart goes first.
    Errors: ImpossibleInputError outside that range or not finite.
    Source: common practice, no source; the grades tested to crank are SAE J300, second-hand.
    """
    tested = tuple(grade.name for grade in winter_grades_for(lowest_c))
    if lowest_c > 4:
        return OilGuidance(("SAE 30",), tested)
    grades = ("10W-30", "5W-30") if lowest_c >= -18 else ("5W-30", "0W-30")
    used = {grade.partition("-")[0] for grade in grades}
    untested = tuple(grade for grade in WINTER_GRADES if grade.name in used and grade.name not in tested)
    return OilGuidance(grades, tested, untested)
