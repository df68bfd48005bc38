"""The first look at a saved record: its own page, made before anything else of the book is read or asked again.

What a page shows follows from few records, so that it is made within a fraction of a second, however large the book is. The
whole site, with what other pages say of the record and what rules on the whole book find, follows.
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Final

from shearpin.book.applicability import Applicability
from shearpin.book.book import Book
from shearpin.book.inheritance import with_condition_of_systems
from shearpin.book.linked import LinkedBook
from shearpin.book.links import relinked
from shearpin.book.readfiles import Reading, Waiting, read_files
from shearpin.checks.one_file import ON_ONE_FILE
from shearpin.checks.rule import Found
from shearpin.diagnosis.history import History
from shearpin.inspection import errors_among
from shearpin.model.finding import Finding
from shearpin.model.reading import RecordFile
from shearpin.site.folders import replace_text
from shearpin.site.pages import Planned, errors_by_path, page_of_record
from shearpin.site.shell import Shells
from shearpin.site.view import View
from shearpin.site.writing import data_of_symptom

_MOST: Final = 20
"""Records that are looked at one by one; with more at once, as after a change of branch, the whole is as quick."""

_TELL_OF_MACHINES: Final = frozenset({"machine", "engine", "system"})
"""Kinds of record on which it hangs what holds for which machine."""

_OF_ONE_FILE: Final = frozenset(rule.code for rule in ON_ONE_FILE)


@dataclass(frozen=True, slots=True)
class Shown:
    """What a preview shows: a book with its findings and history, the theme around its pages, and the site's folder."""

    linked: LinkedBook
    findings: tuple[Finding, ...]
    history: History
    shells: Shells
    site: Path


def look(shown: Shown, saved: Iterable[str]) -> Shown | None:
    """Write the pages of the records in these files anew; return what is shown then.

    None, with nothing written, where their pages alone will not do: a file that is no record of the book, or one of which
    a rule on the whole book hides the page, for only the whole book tells whether that is mended.
    """
    book = shown.linked.book
    files = {os.path.abspath(book.kb / file.path): file for file in book.files}
    paths = [path for path in map(os.path.abspath, saved) if path in files or not _is_nothing(path)]
    if len(paths) > _MOST or any(path not in files or not os.path.isfile(path) for path in paths):
        return None
    hidden = errors_by_path(book, shown.findings)
    if any(error.code not in _OF_ONE_FILE for path in paths for error in hidden.get(files[path].path, ())):
        return None
    found: dict[str, Found] = {}
    linked = shown.linked
    for path in paths:
        linked, found[files[path].path] = _with_file(linked, files[path])
    pages = tuple(_pages(linked, shown.history, found))
    for page in pages:
        made = page.make()
        replace_text(shown.site / made.url, made.body if page.bare else shown.shells.wrap(made))
    # What rules on one file found before is of no use any more; what others found is said of other files.
    left = tuple(dict.fromkeys(each for path, those in hidden.items() if path not in found for each in those))
    now = tuple(each for those in found.values() for each in errors_among(linked, those))
    return replace(shown, linked=linked, findings=left + now)


def _is_nothing(path: str) -> bool:
    """Whether a file is one that an editor makes while it saves: hidden, or gone again."""
    return os.path.basename(path).startswith((".", "#")) or path.endswith("~") or not os.path.lexists(path)


def _with_file(linked: LinkedBook, before: RecordFile) -> tuple[LinkedBook, Found]:
    """Return the book with a file as it is now in place of what it was, and what the rules on one file find in it."""
    book = linked.book
    waiting = Waiting(str(book.kb / before.path), before.path, before.kind, before.id)
    ((file, _, found, *_),) = read_files(book.kb, [waiting], Reading(judged=True))
    changed = _with(book, file)
    applicability = linked.applicability
    if file.kind.name in _TELL_OF_MACHINES:
        applicability = Applicability(changed)
    file = with_condition_of_systems(file, changed, applicability)
    changed = _with(book, file)
    key = (file.kind.name, file.id)
    now = LinkedBook(changed)
    # Worked out already, or quickly from what was: the book as a whole need not be gone through.
    vars(now).update(
        links=relinked(linked.links, before.record, key, file.record, changed), applicability=applicability
    )
    return now, found or ()


def _with(book: Book, file: RecordFile) -> Book:
    return replace(book, files=tuple(file if each.path == file.path else each for each in book.files))


def _pages(linked: LinkedBook, history: History, found: Mapping[str, Found]) -> Iterator[Planned]:
    """Yield the pages of records, and the data of symptoms."""
    below = View(linked, "../", History(linked, history.repairs))
    for file in linked.book.files:
        if file.path in found:
            page = page_of_record(below, (file.kind.name, file.id), errors_among(linked, found[file.path]))
            yield page
            if file.kind.name == "symptom" and not page.shows_findings:
                yield data_of_symptom(below, file.id)
