"""What the ranking needs of an index, wherever it is kept."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Protocol

from shearpin.search.concepts import Phrase


@dataclass(frozen=True, slots=True)
class Found:
    """Where a term occurs: its rounded idf, and record numbers with their codes (`impacts.POINTS`)."""

    idf: int
    postings: Iterable[tuple[int, int]]


@dataclass(frozen=True, slots=True)
class Card:
    """What a hit shows of a record."""

    id: str
    title: str
    url: str
    excerpt: str


Fit = tuple[Sequence[int], frozenset[int]]
"""The set of machines of each record (0: all), and the sets that a machine is in."""


class Lists(Protocol):
    """An index that is open for reading."""

    def total(self) -> int:
        """How many numbers there are; not every one is that of a record."""
        ...

    def kind(self, number: int) -> str:
        """The kind of the record with this number."""
        ...

    def is_answer(self, number: int) -> bool:
        """Whether this is a further document of a record, which answers for one plate."""
        ...

    def knows(self, term: str) -> bool:
        """Whether the book or its synonyms use `term`."""
        ...

    def find(self, term: str) -> Found | None:
        """Where `term` occurs, as a word or as two neighbouring words."""
        ...

    def phrases(self, first: str) -> Sequence[Phrase]:
        """Synonyms and known misspellings that begin with the term `first`, longest first."""
        ...

    def beginning_with(self, prefix: str, limit: int) -> Sequence[str]:
        """The first `limit` terms that begin with `prefix`, in order; pairs and concepts are left out."""
        ...

    def words(self, length: int) -> Sequence[tuple[str, int]]:
        """Words of the book of `length` letters as written, with how common each is (0 to 9)."""
        ...

    def fit(self, machine: str) -> Fit | None:
        """What fits `machine`; None when no record names it."""
        ...

    def card(self, number: int) -> Card:
        """What to show of the record with this number."""
        ...
