"""Our factors against published ones, and against an independent library of units."""

# Longer than a module should be: two tables, each of which loses by being cut.

from __future__ import annotations

import math
from collections.abc import Mapping
from fractions import Fraction
from typing import Any, TypeAlias

import pint
import pytest

from shearpin.model.quantity import QuantityKind, dual_text, parse_quantity
from shearpin.model.units import UNITS, Unit, units_of
from tests.reference.published_row import Basis, PublishedRow

K = QuantityKind
Registry: TypeAlias = "pint.UnitRegistry[Any]"

NIST = "NIST SP 811 appendix B.8, as transcribed in the R package NISTunits"
DEFINITION = "from the legal definitions"
TRANSCRIBED = 1e-6  # seven printed digits


def _row(
    id: str,
    kind: QuantityKind,
    source: str,
    target: str,
    printed: float,
    basis: Basis = Basis.ARITHMETIC,
    within: float = 1e-12,
    published: str = DEFINITION,
) -> PublishedRow:
    return PublishedRow(
        id,
        f"{source} in {target}",
        basis,
        published,
        lambda: parse_quantity(source, kind).value_in(target),
        printed,
        relative=within,
    )


def _nist(
    id: str, kind: QuantityKind, source: str, target: str, printed: float, within: float = TRANSCRIBED
) -> PublishedRow:
    return _row(id, kind, source, target, printed, Basis.SECOND_HAND, within, NIST)


FACTORS: tuple[PublishedRow, ...] = (
    _row("U01", K.TORQUE, "1 lbf·ft", "N·m", 1.3558179483314004),
    _nist("U01", K.TORQUE, "1 lbf·ft", "N·m", 1.355818),
    _row("U02", K.TORQUE, "1 N·m", "lbf·ft", 0.7375621492772654),
    _row("U03", K.TORQUE, "1 lbf·in", "N·m", 0.1129848290276167),
    _nist("U03", K.TORQUE, "1 lbf·in", "N·m", 0.1129848),
    _row("U04", K.TORQUE, "1 N·m", "lbf·in", 8.850745791327185),
    _row("U05", K.TORQUE, "1 lbf·ft", "lbf·in", 12.0),
    _nist("U06", K.TORQUE, "1 kgf·m", "N·m", 9.80665, 1e-12),
    _row("U07", K.TORQUE, "1 kgf·m", "lbf·ft", 7.233013851209894),
    _row("U08", K.TORQUE, "1 kgf·cm", "N·m", 0.0980665),
    _row("U09", K.TORQUE, "1 kgf·cm", "lbf·in", 0.8679616621451874),
    _row("U10", K.TORQUE, "1 ozf·in", "N·m", 0.007061551814226044),
    _nist("U10", K.TORQUE, "1 ozf·in", "N·m", 0.007061552),
    _nist("U11", K.LENGTH, "1 in", "mm", 25.4, 1e-12),
    _row("U12", K.LENGTH, "1 mm", "in", 0.03937007874015748),
    _row("U13", K.LENGTH, "0.001 in", "μm", 25.4),
    _row("U13", K.LENGTH, "1 thou", "μm", 25.4),
    _row("U14", K.VOLUME, "1 US fl oz", "mL", 29.5735295625),
    _nist("U14", K.VOLUME, "1 US fl oz", "mL", 29.57353),
    _row("U15", K.VOLUME, "1 imp fl oz", "mL", 28.4130625),
    _nist("U15", K.VOLUME, "1 imp fl oz", "mL", 28.41306),
    _row("U16", K.VOLUME, "1 mL", "US fl oz", 0.033814022701843),
    _row("U17", K.VOLUME, "1 imp fl oz", "US fl oz", 0.9607599404038844),
    _row("U18", K.VOLUME, "1 US gal", "L", 3.785411784),
    _nist("U18", K.VOLUME, "1 US gal", "L", 3.785412),
    _nist("U19", K.VOLUME, "1 imp gal", "L", 4.54609, 1e-12),
    _row("U20", K.VOLUME, "1 US qt", "L", 0.946352946),
    _row(
        "U20", K.VOLUME, "1 US qt", "L", 0.9463529, Basis.FROM_MEMORY, TRANSCRIBED, "NIST SP 811 appendix B.8"
    ),
    _row("U21", K.VOLUME, "1 US pt", "mL", 473.176473),
    _nist("U21", K.VOLUME, "1 US pt", "mL", 473.1765),
    _row("U22", K.VOLUME, "1 US gal", "US fl oz", 128.0),
    _row(
        "U23",
        K.VOLUME,
        "1 imp gal",
        "imp fl oz",
        160.0,
        Basis.SECOND_HAND,
        1e-12,
        "reprint of NIST HB 44 app. C",
    ),
    _row("U24", K.PRESSURE, "1 psi", "kPa", 6.894757293168361),
    _nist("U24", K.PRESSURE, "1 psi", "kPa", 6.894757),
    _nist("U25", K.PRESSURE, "1 bar", "kPa", 100.0, 1e-12),
    _row("U26", K.PRESSURE, "1 bar", "psi", 14.503773773020923),
    _row("U27", K.PRESSURE, "1 kPa", "psi", 0.1450377377302092),
    _nist("U28", K.PRESSURE, "1 kgf/cm²", "kPa", 98.0665, 1e-12),
    _nist("U29", K.PRESSURE, "1 inHg", "kPa", 3.386389),
    _row("U30", K.MASS, "1 lb", "kg", 0.45359237),
    _nist("U30", K.MASS, "1 lb", "kg", 0.4535924),
    _row("U31", K.MASS, "1 kg", "lb", 2.204622621848776),
    _row("U32", K.MASS, "1 oz", "g", 28.349523125),
    _nist("U32", K.MASS, "1 oz", "g", 28.34952),
    _nist("U33", K.SPEED, "1 mph", "km/h", 1.609344, 1e-12),
    _row("U34", K.SPEED, "1 km/h", "mph", 0.621371192237334),
    _nist("U35", K.SPEED, "1 mph", "m/s", 0.44704, 1e-12),
    _nist("U36", K.SPEED, "1 ft/min", "m/s", 0.00508, 1e-12),
    _row("U38", K.ROTATIONAL_SPEED, "1 rpm", "r/s", 1 / 60),
    _row("U39", K.DISPLACEMENT, "1 in³", "cm³", 16.387064),
    _row("U40", K.POWER, "1 hp", "W", 745.6998715822702),
    _nist("U40", K.POWER, "1 hp", "W", 745.6999),
    _row("U41", K.POWER, "1 PS", "W", 735.49875),
    _nist("U41", K.POWER, "1 PS", "W", 735.4988),
)


