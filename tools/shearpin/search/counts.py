"""What one record says how often: the part of indexing that depends on that record alone, and can be kept."""

from __future__ import annotations

from array import array
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import lru_cache
from itertools import chain, pairwise

from shearpin.search.concepts import NEAR, Concepts, ends_clause, line_key, meanings, near_pairs
from shearpin.search.document import ANSWER_MARK
from shearpin.search.impacts import BODY, FIELDS, STRONG_CODES, WEAK_CODES, field_shares, level
from shearpin.search.numbered import TermNumbers, WordNumbers
from shearpin.search.words import Analyser

# Marks the term of two neighbouring words, so that it is told from the same letters written as one word, and the term
# of a whole line.
PAIR_MARK = "+"

# A match in one of these makes a record one about the matter. The first three hold phrases, one a line.
STRONG_FIELDS = ("title", "said", "also", "numbers", "plates", "figures")
_STRONG = frozenset(index for index, field in enumerate(FIELDS) if field.name in STRONG_FIELDS)

Row = tuple[tuple[int, ...], tuple[int, ...], bytes, bytes, bytes]
"""How often one record says what: lengths, sizes, terms, times, words.

The lengths count the terms of each field, in the order of FIELDS. Terms (as `array("I")`) and times (a byte each, 255
stands for more) lie end to end: for each field the terms that occur in no other, then for each field those that do; the
sizes say how many belong to each. The words, as `array("I")` too, are what stands between spaces.
"""

SAYS_NOTHING: Row = ((0,) * len(FIELDS), (0,) * 2 * len(FIELDS), b"", b"", b"")
"""What a number has that is no document's."""

_Counted = tuple[int, dict[int, int], Iterable[int]]
"""How many terms a text has, how often each of them and of the terms made from them, and its words; terms and words by number."""


_NOTHING: dict[int, int] = {}

# The answers of a value have its names, and many the same plates and figures.
_IN_COMMON = frozenset({"title", "also", "plates", "figures"})
_COMMON_PLACES = frozenset(number for number, field in enumerate(FIELDS) if field.name in _IN_COMMON)
_MOST_KNOWN = 1_000


class FieldCounts:
    """Counts what fields of records say, in numbers of `terms` and `words`."""

    def __init__(self, analyser: Analyser, concepts: Concepts) -> None:
        self.terms = TermNumbers(concepts)
        self.words = WordNumbers(analyser, self.terms)
        self._analyser = analyser
        self._phrases_of = concepts.phrases.get
        self._known: dict[tuple[str, str], _Counted] = {}

    def row(self, fields: Mapping[str, str]) -> Row:
        """Analyse the fields of one record; its terms and words are given numbers where they have none yet."""
        lengths = [0] * len(FIELDS)
        counted: list[dict[int, int]] = [_NOTHING] * len(FIELDS)
        spaced: set[int] = set()
        once: set[int] = set()
        shared: set[int] = set()
        for number, field in enumerate(FIELDS):
            text = fields.get(field.name)
            if text:
                lengths[number], counts, words = self._counted(field.name, text)
                counted[number] = counts
                spaced.update(words)
                shared |= once & counts.keys()
                if number < BODY:
                    once.update(counts)
        groups = _parted(counted, shared)
        return (
            tuple(lengths),
            tuple(map(len, groups)),
            array("I", list(chain.from_iterable(groups))).tobytes(),
            _as_bytes(list(chain.from_iterable([counts.values() for counts in groups]))),
            array("I", list(spaced)).tobytes(),
        )

    def _counted(self, field: str, text: str) -> _Counted:
        """Count one field; what records near each other have in common is remembered."""
        if field not in _IN_COMMON:
            return self._text(text) if field != "said" else self._phrases(text, NEAR)
        known = self._known.get((field, text))
        if known is None:
            if len(self._known) == _MOST_KNOWN:
                self._known.clear()
            if field == "plates":
                known = self._plates(text)
            elif field == "figures":
                known = 1, Counter(map(self.terms.__getitem__, text.split())), ()
            else:
                # Speech puts words between; titles and names do not, and there are many of them.
                known = self._phrases(text, 1)
            self._known[field, text] = known
        return known

    def _plates(self, text: str) -> _Counted:
        """Terms by which a query names a plate: model numbers, and whole names where there is no number."""
        found: list[str] = []
        for name in text.split("\n"):
            tokens, _ = self._analyser.tokens(name.split())
            numbers = [token.term for token in tokens if token.kind in ("code", "number")]
            found += [term + ANSWER_MARK for term in numbers or [token.term for token in tokens]]
        return len(found), Counter(map(self.terms.__getitem__, found)), ()

    def _text(self, text: str) -> _Counted:
        numbers, words, joined = self.words.read(text)
        counts = Counter(numbers)
        named = self.terms.concepts_in(numbers, counts)
        if joined:
            counts.update(joined)
        for concept, times in named.items():
            counts[concept] = times
        return len(numbers), counts, words

    def _phrases(self, text: str, near: int) -> _Counted:
        """As `_text`, line by line, and with terms for neighbouring words and for whole lines."""
        length = 0
        found: list[int] = []
        spaced: set[int] = set()
        number_of = self.terms.__getitem__
        word_of = self.words.__getitem__
        for line in text.split("\n"):
            words = line.split()
            spaced.update(map(word_of, words))
            tokens, joined = self._analyser.tokens(words)
            terms = [token.term for token in tokens]
            numbers = list(map(number_of, terms))
            length += len(terms)
            found += numbers
            marked = list(filter(None, map(self._analyser.pair, tokens, tokens[1:])))
            counts = {number: numbers.count(number) for number in numbers}
            for concept, times in self.terms.concepts_in(numbers, counts).items():
                found += [concept] * times
            meant = meanings(terms, self._phrases_of)
            # In titles and names a comma only puts words into another order.
            ends = [number for number, word in enumerate(words[:-1]) if ends_clause(word, near > 1)]
            for clause in self._clauses(words, ends) if ends else [meant]:
                marked += near_pairs(clause, near)
            line_term = line_key(meant)
            if line_term:
                marked.append(line_term)
            found += map(number_of, joined)
            found += [number_of(PAIR_MARK + term) for term in marked]
        return length, Counter(found), spaced

    def _clauses(self, words: Sequence[str], ends: Sequence[int]) -> Iterator[list[str]]:
        """The meanings of each clause by itself; `ends` are the places of the words that end one."""
        for before, end in pairwise([-1, *ends, len(words) - 1]):
            tokens, _ = self._analyser.tokens(words[before + 1 : end + 1])
            yield meanings([token.term for token in tokens], self._phrases_of)


