"""Everything that lies below `kb/`: records, drawings, pages, and translations several folders down."""

from __future__ import annotations

import os
from dataclasses import dataclass
from operator import attrgetter
from pathlib import Path
from stat import S_IFMT
from typing import Final

_HIDDEN: Final = "."
_DEEPEST: Final = 6
"""Folders within one another that are looked into; nothing of a book lies as deep."""

Stamp = tuple[int, int, int, int]
"""Size, time, number and time of change of a file; the last tells a copy that kept the time of what it was copied from."""

_name: Final = attrgetter("name")


@dataclass(frozen=True, slots=True)
class Entries:
    """What lies below a folder, by its path there: the stamps of files, and of all else the kind, or why it is unknown."""

    files: dict[str, Stamp]
    others: dict[str, int | OSError]


def entries_below(kb: Path) -> Entries:
    """Return what lies below `kb`, each folder in order of names, without what is hidden.

    Links are not followed. Raises `OSError` when `kb` itself cannot be listed. Imports nothing heavy.
    """
    found = Entries({}, {})
    _look(os.fspath(kb), "", 1, found)
    return found


def _look(folder: str, before: str, depth: int, found: Entries) -> None:
    with os.scandir(folder) as listed:
        entries = sorted([entry for entry in listed if not entry.name.startswith(_HIDDEN)], key=_name)
    for entry in entries:
        path = before + entry.name
        try:
            state = entry.stat(follow_symlinks=False)
            if entry.is_file(follow_symlinks=False):
                found.files[path] = state.st_size, state.st_mtime_ns, state.st_ino, state.st_ctime_ns
                continue
            found.others[path] = S_IFMT(state.st_mode)
            if depth < _DEEPEST and entry.is_dir(follow_symlinks=False):
                _look(entry.path, f"{path}/", depth + 1, found)
        except OSError as error:
            found.others[path] = error
