"""Strength of bolts by SAE grade and ISO property class, and the loads that follow from it."""

from __future__ import annotations

import re
from dataclasses import dataclass

from shearpin.mechanics.guards import ImpossibleInputError, require_positive, shown

MPA_PER_KSI = 6.894757293168361

_SAE_SOURCE = "SAE J429 as tabled in Shigley & Mischke, 5th ed. 1989, p. 341 (second-hand)"
_ISO_SOURCE = "ISO 898-1 as tabled in Shigley's Mechanical Engineering Design, 9th ed., Table 8-11"
_ISO_88_SOURCE = "ISO 898-1:2013 Table 3 (second-hand); the textbook table lists class 8.8 only from M16 up"


@dataclass(frozen=True, slots=True)
class StrengthBand:
    """Minimum strengths of a grade for diameters above `over_mm` up to and including `up_to_mm`, in MPa."""

    over_mm: float
    up_to_mm: float
    proof_mpa: float
    yield_mpa: float
    tensile_mpa: float
    source: str


@dataclass(frozen=True, slots=True)
class Grade:
    """A strength grade: `name` as one writes it (`SAE J429 grade 5`), `short` as one says it (`grade 5`)."""

    name: str
    short: str
    smallest_mm: float
    bands: tuple[StrengthBand, ...]


@dataclass(frozen=True, slots=True)
class Strength:
    """Minimum strengths at one diameter, in MPa. `note` says when the standard does not list that size."""

    grade: Grade
    proof_mpa: float
    yield_mpa: float
    tensile_mpa: float
    source: str
    note: str = ""


def _sae(number: str, *bands: tuple[float, float, float, float, float]) -> Grade:
    """A grade from rows of (over in, up to in, proof ksi, yield ksi, tensile ksi), kept as published."""
    return Grade(
        f"SAE J429 grade {number}",
        f"grade {number}",
        0.25 * 25.4,
        tuple(
            StrengthBand(
                over * 25.4,
                up_to * 25.4,
                proof * MPA_PER_KSI,
                yields * MPA_PER_KSI,
                tensile * MPA_PER_KSI,
                _SAE_SOURCE,
            )
            for over, up_to, proof, yields, tensile in bands
        ),
    )


def _iso(number: str, smallest_mm: float, *bands: StrengthBand) -> Grade:
    return Grade(f"ISO 898-1 class {number}", f"class {number}", smallest_mm, bands)


GRADES: tuple[Grade, ...] = (
    _sae("1", (0, 1.5, 33, 36, 60)),
    _sae("2", (0, 0.75, 55, 57, 74), (0.75, 1.5, 33, 36, 60)),
    _sae("5", (0, 1, 85, 92, 120), (1, 1.5, 74, 81, 105)),
    _sae("7", (0, 1.5, 105, 115, 133)),
    _sae("8", (0, 1.5, 120, 130, 150)),
    _iso("4.6", 5, StrengthBand(0, 36, 225, 240, 400, _ISO_SOURCE)),
    _iso("4.8", 1.6, StrengthBand(0, 16, 310, 340, 420, _ISO_SOURCE)),
    _iso("5.8", 5, StrengthBand(0, 24, 380, 420, 520, _ISO_SOURCE)),
    _iso(
        "8.8",
        1.6,
        StrengthBand(0, 16, 580, 640, 800, _ISO_88_SOURCE),
        StrengthBand(16, 36, 600, 660, 830, _ISO_SOURCE),
    ),
    _iso("9.8", 1.6, StrengthBand(0, 16, 650, 720, 900, _ISO_SOURCE)),
    _iso("10.9", 5, StrengthBand(0, 36, 830, 940, 1040, _ISO_SOURCE)),
    _iso("12.9", 1.6, StrengthBand(0, 36, 970, 1100, 1220, _ISO_SOURCE)),
)

_GRADE_WORDS = re.compile(
    r"(?P<sae>(?:sae )?(?:j ?429 )?)(?P<iso>(?:iso )?(?:898(?:-1)? )?(?:(?:property )?(?:class|cl\.?) )?)"
    r"(?:(?:grade|gr\.?) ?)?(?P<number>[0-9]+(?:\.[0-9]+)?)$"
)


