"""The tables of the bench calculators as plain data for the page's script: units, threads, grades, inputs, constants."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Final

from shearpin.mechanics import (
    electrics,
    engine,
    fuel,
    shear,
    speeds,
    strength,
    thread_series,
    threads,
    tightening,
)
from shearpin.mechanics.calculation import Calculation, Choice, Input
from shearpin.mechanics.calculations import CALCULATIONS
from shearpin.mechanics.oil import WINTER_GRADES
from shearpin.model.quantity import QuantityError, QuantityKind, parse_quantity, units_of
from shearpin.search.conversion import unit_rows

Json = object
"""Plain data: lists, mappings, texts and numbers."""

_SHARED_CHOICES: Final = "grades"
_STRANGERS: Final = ("nm", "mPa", "mil", "mils", "VAC", "V AC", "VDC", "V DC", "J", "Hz", "cSt")
"""Words that look like a unit and are none of ours; what is said of them comes from the reader of quantities."""

_MISTAKEN: Final = (QuantityKind.MASS, QuantityKind.FORCE, QuantityKind.LENGTH, QuantityKind.ANGLE)
"""Kinds whose units people write for something else: pounds for a torque, ounces for a volume."""

_USED: Final = {item.kind for each in CALCULATIONS for item in each.inputs} | {
    output.kind for each in CALCULATIONS for output in each.outputs
}
_KINDS: Final = tuple(kind for kind in QuantityKind if kind is QuantityKind.RATIO or kind.value in _USED)
"""What the calculations read and give; plain numbers are read as ratios."""

# Unit beside a result, by kind and unit of the result; with a limit below which a smaller unit is usual.
_ALSO_IN: Final[Mapping[str, Mapping[str, tuple[str] | tuple[str, float, str]]]] = {
    "torque": {"N·m": ("lbf·ft", 15, "lbf·in")},
    "length": {"mm": ("in",), "m": ("ft",)},
    "force": {"kN": ("lbf",), "N": ("lbf",)},
    "area": {"mm²": ("in²",)},
    "stress": {"MPa": ("ksi",)},
    "speed": {"m/s": ("ft/min",)},
    "power": {"W": ("hp",)},
    "volume": {"mL": ("US fl oz",), "L": ("US gal",)},
    "displacement": {"cm³": ("in³",)},
    "temperature": {"°C": ("°F",)},
    "temperature-difference": {"°C": ("°F",)},
}


def tables() -> dict[str, Json]:
    """Return everything that the script needs to read inputs and to calculate."""
    return {
        "units": unit_rows(),
        "usual": {kind.value: _usual(kind) for kind in _KINDS},
        "hints": {kind.value: hints for kind in _KINDS if (hints := dict(_kind_hints(kind)))},
        "strangers": dict(_strangers()),
        "alsoIn": _ALSO_IN,
        "choices": {_SHARED_CHOICES: [[grade.short, grade.name] for grade in strength.GRADES]},
        "calculations": [_calculation(calculation) for calculation in CALCULATIONS],
        "grades": [_grade(grade) for grade in strength.GRADES],
        "threads": {
            "coarse": {f"{size:g}": pitch for size, pitch in thread_series.METRIC_COARSE_PITCH_MM.items()},
            "fine": {
                f"{size:g}": list(pitches) for size, pitches in thread_series.METRIC_FINE_PITCHES_MM.items()
            },
            "unified": [[label, dict(sizes)] for label, sizes in thread_series.UNIFIED_SERIES.items()],
        },
        "nutFactors": [
            [each.name, each.condition, each.value, each.source] for each in tightening.NUT_FACTORS
        ],
        "reductions": [
            [each.name, each.condition, each.share, each.note] for each in tightening.TORQUE_REDUCTIONS
        ],
        "leakPaths": [[path.name, path.heard_at, path.meaning] for path in engine.LEAK_PATHS],
        "winterGrades": [[grade.name, grade.cranking_c] for grade in WINTER_GRADES],
        "restVoltage": [list(row) for row in electrics.REST_VOLTAGE_V],
        "constants": _constants(),
    }


def _grade(grade: strength.Grade) -> list[Json]:
    bands = [
        [band.over_mm, band.up_to_mm, band.proof_mpa, band.yield_mpa, band.tensile_mpa, band.source]
        for band in grade.bands
    ]
    return [grade.name, grade.short, grade.smallest_mm, bands]


def _constants() -> dict[str, float]:
    """Return the numbers that stand in formulas; each is documented where it is kept."""
    return {
        "scatterDry": tightening.SCATTER_DRY,
        "scatterLubricated": tightening.SCATTER_LUBRICATED,
        "stagedAbove": tightening.STAGED_ABOVE_NM,
        "firstPassShare": tightening.FIRST_PASS_SHARE,
        "ultimateShear": shear.ULTIMATE_SHEAR_RATIO,
        "holdsBelow": shear.HOLDS_BELOW_RATIO,
        "shearsAbove": shear.SHEARS_ABOVE_RATIO,
        "gravity": speeds.STANDARD_GRAVITY_M_S2,
        "leakWatch": engine.LEAK_DOWN_WATCH_PERCENT,
        "leakRepair": engine.LEAK_DOWN_REPAIR_PERCENT,
        "leakSuspect": engine.LEAK_DOWN_SUSPECT_PERCENT,
        "ethanolCeiling": fuel.ETHANOL_CEILING_PERCENT,
        "copper": electrics.COPPER_COEFFICIENT_20_C,
        "intercept": electrics.COPPER_INTERCEPT_C,
        "restBand": electrics.REST_VOLTAGE_BAND_V,
        "mmPerInch": threads.MM_PER_INCH,
    }


def _hint(written: str, kind: QuantityKind) -> str:
    try:
        parse_quantity(written, kind)
    except QuantityError as error:
        return error.hint
    return ""


def _usual(kind: QuantityKind) -> str:
    """Return the advice that names the usual units of a kind, as it is given for a unit of quite another kind."""
    return _hint("1 V" if kind is QuantityKind.RESISTANCE else "1 Ω", kind)


def _kind_hints(kind: QuantityKind) -> Iterator[tuple[str, str]]:
    """Yield the units of other kinds that a kind has advice of its own for."""
    usual, own = _usual(kind), {unit.symbol for unit in units_of(kind)}
    for other in _MISTAKEN:
        for unit in units_of(other):
            hint = _hint(f"1 {unit.symbol}", kind) if unit.symbol not in own else usual
            if hint != usual:
                yield unit.symbol, hint


def _strangers() -> Iterator[tuple[str, list[str]]]:
    for word in _STRANGERS:
        try:
            parse_quantity(f"1 {word}", QuantityKind.TORQUE)
        except QuantityError as error:
            yield word, [error.message, error.hint]


def _calculation(calculation: Calculation) -> list[Json]:
    return [
        calculation.name,
        [_input(item) for item in calculation.inputs],
        [[output.name, output.title, output.kind, output.unit] for output in calculation.outputs],
    ]


def _input(item: Input) -> list[Json]:
    """Return an input without what stands at its end and says nothing."""
    parts: list[Json] = [
        item.name, item.title, item.kind, item.unit, item.default, _choices(item.choices), item.note, item.spread
    ]  # fmt: skip
    while parts[-1] in (None, "", [], False):
        parts.pop()
    return parts


def _choices(choices: tuple[Choice, ...]) -> Json:
    """Return the choices of an input, or the name under which a list that many inputs share is kept."""
    if [choice.name for choice in choices] == [grade.short for grade in strength.GRADES]:
        return _SHARED_CHOICES
    return [[choice.name, choice.title] for choice in choices]
