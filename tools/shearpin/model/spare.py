"""What a build has replaced of a large site, kept beside it for the next build, in `.site.spare`.

`folders/` has whole folders of the site before this one: nearly all of their files are second names of files in the site,
so the next build takes such a folder and sets right what is another, in place of giving every file a new name and taking an old
one away. `files/` has single files that were replaced in builds before: the next one that writes the same addresses writes into
them. A file system such as ext4 looks for the place of a new file among those of all that were deleted in the last minutes, one
after the other. After a few builds that takes ten times as long as to write it. So what is replaced is not deleted.

Whatever has such a file open sees at worst the same address of a later build. A file that has another name is left alone. All
of it may be deleted at any time.
"""

from __future__ import annotations

import os
import shutil
import stat
from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path
from typing import Final

WORTH_SPARING: Final = 1_000
"""Files of a site from which what is replaced is kept."""

MOST_SPARE: Final = 0.75
"""Of the files of a site, the part that may be kept: two edits that concern a third of all pages each leave room for others."""

_FLAGS: Final = os.O_WRONLY | getattr(os, "O_BINARY", 0) | getattr(os, "O_NOFOLLOW", 0)


class Spare:
    """What was replaced in the site at a path. Nothing of it needs to be there, and two builds at once may use it."""

    def __init__(self, site: Path | str) -> None:
        folder, name = os.path.split(os.fspath(site))
        self.path = os.path.join(folder, f".{name}.spare")
        self._files, self._folders = f"{self.path}/files", f"{self.path}/folders"

    def take_folder(self, name: str, into: Path | str) -> None:
        """Give the folder `into` one of this name: that of the site before the last where it is kept, else an empty one."""
        try:
            os.rename(f"{self._folders}/{name}", f"{os.fspath(into)}/{name}")
        except OSError:  # as a rule there is none, or one that was taken already
            os.makedirs(f"{os.fspath(into)}/{name}", exist_ok=True)

    def keep_folder(self, name: str, previous: Path | str) -> None:
        """Keep the folder of this name in a site that was replaced, or that is given up; one that is kept already goes."""
        path, kept = f"{os.fspath(previous)}/{name}", f"{self._folders}/{name}"
        if os.path.isdir(path):
            shutil.rmtree(kept, ignore_errors=True)
            with suppress(OSError):  # what stays is deleted with the site
                os.makedirs(self._folders, exist_ok=True)
                os.rename(path, kept)

    def keep_files(self, previous: Path | str, addresses: Iterable[str]) -> None:
        """Keep the files at these addresses in a site that was replaced, but for those that have another name."""
        for address in addresses:
            path = f"{os.fspath(previous)}/{address}"
            if _is_alone(path):
                self._keep_file(path, address)

    def put_away(self, path: str, address: str) -> None:
        """Keep a file that must make room at its address; delete it where it has another name or cannot be kept."""
        if not (_is_alone(path) and self._keep_file(path, address)):
            with suppress(FileNotFoundError):
                os.unlink(path)

    def _keep_file(self, path: str, address: str) -> bool:
        kept = f"{self._files}/{address}"
        with suppress(OSError):
            try:
                os.replace(path, kept)
            except FileNotFoundError:
                os.makedirs(os.path.dirname(kept), exist_ok=True)
                os.replace(path, kept)
            return True
        return False

    def limit(self, most: int) -> None:
        """Delete all single files that are kept where there are more than so many."""
        if sum(len(files) for _, _, files in os.walk(self._files)) > most:
            shutil.rmtree(self._files, ignore_errors=True)

    def write_over(self, address: str, path: str, content: bytes) -> bool:
        """Give a new file the place of that which was replaced at its address, and write into it; tell whether it was done.

        Where it was not, nothing is at `path`, or what was there before. The folder for it must be there.
        """
        try:
            os.rename(f"{self._files}/{address}", path)
        except OSError:  # as a rule there is none
            return False
        return write_into(path, content)


def write_into(path: str, content: bytes) -> bool:
    """Write into a file that lies there and has no other name; tell whether it was done. Nothing is there where it was not."""
    try:
        file = os.open(path, _FLAGS)
        try:
            state = os.fstat(file)
            is_ours_alone = stat.S_ISREG(state.st_mode) and state.st_nlink == 1
            if is_ours_alone and os.write(file, content) == len(content):
                if state.st_size > len(content):
                    os.ftruncate(file, len(content))
                return True
        finally:
            os.close(file)
    except OSError:
        pass
    # Not ours alone, or not all of it went in: the caller writes another, and says what is wrong.
    with suppress(FileNotFoundError):
        os.unlink(path)
    return False


def _is_alone(path: str) -> bool:
    """Whether a file is there that has no other name."""
    try:
        state = os.lstat(path)
    except OSError:
        return False
    return stat.S_ISREG(state.st_mode) and state.st_nlink == 1
