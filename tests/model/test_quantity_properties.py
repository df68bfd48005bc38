"""What holds for every quantity: it reads back, it converts inward, and any other text is refused."""

from __future__ import annotations

import itertools
import re
from fractions import Fraction
from unittest.mock import patch

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from shearpin.model import quantity_number
from shearpin.model.quantity import Quantity, QuantityError, QuantityKind, convert, dual_text, parse_quantity
from shearpin.model.quantity_parse import read_quantity
from shearpin.model.quantity_value import TEXT_KINDS
from shearpin.model.units import UNITS, Unit, unit_named, units_of

NUMERIC_KINDS = [kind for kind in QuantityKind if kind not in TEXT_KINDS]
CONVERTIBLE_KINDS = [kind for kind in NUMERIC_KINDS if len(units_of(kind)) > 1]
SIGNED_KINDS = {
    QuantityKind.TEMPERATURE,
    QuantityKind.TEMPERATURE_DIFFERENCE,
    QuantityKind.LENGTH,
    QuantityKind.VOLTAGE,
}
SPELT_PIECES = """24|0.75|1 1/4|3/8|½|1,000|1 000|1e9|.|,|-|–|−|±|+-|≤|<|max. |min| to |%| N·m| lb|ft-lb| in|"|'| mm
 °C| h | min|:1|:|(|)|/|·| |\t|\u202f|\u200b|inf|nan|SAE |W-|^2|\u2126|\ud800|٣|x"""
PIECES = SPELT_PIECES.split("|")
BOUNDED = settings(deadline=None, max_examples=30, suppress_health_check=[HealthCheck.too_slow])


@st.composite
def numbers(draw: st.DrawFn, low: int = 0) -> tuple[Fraction, str]:
    """Draw a number as a value and as a writer types it."""
    decimals = draw(st.integers(0, 4))
    scaled = draw(st.integers(low, 99_999))
    sign, digits = "-" if scaled < 0 else "", str(abs(scaled)).rjust(decimals + 1, "0")
    text = f"{sign}{digits[:-decimals]}.{digits[-decimals:]}" if decimals else f"{sign}{digits}"
    return Fraction(scaled, 10**decimals), text


@st.composite
def measures(draw: st.DrawFn, low: int = 0) -> tuple[str, Fraction | None, Fraction | None]:
    """Draw the part before the unit, with the bounds it stands for."""
    (first, first_text), (second, second_text) = draw(numbers(low)), draw(numbers(low))
    shape = draw(st.sampled_from(["exact", "range", "most", "least", "tolerance"]))
    if shape == "exact":
        return first_text, first, first
    if shape == "most":
        return f"≤ {first_text}", None, first
    if shape == "least":
        return f"≥ {first_text}", first, None
    if shape == "tolerance":
        assume(0 < second <= abs(first))
        return f"{first_text} ± {second_text}", first - second, first + second
    assume(first < second)
    return f"{first_text} to {second_text}", first, second


def written(measure: str, unit: Unit) -> str:
    return f"{measure}:1" if unit.symbol == ":1" else f"{measure} {unit.symbol}".strip()


def read_or_refuse(text: str, kind: QuantityKind | None) -> Quantity | QuantityError:
    try:
        return parse_quantity(text, kind)
    except QuantityError as error:
        return error


def read_or_skip(measure: str, unit: Unit) -> Quantity | None:
    """Read it; None for what the kind rules out (a broken count, below absolute zero, over 100 %)."""
    outcome = read_or_refuse(written(measure, unit), unit.kind)
    if isinstance(outcome, Quantity):
        return outcome
    assert re.search("whole number|absolute zero|never above 100", str(outcome)), outcome
    return None


@pytest.mark.parametrize("kind", NUMERIC_KINDS)
def test_what_is_printed_reads_back_as_the_same(kind: QuantityKind) -> None:
    @BOUNDED
    @given(measures(-99_999 if kind in SIGNED_KINDS else 0), st.sampled_from(units_of(kind)))
    def holds(measure: tuple[str, Fraction | None, Fraction | None], unit: Unit) -> None:
        quantity = read_or_skip(measure[0], unit)
        if quantity is not None:
            assert (quantity.low, quantity.high, quantity.unit) == (measure[1], measure[2], unit.symbol)
            assert parse_quantity(str(quantity), kind) == quantity

    holds()


def printed_bounds(text: str, unit: Unit) -> tuple[Fraction | None, Fraction | None]:
    """Return the bounds that the characters say, in the base unit, without the reader under test."""
    found = [Fraction(n.replace("−", "-")) for n in re.findall(r"−?\d+(?:\.\d+)?", text.removesuffix(":1"))][
        :2
    ]
    bounds = [unit.to_base(number) for number in found[: 2 if re.search(r"–|\bto\b", text) else 1]]
    if text.startswith("≤"):
        return None, bounds[0]
    if text.startswith("≥"):
        return bounds[0], None
    return bounds[0], bounds[-1]


