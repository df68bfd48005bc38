"""Everything that lies below `kb/`: records, drawings, pages, and translations several folders down."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path
from typing import Final

_HIDDEN: Final = "."
_DEEPEST: Final = 6
"""Folders within one another that are looked into; nothing of a book lies as deep."""


def entries_below(kb: Path) -> Iterator[tuple[str, os.DirEntry[str] | OSError]]:
    """Yield what lies below `kb` by its path there, in order of names; for a folder that cannot be listed also why.

    Links are not followed. Raises `OSError` when `kb` itself cannot be listed. Imports nothing heavy.
    """
    yield from _below(kb, "", 1)


def _below(folder: str | Path, before: str, depth: int) -> Iterator[tuple[str, os.DirEntry[str] | OSError]]:
    for entry in _listed(folder):
        path = before + entry.name
        yield path, entry
        if depth < _DEEPEST and entry.is_dir(follow_symlinks=False):
            try:
                yield from _below(entry.path, f"{path}/", depth + 1)
            except OSError as error:
                yield path, error


def _listed(folder: str | Path) -> list[os.DirEntry[str]]:
    with os.scandir(folder) as entries:
        return sorted((e for e in entries if not e.name.startswith(_HIDDEN)), key=lambda entry: entry.name)
