"""The posting lists that the last build left: an edit takes few of a hundred thousand apart, and writes the others as they lie."""

from __future__ import annotations

from array import array
from collections.abc import Iterable, Iterator, Sequence
from itertools import accumulate, islice, pairwise

from shearpin.book.joined import Unpacking
from shearpin.model.usercache import packed_slice

_AT_ONCE = 512  # lists that are joined before they are written


class KeptLists:
    """Postings by the number of a term, as they lie in what was kept; those that were asked for by themselves."""

    def __init__(self, ends: Sequence[int] = (), kept: memoryview | None = None) -> None:
        self._ends = ends
        self._kept = kept if kept is not None else memoryview(b"").cast("I")
        self._own: dict[int, array[int]] = {}
        self._total = len(ends)

    @classmethod
    def read_from(cls, unpacking: Unpacking) -> KeptLists:
        """Return what `packed_lists` packed; raises as `Unpacking.slice` does."""
        sizes = array("I")
        sizes.frombytes(unpacking.slice())
        ends = list(accumulate(sizes))
        return cls(ends, unpacking.raw((ends[-1] if ends else 0) * sizes.itemsize).cast("I"))

    def __len__(self) -> int:
        """Return how many terms there are."""
        return self._total

    def lengthen(self, total: int) -> None:
        """Let there be so many terms; those that are new are in no record."""
        self._total = total

    def __getitem__(self, term: int) -> array[int]:
        """Return the list of a term; what is changed in it is changed here. Raises `IndexError` for a term that is not there."""
        own = self._own.get(term)
        if own is None:
            if term >= self._total:
                raise IndexError(term)
            own = self._own[term] = array("I", self._kept_of(term).tobytes())
        return own

    def __setitem__(self, term: int, postings: array[int]) -> None:
        self._own[term] = postings

    def before(self, term: int) -> array[int]:
        """Return the list of a term as it was when it was kept; an empty one where there was none."""
        return array("I", self._kept_of(term).tobytes())

    def _kept_of(self, term: int) -> memoryview:
        if term >= len(self._ends):
            return self._kept[:0]
        return self._kept[self._ends[term - 1] if term else 0 : self._ends[term]]

    def __iter__(self) -> Iterator[array[int]]:
        own = self._own.get
        for term in range(self._total):
            found = own(term)
            yield found if found is not None else array("I", self._kept_of(term).tobytes())

    def reaching(self, posting: int) -> Iterator[int]:
        """Yield the numbers of the terms of which the last posting is this one or a later one."""
        start, kept = 0, self._kept
        for term, end in enumerate(self._ends):
            if term not in self._own and end > start and kept[end - 1] >= posting:
                yield term
            start = end
        yield from [term for term, own in self._own.items() if own and own[-1] >= posting]

    def sizes(self) -> array[int]:
        """Return how many postings each term has."""
        sizes = array("I", [end - start for start, end in pairwise([0, *self._ends])])
        sizes.extend([0] * (self._total - len(sizes)))
        for term, own in self._own.items():
            sizes[term] = len(own)
        return sizes

    def parts(self) -> Iterator[bytes | memoryview]:
        """Yield the postings of all terms in order, as they are kept: those of many terms at once where nothing was changed."""
        start = 0
        for term in sorted(self._own):
            begin = self._ends[term - 1] if 0 < term <= len(self._ends) else len(self._kept) if term else 0
            yield self._kept[start:begin].cast("B")
            yield self._own[term].tobytes()
            start = self._ends[term] if term < len(self._ends) else len(self._kept)
        yield self._kept[start:].cast("B")


Lists = Sequence["array[int]"] | KeptLists
"""For each number of a term its postings: record number · 128 + code (see `impacts.POINTS`), ascending."""


def packed_lists(lists: Lists) -> Iterator[bytes | memoryview]:
    """Yield, part by part, what `KeptLists.read_from` reads."""
    if isinstance(lists, KeptLists):
        yield packed_slice(lists.sizes().tobytes())
        yield from lists.parts()
        return
    yield packed_slice(array("I", map(len, lists)).tobytes())
    waiting: Iterable[array[int]] = iter(lists)
    while some := [each.tobytes() for each in islice(waiting, _AT_ONCE)]:
        yield b"".join(some)


def in_use(lists: Lists) -> int:
    """Return how many terms are in some record."""
    sizes: Iterable[int] = lists.sizes() if isinstance(lists, KeptLists) else map(len, lists)
    return sum(map(bool, sizes))
