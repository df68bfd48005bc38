"""How the terms of an index are cut into files, and what each file holds of them."""

from __future__ import annotations

from array import array
from bisect import bisect_right
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any, Final

from shearpin.search.concepts import Phrase
from shearpin.search.impacts import rounded_idf
from shearpin.search.model import NOWHERE
from shearpin.search.packing import after, is_dense, pack_number, pack_postings, pack_postings_again

_PAIR_MARK: Final = "+"

_MAX_FILES: Final = 1_300
"""Files a site may have."""
_BYTES: Final = 2_800
"""What fills one when the book is small."""
_LONG: Final = 100
"""Postings from which a list is packed anew in part."""
_OVERFULL: Final = 1.5
"""A long list does not join a file that it would fill beyond this."""


@dataclass(frozen=True, slots=True)
class TermFiles:
    """All `terms` in order, the `sizes` of what follows each in characters, and the files they are cut into.

    `starts` says with which term each file begins, `firsts` the shortest beginning by which that file is found, `rows` the synonyms
    in it. A book without terms has one file.
    """

    terms: Sequence[str]
    sizes: array[int]
    starts: Sequence[int]
    firsts: Sequence[str]
    rows: Sequence[list[list[str]]]

    def ends(self, number: int) -> tuple[int, int]:
        """Return where the terms of a file begin and end."""
        end = self.starts[number + 1] if number + 1 < len(self.starts) else len(self.terms)
        return (self.starts[number] if self.starts else 0), end

    def data(self, number: int, lists: Sequence[str]) -> list[Any]:
        """Return what a file holds; `lists` are those of its terms, packed."""
        start, end = self.ends(number)
        return [_packed_terms(self.terms[start:end], lists), self.rows[number]]


def cut(terms: Sequence[str], sizes: array[int], phrases: Mapping[str, tuple[Phrase, ...]]) -> TermFiles:
    """Cut terms into files, each where the size is reached."""
    size = max(_BYTES, sum(sizes) // _MAX_FILES + 1)
    starts: list[int] = []
    filled = size
    for number, length in enumerate(sizes):
        if filled >= size or (filled and filled + length > _OVERFULL * size):
            starts.append(number)
            filled = 0
        filled += length
    firsts = ["", *(_shortest_between(terms[start - 1], terms[start]) for start in starts[1:])]
    rows: list[list[list[str]]] = [[] for _ in firsts]
    for first, found in phrases.items():
        rows[bisect_right(firsts, first) - 1].extend([_phrase_row(p) for p in found])
    return TermFiles(terms, sizes, starts, firsts, rows)


def _phrase_row(phrase: Phrase) -> list[str]:
    row = [" ".join(phrase.terms), phrase.concept]
    return [*row, phrase.preferred, " ".join(phrase.raws)] if phrase.preferred else row


def _shortest_between(last: str, first: str) -> str:
    """The shortest beginning of `first` that sorts after `last`."""
    return next(first[:size] for size in range(1, len(first) + 1) if first[:size] > last)


class Heads(dict[int, tuple[str, bool]]):
    """What stands before a list of so many of all records, besides the mark, and whether the list takes the dense form.

    A hundred thousand lists have few lengths.
    """

    def __init__(self, total: int) -> None:
        super().__init__()
        self._total = total

    def __missing__(self, count: int) -> tuple[str, bool]:
        dense = is_dense(count, self._total)
        idf = rounded_idf(self._total, count) if count else NOWHERE.idf
        found = self[count] = f" {pack_number(2 * idf + dense)}", dense
        return found


def packed_list(postings: Sequence[int], heads: Heads, *, pair_only: bool) -> str:
    """What follows a term: a mark when it is a pair only, a space, twice the idf (plus one in a list of the dense form),
    and the list."""
    head, dense = heads[len(postings)]
    packed = pack_postings(postings, dense=dense)
    return f"{_PAIR_MARK}{head}{packed}" if pair_only else head + packed


def packed_list_again(
    former: Sequence[int], packed: str, postings: Sequence[int], heads: Heads, *, pair_only: bool
) -> str:
    """The same of a list of which `packed` is what followed the term when its postings were the `former` ones."""
    head, dense = heads[len(postings)]
    begin = f"{_PAIR_MARK}{head}" if pair_only else head
    if len(former) < _LONG or not packed.startswith(begin):
        return packed_list(postings, heads, pair_only=pair_only)
    return begin + pack_postings_again(former, packed[len(begin) :], postings, dense=dense)


def list_head(count: int, total: int) -> tuple[int, bool]:
    """Return what stands before a list of so many records of all, and how it is packed, besides the mark."""
    return rounded_idf(total, count), is_dense(count, total)


def _packed_terms(terms: Sequence[str], lists: Sequence[str]) -> str:
    """Terms with their lists, each after what it shares with the term before; divided by spaces."""
    pairs = pairwise(["", *terms])
    return " ".join(
        [after(before, term) + packed for (before, term), packed in zip(pairs, lists, strict=True)]
    )