@pytest.mark.parametrize("row", FACTORS, ids=[row.test_id for row in FACTORS])
def test_our_factor_agrees_with_the_published_one(row: PublishedRow) -> None:
    assert row.agrees(), f"{row.test_id}: ours {row.ours()!r}, printed {row.printed!r}"


def test_every_conversion_row_from_u01_to_u41_is_used() -> None:
    used = {row.id for row in FACTORS} | {"U37"}  # U37 is the next test
    assert used == {f"U{number:02d}" for number in range(1, 42)}


def test_u37_a_revolution_per_minute_is_two_pi_over_sixty_radians_per_second() -> None:
    speed = parse_quantity("1 rpm").si
    assert speed == pytest.approx(0.10471975511965977, rel=1e-12)  # arithmetic
    assert speed == pytest.approx(math.tau / 60, rel=1e-15)
    assert speed == pytest.approx(0.1047198, rel=TRANSCRIBED)  # NIST SP 811 appendix B.8, from memory


TEMPERATURES = (  # id, text, kind, target, expected, where from
    ("U50", "37 °C", K.TEMPERATURE, "°F", 1.8 * 37 + 32, NIST),
    ("U51", "70 °F", K.TEMPERATURE, "°C", (70 - 32) / 1.8, NIST),
    ("U52", "70 °F", K.TEMPERATURE, "K", (70 + 459.67) / 1.8, NIST),
    ("U53", "0 °C", K.TEMPERATURE, "°F", 32.0, "arithmetic"),
    ("U54", "100 °C", K.TEMPERATURE, "°F", 212.0, "arithmetic"),
    ("U55", "-40 °C", K.TEMPERATURE, "°F", -40.0, "arithmetic"),
    ("U56", "-25 °C", K.TEMPERATURE, "°F", -13.0, "arithmetic"),
    ("U57", "1 °C", K.TEMPERATURE_DIFFERENCE, "°F", 1.8, NIST),
    ("U58", "10 °F", K.TEMPERATURE_DIFFERENCE, "°C", 50 / 9, "arithmetic"),
    ("U59", "20 °C", K.TEMPERATURE_DIFFERENCE, "°F", 36.0, "arithmetic"),
)


