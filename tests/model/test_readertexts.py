"""Texts for the reader are those that a walk through every text finds by the names of their fields."""

from __future__ import annotations

from pathlib import Path

from shearpin.book.load import load_book
from shearpin.model.readertexts import reader_texts
from shearpin.model.references import prose_fields, texts

ROOT = Path(__file__).resolve().parents[2]
RECORDS = [file.record for file in load_book(ROOT / "kb").files if file.record is not None]


def test_texts_for_the_reader_are_those_in_fields_of_prose() -> None:
    for record in RECORDS:
        names = prose_fields(type(record))
        assert reader_texts(record) == [
            (path, text)
            for path, text in texts(record)
            # The place of a list's item ends with its number.
            if (path[-1] if isinstance(path[-1], str) else path[-2]) in names
        ]
    assert sum(map(len, map(reader_texts, RECORDS))) > len(RECORDS)
