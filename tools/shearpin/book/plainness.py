"""How plain the words of a book are: steps within the limit, reading grade by kind, and the hardest sentences."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from heapq import nlargest
from typing import Final

from shearpin.book.book import Key
from shearpin.book.linked import LinkedBook
from shearpin.checks.reading_grade import readability
from shearpin.checks.record_rules import MAX_WORDS, count_words
from shearpin.checks.wording import sentences

_KINDS: Final = ("procedure", "test", "symptom", "cause", "caution", "system", "term")
_HARDEST: Final = 10
_LONG_ENOUGH: Final = 10  # words; in a shorter sentence one long word makes the grade


@dataclass(frozen=True, slots=True)
class HardSentence:
    """One of the sentences of procedures and tests that are hardest to read."""

    key: Key
    grade: float
    text: str


@dataclass(frozen=True, slots=True)
class Plainness:
    """Instructions, those within the limit of words, the grade of each kind, and the hardest sentences."""

    instructions: int
    within_limit: int
    grades: tuple[tuple[str, float], ...]
    hardest: tuple[HardSentence, ...]


def plainness(linked: LinkedBook) -> Plainness:
    """Return the figures of a book; a kind without any words has no grade."""
    by_kind: dict[str, list[str]] = defaultdict(list)
    work: list[HardSentence] = []
    total = within = 0
    for item in linked.prose:
        by_kind[item.key[0]].append(item.text)
        if item.key[0] not in ("procedure", "test"):
            continue
        for _, sentence in sentences(item.text):
            if item.path[-1] == "do":
                total += 1
                within += count_words(sentence) <= MAX_WORDS
            counted = readability([sentence])
            if counted.words >= _LONG_ENOUGH:
                work.append(HardSentence(item.key, counted.grade, " ".join(sentence.split())))
    counted_kinds = ((kind, readability(by_kind[kind])) for kind in _KINDS)
    grades = tuple((kind, counts.grade) for kind, counts in counted_kinds if counts.words)
    hardest = nlargest(_HARDEST, work, key=lambda hard: (hard.grade, hard.key, hard.text))
    return Plainness(total, within, grades, tuple(hardest))
