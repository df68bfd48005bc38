"""What is handed on of a ledger to the next build."""

from __future__ import annotations

import marshal
from array import array
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from itertools import islice
from typing import Final, NamedTuple

from shearpin.book.joined import Deps, Joined, Unpacking, joined_parts, packed, unpacked
from shearpin.model.usercache import packed_slice

Name = tuple[str, ...]
"""What is read: a kind of reading, and what it is of. All parts are text."""


_BLOCK: Final = 256
"""Groups, or whatever there are many of, that are taken together: all of them at once take more room than a build has left."""


class Settled:
    """What was noted by the time that all of it was packed last: little is unpacked before it is asked for.

    Names lie in groups of those that begin alike, everything else in the order of the numbers of the names.
    """

    def __init__(self, unpacking: Unpacking) -> None:
        begins, group_of, value_of, self._read = unpacking.slice()
        self.begins: Sequence[Name] = begins
        self._group_at = {begin: place for place, begin in enumerate(begins)}
        self._group_of = array("I")
        self._group_of.frombytes(group_of)
        self._value_of: Mapping[int, int] = value_of
        self._groups = [unpacking.joined() for _ in range(0, len(begins), _BLOCK)]
        self.marks, self.reads, self._values = (unpacking.joined() for _ in range(3))
        self._lasts: dict[int, dict[int, str]] = {}

    def __len__(self) -> int:
        """Return how many names there are; their numbers count from zero."""
        return len(self._group_of)

    def group(self, begin: Name) -> dict[str, int]:
        """Return the numbers of the names that begin so and have one part more, by that part."""
        place = self._group_at.get(begin)
        if place is None:
            return {}
        found: dict[str, int] = marshal.loads(self._groups[place // _BLOCK][place % _BLOCK])
        return found

    def name(self, number: int) -> Name:
        """Return the name with a number."""
        place = self._group_of[number]
        begin = self.begins[place]
        if place not in self._lasts:
            self._lasts[place] = {each: last for last, each in self.group(begin).items()}
        return (*begin, self._lasts[place][number])

    def value(self, number: int) -> bytes | None:
        """Return an answer that was kept whole, pickled."""
        place = self._value_of.get(number)
        return self._values[place] if place is not None else None

    def readers(self, numbers: Collection[int]) -> set[int]:
        """Return the answers that were made from one of these."""
        return self.reads.with_numbers(self._all_read.intersection(numbers))

    @cached_property
    def _all_read(self) -> frozenset[int]:
        """All that answers were made from: most answers are read by pages alone, and need not be looked for."""
        return frozenset(unpacked(self._read))

    def values(self) -> dict[int, bytes]:
        """Return all of them by number."""
        return {number: self._values[place] for number, place in self._value_of.items()}


def packed_notes(
    groups: Mapping[Name, Mapping[str, int]],
    marks: Sequence[bytes],
    reads: Collection[Deps],
    values: Mapping[int, bytes],
) -> Iterator[bytes]:
    """Yield, part by part, what `Settled` unpacks: numbers of names, marks by number, reads and values of answers."""
    group_of = array("I", bytes(len(marks) * array("I").itemsize))
    for place, group in enumerate(groups.values()):
        for number in group.values():
            group_of[number] = place
    value_of = {number: place for place, number in enumerate(values)}
    yield packed_slice((tuple(groups), group_of.tobytes(), value_of, packed(_numbers_in(reads))))
    waiting = iter(groups.values())
    while some := [marshal.dumps(dict(group)) for group in islice(waiting, _BLOCK)]:
        yield from joined_parts(some)
    yield from joined_parts(marks)
    yield from joined_parts(reads)
    yield from joined_parts(values.values())


class _InOrder(Collection[Deps]):
    """What answers were made from in the order of their numbers, of so many numbers; nothing for what is no answer."""

    def __init__(self, reads: Mapping[int, Deps], count: int) -> None:
        self._reads, self._count = reads, count

    def __len__(self) -> int:
        return self._count

    def __iter__(self) -> Iterator[Deps]:
        return (self._reads.get(number, b"") for number in range(self._count))

    def __contains__(self, read: object) -> bool:
        return read in self._reads.values()


def _numbers_in(reads: Iterable[Deps]) -> set[int]:
    found: set[int] = set()
    waiting = iter(reads)
    while some := [*islice(waiting, _BLOCK)]:
        found.update(unpacked(b"".join(some)))
    return found


def _nothing() -> Settled:
    return Settled(Unpacking(b"".join(packed_notes({}, (), (), {}))))


class Noted(NamedTuple):
    """How much a ledger has noted: names, what answers were made from, their marks, and answers that are kept whole."""

    names: int
    reads: int
    results: int
    values: int


@dataclass
class Past:
    """What an earlier build noted: what was settled long ago, and what was noted since.

    `groups` are the numbers of further names by their last part, by how they begin; they follow on the settled ones, and
    `new_marks` are the marks of these. `marks` are those of settled ones that are others now; `reads` and `values` are of
    answers of both sorts: what each was made from, and those that are kept whole, pickled.
    """

    settled: Settled = field(default_factory=_nothing)
    groups: Mapping[Name, Mapping[str, int]] = field(default_factory=dict)
    new_marks: Sequence[bytes] = ()
    marks: Mapping[int, bytes] = field(default_factory=dict)
    reads: Mapping[int, Deps] = field(default_factory=dict)
    values: Mapping[int, bytes] = field(default_factory=dict)

    def __len__(self) -> int:
        """Return how many names there are."""
        return len(self.settled) + len(self.new_marks)

    def name(self, number: int) -> Name:
        """Return the name with a number."""
        later = number - len(self.settled)
        return self.names[later] if later >= 0 else self.settled.name(number)

    def mark(self, number: int) -> bytes:
        """Return the mark of what has a number."""
        later = number - len(self.settled)
        if later >= 0:
            return self.new_marks[later]
        found = self.marks.get(number)
        return found if found is not None else self.settled.marks[number]

    def read(self, number: int) -> Deps:
        """Return what an answer was made from."""
        found = self.reads.get(number)
        return found if found is not None else self.settled.reads[number]

    def value(self, number: int) -> bytes | None:
        """Return an answer that was kept whole, pickled."""
        found = self.values.get(number)
        return found if found is not None else self.settled.value(number)

    def begins(self) -> Collection[Name]:
        """Return with what names begin, but for their last part."""
        return {**dict.fromkeys(self.settled.begins), **self.groups}

    def group(self, begin: Name) -> dict[str, int]:
        """Return the numbers of the names that begin so and have one part more, by that part."""
        return {**self.settled.group(begin), **self.groups.get(begin, {})}

    @cached_property
    def names(self) -> Sequence[Name]:
        """The names in `groups`, in the order of their numbers."""
        of_number = {
            number: (*begin, last) for begin, group in self.groups.items() for last, number in group.items()
        }
        return [of_number[number] for number in sorted(of_number)]

    def reached_from(self, numbers: Collection[int]) -> set[int]:
        """Return all answers that read one of these numbers, or one of such answers, and so on."""
        later, answers = Joined.of(self.reads.values()), list(self.reads)
        found: set[int] = set()
        latest = set(numbers)
        while latest:
            latest = self.settled.readers(latest) - self.reads.keys() | {
                answers[place] for place in later.with_numbers(latest)
            }
            latest -= found
            found |= latest
        return found

    def packed(self) -> Iterator[bytes]:
        """Yield all of it, settled, part by part."""
        settled = self.settled
        if not len(settled):  # a first build has little room: nothing is copied
            reads_in_order = _InOrder(self.reads, len(self.new_marks))
            return packed_notes(self.groups, self.new_marks, reads_in_order, self.values)
        marks = [*settled.marks, *self.new_marks]
        reads = [*settled.reads, *[b""] * len(self.new_marks)]
        for whole, later in ((marks, self.marks), (reads, self.reads)):
            for number, found in later.items():
                whole[number] = found
        groups = {begin: self.group(begin) for begin in self.begins()}
        return packed_notes(groups, marks, reads, settled.values() | {**self.values})
