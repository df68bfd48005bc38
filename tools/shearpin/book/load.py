"""Loading: a folder of record files to a book. Whatever lies in the folder, the outcome is a book and its findings."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path
from typing import Final

from shearpin.book.book import Book, FileFacts
from shearpin.book.failure import BookError
from shearpin.book.inheritance import with_conditions_of_systems
from shearpin.book.readfiles import Reading, Waiting, read_files
from shearpin.model.kinds import KIND_OF_FOLDER, KINDS, Kind
from shearpin.model.shares import collector_at_rest

NOT_RECORDS: Final = frozenset({"pages", "translations"})
"""Folders of a `kb/` that hold other things than records."""

_BESIDE: Final = {"figures": (".svg",)}
_IGNORED: Final = (".", "~", "#")  # hidden files and what editors leave behind


def load_book(kb: Path, shown: str | None = None, reading: Reading | None = None) -> Book:
    """Read every record below `kb`; `shown` is how findings name the folder (as given on the command line).

    `reading` says what else is asked of each file. Raises `BookError` when there is no such folder or it cannot be listed.
    """
    try:
        folders = sorted(os.scandir(kb), key=lambda entry: entry.name)
    except OSError as error:
        reason = error.strerror or str(error)
        raise BookError(f"cannot read the records in {kb}: {reason}; name their folder with --kb") from error
    waiting: list[Waiting] = []
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
        read = read_files(kb, waiting, reading or Reading())
    order = {kind: index for index, kind in enumerate(KINDS)}
    files = sorted((each.file for each in read), key=lambda file: (order[file.kind.name], file.id, file.path))
    facts = {each.file.path: FileFacts(*each[1:]) for each in read}
    book = Book(kb, shown if shown is not None else str(kb), tuple(files), tuple(sorted(strays)), facts=facts)
    return with_conditions_of_systems(book)


def _list_folder(folder: Path, kind: Kind, waiting: list[Waiting], strays: list[tuple[str, str]]) -> None:
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
            waiting.append(Waiting(entry.path, path, kind, stem))


def _listed(folder: Path, strays: list[tuple[str, str]]) -> Iterator[os.DirEntry[str]]:
    try:
        yield from sorted(os.scandir(folder), key=lambda entry: entry.name)
    except OSError as error:
        strays.append((folder.name, f"cannot be listed: {error.strerror or error}"))
