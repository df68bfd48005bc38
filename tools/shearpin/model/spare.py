"""Folders of the site before this one, kept beside a large site in `.site.spare` for the next build to begin with.

Most of their files are second names of files in the site, or hold the same. The next build takes such a folder and sets right what
is another, in place of giving every file a new name and taking an old one away. What it replaces it writes into the file that lies
there, where that has no other name: a file system such as ext4 looks for the place of a new file among those of all that were deleted in
the last minutes, one after the other. After a few builds that takes ten times as long as to write it. So hardly a file
is deleted.

Whatever has such a file open sees at worst the same address of a later build. A file that has another name is left alone. The
folder may be deleted at any time.
"""

from __future__ import annotations

import os
import shutil
import stat
from contextlib import suppress
from pathlib import Path
from typing import Final

WORTH_SPARING: Final = 1_000
"""Files of a site from which what is replaced is kept."""

MOST_SPARE: Final = 0.75
"""Of the files of a site, the part that may be replaced by a build for what was replaced to be of use."""

_FLAGS: Final = os.O_WRONLY | getattr(os, "O_BINARY", 0) | getattr(os, "O_NOFOLLOW", 0)
_SECOND: Final = 1_000_000_000

Stamp = tuple[int, int]
"""Size of a file, and when it was written last, in ns: a file that was written since has another."""


class Spare:
    """What was replaced in the site at a path. Nothing of it needs to be there, and two builds at once may use it."""

    def __init__(self, site: Path | str) -> None:
        folder, name = os.path.split(os.fspath(site))
        self.path = os.path.join(folder, f".{name}.spare")

    def take_folder(self, name: str, into: Path | str) -> None:
        """Give the folder `into` one of this name: that of the site before the last where it is kept, else an empty one."""
        try:
            os.rename(f"{self.path}/{name}", f"{os.fspath(into)}/{name}")
        except OSError:  # as a rule there is none, or one that was taken already
            os.makedirs(f"{os.fspath(into)}/{name}", exist_ok=True)

    def keep_folder(self, name: str, previous: Path | str) -> None:
        """Keep the folder of this name in a site that was replaced, or that is given up; one that is kept already goes."""
        path, kept = f"{os.fspath(previous)}/{name}", f"{self.path}/{name}"
        if os.path.isdir(path):
            shutil.rmtree(kept, ignore_errors=True)
            with suppress(OSError):  # what stays is deleted with the site
                os.makedirs(self.path, exist_ok=True)
                os.rename(path, kept)

    def drop(self) -> None:
        """Delete all of it."""
        shutil.rmtree(self.path, ignore_errors=True)


def stamp_of(path: Path | str) -> Stamp:
    """Return the stamp of a file."""
    state = os.stat(path, follow_symlinks=False)
    return state.st_size, state.st_mtime_ns


def is_copy(one: Stamp, other: Stamp) -> bool:
    """Whether one of two files at the same address of two sites is a copy of the other.

    Where whole seconds are all that is told of times, it is not known.
    """
    return one == other and one[1] % _SECOND != 0


def write_into(path: str, content: bytes, written: int | None = None) -> bool:
    """Write into a file that lies there and has no other name; tell whether it was done. Nothing is there where it was not.

    `written` is to be told as the time when it was, in ns.
    """
    try:
        file = os.open(path, _FLAGS)
        try:
            state = os.fstat(file)
            is_ours_alone = stat.S_ISREG(state.st_mode) and state.st_nlink == 1
            if is_ours_alone and os.write(file, content) == len(content):
                if state.st_size > len(content):
                    os.ftruncate(file, len(content))
                if written is not None:
                    os.utime(path, ns=(written, written))
                return True
        finally:
            os.close(file)
    except OSError:
        pass
    # Not ours alone, or not all of it went in: the caller writes another, and says what is wrong.
    with suppress(FileNotFoundError):
        os.unlink(path)
    return False


def copy_into(old: str, new: str) -> bool:
    """Write what a file holds into another one at the same address, as `write_into` does, and give it its time."""
    try:
        with open(old, "rb", buffering=0) as file:
            state = os.fstat(file.fileno())
            content = file.read(state.st_size)
    except OSError:
        return False
    return len(content) == state.st_size and write_into(new, content, state.st_mtime_ns)
