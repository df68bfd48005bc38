"""Work shared out over processes where that pays, and the garbage collector at rest while much is being made."""

from __future__ import annotations

import gc
import os
import pickle
import signal
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from typing import Any, Final, Generic, Protocol, TypeVar

from shearpin.model.ending import collect_again
from shearpin.model.forking import forked

Result = TypeVar("Result")

Work = Callable[[], object]


class Afterwards(Protocol):
    """Takes what can be done when a result is there already, and does it sooner or later.

    What is not to be done `anyway` it does only where the result is of use.
    """

    def __call__(self, work: Work, *, anyway: bool = False) -> object:
        """Take it."""


def at_once(work: Work, *, anyway: bool = False) -> None:
    """Do at once what could be done afterwards."""
    work()


JOBS: Final = "SHEARPIN_JOBS"
"""The variable of the environment that sets how many processes may work at once."""

WORTH_SHARING: Final = 1_000
"""Records from which a second process saves more than it costs."""


def shares_for(records: int) -> int:
    """Return over how many processes to share the work on so many records: one for each core, four at most.

    SHEARPIN_JOBS sets another number.
    """
    if records < WORTH_SHARING or not hasattr(os, "fork") or threading.active_count() > 1:
        return 1  # a fork takes none of the other threads along, but every lock that they hold
    return jobs()


def jobs() -> int:
    """Return how many processes may work at once."""
    wanted = os.environ.get(JOBS, "")
    return max(1, int(wanted)) if wanted.isdecimal() else min(4, os.cpu_count() or 1)


def share_out(work: Callable[[int], Result], shares: int) -> list[Result]:
    """Return `[work(0), work(1), …]`, the first worked out here and each other in a forked child.

    `work` must depend on nothing but what is in memory and its number. What a child could not deliver is worked out
    here: the outcome, and any exception, is that of one process.
    """
    children = [_start(work, share) for share in range(1, shares)]
    results = [work(0)]
    for share, child in enumerate(children, 1):
        delivered = _fetch(*child) if child is not None else ()
        results += delivered or (work(share),)
    return results


class Elsewhere(Generic[Result]):
    """Work done in a forked child while this process goes on; where none can be had, when the result is asked for.

    What is to be done `afterwards` goes on when the result was asked for, and not where nobody asks: whoever does waits for
    `finish` too, in the end. Before that goes on what is to be done `anyway`.
    """

    def __init__(
        self,
        work: Callable[[], Result],
        shares: int,
        afterwards: Work | None = None,
        anyway: Work | None = None,
    ) -> None:
        self._work, self._afterwards, self._anyway = work, afterwards, anyway
        self._asked = _Word() if afterwards is not None and shares > 1 else None
        self._child = _start(lambda share: work(), 1, self._wait_until_asked) if shares > 1 else None
        self._ending: int | None = None

    def _wait_until_asked(self) -> None:
        if self._anyway is not None:
            self._anyway()
        if self._asked is not None and self._afterwards is not None and self._asked.comes():
            self._afterwards()

    def result(self) -> Result:
        """Return the outcome, that of one process, whoever did the work."""
        child, self._child = self._child, None
        delivered: tuple[Result, ...] = ()
        if child is not None and self._afterwards is None:
            delivered = _fetch(*child)
        elif child is not None:
            self._give_word()
            self._ending, delivered = child[0], _delivered(child[1])
        if delivered:
            return delivered[0]
        self._give_word(given=False)  # where none could be forked
        found = self._work()
        for later in (self._anyway, self._afterwards):
            if later is not None:
                later()
        return found

    def _give_word(self, *, given: bool = True) -> None:
        asked, self._asked = self._asked, None
        if asked is not None:
            asked.give(given=given)

    def finish(self) -> None:
        """Wait for what is done afterwards, where the result was asked for."""
        ending, self._ending = self._ending, None
        if ending is not None:
            os.waitpid(ending, 0)

    def stop(self) -> None:
        """End the work, the result of which nobody wants any more."""
        child, self._child = self._child, None
        if child is not None:
            with suppress(OSError):
                os.kill(child[0], signal.SIGTERM)
            _fetch(*child)
        self._give_word(given=False)
        self.finish()


class _Word:
    """What one process waits for until another gives it; it never comes from one that ended."""

    def __init__(self) -> None:
        self._here, self._there = os.pipe()

    def comes(self) -> bool:
        """Wait in the process that was forked; tell whether the word was given."""
        os.close(self._there)
        return os.read(self._here, 1) != b""

    def give(self, *, given: bool) -> None:
        """Give it, or make known that it is not."""
        os.close(self._here)
        with suppress(OSError):  # whom it is for is gone
            os.write(self._there, b"1" if given else b"")
        os.close(self._there)


def _start(
    work: Callable[[int], Result], share: int, afterwards: Callable[[], object] | None = None
) -> tuple[int, int] | None:
    """Fork a child for one share; return its process id and the pipe from it, or None where none could be had."""

    def deliver(there: int) -> None:
        os.environ[JOBS] = "1"  # who shares work already shares it out no further
        with os.fdopen(there, "wb") as pipe:
            pickle.dump(work(share), pipe, pickle.HIGHEST_PROTOCOL)
        if afterwards is not None:
            afterwards()

    return forked(deliver)


def _fetch(child: int, pipe: int) -> tuple[Any, ...]:
    """Return what a child delivered, alone in a tuple, or nothing when it did not end well."""
    delivered = _delivered(pipe)
    _, status = os.waitpid(child, 0)
    return delivered if status == 0 else ()


def _delivered(pipe: int) -> tuple[Any, ...]:
    with os.fdopen(pipe, "rb") as stream, suppress(Exception):  # it died amid what it said
        return (pickle.load(stream),)  # while it comes: as a whole it would take its room twice
    return ()


@contextmanager
def collector_at_rest() -> Iterator[None]:
    """Keep the garbage collector from walking ever more records while they are made; they hold no circles."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            collect_again()
