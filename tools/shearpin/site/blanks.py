"""Blanks: what many pages show alike goes in last, so that an edit of it changes no more of a page than that.

Most pages of a large book name machines, and many bear the same safety messages. Where only such a thing is another, pages
need not be made from their records again. What lies between is taken from the page as it was, and only where everything
that goes out stands exactly where it was put.
"""

from __future__ import annotations

import re
from array import array
from collections.abc import Mapping, Sequence
from itertools import accumulate
from operator import add
from typing import Final

_BEGIN, _END = "\x02", "\x03"  # no record with such a sign is sound
_BLANK: Final = re.compile(rb"\x02([^\x02\x03]*)\x03")
_FIRST: Final = _BEGIN.encode()
_AS_IT_WAS: Final = b"\x02%b\x03"

Gaps = bytes
"""Of each blank of a page in order: how many bytes lie before it since the last one, and the number of what goes in; packed."""

UNKNOWN: Final[Gaps] = b"?"
"""The gaps of a page that must be made anew where anything that goes into blanks is another."""


def blank(name: str) -> str:
    """Return what stands in the text of a page, escaped or not, for what goes in last by this name."""
    return f"{_BEGIN}{name}{_END}"


TITLED: Final = ("machine", "caution")
"""Kinds of records the titles of which go in last."""


def title_of(kind: str, record_id: str) -> str:
    """Return by what name the title of a record goes in."""
    return f"title of {kind} {record_id}"


def has_blanks(content: bytes) -> bool:
    """Whether something is left open in a text."""
    return _FIRST in content


class Fillings:
    """What goes into blanks, by name; each has a number that it keeps from one build to the next.

    `now` is the markup as it is now, `before` what the last build put in, in the order of its numbers.
    """

    def __init__(self, now: Mapping[str, str], before: Mapping[str, bytes]) -> None:
        self._here = here = {name: markup.encode() for name, markup in now.items()}
        self.kept: Mapping[str, bytes] = {**dict.fromkeys(before, b""), **here}
        """What the next build is to know as `before`."""
        numbered = list(enumerate(self.kept))
        self._of_name = {name.encode(): (number, here[name]) for number, name in numbered if name in here}
        self._lengths = [*map(len, before.values())]
        self._before, self._now = list(before.values()), list(self.kept.values())
        self._gone = frozenset(number for number, name in numbered if name not in here)
        self._others = frozenset(
            number
            for number, former in enumerate(self._before)
            if former != self._now[number] or number in self._gone
        )

    def has(self, name: str) -> bool:
        """Whether there is something that goes in by this name."""
        return name in self._here

    @property
    def differ(self) -> bool:
        """Whether something is another than in the last build."""
        return bool(self._others)

    def filled(self, content: bytes) -> tuple[bytes, Gaps]:
        """Return a page with its blanks filled in, and where they are."""
        if not has_blanks(content):
            return content, b""
        pieces = _BLANK.split(content)
        found = [self._of_name.get(name) for name in pieces[1::2]]
        places: list[int] = []
        for place, each in enumerate(found):
            if each is None:  # not one of ours: it stays as it is
                pieces[2 * place + 1] = _AS_IT_WAS % pieces[2 * place + 1]
            else:
                places += len(pieces[2 * place]), each[0]
                pieces[2 * place + 1] = each[1]
        return b"".join(pieces), _packed(places) if None not in found else UNKNOWN

    def size(self, content: bytes) -> int:
        """Return how many bytes a text has when its blanks are filled in."""
        if not has_blanks(content):
            return len(content)
        names = _BLANK.findall(content)
        found = [self._of_name.get(name) for name in names]
        return len(content) + sum(
            len(each[1]) - len(name) - 2 for name, each in zip(names, found, strict=True) if each is not None
        )

    def concern(self, gaps: Gaps) -> bool:
        """Whether something is another, or may be, that goes into a page with these blanks."""
        return gaps == UNKNOWN or not self._others.isdisjoint(_unpacked(gaps)[1::2])

    def filled_again(self, content: bytes, gaps: Gaps) -> bytes | None:
        """Return a page of the last build with what goes in now.

        None where what went in is not in its place, or nothing goes in there any more.
        """
        if gaps == UNKNOWN:
            return None
        places = _unpacked(gaps)
        numbers = places[1::2]
        # A page has a hundred blanks, of which few are filled otherwise: all of them are only counted through.
        ends = [*accumulate(map(add, places[::2], map(self._lengths.__getitem__, numbers)))]
        pieces: list[bytes] = []
        done = 0
        for number, end in zip(numbers, ends, strict=True):
            if number in self._others:
                former = self._before[number]
                start = end - len(former)
                if number in self._gone or content[start:end] != former:
                    return None
                pieces += content[done:start], self._now[number]
                done = end
        return b"".join((*pieces, content[done:])) if not ends or ends[-1] <= len(content) else None


def _packed(places: Sequence[int]) -> Gaps:
    try:
        return array("H", places).tobytes()
    except OverflowError:  # a page of more than 64 KB, or as many things that go in
        return UNKNOWN


def _unpacked(gaps: Gaps) -> array[int]:
    numbers = array("H")
    numbers.frombytes(gaps)
    return numbers
