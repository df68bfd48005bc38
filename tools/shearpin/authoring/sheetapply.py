"""Carries a sheet into the records: tried on a copy, told by cells, then written all or nothing."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

from shearpin.authoring.change import FileChange, new_findings, staged
from shearpin.authoring.entries import with_entry
from shearpin.authoring.files import read_plain_file
from shearpin.authoring.sheetplan import EntryChange, Problem
from shearpin.authoring.source import Source, read_text, to_bytes
from shearpin.book.book import Key
from shearpin.book.linked import LinkedBook
from shearpin.model.finding import Finding


@dataclass(frozen=True, slots=True)
class Trial:
    """What the records' files would become, what cannot be written, and what would then be found: by cell where it can be told."""

    changes: tuple[FileChange, ...]
    problems: tuple[Problem, ...]
    findings: tuple[tuple[str, Finding], ...]


def try_changes(linked: LinkedBook, changes: Sequence[EntryChange]) -> Trial:
    """Work out the files, and what a check says of the book with them; raises `WriteRefused` for an unreadable file."""
    by_holder: dict[Key, list[EntryChange]] = defaultdict(list)
    for change in changes:
        by_holder[change.holder].append(change)
    files: list[FileChange] = []
    problems: list[Problem] = []
    places: dict[str, dict[int, str]] = {}
    for holder, own in by_holder.items():
        path = linked.book.file_of[holder].path
        raw = read_plain_file(linked.book.kb / path)
        text, line_end = read_text(raw)
        for change in own:
            try:
                text = with_entry(text, change.value, change.after)
            except ValueError as error:
                problems.append(Problem(change.place, f"{path}: {error}", "change it in the record itself"))
        files.append(FileChange(path, raw, to_bytes(text, line_end)))
        places[path] = _places(text, own)
    if not files:
        return Trial((), tuple(problems), ())
    with staged(linked.book.kb, files) as after:
        found = new_findings(linked, after)
    told = tuple((places.get(f.path.removeprefix("kb/"), {}).get(f.line, ""), f) for f in found)
    return Trial(tuple(files), tuple(problems), told)


def _places(text: str, changes: Sequence[EntryChange]) -> dict[int, str]:
    """Return the cell for each line of the file on which one of these figures stands."""
    source = Source(text)
    places: dict[int, str] = {}
    for change in changes:
        node = source.node_at(("values", change.value))
        key = source.key_at(("values", change.value))
        if node is not None and key is not None:
            last = source.text.count("\n", 0, source.end(node))
            places.update(dict.fromkeys(range(key.start_mark.line + 1, last + 2), change.place))
    return places
