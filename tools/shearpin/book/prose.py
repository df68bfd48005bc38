"""Every text of a book that is written for the reader, collected once for all rules that read it."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from typing import Final, NamedTuple

from shearpin.book.book import Book, Key
from shearpin.checks.wording import prose_of
from shearpin.model.fields import Record
from shearpin.model.position import FieldPath


class ProseText(NamedTuple):
    """A text for the reader: of which record, in which field."""

    key: Key
    path: FieldPath
    text: str


_new: Final = tuple.__new__  # a third of the time of asking the class, and a book has many texts


def prose_of_book(book: Book, keys: Collection[Key] | None = None) -> tuple[ProseText, ...]:
    """Return every text of a book, or of some of its records, that is written for the reader, record by record."""
    places: dict[FieldPath, FieldPath] = {}  # most are those of many records
    records = book.records() if keys is None else _records(book, keys)
    return tuple(
        [
            _new(ProseText, (key, places.setdefault(path, path), text))
            for key, record in records
            for path, text in prose_of(record)
        ]
    )


def _records(book: Book, keys: Collection[Key]) -> Iterator[tuple[Key, Record]]:
    for key in book.all_keys():
        if key in keys and (record := book.get(*key)) is not None:
            yield key, record
