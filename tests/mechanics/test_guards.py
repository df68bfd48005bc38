"""Refusals name the argument and speak plainly; numbers are shown as people round them."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shearpin.mechanics.guards import (
    ImpossibleInputError,
    require_between,
    require_count,
    require_finite,
    require_not_negative,
    require_positive,
    shown,
    with_unit,
    words_and_unit,
)

NOT_NUMBERS = (math.nan, math.inf, -math.inf, 1e13, -1e13)


@pytest.mark.parametrize("number", NOT_NUMBERS)
@pytest.mark.parametrize("guard", [require_finite, require_positive, require_not_negative])
def test_what_is_no_bench_number_is_refused(guard: Callable[..., None], number: float) -> None:
    with pytest.raises(ImpossibleInputError) as caught:
        guard(diameter_mm=number)
    assert caught.value.argument == "diameter_mm"
    assert str(caught.value).startswith("the diameter ")


@pytest.mark.parametrize("number", [0.0, -1.0, 1e-10])
def test_sizes_are_above_zero(number: float) -> None:
    with pytest.raises(ImpossibleInputError, match="the shaft diameter must be more than 0 mm"):
        require_positive(shaft_diameter_mm=number)


def test_zero_is_not_negative() -> None:
    require_not_negative(tolerance_nm=0.0)
    with pytest.raises(ImpossibleInputError, match="the tolerance cannot be below 0 N·m, and −1 N·m is"):
        require_not_negative(tolerance_nm=-1.0)


def test_a_range_includes_its_ends() -> None:
    require_between(0, 90, angle_deg=0)
    require_between(0, 90, angle_deg=90)
    with pytest.raises(ImpossibleInputError, match="the angle must lie within 0 to 90°, and 91° does not"):
        require_between(0, 90, angle_deg=91)


@pytest.mark.parametrize("count", [0, -1, 2.0, True, 1_000_001])
def test_counts_are_whole_and_at_least_one(count: object) -> None:
    with pytest.raises(ImpossibleInputError, match="the wheel teeth must be a whole number, one or more"):
        require_count(wheel_teeth=count)  # type: ignore[arg-type]


def test_the_first_argument_at_fault_is_named() -> None:
    with pytest.raises(ImpossibleInputError) as caught:
        require_positive(bore_mm=68.0, stroke_mm=-54.0)
    assert caught.value.argument == "stroke_mm"


@pytest.mark.parametrize(
    ("argument", "expected"),
    [
        ("tip_speed_m_s", ("tip speed", "m/s")),
        ("torque_nm", ("torque", "N·m")),
        ("preload_n", ("preload", "N")),
        ("area_mm2", ("area", "mm²")),
        ("ratio", ("ratio", "")),
    ],
)
def test_arguments_are_read_as_words(argument: str, expected: tuple[str, str]) -> None:
    assert words_and_unit(argument) == expected


@pytest.mark.parametrize(
    ("number", "digits", "text"),
    [
        (11658.2, 4, "11660"),
        (0.125, 2, "0.13"),
        (-0.125, 2, "−0.13"),
        (0.2, 4, "0.2"),
        (99996.0, 4, "100000"),
        (0.0, 4, "0"),
        (-0.0, 4, "0"),
        (1e-7, 4, "0.0000001"),
        (2.5, 1, "3"),
        (100.0, 4, "100"),
        (math.nan, 4, "not a number"),
        (math.inf, 4, "infinite"),
    ],
)
def test_numbers_are_shown_as_people_round_them(number: float, digits: int, text: str) -> None:
    assert shown(number, digits) == text


@given(st.floats(min_value=1e-9, max_value=1e12), st.integers(min_value=1, max_value=9))
def test_a_shown_number_lies_within_half_its_last_place(number: float, digits: int) -> None:
    text = shown(number, digits)
    place = 10.0 ** (math.floor(math.log10(number)) + 1 - digits)
    assert abs(float(text) - number) <= place * (0.5 + 1e-6)
    assert "e" not in text.lower()
    assert not (("." in text) and text.endswith("0"))


def test_a_degree_sign_stands_next_to_its_number() -> None:
    assert with_unit(45, "°") == "45°"
    assert with_unit(9, "N·m") == "9 N·m"
    assert with_unit(0.2, "") == "0.2"
