"""Several files changed together: proven on a copy of the book, then written so that an interruption loses nothing.

Before the first file is touched, a journal beside the records holds the old content of all of them. Whatever ends the
writing half-way, the journal brings the old state back: at once where the program still runs, else before the next
change. Files that somebody edited in between are left alone and named.
"""

from __future__ import annotations

import contextlib
import hashlib
import json
import os
import shutil
import tempfile
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from shearpin.authoring.files import CACHE_FOLDER, WriteRefused, create_file, read_plain_file, replace_file
from shearpin.book.linked import LinkedBook, load_linked
from shearpin.inspection import inspect_book
from shearpin.model.finding import Finding

_JOURNAL: Final = "change"
_INDEX: Final = "journal.json"
_MAX_FILE: Final = 50_000_000


@dataclass(frozen=True, slots=True)
class FileChange:
    """A file below the records' folder, before and after; None where there is no file."""

    path: str
    before: bytes | None
    after: bytes | None


@contextlib.contextmanager
def staged(kb: Path, changes: Sequence[FileChange]) -> Iterator[LinkedBook]:
    """Give a copy of the book with the changes made, loaded and linked; the copy goes away afterwards."""
    with tempfile.TemporaryDirectory(prefix="shearpin-") as folder:
        copy = Path(folder) / "kb"
        _copy_files(kb, copy)
        for change in changes:
            target = copy / change.path
            with contextlib.suppress(FileNotFoundError):
                target.unlink()  # it may be a second name of the book's own file
            if change.after is not None:
                target.parent.mkdir(parents=True, exist_ok=True)
                target.write_bytes(change.after)
        yield load_linked(copy, "kb")


def _copy_files(kb: Path, copy: Path) -> None:
    """Give every plain file a second name below `copy`; links and devices are not read in any case."""
    for folder, _, names in os.walk(kb):
        target = copy / Path(folder).relative_to(kb)
        target.mkdir(parents=True, exist_ok=True)
        for name in names:
            source = Path(folder, name)
            if source.is_file() and not source.is_symlink():
                try:
                    os.link(source, target / name)
                except OSError:
                    shutil.copyfile(source, target / name)


def new_findings(
    before: LinkedBook, after: LinkedBook, renamed: tuple[str, str] | None = None
) -> tuple[Finding, ...]:
    """Return what is found after a change and was not before; `renamed` are the old and the new path of a record."""
    known = Counter(_kind_of(finding, before.book.shown, renamed) for finding in inspect_book(before))
    fresh = []
    for finding in inspect_book(after):
        what = _kind_of(finding, after.book.shown, None)
        if known[what]:
            known[what] -= 1
        else:
            fresh.append(finding)
    return tuple(fresh)


def _kind_of(finding: Finding, shown: str, renamed: tuple[str, str] | None) -> tuple[str, str]:
    path = finding.path.removeprefix(f"{shown}/")
    return finding.code, renamed[1] if renamed is not None and path == renamed[0] else path


def write_all(kb: Path, changes: Sequence[FileChange]) -> None:
    """Write every change or none; raises `WriteRefused` when one cannot be written, with the old state back in place."""
    recover(kb)
    for change in changes:
        _check_unchanged(kb, change)
    _write_journal(kb, changes)
    try:
        for change in changes:
            _make(kb / change.path, change.before, change.after)
    except WriteRefused as error:
        recover(kb)
        raise WriteRefused(f"{error}; everything is as it was before") from error
    _end_journal(kb)


def recover(kb: Path) -> tuple[str, ...]:
    """Undo a change that was interrupted; returns the files put back. Raises `WriteRefused` where one cannot be.

    A file that is neither as before nor as it should have become was edited since: it is named, and stays.
    """
    folder = _journal_folder(kb)
    if not (folder / _INDEX).is_file():
        shutil.rmtree(folder, ignore_errors=True)  # interrupted before anything was touched
        return ()
    put_back, edited = [], []
    for entry in _read_journal(folder):
        path = kb / entry["path"]
        now = _digest(path)
        if now == entry["before"]:
            continue
        if now != entry["after"]:
            edited.append(entry["path"])
            continue
        before = (folder / entry["old"]).read_bytes() if entry["before"] is not None else None
        _make(path, b"" if now is not None else None, before)
        put_back.append(entry["path"])
    _end_journal(kb)
    if edited:
        raise WriteRefused(
            "a change was interrupted and is undone, but these files were edited since and stay as they are: "
            + ", ".join(edited)
        )
    return tuple(put_back)


def _make(path: Path, before: bytes | None, after: bytes | None) -> None:
    if after is None:
        try:
            path.unlink()
        except OSError as error:
            raise WriteRefused(f"cannot remove {path}: {error.strerror or error}") from error
    elif before is None:
        create_file(path, after)
    else:
        replace_file(path, after)


def _check_unchanged(kb: Path, change: FileChange) -> None:
    """Refuse where a file is not what the change was made from."""
    path = kb / change.path
    if change.before is None:
        if os.path.lexists(path):
            raise WriteRefused(f"{path} exists already and is left as it is")
    elif read_plain_file(path, _MAX_FILE) != change.before:
        raise WriteRefused(f"{path} was changed meanwhile; try again")


def _journal_folder(kb: Path) -> Path:
    return kb.resolve().parent / CACHE_FOLDER / _JOURNAL


def _write_journal(kb: Path, changes: Sequence[FileChange]) -> None:
    folder = _journal_folder(kb)
    entries = []
    try:
        folder.mkdir(parents=True)
        for number, change in enumerate(changes):
            old = f"{number}.old"
            if change.before is not None:
                (folder / old).write_bytes(change.before)
            entries.append(
                {"path": change.path, "old": old, "before": _of(change.before), "after": _of(change.after)}
            )
    except OSError as error:
        raise WriteRefused(f"cannot keep a journal in {folder}: {error.strerror or error}") from error
    replace_file(folder / _INDEX, json.dumps(entries).encode())


def _read_journal(folder: Path) -> list[dict[str, Any]]:
    try:
        entries: list[dict[str, Any]] = json.loads((folder / _INDEX).read_bytes())
    except (OSError, ValueError) as error:
        raise WriteRefused(f"the journal in {folder} cannot be read: {error}") from error
    safe = all(
        isinstance(e.get("path"), str)
        and ".." not in Path(e["path"]).parts
        and not Path(e["path"]).is_absolute()
        for e in entries
    )
    if not safe:
        raise WriteRefused(f"the journal in {folder} names files outside of the book; remove the folder")
    return entries


def _end_journal(kb: Path) -> None:
    folder = _journal_folder(kb)
    with contextlib.suppress(OSError):
        (folder / _INDEX).unlink()  # first: without it, what is left of the folder means nothing
    shutil.rmtree(folder, ignore_errors=True)


def _digest(path: Path) -> str | None:
    try:
        return _of(read_plain_file(path, _MAX_FILE)) if os.path.lexists(path) else None
    except WriteRefused:
        return ""


def _of(content: bytes | None) -> str | None:
    return hashlib.sha256(content).hexdigest() if content is not None else None
