"""A file as it was kept equals the one that was read, and its record is made when it is asked for."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from shearpin.book import keptrecords
from shearpin.book.linked import LinkedBook, load_linked
from shearpin.book.readfiles import Reading
from shearpin.model.keptfile import KeptFile, LazyRecords, has_record
from shearpin.model.kinds import KINDS
from shearpin.model.reading import RecordFile
from tests.sound_book import lay_over


@pytest.fixture
def books(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> tuple[LinkedBook, LinkedBook]:
    """A book as it was read, and the same taken from what was kept."""
    monkeypatch.setattr(keptrecords, "WORTH_KEEPING", 1)
    kb = lay_over(
        tmp_path,
        {"tools/faulty.yaml": "title: Faulty\nsummary: A tool.\nsources: 7\n", "tools/worse.yaml": "- [\n"},
    )
    read, kept = (load_linked(kb, "kb", Reading(judged=True)) for _ in range(2))
    return read, kept


def waiting(linked: LinkedBook) -> list[str]:
    return [file.path for file in linked.book.files if isinstance(file, KeptFile) and file.waits]


def test_no_record_is_made_before_it_is_asked_for(books: tuple[LinkedBook, LinkedBook]) -> None:
    read, kept = books
    files = {(f.kind.name, f.id) for f in kept.book.files if isinstance(f, KeptFile)}
    before = set(waiting(kept))
    assert len(before) > 10
    assert list(kept.book.headings()) == list(read.book.headings())
    assert list(kept.book.all_keys()) == [key for key, _ in read.book.records()]
    for kind, record_id in files:
        assert kept.book.title(kind, record_id) == read.book.title(kind, record_id)
        assert kept.book.has(kind, record_id)
    for kind in KINDS:
        assert kept.book.outlines(kind) == read.book.outlines(kind)
    to = [
        {t: sorted(origins) for t, origins in each.links.to.items()} for each in books
    ]  # they come in any order
    assert to[0] == to[1]
    assert set(waiting(kept)) == before
    tool = kept.book.tools["pin-punch"]
    assert before - set(waiting(kept)) == {"tools/pin-punch.yaml"}
    assert tool is kept.book.tools["pin-punch"] == read.book.tools["pin-punch"]


def test_files_and_records_are_those_that_were_read(books: tuple[LinkedBook, LinkedBook]) -> None:
    read, kept = books
    assert kept.book.files == read.book.files
    assert read.book.files == kept.book.files
    assert [hash(file.path) for file in kept.book.files] == [hash(file.path) for file in read.book.files]
    assert list(kept.book.records()) == list(read.book.records())
    assert waiting(kept) == []
    for before, after in zip(read.book.files, kept.book.files, strict=True):
        assert (before.heading, before.broken, has_record(before)) == (
            after.heading,
            after.broken,
            has_record(after),
        )


def test_a_file_with_another_record_is_one_like_any(books: tuple[LinkedBook, LinkedBook]) -> None:
    _, kept = books
    file = next(file for file in kept.book.files if file.path == "tools/pin-punch.yaml")
    assert isinstance(file, KeptFile)
    other = kept.book.tools["torque-wrench"]
    changed = replace(file, record=other)
    assert changed != file
    assert (changed.record, changed.title, changed.path) == (other, other.title, file.path)
    assert changed == RecordFile(file.path, file.kind, file.id, other, usual_characters=file.usual_characters, unpaired=file.unpaired, digest=file.digest)  # fmt: skip
    assert file != "a file"


def test_lazy_records_are_a_mapping_like_any(books: tuple[LinkedBook, LinkedBook]) -> None:
    read, kept = books
    lazy, there = kept.book.of_kind("tool"), read.book.of_kind("tool")
    assert isinstance(lazy, LazyRecords)
    assert not isinstance(there, LazyRecords)
    assert len(lazy) == len(there)
    assert list(lazy) == list(there)
    assert "absent" not in lazy
    assert lazy.get("absent") is None
    with pytest.raises(KeyError):
        lazy["absent"]
    assert dict(lazy.items()) == dict(there)
    assert list(lazy.values()) == list(there.values())
