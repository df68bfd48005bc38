"""The index in a site's folder: only what is not there already is written."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterable
from pathlib import Path
from typing import Final

from shearpin.model.spare import Spare

FOLDER: Final = "index"


def put_files(
    texts: Iterable[tuple[str, str]], same: Iterable[str], site_folder: Path, before: Path | None
) -> tuple[str, ...]:
    """Put the files of an index with these names and texts in `index/` below `site_folder`; return where they are.

    Those that are the same in the site `before` are its files under a second name, where that can be had. So are those that are
    named as the `same`, which without a site before lie there already. Unchanged files are left alone, old ones removed. Raises
    `OSError` where one of the same is not there.
    """
    folder = os.path.join(site_folder, FOLDER)
    former = os.path.join(before, FOLDER) if before is not None else None
    spare = Spare(before) if before is not None else None
    os.makedirs(folder, exist_ok=True)
    there = set(os.listdir(folder))
    names = []
    for name in same:
        names.append(f"{name}.js")
        if former is not None:
            _take(os.path.join(former, names[-1]), os.path.join(folder, names[-1]))
    for name, text in texts:
        names.append(f"{name}.js")
        path, data = os.path.join(folder, names[-1]), text.encode()
        is_there = bool(there) and _holds(path, data)
        if not is_there and not (former and _shared(os.path.join(former, names[-1]), path, data)):
            if there:
                _replace(path, data)
            elif not (spare and spare.write_over(f"{FOLDER}/{names[-1]}", path, data)):
                with open(path, "wb") as stream:
                    stream.write(data)
    for name in there.difference(names):
        if name.endswith(".js"):
            os.unlink(os.path.join(folder, name))
    return tuple([os.path.join(folder, name) for name in names])


def _take(old: str, new: str) -> None:
    try:
        os.link(old, new)
    except FileExistsError:  # from another process that died amid this
        os.unlink(new)
        _take(old, new)
    except OSError:
        shutil.copy2(old, new)


def _replace(path: str, data: bytes) -> None:
    """Write a file beside, and put it in its place: the former may be that of another site under a second name."""
    folder, name = os.path.split(path)
    beside = os.path.join(folder, f".{name}")
    with open(beside, "wb") as stream:
        stream.write(data)
    os.replace(beside, path)


def _holds(path: str, data: bytes) -> bool:
    try:
        with open(path, "rb") as stream:
            return stream.read() == data
    except OSError:
        return False


def _shared(old: str, new: str, data: bytes) -> bool:
    """Give a file a second name if it holds these bytes; tell whether it was done."""
    if os.path.lexists(new) or os.path.islink(old) or not _holds(old, data):
        return False
    try:
        os.link(old, new)
    except OSError:  # no second names on this disk, or the site before is on another
        return False
    return True
