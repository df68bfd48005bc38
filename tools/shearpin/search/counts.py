"""What one record says how often: the part of indexing that depends on that record alone, and can be kept."""

from __future__ import annotations

from array import array
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import chain, pairwise

from shearpin.search.concepts import NEAR, Concepts, ends_clause, line_key, meanings, near_pairs
from shearpin.search.document import ANSWER_MARK
from shearpin.search.impacts import FIELDS, STRONG_CODES, WEAK_CODES, field_shares, level
from shearpin.search.words import Analyser

# Marks the term of two neighbouring words, so that it is told from the same letters written as one word, and the term
# of a whole line.
PAIR_MARK = "+"

# A match in one of these makes a record one about the matter. The first three hold phrases, one a line.
STRONG_FIELDS = ("title", "said", "also", "numbers", "plates", "figures")
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
    more) lie end to end: for each field the terms that occur in no other, then for each field those that do; `sizes`
    says how many belong to each. `words` is what stands between spaces.
    """

    lengths: tuple[int, ...]
    sizes: tuple[int, ...]
    terms: array[int]
    times: bytes
    words: array[int]


def count_fields(
    fields: Mapping[str, str], analyser: Analyser, concepts: Concepts, terms: Numbering, words: Numbering
) -> Counts:
    """Analyse the fields of one record; its terms and words are given numbers where they have none yet."""
    lengths = []
    counted: list[Counter[str]] = []
    spaced: set[str] = set()
    for field in FIELDS:
        text = fields.get(field.name, "")
        if not text:
            length, counts = 0, Counter[str]()
        elif field.name in _PHRASE_FIELDS:
            # Speech puts words between; titles and names do not, and there are many of them.
            near = NEAR if field.name == "said" else 1
            length, counts = _count_phrases(text, analyser, concepts, spaced, near)
        elif field.name == "plates":
            length, counts = _count_plates(text, analyser)
        elif field.name == "figures":
            length, counts = 1, Counter(text.split())
        else:
            length, counts = _count_text(text, analyser, concepts, spaced)
        lengths.append(length)
        counted.append(counts)
    shared = _in_several(counted)
    several = [{term: counts.pop(term) for term in shared & counts.keys()} for counts in counted]
    groups = (*counted, *several)
    return Counts(
        tuple(lengths),
        tuple(map(len, groups)),
        array("I", map(terms.__getitem__, chain.from_iterable(groups))),
        _as_bytes(chain.from_iterable([counts.values() for counts in groups])),
        array("I", map(words.__getitem__, spaced)),
    )


def _count_plates(text: str, analyser: Analyser) -> tuple[int, Counter[str]]:
    """Terms by which a query names a plate: model numbers, and whole names where there is no number."""
    found: list[str] = []
    for name in text.split("\n"):
        tokens, _ = analyser.tokens(name.split())
        numbers = [token.term for token in tokens if token.kind in ("code", "number")]
        found += [term + ANSWER_MARK for term in numbers or [token.term for token in tokens]]
    return len(found), Counter(found)


def _in_several(counted: Sequence[Counter[str]]) -> set[str]:
    """Terms that occur in more than one field."""
    once: set[str] = set()
    several: set[str] = set()
    for counts in counted:
        several |= once & counts.keys()
        once |= counts.keys()
    return several


def _as_bytes(times: Iterable[int]) -> bytes:
    found = list(times)
    try:
        return bytes(found)
    except ValueError:
        return bytes([min(count, 255) for count in found])


def _count_text(
    text: str, analyser: Analyser, concepts: Concepts, spaced: set[str]
) -> tuple[int, Counter[str]]:
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


def _clauses(
    words: Sequence[str], ends: Sequence[int], analyser: Analyser, concepts: Concepts
) -> Iterator[list[str]]:
    """The meanings of each clause by itself; `ends` are the places of the words that end one."""
    for before, end in pairwise([-1, *ends, len(words) - 1]):
        tokens, _ = analyser.tokens(words[before + 1 : end + 1])
        yield meanings([token.term for token in tokens], concepts.beginning)


def _count_phrases(
    text: str, analyser: Analyser, concepts: Concepts, spaced: set[str], near: int
) -> tuple[int, Counter[str]]:
    """As `_count_text`, line by line, and with terms for neighbouring words and for whole lines."""
    length = 0
    found: list[str] = []
    for line in text.split("\n"):
        words = line.split()
        spaced.update(words)
        tokens, joined = analyser.tokens(words)
        terms = [token.term for token in tokens]
        length += len(terms)
        found += terms
        found += joined
        for concept, times in concepts.count(terms, Counter(terms)).items():
            found += [concept] * times
        pairs = [analyser.pair(first, second) for first, second in pairwise(tokens)]
        found += [PAIR_MARK + pair for pair in pairs if pair]
        meant = meanings(terms, concepts.beginning)
        # In titles and names a comma only puts words into another order.
        ends = [number for number, word in enumerate(words[:-1]) if ends_clause(word, near > 1)]
        for clause in _clauses(words, ends, analyser, concepts) if ends else [meant]:
            found += [PAIR_MARK + pair for pair in near_pairs(clause, near)]
        line_term = line_key(meant)
        if line_term:
            found.append(PAIR_MARK + line_term)
    return length, Counter(found)


def posting_codes(counts: Counts, means: Sequence[float]) -> tuple[array[int], bytes, dict[int, int]]:
    """Terms that occur in one field and their codes, and the codes of all other terms; see `impacts.POINTS`."""
    shares = field_shares(counts.lengths, means, FIELDS)
    codes = bytearray()
    start = 0
    for index, size in enumerate(counts.sizes[: len(FIELDS)]):
        times = counts.times[start : start + size]
        codes += times.translate(_code_table(shares[index], max(times, default=0), index in _STRONG))
        start += size
    alone = start
    frequencies: dict[int, float] = {}
    strong: set[int] = set()
    for index, size in enumerate(counts.sizes[len(FIELDS) :]):
        share = shares[index]
        terms = counts.terms[start : start + size]
        for term, number in zip(terms, counts.times[start : start + size], strict=True):
            frequencies[term] = frequencies.get(term, 0.0) + share * number
        if index in _STRONG:
            strong.update(terms)
        start += size
    in_several = {
        term: (STRONG_CODES if term in strong else WEAK_CODES)[level(frequency)]
        for term, frequency in frequencies.items()
    }
    return counts.terms[:alone], bytes(codes), in_several


@lru_cache(maxsize=4096)
def _code_table(share: float, most: int, strong: bool) -> bytes:
    """The code of each number of times, as `bytes.translate` takes it."""
    codes = STRONG_CODES if strong else WEAK_CODES
    return bytes([codes[level(share * times)] for times in range(most + 1)]).ljust(256, b"\0")
