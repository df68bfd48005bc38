"""Texts as numbers: the reading of `Analyser.tokens` for what is only counted, several times as fast."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from collections.abc import Set as AbstractSet
from itertools import chain, pairwise
from typing import Final

from shearpin.search import tables
from shearpin.search.concepts import Concepts, Phrase
from shearpin.search.tokens import Token
from shearpin.search.words import Analyser, core

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
        # Concepts of a term alone, by number; phrases by their first two terms.
        self._single: dict[int, list[int]] = {}
        self._several: dict[tuple[int, int], list[Phrase]] = {}

    def __missing__(self, text: str) -> int:
        number = self[text] = len(self)
        if text in self._concepts_of:
            self._single[number] = [self[concept] for concept in self._concepts_of[text]]
        for phrase in self._longer.get(text, ()):
            first, second = map(self.get, phrase.terms[:2])
            if first is not None and second is not None:
                self._several.setdefault((first, second), []).append(phrase)
        return number

    def concepts_in(self, numbers: Sequence[int], counts: Mapping[int, int]) -> dict[int, int]:
        """Return how often each concept is named in a text with the terms `numbers`; `counts` says how often each occurs."""
        found: dict[int, int] = {}
        for term in self._single.keys() & counts.keys():
            for concept in self._single[term]:
                found[concept] = found.get(concept, 0) + counts[term]
        several = self._several
        longer: dict[Phrase, None] = {}
        for pair in filter(several.__contains__, pairwise(numbers)):
            for phrase in several[pair]:
                if len(phrase.terms) == 2:
                    concept = self[phrase.concept]
                    found[concept] = found.get(concept, 0) + 1
                else:
                    longer[phrase] = None
        for phrase in longer:
            wanted = list(map(self.get, phrase.terms))
            times = _times(wanted, numbers) if all(map(counts.__contains__, wanted)) else 0
            if times:
                concept = self[phrase.concept]
                found[concept] = found.get(concept, 0) + times
        return found


def _times(wanted: Sequence[int | None], numbers: Sequence[int]) -> int:
    """How often the terms `wanted` follow one another in `numbers`, which hold them all."""
    times, start = 0, -1
    for _ in range(numbers.count(wanted[0])):
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
        held = core(text)
        alike = self.get(held) if held != text else None
        if alike is not None:
            self._read_alike(alike, number)
            return number
        word = self._analyser.read(held)
        tokens = word.tokens
        self.terms_of.append(self._numbers(tokens))
        self.plain.append(tuple([(token.raw, token.term) for token in tokens if token.kind == "word"]))
        if word.joined:
            self._joined[number] = tuple(map(self._terms.__getitem__, word.joined))
        if word.in_context:
            self._in_context.add(number)
        last = word.chunks[-1].text if word.chunks else ""
        if (
            (tokens and (tokens[-1].kind == "number" or tokens[-1].term in _CONTEXT_TERMS))
            or last in tables.NEGATION_STEMS
            or tables.UNITS_AFTER_NUMBER.get(last) in _CONTEXT_TERMS  # "in" says nothing by itself: "5 in lb"
        ):
            self._context.add(number)
        return number

    def _read_alike(self, known: int, number: int) -> None:
        """Note that the word of a new number reads as a known one does."""
        self.terms_of.append(self.terms_of[known])
        self.plain.append(self.plain[known])
        if known in self._joined:
            self._joined[number] = self._joined[known]
        if known in self._in_context:
            self._in_context.add(number)
        if known in self._context:
            self._context.add(number)

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
        joined = self._joined
        extra = chain.from_iterable(map(joined.__getitem__, filter(joined.__contains__, numbers)))
        return list(chain.from_iterable(found)), distinct, list(extra)

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
