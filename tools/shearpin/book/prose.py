"""Every text of a book that is written for the reader, collected once for all rules that read it."""

from __future__ import annotations

from typing import NamedTuple

from shearpin.book.book import Book, Key
from shearpin.checks.wording import prose_of
from shearpin.model.position import FieldPath


class ProseText(NamedTuple):
    """A text for the reader: of which record, in which field."""

    key: Key
    path: FieldPath
    text: str


def prose_of_book(book: Book) -> tuple[ProseText, ...]:
    """Return every text of a book that is written for the reader, record by record."""
    places: dict[FieldPath, FieldPath] = {}  # most are those of many records
    return tuple(
        ProseText(key, places.setdefault(path, path), text)
        for key, record in book.records()
        for path, text in prose_of(record)
    )
