"""Where a publication goes: made beside its place under another name, and renamed when all of it is whole."""

from __future__ import annotations

import contextlib
import os
import shutil
import sys
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path
from typing import IO, Final

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


def exchange(made: Sequence[Path], gone: Iterable[Path], out: Path, name: str) -> None:
    """Let what was made take its places in `out`, and take `gone` away: all of it, or nothing, which raises `OSError`.

    What is complete is gathered first under a name of its own. A process that dies from then on leaves all it takes for the
    next one to finish (`staging`); one that is refused puts everything back.
    """
    ready, former = _ready(out, name), _former(out, name)
    gathered = made[0].parent / ready.name
    gathered.mkdir()
    for path in made:
        _move(path, gathered / path.name)
    _move(gathered, ready)
    try:
        _place(ready, former, out)
        for path in gone:
            _move(path, former / path.name)
    except BaseException:
        for path in made:
            if not os.path.lexists(ready / path.name) and os.path.lexists(out / path.name):
                _move(out / path.name, ready / path.name)
        for path in former.iterdir():
            _move(path, out / path.name)
        _clear(ready, former)
        raise
    _clear(ready, former)


def is_unfinished(path: Path) -> bool:
    """Whether a folder holds what a publication that died had not yet put in its place."""
    return path.name.startswith(".") and path.name.endswith(_READY) and path.is_dir()


_READY: Final = ".ready"


def _ready(out: Path, name: str) -> Path:
    return out / f".{name}{_READY}"


def _former(out: Path, name: str) -> Path:
    return out / f".{name}.former"


def _place(ready: Path, former: Path, out: Path) -> None:
    former.mkdir(exist_ok=True)
    for path in sorted(ready.iterdir()):
        target = out / path.name
        if os.path.lexists(target):
            _move(target, former / path.name)
        _move(path, target)


def _move(path: Path, target: Path) -> None:
    os.rename(path, target)


def _clear(ready: Path, former: Path) -> None:
    """Take both folders away, `ready` first: as long as it is there, the next publication goes on with it."""
    shutil.rmtree(ready, ignore_errors=True)
    shutil.rmtree(former, ignore_errors=True)


def _recover(out: Path, name: str) -> None:
    """Finish what a publication that died had begun to put in place; it was complete."""
    ready, former = _ready(out, name), _former(out, name)
    if ready.is_dir():
        _place(ready, former, out)
    _clear(ready, former)


def flush_to_disk(path: Path) -> None:
    """Have the system write a file or a whole folder to the disk, so that a stick may be pulled afterwards."""
    files = [path] if path.is_file() else sorted(p for p in path.rglob("*") if p.is_file())
    for file in files:
        with open(file, "rb+") as stream:
            os.fsync(stream.fileno())
