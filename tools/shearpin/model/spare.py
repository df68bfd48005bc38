"""Files that a build has replaced, kept beside the site: the next build writes the same addresses into them.

A file system such as ext4 looks for the place of a new file among those of all that were deleted in the last minutes, one after
the other. After a few builds that takes ten times as long as to write it. So what is replaced is not deleted.

Whatever has such a file open sees at worst the same address of a later build. A file that has another name is left alone.
"""

from __future__ import annotations

import os
import shutil
import stat
from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path
from typing import Final

_FLAGS: Final = os.O_WRONLY | getattr(os, "O_BINARY", 0) | getattr(os, "O_NOFOLLOW", 0)


def spare_of(site: Path | str) -> str:
    """Return the folder of what was replaced in a site."""
    folder, name = os.path.split(os.fspath(site))
    return os.path.join(folder, f".{name}.spare")


def write_over(spare: str, address: str, path: str, content: bytes) -> bool:
    """Give a new file the place of that which was replaced at its address, and write into it; tell whether it was done.

    Nothing is at `path` where it was not. The folder for it must be there.
    """
    try:
        os.rename(f"{spare}/{address}", path)
    except OSError:  # as a rule there is none
        return False
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
    os.unlink(path)
    return False


def keep_replaced(previous: Path | str, spare: str, addresses: Iterable[str], most: int) -> None:
    """Put aside the files of a site that was replaced at these addresses, of which no other site has a second name.

    Never more than so many are there: where it would come to `most`, all go.
    """
    replaced = [address for address in addresses if _is_alone(f"{previous}/{address}")]
    if len(replaced) + _count(spare) > most:
        shutil.rmtree(spare, ignore_errors=True)
    if len(replaced) > most:
        return
    with suppress(OSError):  # what stays is deleted with the site
        for folder in {os.path.dirname(address) for address in replaced}:
            os.makedirs(os.path.join(spare, folder), exist_ok=True)
        for address in replaced:
            os.replace(f"{previous}/{address}", f"{spare}/{address}")


def _is_alone(path: str) -> bool:
    """Whether a file is there that has no other name."""
    try:
        state = os.lstat(path)
    except OSError:
        return False
    return stat.S_ISREG(state.st_mode) and state.st_nlink == 1


def _count(folder: str) -> int:
    return sum(len(files) for _, _, files in os.walk(folder))
