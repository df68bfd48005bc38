"""A record gets another id: every mention is rewritten, and its old address leads to it from then on."""

from __future__ import annotations

import os
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from shearpin.authoring.change import FileChange, new_findings, staged, write_all
from shearpin.authoring.files import WriteRefused, read_plain_file
from shearpin.authoring.formatting import plain_data, says
from shearpin.authoring.ids import IdRefused, check_form, known_kind
from shearpin.authoring.mentions import Renaming, renamed_data, renamed_page, renamed_translation, rewritten
from shearpin.authoring.source import Edit, Source, apply_edits, read_text, scalar_text, to_bytes
from shearpin.book.book import Book
from shearpin.book.former import former_ids
from shearpin.book.linked import LinkedBook
from shearpin.checks.nearest import did_you_mean
from shearpin.model.finding import Finding
from shearpin.model.reading import RecordFile

_MAX_DRAWING: Final = 20_000_000


@dataclass(frozen=True, slots=True)
class Plan:
    """What a renaming changes: mentions by file below the records' folder, and the files themselves."""

    renaming: Renaming
    mentions: tuple[tuple[str, int], ...]
    changes: tuple[FileChange, ...]


def plan_renaming(linked: LinkedBook, kind_given: str, old: str, new: str) -> Plan:
    """Work out a renaming; raises `IdRefused` or `WriteRefused` where it cannot be done for certain."""
    book = linked.book
    kind = known_kind(kind_given)
    if book.get(kind.name, old) is None:
        if (kind.name, old) in book.file_of:
            raise IdRefused(f"{book.shown}/{book.file_of[kind.name, old].path} cannot be read; mend it first")
        today = former_ids(book).get((kind.name, old))
        advice = f"it is called `{today}` now" if today else did_you_mean(old, book.of_kind(kind.name))
        raise IdRefused(f"there is no {kind.name} `{old}`; {advice or '`shearpin find` searches by words'}")
    check_form(new, kind)
    _check_new(book, kind.name, old, new)
    _check_readable(linked)
    renaming = Renaming(kind.name, old, new)
    _check_clear(linked, renaming)
    counted: list[tuple[str, int]] = []
    changes: list[FileChange] = []
    for file in book.files:
        change, count = _record_change(book, file, renaming)
        if change:
            changes += change
        if count:
            counted.append((file.path, count))
    for change_of_page, count in _page_changes(book.kb, renaming):
        changes.append(change_of_page)
        counted.append((change_of_page.path, count))
    for translation in linked.translations:
        change, count = _translation_change(book.kb, translation.path, translation.key, renaming)
        changes += change
        if count:
            counted.append((translation.path, count))
    return Plan(renaming, tuple(counted), tuple(changes))


def findings_of(linked: LinkedBook, plan: Plan) -> tuple[Finding, ...]:
    """Return what the book would have wrong after the renaming and has not now, tried on a copy."""
    folder = linked.book.file_of[plan.renaming.kind, plan.renaming.old].kind.folder
    paths = f"{folder}/{plan.renaming.old}.yaml", f"{folder}/{plan.renaming.new}.yaml"
    with staged(linked.book.kb, plan.changes) as after:
        return new_findings(linked, after, paths)


def carry_out(linked: LinkedBook, plan: Plan) -> None:
    """Write the renaming, all or nothing; raises `WriteRefused`."""
    write_all(linked.book.kb, plan.changes)


def _check_new(book: Book, kind: str, old: str, new: str) -> None:
    if new == old:
        raise IdRefused(f"`{new}` is the id it has already")
    if any(file.kind.name == kind and file.id.casefold() == new for file in book.files):
        raise IdRefused(
            f"`{new}` exists already: {book.shown}/{book.file_of[kind, new].path}"
            if (kind, new) in book.file_of
            else f"`{new}` differs in capitals only from a file that exists"
        )
    owner = former_ids(book).get((kind, new))
    if owner not in (None, old):
        raise IdRefused(f"`{new}` is a former id of `{owner}`; old links lead there, so it is not free")


def _check_readable(linked: LinkedBook) -> None:
    broken = [file.path for file in linked.book.files if file.broken]
    broken += [translation.path for translation in linked.translations if translation.content is None]
    if broken:
        more = f" and {len(broken) - 3} more" if len(broken) > 3 else ""
        raise IdRefused(
            f"files that cannot be read could name the record: {', '.join(broken[:3])}{more}; mend them first"
        )


