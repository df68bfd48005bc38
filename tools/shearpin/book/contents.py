"""A digest of everything below `kb/` that a rule may read: names, kinds of entries, contents."""

from __future__ import annotations

import hashlib
import os
import stat
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType
from typing import Final

from shearpin.book.entries import entries_below
from shearpin.model.filecontent import digest_of

_MOST: Final = 4_000_000  # bytes; no rule reads as much of a file


@dataclass(frozen=True, slots=True)
class Contents:
    """The digest of everything, and that of the content of each file by its path below `kb/`."""

    whole: str
    files: Mapping[str, bytes]


def contents_of(kb: Path, known: Mapping[str, bytes] = MappingProxyType({})) -> Contents:
    """Return digests that change with any entry below `kb` and with any byte of a file that is read.

    `known` are digests of the content of files by path, which are not read again. Links are not followed, and what is
    no file is not opened. Raises `OSError` when `kb` cannot be listed.
    """
    return contents_among(entries_below(kb), known)


def contents_among(
    entries: Iterable[tuple[str, os.DirEntry[str] | OSError]], known: Mapping[str, bytes]
) -> Contents:
    """Return the same of entries as `entries_below` gives them."""
    whole = hashlib.blake2b()
    files: dict[str, bytes] = {}
    for path, entry in entries:
        whole.update(f"\0{path}\0".encode(errors="surrogatepass"))
        try:
            if isinstance(entry, OSError):
                raise entry
            if not entry.is_file(follow_symlinks=False):
                whole.update(str(stat.S_IFMT(entry.stat(follow_symlinks=False).st_mode)).encode())
                continue
            files[path] = _digest(entry, known.get(path))
            whole.update(files[path])
        except OSError as error:
            whole.update(f"error {error.errno}".encode())
    return Contents(whole.hexdigest(), files)


def _digest(entry: os.DirEntry[str], known: bytes | None) -> bytes:
    if known:
        return known
    with open(entry.path, "rb") as stream:
        return digest_of(stream.read(_MOST))
