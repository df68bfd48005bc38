"""The gist of a record: what is kept of it is what the record says, and it leaves out nothing that is asked of it."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from shearpin.book.gist import NOTHING, gist_of
from shearpin.book.linked import LinkedBook, load_linked
from shearpin.book.prose import prose_of_book
from shearpin.book.written_figures import find_figures
from shearpin.model.heading import summary_of
from shearpin.model.keptfile import KeptFile
from tests.conftest import ROOT
from tests.rule_cases import ALL_CASES
from tests.sound_book import read_over, swap

BOLT = "procedures/replace-auger-shear-bolt.yaml"


@pytest.fixture(scope="module")
def kept(tmp_path_factory: pytest.TempPathFactory) -> LinkedBook:
    """The demonstration book as it is read a second time, no record of it made yet."""
    kb = Path(shutil.copytree(ROOT / "kb", tmp_path_factory.mktemp("gist") / "kb"))
    load_linked(kb, "kb")
    return load_linked(kb, "kb")


def test_what_is_kept_of_a_record_is_its_gist(kept: LinkedBook) -> None:
    gists = {key: kept.book.gist(*key) for key in kept.book.all_keys()}
    assert sum(isinstance(file, KeptFile) and file.waits for file in kept.book.files) > len(gists) / 2
    assert gists == {key: gist_of(record) for key, record in kept.book.records()}
    assert kept.book.gist("tool", "nobody-has-it") == NOTHING


def test_what_lists_show_of_a_record_is_told_without_making_it(kept: LinkedBook) -> None:
    book = load_linked(kept.book.kb, "kb").book
    waiting = {key for key, file in book.file_of.items() if isinstance(file, KeptFile) and file.waits}
    told = {key: (book.summary(*key), book.condition(*key), book.systems_of(*key)) for key in book.all_keys()}
    assert {key for key in waiting if book.file_of[key].waits} == waiting  # type: ignore[attr-defined]
    assert told == {
        key: (summary_of(record), getattr(record, "applies_to", None), getattr(record, "systems", ()))
        for key, record in book.records()
    }
    assert sum(condition is not None for _, condition, _ in told.values()) > 50
    nothing = ("tool", "nobody-has-it")
    assert (book.summary(*nothing), book.condition(*nothing), book.systems_of(*nothing)) == ("", None, ())


def test_it_says_what_relations_hang_on(tmp_path: Path) -> None:
    linked = read_over(tmp_path, {})
    procedure = linked.book.gist("procedure", "replace-auger-shear-bolt")
    assert procedure.before == ("make-machine-safe",)
    assert procedure.causes == (("auger-shear-bolt-sheared", None),)
    assert [names for _, names in procedure.shows] == [("auger-shear-bolt.torque",)]
    assert procedure.sourced
    assert linked.book.gist("procedure", "make-machine-safe").isolates
    assert linked.book.causes_of("test") == linked.book.causes_of("symptom") == {"auger-shear-bolt-sheared"}


def test_values_of_steps_for_some_machines_are_told_apart(tmp_path: Path) -> None:
    step = "  - do: Tighten to {auger-shear-bolt.torque}.\n    applies_to: {machines: brook-d24}\n"
    linked = read_over(tmp_path, swap(BOLT, "finish:\n", f"finish:\n{step}"))
    shows = linked.book.gist("procedure", "replace-auger-shear-bolt").shows
    assert [condition.machines if condition else None for condition, _ in shows] == [None, ("brook-d24",)]


def test_every_figure_that_is_written_out_is_in_a_record_that_may_have_one(
    kept: LinkedBook, tmp_path: Path
) -> None:
    """Over every faulty book, and the demonstration book."""
    books = [read_over(tmp_path / str(number), case.files) for number, case in enumerate(ALL_CASES)]
    found = 0
    for linked in (*books, kept):
        prose = prose_of_book(linked.book)
        figures = find_figures(linked.book, linked.applicability, linked.values, prose)
        assert linked.written_figures == figures
        found += len(figures)
    assert found > 5
    assert not all(kept.book.gist(*key).figures for key in kept.book.all_keys())


@pytest.mark.parametrize(
    "figure",
    [
        "12 N·m",
        "≤12N m",
        "3/8 in",
        "1 1/4 in.",
        "5–7 mm",
        "5 to 7 mm",
        "24 ± 2 lb-ft",
        "٣ mm",
        "0,7 mm",
        "12 V",
    ],
)
def test_each_way_to_write_a_figure_is_seen(tmp_path: Path, figure: str) -> None:
    linked = read_over(tmp_path, swap(BOLT, "as designed.", f"as designed ({figure}). It is new."))
    assert linked.book.gist("procedure", "replace-auger-shear-bolt").figures
