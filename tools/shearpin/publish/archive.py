"""Zip archives whose bytes depend on their content and date alone.

Entries are stored, not compressed: builds of zlib differ in the bytes they make, and the same edition must have the
same digest wherever it was published.
"""

from __future__ import annotations

import zipfile
from collections.abc import Iterable, Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import IO, Final

_FIRST: Final = datetime(1980, 1, 1, tzinfo=UTC)  # zip knows no earlier time
_LAST: Final = datetime(2107, 12, 31, tzinfo=UTC)
_FILE_MODE: Final = 0o100644 << 16
_UNIX: Final = 3


def stored_entry(name: str, moment: datetime) -> zipfile.ZipInfo:
    """Return how a file stands in our archives."""
    at = min(max(moment.astimezone(UTC), _FIRST), _LAST)
    entry = zipfile.ZipInfo(name, (at.year, at.month, at.day, at.hour, at.minute, at.second - at.second % 2))
    entry.create_system = _UNIX
    entry.external_attr = _FILE_MODE
    entry.compress_type = zipfile.ZIP_STORED
    return entry


def write_archive(target: IO[bytes], content: Iterable[tuple[str, bytes]], moment: datetime) -> None:
    """Write files, in the order in which they come, as a zip archive."""
    with zipfile.ZipFile(target, "w", zipfile.ZIP_STORED) as archive:
        for name, data in content:
            archive.writestr(stored_entry(name, moment), data)


def files_below(folder: Path, prefix: str = "") -> Iterator[tuple[str, bytes]]:
    """Yield every file below a folder as (prefix and relative path, content), sorted by path."""
    for name in sorted(p.relative_to(folder).as_posix() for p in folder.rglob("*") if p.is_file()):
        yield prefix + name, (folder / name).read_bytes()
