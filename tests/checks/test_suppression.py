"""Suppressions: one rule, one record, one reason, and never silently."""

from __future__ import annotations

from pathlib import Path

from shearpin.model.finding import Severity
from tests.sound_book import check_over

PUNCH = "tools/pin-punch.yaml"
HIDDEN = "title: Pin punch\nsummary: Drives she\u200bar bolts.\nalso: [a\u200bb]\n"


def test_a_suppression_holds_back_every_finding_of_its_code_in_its_record(tmp_path: Path) -> None:
    text = HIDDEN + "ignore: [{code: FMT006, reason: shows the fault}]\n"
    assert check_over(tmp_path, {PUNCH: text}) == ()


def test_a_suppression_holds_back_no_other_code(tmp_path: Path) -> None:
    text = HIDDEN + "made: a\nignore: [{code: FMT006, reason: shows the fault}]\n"
    assert [finding.code for finding in check_over(tmp_path, {PUNCH: text})] == ["FLD001"]


def test_a_suppression_holds_back_nothing_in_other_records(tmp_path: Path) -> None:
    text = HIDDEN + "ignore: [{code: FMT006, reason: shows the fault}]\n"
    other = "title: Torque wrench\nsummary: Tight\u200bens.\n"
    (finding,) = check_over(tmp_path, {PUNCH: text, "tools/torque-wrench.yaml": other})
    assert finding.path == "kb/tools/torque-wrench.yaml"


def test_a_suppression_may_hold_back_what_needs_the_whole_book(tmp_path: Path) -> None:
    text = "title: Drift\nsummary: A rod.\nignore: [{code: REF007, reason: kept for next term}]\n"
    assert check_over(tmp_path, {"tools/drift.yaml": text}) == ()


def test_an_unused_suppression_is_a_warning(tmp_path: Path) -> None:
    text = "title: Pin punch\nsummary: a\nignore: [{code: FMT006, reason: once}]\n"
    (finding,) = check_over(tmp_path, {PUNCH: text})
    assert (finding.code, finding.severity) == ("SUP001", Severity.WARNING)
    assert finding.message == "`FMT006` finds nothing here, so there is nothing to suppress"


def test_a_code_that_does_not_exist_is_answered_with_the_nearest(tmp_path: Path) -> None:
    text = "title: Pin punch\nsummary: a\nignore: [{code: FMT060, reason: once}]\n"
    (finding,) = check_over(tmp_path, {PUNCH: text})
    assert finding.message == "no rule has the code `FMT060`"
    assert finding.help == "did you mean `FMT006`?"


def test_the_rule_on_suppressions_cannot_be_suppressed(tmp_path: Path) -> None:
    text = "title: Pin punch\nsummary: a\nignore:\n- {code: FMT006, reason: once}\n- {code: SUP001, reason: never}\n"
    findings = check_over(tmp_path, {PUNCH: text})
    assert [(finding.code, finding.line) for finding in findings] == [("SUP001", 4), ("SUP001", 5)]


def test_a_suppression_without_a_reason_suppresses_nothing(tmp_path: Path) -> None:
    text = HIDDEN + "ignore: [{code: FMT006}]\n"
    assert [finding.code for finding in check_over(tmp_path, {PUNCH: text})] == ["FMT006", "FMT006", "FLD002"]
