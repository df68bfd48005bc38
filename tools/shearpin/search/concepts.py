"""Synonyms: phrases of one meaning share one more index term, the concept, beside their own words."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import chain, pairwise

from shearpin.search.document import Synonym
from shearpin.search.words import Analyser

# Sorts before every letter and digit, so a concept stands next to the word it is named after.
CONCEPT_MARK = "!"


@dataclass(frozen=True, slots=True)
class Phrase:
    """Terms that stand for a concept when they follow one another.

    `preferred` is empty for a synonym; for a known misspelling it holds the words to search for instead.
    """

    terms: tuple[str, ...]
    concept: str
    preferred: str = ""


class Concepts:
    """The phrases of a book by their first term, longest first, and the words the synonyms consist of."""

    def __init__(self, phrases: Mapping[str, tuple[Phrase, ...]], words: tuple[str, ...]) -> None:
        self.phrases = phrases
        self.words = words
        self._single: dict[str, list[str]] = {}
        self._several: dict[tuple[str, str], list[Phrase]] = {}
        for phrase in chain.from_iterable(phrases.values()):
            if phrase.preferred:
                continue
            if len(phrase.terms) == 1:
                self._single.setdefault(phrase.terms[0], []).append(phrase.concept)
            else:
                self._several.setdefault((phrase.terms[0], phrase.terms[1]), []).append(phrase)

    def count(self, terms: Sequence[str], counts: Mapping[str, int]) -> dict[str, int]:
        """How often each concept is named in `terms`; `counts` holds how often each term occurs there."""
        found: dict[str, int] = {}
        for term in self._single.keys() & counts.keys():
            for concept in self._single[term]:
                found[concept] = found.get(concept, 0) + counts[term]
        for beginning in self._several.keys() & set(pairwise(terms)):
            for phrase in self._several[beginning]:
                times = _times(phrase.terms, terms, counts[phrase.terms[0]])
                if times:
                    found[phrase.concept] = found.get(phrase.concept, 0) + times
        return found


def _times(phrase: tuple[str, ...], terms: Sequence[str], starts: int) -> int:
    """How often `phrase` stands in `terms`, where its first term occurs `starts` times."""
    times = start = 0
    for _ in range(starts):
        start = terms.index(phrase[0], start)
        times += tuple(terms[start : start + len(phrase)]) == phrase
        start += 1
    return times


def build_concepts(synonyms: Iterable[Synonym], analyser: Analyser) -> Concepts:
    """Phrases of all `synonyms`; those that consist of stop words alone are left out."""
    phrases: dict[tuple[tuple[str, ...], str, str], Phrase] = {}
    words: set[str] = set()

    def add(text: str, concept: str, preferred: str) -> None:
        tokens, _ = analyser.tokens(text.split())
        terms = tuple(token.term for token in tokens)
        if terms:
            phrases[terms, concept, preferred] = Phrase(terms, concept, preferred)
            together = analyser.pair(*tokens) if len(tokens) == 2 else None
            if together:
                phrases[(together,), concept, preferred] = Phrase((together,), concept, preferred)
            if not preferred:
                words.update(token.raw for token in tokens if token.kind == "word")

    for synonym in synonyms:
        tokens, _ = analyser.tokens(synonym.preferred.split())
        concept = "".join(token.term for token in tokens) + CONCEPT_MARK
        if not tokens:
            continue
        if synonym.others:
            for text in (synonym.preferred, *synonym.others):
                add(text, concept, "")
        for text in synonym.misspellings:
            add(text, concept, synonym.preferred)
    by_first: dict[str, list[Phrase]] = {}
    for phrase in sorted(phrases.values(), key=lambda p: (-len(p.terms), p.terms, p.concept, p.preferred)):
        by_first.setdefault(phrase.terms[0], []).append(phrase)
    return Concepts({first: tuple(found) for first, found in sorted(by_first.items())}, tuple(sorted(words)))
