"""Resistance both ways, Ohm's law, generators in pairs of poles, charge that clamps."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shearpin.mechanics.electrics import (
    REST_VOLTAGE_V,
    coefficient_at,
    current_a,
    generator_frequency_hz,
    generator_speed_rpm,
    heat_w,
    load_current_a,
    resistance_at_ohm,
    resistance_by_intercept_ohm,
    state_of_charge,
    winding_temperature_c,
)
from shearpin.mechanics.guards import ImpossibleInputError

ohms = st.floats(min_value=0.01, max_value=1e5)
temperatures_c = st.floats(min_value=-50, max_value=200)
voltages = st.floats(min_value=0, max_value=20)


@given(ohms, temperatures_c, temperatures_c)
def test_both_methods_agree_within_a_thousandth(resistance: float, start: float, end: float) -> None:
    one = resistance_at_ohm(resistance, start, end)
    assert resistance_by_intercept_ohm(resistance, start, end) == pytest.approx(one, rel=0.001)


@given(ohms, temperatures_c, temperatures_c)
def test_copper_resists_more_when_hot(resistance: float, start: float, end: float) -> None:
    value = resistance_at_ohm(resistance, start, end)
    assert (value > resistance) == (end > start) or value == pytest.approx(resistance)


@given(ohms, temperatures_c, temperatures_c)
def test_resistance_goes_there_and_back(resistance: float, start: float, end: float) -> None:
    there = resistance_at_ohm(resistance, start, end)
    assert resistance_at_ohm(there, end, start) == pytest.approx(resistance, rel=1e-12)
    assert winding_temperature_c(resistance, start, there) == pytest.approx(end, abs=1e-6)


@given(st.floats(min_value=0.001, max_value=0.006), temperatures_c, temperatures_c, temperatures_c)
def test_a_coefficient_may_be_referred_to_any_temperature(
    coefficient: float, at: float, start: float, end: float
) -> None:
    if 1 + coefficient * (min(start, end) - at) < 0.05:
        return
    moved = coefficient_at(coefficient, at, start)
    direct = resistance_at_ohm(100, start, end, coefficient, at)
    if 1e-4 <= moved <= 0.02:
        assert resistance_at_ohm(100, start, end, moved, start) == pytest.approx(direct, rel=1e-9)


@pytest.mark.parametrize(
    ("start", "end", "argument"), [(-235, 20, "from_c"), (20, -235, "to_c"), (20, -300, "to_c")]
)
def test_temperatures_without_resistance_are_refused(start: float, end: float, argument: str) -> None:
    for function in (resistance_at_ohm, resistance_by_intercept_ohm):
        with pytest.raises(ImpossibleInputError) as caught:
            function(10, start, end)
        assert caught.value.argument == argument


def test_a_winding_colder_than_its_straight_line_is_refused() -> None:
    with pytest.raises(ImpossibleInputError) as caught:
        winding_temperature_c(3, -240, 4)
    assert caught.value.argument == "cold_temperature_c"
    with pytest.raises(ImpossibleInputError):
        coefficient_at(0.00393, 20, -240)
    with pytest.raises(ImpossibleInputError):
        coefficient_at(0, 20, 0)


@given(st.floats(min_value=0.1, max_value=250), ohms)
def test_current_and_power_obey_ohm(voltage: float, resistance: float) -> None:
    current = current_a(voltage, resistance)
    assert current * resistance == pytest.approx(voltage)
    assert heat_w(voltage, resistance) == pytest.approx(current**2 * resistance)
    assert load_current_a(heat_w(voltage, resistance), voltage) == pytest.approx(current)


@given(st.integers(min_value=1, max_value=50), st.floats(min_value=1, max_value=10_000))
def test_speed_comes_back_from_frequency(pairs: int, speed: float) -> None:
    frequency = generator_frequency_hz(2 * pairs, speed)
    assert generator_speed_rpm(2 * pairs, frequency) == pytest.approx(speed)


@pytest.mark.parametrize("poles", [0, 1, 3, -2])
def test_poles_come_in_pairs(poles: int) -> None:
    for function in (generator_frequency_hz, generator_speed_rpm):
        with pytest.raises(ImpossibleInputError) as caught:
            function(poles, 60)
        assert caught.value.argument == "poles"


@given(voltages, voltages)
def test_charge_is_monotone_and_clamped(one: float, other: float) -> None:
    low, high = (state_of_charge(voltage) for voltage in sorted((one, other)))
    assert low.likely_percent <= high.likely_percent
    for band in (low, high):
        assert 0 <= band.lowest_percent <= band.likely_percent <= band.highest_percent <= 100


@pytest.mark.parametrize(("voltage", "percent"), REST_VOLTAGE_V)
def test_charge_meets_every_point_of_the_table(voltage: float, percent: float) -> None:
    assert state_of_charge(voltage).likely_percent == pytest.approx(percent)


@pytest.mark.parametrize("voltage", [-0.1, 20.1, 24, math.nan, math.inf])
def test_what_is_no_12_volt_battery_is_refused(voltage: float) -> None:
    with pytest.raises(ImpossibleInputError):
        state_of_charge(voltage)


@pytest.mark.parametrize("wrong", [0.0, -1.0, math.nan, math.inf])
def test_impossible_sizes_are_refused(wrong: float) -> None:
    calls: tuple[Callable[[], object], ...] = (
        lambda: resistance_at_ohm(wrong, 20, 75),
        lambda: resistance_by_intercept_ohm(wrong, 20, 75),
        lambda: winding_temperature_c(wrong, 20, 4),
        lambda: winding_temperature_c(3, 20, wrong),
        lambda: current_a(wrong, 4),
        lambda: current_a(12, wrong),
        lambda: heat_w(wrong, 4),
        lambda: load_current_a(wrong, 12),
        lambda: load_current_a(36, wrong),
        lambda: generator_frequency_hz(2, wrong),
        lambda: generator_speed_rpm(2, wrong),
    )
    for call in calls:
        with pytest.raises(ImpossibleInputError):
            call()


def test_a_coefficient_that_no_metal_has_is_refused() -> None:
    assert coefficient_at(0.02, 20, 20) == 0.02
    with pytest.raises(ImpossibleInputError):
        coefficient_at(0.021, 20, 20)