@pytest.mark.parametrize(
    ("text", "kind", "target", "expected"),
    [row[1:5] for row in TEMPERATURES],
    ids=[f"{row[0]} {row[1]} [{row[5]}]" for row in TEMPERATURES],
)
def test_temperature_points_and_differences_convert_as_published(
    text: str, kind: QuantityKind, target: str, expected: float
) -> None:
    assert parse_quantity(text, kind).value_in(target) == pytest.approx(expected, rel=1e-12)


TM_TABLE = "TM 9-2320-362-14&P Table F-1, grade 8 column, read in a copy"
PRINTED_PAIRS = (  # id, source, target unit, printed in the target, half a unit of its last digit, where from
    ("U60", "19 lbf·ft", "N·m", "25.8", "TM 5-3805-274-13&P, read in a copy"),
    ("U61", "17 lbf·ft", "N·m", "23.0", "TM 5-3805-274-13&P, read in a copy"),
    ("U62", "22 in", "cm", "55.9", "TM 5-3805-274-13&P, read in a copy"),
    ("U62", "3 in", "cm", "7.6", "TM 5-3805-274-13&P, read in a copy"),
    ("U62", "25 in", "cm", "63.5", "TM 5-3805-274-13&P, read in a copy"),
    ("U63", "10 lbf·ft", "N·m", "14", TM_TABLE),
    ("U63", "21 lbf·ft", "N·m", "29", TM_TABLE),
    ("U63", "37 lbf·ft", "N·m", "50", TM_TABLE),
    ("U63", "60 lbf·ft", "N·m", "81", TM_TABLE),
    ("U63", "90 lbf·ft", "N·m", "122", TM_TABLE),
    ("U63", "130 lbf·ft", "N·m", "176", TM_TABLE),
    ("U63", "178 lbf·ft", "N·m", "241", TM_TABLE),
    ("U63", "260 lbf·ft", "N·m", "353", TM_TABLE),
    ("U63", "420 lbf·ft", "N·m", "570", TM_TABLE),
    ("U63", "635 lbf·ft", "N·m", "861", TM_TABLE),
    ("U64", "30 lbf·ft", "N·m", "41", "TM 5-3805-248-23-1, read in a copy"),
)


@pytest.mark.parametrize(
    ("source", "target", "printed"),
    [row[1:4] for row in PRINTED_PAIRS],
    ids=[f"{row[0]} {row[1]} is {row[3]} {row[2]} [{row[4]}]" for row in PRINTED_PAIRS],
)
def test_pairs_printed_in_manuals_agree_within_half_a_digit_on_either_side(
    source: str, target: str, printed: str
) -> None:
    quantity = parse_quantity(source)
    half_source = parse_quantity(f"0.5 {quantity.unit}").value_in(
        target
    )  # every source here is a whole number
    half_target = Fraction(1, 2) / 10 ** len(printed.partition(".")[2])
    assert abs(quantity.value_in(target) - float(printed)) <= max(half_source, float(half_target))


def test_e24_a_plug_gap_reads_as_a_government_manual_prints_it() -> None:
    # Row E24, TM 10-3930-653-14&P, read in a copy: 0.7-0.8 mm (0.028-0.031 in).
    assert dual_text(parse_quantity("0.7-0.8 mm")) == "0.7–0.8 mm (0.028–0.031 in)"


def test_e27_a_misprinted_pair_does_not_convert_into_itself() -> None:
    # Row E27, TM 5-4310-360-14, read in a copy: the manual prints 0.030 inch as .08382 cm, which is 0.033 in.
    assert parse_quantity("0.030 in").value_in("cm") == pytest.approx(0.0762, rel=1e-12)
    assert parse_quantity("0.08382 cm").value_in("in") == pytest.approx(0.033, rel=1e-12)


