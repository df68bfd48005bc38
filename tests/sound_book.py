"""Owns the sound book, a small `kb/` in which nothing is wrong, and the ways to lay faults over it."""

from __future__ import annotations

import shutil
from collections.abc import Mapping
from pathlib import Path

from shearpin.book.linked import LinkedBook, load_linked
from shearpin.inspection import inspect_book
from shearpin.model.finding import Finding

SOUND_BOOK = Path(__file__).resolve().parent / "data" / "sound-book"


def lay_over(folder: Path, files: Mapping[str, str | bytes | None]) -> Path:
    """Copy the sound book to `folder`/kb and write these files over it; None takes a file away."""
    kb = folder / "kb"
    shutil.copytree(SOUND_BOOK, kb, copy_function=shutil.copyfile)
    for name, content in files.items():
        path = kb / name
        if content is None:
            path.unlink()
            continue
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content if isinstance(content, bytes) else content.encode("utf-8"))
    return kb


def read_over(folder: Path, files: Mapping[str, str | bytes | None]) -> LinkedBook:
    """Return the sound book with these files laid over it, loaded and linked."""
    return load_linked(lay_over(folder, files), "kb")


def check_over(folder: Path, files: Mapping[str, str | bytes | None]) -> tuple[Finding, ...]:
    """Return what is found in the sound book with these files laid over it."""
    return inspect_book(read_over(folder, files))


def sound(name: str) -> str:
    """Return the text of one file of the sound book."""
    return (SOUND_BOOK / name).read_text(encoding="utf-8")


def swap(name: str, old: str, new: str) -> dict[str, str]:
    """Return one file of the sound book with a passage, which must be there once, put in another's place."""
    text = sound(name)
    if text.count(old) != 1:
        raise ValueError(f"{old!r} stands {text.count(old)} times in {name}")
    return {name: text.replace(old, new)}
