"""Very many short pieces of bytes in one: as things of their own they take ten times the room, and the time to make them."""

from __future__ import annotations

import re
import sys
from array import array
from bisect import bisect_right
from collections.abc import Collection, Iterable, Iterator, Sequence
from itertools import accumulate, chain, compress, count, islice, pairwise
from typing import Any, Final

from shearpin.model.usercache import packed_slice, unpacked_slice

Deps = bytes
"""Numbers of what was read, ascending, packed."""

_FEW: Final = 400  # numbers; with more it is quicker to look at every number by itself; measured
_AT_ONCE: Final = 512  # pieces that are joined before they are written
_BYTES: Final = array("I").itemsize
_LOWER_BYTES: Final = 3
_MARKED: Final = re.compile(rb"[^\0]")


def packed(read: Iterable[int]) -> Deps:
    """Return numbers in little room."""
    return array("I", sorted(read)).tobytes()


def unpacked(read: Deps) -> array[int]:
    """Return packed numbers."""
    numbers = array("I")
    numbers.frombytes(read)
    return numbers


def renumbered(read: Deps, numbers: Sequence[int]) -> Deps:
    """Return packed numbers of one ledger as those of another."""
    return packed(map(numbers.__getitem__, unpacked(read)))


class Joined:
    """Pieces of bytes by their place, which lie one after the other in `whole` from `start` on."""

    def __init__(self, whole: bytes = b"", start: int = 0, ends: Sequence[int] = ()) -> None:
        self._whole, self._start, self._ends = whole, start, ends

    @classmethod
    def of(cls, pieces: Collection[bytes]) -> Joined:
        """Return these pieces joined."""
        return cls(b"".join(pieces), 0, list(accumulate(map(len, pieces))))

    def __len__(self) -> int:
        """Return how many pieces there are."""
        return len(self._ends)

    def __getitem__(self, place: int) -> bytes:
        """Return one piece; raises `IndexError` where there is none."""
        end = self._start + self._ends[place]
        return self._whole[self._start + (self._ends[place - 1] if place else 0) : end]

    def __iter__(self) -> Iterator[bytes]:
        """Yield every piece; in a third of the time of asking for one after the other."""
        whole, start = self._whole, self._start
        return (whole[start + begin : start + end] for begin, end in pairwise(chain((0,), self._ends)))

    @property
    def end(self) -> int:
        """Where in the whole the pieces end."""
        return self._start + (self._ends[-1] if self._ends else 0)

    def with_numbers(self, numbers: Collection[int]) -> set[int]:
        """Return the places of those pieces, all of packed numbers, that hold one of these numbers."""
        found = self._bytes_of_few(numbers) if len(numbers) <= _FEW else self._bytes_of_many(numbers)
        return {bisect_right(self._ends, each) for each in found}

    def _bytes_of_few(self, numbers: Collection[int]) -> Iterator[int]:
        """Yield where one of these numbers stands.

        All numbers are looked at together, byte by byte: the sought ones are parted into eight, a bit each, and a place is
        looked at by itself only where its three lower bytes have a bit in common.
        """
        whole, start, end = self._whole, self._start, self.end
        tables = [bytearray(256) for _ in range(_LOWER_BYTES)]
        for place, number in enumerate(
            sorted(numbers)
        ):  # numbers of one part are near one another, and share the higher bytes
            bit = 1 << place * 8 // len(numbers)
            for which, table in enumerate(tables):
                table[number >> 8 * which & 0xFF] |= bit
        common = -1
        for which, table in enumerate(tables):
            first = start + (which if sys.byteorder == "little" else _BYTES - 1 - which)
            common &= int.from_bytes(whole[first:end:_BYTES].translate(bytes(table)), "little")
        read, wanted = memoryview(whole)[start:end].cast("I"), frozenset(numbers)
        for found in _MARKED.finditer(common.to_bytes(len(read), "little")):
            if read[found.start()] in wanted:
                yield found.start() * _BYTES

    def _bytes_of_many(self, numbers: Iterable[int]) -> Iterator[int]:
        read = unpacked(self._whole[self._start : self.end])
        return compress(count(0, _BYTES), map(frozenset(numbers).__contains__, read))


def joined_parts(pieces: Collection[bytes]) -> Iterator[bytes]:
    """Yield what `Unpacking.joined` reads, part by part: as a whole it would take its room twice."""
    yield packed_slice(array("I", accumulate(map(len, pieces))).tobytes())
    waiting = iter(pieces)
    for _ in range(0, len(pieces), _AT_ONCE):
        yield b"".join(islice(waiting, _AT_ONCE))


class Unpacking:
    """Reads slices and joined pieces, in the order in which they were written."""

    def __init__(self, payload: bytes) -> None:
        self._payload, self._place = payload, 0

    def slice(self) -> Any:
        """Return the next slice; raises `ValueError`, `EOFError` or `TypeError` where there is none."""
        content, self._place = unpacked_slice(self._payload, self._place)
        return content

    def raw(self, size: int) -> memoryview:
        """Return the next bytes as they lie; raises `ValueError` where there are fewer."""
        found = memoryview(self._payload)[self._place : self._place + size]
        if len(found) < size:
            raise ValueError(f"{size} bytes are not there")
        self._place += size
        return found

    def joined(self) -> Joined:
        """Return the next pieces."""
        ends = array("I")
        ends.frombytes(self.slice())
        found = Joined(self._payload, self._place, ends)
        self._place = found.end
        return found