@pytest.mark.parametrize(
    ("ml_per_l", "us", "imperial"),
    [("62.5", 8.0, 10.0), ("40", 5.12, 6.4), ("31.25", 4.0, 5.0), ("25", 3.2, 4.0), ("20", 2.56, 3.2), ("10", 1.28, 1.6)],
    ids=["Q10 16:1", "Q11 25:1", "Q12 32:1", "Q13 40:1", "Q14 50:1", "Q15 100:1"],
)  # fmt: skip
def test_oil_doses_agree_with_the_arithmetic_of_the_gallons(
    ml_per_l: str, us: float, imperial: float
) -> None:
    dose = parse_quantity(f"{ml_per_l} mL/L")
    assert dose.value_in("US fl oz/US gal") == pytest.approx(us, rel=1e-12)
    assert dose.value_in("imp fl oz/imp gal") == pytest.approx(imperial, rel=1e-12)


# Explicit expressions: the library reads `12 Nm` as a textile number and `mil` as an angle.
PINT_NAMES: Mapping[QuantityKind, Mapping[str, str]] = {
    K.TORQUE: {
        "N·m": "newton*meter",
        "N·cm": "newton*centimeter",
        "lbf·ft": "force_pound*foot",
        "lbf·in": "force_pound*inch",
        "ozf·in": "force_ounce*inch",
        "kgf·m": "force_kilogram*meter",
        "kgf·cm": "force_kilogram*centimeter",
    },
    K.LENGTH: {
        "mm": "millimeter",
        "cm": "centimeter",
        "m": "meter",
        "μm": "micrometer",
        "in": "inch",
        "ft": "foot",
        "thou": "thou",
    },
    K.VOLUME: {
        "mL": "milliliter",
        "L": "liter",
        "m³": "meter**3",
        "cm³": "centimeter**3",
        "in³": "inch**3",
        "US fl oz": "fluid_ounce",
        "US pt": "pint",
        "US qt": "quart",
        "US gal": "gallon",
        "imp fl oz": "imperial_fluid_ounce",
        "imp pt": "imperial_pint",
        "imp qt": "imperial_quart",
        "imp gal": "imperial_gallon",
    },
    K.DISPLACEMENT: {
        "cm³": "centimeter**3",
        "in³": "inch**3",
        "L": "liter",
        "mL": "milliliter",
        "m³": "meter**3",
    },
    K.PRESSURE: {
        "kPa": "kilopascal",
        "Pa": "pascal",
        "MPa": "megapascal",
        "bar": "bar",
        "mbar": "millibar",
        "psi": "force_pound/inch**2",
        "kgf/cm²": "force_kilogram/centimeter**2",
        "inHg": "inch_Hg",
        "inH₂O": "inch_H2O",
    },
    K.STRESS: {
        "MPa": "megapascal",
        "N/mm²": "newton/millimeter**2",
        "psi": "force_pound/inch**2",
        "Pa": "pascal",
        "ksi": "1000*force_pound/inch**2",
    },
    K.SPEED: {
        "km/h": "kilometer/hour",
        "mph": "mile/hour",
        "m/s": "meter/second",
        "ft/min": "foot/minute",
        "ft/s": "foot/second",
    },
    K.ROTATIONAL_SPEED: {"rpm": "turn/minute", "r/s": "turn/second"},
    K.TEMPERATURE_DIFFERENCE: {"°C": "delta_degC", "°F": "delta_degF", "K": "kelvin"},
    K.MASS: {"kg": "kilogram", "g": "gram", "lb": "pound", "oz": "ounce"},
    K.FORCE: {
        "N": "newton",
        "kN": "kilonewton",
        "lbf": "force_pound",
        "kgf": "force_kilogram",
        "ozf": "force_ounce",
    },
    K.RESISTANCE: {"Ω": "ohm", "kΩ": "kiloohm", "MΩ": "megaohm", "mΩ": "milliohm"},
    K.VOLTAGE: {"V": "volt", "mV": "millivolt", "kV": "kilovolt"},
    K.CURRENT: {"A": "ampere", "mA": "milliampere"},
    K.POWER: {"W": "watt", "kW": "kilowatt", "hp": "550*foot*force_pound/second", "PS": "metric_horsepower"},
    K.TIME: {
        "s": "second",
        "ms": "millisecond",
        "min": "minute",
        "h": "hour",
        "day": "day",
        "week": "week",
        "month": "month",
        "year": "year",
    },
    K.ANGLE: {"°": "degree", "turn": "turn"},
    K.RATIO: {"%": "percent", ":1": "dimensionless", "": "dimensionless"},
    K.AREA: {
        "mm²": "millimeter**2",
        "cm²": "centimeter**2",
        "m²": "meter**2",
        "in²": "inch**2",
        "ft²": "foot**2",
    },
    K.CONCENTRATION: {
        "vol %": "percent",
        "%": "percent",
        "mL/L": "milliliter/liter",
        "US fl oz/US gal": "fluid_ounce/gallon",
        "imp fl oz/imp gal": "imperial_fluid_ounce/imperial_gallon",
    },
    K.COUNT: {"": "dimensionless"},
    K.FLOW: {
        "L/min": "liter/minute",
        "US gal/min": "gallon/minute",
        "L/h": "liter/hour",
        "m³/h": "meter**3/hour",
    },
    K.CHARGE: {"Ah": "ampere*hour", "mAh": "milliampere*hour"},
    K.ENERGY: {"Wh": "watt*hour", "kWh": "kilowatt*hour", "J": "joule", "kJ": "kilojoule"},
    K.FREQUENCY: {"Hz": "1/second", "kHz": "1000/second"},
}


