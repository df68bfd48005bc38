"""Reading quantities: what the trade writes, and the numbers it stands for."""

from __future__ import annotations

import pickle
from fractions import Fraction

import pytest

from shearpin.model.quantity import (
    Quantity,
    QuantityError,
    QuantityKind,
    WrongKind,
    canonical,
    parse_quantity,
)

K = QuantityKind

# Longer than a module should be: the table of accepted spellings is best read in one piece.

# text | kind that the unit decides | canonical text | low | high (in the unit)
ACCEPTED = [
    ("24 Nm", K.TORQUE, "24 N·m", 24, 24),
    ("24Nm", K.TORQUE, "24 N·m", 24, 24),
    ("24 N.m", K.TORQUE, "24 N·m", 24, 24),
    ("24 N·m", K.TORQUE, "24 N·m", 24, 24),
    ("24 N∙m", K.TORQUE, "24 N·m", 24, 24),
    ("24 N⋅m", K.TORQUE, "24 N·m", 24, 24),
    ("24 N-m", K.TORQUE, "24 N·m", 24, 24),
    ("24 N m", K.TORQUE, "24 N·m", 24, 24),
    ("24 NM", K.TORQUE, "24 N·m", 24, 24),
    ("24 newton-metres", K.TORQUE, "24 N·m", 24, 24),
    ("18 ft-lb", K.TORQUE, "18 lbf·ft", 18, 18),
    ("18 ft. lbs.", K.TORQUE, "18 lbf·ft", 18, 18),
    ("18 FT-LB", K.TORQUE, "18 lbf·ft", 18, 18),
    ("18 lbf·ft", K.TORQUE, "18 lbf·ft", 18, 18),
    ("18 pound-feet", K.TORQUE, "18 lbf·ft", 18, 18),
    ("160 in-lb", K.TORQUE, "160 lbf·in", 160, 160),
    ("160 in.-lbs.", K.TORQUE, "160 lbf·in", 160, 160),
    ("2.4 kgf·m", K.TORQUE, "2.4 kgf·m", "2.4", "2.4"),
    ("3/8 in", K.LENGTH, "3/8 in", "3/8", "3/8"),
    ("1 1/4 in", K.LENGTH, "1 1/4 in", "5/4", "5/4"),
    ("1-1/4 in", K.LENGTH, "1 1/4 in", "5/4", "5/4"),
    ("1¼ in", K.LENGTH, "1 1/4 in", "5/4", "5/4"),
    ("⅜″", K.LENGTH, "3/8 in", "3/8", "3/8"),
    ("1-5/4 in", K.LENGTH, "1–5/4 in", 1, "5/4"),
    ('0.030"', K.LENGTH, "0.030 in", "0.030", "0.030"),
    (".030 in", K.LENGTH, "0.030 in", "0.030", "0.030"),
    ("007 mm", K.LENGTH, "7 mm", 7, 7),
    ("7 ft 6 in", K.LENGTH, "7 ft 6 in", 90, 90),
    ("5'3\"", K.LENGTH, "5 ft 3 in", 63, 63),
    ("15 thou", K.LENGTH, "15 thou", 15, 15),
    ("5 \u00b5m", K.LENGTH, "5 \u03bcm", 5, 5),
    ("5 \u03bcm", K.LENGTH, "5 \u03bcm", 5, 5),
    ("0.70–0.80 mm", K.LENGTH, "0.70–0.80 mm", "0.70", "0.80"),
    ("2 lb 4 oz", K.MASS, "2 lb 4 oz", 36, 36),
    ("-13 °F", K.TEMPERATURE, "−13 °F", -13, -13),
    ("−13 °F", K.TEMPERATURE, "−13 °F", -13, -13),
    ("–13 ºF", K.TEMPERATURE, "−13 °F", -13, -13),
    ("+5 deg C", K.TEMPERATURE, "5 °C", 5, 5),
    ("-0 °C", K.TEMPERATURE, "0 °C", 0, 0),
    ("-25 to -10 °C", K.TEMPERATURE, "−25 to −10 °C", -25, -10),
    ("-25--10 °C", K.TEMPERATURE, "−25 to −10 °C", -25, -10),
    ("-5 - 5 °C", K.TEMPERATURE, "−5 to 5 °C", -5, 5),
    ("24 ± 2 °C", K.TEMPERATURE, "24 ± 2 °C", 22, 26),
    ("24 ± 2 N·m", K.TORQUE, "24 ± 2 N·m", 22, 26),
    ("24 +- 2 Nm", K.TORQUE, "24 ± 2 N·m", 22, 26),
    ("24 +/- 2 Nm", K.TORQUE, "24 ± 2 N·m", 22, 26),
    ("24 Nm ± 2 Nm", K.TORQUE, "24 ± 2 N·m", 22, 26),
    ("24 N·m ± 10 %", K.TORQUE, "24 N·m ± 10 %", "21.6", "26.4"),
    ("24 N·m +/-10%", K.TORQUE, "24 N·m ± 10 %", "21.6", "26.4"),
    ("22–26 N·m", K.TORQUE, "22–26 N·m", 22, 26),
    ("22 to 26 N·m", K.TORQUE, "22–26 N·m", 22, 26),
    ("22-26 N·m", K.TORQUE, "22–26 N·m", 22, 26),
    ("22 − 26 N·m", K.TORQUE, "22–26 N·m", 22, 26),
    ("22 N·m – 26 N·m", K.TORQUE, "22–26 N·m", 22, 26),
    ("22 N·m-26", K.TORQUE, "22–26 N·m", 22, 26),
    ("≤ 10 %", K.RATIO, "≤ 10 %", None, 10),
    ("<= 10%", K.RATIO, "≤ 10 %", None, 10),
    ("max. 10 %", K.RATIO, "≤ 10 %", None, 10),
    ("10 % max.", K.RATIO, "≤ 10 %", None, 10),
    ("at most 10 per cent", K.RATIO, "≤ 10 %", None, 10),
    ("no more than 10 ％", K.RATIO, "≤ 10 %", None, 10),
    ("min. 620 kPa", K.PRESSURE, "≥ 620 kPa", 620, None),
    ("620 kPa min", K.PRESSURE, "≥ 620 kPa", 620, None),
    ("at least 620 kPa", K.PRESSURE, "≥ 620 kPa", 620, None),
    ("≥620 kPa", K.PRESSURE, "≥ 620 kPa", 620, None),
    (">= 620 kPa", K.PRESSURE, "≥ 620 kPa", 620, None),
    ("2 inH₂O", K.PRESSURE, "2 inH₂O", 2, 2),
    ("90 PSI", K.PRESSURE, "90 psi", 90, 90),
    ("15 min", K.TIME, "15 min", 15, 15),
    ("min 15 min", K.TIME, "≥ 15 min", 15, None),
    ("1 h 30 min", K.TIME, "1 h 30 min", 90, 90),
    ("1h30min", K.TIME, "1 h 30 min", 90, 90),
    ("1 1/2 h", K.TIME, "1 1/2 h", "3/2", "3/2"),
    ("45 min to 1 h 30 min", K.TIME, "45 min to 1 h 30 min", 45, 90),
    ("1 h ± 10 min", K.TIME, "1 h ± 10 min", 50, 70),
    ("15 min-1 h", K.TIME, "15 min to 1 h", 15, 60),
    ("30 d", K.TIME, "30 days", 30, 30),
    ("1 day", K.TIME, "1 day", 1, 1),
    ("1 1/2 turns", K.ANGLE, "1 1/2 turns", "3/2", "3/2"),
    ("45°", K.ANGLE, "45°", 45, 45),
    ("3,600 rpm", K.ROTATIONAL_SPEED, "3600 rpm", 3600, 3600),
    ("3 600 rpm", K.ROTATIONAL_SPEED, "3600 rpm", 3600, 3600),
    ("3\u202f600 r/min", K.ROTATIONAL_SPEED, "3600 rpm", 3600, 3600),
    ("3600 min-1", K.ROTATIONAL_SPEED, "3600 rpm", 3600, 3600),
    ("3600 min⁻¹", K.ROTATIONAL_SPEED, "3600 rpm", 3600, 3600),
    ("1,234,567 Pa", K.PRESSURE, "1234567 Pa", 1234567, 1234567),
    ("1,234.5 mm", K.LENGTH, "1234.5 mm", "1234.5", "1234.5"),
    ("2 \u2126", K.RESISTANCE, "2 \u03a9", 2, 2),
    ("2 \u03a9", K.RESISTANCE, "2 \u03a9", 2, 2),
    ("4.7 kohm", K.RESISTANCE, "4.7 kΩ", "4.7", "4.7"),
    ("50:1", K.RATIO, "50:1", 50, 50),
    ("32:1 to 50:1", K.RATIO, "32–50:1", 32, 50),
    ("0.2", K.RATIO, "0.2", "0.2", "0.2"),
    ("3", K.COUNT, "3", 3, 3),
    ("2–4", K.COUNT, "2–4", 2, 4),
    ("212 cc", K.DISPLACEMENT, "212 cm³", 212, 212),
    ("212 cm3", K.DISPLACEMENT, "212 cm³", 212, 212),
    ("600 ml", K.VOLUME, "600 mL", 600, 600),
    ("20 fl oz", K.VOLUME, "20 US fl oz", 20, 20),
    ("20 fl. oz. (US)", K.VOLUME, "20 US fl oz", 20, 20),
    ("20 imp. fl. oz.", K.VOLUME, "20 imp fl oz", 20, 20),
    ("1 imperial gallon", K.VOLUME, "1 imp gal", 1, 1),
    ("10 % vol", K.CONCENTRATION, "10 vol %", 10, 10),
    ("60 mm^2", K.AREA, "60 mm²", 60, 60),
    ("7.5 HP", K.POWER, "7.5 hp", "7.5", "7.5"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "kind", "spelt", "low", "high"), ACCEPTED, ids=[row[0] for row in ACCEPTED])
