"""What rules that read no wording found in the last build: of use as long as nothing but wording was changed.

Most edits are of words; the rules that compare tests, causes and machines take the longest, and find the same then.
"""

from __future__ import annotations

import pickle
from collections.abc import Mapping

from shearpin.book.book import Book
from shearpin.checks.rule import Found
from shearpin.site.writing import Before


def still_found(kept: bytes, before: Before) -> Mapping[str, Found]:
    """Return what was kept, by the code of the rule; nothing where more than wording is different since."""
    watched = before.watched
    if not kept or not _can_be_kept(watched.plain.book):
        return {}
    if not before.ledger.are_same(watched.but_for_words()):
        return {}
    found: Mapping[str, Found] = pickle.loads(kept)
    return found


def to_be_kept(found: Mapping[str, Found], before: Before) -> bytes:
    """Return what rules found, packed, and note what it hangs on; nothing where it hangs on more than is noted."""
    if not _can_be_kept(before.watched.plain.book):
        return b""
    before.watched.but_for_words()
    return pickle.dumps(dict(found), pickle.HIGHEST_PROTOCOL)


def _can_be_kept(book: Book) -> bool:
    """Whether every file could be read whole: what is in the others is guessed at from their words."""
    return all(file.record is not None and not file.broken for file in book.files)
