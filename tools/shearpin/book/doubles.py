"""Near-duplicates: records of one kind that say almost the same, found without comparing all with all.

Only records that share clauses, or runs of three words where they are short, are compared at all, and what many records
share says nothing about two of them, so that the work grows with the words of the book and not with its square.
"""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping
from collections.abc import Set as AbstractSet
from dataclasses import dataclass
from itertools import combinations
from typing import Final

from shearpin.book.linked import LinkedBook

KINDS_COMPARED: Final = ("symptom", "cause", "test", "procedure", "caution", "system", "part", "tool", "term")
MOST_SHARING: Final = 8
"""Records of one kind that may share a run of words before it counts as a phrase of the trade."""
ALIKE: Final = 0.75
"""Share of runs in common from which two texts are near-duplicates: about one word in twenty differs.

Ours, no source: in the demonstration book the twins of two systems, such as two idler pulleys, reach 0.64."""
_FEWEST: Final = 6  # runs in common; shorter texts are alike by chance
_SHORT: Final = 60  # words; a shorter text has too few clauses to know its double by
_WORTH: Final = 0.25  # share of clauses in common; at ALIKE about half of them are whole
_CLAUSE_END: Final = re.compile(r"[.,;:!?]\s+")
_WORD: Final = re.compile(r"[^\W_]+|\{[^{}]*\}")


@dataclass(frozen=True, slots=True)
class Double:
    """Two records of one kind, the share of what they say that is in common, and how many runs that is."""

    kind: str
    first: str
    second: str
    share: float
    common: int


def doubles(linked: LinkedBook) -> Iterator[Double]:
    """Yield every pair of near-duplicates, each once, in order of kind and ids."""
    texts: dict[str, dict[str, list[str]]] = {kind: defaultdict(list) for kind in KINDS_COMPARED}
    for item in linked.prose:
        if item.key[0] in texts:
            texts[item.key[0]][item.key[1]].append(item.text)
    for kind, records in texts.items():
        whole = {record_id: " ".join(found).lower() for record_id, found in records.items()}
        yield from _of_kind(kind, whole)


def _of_kind(kind: str, texts: Mapping[str, str]) -> Iterator[Double]:
    pairs = _sharing(texts)
    runs = {record_id: _runs(texts[record_id]) for record_id in sorted({i for pair in pairs for i in pair})}
    common_phrases = _phrases_of_the_trade(runs.values())
    for first, second in sorted(pairs):
        one, other = runs[first] - common_phrases, runs[second] - common_phrases
        common = len(one & other)
        if common >= _FEWEST and common / len(one | other) >= ALIKE:
            yield Double(kind, first, second, common / len(one | other), common)


def _sharing(texts: Mapping[str, str]) -> set[tuple[str, str]]:
    """Return the pairs that share enough clauses, or runs of words where they are short, to be worth comparing."""
    sharing: dict[object, list[str]] = defaultdict(list)
    marks: dict[str, int] = {}
    for record_id, text in texts.items():
        short = text.count(" ") < _SHORT
        own: AbstractSet[object] = _runs(text) if short else frozenset(_CLAUSE_END.split(text))
        marks[record_id] = len(own)
        for mark in own:
            sharing[mark].append(record_id)
    shared: Counter[tuple[str, str]] = Counter()
    for ids in sharing.values():
        if 1 < len(ids) <= MOST_SHARING:
            shared.update(combinations(ids, 2))
    return {pair for pair, count in shared.items() if count >= _WORTH * min(marks[pair[0]], marks[pair[1]])}


def _runs(text: str) -> frozenset[tuple[str, ...]]:
    words = _WORD.findall(text)
    return frozenset(zip(words, words[1:], words[2:], strict=False))


def _phrases_of_the_trade(all_runs: Iterable[frozenset[tuple[str, ...]]]) -> frozenset[tuple[str, ...]]:
    counts: Counter[tuple[str, ...]] = Counter()
    for runs in all_runs:
        counts.update(runs)
    return frozenset(run for run, count in counts.items() if count > MOST_SHARING)
