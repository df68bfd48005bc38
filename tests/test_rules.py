"""Every rule finds what its documentation says it finds, where it says, and nothing else."""

from __future__ import annotations

import re
import sys
from pathlib import Path

import pytest

from shearpin.book.linked import load_linked
from shearpin.catalogue import RULES
from shearpin.checks.rule import Example
from shearpin.inspection import inspect_book
from tests.rule_cases import ALL_CASES
from tests.rule_cases.case import Case
from tests.sound_book import SOUND_BOOK, check_over

BAD = [(code, example) for code, rule in RULES.items() for example in rule.bad]
GOOD = [(code, example) for code, rule in RULES.items() for example in rule.good]


def _ids(examples: list[tuple[str, Example]]) -> list[str]:
    return [code for code, _ in examples]


def _skip_what_this_system_cannot_hold(folder: Path, names: list[str]) -> None:
    if sys.platform == "win32" and any(Path(name).stem == "aux" for name in names):
        pytest.skip("this system keeps that name for a device")
    if len({name.casefold() for name in names}) < len(set(names)):
        (folder / "a").touch()
        if (folder / "A").exists():
            pytest.skip("this file system does not tell capitals apart, so the fault cannot arise")


def test_the_sound_book_is_sound() -> None:
    assert inspect_book(load_linked(SOUND_BOOK, "kb")) == ()


@pytest.mark.parametrize(("code", "example"), BAD, ids=_ids(BAD))
def test_a_bad_example_yields_its_own_code_and_no_other(code: str, example: Example, tmp_path: Path) -> None:
    _skip_what_this_system_cannot_hold(tmp_path, [name for name, _ in example.files])
    findings = check_over(tmp_path, dict(example.files))
    assert {finding.code for finding in findings} == {code}, "\n".join(map(str, findings))
    if example is RULES[code].bad[0] and RULES[code].hint:
        assert RULES[code].hint in {finding.help for finding in findings}


@pytest.mark.parametrize(("code", "example"), GOOD, ids=_ids(GOOD))
def test_a_good_example_yields_nothing(code: str, example: Example, tmp_path: Path) -> None:
    findings = check_over(tmp_path, dict(example.files))
    assert findings == (), f"{code}: " + "\n".join(map(str, findings))


@pytest.mark.parametrize("case", ALL_CASES, ids=str)
def test_a_fault_is_found_at_its_place(case: Case, tmp_path: Path) -> None:
    _skip_what_this_system_cannot_hold(tmp_path, list(case.files))
    findings = check_over(tmp_path, case.files)
    found = [
        f"{finding.path.removeprefix('kb/')}:{finding.line}:{finding.column} {finding.code}"
        for finding in findings
    ]
    assert found == [f"{place} {case.code}" for place in case.places], "\n".join(map(str, findings))


def test_every_rule_has_a_case_with_its_place() -> None:
    assert {case.code for case in ALL_CASES if case.places} == set(RULES)


def test_every_rule_has_a_case_just_short_of_its_fault() -> None:
    assert {case.code for case in ALL_CASES if not case.places} == set(RULES)


def test_every_place_names_line_and_column() -> None:
    assert all(re.search(r":[1-9]\d*:[1-9]\d*$", place) for case in ALL_CASES for place in case.places)
