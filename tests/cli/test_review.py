"""`shearpin review`: writes reviews that hold, lists those that do not, and refuses what it cannot vouch for."""

from __future__ import annotations

import json
import os
from datetime import date
from pathlib import Path

import pytest

from shearpin.cli.main import main
from tests.sound_book import SOUND_BOOK, lay_over

D24 = "machines/brook-d24.yaml"


@pytest.fixture
def kb(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    folder = lay_over(tmp_path, {})
    monkeypatch.chdir(tmp_path)
    return folder


def _texts(kb: Path) -> dict[str, bytes]:
    return {path.relative_to(kb).as_posix(): path.read_bytes() for path in kb.rglob("*") if path.is_file()}


def test_a_review_is_written_and_lapses_when_a_figure_changes(
    kb: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    command = ["review", "machine/brook-d24", "pin-punch", "--by", "lead instructor", "--on", "2026-11-28"]
    assert main(command) == 0
    assert capsys.readouterr().out == "2 records reviewed by the lead instructor on 2026-11-28\n"
    assert main(["review", "--list", "--state", "lapsed"]) == 0
    assert capsys.readouterr().out == "2 reviewed, 0 lapsed, 0 unbound, 16 draft, 0 withdrawn\n"
    text = (kb / D24).read_text(encoding="utf-8")
    (kb / D24).write_text(text.replace("8 N·m", "8.5 N·m"), encoding="utf-8")
    assert main(["review", "--list", "--state", "lapsed"]) == 1
    assert capsys.readouterr().out == (
        "machine/brook-d24: lapsed: changed since the review (lead instructor, 2026-11-28)\n"
        "1 reviewed, 1 lapsed, 0 unbound, 16 draft, 0 withdrawn\n"
    )


def test_only_the_named_records_are_written(kb: Path) -> None:
    before = _texts(kb)
    assert main(["review", "tools/pin-punch", "--by", "mechanic"]) == 0
    after = _texts(kb)
    assert {name for name in after if after[name] != before.get(name)} == {"tools/pin-punch.yaml"}
    added = after["tools/pin-punch.yaml"].removeprefix(before["tools/pin-punch.yaml"]).decode()
    assert added.startswith(f"review: {{state: reviewed, by: mechanic, on: {date.today()}, digest: ")


def test_one_record_that_cannot_be_written_leaves_all_as_they_were(
    kb: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    before = _texts(kb)
    replace = os.replace

    def refuse(source: Path, target: Path) -> None:
        if Path(target).name == "torque-wrench.yaml":
            raise OSError(28, "No space left on device")
        replace(source, target)

    monkeypatch.setattr(os, "replace", refuse)
    assert main(["review", "pin-punch", "torque-wrench", "--by", "mechanic"]) == 1
    assert "No space left on device; everything is as it was before" in capsys.readouterr().err
    assert _texts(kb) == before


def test_the_list_is_json_for_programs(kb: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["review", "pin-punch", "--by", "mechanic", "--on", "2026-11-28", "--json"]) == 0
    assert json.loads(capsys.readouterr().out) == {
        "reviewed": ["tool/pin-punch"],
        "state": "reviewed",
        "by": "mechanic",
        "on": "2026-11-28",
    }
    assert main(["review", "--list", "--json"]) == 1
    listed = json.loads(capsys.readouterr().out)
    assert listed["counts"] == {"reviewed": 1, "lapsed": 0, "unbound": 0, "draft": 17, "withdrawn": 0}
    assert {"id": "machine/brook-d24", "state": "draft", "by": None, "on": None} in listed["records"]
    assert len(listed["records"]) == 17


@pytest.mark.parametrize(
    ("words", "code", "says"),
    [
        (["pin-punch", "--by", "John Doe"], 2, "no names of people"),
        (["pin-punch", "--by", "a: b}"], 2, "no names of people"),
        (["pin-punch"], 2, "--by ROLE"),
        ([], 2, "--list"),
        (["--list", "pin-punch"], 2, "leave out ids"),
        (["pin-punsh", "--by", "mechanic"], 2, "did you mean `pin-punch`?"),
        (["../pin-punch", "--by", "mechanic"], 2, "no kind of record"),
        (["auger-shear-bolt-sheared", "tol/x", "--by", "mechanic"], 2, "no kind of record called `tol`"),
        (["shear-bolt", "--by", "mechanic"], 2, "write term/shear-bolt"),
        (["pin-punch", "--by", "mechanic", "--on", "2026-02-30"], 2, "not a date"),
    ],
)
def test_what_cannot_be_meant_is_refused_and_nothing_is_written(
    words: list[str], code: int, says: str, kb: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    before = _texts(kb)
    assert main(["review", *words]) == code
    assert says in capsys.readouterr().err
    assert _texts(kb) == before


def test_a_record_with_errors_is_not_reviewed_nor_is_any_other_of_the_same_call(
    kb: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = kb / "terms" / "shear-bolt.yaml"
    path.write_text(
        path.read_text(encoding="utf-8").replace("title:", "titel: x\ntitle:", 1), encoding="utf-8"
    )
    before = _texts(kb)
    assert main(["review", "pin-punch", "term/shear-bolt", "--by", "mechanic"]) == 1
    assert "kb/terms/shear-bolt.yaml has errors" in capsys.readouterr().err
    assert _texts(kb) == before


def test_a_value_says_who_reviewed_it(kb: Path, capsys: pytest.CaptureFixture[str]) -> None:
    question = ["value", "auger-shear-bolt.torque", "--machine", "brook-d24"]
    assert main(["review", "machine/brook-d24", "--by", "mechanic", "--on", "2026-11-28"]) == 0
    capsys.readouterr()
    assert main([*question, "--json"]) == 0
    held = {"state": "reviewed", "by": "mechanic", "on": "2026-11-28"}
    assert json.loads(capsys.readouterr().out)["review"] == held
    assert main(question) == 0
    assert "reviewed by the mechanic, 2026-11-28" in capsys.readouterr().out


def test_the_sound_book_has_no_reviews(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["review", "--list", "--kb", str(SOUND_BOOK), "--state", "draft"]) == 1
    assert capsys.readouterr().out.count("not reviewed") == 18
