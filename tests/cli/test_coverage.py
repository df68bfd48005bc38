"""`shearpin coverage`: the same holes in words and as JSON, and how plain the words are."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from shearpin.cli.main import main
from tests.sound_book import SOUND_BOOK, lay_over, swap

ENTRY = "values:\n  auger-shear-bolt.torque: {is: 8 N·m, basis: demo}\n"
ROOT = Path(__file__).resolve().parents[2]


def test_a_book_with_a_hole_names_it_and_who_waits(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    kb = lay_over(tmp_path, swap("machines/brook-d24.yaml", ENTRY, ""))
    assert main(["coverage", "--kb", str(kb)]) == 1
    out = capsys.readouterr().out
    assert "symptoms ready by machine: 1 of 2\n" in out
    waits = "    replace-auger-shear-bolt on brook-d24: no value auger-shear-bolt.torque\n"
    assert waits in out
    assert "values not recorded: 1\n    auger-shear-bolt.torque of brook-d24\n" in out


def test_json_says_the_same(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    kb = lay_over(tmp_path, swap("machines/brook-d24.yaml", ENTRY, ""))
    assert main(["coverage", "--json", "--kb", str(kb)]) == 1
    document = json.loads(capsys.readouterr().out)
    assert document["records"] == 18
    assert document["procedures"]["not_ready"] == [
        {
            "procedure": "replace-auger-shear-bolt",
            "machine": "brook-d24",
            "causes_without_cure": [],
            "causes_without_test": [],
            "values_not_recorded": ["auger-shear-bolt.torque"],
        }
    ]
    plain = document["plain_words"]
    assert plain["instructions"] == plain["within_20_words"] == 6
    assert all(hard["record"].startswith(("procedure/", "test/")) for hard in plain["hardest"])


def test_a_sound_book_is_covered(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["coverage", "--kb", str(SOUND_BOOK)]) == 0


def test_procedures_of_the_demonstration_book_read_at_grade_eight_or_lower(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert main(["coverage", "--json", "--kb", str(ROOT / "kb")]) == 0
    plain = json.loads(capsys.readouterr().out)["plain_words"]
    assert plain["grades"]["procedure"] <= 8
    assert plain["within_20_words"] == plain["instructions"]
