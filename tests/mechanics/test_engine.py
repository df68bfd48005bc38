"""Displacement, class and leak-down: growth, boundaries, and impossible cylinders."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shearpin.mechanics.engine import (
    LEAK_PATHS,
    compression_ratio,
    displacement_cm3,
    engine_class,
    leak_down_percent,
    leak_down_verdict,
    leak_meaning,
    nominal_displacement_cm3,
)
from shearpin.mechanics.guards import ImpossibleInputError

sizes_mm = st.floats(min_value=10, max_value=200)
volumes = st.floats(min_value=1, max_value=5000)


@given(sizes_mm, sizes_mm, st.integers(min_value=1, max_value=12), st.floats(min_value=1.001, max_value=3))
def test_displacement_grows_with_bore_stroke_and_cylinders(
    bore: float, stroke: float, cylinders: int, more: float
) -> None:
    swept = displacement_cm3(bore, stroke, cylinders)
    assert displacement_cm3(bore * more, stroke, cylinders) > swept
    assert displacement_cm3(bore, stroke * more, cylinders) > swept
    assert displacement_cm3(bore, stroke, cylinders + 1) > swept
    assert swept == pytest.approx(cylinders * displacement_cm3(bore, stroke))


@given(volumes, volumes)
def test_compression_ratio_is_above_one_and_falls_with_clearance(swept: float, clearance: float) -> None:
    ratio = compression_ratio(swept, clearance)
    assert ratio > 1
    assert compression_ratio(swept, 1.01 * clearance) < ratio


@pytest.mark.parametrize(
    ("swept", "name"),
    [(65.49, "I-A"), (65.51, "I-B"), (99.49, "I-B"), (99.51, "I"), (224.49, "I"), (224.51, "II")],
)
def test_the_class_follows_the_rounded_displacement(swept: float, name: str) -> None:
    assert engine_class(swept) == name


@pytest.mark.parametrize(("swept", "nominal"), [(64.5, 64), (65.5, 66), (99.5, 100), (100.5, 100)])
def test_exactly_half_goes_to_the_even_number(swept: float, nominal: int) -> None:
    assert nominal_displacement_cm3(swept) == nominal


@given(volumes, volumes)
def test_a_larger_engine_never_falls_into_a_lower_class(one: float, other: float) -> None:
    for handheld, order in ((False, ("I-A", "I-B", "I", "II")), (True, ("III", "IV", "V"))):
        low, high = sorted((one, other))
        assert order.index(engine_class(low, handheld)) <= order.index(engine_class(high, handheld))


@given(st.floats(min_value=1, max_value=1000), st.floats(min_value=0, max_value=1))
def test_leak_down_is_a_share_in_any_unit(supply: float, share: float) -> None:
    loss = leak_down_percent(supply, share * supply)
    assert 0 <= loss <= 100
    assert leak_down_percent(7 * supply, 7 * (share * supply)) == pytest.approx(loss, abs=1e-9)


@pytest.mark.parametrize(
    ("percent", "verdict"),
    [(0, "good"), (20, "good"), (20.1, "watch"), (40, "watch"), (40.1, "repair"), (100, "repair")],
)
def test_the_shop_bands_have_inclusive_upper_ends(percent: float, verdict: str) -> None:
    assert leak_down_verdict(percent) == verdict


@pytest.mark.parametrize("percent", [-0.1, 100.1, math.nan, math.inf])
def test_a_loss_is_a_percentage(percent: float) -> None:
    with pytest.raises(ImpossibleInputError):
        leak_down_verdict(percent)


def test_a_cylinder_never_holds_more_than_it_is_given() -> None:
    with pytest.raises(ImpossibleInputError, match="cannot hold 90 when 80 is supplied") as caught:
        leak_down_percent(80, 90)
    assert caught.value.argument == "cylinder_pressure"


def test_every_leak_path_has_a_meaning_and_a_source() -> None:
    for path in LEAK_PATHS:
        assert leak_meaning(path.name) is path
        assert path.meaning
        assert path.source
    with pytest.raises(ImpossibleInputError, match="known are exhaust, intake, crankcase, head-joint"):
        leak_meaning("spark plug")


@pytest.mark.parametrize("wrong", [0.0, -1.0, math.nan, math.inf])
def test_impossible_sizes_are_refused(wrong: float) -> None:
    calls: tuple[Callable[[], object], ...] = (
        lambda: displacement_cm3(wrong, 54),
        lambda: displacement_cm3(68, wrong),
        lambda: compression_ratio(wrong, 25),
        lambda: compression_ratio(200, wrong),
        lambda: engine_class(wrong),
        lambda: leak_down_percent(wrong, 0),
    )
    for call in calls:
        with pytest.raises(ImpossibleInputError):
            call()
    with pytest.raises(ImpossibleInputError):
        displacement_cm3(68, 54, 0)
    with pytest.raises(ImpossibleInputError):
        leak_down_percent(80, -1)