def test_the_trade_writes_it_and_it_reads(
    text: str, kind: QuantityKind, spelt: str, low: str | int | None, high: str | int | None
) -> None:
    quantity = parse_quantity(text)
    assert quantity.kind is kind
    assert str(quantity) == spelt
    assert quantity.low == (None if low is None else Fraction(low))
    assert quantity.high == (None if high is None else Fraction(high))
    assert parse_quantity(spelt, kind) == quantity
    assert parse_quantity(f"  {text} ", kind) == quantity


@pytest.mark.parametrize(
    ("text", "kind", "unit"),
    [
        ("600 cm³", K.VOLUME, "cm³"),
        ("0.2 L", K.DISPLACEMENT, "L"),
        ("830 MPa", K.STRESS, "MPa"),
        ("0.6 MPa", K.PRESSURE, "MPa"),
        ("120 000 psi", K.STRESS, "psi"),
        ("10 %", K.CONCENTRATION, "%"),
        ("20 °C", K.TEMPERATURE_DIFFERENCE, "°C"),
        ("2", K.RATIO, ""),
    ],
)
def test_one_spelling_serves_the_kind_that_is_asked_for(text: str, kind: QuantityKind, unit: str) -> None:
    quantity = parse_quantity(text, kind)
    assert (quantity.kind, quantity.unit) == (kind, unit)


