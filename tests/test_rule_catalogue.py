"""Rules, their codes, their documentation and their tests agree."""

from __future__ import annotations

import ast
import re
from collections import Counter
from pathlib import Path
from typing import Final

import pytest

import shearpin
from shearpin.catalogue import ON_THE_BOOK, RULES
from shearpin.checks.one_file import ON_ONE_FILE
from shearpin.checks.rule import AnyRule
from shearpin.cli.main import main
from tests.rule_cases import ALL_CASES

PACKAGE = Path(shearpin.__file__).parent

FAMILIES: Final = {
    "FMT": "text of a file",
    "FLD": "fields of a record",
    "REF": "references and files",
    "QTY": "quantities",
    "VAL": "values of machines",
    "APP": "applicability",
    "TRQ": "threads, grades and torques",
    "DRV": "belts and speeds",
    "ENG": "engines and fuel",
    "SAF": "safety",
    "LNG": "language",
    "CON": "contradictions and doubles",
    "DIA": "diagnosis",
    "FIG": "drawings",
    "EDN": "editions",
    "TRN": "translations",
    "SUP": "suppressions",
}


def _codes_in_source() -> list[str]:
    """Return every code that a `@rule(...)` decorator of the package names."""
    codes = []
    for path in PACKAGE.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.FunctionDef):
                for decorator in node.decorator_list:
                    if isinstance(decorator, ast.Call) and getattr(decorator.func, "id", "") == "rule":
                        assert isinstance(decorator.args[0], ast.Constant)
                        codes.append(str(decorator.args[0].value))
    return codes


def test_codes_are_unique() -> None:
    assert [code for code, count in Counter(_codes_in_source()).items() if count > 1] == []


def test_every_rule_that_is_written_is_in_the_catalogue() -> None:
    assert sorted(_codes_in_source()) == sorted(RULES)


def test_the_catalogue_is_in_order_of_codes() -> None:
    assert list(RULES) == sorted(RULES)
    assert all(rule.code == code for code, rule in RULES.items())


def test_no_rule_runs_twice() -> None:
    running = [rule.code for rule in (*ON_ONE_FILE, *ON_THE_BOOK)]
    assert len(running) == len(set(running))
    assert {*running, "SUP001"} == set(RULES)


def test_the_family_of_every_code_is_known() -> None:
    assert {code[:3] for code in RULES} == set(FAMILIES)


def test_names_are_unique_and_name_the_defect() -> None:
    names = [rule.name for rule in RULES.values()]
    assert len(names) == len(set(names))
    assert all(re.fullmatch(r"[a-z]+(-[a-z]+)+", name) for name in names)
    remedies = re.compile(r"^(avoid|use|do-not|no-|check-|must-|should-|require)")
    assert [name for name in names if remedies.match(name)] == []


def test_codes_written_by_hand_are_those_of_rules() -> None:
    """Faults of the text and of fields carry their code from where they are found, far from the rule."""
    written = {
        code
        for path in (PACKAGE / "model").glob("*.py")
        for code in re.findall(r'"([A-Z]{3}[0-9]{3})"', path.read_text(encoding="utf-8"))
    }
    assert written
    assert written <= set(RULES)


@pytest.mark.parametrize("rule", RULES.values(), ids=list(RULES))
def test_every_rule_is_documented_in_full(rule: AnyRule) -> None:
    assert rule.summary.endswith(".")
    assert len(rule.why.split()) >= 8
    assert rule.bad
    assert rule.good


@pytest.mark.parametrize("code", RULES)
def test_explain_shows_all_that_is_written_of_a_rule(code: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["explain", code]) == 0
    shown = capsys.readouterr().out
    rule = RULES[code]
    assert shown.startswith(f"{code} {rule.name} ({rule.severity.value})\n")
    for part in (rule.summary, rule.why):
        assert part in shown
    for example in (*rule.bad, *rule.good):
        for path, text in example.files:
            assert f"# kb/{path}" in shown
            assert all(line.strip() in shown for line in text.splitlines())


def test_every_code_is_used_in_a_test() -> None:
    assert {case.code for case in ALL_CASES} == set(RULES)
