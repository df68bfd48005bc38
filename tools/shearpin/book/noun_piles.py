"""Piles of nouns: more than three names of things in a row, which a reader must take apart."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final

from shearpin.book.book import Book
from shearpin.checks.wording import alike, phrase, without_braces, words_as_written, words_in

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


NAMES_OF: Final = ("part", "tool", "system", "term")
"""Kinds the titles and further names of which tell what are names of things."""


_PILE: Final = bytes([1] * (MOST_NOUNS + 1))
_WITHIN: Final = bytes([1] * (MOST_NOUNS - 1))


class _Nouns(dict[str, bool]):
    """Whether a word as written is a noun, found when first asked for."""

    def __init__(self, nouns: set[str]) -> None:
        self._of_book = nouns

    def __missing__(self, word: str) -> bool:
        found = self[word] = alike(word) in self._of_book
        return found


class NounPiles:
    """Knows the things of a book by the titles of its parts, tools and systems."""

    def __init__(self, book: Book) -> None:
        self._nouns: set[str] = set()
        self._names: set[tuple[str, ...]] = set()
        for (kind, _), heading in book.headings():
            if kind in NAMES_OF:
                for name in (heading.title, *heading.also):
                    self._names.add(phrase(name))
                if kind in ("part", "tool"):
                    self._nouns.update(word for word in phrase(heading.title) if word not in _NO_NOUNS)
        self._nouns = {noun for noun in self._nouns if noun.isalpha()}
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