@pytest.mark.parametrize(
    ("text", "spelt"),
    [
        ("5W-30", "5W-30"),
        ("5w30", "5W-30"),
        ("SAE 10W–30", "SAE 10W-30"),
        ("sae30", "SAE 30"),
        ("SAE 80W-90", "SAE 80W-90"),
        ("iso vg 46", "ISO VG 46"),
        ("NLGI no. 2", "NLGI 2"),
        ("NLGI 000", "NLGI 000"),
    ],
)
def test_a_viscosity_grade_reads_with_and_without_its_kind(text: str, spelt: str) -> None:
    quantity = parse_quantity(text)
    assert quantity.kind is K.VISCOSITY_GRADE
    assert str(quantity) == spelt
    assert parse_quantity(spelt, K.VISCOSITY_GRADE) == quantity


@pytest.mark.parametrize(
    ("text", "offset", "message"),
    [
        ("30", 0, "needs its class"),
        ("SAE 31", 4, "no grade 31"),
        (" 6W-30", 1, "no grade 6W-30"),
        ("75W-30", 0, "no grade 75W-30"),
        ("ISO VG 47", 7, "no grade 47"),
        ("NLGI 7", 5, "no grade 7"),
        ("thick", 0, "not a viscosity grade"),
        ("", 0, "not a viscosity grade"),
        ("SAE " + " " * 5000 + "30", 0, "not a viscosity grade"),
    ],
)
def test_an_unknown_viscosity_grade_is_refused(text: str, offset: int, message: str) -> None:
    with pytest.raises(QuantityError, match=message) as caught:
        parse_quantity(text, K.VISCOSITY_GRADE)
    assert caught.value.offset == offset


def test_five_watts_are_not_a_winter_grade() -> None:
    assert parse_quantity("5 W").kind is K.POWER
    assert str(parse_quantity("5W", K.VISCOSITY_GRADE)) == "5W"


def test_a_designation_is_free_text_on_one_line() -> None:
    assert str(parse_quantity(" SAE J429  grade\n2 ", K.DESIGNATION)) == "SAE J429 grade 2"


@pytest.mark.parametrize(
    ("text", "offset", "message"),
    [
        ("", 0, "empty"),
        ("   ", 0, "empty"),
        ("M8\x00", 2, "printable"),
        ("\u202eM8", 0, "printable"),
        ("x" * 121, 120, "too long"),
    ],
)
def test_a_designation_that_cannot_be_printed_is_refused(text: str, offset: int, message: str) -> None:
    with pytest.raises(QuantityError, match=message) as caught:
        parse_quantity(text, K.DESIGNATION)
    assert caught.value.offset == offset


def test_canonical_is_the_text_of_the_quantity() -> None:
    assert canonical("24 +- 2 Nm", K.TORQUE) == "24 ± 2 N·m"


