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
    entries = entries_below(kb)
    for other in entries.others.values():
        if isinstance(other, OSError):
            raise other
    for path, (size, time_ns, _, _) in entries.files.items():
        digest.update(f"{path}\0{size}\0{time_ns}\n".encode(errors="replace"))
    return digest.hexdigest()
