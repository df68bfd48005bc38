"""A digest of everything below `kb/` that a rule may read: names, kinds of entries, contents."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType
from typing import Final

from shearpin.book.entries import Entries
from shearpin.model.filecontent import digest_of

_MOST: Final = 4_000_000  # bytes; no rule reads as much of a file


@dataclass(frozen=True, slots=True)
class Contents:
    """The digest of everything, and that of the content of each file by its path below `kb/`."""

    whole: str
    files: Mapping[str, bytes]


def contents_of(kb: Path, entries: Entries, known: Mapping[str, bytes] = MappingProxyType({})) -> Contents:
    """Return digests that change with any of these entries below `kb` and with any byte of a file that is read.

    `known` are digests of the content of files by path, which are not read again.
    """
    files: dict[str, bytes] = {}
    marks = [f"{path}\0{_mark(other)}" for path, other in entries.others.items()]
    for path in entries.files:
        digest = known.get(path)
        if not digest:
            try:
                with open(kb / path, "rb") as stream:
                    digest = digest_of(stream.read(_MOST))
            except OSError as error:
                marks.append(f"{path}\0{_mark(error)}")
                continue
        files[path] = digest
    whole = hashlib.blake2b("\0".join(files).encode(errors="surrogatepass"))
    whole.update(b"\0\0" + b"".join(files.values()))
    whole.update("\0\0".join(["", *marks]).encode(errors="surrogatepass"))
    return Contents(whole.hexdigest(), files)


def _mark(other: int | OSError) -> str:
    return f"error {other.errno}" if isinstance(other, OSError) else str(other)
