"""What a process that stays remembers from one reading of the records to the next, so that it reads only what was saved.

A file counts as the one that was read while its size, times and number are the same, and its time is not of the second in
which it was read: somebody may have saved once more since, within one tick of the clock.
"""

from __future__ import annotations

import os
import time
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Final

from shearpin.book.readfiles import ReadFile

_SETTLED_NS: Final = 1_000_000_000

_Stamp = tuple[int, int, int, int]


@dataclass(slots=True)
class Memory:
    """Digests of files with the stamps they had, and files as read."""

    stamped: dict[str, tuple[_Stamp, bytes]] = field(default_factory=dict)
    files: dict[str, ReadFile] = field(default_factory=dict)

    def stamps(self, kb: Path) -> dict[str, _Stamp]:
        """Return the stamps of all files below `kb` that were not saved just now, by their path."""
        now = time.time_ns()
        found: dict[str, _Stamp] = {}
        for folder in os.scandir(kb):
            if folder.is_dir(follow_symlinks=False):
                for entry in os.scandir(folder.path):
                    if entry.is_file(follow_symlinks=False):
                        state = entry.stat(follow_symlinks=False)
                        if state.st_mtime_ns < now - _SETTLED_NS:
                            # The last one tells a copy that kept the time of what it was copied from.
                            stamp = (state.st_size, state.st_mtime_ns, state.st_ino, state.st_ctime_ns)
                            found[f"{folder.name}/{entry.name}"] = stamp
        return found

    def known(self, stamps: Mapping[str, _Stamp]) -> dict[str, bytes]:
        """Return the digests of the files that have the stamps they had."""
        return {
            path: before[1]
            for path, stamp in stamps.items()
            if (before := self.stamped.get(path)) is not None and before[0] == stamp
        }

    def remember(self, stamps: Mapping[str, _Stamp], digests: Mapping[str, bytes]) -> None:
        """Remember the digests of files that had these stamps before they were read."""
        self.stamped = {path: (stamp, digests[path]) for path, stamp in stamps.items() if path in digests}
