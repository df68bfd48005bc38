"""What one record says how often: the part of indexing that depends on that record alone, and can be kept."""

from __future__ import annotations

from array import array
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import chain, pairwise

from shearpin.search.concepts import Concepts
from shearpin.search.document import Document
from shearpin.search.impacts import BODY, FIELDS, K1, LEVELS, STRONG_CODES, WEAK_CODES, length_norm, level
from shearpin.search.words import Analyser

# Marks the term of two neighbouring words, so that it is told from the same letters written as one word.
PAIR_MARK = "+"

# A match in one of these makes a record one about the matter. The first three hold phrases, one a line.
STRONG_FIELDS = ("title", "said", "also", "numbers")
_PHRASE_FIELDS = STRONG_FIELDS[:3]
_STRONG = tuple(index for index, field in enumerate(FIELDS) if field.name in STRONG_FIELDS)


class Numbering(dict[str, int]):
    """Numbers for strings, in the order they are first asked for."""

    def __missing__(self, text: str) -> int:
        number = self[text] = len(self)
        return number


@dataclass(frozen=True, slots=True)
class Counts:
    """How often one record says what, by numbers.

    `lengths` counts the terms of each field, in the order of FIELDS. `terms` and `times` (a byte each, 255 stands for
    more) lie end to end: first the terms of the body that occur in no other field, then for each field in turn the
    terms that do; `sizes` says how many belong to each. `words` is what stands between spaces.
    """

    lengths: tuple[int, ...]
    sizes: tuple[int, ...]
    terms: array[int]
    times: bytes
    words: array[int]


def count_document(
    document: Document, analyser: Analyser, concepts: Concepts, terms: Numbering, words: Numbering
) -> Counts:
    """Analyse every field of `document`; its terms and words are given numbers where they have none yet."""
    lengths = []
    counted: list[Counter[str]] = []
    spaced: set[str] = set()
    for field in FIELDS:
        text = document.fields.get(field.name, "")
        if field.name in _PHRASE_FIELDS:
            length, counts = _count_phrases(text, analyser, concepts, spaced)
        else:
            length, counts = _count_text(text, analyser, concepts, spaced)
        lengths.append(length)
        counted.append(counts)
    body = counted[BODY]
    elsewhere = set().union(*counted[:BODY])
    shared = Counter({term: body.pop(term) for term in elsewhere & body.keys()})
    groups = (body, *counted[:BODY], shared)
    return Counts(
        tuple(lengths),
        tuple(map(len, groups)),
        array("I", map(terms.__getitem__, chain.from_iterable(groups))),
        _as_bytes(chain.from_iterable([counts.values() for counts in groups])),
        array("I", map(words.__getitem__, spaced)),
    )


def _as_bytes(times: Iterable[int]) -> bytes:
    found = list(times)
    try:
        return bytes(found)
    except ValueError:
        return bytes([min(count, 255) for count in found])


def _count_text(
    text: str, analyser: Analyser, concepts: Concepts, spaced: set[str]
) -> tuple[int, Counter[str]]:
    if not text:
        return 0, Counter()
    words = text.split()
    distinct = set(words)
    spaced |= distinct
    terms, joined = analyser.terms(words, distinct)
    counts = Counter(terms)
    named = concepts.count(terms, counts)
    for term in joined:
        counts[term] += 1
    for concept, times in named.items():
        counts[concept] += times
    return len(terms), counts


def _count_phrases(
    text: str, analyser: Analyser, concepts: Concepts, spaced: set[str]
) -> tuple[int, Counter[str]]:
    """As `_count_text`, line by line, and with the pairs of neighbouring words."""
    length = 0
    total: Counter[str] = Counter()
    for line in text.split("\n"):
        words = line.split()
        spaced.update(words)
        tokens, joined = analyser.tokens(words)
        terms = [token.term for token in tokens]
        counts = Counter(terms)
        for concept, times in concepts.count(terms, counts).items():
            total[concept] += times
        for term in terms:
            total[term] += 1
        for term in joined:
            total[term] += 1
        for first, second in pairwise(tokens):
            pair = analyser.pair(first, second)
            if pair:
                total[PAIR_MARK + pair] += 1
        length += len(terms)
    return length, total


def posting_codes(counts: Counts, means: Sequence[float]) -> tuple[bytes, dict[int, int]]:
    """Codes of the terms of the body alone, in their order, and codes of all other terms by number.

    See `impacts.POINTS`.
    """
    norms = [length_norm(length, mean, f.b) for length, mean, f in zip(counts.lengths, means, FIELDS, strict=True)]
    shares = [field.weight / norm for field, norm in zip(FIELDS, norms, strict=True)]
    body_size = counts.sizes[0]
    body_times = counts.times[:body_size]
    body_codes = bytes(WEAK_CODES[level(shares[BODY] * times)] for times in range(max(body_times, default=0) + 1))
    frequencies: dict[int, float] = {}
    strong: set[int] = set()
    start = body_size
    for index, size in enumerate(counts.sizes[1:]):
        share = shares[index]
        terms = counts.terms[start : start + size]
        for term, times in zip(terms, counts.times[start : start + size], strict=True):
            frequencies[term] = frequencies.get(term, 0.0) + share * times
        if index in _STRONG:
            strong.update(terms)
        start += size
    # `level`, written out: this runs half a million times in a large book.
    codes = {
        term: (STRONG_CODES if term in strong else WEAK_CODES)[int(frequency / (K1 + frequency) * LEVELS)]
        for term, frequency in frequencies.items()
    }
    return body_times.translate(body_codes.ljust(256, b"\0")), codes
