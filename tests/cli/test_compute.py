"""`shearpin compute`: every calculation by name, the documented JSON, exit codes 0, 1 and 2."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from shearpin.cli.main import main
from shearpin.mechanics.calculations import CALCULATIONS

TABLE: dict[str, Any] = json.loads(
    (Path(__file__).resolve().parents[1] / "mechanics" / "cases.json").read_text(encoding="utf-8")
)
FIRST_CASES = {case["name"]: case for case in reversed(TABLE["cases"])}
REFUSED = [
    case for case in TABLE["refusals"] if case["key"] and case["why"] not in ("missing", "no such input")
]


def _words(inputs: dict[str, str]) -> list[str]:
    return [f"{key}={text}" for key, text in inputs.items()]


@pytest.mark.parametrize("name", [calculation.name for calculation in CALCULATIONS])
def test_every_calculation_runs_and_prints_its_worked_line(
    name: str, capsys: pytest.CaptureFixture[str]
) -> None:
    case = FIRST_CASES[name]
    assert main(["compute", name, *_words(case["inputs"])]) == 0
    shown = capsys.readouterr().out
    assert f"\n{case['worked']}\n" in shown
    assert all(note in shown for note in case["notes"])


@pytest.mark.parametrize("name", [calculation.name for calculation in CALCULATIONS])
def test_json_holds_values_formula_source_and_caution(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    case = FIRST_CASES[name]
    assert main(["compute", name, *_words(case["inputs"]), "--json"]) == 0
    document = json.loads(capsys.readouterr().out)
    assert set(document) == {
        "calculation", "title", "formula", "symbols", "source", "caution", "values", "worked", "notes"
    }  # fmt: skip
    values = {value["name"]: value for value in document["values"]}
    for key, expected in case["outputs"].items():
        assert values[key]["unit"] == expected["unit"]
        if "within" in expected:
            assert values[key]["value"] == pytest.approx(expected["value"], rel=0, abs=expected["within"])
        else:
            assert values[key]["value"] == expected["value"]
    assert (document["calculation"], document["worked"]) == (name, case["worked"])


@pytest.mark.parametrize("case", REFUSED, ids=[f"{case['name']}: {case['why']}" for case in REFUSED])
def test_refused_input_exits_with_1_and_names_the_input(
    case: dict[str, Any], capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["compute", case["name"], *_words(case["inputs"]), "--json"]) == 1
    refused = json.loads(capsys.readouterr().out)["refused"]
    assert refused["input"] == case["key"]
    assert refused["message"]
    assert main(["compute", case["name"], *_words(case["inputs"])]) == 1
    said = capsys.readouterr()
    assert said.out == ""
    assert said.err.startswith(f"shearpin compute: {case['key']}: {refused['message']}; ")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["belt-lenght"], "there is no calculation `belt-lenght`; did you mean belt-length"),
        (["belt-length", "larg=3"], "has no input `larg`; did you mean `large`?"),
        (["belt-length", "x=3"], "has no input `x`; its inputs are large, small, centre-distance"),
        (["belt-length", "large=3 in"], "also needs `small`, `centre-distance`"),
        (["belt-length", "large=3 in", "small= ", "centre-distance=9 in"], "also needs `small`"),
        (["belt-length", "3"], "write inputs as key=value, not `3`"),
        (["belt-length", "large=3 in", "large=4 in"], "`large` is given twice"),
        (["belt-length", "--jsn"], "unrecognized arguments"),
    ],
)
def test_wrong_usage_exits_with_2_and_says_what_is_meant(
    words: list[str], said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["compute", *words]) == 2
    captured = capsys.readouterr()
    assert captured.out == ""
    assert said in captured.err


def test_a_unit_may_follow_as_a_word_of_its_own(capsys: pytest.CaptureFixture[str]) -> None:
    words = "compute adapter-setting torque=24 ± 2 N·m lever=300 mm adapter=2 in angle=45°"
    assert main(words.replace(" ± 2", "").split()) == 0
    assert capsys.readouterr().out.startswith("setting of the wrench  21.43 N·m\n")
    assert main(words.split()) == 1
    assert "one value is needed for the torque at the fastener, not a range" in capsys.readouterr().err


def test_a_negative_number_is_no_option(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["compute", "friction-disc", "plate=1000", "position=-20", "wheel-radius=60"]) == 0
    assert "reverse" in capsys.readouterr().out


def test_without_a_name_all_are_listed_by_group(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["compute"]) == 0
    shown = capsys.readouterr().out
    for calculation in CALCULATIONS:
        assert f"  {calculation.name} " in shown
        assert f"{calculation.group}\n" in shown
    assert main(["compute", "--json"]) == 0
    listed = json.loads(capsys.readouterr().out)
    assert [each["name"] for each in listed] == [calculation.name for calculation in CALCULATIONS]


@pytest.mark.parametrize("calculation", CALCULATIONS, ids=lambda calculation: calculation.name)
def test_with_a_name_alone_it_is_described(calculation: Any, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["compute", calculation.name]) == 0
    shown = capsys.readouterr().out
    for words in (
        calculation.title,
        calculation.formula,
        calculation.symbols,
        calculation.source,
        calculation.caution,
    ):
        assert words in shown
    for item in calculation.inputs:
        assert f"\n  {item.name} " in shown
        assert all(f"{choice.name}: {choice.title}" in shown for choice in item.choices)
    assert main(["compute", calculation.name, "--json"]) == 0
    document = json.loads(capsys.readouterr().out)
    assert [item["name"] for item in document["inputs"]] == [item.name for item in calculation.inputs]
    assert [output["unit"] for output in document["outputs"]] == [
        output.unit for output in calculation.outputs
    ]


def test_no_records_are_needed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    assert main(["compute", "oil-mix", "fuel=1 US gal", "ratio=50:1"]) == 0
    assert capsys.readouterr().out.startswith("oil                      75.71 mL\n")