@pytest.mark.parametrize("kind", CONVERTIBLE_KINDS)
def test_no_conversion_between_any_two_units_allows_what_the_source_forbids(kind: QuantityKind) -> None:
    @BOUNDED
    @given(measures(-99_999 if kind in SIGNED_KINDS else 0))
    def holds(measure: tuple[str, Fraction | None, Fraction | None]) -> None:
        for source, target in itertools.permutations(units_of(kind), 2):
            quantity = read_or_skip(measure[0], source)
            if quantity is None:
                continue
            text = str(convert(quantity, target.symbol))
            low, high = printed_bounds(text.removesuffix(target.symbol), target)
            if quantity.low is not None and quantity.low == quantity.high:
                exact = source.to_base(quantity.low)
                assert low == high
                if kind is not QuantityKind.TEMPERATURE:
                    assert low is not None
                    assert abs(low - exact) <= abs(exact) / 50, (text, quantity)
            else:
                exact_low = None if quantity.low is None else source.to_base(quantity.low)
                exact_high = None if quantity.high is None else source.to_base(quantity.high)
                assert (low is None) is (exact_low is None)
                assert (high is None) is (exact_high is None)
                assert exact_low is None or (low is not None and low >= exact_low), (text, quantity)
                assert exact_high is None or (high is not None and high <= exact_high), (text, quantity)
                if low is not None and high is not None:
                    assert low < high, (text, quantity)

    holds()


@pytest.mark.parametrize("kind", CONVERTIBLE_KINDS)
def test_there_and_back_again_stays_inside_and_open(kind: QuantityKind) -> None:
    @BOUNDED
    @given(measures(), st.permutations(units_of(kind)))
    def holds(measure: tuple[str, Fraction | None, Fraction | None], units: list[Unit]) -> None:
        source, target = units[:2]
        quantity = read_or_skip(measure[0], source)
        if quantity is None or quantity.low == quantity.high:
            return
        back = convert(convert(quantity, target.symbol), source.symbol)
        assert quantity.contains(convert(quantity, target.symbol))
        assert quantity.contains(back)
        assert back.low is None or back.high is None or back.low < back.high

    holds()


@BOUNDED
@given(st.sampled_from([unit for unit in UNITS if unit.symbol]), numbers())
def test_exact_conversion_there_and_back_is_the_identity(unit: Unit, number: tuple[Fraction, str]) -> None:
    for other in units_of(unit.kind):
        assert unit.from_base(other.to_base(other.from_base(unit.to_base(number[0])))) == number[0]


@BOUNDED
@given(measures(), st.sampled_from(UNITS))
def test_the_converted_half_reads_back_too(
    measure: tuple[str, Fraction | None, Fraction | None], unit: Unit
) -> None:
    quantity = read_or_skip(measure[0], unit)
    if quantity is not None:
        source, _, rest = dual_text(quantity).partition(" (")
        assert parse_quantity(source, quantity.kind) == quantity
        if rest:
            assert parse_quantity(rest.removesuffix(")"), quantity.kind).kind is quantity.kind


@pytest.mark.parametrize("kind", [None, *QuantityKind])
def test_any_text_is_a_quantity_or_an_error_at_a_place_in_it(kind: QuantityKind | None) -> None:
    @settings(BOUNDED, max_examples=60)
    @given(st.one_of(st.text(max_size=30), st.lists(st.sampled_from(PIECES), max_size=7).map("".join)))
    def holds(text: str) -> None:
        outcome = read_or_refuse(text, kind)
        if isinstance(outcome, QuantityError):
            assert 0 <= outcome.offset <= len(text)
            assert outcome.message
            assert outcome.message.isprintable()
            assert outcome.hint
        else:
            assert kind is None or outcome.kind is kind
            assert parse_quantity(str(outcome), outcome.kind) == outcome
            assert dual_text(outcome).startswith(str(outcome))
            if outcome.kind not in TEXT_KINDS:
                assert unit_named(outcome.kind, outcome.unit)

    holds()


@BOUNDED
@given(
    st.lists(
        st.sampled_from(["2", "0", "3.5", "1/4", " ", "-", ".", ",", "e", "½", " 000", " mm"]), max_size=6
    ).map("".join)
)
def test_the_short_way_for_plain_numbers_reads_as_the_long_one(text: str) -> None:
    def outcome() -> object:
        try:
            return read_quantity(text, None)
        except QuantityError as error:
            return error.message, error.offset, error.hint

    short = outcome()
    with patch.object(quantity_number, "_SIMPLE", re.compile("(?!)")):
        assert outcome() == short
