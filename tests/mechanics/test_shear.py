"""Shear bolts: force and torque grow as they should, and a stronger grade shows."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shearpin.mechanics.guards import ImpossibleInputError
from shearpin.mechanics.shear import (
    ULTIMATE_SHEAR_RATIO,
    YIELD_SHEAR_RATIO,
    ShearState,
    grade_swap_ratio,
    release_torque_nm,
    shank_area_mm2,
    shear_force_n,
    shear_state,
    shear_stress_mpa,
)
from shearpin.mechanics.threads import minor_area_mm2, parse_thread

strengths = st.floats(min_value=100, max_value=2000)
sizes = st.floats(min_value=1, max_value=100)


@given(strengths, sizes, sizes)
def test_two_planes_hold_twice_as_much_as_one(
    tensile_mpa: float, diameter_mm: float, shaft_mm: float
) -> None:
    force = shear_force_n(tensile_mpa, shank_area_mm2(diameter_mm))
    assert release_torque_nm(force, shaft_mm, 2) == pytest.approx(2 * release_torque_nm(force, shaft_mm, 1))


@given(strengths, strengths, sizes, sizes)
def test_the_swap_ratio_is_the_ratio_of_release_torques(
    fitted: float, specified: float, diameter_mm: float, shaft_mm: float
) -> None:
    area = shank_area_mm2(diameter_mm)
    torques = [release_torque_nm(shear_force_n(grade, area), shaft_mm, 2) for grade in (fitted, specified)]
    assert grade_swap_ratio(fitted, specified) == pytest.approx(torques[0] / torques[1])


def test_the_thread_shears_before_the_shank() -> None:
    thread = parse_thread("1/4-20")
    root = minor_area_mm2(thread.diameter_mm, thread.pitch_mm, thread.system)
    assert root / shank_area_mm2(thread.diameter_mm) == pytest.approx(1 - 0.45, abs=0.005)


@given(strengths, sizes)
def test_the_energy_ratio_gives_the_lower_force(tensile_mpa: float, area_mm2: float) -> None:
    assert YIELD_SHEAR_RATIO < ULTIMATE_SHEAR_RATIO
    low = shear_force_n(tensile_mpa, area_mm2, YIELD_SHEAR_RATIO)
    assert low < shear_force_n(tensile_mpa, area_mm2)


@given(strengths, st.floats(min_value=0.01, max_value=2))
def test_the_screening_band_has_three_parts(tensile_mpa: float, share: float) -> None:
    state = shear_state(share * tensile_mpa, tensile_mpa)
    if share < 0.4999:
        assert state is ShearState.HOLDS
    elif 0.5001 < share < 0.5999:
        assert state is ShearState.MAY_SHEAR
    elif share > 0.6001:
        assert state is ShearState.SHEARS


@pytest.mark.parametrize("planes", [0, 3, -2])
def test_a_bolt_has_one_or_two_planes(planes: int) -> None:
    for function in (release_torque_nm, shear_stress_mpa):
        with pytest.raises(ImpossibleInputError, match="one or two shear planes") as caught:
            function(1000, 20, planes)
        assert caught.value.argument == "planes"


@pytest.mark.parametrize("wrong", [0.0, -1.0, math.nan, math.inf])
def test_impossible_sizes_are_refused(wrong: float) -> None:
    calls: tuple[Callable[[], object], ...] = (
        lambda: shank_area_mm2(wrong),
        lambda: shear_force_n(wrong, 20),
        lambda: shear_force_n(400, wrong),
        lambda: shear_force_n(400, 20, wrong if wrong != 0 else 0.05),
        lambda: release_torque_nm(wrong, 20, 2),
        lambda: release_torque_nm(1000, wrong, 2),
        lambda: shear_stress_mpa(wrong, 20, 1),
        lambda: shear_stress_mpa(1000, wrong, 1),
        lambda: shear_state(wrong, 400),
        lambda: shear_state(200, wrong),
        lambda: grade_swap_ratio(wrong, 400),
        lambda: grade_swap_ratio(400, wrong),
    )
    for call in calls:
        with pytest.raises(ImpossibleInputError):
            call()
