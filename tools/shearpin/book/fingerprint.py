"""A fingerprint of the records' files, cheap enough for every call: names, sizes and times, not contents."""

from __future__ import annotations

import hashlib
import os
from pathlib import Path


def fingerprint(kb: Path) -> str:
    """Return a digest that changes when any file below `kb` is added, removed, renamed or written.

    Imports nothing heavy: a cold search must not wait for the record model.
    """
    digest = hashlib.sha256()
    for folder in sorted(_folders(kb)):
        with os.scandir(folder) as entries:
            for entry in sorted(entries, key=lambda item: item.name):
                if entry.is_file(follow_symlinks=False):
                    state = entry.stat(follow_symlinks=False)
                    digest.update(
                        f"{folder}/{entry.name}\0{state.st_size}\0{state.st_mtime_ns}\n".encode(
                            errors="replace"
                        )
                    )
    return digest.hexdigest()


def _folders(kb: Path) -> list[str]:
    with os.scandir(kb) as entries:
        return [entry.path for entry in entries if entry.is_dir(follow_symlinks=False)]
