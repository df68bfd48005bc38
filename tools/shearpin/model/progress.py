"""What long work tells of how far it is: a bar on a terminal, a line for each step elsewhere, nothing unless asked for."""

from __future__ import annotations

import os
import shutil
import time
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextvars import ContextVar
from typing import Final, TextIO, TypeVar

Item = TypeVar("Item")

PROGRESS: Final = "SHEARPIN_PROGRESS"
"""The variable of the environment by which a command has those that it starts tell how far they are."""

_LARGE: Final = 1_000  # pieces of a step; fewer are done before anybody wonders
_PAUSE_SECONDS: Final = 0.1
_SECONDS_BEFORE_A_GUESS: Final = 1.0
_BAR: Final = 20

Told = Callable[[str, int, int, bool], None]
"""Takes a step, how many of its pieces are done, how many there are, and whether they are about equally long."""

_TOLD: ContextVar[Told | None] = ContextVar("told", default=None)


def tell(told: Told | None) -> None:
    """Have work in this process told to `told` from now on; to nobody when None."""
    _TOLD.set(told)


def say(step: str, done: int, total: int, *, even: bool = True) -> None:
    """Tell that so many pieces of a step are done; `even` where they are about equally long."""
    told = _TOLD.get()
    if told is not None:
        told(step, done, total, even)


def counted(step: str, pieces: Sequence[Item], *, even: bool = True) -> Iterable[Item]:
    """Return the pieces of a step, each told of when it is taken; `even` where they are about equally long."""
    told = _TOLD.get()
    return pieces if told is None else _counted(told, step, pieces, even)


def _counted(told: Told, step: str, pieces: Sequence[Item], even: bool) -> Iterator[Item]:
    for done, piece in enumerate(pieces):
        told(step, done, len(pieces), even)
        yield piece
    told(step, len(pieces), len(pieces), even)


class Bar:
    """Draws on a terminal how much of the present step is done, and how long the rest of this step will take.

    The rest is only said of steps with even pieces, and once a second of work shows how long they take.
    """

    def __init__(self, stream: TextIO, clock: Callable[[], float] = time.monotonic) -> None:
        self._stream, self._clock = stream, clock
        self._step = ""
        self._began = self._drawn = 0.0

    def __call__(self, step: str, done: int, total: int, even: bool) -> None:
        """Draw, ten times a second at most; leave an empty line at the end of a step."""
        now = self._clock()
        if step != self._step:
            self._step, self._began, self._drawn = step, now, 0.0
        if done == total:
            self._step = ""
            self._write("")
        elif now - self._drawn >= _PAUSE_SECONDS:
            self._drawn = now
            filled = _BAR * done // total
            share = f"{'#' * filled}{'.' * (_BAR - filled)}  {100 * done // total} %"
            self._write(f"{step}  {share}{self._rest(now - self._began, done, total) if even else ''}")

    def _rest(self, passed: float, done: int, total: int) -> str:
        if passed < _SECONDS_BEFORE_A_GUESS or not done:
            return ""
        seconds = passed * (total - done) / done
        words = f"{seconds / 60:.0f} min" if seconds >= 90 else f"{max(1, round(seconds))} s"
        return f", this step {words} more"

    def _write(self, line: str) -> None:
        width = shutil.get_terminal_size().columns - 1
        self._stream.write(f"\r{line[:width]:<{width}}\r{line[:width]}")
        self._stream.flush()


class Lines:
    """Writes a line at the beginning of each long step."""

    def __init__(self, stream: TextIO) -> None:
        self._stream = stream
        self._step = ""

    def __call__(self, step: str, done: int, total: int, even: bool) -> None:
        """Write the line of a step that is told of for the first time."""
        if step != self._step and total >= _LARGE:
            self._stream.write(f"{step} …\n")
            self._stream.flush()
        self._step = step


def told_on(stream: TextIO) -> Told:
    """Return what tells a person: a bar on a terminal, lines elsewhere."""
    return Bar(stream) if stream.isatty() else Lines(stream)


def told_as_asked(stream: TextIO) -> Told | None:
    """Return what the command asked for that started this one; None where it asked for nothing."""
    return told_on(stream) if os.environ.get(PROGRESS) else None
