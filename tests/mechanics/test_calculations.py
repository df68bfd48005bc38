"""The registry is whole, and every calculation gives the published figures from the table of cases."""

from __future__ import annotations

import json
import math
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shearpin.mechanics.calculation import Calculation, CalculationError, Input, Result
from shearpin.mechanics.calculations import CALCULATIONS, calculation_named, compute
from shearpin.model.quantity import QuantityKind, units_of

TABLE: dict[str, Any] = json.loads(Path(__file__).with_name("cases.json").read_text(encoding="utf-8"))
CASES: list[dict[str, Any]] = TABLE["cases"]
REFUSALS: list[dict[str, Any]] = TABLE["refusals"]
BY_NAME = pytest.mark.parametrize("calculation", CALCULATIONS, ids=[item.name for item in CALCULATIONS])


@pytest.mark.parametrize("case", CASES, ids=[f"{case['name']} [{case['source']}]" for case in CASES])
def test_published_figures_come_out(case: dict[str, Any]) -> None:
    result = compute(case["name"], case["inputs"])
    values = {value.name: value for value in result.values}
    assert case["outputs"].keys() <= values.keys()
    for name, expected in case["outputs"].items():
        assert values[name].unit == expected["unit"]
        if "within" in expected:
            assert values[name].value == pytest.approx(expected["value"], rel=0, abs=expected["within"]), name
        else:
            assert values[name].value == expected["value"], name
    assert result.worked == case["worked"]
    assert list(result.notes) == case["notes"]


@pytest.mark.parametrize("case", REFUSALS, ids=[f"{case['name']}: {case['why']}" for case in REFUSALS])
def test_impossible_input_is_pinned_to_its_field(case: dict[str, Any]) -> None:
    with pytest.raises(CalculationError) as caught:
        compute(case["name"], case["inputs"])
    assert caught.value.key == case["key"]
    assert caught.value.message
    assert caught.value.hint


def test_every_calculation_has_a_case() -> None:
    assert {case["name"] for case in CASES} == {calculation.name for calculation in CALCULATIONS}


def test_names_are_unique_and_usable_in_an_address() -> None:
    names = [calculation.name for calculation in CALCULATIONS]
    assert len(set(names)) == len(names)
    for calculation in CALCULATIONS:
        inputs = [item.name for item in calculation.inputs]
        outputs = [item.name for item in calculation.outputs]
        assert len(set(inputs)) == len(inputs)
        assert len(set(outputs)) == len(outputs)
        for name in (calculation.name, *inputs, *outputs):
            assert name.replace("-", "").isalnum()
            assert name == name.lower()


@BY_NAME
def test_a_calculation_says_what_people_need(calculation: Calculation) -> None:
    for text in (
        calculation.title,
        calculation.group,
        calculation.formula,
        calculation.symbols,
        calculation.source,
        calculation.caution,
    ):
        assert text.strip()
    assert calculation.caution.endswith(".")
    assert calculation.outputs


@BY_NAME
def test_kinds_and_units_are_those_of_the_project(calculation: Calculation) -> None:
    for item in calculation.inputs:
        if item.kind == "choice":
            assert item.choices
            assert item.default in (None, "", *(choice.name for choice in item.choices))
        elif item.kind not in ("number", "thread"):
            assert item.unit in {unit.symbol for unit in units_of(QuantityKind(item.kind))}
    for output in calculation.outputs:
        if output.kind not in ("number", "text"):
            assert output.unit in {unit.symbol for unit in units_of(QuantityKind(output.kind))}


def _first_case(name: str) -> dict[str, str]:
    inputs: dict[str, str] = next(case["inputs"] for case in CASES if case["name"] == name)
    return inputs


def _outcome(calculation: Calculation, key: str, text: str) -> Result | CalculationError:
    """What the first case gives with one text replaced, a refusal included."""
    try:
        return compute(calculation.name, {**_first_case(calculation.name), key: text})
    except CalculationError as error:
        return error


