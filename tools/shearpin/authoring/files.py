"""Writing files so that nothing is half-written and nothing lies outside the book."""

from __future__ import annotations

import contextlib
import os
import stat
from pathlib import Path
from typing import Final

from shearpin.model.filecontent import MAX_BYTES
from shearpin.model.kinds import Kind

CACHE_FOLDER: Final = ".shearpin"
"""Beside the records; holds what can be made again."""


class WriteRefused(Exception):
    """A file is not written; the text says why and what to do."""


def record_path(kb: Path, kind: Kind, record_id: str) -> Path:
    """Return where a record lies; raises `WriteRefused` where its folder leads out of the book."""
    folder = kb / kind.folder
    if folder.is_symlink() or (folder.exists() and not folder.is_dir()):
        raise WriteRefused(f"`{kind.folder}` must be a folder of the book, not a link or a file")
    path = folder / f"{record_id}.yaml"
    if path.parent != folder:
        raise WriteRefused(f"`{record_id}` would lie outside `{kind.folder}`")
    return path


def read_plain_file(path: Path, limit: int = MAX_BYTES) -> bytes:
    """Return the bytes of a file that is no link; raises `WriteRefused` with the reason for any other, or a huge one."""
    try:
        if not stat.S_ISREG(os.lstat(path).st_mode):
            raise WriteRefused(f"{path} is a link or no file; nothing is written through it")
        with open(path, "rb") as stream:
            content = stream.read(limit + 1)
    except OSError as error:
        raise WriteRefused(f"cannot read {path}: {error.strerror or error}") from error
    if len(content) > limit:
        raise WriteRefused(f"{path} is larger than {limit:,} bytes")
    return content


def create_file(path: Path, content: bytes) -> None:
    """Write a file that must not exist yet, or none; raises `WriteRefused`."""
    made = False
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with open(path, "xb") as stream:
            made = True
            stream.write(content)
    except FileExistsError:
        raise WriteRefused(f"{path} exists already and is left as it is") from None
    except OSError as error:
        if made:  # a full disk may only be noticed when the file is closed
            with contextlib.suppress(OSError):
                path.unlink()
        raise WriteRefused(f"cannot write {path}: {error.strerror or error}") from error


def replace_file(path: Path, content: bytes) -> None:
    """Put new content in a file's place at once, its rights kept; raises `WriteRefused` and leaves the old one.

    A file that its owner has made read-only stays as it is: replacing it would go round that wish.
    """
    beside = path.with_name(f".{path.name}.{os.getpid()}~")
    try:
        mode: int | None = None
        if os.path.lexists(path):
            state = os.lstat(path)
            if not stat.S_ISREG(state.st_mode):
                raise WriteRefused(f"{path} is a link or no file; nothing is written through it")
            mode = stat.S_IMODE(state.st_mode)
            if not mode & stat.S_IWUSR:
                raise WriteRefused(f"{path} is read-only; allow writing first if it may change")
        with open(beside, "xb") as stream:
            stream.write(content)
            stream.flush()
            os.fsync(stream.fileno())
        if mode is not None:
            os.chmod(beside, mode)
        os.replace(beside, path)
    except OSError as error:
        raise WriteRefused(f"cannot write {path}: {error.strerror or error}") from error
    finally:
        with contextlib.suppress(OSError):  # nothing is there any more where all went well
            beside.unlink()
