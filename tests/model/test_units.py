"""The table of units: closed, exact, without two meanings for one spelling."""

from __future__ import annotations

import json
from fractions import Fraction

import pytest

from shearpin.model.quantity import QuantityKind, parse_quantity
from shearpin.model.quantity_value import TEXT_KINDS
from shearpin.model.units import UNITS, Unit, unit_named, unit_table, units_of

NUMERIC_KINDS = [kind for kind in QuantityKind if kind not in TEXT_KINDS]
SPELLINGS = [(unit, spelling) for unit in UNITS for spelling in (unit.symbol, *unit.spellings) if spelling]


def test_kinds_are_spelled_with_hyphens() -> None:
    names = """torque length volume pressure speed rotational-speed temperature temperature-difference mass force
    stress resistance voltage current power time angle ratio displacement area concentration count flow charge
    energy frequency viscosity-grade designation"""
    assert [kind.value for kind in QuantityKind] == names.split()


@pytest.mark.parametrize("kind", NUMERIC_KINDS)
def test_every_kind_of_number_has_its_base_unit_in_the_table(kind: QuantityKind) -> None:
    is_base = [unit.factor == 1 and unit.offset == 0 for unit in units_of(kind)]
    # A plain share, a cubic metre in a second and a coulomb are bases that nobody in the trade writes.
    unwritten = {QuantityKind.CONCENTRATION, QuantityKind.FLOW, QuantityKind.CHARGE}
    assert any(is_base) is (kind not in unwritten)


@pytest.mark.parametrize("kind", sorted(TEXT_KINDS))
def test_names_have_no_units(kind: QuantityKind) -> None:
    assert units_of(kind) == ()


@pytest.mark.parametrize(("unit", "spelling"), SPELLINGS, ids=lambda value: getattr(value, "symbol", value))
def test_every_spelling_reads_as_its_unit_and_no_other(unit: Unit, spelling: str) -> None:
    quantity = parse_quantity(f"1{spelling}" if spelling == ":1" else f"1 {spelling}", unit.kind)
    assert (quantity.kind, quantity.unit) == (unit.kind, unit.symbol)


@pytest.mark.parametrize("kind", NUMERIC_KINDS)
def test_one_spelling_means_one_unit_of_a_kind(kind: QuantityKind) -> None:
    for fold in (str, str.casefold):
        owners: dict[str, set[str]] = {}
        for unit in units_of(kind):
            for spelling in (unit.symbol, *unit.spellings):
                owners.setdefault(fold(spelling), set()).add(unit.symbol)
        shared = {spelling: units for spelling, units in owners.items() if len(units) > 1}
        if fold is str.casefold:  # kept apart by case on purpose, and never folded by the reader
            shared = {
                spelling: units
                for spelling, units in shared.items()
                if spelling not in {"mω", "mohm", "mohms"}
            }
        assert not shared


def test_no_unit_of_energy_is_a_torque() -> None:
    assert not {"J", "kJ", "Wh", "kWh", "ft·lbf"} & {unit.symbol for unit in units_of(QuantityKind.TORQUE)}


def test_temperature_points_have_offsets_and_differences_have_none() -> None:
    assert unit_named(QuantityKind.TEMPERATURE, "°F").offset == Fraction(45967, 180)
    assert all(unit.offset == 0 for unit in units_of(QuantityKind.TEMPERATURE_DIFFERENCE))


def test_an_unknown_symbol_is_a_key_error() -> None:
    with pytest.raises(KeyError):
        unit_named(QuantityKind.TORQUE, "mm")


def test_the_table_survives_json_exactly() -> None:
    table = json.loads(json.dumps(unit_table()))
    assert len(table["units"]) == len(UNITS)
    for row, unit in zip(table["units"], UNITS, strict=True):
        assert (row["kind"], row["symbol"], row["plural"]) == (unit.kind.value, unit.symbol, unit.plural)
        assert Fraction(row["numerator"], row["denominator"]) == unit.factor
        assert Fraction(row["offset_numerator"], row["offset_denominator"]) == unit.offset
        assert tuple(row["spellings"]) == unit.spellings


def test_a_page_that_divides_doubles_is_within_1e_15_of_the_exact_factor() -> None:
    for row, unit in zip(unit_table()["units"], UNITS, strict=True):
        factor = Fraction(float(row["numerator"]) / float(row["denominator"]))
        assert abs(factor / unit.factor - 1) < Fraction(1, 10**15)
