"""Piles of nouns: more than three names of things in a row, which a reader must take apart."""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Iterable, Iterator
from itertools import chain
from typing import Final, NamedTuple

from shearpin.book.book import Key
from shearpin.book.changed import Changed
from shearpin.book.linked import LinkedBook
from shearpin.checks.rule import Groundwork
from shearpin.checks.wording import alike, phrase, without_braces, words_as_written, words_in
from shearpin.model.keptfile import KeptFile

MOST_NOUNS: Final = 3
"""ASD-STE100 rule 2.1: a noun cluster has at most three words (read second-hand)."""
_NO_NOUNS: Final = frozenset(
    [
        "new",
        "old",
        "left",
        "right",
        "single",
        "two",
        "three",
        "four",
        "long",
        "short",
        "small",
        "large",
        "front",
        "rear",
        "top",
        "bottom",
        "side",
        "clean",
        "dry",
        "free",
        "open",
        "closed",
        "set",
        "fit",
        "fitted",
        "electric",
        "recoil",
        "mains",
        "worn",
        "not",
        "is",
        "does",
        "no",
        "pull",
        "pulls",
        "push",
        "turn",
        "check",
        "test",
        "drive",
        "driven",
        "start",
        "stop",
        "control",
        "lock",
        "ring",
        "back",
        "heated",
        "fine",
        "coarse",
        "soft",
        "hard",
        "wide",
        "narrow",
        "upper",
        "lower",
        "inner",
        "outer",
        "sharp",
        "winter",
        "fresh",
        "kind",
        "length",
        "size",
        "cold",
        "hot",
        "wire",
    ]
)


Name = tuple[str, ...]
"""The words of a name, as they are compared."""

NAMES_OF: Final = ("part", "tool", "system", "term")
"""Kinds the titles and further names of which tell what are names of things."""


_PILE: Final = bytes([1] * (MOST_NOUNS + 1))
_WITHIN: Final = bytes([1] * (MOST_NOUNS - 1))


class _Nouns(dict[str, bool]):
    """Whether a word as written is a noun, found when first asked for."""

    def __init__(self, nouns: Collection[str]) -> None:
        self._of_book = nouns

    def __missing__(self, word: str) -> bool:
        found = self[word] = alike(word) in self._of_book
        return found


class Things(NamedTuple):
    """What are names of things in a book: single nouns, and all names."""

    nouns: frozenset[str]
    names: frozenset[Name]


def _things_of(linked: LinkedBook) -> Things:
    """Return the things of a book, by the titles of its parts, tools, systems and terms."""
    nouns: set[str] = set()
    names: set[Name] = set()
    for (kind, _), heading in linked.book.headings():
        if kind in NAMES_OF:
            names.update(phrase(name) for name in (heading.title, *heading.also))
            if kind in ("part", "tool"):
                nouns.update(word for word in phrase(heading.title) if word not in _NO_NOUNS)
    return Things(frozenset(noun for noun in nouns if noun.isalpha()), frozenset(names))


def _things_again(linked: LinkedBook, before: Things, changed: Changed) -> Things:
    same = changed.titles.isdisjoint(NAMES_OF) and changed.bones.isdisjoint(NAMES_OF)
    return before if same else _things_of(linked)


THINGS: Final = Groundwork("things", _things_of, _things_again)


def where_piles_may_differ(linked: LinkedBook, before: Things, now: Things) -> Iterator[Key]:
    """Yield the records that may have other piles now that other words are names of things."""
    nouns = before.nouns ^ now.nouns
    names = [name for name in before.names ^ now.names if len(name) > 1]  # in a pile a word is one anyway
    tell = _teller(nouns, names)
    for key, file in linked.book.file_of.items():
        if not isinstance(file, KeptFile) or file.holds(tell):
            yield key


def _teller(nouns: Collection[str], names: Collection[Name]) -> Callable[[bytes], bool]:
    """Return what tells whether one of these words or names stands in packed texts; it may say so of one that does not."""
    if not all(word.isascii() for word in chain(nouns, *names)):
        return lambda packed: True  # capitals of other letters are no small letters in what is packed
    words = [noun.encode() for noun in nouns]
    told = [(tuple(word.encode() for word in name), _said(name)) for name in names]

    def tell(packed: bytes) -> bool:
        return any(word in packed for word in words) or any(
            all(word in packed for word in own) and pattern.search(packed) for own, pattern in told
        )

    return tell


def _said(name: Name) -> re.Pattern[bytes]:
    """Return what finds the words of a name one after another, as they stand in a pile."""
    return re.compile(b"s? ".join(re.escape(word.encode()) for word in name))


class NounPiles:
    """Finds piles in texts of a book."""

    def __init__(self, things: Things) -> None:
        self._nouns, self._names = things
        self._is_noun = _Nouns(self._nouns)

    def find(self, text: str) -> Iterable[tuple[int, str]]:
        """Return each pile with its place; a name that the book gives a page or lists as a name is one word."""
        plain = without_braces(text)
        # Within a pile words stand between blanks alone; only its first and last may have other signs at them.
        if _WITHIN not in bytes(map(self._is_noun.__getitem__, plain.split(" "))):
            return ()
        if _PILE not in bytes(map(self._is_noun.__getitem__, words_as_written(plain))):
            return ()
        return self._piles(text, plain)

    def _piles(self, text: str, plain: str) -> Iterator[tuple[int, str]]:
        words = words_in(plain)
        start = 0
        while start < len(words):
            end = start
            while (
                end < len(words) and words[end][0] in self._nouns and self._joined(plain, words, start, end)
            ):
                end += 1
            if end - start > MOST_NOUNS and not self._named(tuple(w for w, _, _ in words[start:end])):
                yield words[start][1], text[words[start][1] : words[end - 1][2]]
            start = max(end, start + 1)

    def _joined(self, text: str, words: list[tuple[str, int, int]], start: int, end: int) -> bool:
        return end == start or text[words[end - 1][2] : words[end][1]] == " "

    def _named(self, pile: tuple[str, ...]) -> bool:
        """Whether at most three words are left when a name inside the pile counts as one."""
        for length in range(len(pile), 1, -1):
            for begin in range(len(pile) - length + 1):
                if pile[begin : begin + length] in self._names:
                    return len(pile) - length + 1 <= MOST_NOUNS
        return False
