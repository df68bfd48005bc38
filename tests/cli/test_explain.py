"""`shearpin explain`: one rule in full, or the list of all."""

from __future__ import annotations

import json

import pytest

from shearpin.catalogue import RULES
from shearpin.cli.main import main


def test_without_a_code_all_rules_are_listed(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["explain"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert [line.split() for line in lines] == [[r.code, r.severity.value, r.name] for r in RULES.values()]


def test_a_rule_is_explained_with_its_reason_and_examples(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["explain", "FLD002"]) == 0
    assert capsys.readouterr().out == (
        "FLD002 missing-field (error)\n"
        "\n"
        "A field that this kind of record must have is not there.\n"
        "\n"
        "The page would have a hole where its reader needs an answer.\n"
        "\n"
        "Hint: What it is for.\n"
        "\n"
        "Bad:\n"
        "  # kb/tools/pin-punch.yaml\n"
        "  title: Pin punch\n"
        "\n"
        "Good:\n"
        "  # kb/tools/pin-punch.yaml\n"
        "  title: Pin punch\n"
        "  summary: Drives out broken shear bolts.\n"
    )


@pytest.mark.parametrize("wanted", ["fld002", "missing-field"])
def test_a_rule_is_found_by_code_in_any_case_or_by_name(
    wanted: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["explain", wanted]) == 0
    assert capsys.readouterr().out.startswith("FLD002 missing-field (error)\n")


def test_the_json_of_a_rule(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["explain", "FLD002", "--json"]) == 0
    assert json.loads(capsys.readouterr().out) == {
        "code": "FLD002",
        "name": "missing-field",
        "severity": "error",
        "summary": "A field that this kind of record must have is not there.",
        "why": "The page would have a hole where its reader needs an answer.",
        "hint": "What it is for.",
        "bad": [{"tools/pin-punch.yaml": "title: Pin punch\n"}],
        "good": [{"tools/pin-punch.yaml": "title: Pin punch\nsummary: Drives out broken shear bolts.\n"}],
    }


def test_the_json_of_all_rules(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["explain", "--json"]) == 0
    assert [rule["code"] for rule in json.loads(capsys.readouterr().out)] == list(RULES)


@pytest.mark.parametrize(
    ("wanted", "advice"),
    [
        ("FLD02", "no rule is called `FLD02`; did you mean `FLD002`?"),
        ("mising-field", "no rule is called `mising-field`; did you mean `missing-field`?"),
        ("12345", "no rule is called `12345`; `shearpin explain` lists them"),
    ],
)
def test_an_unknown_rule_is_wrong_usage(wanted: str, advice: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["explain", wanted]) == 2
    assert advice in capsys.readouterr().err