@pytest.fixture(scope="module")
def registry() -> Registry:
    return pint.UnitRegistry(non_int_type=Fraction)


def _in_pint(registry: Registry, expression: str) -> Any:
    return Fraction(1) * registry.parse_expression(expression)


@pytest.mark.parametrize(
    "unit",
    [unit for unit in UNITS if unit.kind is not K.TEMPERATURE],
    ids=lambda unit: f"{unit.kind.value} {unit.symbol}",
)
def test_our_factor_is_exactly_that_of_pint(unit: Unit, registry: Registry) -> None:
    first = units_of(unit.kind)[0]
    theirs = _in_pint(registry, PINT_NAMES[unit.kind][unit.symbol])
    reference = _in_pint(registry, PINT_NAMES[unit.kind][first.symbol])
    assert (theirs / reference).to_base_units().magnitude == unit.factor / first.factor


@pytest.mark.parametrize("degrees", [-40, -25, 0, 20, 100])
@pytest.mark.parametrize(("ours", "theirs"), [("°C", "degC"), ("°F", "degF"), ("K", "kelvin")])
def test_our_temperature_points_are_those_of_pint(
    degrees: int, ours: str, theirs: str, registry: Registry
) -> None:
    quantity = parse_quantity(f"{degrees + 300 if ours == 'K' else degrees} {ours}", K.TEMPERATURE)
    point = registry.Quantity(quantity.low, theirs)
    for symbol, name in (("°C", "degC"), ("°F", "degF"), ("K", "kelvin")):
        assert quantity.exact_bounds_in(symbol)[0] == point.to(name).magnitude


def test_base_units_are_the_coherent_si_units(registry: Registry) -> None:
    coherent = {
        K.TORQUE: "newton*meter",
        K.LENGTH: "meter",
        K.VOLUME: "meter**3",
        K.DISPLACEMENT: "meter**3",
        K.PRESSURE: "pascal",
        K.STRESS: "pascal",
        K.SPEED: "meter/second",
        K.ROTATIONAL_SPEED: "turn/second",  # in radians at the edge: the table counts turns
        K.TEMPERATURE_DIFFERENCE: "kelvin",
        K.MASS: "kilogram",
        K.FORCE: "newton",
        K.RESISTANCE: "ohm",
        K.VOLTAGE: "volt",
        K.CURRENT: "ampere",
        K.POWER: "watt",
        K.TIME: "second",
        K.ANGLE: "turn",
        K.RATIO: "dimensionless",
        K.AREA: "meter**2",
        K.CONCENTRATION: "dimensionless",
        K.COUNT: "dimensionless",
        K.FLOW: "meter**3/second",
        K.CHARGE: "coulomb",
        K.ENERGY: "joule",
        K.FREQUENCY: "1/second",
    }
    assert coherent.keys() == PINT_NAMES.keys()
    for kind, expression in coherent.items():
        for unit in units_of(kind):
            ours = _in_pint(registry, PINT_NAMES[kind][unit.symbol]) / _in_pint(registry, expression)
            assert ours.to_base_units().magnitude == unit.factor