def _numeric(calculation: Calculation) -> tuple[Input, ...]:
    return tuple(item for item in calculation.inputs if item.kind not in ("choice", "thread"))


@BY_NAME
def test_a_missing_input_is_named(calculation: Calculation) -> None:
    for item in calculation.inputs:
        if item.default is None:
            texts = {key: text for key, text in _first_case(calculation.name).items() if key != item.name}
            with pytest.raises(CalculationError) as caught:
                compute(calculation.name, texts)
            assert caught.value.key == item.name


@BY_NAME
@pytest.mark.parametrize("number", ["0", "-1", "-100000", "999999999999999", "0.0000000000001"])
def test_absurd_numbers_compute_or_are_pinned_to_their_field(calculation: Calculation, number: str) -> None:
    for item in _numeric(calculation):
        outcome = _outcome(calculation, item.name, number)
        if isinstance(outcome, CalculationError):
            # A pair of fields is at fault together (a cylinder above its supply); else it is the field itself.
            assert outcome.key in (item.name, *_PARTNERS.get((calculation.name, item.name), ())), item.name
        else:
            for value in outcome.values:
                assert isinstance(value.value, str) or math.isfinite(value.value)


# Fields that are refused at another field, because only together are they impossible.
_PARTNERS: dict[tuple[str, str], tuple[str, ...]] = {
    ("belt-length", "large"): ("centre-distance",),
    ("belt-length", "small"): ("centre-distance",),
    ("crossed-belt-length", "large"): ("centre-distance",),
    ("crossed-belt-length", "small"): ("centre-distance",),
    ("belt-centre-distance", "large"): ("length",),
    ("belt-centre-distance", "small"): ("length",),
    ("adapter-setting", "lever"): ("adapter",),
    ("clutch-torque", "outer"): ("inner",),
    ("leak-down", "supply-pressure"): ("cylinder-pressure",),
    ("stabiliser-dose", "label-fuel"): ("label-dose",),
    ("gear-train", "second-driver-teeth"): ("second-driven-teeth",),
    ("pulley-speed", "second-driver"): ("second-driven",),
    ("pulley-speed", "second-driven"): ("second-driver",),
    ("shear-swap", "diameter"): ("specified",),
    ("shear-stress", "diameter"): ("grade",),
}


@given(st.sampled_from(CALCULATIONS), st.data())
def test_any_text_in_any_field_computes_or_is_refused(calculation: Calculation, data: st.DataObject) -> None:
    item = data.draw(st.sampled_from(calculation.inputs))
    text = data.draw(st.text(max_size=20) | st.floats().map(str) | st.integers().map(str))
    outcome = _outcome(calculation, item.name, text)
    assert outcome.message if isinstance(outcome, CalculationError) else outcome.worked


def test_an_unknown_calculation_gets_the_nearest_names() -> None:
    with pytest.raises(CalculationError, match="there is no calculation `belt-lenght`") as caught:
        calculation_named("belt-lenght")
    assert "belt-length" in caught.value.hint


def test_a_record_writes_grades_as_the_registry_reads_them() -> None:
    texts = {"thread": "1/4-20", "torque": "9 ± 1 N·m"}
    results = [
        compute("bolt-preload", {**texts, "grade": grade}) for grade in ("SAE J429 grade 2", "grade 2", "2")
    ]
    assert results[0] == results[1] == results[2]


def test_a_typed_tolerance_beats_the_general_one() -> None:
    texts = {"thread": "M8", "grade": "8.8", "torque": "20 ± 1 N·m"}
    typed = compute("bolt-preload", texts)
    general = compute("bolt-preload", {**texts, "torque": "20 N·m"})
    assert typed.values[4].value < general.values[4].value  # type: ignore[operator]
    assert typed.value == general.value


def test_no_more_than_three_names_are_offered_for_a_mistyped_one() -> None:
    with pytest.raises(CalculationError) as caught:
        calculation_named("torque-unitx")
    assert caught.value.hint.count(" or ") == 2
