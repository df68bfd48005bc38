"""A fingerprint of the records' files, cheap enough for every call: names, sizes and times, not contents."""

from __future__ import annotations

import hashlib
from pathlib import Path

from shearpin.book.entries import entries_below


def fingerprint(kb: Path) -> str:
    """Return a digest that changes when any file below `kb` is added, removed, renamed or written.

    Raises `OSError` when `kb` cannot be listed. Imports nothing heavy: a cold search must not wait for the record model.
    """
    digest = hashlib.sha256()
    for path, entry in entries_below(kb):
        if isinstance(entry, OSError):
            raise entry
        if entry.is_file(follow_symlinks=False):
            state = entry.stat(follow_symlinks=False)
            digest.update(f"{path}\0{state.st_size}\0{state.st_mtime_ns}\n".encode(errors="replace"))
    return digest.hexdigest()
