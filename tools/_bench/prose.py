"""Owns sentences: words drawn with Zipf's frequencies into patterns, the same for the same seed."""

from __future__ import annotations

import random
import re
from bisect import bisect
from collections.abc import Callable, Mapping, Sequence
from itertools import accumulate

from _bench import vocabulary

COMPOUND_SHARE = 0.06
"""Nouns that are two joined by a hyphen: they give a large book the long tail of rare words that real ones have."""

_ARTICLE = re.compile(r"\b([Aa])(?= [aeio])")


class Zipf:
    """Draws from a list whose first entry is the commonest: the chance of rank r goes with 1/(r + 2)."""

    def __init__(self, entries: Sequence[str], rng: random.Random) -> None:
        self._entries = tuple(entries)
        self._sums = list(accumulate(1 / (rank + 2) for rank in range(len(self._entries))))
        self._rng = rng

    def draw(self) -> str:
        return self._entries[bisect(self._sums, self._rng.random() * self._sums[-1])]


class Prose:
    """Writes sentences of the trade, senseless and well formed."""

    def __init__(self, rng: random.Random) -> None:
        self._rng = rng
        nouns = Zipf(vocabulary.NOUNS, rng)

        def noun() -> str:
            word = nouns.draw()
            return f"{word}-{nouns.draw()}" if rng.random() < COMPOUND_SHARE else word

        self.noun = noun
        self._adjective = Zipf(vocabulary.ADJECTIVES, rng).draw
        self._slots: Mapping[str, Callable[[], str]] = {
            "N": noun,
            "A": self._adjective,
            "ACT": Zipf(vocabulary.ACTS, rng).draw,
            "ACTS": Zipf(vocabulary.ACTIONS_OF_THINGS, rng).draw,
            "PREP": Zipf(vocabulary.PREPOSITIONS, rng).draw,
            "MANNER": lambda: rng.choice(vocabulary.MANNER).replace("-", " "),
            "OCC": lambda: rng.choice(vocabulary.OCCASIONS),
        }

    def _fill(self, patterns: Sequence[Sequence[str]]) -> str:
        pattern = self._rng.choice(patterns)
        slots = self._slots
        # A pattern that opens with an article opens with a capital A, which is a slot everywhere else.
        words = [slots[word]() if word in slots and index else word for index, word in enumerate(pattern)]
        if pattern[0] in slots and pattern[0] != "A":
            words[0] = slots[pattern[0]]()
        return _ARTICLE.sub(r"\1n", " ".join(words).replace(" ,", ","))

    def statement(self) -> str:
        """Return one sentence about things."""
        return self._fill(vocabulary.STATEMENTS) + "."

    def paragraph(self, words: int) -> str:
        """Return sentences of about so many words together."""
        sentences: list[str] = []
        count = 0
        while count < words:
            sentences.append(self.statement())
            count += sentences[-1].count(" ") + 1
        return " ".join(sentences)

    def instruction(self, end: str = ".") -> str:
        """Return one command of at most 14 words."""
        return capital(self._fill(vocabulary.INSTRUCTIONS)) + end

    def confirmation(self) -> str:
        """Return one sentence that says how to tell that it is right."""
        return self._fill(vocabulary.CONFIRMATIONS) + "."

    def said(self) -> str:
        """Return what a customer says."""
        return self._fill(vocabulary.COMPLAINTS_SAID)

    def name(self) -> str:
        """Return a name of two or three words for a thing."""
        words = [self.noun().replace("-", " "), self.noun().replace("-", " ")]
        if self._rng.random() < 0.3:
            words.insert(0, self._adjective())
        return " ".join(words)


def capital(text: str) -> str:
    """Return text with its first letter a capital."""
    return text[:1].upper() + text[1:]
