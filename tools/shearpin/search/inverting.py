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
from shearpin.search.keptlists import KeptLists, Lists

_FEW: Final = 20
_MANY: Final = 0.25
"""Changed records, and the part of all of them, up to which what they say otherwise is put right quicker than all made afresh."""

_MANY_MOVED: Final = 0.3
"""The part of all records from which on it is quicker to look at every list than to gather what those say that have another number."""


def inverted(counted: Counted, means: Sequence[float]) -> tuple[Lists, set[int] | None]:
    """Return the postings, and the numbers of the terms of which some are others than before; None where all may be.

    The postings do not depend on what an earlier build kept.
    """
    earlier = counted.earlier
    total = len(counted.digests)
    if tuple(means) != earlier.means:
        return _afresh(counted, means), None
    origins = _origins(counted)
    own = [number for number, origin in enumerate(origins) if origin is None and counted.digests[number]]
    gone = {number for number, digest in enumerate(earlier.digests) if digest}.difference(origins)
    if max(len(own), len(gone)) > max(_FEW, _MANY * total):
        return _afresh(counted, means), None
    lists = earlier.lists
    lists.lengthen(len(counted.terms))
    touched: set[int] = set()
    for number in gone.difference(own):
        touched |= _take_out(lists, earlier.rows[earlier.digests[number]], number)
    touched |= _move(lists, counted, origins)
    for number in own:
        if number in gone:
            former = earlier.rows[earlier.digests[number]]
            touched |= _replace(lists, former, counted.rows[number], number, means)
        else:
            touched |= _put_in(lists, counted.rows[number], number, means)
    return lists, touched


def _origins(counted: Counted) -> list[int | None]:
    """Return for each record which number it had before, None where it is new or says something else, or is no record."""
    before: dict[bytes, list[int]] = {}
    for number in range(len(counted.earlier.digests) - 1, -1, -1):
        before.setdefault(counted.earlier.digests[number], []).append(number)
    stale = counted.stale
    return [
        before[digest].pop() if digest and digest not in stale and before.get(digest) else None
        for digest in counted.digests
    ]


def _move(lists: KeptLists, counted: Counted, origins: Sequence[int | None]) -> set[int]:
    """Give each record in the lists the number that it has now, where it had another one; return the numbers of the terms of such records.

    In each list only what lies between the least and the greatest of these numbers is looked at.
    """
    moved = {o: number for number, o in enumerate(origins) if o is not None and o != number}
    if not moved:
        return set()
    further = {origin: (number - origin) << CODE_BITS for origin, number in moved.items()}
    numbers = (*moved, *moved.values())
    least, most = min(numbers) << CODE_BITS, (max(numbers) + 1) << CODE_BITS
    if len(moved) > max(_FEW, _MANY_MOVED * len(origins)):
        terms = {*lists.reaching(least)}
    else:
        terms = set().union(*(array("I", counted.rows[number][2]) for number in moved.values()))
    touched: set[int] = set()
    for term in terms:
        postings = lists[term]
        start, end = bisect_left(postings, least), bisect_left(postings, most)
        before = postings[start:end]
        now = array("I", sorted([posting + further.get(posting >> CODE_BITS, 0) for posting in before]))
        if now != before:
            postings[start:end] = now
            touched.add(term)
    return touched


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


def _take_out(lists: Lists, row: Row, number: int) -> set[int]:
    """Take the postings of a record out of the lists of all that it said; return the numbers of these terms."""
    base, end = number << CODE_BITS, (number + 1) << CODE_BITS
    terms = set(array("I", row[2]))
    for term in terms:
        postings = lists[term]
        del postings[bisect_left(postings, base) : bisect_left(postings, end)]
    return terms


def _put_in(lists: Lists, row: Row, number: int, means: Sequence[float]) -> set[int]:
    """Put the postings of a record into the lists of all that it says; return the numbers of these terms."""
    base, terms = number << CODE_BITS, set()
    for term, code in codes_of(row, means):
        insort(lists[term], base | code)
        terms.add(term)
    return terms


def _replace(lists: Lists, former: Row, row: Row, number: int, means: Sequence[float]) -> set[int]:
    """Put postings in the place of former ones of the same number; return the numbers of the terms of which they differ."""
    base = number << CODE_BITS
    before, now = set(codes_of(former, means)), set(codes_of(row, means))
    for term, code in before - now:
        postings = lists[term]
        del postings[bisect_left(postings, base | code)]
    for term, code in now - before:
        insort(lists[term], base | code)
    return {term for term, _ in before ^ now}
