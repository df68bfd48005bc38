"""A wrench with an adapter: below, at and beyond a right angle, and what cannot be."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shearpin.mechanics.guards import ImpossibleInputError
from shearpin.mechanics.wrench import effective_lever_mm, torque_at_fastener_nm, wrench_setting_nm

torques_nm = st.floats(min_value=0.1, max_value=1000)
levers_mm = st.floats(min_value=50, max_value=1000)
adapters_mm = st.floats(min_value=1, max_value=49)
angles_deg = st.floats(min_value=-720, max_value=720)


@given(torques_nm, levers_mm, adapters_mm, st.floats(min_value=0, max_value=89.9))
def test_setting_is_below_the_torque_under_a_right_angle(
    torque_nm: float, lever_mm: float, adapter_mm: float, angle_deg: float
) -> None:
    assert wrench_setting_nm(torque_nm, lever_mm, adapter_mm, angle_deg) < torque_nm


@given(torques_nm, levers_mm, adapters_mm, st.sampled_from([90.0, -90.0, 270.0, 450.0]))
def test_setting_equals_the_torque_at_a_right_angle(
    torque_nm: float, lever_mm: float, adapter_mm: float, angle_deg: float
) -> None:
    assert effective_lever_mm(lever_mm, adapter_mm, angle_deg) == lever_mm
    assert wrench_setting_nm(torque_nm, lever_mm, adapter_mm, angle_deg) == pytest.approx(
        torque_nm, rel=1e-15
    )


@given(torques_nm, levers_mm, adapters_mm, st.floats(min_value=90.1, max_value=180))
def test_setting_is_above_the_torque_beyond_a_right_angle(
    torque_nm: float, lever_mm: float, adapter_mm: float, angle_deg: float
) -> None:
    assert wrench_setting_nm(torque_nm, lever_mm, adapter_mm, angle_deg) > torque_nm


@given(torques_nm, levers_mm, adapters_mm, angles_deg)
def test_setting_is_even_in_the_angle(
    torque_nm: float, lever_mm: float, adapter_mm: float, angle_deg: float
) -> None:
    one = wrench_setting_nm(torque_nm, lever_mm, adapter_mm, angle_deg)
    assert wrench_setting_nm(torque_nm, lever_mm, adapter_mm, -angle_deg) == one


@given(torques_nm, levers_mm, adapters_mm, angles_deg)
def test_the_fastener_gets_what_the_setting_was_made_for(
    torque_nm: float, lever_mm: float, adapter_mm: float, angle_deg: float
) -> None:
    setting = wrench_setting_nm(torque_nm, lever_mm, adapter_mm, angle_deg)
    back = torque_at_fastener_nm(setting, lever_mm, adapter_mm, angle_deg)
    assert back == pytest.approx(torque_nm, rel=1e-12)


@given(torques_nm, levers_mm, adapters_mm, angles_deg, st.floats(min_value=0.01, max_value=100))
def test_lengths_may_be_in_any_one_unit(
    torque_nm: float, lever_mm: float, adapter_mm: float, angle_deg: float, scale: float
) -> None:
    scaled = wrench_setting_nm(torque_nm, lever_mm * scale, adapter_mm * scale, angle_deg)
    assert scaled == pytest.approx(wrench_setting_nm(torque_nm, lever_mm, adapter_mm, angle_deg), rel=1e-9)


@given(levers_mm, st.floats(min_value=2.1, max_value=10), st.floats(min_value=120.5, max_value=239.5))
def test_a_lever_of_nothing_or_less_is_refused(lever_mm: float, factor: float, angle_deg: float) -> None:
    # Beyond 120° the cosine is below -1/2, so twice the lever reaches past the hand.
    adapter_mm = factor * lever_mm
    with pytest.raises(ImpossibleInputError, match="folded back past the hand"):
        wrench_setting_nm(24, lever_mm, adapter_mm, angle_deg)


def test_an_adapter_folded_back_to_the_hand_is_refused() -> None:
    with pytest.raises(ImpossibleInputError) as caught:
        torque_at_fastener_nm(24, 100, 100, 180)
    assert caught.value.argument == "adapter_mm"


@pytest.mark.parametrize("wrong", [0.0, -1.0, math.nan, math.inf])
def test_impossible_sizes_are_refused(wrong: float) -> None:
    for arguments in ((wrong, 300, 50, 0), (24, wrong, 50, 0), (24, 300, wrong, 0)):
        with pytest.raises(ImpossibleInputError):
            wrench_setting_nm(*arguments)
        with pytest.raises(ImpossibleInputError):
            torque_at_fastener_nm(*arguments)
    with pytest.raises(ImpossibleInputError):
        wrench_setting_nm(24, 300, 50, math.nan)
