"""Grades are read as they are marked; strengths step with size and are never taken from the name."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shearpin.mechanics.guards import ImpossibleInputError
from shearpin.mechanics.strength import (
    GRADES,
    Grade,
    load_n,
    parse_grade,
    percent_of_load,
    strength_at,
    yield_margin,
)


@pytest.mark.parametrize(
    ("text", "short"),
    [
        ("SAE J429 grade 5", "grade 5"),
        ("sae grade 5", "grade 5"),
        ("Grade 5", "grade 5"),
        ("gr. 8", "grade 8"),
        ("gr 2", "grade 2"),
        ("2", "grade 2"),
        ("8.8", "class 8.8"),
        ("class 10.9", "class 10.9"),
        ("ISO 898-1 class 12.9", "class 12.9"),
        ("ISO 898 property class 4.6", "class 4.6"),
        ("ISO 9.8", "class 9.8"),
        ("grade 8.8", "class 8.8"),
    ],
)
def test_markings_are_read(text: str, short: str) -> None:
    assert parse_grade(text).short == short


@pytest.mark.parametrize("grade", GRADES, ids=lambda grade: grade.short)
def test_every_grade_reads_back_from_its_names(grade: Grade) -> None:
    assert parse_grade(grade.name) is grade
    assert parse_grade(grade.short) is grade


@pytest.mark.parametrize(
    "text",
    [
        "",
        "grade",
        "grade 3",
        "class 8",
        "SAE grade 8.8",
        "SAE J429 class 8.8",
        "ISO grade 5",
        "8.9",
        "class",
        "5.5.5",
        "A2-70",
        "grade 5 zinc",
    ],
)
def test_unknown_markings_are_refused(text: str) -> None:
    with pytest.raises(ImpossibleInputError, match="is not a bolt grade") as caught:
        parse_grade(text)
    assert caught.value.argument == "grade"


def test_class_8_8_steps_at_16_mm() -> None:
    grade = parse_grade("8.8")
    assert strength_at(grade, 16.0).proof_mpa == 580
    assert strength_at(grade, 16.001).proof_mpa == 600
    assert strength_at(grade, 6.0).tensile_mpa == 800


def test_a_property_class_is_a_name_and_not_a_strength() -> None:
    strength = strength_at(parse_grade("10.9"), 10)
    assert (strength.tensile_mpa, strength.yield_mpa) == (1040, 940)


def test_below_the_smallest_size_the_remark_says_so() -> None:
    small, listed = strength_at(parse_grade("grade 2"), 6.0), strength_at(parse_grade("grade 2"), 6.35)
    assert small.tensile_mpa == listed.tensile_mpa
    assert "begins at 6.35 mm" in small.note
    assert listed.note == ""


@pytest.mark.parametrize(
    ("text", "diameter_mm"), [("9.8", 16.1), ("grade 2", 38.2), ("5.8", 27), ("12.9", 39)]
)
def test_above_the_largest_size_there_is_no_strength(text: str, diameter_mm: float) -> None:
    with pytest.raises(ImpossibleInputError, match="ends at") as caught:
        strength_at(parse_grade(text), diameter_mm)
    assert caught.value.argument == "grade"


@pytest.mark.parametrize("diameter_mm", [0, -6, math.nan, math.inf])
def test_impossible_diameters_are_refused(diameter_mm: float) -> None:
    with pytest.raises(ImpossibleInputError):
        strength_at(parse_grade("8.8"), diameter_mm)


@pytest.mark.parametrize("grade", GRADES, ids=lambda grade: grade.short)
def test_bands_join_without_gap_and_proof_lies_below_yield_below_tensile(grade: Grade) -> None:
    assert grade.bands[0].over_mm == 0
    for lower, upper in zip(grade.bands, grade.bands[1:], strict=False):
        assert lower.up_to_mm == upper.over_mm
    for band in grade.bands:
        assert band.proof_mpa < band.yield_mpa < band.tensile_mpa
        assert band.source


@given(st.floats(min_value=1, max_value=1e6), st.floats(min_value=1, max_value=1e6))
def test_percent_and_margin_tell_the_same_limit(preload_n: float, limit_n: float) -> None:
    assert (percent_of_load(preload_n, limit_n) > 100) == (preload_n > limit_n) or math.isclose(
        preload_n, limit_n
    )
    assert yield_margin(preload_n, limit_n) == pytest.approx(100 / percent_of_load(preload_n, limit_n) - 1)


def test_no_preload_is_nothing_of_the_proof_load() -> None:
    assert percent_of_load(0, 1000) == 0


def test_impossible_loads_are_refused() -> None:
    with pytest.raises(ImpossibleInputError):
        percent_of_load(-1, 1000)
    with pytest.raises(ImpossibleInputError):
        percent_of_load(1000, 0)
    with pytest.raises(ImpossibleInputError):
        yield_margin(0, 1000)
    with pytest.raises(ImpossibleInputError):
        load_n(580, 0)
    with pytest.raises(ImpossibleInputError):
        load_n(math.nan, 20.1)
