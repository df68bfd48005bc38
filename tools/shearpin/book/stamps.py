"""The stamps of files, by which a file that nobody saved since is known without being read.

A file counts as the one that was read while its size, times and number are the same, and its time is not of the moment in
which it was read: somebody may have saved once more since, within one tick of the clock.
"""

from __future__ import annotations

import marshal
import os
import time
from collections.abc import Iterable, Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from shearpin.book.entries import entries_below
from shearpin.model.usercache import cache_of, program_digest, read_kept, write_kept

_SETTLED_NS: Final = 2_500_000_000
"""The clocks of some memory sticks tick every two seconds."""

Stamp = tuple[int, int, int, int]
"""Size, time, number and time of change of a file; the last tells a copy that kept the time of what it was copied from."""


@dataclass(frozen=True, slots=True)
class Stamps:
    """The stamps of all files below `kb` by path, and when they were looked at."""

    files: Mapping[str, Stamp]
    at_ns: int


def stamps_below(kb: Path) -> Stamps:
    """Return the stamps of all files below `kb`; raises `OSError` when it cannot be listed."""
    at_ns = time.time_ns()
    found: dict[str, Stamp] = {}
    for _ in stamped(entries_below(kb), found):
        pass
    return Stamps(found, at_ns)


def stamped(
    entries: Iterable[tuple[str, os.DirEntry[str] | OSError]], found: dict[str, Stamp]
) -> Iterator[tuple[str, os.DirEntry[str] | OSError]]:
    """Yield these entries, and find the stamp of each file once whoever took it is done with it."""
    for path, entry in entries:
        yield path, entry
        if not isinstance(entry, OSError) and entry.is_file(follow_symlinks=False):
            with suppress(OSError):  # gone since it was listed
                state = entry.stat(follow_symlinks=False)
                found[path] = state.st_size, state.st_mtime_ns, state.st_ino, state.st_ctime_ns


def digests_kept(kb: Path, stamps: Stamps) -> dict[str, bytes]:
    """Return the digests that were kept of files with the stamps that they have now."""
    kept = _kept(kb)
    return {
        path: before[1]
        for path, stamp in stamps.files.items()
        if (before := kept.get(path)) is not None and before[0] == stamp
    }


def keep_digests(kb: Path, stamps: Stamps, digests: Mapping[str, bytes]) -> None:
    """Keep the digests of files that had these stamps before they were read."""
    latest = stamps.at_ns - _SETTLED_NS
    now = {
        path: (stamp, digests[path])
        for path, stamp in stamps.files.items()
        if path in digests and max(stamp[1], stamp[3]) < latest
    }
    if now != _kept(kb):
        write_kept(_place(kb), _key(), marshal.dumps(now))


def _kept(kb: Path) -> dict[str, tuple[Stamp, bytes]]:
    payload = read_kept(_place(kb), _key())
    with suppress(ValueError, EOFError, TypeError):
        if payload is not None:
            kept: dict[str, tuple[Stamp, bytes]] = marshal.loads(payload)
            return kept
    return {}


def _place(kb: Path) -> Path:
    return cache_of(kb) / "stamps.bin"


def _key() -> str:
    return f"{program_digest()} stamps"
