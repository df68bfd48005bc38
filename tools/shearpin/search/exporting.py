"""The index in a site's folder: only what is not there already is written."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterable
from pathlib import Path
from typing import Final

FOLDER: Final = "index"


def put_files(
    texts: Iterable[tuple[str, str]], same: Iterable[str], site_folder: Path, before: Path | None
) -> tuple[Path, ...]:
    """Put the files of an index with these names and texts in `index/` below `site_folder`; return them.

    Those that are the same in the site `before` are its files under a second name, where that can be had. So are those that are
    named as the `same`, which without a site before lie there already. Unchanged files are left alone, old ones removed. Raises
    `OSError` where one of the same is not there.
    """
    folder = site_folder / FOLDER
    folder.mkdir(parents=True, exist_ok=True)
    there = set(os.listdir(folder))
    written = []
    for name in same:
        path = folder / f"{name}.js"
        if before is not None:
            _take(before / FOLDER / path.name, path)
        written.append(path)
    for name, text in texts:
        path = folder / f"{name}.js"
        data = text.encode()
        is_there = bool(there) and _holds(path, data)
        if not is_there and not (before and _shared(before / FOLDER / path.name, path, data)):
            if there:
                _replace(path, data)
            else:
                with open(path, "wb") as stream:
                    stream.write(data)
        written.append(path)
    for name in there.difference(path.name for path in written):
        if name.endswith(".js"):
            (folder / name).unlink()
    return tuple(written)


def _take(old: Path, new: Path) -> None:
    try:
        os.link(old, new)
    except OSError:
        shutil.copy2(old, new)


def _replace(path: Path, data: bytes) -> None:
    """Write a file beside, and put it in its place: the former may be that of another site under a second name."""
    beside = path.with_name(f".{path.name}")
    beside.write_bytes(data)
    os.replace(beside, path)


def _holds(path: Path, data: bytes) -> bool:
    try:
        with open(path, "rb") as stream:
            return stream.read() == data
    except OSError:
        return False


def _shared(old: Path, new: Path, data: bytes) -> bool:
    """Give a file a second name if it holds these bytes; tell whether it was done."""
    if os.path.lexists(new) or os.path.islink(old) or not _holds(old, data):
        return False
    try:
        os.link(old, new)
    except OSError:  # no second names on this disk, or the site before is on another
        return False
    return True
