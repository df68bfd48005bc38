"""What is large stays as it is until the process ends: to take a book apart, object by object, takes seconds and serves nobody."""

from __future__ import annotations

import atexit
import gc
from typing import Final

_SELDOM: Final = 100_000
"""Things made before the garbage collector looks through them: importing makes many, and all of them stay."""

_held: list[object] = []


def hold_until_the_end(*things: object) -> None:
    """Hold things, in place of those held before, until the process ends; the memory goes back as a whole then."""
    # The list holds itself, so that nothing is counted down when modules are cleared; after `gc.freeze` the last
    # collection of the interpreter does not find it either.
    _held[:] = [_held, *things]


def collect_seldom() -> None:
    """Let the garbage collector look less often: a sixth of the time to import everything would be its."""
    gc.set_threshold(_SELDOM)


def collect_again() -> None:
    """Let the garbage collector work again, without a walk over all that was made while it rested."""
    gc.freeze()
    gc.unfreeze()  # all of it counts as old now
    gc.enable()


atexit.register(gc.freeze)
