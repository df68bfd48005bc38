"""Owns one trial of a hostile file: it may end in findings and pages, in bounded time, and in nothing else."""

from __future__ import annotations

import time
from pathlib import Path
from typing import Final

from shearpin.book.book import Book
from shearpin.book.linked import LinkedBook
from shearpin.book.load import load_book
from shearpin.inspection import inspect_book
from shearpin.model.kinds import KIND_OF_FOLDER
from shearpin.model.reading import read_record
from shearpin.site.pages import all_pages
from tests.sound_book import SOUND_BOOK

MOST_SECONDS: Final = 10.0
"""Beyond this a writer believes that the program hangs; the usual trial takes some hundredths of a second."""
SOUND: Final = load_book(SOUND_BOOK, "kb")


def try_file(name: str, raw: bytes, *, pages: bool) -> float:
    """Check the sound book with this file in it, and write its pages where asked; returns the seconds of work.

    Raises `AssertionError` where findings are out of order or without a place, or where it takes too long; whatever
    else is raised is a fault of the program.
    """
    began = time.process_time()
    folder, _, file_name = name.partition("/")
    file = read_record(name, KIND_OF_FOLDER[folder], file_name.removesuffix(".yaml"), raw)
    others = tuple(other for other in SOUND.files if other.path != name)
    linked = LinkedBook(Book(Path(SOUND.kb), "kb", (*others, file)))
    findings = inspect_book(linked)
    assert list(findings) == sorted(findings, key=lambda f: (f.path, f.line, f.column, f.code, f.message))
    assert all(f.line >= 1 and f.column >= 1 and f.message and f.code for f in findings)
    assert len(findings) < 2_000
    for finding in findings:
        str(finding).encode("utf-8", "backslashreplace")
    if pages:
        for page in all_pages(linked, findings):
            assert "<script>alert" not in page.body
    seconds = time.process_time() - began
    assert seconds < MOST_SECONDS, f"{seconds:.1f} s"
    return seconds
