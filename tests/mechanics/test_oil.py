"""Oil by temperature: the standard's grades as data, the shop's guidance marked as such."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shearpin.mechanics.guards import ImpossibleInputError
from shearpin.mechanics.oil import WINTER_GRADES, oil_guidance, winter_grades_for

temperatures_c = st.floats(min_value=-60, max_value=60)


@given(temperatures_c, temperatures_c)
def test_the_colder_it_is_the_fewer_grades_are_tested(one: float, other: float) -> None:
    cold, warm = sorted((one, other))
    assert set(winter_grades_for(cold)) <= set(winter_grades_for(warm))


def test_pumping_is_tested_five_degrees_below_cranking() -> None:
    assert all(grade.pumping_c == grade.cranking_c - 5 for grade in WINTER_GRADES)


@pytest.mark.parametrize(
    ("lowest_c", "grades"),
    [
        (20, ("SAE 30",)),
        (4.1, ("SAE 30",)),
        (4, ("10W-30", "5W-30")),
        (-18, ("10W-30", "5W-30")),
        (-18.1, ("5W-30", "0W-30")),
        (-30, ("5W-30", "0W-30")),
    ],
)
def test_guidance_changes_where_shops_change(lowest_c: float, grades: tuple[str, ...]) -> None:
    """The limits are common practice, no source: this fixes our own data, it is no oracle."""
    assert oil_guidance(lowest_c).grades == grades


def test_guidance_says_that_it_is_practice() -> None:
    assert oil_guidance(0).source == "common practice, no source"


@given(temperatures_c)
def test_guidance_says_which_of_its_grades_the_standard_does_not_test_there(lowest_c: float) -> None:
    guidance = oil_guidance(lowest_c)
    for grade in guidance.grades:
        winter = grade.partition("-")[0] if "W" in grade else None
        tested = winter is None or winter in guidance.tested_to_crank
        assert tested == (winter not in {missing.name for missing in guidance.untested})


@pytest.mark.parametrize("lowest_c", [-61, 61, math.nan, math.inf])
def test_impossible_weather_is_refused(lowest_c: float) -> None:
    for function in (winter_grades_for, oil_guidance):
        with pytest.raises(ImpossibleInputError):
            function(lowest_c)
