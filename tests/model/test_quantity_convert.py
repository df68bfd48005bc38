"""Both systems side by side: the source first, and never more allowed than the source allows."""

from __future__ import annotations

import pytest

from shearpin.model.quantity import QuantityKind, WrongKind, convert, dual_parts, dual_text, parse_quantity
from shearpin.model.units import UNITS, Unit, units_of

K = QuantityKind


@pytest.mark.parametrize(
    "shown",
    [
        # torque: small ones in lbf·in
        "24 ± 2 N·m (16.3–19.1 lbf·ft)",  # 16.226 and 19.176: both ends move inward
        "22–26 N·m (16.3–19.1 lbf·ft)",
        "24 N·m (18 lbf·ft)",
        "24 N·m ± 10 % (16–19 lbf·ft)",
        "9 ± 1 N·m (71–88 lbf·in)",
        "14 N·m (124 lbf·in)",
        "15 N·m (11 lbf·ft)",
        "≤ 14 N·m (≤ 123 lbf·in)",
        "18 lbf·ft (24 N·m)",
        "80 lbf·in (9.0 N·m)",
        "2.5 kgf·m (18 lbf·ft)",
        # length: gaps with three or four decimals
        "0.70–0.80 mm (0.028–0.031 in)",
        "0.7–0.8 mm (0.028–0.031 in)",
        "0.05–0.15 mm (0.0020–0.0059 in)",
        "0.8 mm (0.031 in)",
        "0.030 in (0.76 mm)",
        "0.024–0.031 in (0.61–0.78 mm)",
        "3–6 mm (0.12–0.23 in)",
        "3 mm (0.12 in)",
        "3/8 in (9.53 mm)",
        "1 1/4 in (31.8 mm)",
        "2 m (6.6 ft)",
        "15 thou (0.38 mm)",
        "7 ft 6 in (2300 mm)",
        # limits move inward too
        "≤ 10 lbf·ft (≤ 13.5 N·m)",
        "≥ 620 kPa (≥ 90.0 psi)",
        "≤ 5 mm (≤ 0.196 in)",
        # a tolerance of a temperature is a difference
        "24 ± 2 °C (72–78 °F)",
        "−13 °F (−25 °C)",
        "−25 to −10 °C (−13 to 14 °F)",
        "0 °C (32 °F)",
        "≤ 40 °C (≤ 104 °F)",
        # the rest of the trade
        "620 kPa (89.9 psi)",
        "100 psi (689 kPa)",
        "1.4 bar (20 psi)",
        "600 mL (20.3 US fl oz)",
        "1.1 L (1.16 US qt)",
        "5 L (1.3 US gal)",
        "20 US fl oz (590 mL)",
        "1 imp gal (4.5 L)",
        "212 cm³ (12.9 in³)",
        "830 MPa (120 ksi)",
        "20 m/s (3900 ft/min)",
        "5 km/h (3.1 mph)",
        "12 kg (26 lb)",
        "1200 lbf (5338 N)",
        "6.3 kW (8.4 hp)",
    ],
)
def test_the_other_system_stands_in_parentheses(shown: str) -> None:
    source = shown.partition(" (")[0]
    assert dual_text(parse_quantity(source)) == shown


@pytest.mark.parametrize(
    "text",
    [
        "3600 rpm",
        "15 min",
        "1 h 30 min",
        "45°",
        "1 1/2 turns",
        "≤ 10 %",
        "50:1",
        "12.5 V",
        "4 A",
        "2 Ω",
        "4",
        "30 W",
        "5W-30",
    ],
)
def test_what_has_no_counterpart_stands_alone(text: str) -> None:
    assert dual_parts(parse_quantity(text)) == (text, None)
    assert dual_text(parse_quantity(text)) == text


def test_a_designation_stands_alone() -> None:
    quantity = parse_quantity("SAE J429 grade 2", K.DESIGNATION)
    assert dual_parts(quantity) == ("SAE J429 grade 2", None)


