"""Texts as numbers: the reading of `Analyser.tokens` for what is only counted, several times as fast."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from collections.abc import Set as AbstractSet
from itertools import chain, pairwise
from typing import Final

from shearpin.search import tables
from shearpin.search.concepts import Concepts, Phrase
from shearpin.search.tokens import Token
from shearpin.search.words import Analyser

# Terms that change how the next word reads: "will not", "ft lb".
_CONTEXT_TERMS: Final = frozenset({"will"} | {pair.split()[0] for pair in tables.UNIT_PAIRS})


class Numbering(dict[str, int]):
    """Numbers for strings, in the order they are first asked for."""

    def __missing__(self, text: str) -> int:
        number = self[text] = len(self)
        return number


class TermNumbers(Numbering):
    """Numbers for terms, and the phrases of `concepts` in these numbers, as far as their terms have been met."""

    def __init__(self, concepts: Concepts) -> None:
        phrases = [p for p in chain.from_iterable(concepts.phrases.values()) if not p.preferred]
        self._concepts_of: dict[str, list[str]] = {}
        self._longer: dict[str, list[Phrase]] = {}  # by each of their first two terms
        for phrase in phrases:
            if len(phrase.terms) == 1:
                self._concepts_of.setdefault(phrase.terms[0], []).append(phrase.concept)
            for term in dict.fromkeys(phrase.terms[:2]) if len(phrase.terms) > 1 else ():
                self._longer.setdefault(term, []).append(phrase)
        # Concepts of a term alone; phrases by their first two terms.
        self._single: dict[int, list[str]] = {}
        self._several: dict[tuple[int, int], list[Phrase]] = {}

    def __missing__(self, text: str) -> int:
        number = self[text] = len(self)
        if text in self._concepts_of:
            self._single[number] = self._concepts_of[text]
        for phrase in self._longer.get(text, ()):
            first, second = map(self.get, phrase.terms[:2])
            if first is not None and second is not None:
                self._several.setdefault((first, second), []).append(phrase)
        return number

    def concepts_in(self, numbers: Sequence[int], counts: Mapping[int, int]) -> dict[int, int]:
        """Return how often each concept is named in a text with the terms `numbers`; `counts` says how often each occurs."""
        found: dict[int, int] = {}
        for term in self._single.keys() & counts.keys():
            for name in self._single[term]:
                concept = self[name]
                found[concept] = found.get(concept, 0) + counts[term]
        several = self._several
        begun = [several[pair] for pair in pairwise(numbers) if pair in several]
        longer: dict[Phrase, None] = {}
        for phrase in chain.from_iterable(begun):
            if len(phrase.terms) == 2:
                concept = self[phrase.concept]
                found[concept] = found.get(concept, 0) + 1
            else:
                longer[phrase] = None
        for phrase in longer:
            times = self._times(phrase.terms, numbers)
            if times:
                concept = self[phrase.concept]
                found[concept] = found.get(concept, 0) + times
        return found

    def _times(self, phrase: Sequence[str], numbers: Sequence[int]) -> int:
        """How often a phrase stands in `numbers`, which hold its first term."""
        wanted = list(map(self.get, phrase))
        times, start = 0, -1
        for _ in range(numbers.count(self[phrase[0]])):
            start = numbers.index(wanted[0], start + 1)
            times += numbers[start : start + len(wanted)] == wanted
        return times


class WordNumbers(dict[str, int]):
    """Numbers for what stands between two spaces, in the order it is first asked for, and what is to know of each.

    `terms_of` holds the numbers of its terms, `plain` the plain words in it as written, with their terms.
    """

    def __init__(self, analyser: Analyser, terms: TermNumbers) -> None:
        self.terms_of: list[tuple[int, ...]] = []
        self.plain: list[tuple[tuple[str, str], ...]] = []
        self._analyser = analyser
        self._terms = terms
        # Words also written as one, with their terms; words that read differently after others, and those others.
        self._joined: dict[int, tuple[int, ...]] = {}
        self._in_context: set[int] = set()
        self._context: set[int] = set()

    def __missing__(self, text: str) -> int:
        number = self[text] = len(self)
        word = self._analyser.word(text)
        tokens = word.tokens
        self.terms_of.append(self._numbers(tokens))
        self.plain.append(tuple([(token.raw, token.term) for token in tokens if token.kind == "word"]))
        if word.joined:
            self._joined[number] = tuple(map(self._terms.__getitem__, word.joined))
        if word.in_context:
            self._in_context.add(number)
        if (tokens and (tokens[-1].kind == "number" or tokens[-1].term in _CONTEXT_TERMS)) or (
            word.chunks and word.chunks[-1].text in tables.NEGATION_STEMS
        ):
            self._context.add(number)
        return number

    def _numbers(self, tokens: Iterable[Token]) -> tuple[int, ...]:
        return tuple([self._terms[token.term] for token in tokens])

    def read(self, text: str) -> tuple[list[int], set[int], list[int]]:
        """Return the numbers of the terms of a text in order, of its words, and of the extra terms of words written as one."""
        words = text.split()
        numbers = list(map(self.__getitem__, words))
        distinct = set(numbers)
        found: Iterable[tuple[int, ...]] = map(self.terms_of.__getitem__, numbers)
        after = distinct & self._in_context
        if after:
            before = distinct & self._context
            if before:
                found = self._in_their_context(words, numbers, list(found), before, after)
        joined: list[int] = []
        for number in self._joined.keys() & distinct:
            joined += self._joined[number] * numbers.count(number)
        return list(chain.from_iterable(found)), distinct, joined

    def _in_their_context(
        self,
        words: Sequence[str],
        numbers: Sequence[int],
        found: list[tuple[int, ...]],
        before: AbstractSet[int],
        after: AbstractSet[int],
    ) -> list[tuple[int, ...]]:
        """Read again, together, each word of `after` that follows one of `before`, and that word before it."""
        read = 0
        for place in [place for place, number in enumerate(numbers) if number in after]:
            if place <= read or numbers[place - 1] not in before:
                continue
            read = place
            while read + 1 < len(numbers) and numbers[read + 1] in after and numbers[read] in before:
                read += 1
            tokens, _ = self._analyser.tokens(words[place - 1 : read + 1])
            found[place - 1 : read + 1] = [self._numbers(tokens)] + [()] * (read + 1 - place)
        return found
