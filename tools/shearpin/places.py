"""Places of findings in the files of a book, each file composed once more; what was found before is kept by the file's digest."""

from __future__ import annotations

import marshal
from collections import defaultdict
from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path
from typing import Final

from shearpin.book.book import Book
from shearpin.checks.rule import Fault
from shearpin.model.filecontent import MAX_BYTES, digest_of
from shearpin.model.position import FieldPath, Positions
from shearpin.model.usercache import cache_of, program_digest, read_kept, write_kept

_Asked = tuple[FieldPath, bool, int]
_Found = dict[_Asked, tuple[int, int]]

PlacesFound = dict[str, _Found]
"""Places in files by path."""

MAX_ALIKE: Final = 100
"""Findings of one kind in one file that are listed; a file with more has one fault that is everywhere."""


class Places:
    """Finds places in files of a book."""

    def __init__(self, book: Book) -> None:
        self._book = book
        self._kept = _kept(book.kb)
        self._known: PlacesFound = {}  # of files that are as they were when the book was read
        self._read: dict[str, tuple[Positions | None, bytes]] = {}
        self._is_new = False

    def find(self, file: str, path: FieldPath, *, on_key: bool = False, offset: int = 0) -> tuple[int, int]:
        """Return line and column of a field, as `Positions.find` does; the top of a file that is gone since it was read."""
        known = self._of_file(file)
        asked = path, on_key, offset
        place = known.get(asked)
        if place is None:
            positions, digest = self._positions(file)
            place = positions.find(path, on_key=on_key, offset=offset) if positions is not None else (1, 1)
            if digest and digest == self._digest(file):
                known[asked] = place
                self._is_new = True
        return place

    def of(self, faults: Iterable[Fault]) -> PlacesFound:
        """Find the places of faults of one kind, and return all that are known now, for `take` in another process."""
        met: dict[str, int] = defaultdict(int)
        for fault in faults:
            met[fault.file] += 1
            if met[fault.file] <= MAX_ALIKE:
                if fault.place is None:
                    self.find(fault.file, fault.path, on_key=fault.on_key, offset=fault.offset)
                for file, field in fault.related:
                    self.find(file, field)
        return self._known

    def take(self, found: PlacesFound) -> None:
        """Take over what was found in another process."""
        for file, known in found.items():
            own = self._of_file(file)
            if not known.keys() <= own.keys():
                own.update(known)
                self._is_new = True

    def keep(self) -> None:
        """Keep what was found for the next process."""
        if self._is_new:
            found = {file: (self._digest(file), known) for file, known in self._known.items() if known}
            kept = {file: each for file, each in self._kept.items() if each[0] == self._digest(file)}
            write_kept(_place(self._book.kb), _key(), marshal.dumps({**kept, **found}))

    def _of_file(self, file: str) -> _Found:
        known = self._known.get(file)
        if known is None:
            digest, kept = self._kept.get(file, (b"", {}))
            known = self._known[file] = kept if digest and digest == self._digest(file) else {}
        return known

    def _digest(self, file: str) -> bytes:
        facts = self._book.facts.get(file)
        return facts.digest if facts is not None else b""

    def _positions(self, file: str) -> tuple[Positions | None, bytes]:
        """Return the positions in a file as it is now, and the digest of what they were found in."""
        if file not in self._read:
            try:
                with open(self._book.kb / file, "rb") as stream:
                    raw = stream.read(MAX_BYTES)
                self._read[file] = Positions(raw), digest_of(raw)
            except OSError:
                self._read[file] = None, b""
        return self._read[file]


def _kept(kb: Path) -> dict[str, tuple[bytes, _Found]]:
    payload = read_kept(_place(kb), _key())
    with suppress(ValueError, EOFError, TypeError):
        if payload is not None:
            kept: dict[str, tuple[bytes, _Found]] = marshal.loads(payload)
            return kept
    return {}


def _place(kb: Path) -> Path:
    return cache_of(kb) / "places.bin"


def _key() -> str:
    return f"{program_digest()} places"