def test_a_temperature_difference_is_not_a_temperature() -> None:
    assert dual_text(parse_quantity("20 °C", K.TEMPERATURE)) == "20 °C (68 °F)"
    assert dual_text(parse_quantity("20 °C", K.TEMPERATURE_DIFFERENCE)) == "20 °C (36 °F)"


def test_oil_and_additive_doses_convert_by_volume() -> None:
    assert dual_text(parse_quantity("20 mL/L")) == "20 mL/L (2.6 US fl oz/US gal)"
    assert dual_text(parse_quantity("600 cm³", K.VOLUME)) == "600 cm³ (20.3 US fl oz)"


def test_the_two_halves_are_apart_for_markup() -> None:
    assert dual_parts(parse_quantity("24 ± 2 N·m")) == ("24 ± 2 N·m", "16.3–19.1 lbf·ft")


@pytest.mark.parametrize("unit", UNITS, ids=lambda unit: f"{unit.kind.value}-{unit.symbol}")
def test_a_counterpart_is_never_the_unit_itself(unit: Unit) -> None:
    quantity = parse_quantity(f"7{unit.symbol}" if unit.symbol == ":1" else f"7 {unit.symbol}", unit.kind)
    converted = dual_parts(quantity)[1]
    assert converted is None or not converted.endswith(f" {quantity.unit}")


@pytest.mark.parametrize(
    "kind", [K.TORQUE, K.LENGTH, K.VOLUME, K.PRESSURE, K.FORCE, K.STRESS, K.SPEED, K.AREA, K.MASS]
)
def test_kinds_that_differ_between_systems_convert_from_their_usual_units(kind: QuantityKind) -> None:
    for unit in units_of(kind)[:2]:
        assert dual_parts(parse_quantity(f"7 {unit.symbol}", kind))[1] is not None


def test_a_range_takes_more_digits_rather_than_closing() -> None:
    assert (
        str(convert(parse_quantity("7–8 N·m"), "kgf·m")) == "0.72–0.81 kgf·m"
    )  # 0.714 and 0.816; one digit: 0.8–0.8
    assert str(convert(parse_quantity("10.0–10.1 mm"), "in")) == "0.394–0.397 in"  # 0.39370 and 0.39764


def test_a_converted_range_has_no_nominal_and_reads_back() -> None:
    converted = convert(parse_quantity("24 ± 2 N·m"), "lbf·ft")
    assert converted.nominal is None
    assert parse_quantity(str(converted), K.TORQUE) == converted


def test_halves_of_a_single_number_round_away_from_zero() -> None:
    assert str(convert(parse_quantity("12.5 mm"), "cm")) == "1.25 cm"
    assert str(convert(parse_quantity("3/8 in"), "mm")) == "9.53 mm"  # 9.525
    assert str(convert(parse_quantity("-12.5 °C", K.TEMPERATURE), "°F")) == "9.5 °F"
    assert str(convert(parse_quantity("-3/8 in"), "mm")) == "−9.53 mm"


def test_zero_converts_to_zero() -> None:
    assert str(convert(parse_quantity("0 mm"), "in")) == "0 in"
    assert str(convert(parse_quantity("≤ 0.0 mm"), "in")) == "≤ 0.0 in"


def test_converting_to_the_same_unit_changes_nothing() -> None:
    quantity = parse_quantity("24 ± 2 N·m")
    assert convert(quantity, "N·m") is quantity


@pytest.mark.parametrize(
    ("text", "kind", "symbol"),
    [("24 N·m", K.TORQUE, "mm"), ("24 N·m", K.TORQUE, "J"), ("SAE 30", K.VISCOSITY_GRADE, "mm")],
)
def test_a_unit_of_another_kind_is_refused(text: str, kind: QuantityKind, symbol: str) -> None:
    with pytest.raises(WrongKind, match=f"`{symbol}` is no unit of"):
        convert(parse_quantity(text, kind), symbol)


def test_a_word_for_a_unit_takes_its_plural() -> None:
    assert str(convert(parse_quantity("540°"), "turn")) == "1.50 turns"
    assert str(convert(parse_quantity("360°"), "turn")) == "1.00 turn"
