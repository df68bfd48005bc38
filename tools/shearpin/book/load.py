"""Loading: a folder of record files to a book. Whatever lies in the folder, the outcome is a book and its findings."""

from __future__ import annotations

import os
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Final

from shearpin.book import keptrecords
from shearpin.book.book import Book
from shearpin.book.failure import BookError
from shearpin.book.inheritance import with_conditions_of_systems
from shearpin.model.kinds import KIND_OF_FOLDER, KINDS, Kind
from shearpin.model.progress import counted
from shearpin.model.reading import RecordFile, digest_of, read_record
from shearpin.model.shares import collector_at_rest, share_out, shares_for
from shearpin.model.yamltext import MAX_BYTES, TextFault

NOT_RECORDS: Final = frozenset({"pages", "translations"})
"""Folders of a `kb/` that hold other things than records."""

_Waiting = tuple[str, str, Kind, str]
"""A file to be read: its place, its path below `kb/`, its kind and its id."""

_USUAL: Final = 32_768
"""Bytes that nearly every record fits in. Room for `MAX_BYTES` would be a mapping of memory for each file, which the
system runs out of at some 65,000 files."""

_BESIDE: Final = {"figures": (".svg",)}
_IGNORED: Final = (".", "~", "#")  # hidden files and what editors leave behind


def load_book(kb: Path, shown: str | None = None) -> Book:
    """Read every record below `kb`; `shown` is how findings name the folder (as given on the command line).

    Raises `BookError` when there is no such folder or it cannot be listed.
    """
    try:
        folders = sorted(os.scandir(kb), key=lambda entry: entry.name)
    except OSError as error:
        reason = error.strerror or str(error)
        raise BookError(f"cannot read the records in {kb}: {reason}; name their folder with --kb") from error
    waiting: list[_Waiting] = []
    strays: list[tuple[str, str]] = []
    for folder in folders:
        if folder.name.startswith(_IGNORED) or folder.name in NOT_RECORDS:
            continue
        kind = KIND_OF_FOLDER.get(folder.name)
        if kind is None:
            strays.append((folder.name, f"no kind of record lives in `{folder.name}`"))
        elif folder.is_symlink() or not folder.is_dir():
            strays.append((folder.name, f"`{folder.name}` must be a folder, not a link or a file"))
        else:
            _list_folder(Path(folder.path), kind, waiting, strays)
    with collector_at_rest():
        files = _read_files(kb, waiting)
    order = {kind: index for index, kind in enumerate(KINDS)}
    files.sort(key=lambda file: (order[file.kind.name], file.id, file.path))
    book = Book(kb, shown if shown is not None else str(kb), tuple(files), tuple(sorted(strays)))
    return with_conditions_of_systems(book)


def _list_folder(folder: Path, kind: Kind, waiting: list[_Waiting], strays: list[tuple[str, str]]) -> None:
    for entry in _listed(folder, strays):
        path = f"{kind.folder}/{entry.name}"
        stem, extension = os.path.splitext(entry.name)
        if entry.name.startswith(_IGNORED) or entry.name.endswith("~"):
            continue
        if extension in _BESIDE.get(kind.folder, ()):
            if entry.is_symlink():
                strays.append((path, "a link: it could lead out of the folder; copy the file itself"))
            continue
        if entry.is_symlink():
            strays.append((path, "a link: it could lead out of the folder; copy the file itself"))
        elif entry.is_dir(follow_symlinks=False):
            strays.append((path, f"a folder inside `{kind.folder}`; records lie directly in it"))
        elif extension != ".yaml":
            strays.append((path, f"not read: a record of this kind is a file `{kind.folder}/<id>.yaml`"))
        elif not entry.is_file(follow_symlinks=False):
            strays.append((path, "not a file"))
        else:
            waiting.append((entry.path, path, kind, stem))


def _listed(folder: Path, strays: list[tuple[str, str]]) -> Iterator[os.DirEntry[str]]:
    try:
        yield from sorted(os.scandir(folder), key=lambda entry: entry.name)
    except OSError as error:
        strays.append((folder.name, f"cannot be listed: {error.strerror or error}"))


def _read_files(kb: Path, waiting: Sequence[_Waiting]) -> list[RecordFile]:
    """Return every file, from what is kept of earlier readings where its content is the same."""
    if len(waiting) < keptrecords.WORTH_KEEPING:
        return [_read(*each[1:], _content(each[0])) for each in waiting]
    kept = keptrecords.KeptRecords(kb)
    files: list[RecordFile] = []
    unknown: list[tuple[_Waiting, bytes | OSError]] = []
    for each in waiting:
        content = _content(each[0])
        known = kept.find(each[1], digest_of(content)) if isinstance(content, bytes) else None
        if known is not None:
            files.append(known)
        else:
            unknown.append((each, content))
    files += _read_all(unknown)
    kept.keep(files)
    return files


def _read_all(unknown: Sequence[tuple[_Waiting, bytes | OSError]]) -> list[RecordFile]:
    """Read files, in several processes when there are many."""
    shares = shares_for(len(unknown))
    read = share_out(
        lambda share: [
            _read(*each[1:], content) for each, content in counted("reading records", unknown[share::shares])
        ],
        shares,
    )
    return [file for part in read for file in part]


def _content(place: str) -> bytes | OSError:
    """Return the beginning of a file, more of which no record may have, or why it cannot be read."""
    try:
        with open(place, "rb") as stream:
            begun = stream.read(_USUAL)
            return begun if len(begun) < _USUAL else begun + stream.read(MAX_BYTES + 1 - _USUAL)
    except OSError as error:
        return error


def _read(path: str, kind: Kind, record_id: str, content: bytes | OSError) -> RecordFile:
    if isinstance(content, OSError):
        reason = f"the file cannot be read: {content.strerror or content}"
        return RecordFile(
            path, kind, record_id, None, (TextFault("FMT002", reason, "look at its rights", 1, 1),)
        )
    return read_record(path, kind, record_id, content)
