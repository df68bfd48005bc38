"""Mixing and topping up: volumes are exact, the ratio is oil against gasoline, the ceiling holds."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from shearpin.mechanics.fuel import (
    ethanol_after_top_up_percent,
    ethanol_allowed,
    fuel_for_oil_l,
    oil_for_fuel_ml,
    oil_share_of_mix,
    stabiliser_dose_ml,
)
from shearpin.mechanics.guards import ImpossibleInputError

volumes_l = st.floats(min_value=0.01, max_value=100)
ratios = st.floats(min_value=10, max_value=200)
percents = st.floats(min_value=0, max_value=100)


@given(volumes_l, ratios)
def test_fuel_comes_back_from_its_oil(fuel_l: float, ratio: float) -> None:
    assert fuel_for_oil_l(oil_for_fuel_ml(fuel_l, ratio), ratio) == pytest.approx(fuel_l, rel=1e-12)


@given(volumes_l, ratios)
def test_the_ratio_is_against_the_gasoline_and_not_the_mix(fuel_l: float, ratio: float) -> None:
    oil_l = oil_for_fuel_ml(fuel_l, ratio) / 1000
    assert oil_l / (fuel_l + oil_l) == pytest.approx(oil_share_of_mix(ratio))
    assert oil_l / fuel_l == pytest.approx(1 / ratio)


@given(volumes_l, ratios, st.floats(min_value=1.01, max_value=2))
def test_a_leaner_ratio_needs_less_oil(fuel_l: float, ratio: float, more: float) -> None:
    assume(ratio * more <= 200)
    assert oil_for_fuel_ml(fuel_l, ratio * more) < oil_for_fuel_ml(fuel_l, ratio)


@pytest.mark.parametrize("ratio", [0, 1, 9.9, 200.1, -50, math.nan, math.inf])
def test_impossible_ratios_are_refused(ratio: float) -> None:
    calls: tuple[Callable[[], object], ...] = (
        lambda: oil_for_fuel_ml(1, ratio),
        lambda: fuel_for_oil_l(1, ratio),
        lambda: oil_share_of_mix(ratio),
    )
    for call in calls:
        with pytest.raises(ImpossibleInputError) as caught:
            call()
        assert caught.value.argument == "ratio"


@given(volumes_l, st.floats(min_value=0.1, max_value=50), st.floats(min_value=0.6, max_value=50))
def test_stabiliser_follows_its_label(fuel_l: float, dose_ml: float, label_l: float) -> None:
    dose = stabiliser_dose_ml(fuel_l, dose_ml, label_l)
    assert dose / fuel_l == pytest.approx(dose_ml / label_l)
    assert stabiliser_dose_ml(label_l, dose_ml, label_l) == pytest.approx(dose_ml)


def test_a_label_that_drowns_the_fuel_is_refused() -> None:
    with pytest.raises(ImpossibleInputError, match="a tenth of the fuel"):
        stabiliser_dose_ml(4, 150, 1)


@given(volumes_l, percents, volumes_l, percents)
def test_topping_up_conserves_ethanol_and_stays_between(
    tank: float, tank_percent: float, added: float, added_percent: float
) -> None:
    mixed = ethanol_after_top_up_percent(tank, tank_percent, added, added_percent)
    assert mixed * (tank + added) == pytest.approx(tank * tank_percent + added * added_percent, abs=1e-9)
    low, high = sorted((tank_percent, added_percent))
    assert low - 1e-9 <= mixed <= high + 1e-9


@given(volumes_l, percents)
def test_an_empty_tank_takes_on_what_is_poured_in(added: float, percent: float) -> None:
    assert ethanol_after_top_up_percent(0, 50, added, percent) == pytest.approx(percent)
    assert ethanol_after_top_up_percent(added, percent, 0, 50) == pytest.approx(percent)


@given(volumes_l, volumes_l)
def test_e10_on_e10_stays_allowed(tank: float, added: float) -> None:
    assert ethanol_allowed(ethanol_after_top_up_percent(tank, 10.0, added, 10.0))


@given(percents)
def test_the_ceiling_is_ten_per_cent(percent: float) -> None:
    assume(abs(percent - 10) > 1e-5)
    assert ethanol_allowed(percent) == (percent < 10)
    assert ethanol_allowed(percent, flexible_fuel=True)


def test_impossible_fuel_is_refused() -> None:
    calls: tuple[Callable[[], object], ...] = (
        lambda: ethanol_after_top_up_percent(0, 10, 0, 10),
        lambda: ethanol_after_top_up_percent(-1, 10, 2, 10),
        lambda: ethanol_after_top_up_percent(1, -1, 2, 10),
        lambda: ethanol_after_top_up_percent(1, 10, 2, 101),
        lambda: ethanol_after_top_up_percent(1, math.nan, 2, 10),
        lambda: ethanol_allowed(-1),
        lambda: ethanol_allowed(101),
        lambda: oil_for_fuel_ml(0, 50),
        lambda: oil_for_fuel_ml(math.inf, 50),
        lambda: fuel_for_oil_l(-1, 50),
        lambda: stabiliser_dose_ml(0, 1, 1),
    )
    for call in calls:
        with pytest.raises(ImpossibleInputError):
            call()
