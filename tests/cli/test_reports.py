"""Findings for other programs: SARIF that the standard's own checker accepts, workflow commands, hook definitions."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from ruamel.yaml import YAML

from shearpin.catalogue import RULES
from shearpin.cli.main import COMMANDS, main
from shearpin.cli.reports import as_sarif, as_workflow_commands
from shearpin.model.finding import Finding, Severity
from tests.sound_book import lay_over, swap

ROOT = Path(__file__).resolve().parents[2]
MULTITOOL = ROOT / "tests/node_modules/@microsoft/sarif-multitool-linux/Sarif.Multitool"
NASTY = [
    Finding("kb/a b,c:d%.yaml", 1, 2, "FMT001", "50 % of `x`: a, b", "first\r\nsecond", Severity.ERROR),
    Finding("kb/ü.yaml", 3, 4, "LNG001", "21 words", "", Severity.WARNING, ("kb/x y.yaml:5:6",)),
]


@pytest.fixture
def faulty(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    lay_over(tmp_path, swap("machines/brook-t28.yaml", "9 ± 1 N·m", "90 N·m"))
    monkeypatch.chdir(tmp_path)
    return tmp_path


def _sarif(capsys: pytest.CaptureFixture[str]) -> dict[str, Any]:
    assert main(["check", "--format", "sarif"]) == 1
    return dict(json.loads(capsys.readouterr().out))


def test_a_finding_is_a_result_with_rule_place_and_related_place(
    faulty: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (run,) = _sarif(capsys)["runs"]
    (result,) = run["results"]
    rule = run["tool"]["driver"]["rules"][result["ruleIndex"]]
    assert rule["id"] == result["ruleId"] == "QTY003"
    assert rule["name"] == "ValueOutsideItsBand"
    assert result["level"] == "error"
    place = result["locations"][0]["physicalLocation"]
    assert place == {
        "artifactLocation": {"uri": "kb/machines/brook-t28.yaml"},
        "region": {"startLine": 8, "startColumn": 33},
    }
    related = result["relatedLocations"][0]["physicalLocation"]
    assert related["artifactLocation"]["uri"] == "kb/values/auger-shear-bolt.torque.yaml"
    assert result["message"]["text"].startswith("`90 N·m` is outside the plausible range")


def test_every_rule_is_described_once() -> None:
    (run,) = as_sarif([], RULES)["runs"]
    assert [rule["id"] for rule in run["tool"]["driver"]["rules"]] == list(RULES)


def test_a_fingerprint_stays_when_the_line_moves_and_changes_with_the_message() -> None:
    moved = [
        Finding("kb/a.yaml", line, 1, "FMT001", message) for line, message in ((1, "x"), (9, "x"), (9, "y"))
    ]
    results = as_sarif(moved, RULES)["runs"][0]["results"]
    prints = [result["partialFingerprints"]["codePathMessage/v1"] for result in results]
    assert prints[0] == prints[1] != prints[2]


def test_paths_are_uris_and_no_uri_leads_upward() -> None:
    outside = Finding("../other/kb/a.yaml", 1, 1, "FMT001", "x")
    results = as_sarif([*NASTY, outside], RULES)["runs"][0]["results"]
    uris = [result["locations"][0]["physicalLocation"]["artifactLocation"]["uri"] for result in results]
    assert uris[:2] == ["kb/a%20b%2Cc%3Ad%25.yaml", "kb/%C3%BC.yaml"]
    assert uris[2].startswith("file:///")
    assert ".." not in uris[2]


@pytest.mark.skipif(sys.platform != "linux", reason="the checker's Linux program is installed")
def test_the_checker_of_the_standard_finds_nothing_wrong(
    faulty: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """SARIF Multitool (npm) checks against the OASIS schema and its own rules, all levels."""
    if not MULTITOOL.is_file():
        message = "the SARIF checker is not installed: `npm ci` in tests/"
        if os.environ.get("CI") == "true":
            pytest.fail(message)
        pytest.skip(message)
    if not os.access(MULTITOOL, os.X_OK):
        MULTITOOL.chmod(0o755)
    for name, log in (
        ("book", _sarif(capsys)),
        ("nasty", as_sarif(NASTY, RULES)),
        ("none", as_sarif([], RULES)),
    ):
        path = tmp_path / f"{name}.sarif"
        path.write_text(json.dumps(log), encoding="utf-8")
        report = tmp_path / f"{name}.report.sarif"
        command = [str(MULTITOOL), "validate", str(path), "--output", str(report), "--level", "Error;Warning"]
        done = subprocess.run(
            command,
            capture_output=True,
            encoding="utf-8",
            check=False,
            env={**os.environ, "DOTNET_SYSTEM_GLOBALIZATION_INVARIANT": "1"},
        )
        assert report.is_file(), done.stdout + done.stderr
        results = json.loads(report.read_text(encoding="utf-8-sig"))["runs"][0]["results"]
        # SARIF2005 asks for the address of a home page; there is none to give.
        assert {result["ruleId"] for result in results} <= {"SARIF2005"}, results


def test_workflow_commands_escape_what_would_end_them() -> None:
    """Data: %, CR, LF; properties also `:` and `,` (the documentation of workflow commands, from memory)."""
    assert as_workflow_commands(NASTY, RULES) == [
        "::error file=kb/a b%2Cc%3Ad%25.yaml,line=1,col=2,title=FMT001 unreadable-yaml"
        "::50 %25 of `x`: a, b%0Afirst%0D%0Asecond",
        "::warning file=kb/ü.yaml,line=3,col=4,title=LNG001 long-instruction::21 words",
    ]


def test_a_finding_is_one_line_of_workflow_commands(faulty: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", "--format", "github"]) == 1
    (line,) = capsys.readouterr().out.splitlines()
    assert line.startswith("::error file=kb/machines/brook-t28.yaml,line=8,col=33,title=QTY003 ")


def test_the_json_form_has_two_names(faulty: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", "--json"]) == 1
    first = capsys.readouterr().out
    assert main(["check", "--format", "json"]) == 1
    assert capsys.readouterr().out == first


def test_hooks_run_commands_that_exist() -> None:
    hooks = YAML(typ="safe").load((ROOT / ".pre-commit-hooks.yaml").read_text(encoding="utf-8"))
    assert [hook["id"] for hook in hooks] == ["shearpin-check", "shearpin-format"]
    for hook in hooks:
        assert {"id", "name", "entry", "language", "files"} <= set(hook)
        program, command, *_ = hook["entry"].split()
        assert program == "shearpin"
        assert command in COMMANDS
        assert hook["pass_filenames"] is False
