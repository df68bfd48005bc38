"""Near-duplicates: records of one kind that say almost the same, found without comparing all with all.

Only records that share clauses, or runs of three words where they are short, are compared at all, and what many records
share says nothing about two of them, so that the work grows with the words of the book and not with its square.
"""

from __future__ import annotations

from array import array
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import combinations
from typing import Final

from shearpin.book.book import Book, Key
from shearpin.book.clauses import KINDS_COMPARED, Run, packed_clauses, runs_of, said_by, unpacked_clauses
from shearpin.book.linked import LinkedBook

MOST_SHARING: Final = 8
"""Records of one kind that may share a run of words before it counts as a phrase of the trade."""
ALIKE: Final = 0.75
"""Share of runs in common from which two texts are near-duplicates: about one word in twenty differs.

Ours, no source: in the demonstration book the twins of two systems, such as two idler pulleys, reach 0.64."""
_FEWEST: Final = 6  # runs in common; shorter texts are alike by chance
_WORTH: Final = 0.25  # share of clauses in common; at ALIKE about half of them are whole


@dataclass(frozen=True, slots=True)
class Double:
    """Two records of one kind, the share of what they say that is in common, and how many runs that is."""

    kind: str
    first: str
    second: str
    share: float
    common: int


def doubles(linked: LinkedBook) -> Iterator[Double]:
    """Yield every pair of near-duplicates of the kinds that are asked about, each once, in order of kind and ids."""
    for kind in KINDS_COMPARED:
        if linked.asks_about(kind):
            yield from _of_kind(linked.book, kind)


def _of_kind(book: Book, kind: str) -> Iterator[Double]:
    pairs = _sharing({name: _clauses(book, (kind, name)) for name in book.of_kind(kind)})
    ids = sorted({name for pair in pairs for name in pair})
    runs = {name: runs_of(said_by(record)) for name in ids if (record := book.get(kind, name)) is not None}
    common_phrases = _phrases_of_the_trade(runs.values())
    for first, second in sorted(pairs):
        one, other = runs[first] - common_phrases, runs[second] - common_phrases
        common = len(one & other)
        if common >= _FEWEST and common / len(one | other) >= ALIKE:
            yield Double(kind, first, second, common / len(one | other), common)


def _clauses(book: Book, key: Key) -> array[int]:
    file = book.file_of[key]
    facts = book.facts.get(file.path)
    if facts is not None and facts.clauses is not None:  # no condition that is added changes what is said
        return unpacked_clauses(facts.clauses)
    record = book.get(*key)
    return unpacked_clauses(packed_clauses(record) if record is not None else b"")


def _sharing(clauses: Mapping[str, array[int]]) -> set[tuple[str, str]]:
    """Return the pairs that share enough clauses, or runs of words where they are short, to be worth comparing."""
    sharing: dict[int, list[str]] = defaultdict(list)
    for name, own in clauses.items():
        for mark in own:
            sharing[mark].append(name)
    shared: Counter[tuple[str, str]] = Counter()
    for ids in sharing.values():
        if 1 < len(ids) <= MOST_SHARING:
            shared.update(combinations(ids, 2))
    return {
        pair
        for pair, count in shared.items()
        if count >= _WORTH * min(len(clauses[pair[0]]), len(clauses[pair[1]]))
    }


def _phrases_of_the_trade(all_runs: Iterable[frozenset[Run]]) -> frozenset[Run]:
    counts: Counter[Run] = Counter()
    for runs in all_runs:
        counts.update(runs)
    return frozenset(run for run, count in counts.items() if count > MOST_SHARING)
