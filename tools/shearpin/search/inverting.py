"""Where each term occurs. After an edit only the lists of what the changed records said and say are made anew."""

from __future__ import annotations

from array import array
from bisect import bisect_left, insort
from collections.abc import Iterable, Sequence
from itertools import chain
from typing import Final

from shearpin.search.counts import Row, posting_codes
from shearpin.search.impacts import CODE_BITS
from shearpin.search.kept import Counted

_FEW: Final = 20
_MANY: Final = 0.02
"""Changed records, and the part of all of them, up to which a list after the other is quicker than all afresh."""


def inverted(counted: Counted, means: Sequence[float]) -> list[array[int]]:
    """Return for each number of a term its postings: record number · 128 + code (see `impacts.POINTS`), ascending.

    The result does not depend on what an earlier build kept.
    """
    earlier = counted.earlier
    if tuple(means) != earlier.means or len(counted.digests) != len(earlier.digests):
        return _afresh(counted, means)
    pairs = enumerate(zip(counted.digests, earlier.digests, strict=True))
    changed = [number for number, (now, before) in pairs if now != before]
    if len(changed) > max(_FEW, _MANY * len(counted.digests)):
        return _afresh(counted, means)
    lists = [*earlier.lists, *(array("I") for _ in range(len(counted.terms) - len(earlier.lists)))]
    for number in changed:
        _take_out(lists, earlier.rows[earlier.digests[number]], number)
        base = number << CODE_BITS
        for term, code in codes_of(counted.rows[number], means):
            insort(lists[term], base | code)
    return lists


def _afresh(counted: Counted, means: Sequence[float]) -> list[array[int]]:
    lists = [array("I") for _ in counted.terms]
    for number, row in enumerate(counted.rows):
        base = number << CODE_BITS
        for term, code in codes_of(row, means):
            lists[term].append(base | code)
    return lists


def codes_of(row: Row, means: Sequence[float]) -> Iterable[tuple[int, int]]:
    """Return the number of each term of a record with its code."""
    terms, codes, others = posting_codes(row, means)
    return chain(zip(terms, codes, strict=True), others.items())


def _take_out(lists: Sequence[array[int]], row: Row, number: int) -> None:
    """Take the postings of a record out of the lists of all that it said."""
    base, end = number << CODE_BITS, (number + 1) << CODE_BITS
    for term in set(array("I", row[2])):
        postings = lists[term]
        del postings[bisect_left(postings, base) : bisect_left(postings, end)]
