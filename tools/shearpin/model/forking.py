"""A forked child that writes into a pipe what it finds."""

from __future__ import annotations

import os
from collections.abc import Callable

from shearpin.model.progress import tell


def forked(work: Callable[[int], None]) -> tuple[int, int] | None:
    """Run `work` in a forked child, given the end of a pipe to write into, which it must close.

    Return the child's process id and the end to read from, or None where none could be had. The child ends with 0 only when the work did.
    """
    try:
        here, there = os.pipe()
    except OSError:
        return None
    try:
        child = os.fork()
    except OSError:
        os.close(here)
        os.close(there)
        return None
    if child:
        os.close(there)
        return child, here
    code = 1
    try:
        tell(None)  # the parent does: all shares are about as long as its own
        os.close(here)
        work(there)
        code = 0
    finally:
        os._exit(code)  # nothing of the parent's is to be flushed or ended twice
