"""Synonyms: phrases of one meaning share one more index term, the concept, beside their own words."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass

from shearpin.search.document import ANSWER_MARK, FIGURE_MARK, Synonym
from shearpin.search.words import Analyser, fold

# Sorts before every letter and digit, so a concept stands next to the word it is named after.
CONCEPT_MARK = "!"

# Divides the first term of a line from what tells the line. Sorts before every letter, too.
_LINE_MARK = "="
_LONGEST_LINE = 8

# Joins two meanings that stand near each other in a line. Sorts before every letter, too.
_NEAR_MARK = "&"
NEAR = 2
_BASE_36 = "0123456789abcdefghijklmnopqrstuvwxyz"


def is_written(term: str) -> bool:
    """Whether a term is of words as written, and none of the index's own."""
    return not term.endswith((CONCEPT_MARK, ANSWER_MARK)) and FIGURE_MARK not in term


@dataclass(frozen=True, slots=True)
class Phrase:
    """Terms that stand for a concept when they follow one another.

    `preferred` is empty for a synonym; for a known misspelling it holds the words to search for instead, and `raws` the
    misspelt words, for their terms may well be terms of right words.
    """

    terms: tuple[str, ...]
    concept: str
    preferred: str = ""
    raws: tuple[str, ...] = ()


class Concepts:
    """The phrases of a book by their first term, longest first, and the words the synonyms consist of."""

    def __init__(self, phrases: Mapping[str, tuple[Phrase, ...]], words: tuple[str, ...]) -> None:
        self.phrases = phrases
        self.words = words

    def without_words_of(self, words: AbstractSet[str]) -> Concepts:
        """Without the misspellings that the book itself uses: they are words to it."""
        kept = {
            first: tuple(p for p in found if not p.preferred or not words >= set(p.raws))
            for first, found in self.phrases.items()
        }
        return Concepts({first: found for first, found in kept.items() if found}, self.words)


def meanings(terms: Sequence[str], phrases: Callable[[str], Sequence[Phrase] | None]) -> list[str]:
    """`terms` with each synonym, of however many words, replaced by its concept; of several the first by name."""
    meant: list[str] = []
    all_terms = tuple(terms)
    passed = 0
    for start, term in enumerate(all_terms):
        if start < passed:
            continue
        # They stand longest first, and those of the same terms by the names of their concepts.
        for phrase in phrases(term) or ():
            said = phrase.terms
            size = len(said)
            # Most that begin alike go on with a word that is nowhere near: the second term tells them soonest.
            if (
                size == 1 or (said[1] in all_terms and all_terms[start : start + size] == said)
            ) and not phrase.preferred:
                meant.append(phrase.concept)
                passed = start + size
                break
        else:
            meant.append(term)
    return meant


def line_key(meant: Sequence[str]) -> str | None:
    """One term for all of a short line (its `meanings`), whatever the order of its words and which synonyms they are.

    It begins with the first of the line's terms, so that it stands near it in the index. None for a long line.
    """
    if not 0 < len(meant) <= _LONGEST_LINE:
        return None
    first = min(meant)
    return f"{first.rstrip(CONCEPT_MARK)}{_LINE_MARK}{_short_hash(' '.join(sorted(meant)))}"


def ends_clause(word: str, at_comma: bool = True) -> bool:
    """Whether what follows this word as typed is another matter: in "fan turns but auger does not" it is the auger that does not."""
    return word.lower() == "but" or (at_comma and word.endswith(","))


def near_pairs(meant: Sequence[str], near: int = NEAR) -> list[str]:
    """Terms for every two of a line's `meanings` that are at most `near` apart, in either order."""
    plain = [meaning.rstrip(CONCEPT_MARK) for meaning in meant]
    pairs = []
    for distance in range(1, near + 1):
        for left, right in zip(plain, plain[distance:], strict=False):
            if left < right:
                pairs.append(left + _NEAR_MARK + right)
            elif right < left:
                pairs.append(right + _NEAR_MARK + left)
    return pairs


def _short_hash(text: str) -> str:
    """Five letters and figures: 24 bits of FNV-1a, which the browser computes as easily."""
    value = 0x811C9DC5
    for character in map(ord, text):
        # The lower bits of a product depend on lower bits alone: of the prime 0x01000193, too, three bytes are enough.
        value = (value ^ character) * 0x193 & 0xFFFFFF
    digits = ""
    for _ in range(5):
        value, digit = divmod(value, 36)
        digits += _BASE_36[digit]
    return digits


def build_concepts(synonyms: Iterable[Synonym], analyser: Analyser) -> Concepts:
    """Phrases of all `synonyms`; those that consist of stop words alone are left out."""
    phrases: dict[tuple[tuple[str, ...], str, tuple[str, ...]], Phrase] = {}
    words: set[str] = set()

    def add(text: str, concept: str, preferred: str) -> None:
        tokens, _ = analyser.tokens(text.split())
        terms = tuple(token.term for token in tokens)
        if terms:
            raws = tuple(token.raw for token in tokens) if preferred else ()
            phrases[terms, concept, raws] = Phrase(terms, concept, preferred, raws)
            if preferred:
                return
            together = analyser.pair(*tokens) if len(tokens) == 2 else None
            if together:
                phrases[(together,), concept, ()] = Phrase((together,), concept)
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
            add(text, concept, " ".join(fold(synonym.preferred).split()))
    by_first: dict[str, list[Phrase]] = {}
    for phrase in sorted(phrases.values(), key=lambda p: (-len(p.terms), p.terms, p.concept, p.raws)):
        by_first.setdefault(phrase.terms[0], []).append(phrase)
    return Concepts({first: tuple(found) for first, found in sorted(by_first.items())}, tuple(sorted(words)))
