"""Findings as a writer meets them: words, advice, other places, severity and order."""

from __future__ import annotations

from pathlib import Path

import pytest

from shearpin import inspection
from shearpin.book.linked import load_linked
from shearpin.catalogue import RULES
from shearpin.checks.rule import Fault
from shearpin.inspection import WARNINGS, Inspection, explain_code, inspect_book
from shearpin.model.finding import Finding, Severity
from shearpin.places import Places
from tests.rule_cases import ALL_CASES
from tests.sound_book import check_over, lay_over, read_over, swap

PUNCH = "tools/pin-punch.yaml"


@pytest.mark.parametrize(
    ("files", "message", "advice"),
    [
        (
            {PUNCH: "title: A\nsummary: Like {part:auger-sheer-bolt}.\n"},
            "there is no part `auger-sheer-bolt`",
            "did you mean `auger-shear-bolt`?",
        ),
        (
            {PUNCH: "title: A\nsummary: Like {part:friction-ring}.\n"},
            "there is no part `friction-ring`",
            "begin it with `shearpin new part friction-ring`, or correct the id",
        ),
        (
            {PUNCH: "title: A\nsummary: Like {tol:pin-punch}.\n"},
            "there is no kind of record called `tol`",
            "did you mean `tool`?",
        ),
        (
            {PUNCH: "title: A\nsummary: Like {part:pin-punch}.\n"},
            "`pin-punch` is a tool, and here a part is meant",
            "name a part",
        ),
        (
            {PUNCH: "title: A\nsummary: Set to {auger-shear-bolt.tork}.\n"},
            "nobody defines the value `auger-shear-bolt.tork`",
            "did you mean `auger-shear-bolt.torque`?",
        ),
        (
            {PUNCH: "title: A\nsummary: B.\ncautions: rotating-augr\n"},
            "there is no caution `rotating-augr`",
            "did you mean `rotating-auger`?",
        ),
        (
            swap("procedures/make-machine-safe.yaml", "switch.", "switch.\n    action: run-enjine"),
            "no caution covers the action `run-enjine`",
            "did you mean `run-engine`?",
        ),
        (
            swap("parts/auger-shear-bolt.yaml", "{class: two-stage}", "{class: two-stag}"),
            "no machine of the book has the class `two-stag`",
            "did you mean `two-stage`?",
        ),
        (
            swap("parts/auger-shear-bolt.yaml", "{class: two-stage}", "{fitted: lamp}"),
            "no machine of the book has the feature `lamp`",
            "known: engine, friction-drive, recoil-start, tracks",
        ),
        (
            swap("machines/brook-t28.yaml", "9 ± 1 N·m", "90 N·m"),
            "`90 N·m` is outside the plausible range 4–15 N·m of `auger-shear-bolt.torque`",
            "correct the figure, or widen `band` with its source",
        ),
        (
            swap("machines/brook-t28.yaml", "9 ± 1 N·m", "9 lb"),
            "`lb` is a unit of mass, not of torque",
            "a torque needs a distance too: write `lbf·ft` or `lbf·in`",
        ),
        (
            swap(
                "procedures/make-machine-safe.yaml", "time: 3 min", "before: make-machine-safe\ntime: 3 min"
            ),
            "a circle: `make-machine-safe` → `make-machine-safe`",
            "drop one of the `before`",
        ),
        (
            swap("cautions/rotating-auger.yaml", "DANGER", "NOTICE"),
            "`NOTICE` contradicts harm `serious` that `will` follow",
            "by ANSI Z535 the word is `DANGER`; correct the word, or `severity` and `likelihood`",
        ),
    ],
)
def test_a_finding_says_what_is_wrong_and_what_to_do(
    files: dict[str, str], message: str, advice: str, tmp_path: Path
) -> None:
    (finding,) = check_over(tmp_path, files)
    assert finding.message == message
    assert finding.help == advice


def test_a_value_that_is_missing_names_who_waits_for_it(tmp_path: Path) -> None:
    entry = "values:\n  auger-shear-bolt.torque: {is: 8 N·m, basis: demo}\n"
    (finding,) = check_over(tmp_path, swap("machines/brook-d24.yaml", entry, ""))
    waiting = "`auger-shear-bolt.torque` is missing here; waiting for it: `replace-auger-shear-bolt`"
    assert finding.message == waiting


def test_the_other_place_of_a_finding_is_named(tmp_path: Path) -> None:
    (finding,) = check_over(tmp_path, swap("machines/brook-t28.yaml", "9 ± 1 N·m", "90 N·m"))
    assert finding.related == ("kb/values/auger-shear-bolt.torque.yaml:5:7",)


SAFE = "procedures/make-machine-safe.yaml"


def test_a_fault_that_many_records_share_hides_all_of_them(tmp_path: Path) -> None:
    (finding,) = check_over(
        tmp_path, swap(SAFE, "isolates:", "applies_to: {fitted: friction-drive}\nisolates:")
    )
    assert finding.path == f"kb/{SAFE}"
    assert finding.hides == (
        "kb/procedures/replace-auger-shear-bolt.yaml",
        "kb/tests/shear-bolt-inspection.yaml",
    )