def parse_grade(text: str) -> Grade:
    """The grade that a marking names.

    Formula: none; a look-up.
    Symbols: `SAE J429 grade 5`, `grade 5`, `gr 5`, `ISO 898-1 class 8.8`, `class 8.8`, `8.8`.
    Valid: SAE J429 grades 1, 2, 5, 7, 8; ISO 898-1 classes 4.6, 4.8, 5.8, 8.8, 9.8, 10.9, 12.9.
    Errors: ImpossibleInputError (a ValueError) for any other text.
    Source: SAE J429; ISO 898-1.
    """
    plain = " ".join(text.lower().split())
    match = _GRADE_WORDS.match(plain)
    number, sae, iso = match.group("number", "sae", "iso") if match else ("", "", "")
    for grade in GRADES:
        # A class 8 is a nut and no bolt, so a word of the one standard never finds a grade of the other.
        wrong = iso if grade.name.startswith("SAE") else sae
        if not wrong and grade.short.split()[1] == number:
            return grade
    known = ", ".join(grade.short for grade in GRADES)
    raise ImpossibleInputError("grade", f"`{text.strip()}` is not a bolt grade; known are {known}")


def strength_at(grade: Grade, diameter_mm: float) -> Strength:
    """Minimum proof, yield and tensile strength of a grade at a nominal diameter.

    Formula: none; a look-up. A property class is a name, not a strength: class 10.9 has 1040 MPa, not 1000.
    Symbols: d nominal diameter, mm; strengths in MPa.
    Valid: up to the largest size the standard lists. Below the smallest size the strengths of the smallest
        size are given and the note says so: strength steps down with size, never up.
    Errors: ImpossibleInputError above the largest listed size, or for a size at or below zero or not finite.
    Source: the band's own; SAE J429 through Shigley & Mischke 5th ed., ISO 898-1 through Shigley 9th ed.
        Table 8-11 and, for class 8.8 up to 16 mm, ISO 898-1:2013 Table 3.
    """
    require_positive(diameter_mm=diameter_mm)
    for band in grade.bands:
        if band.over_mm < diameter_mm <= band.up_to_mm + 1e-9:
            note = ""
            if diameter_mm < grade.smallest_mm - 1e-9:
                note = (
                    f"{grade.name} begins at {shown(grade.smallest_mm)} mm; the strengths of that size are "
                    "taken, so check the head marking."
                )
            return Strength(grade, band.proof_mpa, band.yield_mpa, band.tensile_mpa, band.source, note)
    raise ImpossibleInputError(
        "grade",
        f"{grade.name} ends at {shown(grade.bands[-1].up_to_mm)} mm, and the bolt is {shown(diameter_mm)} mm",
    )


def load_n(strength_mpa: float, area_mm2: float) -> float:
    """The load at which a bolt reaches a strength: proof load, yield load or tensile load.

    Formula: F = S·A.
    Symbols: S proof, yield or tensile strength, MPa; A stress area, mm²; F load, N.
    Valid: static tension along the axis.
    Errors: ImpossibleInputError for a strength or area at or below zero or not finite.
    Source: definition; ISO 898-1 prints rounded proof loads that lie within 1 % of it.
    """
    require_positive(strength_mpa=strength_mpa, area_mm2=area_mm2)
    return strength_mpa * area_mm2


def percent_of_load(preload_n: float, limit_n: float) -> float:
    """How much of its proof (or yield) load a preload takes up.

    Formula: 100·F/F_p.
    Symbols: F preload, N; F_p proof or yield load, N; result %.
    Valid: static tension; above 100 the limit is passed.
    Errors: ImpossibleInputError for a negative preload, a limit at or below zero, or numbers that are not
        finite.
    Source: definition.
    """
    require_positive(limit_n=limit_n)
    if preload_n != 0:
        require_positive(preload_n=preload_n)
    return 100 * preload_n / limit_n


def yield_margin(preload_n: float, yield_load_n: float) -> float:
    """What is left of the yield load above a preload, as a share of the preload.

    Formula: F_y/F - 1.
    Symbols: F_y yield load, N; F preload, N; result without unit, 0.25 for a quarter more.
    Valid: static tension; below zero the bolt has yielded.
    Errors: ImpossibleInputError for loads at or below zero or not finite.
    Source: definition of a margin of safety.
    """
    require_positive(preload_n=preload_n, yield_load_n=yield_load_n)
    return yield_load_n / preload_n - 1
