"""Where a publication goes: made beside its place under another name, and renamed when it is whole."""

from __future__ import annotations

import contextlib
import os
import shutil
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import IO

from shearpin.publish.faults import PublishError
from shearpin.site.folders import partial_folder

if sys.platform == "win32":
    import msvcrt

    def _try_lock(stream: IO[bytes]) -> None:
        msvcrt.locking(stream.fileno(), msvcrt.LK_NBLCK, 1)
else:
    import fcntl

    def _try_lock(stream: IO[bytes]) -> None:
        fcntl.flock(stream, fcntl.LOCK_EX | fcntl.LOCK_NB)


@contextlib.contextmanager
def alone(out: Path, name: str) -> Iterator[None]:
    """Keep a second publication of the same edition in the same folder out; raises `PublishError` in that one.

    The system lets go of the lock when the process ends, however it ends.
    """
    out.mkdir(parents=True, exist_ok=True)
    path = out / f".{name}.lock"
    with open(path, "wb") as stream:
        try:
            _try_lock(stream)
            if os.fstat(stream.fileno()).st_ino != path.stat().st_ino:
                raise BlockingIOError  # the other one has just finished and taken its lock away
        except OSError:
            raise PublishError(
                f"`{name}` is being published in {out} right now by another program. "
                "Wait until it has finished, or name another folder with --out."
            ) from None
        try:
            yield
        finally:
            stream.close()  # Windows removes no open file
            with contextlib.suppress(OSError):
                path.unlink()


@contextlib.contextmanager
def staging(out: Path, name: str) -> Iterator[Path]:
    """Give an empty folder beside the publication; what is left in it at the end is removed."""
    _recover(out, name)
    folder = partial_folder(out / name)
    try:
        yield folder
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def put_in_place(made: Path, target: Path) -> None:
    """Let what was made take the place of a file or folder; raises `OSError` and leaves the previous one whole."""
    if not made.is_dir():
        os.replace(made, target)
        return
    previous = target.parent / f".{target.name}.previous"
    shutil.rmtree(previous, ignore_errors=True)
    if not target.exists():
        os.rename(made, target)
        return
    os.rename(target, previous)
    try:
        os.rename(made, target)
    except OSError:
        os.rename(previous, target)
        raise
    shutil.rmtree(previous, ignore_errors=True)


def _recover(out: Path, name: str) -> None:
    """Put the previous folder back where a publication died between moving it away and taking its place."""
    previous = out / f".{name}.previous"
    if previous.is_dir() and not (out / name).exists():
        os.rename(previous, out / name)
    shutil.rmtree(previous, ignore_errors=True)


def flush_to_disk(path: Path) -> None:
    """Have the system write a file or a whole folder to the disk, so that a stick may be pulled afterwards."""
    files = [path] if path.is_file() else sorted(p for p in path.rglob("*") if p.is_file())
    for file in files:
        with open(file, "rb+") as stream:
            os.fsync(stream.fileno())