def test_more_of_a_kind_than_are_listed_hide_their_records_too(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    linked = read_over(tmp_path, {})
    rule = RULES["SAF005"]
    faults = [(rule, Fault(SAFE, (), f"fault {n}", hides=(f"tests/{n}.yaml",))) for n in range(4)]
    monkeypatch.setattr(inspection, "MAX_ALIKE", 2)
    findings = inspection._placed(linked, faults, Places(linked.book))
    assert {path for each in findings for path in each.hides} == {f"kb/tests/{n}.yaml" for n in range(4)}


def test_a_finding_prints_its_place_severity_and_code(tmp_path: Path) -> None:
    (finding,) = check_over(tmp_path, {PUNCH: "title: A\nsummary: B.\nspecial: perhaps\n"})
    assert str(finding) == f"kb/{PUNCH}:3:10: error[FLD004] `special`: expected `yes` or `no`"


def test_findings_sort_by_path_line_column_and_code() -> None:
    ordered = [
        Finding("a", 1, 2, "B", "x"),
        Finding("a", 1, 10, "A", "x"),
        Finding("a", 2, 1, "A", "x"),
        Finding("a", 2, 1, "B", "x"),
        Finding("b", 1, 1, "A", "x"),
    ]
    assert sorted(set(ordered)) == ordered


def test_warnings_are_what_the_author_should_look_at_and_nothing_that_misleads() -> None:
    warnings = {code for code, rule in RULES.items() if rule.severity is Severity.WARNING}
    assert warnings == {"LNG001", "REF007", "SUP001", "VAL005", "VAL006", "TRQ002", "TRQ004", "DRV003"} | {
        "FIG003", "FIG005", "SAF006", "CON002", "CON004", "CON005", "CON006", "CON007", "CON008", "CON009", "LNG002",
        "DIA007", "DIA008", "TRN003", "LNG003", "LNG004", "LNG005", "LNG006", "LNG007", "LNG008", "LNG009", "LNG010",
    }  # fmt: skip


@pytest.fixture(scope="module")
def all_findings(tmp_path_factory: pytest.TempPathFactory) -> list[Finding]:
    """One finding or more of every rule."""
    findings: list[Finding] = []
    for code in RULES:
        example = RULES[code].bad[0]
        findings += check_over(tmp_path_factory.mktemp(code), dict(example.files))
    return findings


def test_messages_are_lower_case_without_a_full_stop_and_come_with_advice(
    all_findings: list[Finding],
) -> None:
    assert len(all_findings) >= len(RULES) - 1
    for finding in all_findings:
        first = finding.message[0]
        assert first in "`“…0123456789" or first.islower() or finding.message.startswith("U+"), finding
        assert not finding.message.endswith("."), finding
        assert "\n" not in finding.message, finding
        assert finding.help, finding
        assert finding.help[0] == finding.help[0].lower() or finding.code in (
            "FLD001",
            "FLD002",
            "FLD003",
            "FLD004",
        )


@pytest.mark.parametrize("wanted", ["XYZ003", "REF01", "rotating", ""])
def test_an_unknown_code_is_answered_in_words(wanted: str) -> None:
    assert isinstance(explain_code(wanted), str)


@pytest.mark.parametrize(
    "wanted", ["REF001", "ref001", " REF001 ", "dangling-reference", "Dangling-Reference"]
)
def test_a_rule_is_found_by_code_or_name(wanted: str) -> None:
    assert explain_code(wanted) is RULES["REF001"]


def test_cases_have_names_of_their_own() -> None:
    names = [str(case) for case in ALL_CASES]
    assert len(names) == len(set(names))


@pytest.mark.filterwarnings("ignore:.*fork:DeprecationWarning")
@pytest.mark.parametrize("shares", [2, 3])
def test_several_processes_find_what_one_finds(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, shares: int
) -> None:
    files: dict[str, str | bytes | None] = {
        PUNCH: "title: A\nsummary: Like {part:auger-sheer-bolt}.\n",
        "tools/broken.yaml": "title: [",
        "parts/auger-shear-bolt.yaml": None,
    }
    kb = lay_over(tmp_path, files)
    alone = load_linked(kb, "kb")
    monkeypatch.setattr("shearpin.book.readfiles.shares_for", lambda records: shares)
    monkeypatch.setattr("shearpin.inspection.shares_for", lambda records: shares)
    together = load_linked(kb, "kb")
    assert together.book.files == alone.book.files
    assert inspect_book(together) == inspect_book(alone) != ()


FAULTY: dict[str, str | bytes | None] = {
    PUNCH: "title: Pin punch\nsummary: Like {part:auger-sheer-bolt}, Pin Punch.\nignore: [{code: REF007, reason: no other}]\n",
    "tools/drift.yaml": "title: Pin punch\nsummary: Drives out what the auger bolt punch wrench pin leaves.\n",
}


def test_errors_come_first_and_the_rest_completes_them(tmp_path: Path) -> None:
    linked = load_linked(lay_over(tmp_path, FAULTY), "kb")
    every = inspect_book(linked)
    assert {finding.severity for finding in every} == set(Severity)
    inspection = Inspection(linked)
    assert inspection.errors() == tuple(f for f in every if f.severity is Severity.ERROR)
    some = inspection.warnings_found(range(0, len(WARNINGS), 2))
    assert inspection.all_findings(some) == every


def test_warnings_that_nobody_wants_any_more_are_not_looked_for(tmp_path: Path) -> None:
    linked = load_linked(lay_over(tmp_path, FAULTY), "kb")
    assert Inspection(linked).warnings_found(unwanted=lambda: True) == {}
