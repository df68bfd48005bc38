"""The index in a site's folder: only what is not there already is written."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterable, Mapping
from contextlib import suppress
from pathlib import Path
from typing import Final

from shearpin.model.spare import Spare, copy_into, is_copy, stamp_of, write_into

FOLDER: Final = "index"


def put_files(
    texts: Iterable[tuple[str, str]], same: Iterable[str], site_folder: Path, before: Path | None
) -> tuple[str, ...]:
    """Put the files of an index with these names and texts in `index/` below `site_folder`; return where they are.

    Those that are the same in the site `before` are its files under a second name, where that can be had, or copies. So are those
    that are named as the `same`, which without a site before lie there already. Unchanged files are left alone, old ones removed. Raises
    `OSError` where one of the same is not there.
    """
    if before is not None:
        Spare(before).take_folder(FOLDER, site_folder)
    former = os.path.join(before, FOLDER) if before is not None else None
    folder = _Folder(os.path.join(site_folder, FOLDER), former)
    names = []
    for name in same:
        names.append(f"{name}.js")
        if before is not None:
            folder.take(names[-1])
    for name, text in texts:
        names.append(f"{name}.js")
        folder.put(names[-1], text.encode())
    folder.remove_all_but(names)
    return tuple([os.path.join(folder.path, name) for name in names])


class _Folder:
    """A folder in which the files of an index are put, with the one of the site before, if any."""

    def __init__(self, path: str, former: str | None) -> None:
        os.makedirs(path, exist_ok=True)
        self.path, self._former = path, former
        self._there, self._then = _numbers(path), _numbers(former) if former is not None else {}

    def take(self, name: str) -> None:
        """Take a file of the site before over; raises `OSError` where there is none."""
        number = self._there.get(name)
        if number is not None and number == self._then.get(name):
            return
        old, new = os.path.join(self._former or "", name), os.path.join(self.path, name)
        if number is not None and (is_copy(stamp_of(old), stamp_of(new)) or copy_into(old, new)):
            return
        with suppress(FileNotFoundError):
            os.unlink(new)
        try:
            os.link(old, new)
        except OSError:  # no second names on this disk, or the site before is on another
            shutil.copy2(old, new)

    def put(self, name: str, data: bytes) -> None:
        """Put a file of these bytes there."""
        path, is_there = os.path.join(self.path, name), name in self._there
        if self._former is None and is_there:
            if not _holds(path, data):
                _replace(path, data)
        elif name in self._then and _holds(os.path.join(self._former or "", name), data):
            self.take(name)
        elif not (is_there and write_into(path, data)):
            # Where there was one that has another name, that name is gone: whoever wrote there would write into the site before.
            with open(path, "wb") as stream:
                stream.write(data)

    def remove_all_but(self, names: Iterable[str]) -> None:
        """Remove what is no file of the index any more."""
        for name in self._there.keys() - set(names):
            if name.endswith(".js"):
                os.unlink(os.path.join(self.path, name))


def _numbers(folder: str) -> Mapping[str, int]:
    """Return the names of files in a folder, with the numbers of the files."""
    with suppress(OSError), os.scandir(folder) as entries:
        return {entry.name: entry.inode() for entry in entries}
    return {}


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
            return not os.path.islink(path) and stream.read() == data
    except OSError:
        return False
