"""What a record points to is what its references and the mentions in its texts say."""

from __future__ import annotations

from pathlib import Path

from shearpin.book.links import uses_of
from shearpin.book.load import load_book
from shearpin.model.pointers import pointers_of
from tests.sound_book import SOUND_BOOK

RECORDS = [
    file.record
    for kb in (Path(__file__).resolve().parents[2] / "kb", SOUND_BOOK)
    for file in load_book(kb).files
    if file.record is not None
]


def test_a_record_points_to_what_it_uses() -> None:
    for record in RECORDS:
        used: dict[tuple[str, ...], dict[str, None]] = {}
        for use in uses_of(("", ""), record):
            used.setdefault(use.kinds, {})[use.id] = None
        assert pointers_of(record) == tuple((kinds, tuple(names)) for kinds, names in used.items())
    assert sum(len(names) for record in RECORDS for _, names in pointers_of(record)) > 5 * len(RECORDS)
