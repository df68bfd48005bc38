"""The site's folder: a build goes beside it and takes its place only when it is complete."""

from __future__ import annotations

import os
import shutil
from contextlib import suppress
from pathlib import Path
from typing import Final

_READ: Final = os.O_RDONLY | getattr(os, "O_BINARY", 0)
_NEW_FILE: Final = os.O_WRONLY | os.O_CREAT | os.O_TRUNC | getattr(os, "O_BINARY", 0)


def partial_folder(site: Path) -> Path:
    """Return an empty folder beside `site` for a build, after removing what builds that died have left.

    Where one died when it had put the site away and not yet its own in the place, that site is put back.
    """
    previous, used = _beside(site, "previous")
    if previous and not used and not site.exists():
        with suppress(OSError):  # another build was quicker
            os.rename(previous.pop(), site)
    for left in (*previous, *_beside(site, "partial")[0]):
        shutil.rmtree(left, ignore_errors=True)
    folder = site.parent / f".{site.name}.partial-{os.getpid()}"
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir(parents=True)
    return folder


def _beside(site: Path, what: str) -> tuple[list[Path], list[Path]]:
    """Return the folders beside a site that builds which died have left, the latest last, and those that others use now."""
    left: list[Path] = []
    used: list[Path] = []
    for folder in site.parent.glob(f".{site.name}.{what}-*"):
        pid = folder.name.rpartition("-")[2]
        (used if pid.isdigit() and _is_running(int(pid)) else left).append(folder)
    return sorted(left, key=_changed), used


def _changed(path: Path) -> int:
    try:
        return path.stat().st_ctime_ns
    except OSError:  # another build has removed it
        return 0


def take_place(folder: Path, site: Path) -> Path | None:
    """Put a complete build in the place of the previous one; raises `OSError` and leaves the previous one whole.

    Hidden entries of the previous folder (such as `.git`) are kept, as MkDocs keeps them. Returns where the previous one
    lies now, which is to be removed with `remove_previous`; None where there was none.
    """
    if not site.exists():
        os.rename(folder, site)
        return None
    previous = site.parent / f".{site.name}.previous-{os.getpid()}"
    os.rename(site, previous)
    try:
        os.rename(folder, site)
    except OSError:
        os.rename(previous, site)
        raise
    for entry in previous.iterdir():
        if entry.name.startswith(".") and not (site / entry.name).exists():
            os.rename(entry, site / entry.name)
    return previous


def remove_previous(previous: Path | None, *, backwards: bool = False) -> None:
    """Remove what `take_place` has put away; two processes do it in half the time when one of them goes `backwards`."""
    if previous is not None:
        with suppress(OSError):
            for name in sorted(os.listdir(previous), reverse=backwards):
                shutil.rmtree(previous / name, ignore_errors=True)
        shutil.rmtree(previous, ignore_errors=True)


def write_text(path: Path | str, content: str) -> None:
    """Write a file with plain line ends on every system."""
    write_bytes(path, content.encode())


def write_bytes(path: Path | str, content: bytes) -> None:
    """Write a file, with the folder for it where it is not there yet."""
    try:
        file = os.open(path, _NEW_FILE, 0o666)
    except FileNotFoundError:  # its folder is not there yet
        os.makedirs(os.path.dirname(path), exist_ok=True)
        file = os.open(path, _NEW_FILE, 0o666)
    try:  # straight: a file object asks the system three times more, and a site has ten thousand files
        while content:
            content = content[os.write(file, content) :]
    finally:
        os.close(file)


def read_bytes(path: str, size: int) -> bytes:
    """Read a file of so many bytes; likewise straight. One that has another size gives other bytes, or fewer."""
    file = os.open(path, _READ)
    try:
        return os.read(file, size)
    finally:
        os.close(file)


def replace_text(path: Path, content: str) -> None:
    """Write a file beside its place and put it there: whoever reads it meanwhile, or has it by another name, sees the old one."""
    beside = path.with_name(f".{path.name}.new")
    write_text(beside, content)
    os.replace(beside, path)


def _is_running(pid: int) -> bool:
    if os.name == "nt":
        return True  # asking would end the process; the folder is removed by its owner or by hand
    try:
        os.kill(pid, 0)
    except ProcessLookupError:
        return False
    except PermissionError:
        return True
    return True
