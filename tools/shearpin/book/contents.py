"""A digest of everything below `kb/` that a rule may read: names, kinds of entries, contents."""

from __future__ import annotations

import hashlib
import os
import stat
from pathlib import Path
from typing import Final

_HIDDEN: Final = "."
_MOST: Final = 4_000_000  # bytes; no rule reads as much of a file


def contents_digest(kb: Path) -> str:
    """Return a digest that changes with any entry below `kb` and with any byte of a file that is read.

    Links are not followed, and what is no file is not opened. Raises `OSError` when `kb` cannot be listed.
    """
    digest = hashlib.blake2b()
    for folder in _listed(kb):
        _add(digest, folder)
        if folder.is_dir(follow_symlinks=False):
            try:
                entries = _listed(Path(folder.path))
            except OSError as error:
                digest.update(f"\0{error.errno}".encode())
                continue
            for entry in entries:
                _add(digest, entry)
    return digest.hexdigest()


def _listed(folder: Path) -> list[os.DirEntry[str]]:
    with os.scandir(folder) as entries:
        return sorted((e for e in entries if not e.name.startswith(_HIDDEN)), key=lambda entry: entry.name)


def _add(digest: hashlib.blake2b, entry: os.DirEntry[str]) -> None:
    digest.update(f"\0{entry.path}\0".encode(errors="surrogatepass"))
    try:
        if not entry.is_file(follow_symlinks=False):
            digest.update(str(stat.S_IFMT(entry.stat(follow_symlinks=False).st_mode)).encode())
            return
        with open(entry.path, "rb") as stream:
            content = stream.read(_MOST)
    except OSError as error:
        digest.update(f"error {error.errno}".encode())
        return
    digest.update(f"{len(content)}\0".encode())
    digest.update(content)
