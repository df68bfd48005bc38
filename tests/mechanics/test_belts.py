"""Belts: symmetry, bounds, inverse, and pulleys that cannot be."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shearpin.mechanics.belts import (
    approximate_belt_length_mm,
    approximate_centre_distance_mm,
    belt_power_w,
    centre_distance_mm,
    crossed_belt_length_mm,
    crossed_wrap_deg,
    open_belt_length_mm,
    slack_side_n,
    surface_speed_m_s,
    wrap_deg,
)
from shearpin.mechanics.guards import ImpossibleInputError

pulleys_mm = st.floats(min_value=10, max_value=500)
gaps = st.floats(min_value=0, max_value=5)
LENGTHS = (open_belt_length_mm, approximate_belt_length_mm, crossed_belt_length_mm)


def _centres_mm(large_mm: float, small_mm: float, gap: float) -> float:
    """A centre distance from touching pulleys up to six times that."""
    return (large_mm + small_mm) / 2 * (1 + gap)


@given(pulleys_mm, pulleys_mm, gaps)
def test_length_does_not_care_which_pulley_is_named_first(large: float, small: float, gap: float) -> None:
    centre = _centres_mm(large, small, gap)
    for length in LENGTHS:
        assert length(large, small, centre) == pytest.approx(length(small, large, centre), rel=1e-12)


@given(pulleys_mm, pulleys_mm, gaps)
def test_length_is_at_least_both_half_circumferences_and_the_straights(
    large: float, small: float, gap: float
) -> None:
    centre = _centres_mm(large, small, gap)
    lean = math.asin(abs(large - small) / (2 * centre))
    least = math.pi / 2 * (large + small) + 2 * centre * math.cos(lean)
    assert open_belt_length_mm(large, small, centre) >= least * (1 - 1e-12)


@given(pulleys_mm, pulleys_mm, gaps)
def test_approximate_length_is_never_longer_and_close(large: float, small: float, gap: float) -> None:
    centre = _centres_mm(large, small, gap)
    sine = abs(large - small) / (2 * centre)
    short = open_belt_length_mm(large, small, centre) - approximate_belt_length_mm(large, small, centre)
    # asin s lies between s and s + (π/2 - 1)·s³ for s from 0 to 1; integrated, that bounds the difference.
    assert -1e-9 * centre <= short <= 2 * centre * (math.pi / 2 - 1) / 4 * sine**4 + 1e-9 * centre


@given(pulleys_mm, gaps)
def test_equal_pulleys_make_both_lengths_alike(size: float, gap: float) -> None:
    centre = _centres_mm(size, size, gap)
    expected = 2 * centre + math.pi * size
    assert open_belt_length_mm(size, size, centre) == pytest.approx(expected, rel=1e-12)
    assert approximate_belt_length_mm(size, size, centre) == pytest.approx(expected, rel=1e-12)


@given(pulleys_mm, pulleys_mm, gaps)
def test_a_crossed_belt_is_longer_than_an_open_one(large: float, small: float, gap: float) -> None:
    centre = _centres_mm(large, small, gap)
    assert crossed_belt_length_mm(large, small, centre) > open_belt_length_mm(large, small, centre)
    assert 180 < crossed_wrap_deg(large, small, centre) <= 360


@given(pulleys_mm, pulleys_mm, gaps)
def test_both_wraps_make_a_full_turn(large: float, small: float, gap: float) -> None:
    centre = _centres_mm(large, small, gap)
    one, other = wrap_deg(large, small, centre), wrap_deg(small, large, centre)
    assert one + other == pytest.approx(360)
    assert (one > other) == (large > small) or one == pytest.approx(other)


@given(pulleys_mm, pulleys_mm, gaps)
def test_centre_distance_comes_back_from_the_length(large: float, small: float, gap: float) -> None:
    centre = _centres_mm(large, small, gap)
    length = open_belt_length_mm(large, small, centre)
    found = centre_distance_mm(length * (1 + 1e-12), large, small)
    assert found == pytest.approx(centre, rel=1e-6)
    assert open_belt_length_mm(large, small, found) == pytest.approx(length, rel=1e-9)


@given(pulleys_mm, pulleys_mm, st.floats(min_value=1, max_value=5))
def test_workshop_centre_distance_is_close_for_usual_drives(large: float, small: float, gap: float) -> None:
    centre = _centres_mm(large, small, gap)
    length = open_belt_length_mm(large, small, centre)
    assert approximate_centre_distance_mm(length, large, small) == pytest.approx(centre, rel=0.003)


@given(pulleys_mm, pulleys_mm, st.floats(min_value=0.01, max_value=0.999))
def test_a_belt_shorter_than_possible_is_refused(large: float, small: float, share: float) -> None:
    shortest = open_belt_length_mm(large, small, (large + small) / 2)
    for inverse in (centre_distance_mm, approximate_centre_distance_mm):
        with pytest.raises(ImpossibleInputError, match="cannot reach round pulleys") as caught:
            inverse(share * shortest, large, small)
        assert caught.value.argument == "length_mm"


@given(pulleys_mm, pulleys_mm, st.floats(min_value=0.01, max_value=0.999))
def test_pulleys_that_overlap_are_refused(large: float, small: float, share: float) -> None:
    centre = share * (large + small) / 2
    for function in (*LENGTHS, wrap_deg, crossed_wrap_deg):
        with pytest.raises(ImpossibleInputError, match="would overlap") as caught:
            function(large, small, centre)
        assert caught.value.argument == "centre_distance_mm"


@pytest.mark.parametrize("wrong", [0.0, -1.0, math.nan, math.inf])
def test_impossible_sizes_are_refused(wrong: float) -> None:
    for function in (*LENGTHS, wrap_deg, crossed_wrap_deg):
        for arguments in ((wrong, 100, 300), (100, wrong, 300), (100, 50, wrong)):
            with pytest.raises(ImpossibleInputError):
                function(*arguments)
    for arguments in ((wrong, 100, 50), (900, wrong, 50), (900, 100, wrong)):
        with pytest.raises(ImpossibleInputError):
            centre_distance_mm(*arguments)
    with pytest.raises(ImpossibleInputError):
        surface_speed_m_s(wrong, 1000)


@pytest.mark.parametrize("wrong", [-1.0, math.nan, math.inf])
def test_impossible_speeds_are_refused(wrong: float) -> None:
    with pytest.raises(ImpossibleInputError):
        surface_speed_m_s(300, wrong)
    with pytest.raises(ImpossibleInputError):
        belt_power_w(500, 100, wrong)


def test_a_standing_pulley_has_no_surface_speed() -> None:
    assert surface_speed_m_s(300, 0) == 0


@given(
    st.floats(min_value=10, max_value=5000),
    st.floats(min_value=0.05, max_value=1),
    st.floats(min_value=30, max_value=300),
)
def test_more_wrap_and_a_groove_grip_better(tight_n: float, friction: float, wrap: float) -> None:
    slack = slack_side_n(tight_n, friction, wrap)
    assert 0 < slack < tight_n
    assert slack_side_n(tight_n, friction, wrap * 1.1) < slack
    assert slack_side_n(tight_n, friction, wrap, 40) < slack
    assert slack_side_n(tight_n, friction, wrap, 180) == slack


def test_impossible_pulls_are_refused() -> None:
    with pytest.raises(ImpossibleInputError):
        belt_power_w(100, 200, 5)
    with pytest.raises(ImpossibleInputError):
        belt_power_w(100, -1, 5)
    for arguments in ((0, 0.3, 160), (500, 0, 160), (500, 0.3, 0), (500, 0.3, 721), (500, 2, 160)):
        with pytest.raises(ImpossibleInputError):
            slack_side_n(*arguments)
    with pytest.raises(ImpossibleInputError):
        slack_side_n(500, 0.3, 160, 10)


def test_a_belt_that_wraps_less_than_a_degree_is_refused() -> None:
    assert 0 < slack_side_n(100, 0.3, 1.5) < 100
    with pytest.raises(ImpossibleInputError):
        slack_side_n(100, 0.3, 0.9)
