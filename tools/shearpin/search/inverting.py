"""Where each term occurs. After an edit only the lists of what the changed records said and say are made anew."""

from __future__ import annotations

from array import array
from bisect import bisect_left, insort
from collections.abc import Iterable, Sequence
from itertools import chain
from operator import lt
from typing import Final

from shearpin.search.counts import Row, posting_codes
from shearpin.search.impacts import CODE_BITS
from shearpin.search.kept import Counted

_FEW: Final = 20
_MANY: Final = 0.25
"""Changed records, and the part of all of them, up to which what they say otherwise is put right quicker than all made afresh."""

_MANY_MOVED: Final = 0.02
"""The part of all records up to which it is quicker to put right what those say that have another number than to look at every list."""

Lists = list["array[int]"]
"""For each number of a term its postings: record number · 128 + code (see `impacts.POINTS`), ascending."""


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
    lists = [*earlier.lists, *(array("I") for _ in range(len(counted.terms) - len(earlier.lists)))]
    moved = [number for number, origin in enumerate(origins) if origin not in (None, number)]
    touched: set[int] = set()
    if len(moved) > max(_FEW, _MANY_MOVED * total):
        for number in gone:
            touched |= _take_out(lists, earlier.rows[earlier.digests[number]], number)
        touched |= _renumber(lists, origins, len(earlier.digests))
        for number in own:
            touched |= _put_in(lists, counted.rows[number], number, means)
        return lists, touched
    own += moved
    gone.update(origin for number in moved if (origin := origins[number]) is not None)
    for number in gone.difference(own):
        touched |= _take_out(lists, earlier.rows[earlier.digests[number]], number)
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


def _renumber(lists: Lists, origins: Sequence[int | None], total: int) -> set[int]:
    """Give each record in the lists the number that it has now; of those that have none nothing is in them.

    Returns the numbers of the terms of which the lists are others.
    """
    further = [0] * total
    for number, origin in enumerate(origins):
        if origin is not None:
            further[origin] = (number - origin) << CODE_BITS
    first = next((number for number, step in enumerate(further) if step), total) << CODE_BITS
    kept = [origin for origin in origins if origin is not None]
    in_order = all(map(lt, kept, kept[1:]))
    touched = set()
    for term, postings in enumerate(lists):
        if postings and postings[-1] >= first:
            moved = [posting + further[posting >> CODE_BITS] for posting in postings]
            lists[term] = array("I", moved if in_order else sorted(moved))
            touched.add(term)
    return touched


def _afresh(counted: Counted, means: Sequence[float]) -> Lists:
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