def _check_clear(linked: LinkedBook, renaming: Renaming) -> None:
    """Refuse where a reference may mean a record of another kind with the same id."""
    for use in linked.links.uses:
        if use.id == renaming.old and renaming.kind in use.kinds:
            others = [
                kind
                for kind in use.kinds
                if kind != renaming.kind and linked.book.get(kind, use.id) is not None
            ]
            if others:
                where = linked.book.file_of[use.origin].path
                raise IdRefused(
                    f"{where} names `{use.id}`, which is also a {others[0]}: it is not clear which is meant"
                )


def _record_change(book: Book, file: RecordFile, renaming: Renaming) -> tuple[list[FileChange], int]:
    """Return what becomes of one record's file, and how often it mentions the old id."""
    assert file.record is not None
    itself = (file.kind.name, file.id) == (renaming.kind, renaming.old)
    raw = read_plain_file(book.kb / file.path)
    if not itself and renaming.old.encode() not in raw and b"\\" not in raw:
        return [], 0
    text, line_end = read_text(raw)
    try:
        data, count = renamed_data(file.record, plain_data(text), renaming)
        new_text = rewritten(text, data, renaming) if count else text
        if itself:
            new_text = _with_former(new_text, data, renaming)
    except ValueError as error:
        raise WriteRefused(f"{file.path}: {error}; nothing is renamed") from error
    if not itself:
        return ([FileChange(file.path, raw, to_bytes(new_text, line_end))] if count else []), count
    new_path = f"{file.kind.folder}/{renaming.new}.yaml"
    changes = [FileChange(new_path, None, to_bytes(new_text, line_end)), FileChange(file.path, raw, None)]
    return changes + _drawing_changes(book, file, renaming), count


def _drawing_changes(book: Book, file: RecordFile, renaming: Renaming) -> list[FileChange]:
    """Return the change of the drawing that lies beside a figure's record."""
    old = f"{file.kind.folder}/{renaming.old}.svg"
    if renaming.kind != "figure" or not os.path.lexists(book.kb / old):
        return []
    drawing = read_plain_file(book.kb / old, _MAX_DRAWING)
    return [
        FileChange(f"{file.kind.folder}/{renaming.new}.svg", None, drawing),
        FileChange(old, drawing, None),
    ]


def _with_former(text: str, data: dict[str, object], renaming: Renaming) -> str:
    """Return the record's text with its former ids: the old one is added, the new one, if it had it before, is not."""
    given = data.get("formerly", [])
    before = [given] if isinstance(given, str) else list(given) if isinstance(given, list) else []
    ids = [*(str(one) for one in before if one != renaming.new), renaming.old]
    line = "[" + ", ".join(scalar_text(one, in_flow=True) for one in ids) + "]"
    source = Source(text)
    node = source.node_at(("formerly",))
    if node is None:
        at = (
            source.line_end(source.end(source.root))
            if source.text[source.end(source.root) - 1 :][:1] != "\n"
            else source.end(source.root)
        )
        before_it = "" if text[:at].endswith("\n") else "\n"
        made = apply_edits(text, [Edit(at, at, f"{before_it}formerly: {line}\n")])
    elif source.has_comment(source.start(node), source.end(node)):
        raise ValueError("`formerly` holds a comment; put it on a line of its own above the field")
    else:
        made = apply_edits(text, [Edit(source.start(node), source.end(node), line)])
    if not says(made, {**data, "formerly": ids}):
        raise ValueError("the old id could not be noted in `formerly`")
    return made


def _translation_change(
    kb: Path, path: str, key: tuple[str, str], renaming: Renaming
) -> tuple[list[FileChange], int]:
    """Return what becomes of a translation: it moves with its record, and says what its record says in braces."""
    raw = read_plain_file(kb / path)
    text, line_end = read_text(raw)
    made, count = renamed_translation(text, renaming)
    if key == (renaming.kind, renaming.old):
        target = f"{path.rpartition('/')[0]}/{renaming.new}.yaml"
        return [FileChange(target, None, to_bytes(made, line_end)), FileChange(path, raw, None)], count
    return ([FileChange(path, raw, to_bytes(made, line_end))] if count else []), count


def _page_changes(kb: Path, renaming: Renaming) -> Iterator[tuple[FileChange, int]]:
    """Yield what becomes of hand-written pages."""
    folder = kb / "pages"
    if folder.is_symlink() or not folder.is_dir():
        return
    for path in sorted(folder.rglob("*.md")):
        if path.is_symlink():
            continue
        raw = read_plain_file(path)
        try:
            text = raw.decode("utf-8")
        except UnicodeDecodeError:
            raise WriteRefused(f"{path} is not UTF-8 text; it could name the record: mend it first") from None
        new, count = renamed_page(text, renaming)
        if count:
            yield FileChange(path.relative_to(kb).as_posix(), raw, new.encode("utf-8")), count
