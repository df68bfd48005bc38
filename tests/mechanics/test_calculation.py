"""Inputs are read as the trade writes them; what cannot be read is pinned to its field, with a hint."""

from __future__ import annotations

import contextlib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shearpin.mechanics.calculation import (
    Answer,
    Calculation,
    CalculationError,
    Choice,
    Input,
    Output,
    Readings,
    read_inputs,
    run,
)
from shearpin.mechanics.guards import require_positive


def _answer(readings: Readings) -> Answer:
    require_positive(arm_length_mm=readings.number("arm-length"))
    return Answer((readings.number("torque") / readings.number("arm-length") * 1000,), "worked")


EXAMPLE = Calculation(
    name="example",
    title="An example",
    group="tests",
    formula="F = T/a",
    symbols="T torque; a arm",
    inputs=(
        Input("torque", "torque", "torque", "N·m", spread=True),
        Input("arm-length", "arm", "length", "mm", "100 mm"),
        Input("hertz", "frequency", "number", "Hz", "60"),
        Input("teeth", "teeth", "count", "", "12"),
        Input("optional", "optional", "length", "mm", ""),
        Input("mix", "mix", "ratio", ":1", "50:1"),
        Input("slip", "slip", "ratio", "%", "2 %"),
        Input("side", "side", "choice", default="left hand",
              choices=(Choice("left hand", "on the left"), Choice("right hand", "on the right"), Choice("top", "Top"))),
    ),
    outputs=(Output("force", "force", "force", "N"),),
    source="test",
    caution="none",
    function=_answer,
)  # fmt: skip


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("24 N·m", 24),
        ("24 Nm", 24),
        ("24", 24),
        (" 24 ", 24),
        ("24.5", 24.5),
        ("18 lbf·ft", 24.404723),
        ("18 ft-lb", 24.404723),
        ("24 ± 2 N·m", 24),
        ("1200 lbf·in", 135.581795),
    ],
)
def test_torques_are_read_as_the_trade_writes_them(text: str, expected: float) -> None:
    assert read_inputs(EXAMPLE, {"torque": text}).number("torque") == pytest.approx(expected)


@pytest.mark.parametrize(
    ("key", "text", "expected"),
    [
        ("arm-length", "3/8 in", 9.525),
        ("arm-length", "0.5 m", 500),
        ("arm-length", "−5 mm", -5),
        ("arm-length", "-5", -5),
        ("hertz", "50 Hz", 50),
        ("hertz", "50", 50),
        ("mix", "32", 32),
        ("mix", "32:1", 32),
        ("slip", "5", 5),
        ("slip", "5 %", 5),
        ("teeth", "20", 20),
    ],
)
def test_other_kinds_are_read_in_the_unit_of_their_input(key: str, text: str, expected: float) -> None:
    assert read_inputs(EXAMPLE, {"torque": "1", key: text}).number(key) == pytest.approx(expected)


def test_defaults_stand_where_nothing_was_typed() -> None:
    readings = read_inputs(EXAMPLE, {"torque": "24", "arm-length": "  "})
    assert readings.number("arm-length") == 100
    assert readings.count("teeth") == 12
    assert readings.name("side") == "left hand"
    assert not readings.has("optional")
    assert readings.has("torque")


def test_a_tolerance_is_kept_where_it_is_allowed() -> None:
    readings = read_inputs(EXAMPLE, {"torque": "24 ± 2 N·m"})
    assert readings.spread("torque") == pytest.approx(2)
    assert read_inputs(EXAMPLE, {"torque": "24 N·m"}).spread("torque") is None


@pytest.mark.parametrize("text", ["right hand", "RIGHT HAND", "on the right", "  on  the right "])
def test_choices_are_met_by_name_and_title(text: str) -> None:
    assert read_inputs(EXAMPLE, {"torque": "1", "side": text}).name("side") == "right hand"


def test_the_last_word_of_a_choice_does_only_where_it_is_alone() -> None:
    assert read_inputs(EXAMPLE, {"torque": "1", "side": "top"}).name("side") == "top"
    with pytest.raises(CalculationError) as caught:
        read_inputs(EXAMPLE, {"torque": "1", "side": "hand"})
    assert caught.value.key == "side"
    assert caught.value.hint == "choose one of left hand, right hand, top"


@pytest.mark.parametrize(
    ("key", "text", "message", "hint"),
    [
        ("torque", "", "the torque is missing", "write it like `24 N·m`"),
        ("torque", "24 mm", "`mm` is a unit of length, not of torque", "write torque in"),
        ("torque", "24 lb", "`lb` is a unit of mass, not of torque", "lbf·ft"),
        ("torque", "20-24 N·m", "one value is needed for the torque, not a range", "24 N·m"),
        ("torque", "max 24 N·m", "one value is needed for the torque, not a range", "24 N·m"),
        ("torque", "2,5", "a decimal comma is not accepted", "2.5"),
        ("torque", "nan", "expected a number", "24 N·m"),
        ("torque", "1e3 N·m", "a number with an exponent is not accepted", "write the number out"),
        ("torque", "-3 N·m", "never below zero", ""),
        ("torque", "x" * 500, "the torque is too long to be read", "24 N·m"),
        ("arm-length", "5 ± 1 mm", "one value is needed for the arm, not a range", "100 mm"),
        ("arm-length", "11 1/2", "`11 1/2` lacks its unit", "write `11 1/2 in` for inches"),
        ("arm-length", "½", "`½` lacks its unit", "write `½ in` for inches"),
        ("teeth", "12.5", "a count is a whole number", ""),
        ("hertz", "50 rpm", "`rpm` is a unit of rotational speed, not of ratio", ""),
        ("side", "under", "`under` is not a side known here", "choose one of"),
        ("length", "5", "`example` has no input `length`", "its inputs are arm-length, hertz"),
    ],
)
def test_what_cannot_be_read_is_pinned_to_its_field(key: str, text: str, message: str, hint: str) -> None:
    with pytest.raises(CalculationError) as caught:
        read_inputs(EXAMPLE, {"torque": "1 N·m", key: text})
    assert caught.value.key == key
    assert message in caught.value.message
    assert str(caught.value) == caught.value.message
    assert hint in caught.value.hint


def test_what_is_impossible_is_pinned_to_its_field() -> None:
    with pytest.raises(CalculationError) as caught:
        run(EXAMPLE, {"torque": "1", "arm-length": "0"})
    assert caught.value.key == "arm-length"
    assert caught.value.message == "the arm length must be more than 0 mm, not 0 mm"
    assert caught.value.hint == "write it like `100 mm`"


def test_a_result_names_its_first_value() -> None:
    result = run(EXAMPLE, {"torque": "24"})
    assert (result.value, result.unit) == (240, "N")
    assert [value.name for value in result.values] == ["force"]
    assert result.worked == "worked"


@given(st.dictionaries(st.sampled_from([item.name for item in EXAMPLE.inputs]), st.text(max_size=30)))
def test_any_text_is_read_or_refused(texts: dict[str, str]) -> None:
    with contextlib.suppress(CalculationError):
        assert run(EXAMPLE, texts).worked == "worked"
