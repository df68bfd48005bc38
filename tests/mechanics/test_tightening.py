"""Torque grows with everything it should; preload comes back; every published K keeps its source."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from shearpin.mechanics.guards import ImpossibleInputError
from shearpin.mechanics.tightening import (
    NUT_FACTORS,
    STAGED_ABOVE_NM,
    TORQUE_REDUCTIONS,
    helix_angle_deg,
    long_nut_factor,
    preload_from_torque_n,
    preload_range_n,
    reduced_torque_nm,
    target_preload_n,
    tightening_passes_nm,
    torque_for_preload_nm,
    turn_of_nut_deg,
    with_prevailing_torque_nm,
)

factors = st.floats(min_value=0.05, max_value=0.5)
diameters_mm = st.floats(min_value=1, max_value=50)
loads_n = st.floats(min_value=1, max_value=1e6)
torques_nm = st.floats(min_value=0.01, max_value=1000)
NOT_SIZES = (0.0, -1.0, math.nan, math.inf, -math.inf)


@given(factors, diameters_mm, loads_n, st.floats(min_value=1.001, max_value=10))
def test_torque_grows_with_diameter_preload_and_nut_factor(
    nut_factor: float, diameter_mm: float, preload_n: float, more: float
) -> None:
    torque = torque_for_preload_nm(nut_factor, diameter_mm, preload_n)
    assert torque_for_preload_nm(nut_factor, diameter_mm * more, preload_n) > torque
    assert torque_for_preload_nm(nut_factor, diameter_mm, preload_n * more) > torque
    assert torque_for_preload_nm(min(nut_factor * more, 0.99), diameter_mm, preload_n) > torque


@given(factors, diameters_mm, loads_n)
def test_preload_comes_back_from_its_torque(nut_factor: float, diameter_mm: float, preload_n: float) -> None:
    torque = torque_for_preload_nm(nut_factor, diameter_mm, preload_n)
    assert preload_from_torque_n(nut_factor, diameter_mm, torque) == pytest.approx(preload_n, rel=1e-12)


@given(
    factors,
    diameters_mm,
    torques_nm,
    st.floats(min_value=0, max_value=0.9),
    st.floats(min_value=0, max_value=0.9),
)
def test_scatter_encloses_the_nominal_preload(
    nut_factor: float, diameter_mm: float, torque_nm: float, tolerance: float, scatter: float
) -> None:
    preload = preload_range_n(nut_factor, diameter_mm, torque_nm, tolerance * torque_nm, scatter)
    slack = 1 + 1e-12
    assert 0 < preload.lowest_n <= preload.nominal_n * slack
    assert preload.nominal_n <= preload.highest_n * slack
    if scatter == 0 and tolerance == 0:
        assert preload.lowest_n == preload.nominal_n == preload.highest_n


@pytest.mark.parametrize("wrong", NOT_SIZES)
def test_impossible_torques_are_refused(wrong: float) -> None:
    for arguments in ((wrong, 6, 9000), (0.2, wrong, 9000), (0.2, 6, wrong)):
        with pytest.raises(ImpossibleInputError):
            torque_for_preload_nm(*arguments)
        with pytest.raises(ImpossibleInputError):
            preload_from_torque_n(*arguments)
    with pytest.raises(ImpossibleInputError):
        tightening_passes_nm(wrong)
    with pytest.raises(ImpossibleInputError):
        with_prevailing_torque_nm(wrong, 1)
    with pytest.raises(ImpossibleInputError):
        reduced_torque_nm(wrong, 0.1)
    for at in range(5):
        sizes = [9000.0, 20.1, 30.0, 206_000.0, 1.0]
        sizes[at] = wrong
        with pytest.raises(ImpossibleInputError):
            turn_of_nut_deg(*sizes)


def test_a_nut_factor_typed_in_percent_is_refused() -> None:
    with pytest.raises(ImpossibleInputError, match=r"about 0\.2, not 20") as caught:
        torque_for_preload_nm(20, 6, 9000)
    assert caught.value.argument == "nut_factor"


def test_a_tolerance_as_large_as_the_torque_is_refused() -> None:
    with pytest.raises(ImpossibleInputError, match="smaller than the torque"):
        preload_range_n(0.2, 6, 10, 10, 0.35)
    with pytest.raises(ImpossibleInputError):
        preload_range_n(0.2, 6, 10, -1, 0.35)
    with pytest.raises(ImpossibleInputError):
        preload_range_n(0.2, 6, 10, 1, 1.0)


@pytest.mark.parametrize("share", [0, -0.5, 1.01, 75, math.nan])
def test_a_preload_is_a_share_of_the_proof_load(share: float) -> None:
    with pytest.raises(ImpossibleInputError) as caught:
        target_preload_n(10_000, share)
    assert caught.value.argument == "share"


def test_every_nut_factor_has_its_own_name_and_a_source() -> None:
    assert len({factor.name for factor in NUT_FACTORS}) == len(NUT_FACTORS)
    assert all(factor.source and 0 < factor.value < 1 for factor in NUT_FACTORS)


def test_there_is_no_single_zinc_constant() -> None:
    zinc = {factor.value for factor in NUT_FACTORS if "zinc" in factor.condition}
    assert len(zinc) > 1


def test_every_reduction_has_a_source() -> None:
    assert all(item.source and 0 < item.share < 1 for item in TORQUE_REDUCTIONS)


@given(torques_nm)
def test_passes_rise_to_the_final_torque(torque_nm: float) -> None:
    passes = tightening_passes_nm(torque_nm)
    assert passes[-1] == torque_nm
    assert list(passes) == sorted(passes)
    assert (len(passes) == 2) == (torque_nm > STAGED_ABOVE_NM)


@given(torques_nm, st.floats(min_value=0, max_value=20))
def test_prevailing_torque_is_added(torque_nm: float, prevailing_nm: float) -> None:
    assert with_prevailing_torque_nm(torque_nm, prevailing_nm) == torque_nm + prevailing_nm
    with pytest.raises(ImpossibleInputError):
        with_prevailing_torque_nm(torque_nm, -0.1)


@given(loads_n, st.floats(min_value=1, max_value=500), st.floats(min_value=1, max_value=500))
def test_angle_grows_with_preload_and_grip(preload_n: float, area_mm2: float, grip_mm: float) -> None:
    angle = turn_of_nut_deg(preload_n, area_mm2, grip_mm, 206_000, 1.25)
    assert turn_of_nut_deg(2 * preload_n, area_mm2, grip_mm, 206_000, 1.25) == pytest.approx(2 * angle)
    assert turn_of_nut_deg(preload_n, area_mm2, 2 * grip_mm, 206_000, 1.25) == pytest.approx(2 * angle)


@given(st.floats(min_value=0, max_value=0.45), st.floats(min_value=0, max_value=0.45))
def test_long_form_grows_with_friction(thread_friction: float, collar_friction: float) -> None:
    factor = long_nut_factor(8, 7.2, 1.25, thread_friction, collar_friction)
    assert long_nut_factor(8, 7.2, 1.25, thread_friction + 0.01, collar_friction) > factor
    assert long_nut_factor(8, 7.2, 1.25, thread_friction, collar_friction + 0.01) > factor


def test_without_friction_only_the_helix_is_left() -> None:
    rise = math.tan(math.radians(helix_angle_deg(1.25, 7.2)))
    assert long_nut_factor(8, 7.2, 1.25, 0, 0) == pytest.approx(7.2 / 16 * rise)


@given(diameters_mm, st.floats(min_value=0.01, max_value=0.3))
def test_helix_angle_rises_with_the_pitch(mean_diameter_mm: float, share: float) -> None:
    assume(share * mean_diameter_mm > 1e-3)
    angle = helix_angle_deg(share * mean_diameter_mm, mean_diameter_mm)
    assert 0 < angle < helix_angle_deg(1.1 * share * mean_diameter_mm, mean_diameter_mm) < 90


@pytest.mark.parametrize(
    "arguments",
    [(8, 9, 1.25, 0.15, 0.15), (8, 7.2, 5, 0.15, 0.15), (8, 7.2, 1.25, -0.1, 0.15), (8, 7.2, 1.25, 0.1, 0.6)],
)
def test_impossible_friction_shapes_are_refused(arguments: tuple[float, float, float, float, float]) -> None:
    with pytest.raises(ImpossibleInputError):
        long_nut_factor(*arguments)


@pytest.mark.parametrize("nut_factor", [0.0, 1.0, 20.0])
def test_a_nut_factor_lies_between_0_and_1(nut_factor: float) -> None:
    with pytest.raises(ImpossibleInputError):
        torque_for_preload_nm(nut_factor, 8, 1000)


@pytest.mark.parametrize("share", [-0.01, 0.91, 1.5])
def test_a_reduction_leaves_some_torque(share: float) -> None:
    with pytest.raises(ImpossibleInputError):
        reduced_torque_nm(20.0, share)
