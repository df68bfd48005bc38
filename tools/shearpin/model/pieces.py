"""Work in many pieces, shared out over processes: whichever is free takes the next, so that all end at the same time."""

from __future__ import annotations

import mmap
import os
import pickle
import select
import struct
from collections.abc import Callable, Iterable, Iterator
from contextlib import suppress
from queue import SimpleQueue
from threading import Thread
from typing import Final, Generic, TypeVar

from shearpin.model.forking import forked

Result = TypeVar("Result")

MAX_PIECES: Final = 2_048
"""Pieces at most: their numbers wait in a pipe, and every system keeps 4 KB in one."""

_NUMBER: Final = struct.Struct("=H")
_HEAD: Final = struct.Struct("=HQ")
_MEGABYTE: Final = 1 << 20
_SOON: Final = 0.05
"""Seconds in which the rest of a result comes once its beginning is there."""


class Passage(Generic[Result]):
    """How the result of a piece travels from one process to another: pickled."""

    def pack(self, result: Result) -> bytes:
        """Return the result as bytes."""
        return pickle.dumps(result, pickle.HIGHEST_PROTOCOL)

    def unpack(self, piece: int, packed: bytes | bytearray) -> Result:
        """Return the result of a piece of which `pack` made these bytes."""
        result: Result = pickle.loads(packed)
        return result


def share_pieces(
    work: Callable[[int], Result],
    pieces: int,
    shares: int,
    passage: Passage[Result] | None = None,
    taken: Callable[[int], object] | None = None,
    beside: Callable[[], object] = lambda: None,
) -> list[Result]:
    """Return `[work(0), work(1), …]`, worked out here and in `shares - 1` forked children.

    `work` must depend on nothing but what is in memory and its number. What a child could not deliver is worked out
    here: the outcome, and any exception, is that of one process. `taken` is told of each piece that is taken here; `beside` is
    done here once the children are at work.
    """
    results: dict[int, Result] = {}
    helpers: list[_Helper[Result]] = []
    waiting = range(pieces)
    numbers = _numbers(pieces) if shares > 1 and 1 < pieces <= MAX_PIECES else None
    if numbers is not None:
        started = (_start(work, numbers, passage or Passage()) for _ in range(1, min(shares, pieces)))
        helpers = [helper for helper in started if helper is not None]
    if helpers:
        beside()
    for piece in waiting if numbers is None else _handed_out(numbers):
        if taken is not None:
            taken(piece)
        results[piece] = work(piece)
        for helper in helpers:
            results.update(helper.so_far())
    for helper in helpers:
        results.update(helper.rest())
    if numbers is not None:
        os.close(numbers)
    return [results[piece] if piece in results else work(piece) for piece in waiting]


class Claims:
    """The numbers below `pieces`, each for the process that asks for it first; to be made before the processes part.

    Where they are `held`, who asks waits until the process in which they were made says `begin`, or ends.
    """

    def __init__(self, pieces: int, *, held: bool = False) -> None:
        self._pieces = pieces
        self._gate = _gate() if held else None
        self._pipe = _numbers(pieces)
        self._done = mmap.mmap(-1, max(1, pieces))  # all processes see it

    def __iter__(self) -> Iterator[int]:
        """Yield numbers that no other process was given; every number where the system has no pipe left."""
        if self._gate is not None:
            out, into = self._gate
            os.close(into)  # so that the end of the other process is seen
            os.read(out, 1)
            os.close(out)
            self._gate = None
        numbers = iter(range(self._pieces)) if self._pipe is None else _handed_out(self._pipe)
        return (number for number in numbers if not self._done[number])

    def begin(self) -> None:
        """Let whoever asks have numbers."""
        if self._gate is not None:
            for end in self._gate:
                os.close(end)
            self._gate = None

    def drop(self, numbers: Iterable[int]) -> None:
        """Hand these numbers out no more, in any process: they are done."""
        for number in numbers:
            self._done[number] = 1

    def close(self) -> None:
        """Ask for no more in this process."""
        self.begin()
        if self._pipe is not None:
            os.close(self._pipe)
            self._pipe, self._pieces = None, 0


def _gate() -> tuple[int, int] | None:
    with suppress(OSError):
        return os.pipe()
    return None


def _numbers(pieces: int) -> int | None:
    """Return a pipe from which each number below `pieces` can be read once, or None where none can be had."""
    try:
        out, into = os.pipe()
    except OSError:
        return None
    with os.fdopen(into, "wb") as stream:
        stream.write(b"".join(map(_NUMBER.pack, range(pieces))))
    return out


def _handed_out(numbers: int) -> Iterator[int]:
    """Yield numbers that no other process was given, until there are none left."""
    while number := os.read(numbers, _NUMBER.size):
        yield _NUMBER.unpack(number)[0]


class _Helper(Generic[Result]):
    """A child process that takes pieces, and what it has delivered."""

    def __init__(self, process: int, pipe: int, passage: Passage[Result]) -> None:
        self._process, self._pipe, self._passage = process, pipe, passage
        self._piece: int | None = None  # the one of which the result is coming
        self._coming = bytearray(_HEAD.size)
        self._come = 0

    def so_far(self) -> Iterator[tuple[int, Result]]:
        """Yield the results that have come by now."""
        patience = 0.0
        while select.select([self._pipe], [], [], patience)[0] and self._receive():
            yield from self._whole()
            patience = _SOON if self._come or self._piece is not None else 0.0

    def rest(self) -> Iterator[tuple[int, Result]]:
        """Wait for the process to end, and yield all results that it has delivered since."""
        while self._receive():
            yield from self._whole()
        os.close(self._pipe)
        os.waitpid(self._process, 0)

    def _receive(self) -> int:
        """Take what is there to the place where it stays, for a result is large; return how many bytes came."""
        came = os.readv(self._pipe, [memoryview(self._coming)[self._come :]])
        self._come += came
        return came

    def _whole(self) -> Iterator[tuple[int, Result]]:
        """Yield the result if all of it is there."""
        while self._come == len(self._coming):  # twice for a result without a byte
            piece, packed = self._piece, self._coming
            self._piece, size = _HEAD.unpack(packed) if piece is None else (None, _HEAD.size)
            self._coming, self._come = bytearray(size), 0
            if piece is not None:
                yield piece, self._passage.unpack(piece, packed)


def _start(work: Callable[[int], Result], numbers: int, passage: Passage[Result]) -> _Helper[Result] | None:
    """Fork a helper; return None where none could be had."""

    def deliver(there: int) -> None:
        _widen(there)
        _deliver(((piece, passage.pack(work(piece))) for piece in _handed_out(numbers)), there)

    child = forked(deliver)
    return _Helper(*child, passage) if child is not None else None


def _widen(pipe: int) -> None:
    """Let a pipe hold a whole result where the system can: its reader comes by only now and then."""
    with suppress(ImportError, AttributeError, OSError):
        import fcntl

        fcntl.fcntl(pipe, fcntl.F_SETPIPE_SZ, _MEGABYTE)


def _deliver(results: Iterator[tuple[int, bytes]], pipe: int) -> None:
    """Write results to the pipe while the next one is worked out."""
    ready: SimpleQueue[bytes | None] = SimpleQueue()

    def write() -> None:
        with os.fdopen(pipe, "wb", buffering=0) as stream:
            while (message := ready.get()) is not None:
                left = memoryview(message)
                while left:
                    left = left[stream.write(left) :]

    writer = Thread(target=write)
    writer.start()
    for piece, packed in results:
        ready.put(_HEAD.pack(piece, len(packed)))
        ready.put(packed)
    ready.put(None)
    writer.join()
