"""Where copies of editions lie: folders, archives, and the files that lists of digests name, on a stick or below a folder."""

from __future__ import annotations

import re
import zipfile
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Final

from shearpin.publish.holding import ARCHIVE_FAULTS, READ_WHOLE
from shearpin.publish.judging import is_of_the_system
from shearpin.publish.place import is_unfinished
from shearpin.publish.publication import SUMS_ENDING

_MARKS: Final = frozenset({"bagit.txt", "bag-info.txt", *READ_WHOLE})
_LINE: Final = re.compile(r"([0-9A-Fa-f]{64})  ([^/\\]+)")
_DEEPEST: Final = 4  # folders below the one that was named
_MOST: Final = 5_000  # folders looked into


@dataclass(slots=True)
class Place:
    """What lies in one folder: editions as folders and archives, files that lists name, lists that are damaged, and what a
    publication that died had not yet put in its place."""

    folders: list[Path] = field(default_factory=list)
    archives: list[Path] = field(default_factory=list)
    listed: Mapping[str, str] = field(default_factory=dict)
    damaged: list[Path] = field(default_factory=list)
    unfinished: list[Path] = field(default_factory=list)

    def __bool__(self) -> bool:
        return bool(self.folders or self.archives or self.listed or self.damaged or self.unfinished)


def places_below(folder: Path) -> Iterator[tuple[Path, Place]]:
    """Yield each folder that holds copies, this one first, and at most four below it."""
    waiting, seen = [(folder, 0)], 0
    while waiting and seen < _MOST:
        here, depth = waiting.pop(0)
        seen += 1
        try:
            place = place_in(here)
        except OSError:
            if not depth:
                raise
            continue  # it belongs to the system, or to somebody else
        if place:
            yield here, place
        if depth < _DEEPEST:
            waiting += [(inner, depth + 1) for inner in _folders(here) if not is_bag(inner)]


def place_in(folder: Path) -> Place:
    """Return what lies in a folder itself."""
    place = Place()
    place.listed, place.damaged = listed_in(folder)
    for entry in sorted(folder.iterdir()):
        if is_unfinished(entry):
            place.unfinished.append(entry)
        if entry.name.startswith("."):
            continue
        if entry.is_file():
            if entry.name not in place.listed and is_archive(entry):
                place.archives.append(entry)
        elif entry.is_dir() and not entry.is_symlink() and is_bag(entry):
            place.folders.append(entry)
    return place


def _folders(folder: Path) -> list[Path]:
    try:
        entries = sorted(folder.iterdir())
        # Nothing is published into a hidden folder, but the schemas for editors in one hold an `edition.json` too.
        seen = (e for e in entries if not e.name.startswith(".") and not is_of_the_system(e.name))
        return [e for e in seen if e.is_dir() and not e.is_symlink()]
    except OSError:  # it belongs to the system, or to somebody else
        return []


def is_bag(folder: Path) -> bool:
    """Whether a folder is an edition, or was one before it was damaged."""
    try:
        return any(entry.name.casefold() in _MARKS for entry in folder.iterdir())
    except OSError:
        return False


def is_archive(path: Path) -> bool:
    """Whether a file is an edition as an archive, whatever its name; one that is called so and cannot be read counts."""
    called_so = path.suffix.lower() == ".zip"
    try:
        if not called_so and not zipfile.is_zipfile(path):
            return False
        with zipfile.ZipFile(path) as archive:
            return any(name.rpartition("/")[2].casefold() in _MARKS for name in archive.namelist())
    except ARCHIVE_FAULTS:
        return called_so  # what it was cannot be told; its damage is named either way


def holds_archive(path: Path) -> bool:
    """Whether a zip holds another one: who hands out an edition may have packed it a second time."""
    with zipfile.ZipFile(path) as archive:
        return any(name.casefold().endswith(".zip") for name in archive.namelist())


def listed_in(folder: Path) -> tuple[dict[str, str], list[Path]]:
    """Return the digests that lists in a folder give, by file name, and the lists of editions there that are damaged."""
    listed: dict[str, str] = {}
    damaged = []
    for sums in sorted(folder.glob(f"*{SUMS_ENDING}")):
        lines = sums.read_text(encoding="utf-8", errors="replace").splitlines() if sums.is_file() else []
        found = {match[2]: match[1].lower() for match in map(_LINE.fullmatch, lines) if match}
        if len(found) < len(lines) and any(folder.glob(f"{_literally(sums.stem)}[.-]*")):
            damaged.append(sums)
        listed |= found
    return listed, damaged


def _literally(name: str) -> str:
    return re.sub(r"([*?[])", r"[\1]", name)
