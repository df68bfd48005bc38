"""`shearpin calendar`: file, print and JSON of one service plan, and plain words for mistakes."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from shearpin.cli.main import main
from tests.sound_book import SOUND_BOOK

KB = str(Path(__file__).resolve().parents[2] / "kb")
D24 = ("--machine", "osmere-d24", "--from", "2026-11-01", "--kb", KB)


def test_file_and_print_hold_the_same(tmp_path: Path, capfdbinary: pytest.CaptureFixture[bytes]) -> None:
    target = tmp_path / "plan.ics"
    target.write_text("old")
    assert main(["calendar", *D24, "--hours-a-week", "2.5", "--out", str(target)]) == 0
    assert b"events for the Osmere D24" in capfdbinary.readouterr().out
    assert main(["calendar", *D24, "--hours-a-week", "2.5"]) == 0
    assert capfdbinary.readouterr().out == target.read_bytes()
    assert target.read_bytes().startswith(b"BEGIN:VCALENDAR\r\nVERSION:2.0\r\n")
    assert [entry.name for entry in tmp_path.iterdir()] == ["plan.ics"]


def test_json_tells_the_events(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["calendar", *D24, "--storage", "2027-03-15", "--json"]) == 0
    document = json.loads(capsys.readouterr().out)
    assert document["machine"] == "osmere-d24"
    assert (document["from"], document["storage"], document["file"]) == ("2026-11-01", "2027-03-15", None)
    assert {"uid", "date", "summary", "description", "rule"} == set(document["events"][0])
    assert {event["date"] for event in document["events"]} == {"2026-11-01", "2027-03-15"}


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--machine", "osmere-d25", "--from", "2026-11-01"], "did you mean `osmere-d2"),
        (["--machine", "osmere-d24", "--from", "1.11.2026"], "--from needs a date such as 2026-11-01"),
        (["--machine", "osmere-d24", "--from", "2026-02-30"], "--from needs a date"),
        (["--machine", "osmere-d24", "--from", "20261101"], "--from needs a date"),
        (["--machine", "osmere-d24", "--from", "9999-12-01"], "--from needs a date"),
        (
            ["--machine", "osmere-d24", "--from", "2026-11-01", "--storage", "2026-11-01"],
            "within a year after",
        ),
        (
            ["--machine", "osmere-d24", "--from", "2026-11-01", "--storage", "2028-04-01"],
            "within a year after",
        ),
        (["--machine", "osmere-d24", "--from", "2026-11-01", "--hours-a-week", "0"], "a number up to 168"),
        (["--machine", "osmere-d24", "--from", "2026-11-01", "--hours-a-week", "nan"], "a number up to 168"),
        (
            ["--machine", "osmere-d24", "--from", "2026-11-01", "--hours-a-week", "1.234"],
            "a number up to 168",
        ),
        (["--from", "2026-11-01"], "--machine"),
    ],
)
def test_mistakes_are_named(words: list[str], said: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["calendar", *words, "--kb", KB]) == 2
    assert said in capsys.readouterr().err


def test_a_machine_without_a_plan_is_said(capsys: pytest.CaptureFixture[str]) -> None:
    machine = next((SOUND_BOOK / "machines").glob("*.yaml")).stem
    words = ["--machine", machine, "--from", "2026-11-01", "--kb", str(SOUND_BOOK)]
    assert main(["calendar", *words]) == 1
    assert "no service plan" in capsys.readouterr().err


def test_a_file_that_cannot_be_written_is_said(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["calendar", *D24, "--out", str(tmp_path / "none" / "plan.ics")]) == 1
    assert "cannot write" in capsys.readouterr().err
