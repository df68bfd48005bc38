"""A kept verdict is the one that a check would find, whatever happened to the records or to what was kept."""

from __future__ import annotations

import random
from collections.abc import Callable
from pathlib import Path

import pytest

import shearpin.inspection as inspection
from shearpin.book.contents import contents_of
from shearpin.book.entries import entries_below
from shearpin.book.failure import BookError
from shearpin.book.linked import load_linked
from shearpin.inspection import inspect_book
from shearpin.model import usercache
from shearpin.verdict import Question, Verdict, verdict_on
from tests.sound_book import lay_over

PUNCH = "tools/pin-punch.yaml"
FAULTY = "title: Pin punch\nsummary: Like {part:auger-sheer-bolt}.\n"


@pytest.fixture
def kb(tmp_path: Path) -> Path:
    return lay_over(tmp_path, {PUNCH: FAULTY})


@pytest.fixture
def worked_out(monkeypatch: pytest.MonkeyPatch) -> list[Path]:
    """The books that were inspected, not answered from what was kept."""
    books: list[Path] = []

    def inspect(linked: inspection.LinkedBook) -> object:
        books.append(linked.book.kb)
        return inspect_book(linked)

    monkeypatch.setattr(inspection, "inspect_book", inspect)
    return books


def test_the_same_records_are_not_inspected_twice(kb: Path, worked_out: list[Path]) -> None:
    first = verdict_on(kb, "kb")
    assert [finding.code for finding in first.findings] == ["REF001"]
    assert verdict_on(kb, "kb") == first
    assert len(worked_out) == 1


def test_another_name_for_the_folder_is_another_verdict(kb: Path) -> None:
    verdict_on(kb, "kb")
    assert verdict_on(kb, "there").findings[0].path == f"there/{PUNCH}"


def _written(path: Path) -> None:
    path.parent.mkdir(parents=True)
    path.write_text("- [")


CHANGES: dict[str, Callable[[Path], object]] = {
    "a byte": lambda kb: (kb / PUNCH).write_text(FAULTY.replace("Like", "like")),
    "a new file": lambda kb: (kb / "tools/drift.yaml").write_text("title: Drift\n"),
    "a file less": lambda kb: (kb / PUNCH).unlink(),
    "a new name": lambda kb: (kb / PUNCH).rename(kb / "tools/punch.yaml"),
    "a stray": lambda kb: (kb / "tools/read me.txt").write_text("?"),
    "a folder": lambda kb: (kb / "spanners").mkdir(),
    "a link": lambda kb: (kb / "tools/drift.yaml").symlink_to(kb / PUNCH),
    "a translation": lambda kb: _written(kb / "translations/es/tools/pin-punch.yaml"),
    "a drawing": lambda kb: next((kb / "figures").glob("*.svg")).write_text("<svg><script/></svg>"),
}


@pytest.mark.parametrize("change", CHANGES.values(), ids=CHANGES)
def test_every_change_is_seen(kb: Path, worked_out: list[Path], change: Callable[[Path], object]) -> None:
    before = contents_of(kb, entries_below(kb))
    verdict_on(kb, "kb")
    change(kb)
    assert contents_of(kb, entries_below(kb)).whole != before.whole
    found = verdict_on(kb, "kb")
    assert len(worked_out) == 2
    assert found.findings == inspect_book(load_linked(kb, "kb"))


@pytest.mark.parametrize("seed", range(20))
def test_what_is_kept_and_damaged_is_of_no_use(kb: Path, worked_out: list[Path], seed: int) -> None:
    first = verdict_on(kb, "kb")
    place = usercache.cache_of(kb) / "verdict.json"
    content = bytearray(place.read_bytes())
    position = random.Random(seed).randrange(len(content))
    content[position] ^= 1 << (seed % 8)
    place.write_bytes(content if seed % 4 else content[:position])
    assert verdict_on(kb, "kb") == first
    assert len(worked_out) == 2


def test_another_program_does_not_believe_it(
    kb: Path, worked_out: list[Path], monkeypatch: pytest.MonkeyPatch
) -> None:
    verdict_on(kb, "kb")
    monkeypatch.setattr("shearpin.verdict.program_digest", lambda: "another")
    verdict_on(kb, "kb")
    assert len(worked_out) == 2


def test_a_record_saved_while_the_book_is_read_is_not_taken_for_checked(kb: Path) -> None:
    question = Question(kb, "kb")
    (kb / PUNCH).write_text("title: Pin punch\nsummary: Drives pins.\n")
    assert question.answer(load_linked(kb, "kb")) == Verdict(
        question.answer(load_linked(kb, "kb")).records, ()
    )
    (kb / PUNCH).write_text(FAULTY)
    assert [finding.code for finding in verdict_on(kb, "kb").findings] == ["REF001"]


def test_without_a_cache_the_verdict_is_found_each_time(
    kb: Path, worked_out: list[Path], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("SHEARPIN_CACHE", str(kb / PUNCH / "no folder"))
    assert verdict_on(kb, "kb") == verdict_on(kb, "kb")
    assert len(worked_out) == 2


def test_no_folder_is_said(tmp_path: Path) -> None:
    with pytest.raises(BookError):
        verdict_on(tmp_path / "absent", "absent")
