"""Near-duplicates: records of one kind that say almost the same, found without comparing all with all.

Each text is cut into runs of three words. Only records that share a run are compared, and a run that many records share
says nothing about two of them, so that the work grows with the words of the book and not with its square.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Final

from shearpin.book.linked import LinkedBook
from shearpin.book.wording import prose_of, without_braces, words_in
from shearpin.model.fields import Record

KINDS_COMPARED: Final = ("symptom", "cause", "test", "procedure", "caution", "system", "part", "tool", "term")
MOST_SHARING: Final = 8
"""Records of one kind that may share a run of words before it counts as a phrase of the trade."""
ALIKE: Final = 0.75
"""Share of runs in common from which two texts are near-duplicates: about one word in twenty differs.

Ours, no source: in the demonstration book the twins of two systems, such as two sets of belt guides, reach 0.70."""
_RUN: Final = 3
_FEWEST: Final = 6  # runs; shorter texts are alike by chance
_MOST: Final = 400  # runs; what a long record says at its beginning is enough to know its double


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
    for kind in KINDS_COMPARED:
        records = linked.book.of_kind(kind)
        yield from _of_kind(kind, {record_id: _runs(record) for record_id, record in records.items()})


def _runs(record: Record) -> frozenset[int]:
    found: set[int] = set()
    for _, text in prose_of(record):
        words = [word for word, _, _ in words_in(without_braces(text))]
        for index in range(len(words) - _RUN + 1):
            found.add(hash((words[index], words[index + 1], words[index + 2])))
        if len(found) > _MOST:
            break
    return frozenset(found)


def _of_kind(kind: str, runs: Mapping[str, frozenset[int]]) -> Iterator[Double]:
    sharing: dict[int, list[str]] = defaultdict(list)
    for record_id, own in runs.items():
        for run in own:
            sharing[run].append(record_id)
    common: Counter[tuple[str, str]] = Counter()
    rare: Counter[str] = Counter()
    for ids in sharing.values():
        if len(ids) > MOST_SHARING:
            continue
        rare.update(ids)
        for index, first in enumerate(ids):
            for second in ids[index + 1 :]:
                common[first, second] += 1
    for (first, second), count in sorted(common.items()):
        share = count / (rare[first] + rare[second] - count)
        if count >= _FEWEST and share >= ALIKE:
            yield Double(kind, first, second, share, count)
