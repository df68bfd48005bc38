"""Blanks: where a page names a machine its title goes in last, so that another title changes no more of a page than that.

Machines are named on most pages of a large book: beside figures, part numbers and steps. Where only the title of one is
another, pages need not be made from their records again. What lies between the titles is taken from the page as it was, and
only where the former title stands exactly where it was put.
"""

from __future__ import annotations

import re
from array import array
from collections.abc import Iterator, Mapping, Sequence
from typing import Final

from shearpin.book.book import Book
from shearpin.model.translation import ORIGINAL
from shearpin.site.html import text

_BEGIN, _END = "\x02", "\x03"  # no record with such a sign is sound
_BLANK: Final = re.compile(rb"\x02([^\x02\x03]*)\x03")
_FIRST: Final = _BEGIN.encode()

Gaps = bytes
"""Of each blank of a page in order: how many bytes lie before it since the last one, and the number of its machine; packed."""

UNKNOWN: Final[Gaps] = b"?"
"""The gaps of a page that must be made anew where a machine has another title."""


def blank(machine_id: str) -> str:
    """Return what stands for the title of a machine in the text of a page, escaped or not."""
    return f"{_BEGIN}{machine_id}{_END}"


def has_blanks(content: bytes) -> bool:
    """Whether titles of machines are left open in a text."""
    return _FIRST in content


class Titles:
    """The titles of machines as pages show them, each with a number that it keeps from one build to the next."""

    def __init__(self, book: Book, before: Mapping[str, bytes]) -> None:
        self.before = before
        """Titles as the last build put them in, by machine, in the order of their numbers."""
        known = dict.fromkeys([*before, *(name for kind, name in book.file_of if kind == "machine")])
        self.now: Mapping[str, bytes] = {
            machine_id: text(book.title("machine", machine_id)).encode() for machine_id in known
        }
        """Titles as they are now, likewise."""
        # A page in another language is translated as a whole when it is finished: a title must be there by then.
        self.are_left_open = book.language == ORIGINAL
        self._filling = {
            machine_id.encode(): (number, title)
            for number, (machine_id, title) in enumerate(self.now.items())
        }
        self._longest = max(map(len, self.now.values()), default=0)
        self._before, self._now = list(before.values()), list(self.now.values())
        self._others = frozenset(
            number for number, former in enumerate(self._before) if former != self._now[number]
        )

    @property
    def differ(self) -> bool:
        """Whether a machine has another title than in the last build."""
        return bool(self._others)

    def filled(self, content: bytes) -> tuple[bytes, Gaps]:
        """Return a page with its blanks filled in, and where they are."""
        if not has_blanks(content):
            return content, b""
        pieces = _BLANK.split(content)
        found = [self._filling.get(name) for name in pieces[1::2]]
        places: list[int] = []
        for place, each in enumerate(found):
            if each is None:  # not one of ours: it stays as it is
                pieces[2 * place + 1] = _BLANK_AS_IT_WAS % pieces[2 * place + 1]
            else:
                places += len(pieces[2 * place]), each[0]
                pieces[2 * place + 1] = each[1]
        return b"".join(pieces), _packed(places) if None not in found else UNKNOWN

    def are_within(self, content: bytes, most: int) -> bool:
        """Whether a text comes to no more than so many bytes when its blanks are filled in."""
        blanks = content.count(_FIRST)
        if not blanks or len(content) + blanks * self._longest <= most:
            return len(content) <= most
        return len(self.filled(content)[0]) <= most

    def concern(self, gaps: Gaps) -> bool:
        """Whether a page with these blanks names a machine that has another title now, or may do so."""
        return gaps == UNKNOWN or not self._others.isdisjoint(_unpacked(gaps)[1::2])

    def filled_again(self, content: bytes, gaps: Gaps) -> bytes | None:
        """Return a page of the last build with the titles as they are now; None where a former title is not in its place."""
        if gaps == UNKNOWN:
            return None
        pieces: list[bytes] = []
        done = place = 0
        for gap, number in _pairs(gaps):
            place += gap
            former = self._before[number]
            end = place + len(former)
            if number in self._others:
                if content[place:end] != former:
                    return None
                pieces += content[done:place], self._now[number]
                done = end
            place = end
        return b"".join((*pieces, content[done:])) if place <= len(content) else None


_BLANK_AS_IT_WAS: Final = b"\x02%b\x03"


def _packed(places: Sequence[int]) -> Gaps:
    try:
        return array("H", places).tobytes()
    except OverflowError:  # a page of more than 64 KB, or as many machines
        return UNKNOWN


def _unpacked(gaps: Gaps) -> array[int]:
    numbers = array("H")
    numbers.frombytes(gaps)
    return numbers


def _pairs(gaps: Gaps) -> Iterator[tuple[int, int]]:
    numbers = iter(_unpacked(gaps))
    return zip(numbers, numbers, strict=True)
