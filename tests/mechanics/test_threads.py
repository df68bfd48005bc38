"""Threads as the trade writes them are read, misprints are caught, areas have the right shape."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shearpin.mechanics.guards import ImpossibleInputError
from shearpin.mechanics.thread_series import (
    METRIC_COARSE_PITCH_MM,
    METRIC_FINE_PITCHES_MM,
    UNIFIED_SERIES,
    numbered_diameter_in,
)
from shearpin.mechanics.threads import (
    ThreadSystem,
    minor_area_mm2,
    minor_diameter_mm,
    parse_thread,
    pitch_diameter_mm,
    stress_area_mm2,
)


@pytest.mark.parametrize(
    ("text", "designation", "diameter_mm", "pitch_mm", "series"),
    [
        ("M6", "M6", 6, 1, "coarse"),
        ("M6x1", "M6", 6, 1, "coarse"),
        ("M6X1.0", "M6", 6, 1, "coarse"),
        ("M8×1.25", "M8", 8, 1.25, "coarse"),
        ("m8 x 1", "M8×1", 8, 1, "fine"),
        ("M1.6", "M1.6", 1.6, 0.35, "coarse"),
        ("M14*1.25", "M14×1.25", 14, 1.25, "fine"),
        ("M6-6g", "M6", 6, 1, "coarse"),
        ("1/4-20", "1/4-20 UNC", 6.35, 1.27, "UNC"),
        ('1/4"-20', "1/4-20 UNC", 6.35, 1.27, "UNC"),
        ("1/4 in - 20", "1/4-20 UNC", 6.35, 1.27, "UNC"),
        (".250-20", "1/4-20 UNC", 6.35, 1.27, "UNC"),
        ("1/4 UNF", "1/4-28 UNF", 6.35, 25.4 / 28, "UNF"),
        ("5/16-18 UNC", "5/16-18 UNC", 7.9375, 25.4 / 18, "UNC"),
        ("5/16-18 UNC-2A", "5/16-18 UNC", 7.9375, 25.4 / 18, "UNC"),
        ("No. 10-32", "No. 10-32 UNF", 4.826, 25.4 / 32, "UNF"),
        ("#10-24", "No. 10-24 UNC", 4.826, 25.4 / 24, "UNC"),
        ("10-32", "No. 10-32 UNF", 4.826, 25.4 / 32, "UNF"),
        ("No 8-32", "No. 8-32 UNC", 4.1656, 25.4 / 32, "UNC"),
        ("1-8", "1-8 UNC", 25.4, 25.4 / 8, "UNC"),
        ("1-14", "1-14 UNS", 25.4, 25.4 / 14, "UNS"),
        ("1-64", "No. 1-64 UNC", 1.8542, 25.4 / 64, "UNC"),
        ("1-1/4-12", "1 1/4-12 UNF", 31.75, 25.4 / 12, "UNF"),
        ("1 1/4-7", "1 1/4-7 UNC", 31.75, 25.4 / 7, "UNC"),
        ("1/4-32", "1/4-32 UNEF", 6.35, 25.4 / 32, "UNEF"),
    ],
)
def test_designations_of_the_trade_are_read(
    text: str, designation: str, diameter_mm: float, pitch_mm: float, series: str
) -> None:
    thread = parse_thread(text)
    assert (thread.designation, thread.series) == (designation, series)
    assert thread.diameter_mm == pytest.approx(diameter_mm)
    assert thread.pitch_mm == pytest.approx(pitch_mm)


def test_left_hand_is_kept() -> None:
    thread = parse_thread("M10x1.25 LH")
    assert thread.left_hand
    assert thread.designation == "M10×1.25 LH"
    assert parse_thread("1/2-20 LH").designation == "1/2-20 UNF LH"
    assert not parse_thread("M10x1.25").left_hand


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("M6x20", "reads as a bolt 20 mm long"),
        ("M8x1.1", "M8 has no pitch of 1.1 mm; the standard has 1.25, 1, 0.75 mm"),
        ("M9", "M9 is not a standard metric size"),
        ("M0", "M0 is not a standard metric size"),
        ("1/4-21", "is no standard thread; 1/4-20 UNC, 1/4-28 UNF, 1/4-32 UNEF exist"),
        ("1/4-20 UNF", "is no standard thread"),
        ("1/4", "lacks its threads per inch"),
        ("1/0-20", "is not a thread"),
        ("13-20", "numbered sizes run from 0 to 12"),
        ("#1/4-20", "numbered sizes run from 0 to 12"),
        ("No. 7-32", "No. 7 is not a unified thread size"),
        ("3/7-20", "3/7 is not a unified thread size"),
        ("", "is not a thread"),
        ("torque", "is not a thread"),
        ("M" + "9" * 5000, "too many for a thread"),
        ("1/4-" + "9" * 30, "is no standard thread"),
        ("M٦", "is not a thread"),
    ],
)
def test_misprints_are_refused_with_a_reason(text: str, sentence: str) -> None:
    with pytest.raises(ImpossibleInputError, match=sentence.replace(".", r"\.")) as caught:
        parse_thread(text)
    assert caught.value.argument == "thread"


@given(st.text(max_size=60))
def test_any_text_is_a_thread_or_refused(text: str) -> None:
    try:
        thread = parse_thread(text)
    except ImpossibleInputError:
        return
    assert 0 < thread.pitch_mm < thread.diameter_mm


def _all_threads() -> list[str]:
    metric = [f"M{size:g}" for size in METRIC_COARSE_PITCH_MM]
    fine = [f"M{size:g}x{pitch:g}" for size, pitches in METRIC_FINE_PITCHES_MM.items() for pitch in pitches]
    unified = [f"{size}-{tpi}" for sizes in UNIFIED_SERIES.values() for size, tpi in sizes.items()]
    return [*metric, *fine, *unified]


@pytest.mark.parametrize("text", _all_threads())
def test_every_thread_of_the_series_reads_back_as_itself(text: str) -> None:
    thread = parse_thread(text)
    assert parse_thread(thread.designation) == thread
    area = stress_area_mm2(thread.diameter_mm, thread.pitch_mm, thread.system)
    root = minor_area_mm2(thread.diameter_mm, thread.pitch_mm, thread.system)
    assert root < area < math.pi / 4 * thread.diameter_mm**2


def test_finer_pitches_are_finer() -> None:
    for size, pitches in METRIC_FINE_PITCHES_MM.items():
        assert list(pitches) == sorted(pitches, reverse=True)
        assert pitches[0] < METRIC_COARSE_PITCH_MM[size]
    for name, coarse in UNIFIED_SERIES["UNC"].items():
        assert coarse < UNIFIED_SERIES["UNF"][name]


sizes_mm = st.floats(min_value=1, max_value=50)
shares = st.floats(min_value=0.01, max_value=0.3)


@given(sizes_mm, shares, st.sampled_from(ThreadSystem))
def test_stress_area_grows_with_diameter_and_shrinks_with_pitch(
    diameter_mm: float, share: float, system: ThreadSystem
) -> None:
    pitch_mm = share * diameter_mm
    area = stress_area_mm2(diameter_mm, pitch_mm, system)
    assert stress_area_mm2(diameter_mm * 1.01, pitch_mm, system) > area
    assert stress_area_mm2(diameter_mm, pitch_mm * 1.01, system) < area


@given(sizes_mm, shares)
def test_pitch_diameter_lies_between_root_and_nominal(diameter_mm: float, share: float) -> None:
    pitch_mm = share * diameter_mm
    middle = pitch_diameter_mm(diameter_mm, pitch_mm)
    for system in ThreadSystem:
        assert minor_diameter_mm(diameter_mm, pitch_mm, system) < middle < diameter_mm


@pytest.mark.parametrize(
    ("diameter_mm", "pitch_mm"), [(0, 1), (-6, 1), (6, 0), (6, -1), (6, 4), (math.nan, 1)]
)
def test_impossible_shapes_are_refused(diameter_mm: float, pitch_mm: float) -> None:
    with pytest.raises(ImpossibleInputError):
        stress_area_mm2(diameter_mm, pitch_mm, ThreadSystem.METRIC)
    with pytest.raises(ImpossibleInputError):
        minor_area_mm2(diameter_mm, pitch_mm, ThreadSystem.UNIFIED)
    with pytest.raises(ImpossibleInputError):
        pitch_diameter_mm(diameter_mm, pitch_mm)


def test_numbered_sizes() -> None:
    assert numbered_diameter_in(8) == 0.164
    assert numbered_diameter_in(10) == 0.190
    with pytest.raises(ValueError, match="numbered sizes run from 0 to 12"):
        numbered_diameter_in(13)


def test_a_designation_may_have_forty_characters_and_no_more() -> None:
    assert parse_thread("M6" + " " * 38) == parse_thread("M6")
    with pytest.raises(ImpossibleInputError, match="too many"):
        parse_thread("M6" + " " * 39)
