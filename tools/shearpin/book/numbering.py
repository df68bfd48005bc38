"""Numbers for the names of what is read: looked for part by part, for a name is short where its beginning is known."""

from __future__ import annotations

from array import array
from bisect import bisect_right
from collections.abc import Collection, Hashable, Iterable, Iterator, Mapping, Sequence
from itertools import accumulate, compress, count
from typing import Any, Final, Generic, TypeVar

Deps = bytes
"""Numbers of what was read, ascending, packed."""

_FEW: Final = 16  # numbers; with more it is quicker to look at every number once
_BYTES: Final = array("I").itemsize

Reader = TypeVar("Reader", bound=Hashable)

Name = tuple[str, ...]
"""What is read: a kind of reading, and what it is of. All parts are text."""


class Names(list[Name]):
    """Names in the order of their numbers, beginning with those of the past."""

    def __init__(self, past: Iterable[Name]) -> None:
        super().__init__(past)
        self.of_past = {name: number for number, name in enumerate(self)}
        self._beginning: dict[Name, Numbers] = {}
        self._slots: list[tuple[list[Any], object]] = []

    def slots(self, empty: object) -> list[Any]:
        """Return a list with room for something of each name, which grows with the names."""
        found = [empty] * len(self)
        self._slots.append((found, empty))
        return found

    def beginning(self, *parts: str) -> Numbers:
        """Return the numbers of the names that begin with these parts and have one more."""
        found = self._beginning.get(parts)
        if found is None:
            found = self._beginning[parts] = Numbers(self, parts)
        return found

    def number(self, name: Name) -> int:
        """Return the number of a name."""
        return self.beginning(*name[:-1])[name[-1]]

    def number_anew(self, name: Name) -> int:
        """Return the number that a name had in the past, else the next one."""
        number = self.of_past.get(name)
        if number is None:
            number = len(self)
            self.append(name)
            for found, empty in self._slots:
                found.append(empty)
        return number


class Numbers(dict[str, int]):
    """The numbers of names that begin alike, by their last part; a name that has none gets the next."""

    def __init__(self, names: Names, begin: Name) -> None:
        super().__init__()
        self._names, self._begin = names, begin

    def __missing__(self, last: str) -> int:
        number = self[last] = self._names.number_anew((*self._begin, last))
        return number


class ByFirst(dict[str, Numbers]):
    """The numbers of names of three parts that begin alike, by their second part."""

    def __init__(self, names: Names, begin: str) -> None:
        super().__init__()
        self._names, self._begin = names, begin

    def __missing__(self, first: str) -> Numbers:
        numbers = self[first] = self._names.beginning(self._begin, first)
        return numbers


def packed(read: set[int]) -> Deps:
    """Return numbers in little room."""
    return array("I", sorted(read)).tobytes()


def unpacked(read: Deps) -> array[int]:
    """Return packed numbers."""
    numbers = array("I")
    numbers.frombytes(read)
    return numbers


def renumbered(read: Deps, numbers: Sequence[int]) -> Deps:
    """Return packed numbers of one ledger as those of another."""
    return array("I", sorted(map(numbers.__getitem__, unpacked(read)))).tobytes()


class Readers(Generic[Reader]):
    """Tells who read one of a few numbers, of very many who read some: looked for in what all of them read, put one after the other."""

    def __init__(self, reads: Mapping[Reader, Deps]) -> None:
        self._readers = list(reads)
        self._ends = list(accumulate(map(len, reads.values())))
        self._all = b"".join(reads.values())

    def of(self, numbers: Collection[int]) -> set[Reader]:
        """Return all who read one of these numbers."""
        places = self._places_of_few(numbers) if len(numbers) <= _FEW else self._places_of_many(numbers)
        return {self._readers[bisect_right(self._ends, place)] for place in places}

    def _places_of_few(self, numbers: Iterable[int]) -> Iterator[int]:
        for number in numbers:
            sought = packed({number})
            place = self._all.find(sought)
            while place >= 0:
                if place % _BYTES == 0:  # else the end of one number and the beginning of the next
                    yield place
                place = self._all.find(sought, place + 1)

    def _places_of_many(self, numbers: Iterable[int]) -> Iterator[int]:
        return compress(count(0, _BYTES), map(frozenset(numbers).__contains__, unpacked(self._all)))

    def reached_from(self: Readers[int], numbers: Collection[int]) -> set[int]:
        """Return all who read one of these numbers, or one of such readers, who have numbers too, and so on."""
        found: set[int] = set()
        latest: Collection[int] = numbers
        while latest:
            latest = self.of(latest) - found
            found |= latest
        return found