@pytest.mark.parametrize(
    ("text", "kind", "si"),
    [
        ("24 N·m", K.TORQUE, 24.0),
        ("22–26 N·m", K.TORQUE, 24.0),
        ("0.75 mm", K.LENGTH, 0.00075),
        ("600 mL", K.VOLUME, 0.0006),
        ("620 kPa", K.PRESSURE, 620_000.0),
        ("36 km/h", K.SPEED, 10.0),
        ("60 rpm", K.ROTATIONAL_SPEED, 6.283185307179586),
        ("180°", K.ANGLE, 3.141592653589793),
        ("-25 °C", K.TEMPERATURE, 248.15),
        ("18 °F", K.TEMPERATURE_DIFFERENCE, 10.0),
        ("500 g", K.MASS, 0.5),
        ("1 h 30 min", K.TIME, 5400.0),
        ("10 %", K.RATIO, 0.1),
        ("50:1", K.RATIO, 50.0),
        ("≤ 10 %", K.RATIO, 0.1),
        ("≥ 2 A", K.CURRENT, 2.0),
        ("3", K.COUNT, 3.0),
    ],
)
def test_si_is_one_number_in_the_coherent_unit(text: str, kind: QuantityKind, si: float) -> None:
    assert parse_quantity(text, kind).si == pytest.approx(si, rel=1e-15)


def test_bounds_are_floats_in_si_and_open_ends_are_none() -> None:
    tolerance, limit = parse_quantity("24 ± 2 kPa"), parse_quantity("≤ 10 %")
    assert (tolerance.low_si, tolerance.nominal_si, tolerance.high_si) == (22e3, 24e3, 26e3)
    assert (limit.low_si, limit.nominal_si, limit.high_si) == (None, None, 0.1)
    assert parse_quantity("22–26 kPa").nominal_si is None


def test_a_quantity_gives_numbers_in_any_unit_of_its_kind() -> None:
    quantity = parse_quantity("1–2 ft")
    assert quantity.bounds_in("in") == (12.0, 24.0)
    assert quantity.value_in("in") == 18.0
    assert parse_quantity("≤ 1 ft").bounds_in("in") == (None, 12.0)
    with pytest.raises(KeyError):
        quantity.value_in("kg")


def test_minutes_are_for_times_only() -> None:
    assert parse_quantity("1 1/2 h").minutes == 90.0
    with pytest.raises(ValueError, match="no minutes"):
        _ = parse_quantity("5 mm").minutes


def test_a_name_has_no_number() -> None:
    quantity = parse_quantity("SAE J429 grade 2", K.DESIGNATION)
    assert (quantity.low_si, quantity.high_si, quantity.nominal_si) == (None, None, None)
    with pytest.raises(ValueError, match="is a name"):
        _ = quantity.si


@pytest.mark.parametrize(
    ("outer", "inner", "inside"),
    [
        ("22–26 N·m", "24 N·m", True),
        ("22–26 N·m", "22–26 N·m", True),
        ("22–26 N·m", "18 lbf·ft", True),
        ("22–26 N·m", "20 lbf·ft", False),
        ("22–26 N·m", "≥ 24 N·m", False),
        ("≥ 20 N·m", "22–26 N·m", True),
        ("≥ 20 N·m", "≥ 22 N·m", True),
        ("≤ 20 N·m", "22 N·m", False),
        ("≤ 20 N·m", "≥ 2 N·m", False),
        ("24 N·m", "22–26 N·m", False),
        ("22–26 N·m", "20 N·m", False),
        ("22–26 N·m", "20–24 N·m", False),
        ("≥ 20 N·m", "18 N·m", False),
        ("≥ 20 N·m", "≤ 22 N·m", False),
        ("-20 to 5 °C", "32 °F", True),
        ("22–26 N·m", "24 mm", False),
    ],
)
def test_contains_compares_across_units(outer: str, inner: str, inside: bool) -> None:
    assert parse_quantity(outer).contains(parse_quantity(inner)) is inside


def test_a_name_contains_itself_only() -> None:
    oil = parse_quantity("5W-30")
    assert oil.contains(parse_quantity("5w-30"))
    assert not oil.contains(parse_quantity("SAE 30"))


def test_quantities_and_errors_survive_a_process_boundary() -> None:
    quantity = parse_quantity("24 ± 2 N·m")
    assert pickle.loads(pickle.dumps(quantity)) == quantity
    error = pickle.loads(pickle.dumps(WrongKind("message", 3, "hint")))
    assert (type(error), str(error), error.offset, error.hint) == (WrongKind, "message", 3, "hint")


def test_equal_texts_give_the_same_object() -> None:
    assert parse_quantity("24 Nm") is parse_quantity("24 Nm")
    assert parse_quantity("24 Nm") == parse_quantity("24 N·m")
    assert isinstance(parse_quantity("24 Nm"), Quantity)