def _parted(counted: Sequence[dict[int, int]], shared: set[int]) -> list[dict[int, int]]:
    """For each field the counts of terms that occur in no other, then for each field of those that do."""
    alone = list(counted)
    several = [_NOTHING] * len(counted)
    for number, counts in enumerate(counted):
        there = shared & counts.keys()
        if there:
            # What is remembered for other records stays as it is.
            rest = dict(counts) if number in _COMMON_PLACES else counts
            several[number] = dict(zip(there, map(rest.pop, there), strict=True))
            alone[number] = rest
    return [*alone, *several]


def _as_bytes(times: list[int]) -> bytes:
    try:
        return bytes(times)
    except ValueError:
        return bytes([min(count, 255) for count in times])


def posting_codes(row: Row, means: Sequence[float]) -> tuple[Sequence[int], bytes, dict[int, int]]:
    """Terms that occur in one field and their codes, and the codes of all other terms; see `impacts.POINTS`."""
    lengths, sizes, packed, all_times, _ = row
    all_terms = array("I", packed)
    shares = field_shares(lengths, means, FIELDS)
    codes = bytearray()
    start = 0
    for index, size in enumerate(sizes[: len(FIELDS)]):
        if size:
            times = all_times[start : start + size]
            codes += times.translate(_code_table(shares[index], max(times), index in _STRONG))
            start += size
    alone = start
    frequencies: dict[int, float] = {}
    strong: set[int] = set()
    for index, size in enumerate(sizes[len(FIELDS) :]):
        if size:
            share = shares[index]
            terms = all_terms[start : start + size]
            for term, number in zip(terms, all_times[start : start + size], strict=True):
                frequencies[term] = frequencies.get(term, 0.0) + share * number
            if index in _STRONG:
                strong.update(terms)
            start += size
    in_several = {
        term: (STRONG_CODES if term in strong else WEAK_CODES)[level(frequency)]
        for term, frequency in frequencies.items()
    }
    return all_terms[:alone], bytes(codes), in_several


@lru_cache(maxsize=4096)
def _code_table(share: float, most: int, strong: bool) -> bytes:
    """The code of each number of times, as `bytes.translate` takes it."""
    codes = STRONG_CODES if strong else WEAK_CODES
    return bytes([codes[level(share * times)] for times in range(most + 1)]).ljust(256, b"\0")
