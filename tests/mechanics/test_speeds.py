"""Speeds through drives: order, sign, conservation of power, and what cannot turn."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shearpin.mechanics.guards import ImpossibleInputError
from shearpin.mechanics.speeds import (
    GearMesh,
    PulleyPair,
    clutch_torque_nm,
    driven_speed_rpm,
    friction_disc_rpm,
    gear_train,
    power_w,
    shaft_torque_nm,
    teeth_ratio,
    throw_range_m,
    worm_ratio,
)

sizes = st.floats(min_value=1, max_value=1000)
speeds = st.floats(min_value=1, max_value=10_000)
slips = st.floats(min_value=0, max_value=0.5)
teeth = st.integers(min_value=1, max_value=200)
pairs = st.builds(PulleyPair, sizes, sizes, slips)


@given(speeds, st.lists(pairs, min_size=1, max_size=4))
def test_belts_in_a_row_multiply(speed: float, drive: list[PulleyPair]) -> None:
    one_by_one = speed
    for pair in drive:
        one_by_one = driven_speed_rpm(one_by_one, (pair,))
    assert driven_speed_rpm(speed, drive) == pytest.approx(one_by_one, rel=1e-12)


@given(speeds, sizes, sizes, st.floats(min_value=0.001, max_value=0.5))
def test_slip_slows_by_its_share(speed: float, driver: float, driven: float, slip: float) -> None:
    firm = driven_speed_rpm(speed, (PulleyPair(driver, driven),))
    assert driven_speed_rpm(speed, (PulleyPair(driver, driven, slip),)) == pytest.approx(firm * (1 - slip))


@pytest.mark.parametrize("slip", [-0.01, 0.51, 2, math.nan])
def test_impossible_slip_is_refused(slip: float) -> None:
    with pytest.raises(ImpossibleInputError, match="a belt slips 0 to 50 %") as caught:
        driven_speed_rpm(1000, (PulleyPair(100, 100, slip),))
    assert caught.value.argument == "slip"


def test_a_drive_needs_a_belt_and_a_train_needs_gears() -> None:
    with pytest.raises(ImpossibleInputError):
        driven_speed_rpm(1000, ())
    with pytest.raises(ImpossibleInputError):
        gear_train(1000, 10, ())


@given(
    speeds,
    st.floats(min_value=0.1, max_value=100),
    st.lists(st.builds(GearMesh, teeth, teeth), min_size=1, max_size=4),
)
def test_gears_conserve_power_and_turn_round_at_every_mesh(
    speed: float, torque: float, meshes: list[GearMesh]
) -> None:
    out = gear_train(speed, torque, meshes)
    assert abs(out.speed_rpm) * out.torque_nm == pytest.approx(speed * torque)
    assert (out.speed_rpm < 0) == (len(meshes) % 2 == 1)


def test_an_idler_gear_changes_direction_only() -> None:
    straight = gear_train(1000, 10, (GearMesh(20, 40),))
    idler = gear_train(1000, 10, (GearMesh(20, 33), GearMesh(33, 40)))
    assert idler.speed_rpm == pytest.approx(-straight.speed_rpm)
    assert idler.torque_nm == pytest.approx(straight.torque_nm)


@pytest.mark.parametrize(("first", "second"), [(0, 10), (10, 0), (-3, 10), (10, -3)])
def test_gears_without_teeth_are_refused(first: int, second: int) -> None:
    with pytest.raises(ImpossibleInputError):
        teeth_ratio(first, second)
    with pytest.raises(ImpossibleInputError):
        worm_ratio(second, first)


def test_a_worm_has_no_more_starts_than_its_wheel_teeth() -> None:
    with pytest.raises(ImpossibleInputError, match="more starts"):
        worm_ratio(4, 5)


@given(speeds, st.floats(min_value=-500, max_value=500), sizes)
def test_the_friction_disc_reverses_across_the_centre(plate: float, position: float, radius: float) -> None:
    speed = friction_disc_rpm(plate, position, radius)
    assert friction_disc_rpm(plate, -position, radius) == -speed
    assert friction_disc_rpm(plate, 0, radius) == 0
    # The rim of the wheel and the plate under it move at one speed.
    assert speed * radius == pytest.approx(plate * position, abs=1e-9)


@given(st.floats(min_value=0.1, max_value=1), st.floats(min_value=10, max_value=1000), sizes)
def test_more_faces_carry_more(friction: float, clamp: float, inner: float) -> None:
    one = clutch_torque_nm(friction, clamp, 2 * inner, inner)
    assert clutch_torque_nm(friction, clamp, 2 * inner, inner, 3) == pytest.approx(3 * one)


@pytest.mark.parametrize(("outer", "inner"), [(50, 50), (50, 60), (0, 10), (50, 0), (50, -1), (math.nan, 10)])
def test_impossible_linings_are_refused(outer: float, inner: float) -> None:
    with pytest.raises(ImpossibleInputError):
        clutch_torque_nm(0.3, 500, outer, inner)


@given(st.floats(min_value=0.1, max_value=1000), speeds)
def test_torque_comes_back_from_power(torque: float, speed: float) -> None:
    assert shaft_torque_nm(power_w(torque, speed), speed) == pytest.approx(torque)


@given(st.floats(min_value=0.1, max_value=100), st.floats(min_value=0, max_value=90))
def test_no_angle_throws_farther_than_45_degrees(speed: float, angle: float) -> None:
    best = throw_range_m(speed)
    assert throw_range_m(speed, angle) <= best * (1 + 1e-12)
    assert throw_range_m(2 * speed, angle) == pytest.approx(4 * throw_range_m(speed, angle), abs=1e-9)


@pytest.mark.parametrize("wrong", [0.0, -1.0, math.nan, math.inf])
def test_impossible_speeds_are_refused(wrong: float) -> None:
    calls: tuple[Callable[[], object], ...] = (
        lambda: driven_speed_rpm(wrong, (PulleyPair(100, 100),)),
        lambda: driven_speed_rpm(1000, (PulleyPair(wrong, 100),)),
        lambda: driven_speed_rpm(1000, (PulleyPair(100, wrong),)),
        lambda: gear_train(wrong, 10, (GearMesh(10, 20),)),
        lambda: gear_train(1000, wrong, (GearMesh(10, 20),)),
        lambda: friction_disc_rpm(wrong, 10, 50),
        lambda: friction_disc_rpm(1000, 10, wrong),
        lambda: power_w(wrong, 1000),
        lambda: power_w(10, wrong),
        lambda: shaft_torque_nm(wrong, 1000),
        lambda: shaft_torque_nm(1000, wrong),
        lambda: throw_range_m(wrong),
        lambda: clutch_torque_nm(0.3, wrong, 60, 40),
    )
    for call in calls:
        with pytest.raises(ImpossibleInputError):
            call()
    with pytest.raises(ImpossibleInputError):
        friction_disc_rpm(1000, math.nan, 50)
    with pytest.raises(ImpossibleInputError):
        throw_range_m(10, 91)


def test_each_start_of_a_worm_moves_the_wheel_on_by_a_tooth() -> None:
    assert worm_ratio(40, 2) == 20.0  # by counting teeth
