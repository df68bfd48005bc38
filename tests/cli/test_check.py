"""`shearpin check`: what it prints, what it returns, and what happens when something else goes wrong."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
import tempfile
from pathlib import Path

import pytest

import shearpin.cli.check as check
from shearpin.cli.main import COMMANDS, main
from tests.sound_book import SOUND_BOOK, lay_over, swap

ROOT = Path(__file__).resolve().parents[2]
PUNCH = "tools/pin-punch.yaml"

FAULTY = {
    PUNCH: "title: Pin punch\nsumary: µ Drives out pins.\nsummary: Drives out she\u200bar bolts.\n",
    **swap("machines/brook-t28.yaml", "9 ± 1 N·m", "90 N·m"),
    "sources/left-over.yaml": "title: A\nnature: institute\nseen: own\nsummary: B.\n",
}


@pytest.fixture
def faulty(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A project whose records have three errors and a warning; the current folder is its top."""
    lay_over(tmp_path, FAULTY)
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_a_sound_book_is_all_clean(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", "--kb", str(SOUND_BOOK)]) == 0
    assert capsys.readouterr() == ("18 records: all clean\n", "")


def test_the_demonstration_book_is_all_clean(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", "--kb", str(ROOT / "kb")]) == 0, capsys.readouterr().out
    assert re.fullmatch(r"\d+ records: all clean\n", capsys.readouterr().out)


def test_findings_are_printed_one_a_line_with_their_help(
    faulty: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["check"]) == 1
    assert capsys.readouterr().out == (
        "kb/machines/brook-t28.yaml:8:33: error[QTY003] `90 N·m` is outside the plausible range 4–15 N·m"
        " of `auger-shear-bolt.torque`\n"
        "    help: correct the figure, or widen `band` with its source\n"
        "    see: kb/values/auger-shear-bolt.torque.yaml:5:7\n"
        "kb/sources/left-over.yaml:1:1: warning[REF007] nothing refers to this source\n"
        "    help: name it where it belongs, or delete it\n"
        "kb/tools/pin-punch.yaml:2:1: error[FLD001] unknown field `sumary`\n"
        "    help: did you mean `summary`?\n"
        "kb/tools/pin-punch.yaml:3:24: error[FMT006] an invisible character, U+200B (zero width space)\n"
        "    help: type it anew, with letters of one alphabet and plain blanks\n"
        "19 records: 3 errors, 1 warning\n"
    )


def test_the_records_are_found_from_a_folder_below(
    faulty: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(faulty / "kb" / "tools")
    assert main(["check"]) == 1
    assert (faulty / "kb" / PUNCH).as_posix() + ":2:1: " in capsys.readouterr().out


def test_the_json_of_findings_has_the_documented_shape(
    faulty: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["check", "--json"]) == 1
    report = json.loads(capsys.readouterr().out)
    assert set(report) == {"records", "findings"}
    assert report["records"] == 19
    keys = {"code", "severity", "path", "line", "column", "message", "help"}
    for finding in report["findings"]:
        assert set(finding) == keys | {"related", "hides"}
        assert finding["severity"] in ("error", "warning")
    assert report["findings"][0] == {
        "code": "QTY003",
        "severity": "error",
        "path": "kb/machines/brook-t28.yaml",
        "line": 8,
        "column": 33,
        "message": "`90 N·m` is outside the plausible range 4–15 N·m of `auger-shear-bolt.torque`",
        "help": "correct the figure, or widen `band` with its source",
        "related": ["kb/values/auger-shear-bolt.torque.yaml:5:7"],
        "hides": [],
    }
    places = [(f["path"], f["line"], f["column"], f["code"]) for f in report["findings"]]
    assert places == sorted(places)


def test_the_json_of_a_sound_book_has_the_same_shape(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", "--kb", str(SOUND_BOOK), "--json"]) == 0
    assert json.loads(capsys.readouterr().out) == {"records": 18, "findings": []}


def test_warnings_alone_are_findings_too(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    kb = lay_over(tmp_path, {"tools/drift.yaml": "title: Drift\nsummary: A rod.\n"})
    assert main(["check", "--kb", str(kb)]) == 1
    assert capsys.readouterr().out.endswith("19 records: 0 errors, 1 warning\n")


def test_one_record_is_one_record(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "terms").mkdir()
    (tmp_path / "terms" / "drift.yaml").write_text("title: Drift\ndefinition: A rod.\n", encoding="utf-8")
    assert main(["check", "--kb", str(tmp_path)]) == 0
    assert capsys.readouterr().out == "1 record: all clean\n"


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["check", "--kb", "absent"], "shearpin check: there is no folder `absent`\n"),
        (["check", "--kbb"], "unrecognized arguments"),
        (["check", "more"], "unrecognized arguments"),
        (["check", "--kb"], "expected one argument"),
        (["chek"], "there is no command `chek`; did you mean `check`?"),
        (["zzz"], "there is no command `zzz`; `shearpin --help` lists the commands"),
    ],
)
def test_wrong_usage_returns_two_and_says_what_is_wrong(
    words: list[str],
    said: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.chdir(tmp_path)
    assert main(words) == 2
    shown = capsys.readouterr()
    assert said in shown.err
    assert shown.out == ""


def test_no_records_anywhere_is_wrong_usage(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    assert main(["check"]) == 2
    assert "name the records with --kb DIR" in capsys.readouterr().err


def test_no_words_show_the_commands_and_are_wrong_usage(capsys: pytest.CaptureFixture[str]) -> None:
    assert main([]) == 2
    shown = capsys.readouterr().out
    assert all(f"  {name}" in shown and summary in shown for name, summary in COMMANDS.items())


@pytest.mark.parametrize("words", [["--help"], ["-h"], ["help"], ["--version"], ["check", "--help"]])
def test_help_and_version_are_no_mistake(words: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert main(words) == 0
    assert "shearpin" in capsys.readouterr().out


@pytest.fixture
def logs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Where logs of our own faults go in this test."""
    folder = tmp_path / "logs"
    folder.mkdir()
    monkeypatch.setattr(tempfile, "tempdir", str(folder))
    return folder


def _break(monkeypatch: pytest.MonkeyPatch, error: BaseException) -> None:
    def fail(*given: object) -> None:
        raise error

    monkeypatch.setattr(check, "verdict_on", fail)


def test_a_fault_of_the_program_returns_three_and_names_a_log(
    logs: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    _break(monkeypatch, RuntimeError("the rule tripped over µ and \udcff"))
    assert main(["check", "--kb", str(SOUND_BOOK)]) == 3
    shown = capsys.readouterr()
    assert shown.out == ""
    assert "Traceback" not in shown.err
    assert "tripped" not in shown.err
    (log,) = logs.iterdir()
    assert str(log) in shown.err
    written = log.read_text(encoding="utf-8")
    assert written.startswith(f"shearpin check --kb {SOUND_BOOK}\n")
    assert "Traceback" in written
    assert "the rule tripped over µ and \\udcff" in written


def test_a_log_that_cannot_be_written_brings_no_traceback_either(
    logs: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    _break(monkeypatch, RuntimeError("a"))
    monkeypatch.setattr(tempfile, "tempdir", str(logs / "absent"))
    assert main(["check", "--kb", str(SOUND_BOOK)]) == 3
    shown = capsys.readouterr().err
    assert "no log could be written" in shown
    assert "Traceback" not in shown


def test_stopping_by_hand_is_no_fault(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    _break(monkeypatch, KeyboardInterrupt())
    assert main(["check", "--kb", str(SOUND_BOOK)]) == 130
    assert capsys.readouterr().err == "stopped\n"


def _run(*words: str, **more: object) -> subprocess.CompletedProcess[bytes]:
    command = [sys.executable, "-m", "shearpin.cli", *words]
    return subprocess.run(command, capture_output=True, check=False, timeout=60, **more)  # type: ignore[call-overload, no-any-return]


def test_a_pipe_gets_utf_8_whatever_the_system_speaks(faulty: Path) -> None:
    done = _run("check", env={**os.environ, "PYTHONIOENCODING": "ascii", "PYTHONUTF8": "0", "LC_ALL": "C"})
    assert done.returncode == 1
    assert "`90 N·m` is outside the plausible range 4–15 N·m" in done.stdout.decode("utf-8")
    assert done.stderr == b""


@pytest.mark.skipif(sys.platform != "linux", reason="only here may a name be any bytes")
def test_a_file_name_that_is_no_text_is_printed_all_the_same(tmp_path: Path) -> None:
    kb = lay_over(tmp_path, {})
    with open(os.fsencode(kb) + b"/terms/\xff.yaml", "wb") as stream:
        stream.write(b"title: A\ndefinition: B.\n")
    done = _run("check", "--kb", str(kb))
    assert done.returncode == 1
    assert b"terms/\\udcff.yaml:1:1: error[REF003]" in done.stdout
    report = json.loads(_run("check", "--json", "--kb", str(kb)).stdout)
    assert [finding["code"] for finding in report["findings"]] == ["REF003"]


@pytest.mark.skipif(sys.platform == "win32", reason="pipes end otherwise there")
def test_a_reader_that_goes_away_is_no_fault(faulty: Path) -> None:
    reading, writing = os.pipe()
    os.close(reading)
    command = [sys.executable, "-m", "shearpin.cli", "check"]
    with os.fdopen(writing, "wb") as stream:
        done = subprocess.run(command, stdout=stream, stderr=subprocess.PIPE, check=False, timeout=60)
    assert done.returncode == 0
    assert done.stderr == b""
