"""Coverage: what is ready for a machine, what waits and for what, and what no page leads to."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from shearpin.book.coverage import Cell, Coverage
from shearpin.book.review import ReviewState
from tests.sound_book import read_over, swap

D24 = "machines/brook-d24.yaml"
ENTRY = "values:\n  auger-shear-bolt.torque: {is: 8 N·m, basis: demo}\n"
REPLACE = "procedures/replace-auger-shear-bolt.yaml"
SYMPTOM = "one-side-of-auger-does-not-turn"


def _coverage(folder: Path, files: Mapping[str, str | bytes | None]) -> Coverage:
    linked = read_over(folder, files)
    return Coverage(linked, linked.safety.pages_with, linked.reviews.of)


def test_in_a_sound_book_everything_is_ready(tmp_path: Path) -> None:
    coverage = _coverage(tmp_path, {})
    assert set(coverage.symptoms) == {(SYMPTOM, "brook-d24"), (SYMPTOM, "brook-t28")}
    assert all(cell.ready for cell in (*coverage.symptoms.values(), *coverage.procedures.values()))
    assert coverage.values == ([], [])
    assert coverage.orphans == []
    assert coverage.unsourced == [("term", "shear-bolt")]


def test_a_value_that_is_missing_holds_up_its_procedure_and_the_symptom(tmp_path: Path) -> None:
    coverage = _coverage(tmp_path, swap(D24, ENTRY, ""))
    waiting = Cell(missing=("auger-shear-bolt.torque",))
    assert coverage.procedures["replace-auger-shear-bolt", "brook-d24"] == waiting
    assert coverage.procedures["replace-auger-shear-bolt", "brook-t28"].ready
    assert coverage.symptoms[SYMPTOM, "brook-d24"] == waiting
    assert coverage.values[0] == [("auger-shear-bolt.torque", "brook-d24")]


def test_a_step_for_another_machine_waits_for_nothing(tmp_path: Path) -> None:
    files = {
        **swap(D24, ENTRY, ""),
        **swap(
            REPLACE,
            "{auger-shear-bolt.torque}.",
            "{auger-shear-bolt.torque}.\n    applies_to: {machines: brook-t28}",
        ),
    }
    assert _coverage(tmp_path, files).procedures["replace-auger-shear-bolt", "brook-d24"].ready


def test_a_cause_without_a_cure_or_a_test_for_the_machine_is_named(tmp_path: Path) -> None:
    only = "applies_to: {machines: brook-t28}"
    files = {
        **swap(REPLACE, "applies_to: {class: two-stage}", only),
        **swap("tests/shear-bolt-inspection.yaml", "applies_to: {class: two-stage}", only),
    }
    symptoms = _coverage(tmp_path, files).symptoms
    cause = ("auger-shear-bolt-sheared",)
    assert symptoms[SYMPTOM, "brook-d24"] == Cell(uncured=cause, untested=cause)
    assert symptoms[SYMPTOM, "brook-t28"].ready


def test_a_value_without_basis_is_unsourced(tmp_path: Path) -> None:
    coverage = _coverage(tmp_path, swap(D24, "is: 8 N·m, basis: demo", "is: 8 N·m"))
    assert coverage.values[1] == [("auger-shear-bolt.torque", "brook-d24")]


def test_records_no_page_leads_to_are_orphans(tmp_path: Path) -> None:
    files = {
        "parts/spare-nut.yaml": "title: Spare nut\nsummary: A nut.\nplate: machine\n",
        "procedures/polish.yaml": "title: Polish\npurpose: It shines.\nsystems: auger-drive\ntime: 1 min\nsteps: [{do: Polish the tube.}]\n",
        "cautions/cold.yaml": "title: Cold\nsignal_word: CAUTION\nhazard: Cold.\nconsequence: Frost.\navoidance: Wear gloves.\nseverity: minor\nlikelihood: could\n",
    }
    assert _coverage(tmp_path, files).orphans == [
        ("procedure", "polish"),
        ("caution", "cold"),
        ("part", "spare-nut"),
    ]


def test_records_are_counted_by_their_review(tmp_path: Path) -> None:
    lapsed = "title: Pin punch\nsummary: A.\nreview: {state: reviewed, digest: 0123456789abcdef}\n"
    reviews = _coverage(tmp_path, {"tools/pin-punch.yaml": lapsed}).reviews
    assert reviews[ReviewState.LAPSED] == [("tool", "pin-punch")]
    assert len(reviews[ReviewState.DRAFT]) == 17
