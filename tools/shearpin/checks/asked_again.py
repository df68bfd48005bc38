"""An answer remembered until another object is asked about: rules come to one file after another, and share its parts."""

from __future__ import annotations

from collections.abc import Callable
from typing import Generic, TypeVar

Asked = TypeVar("Asked")
Answer = TypeVar("Answer")


class AskedAgain(Generic[Asked, Answer]):
    """`work`, which is done once as long as the same object is asked about; the object must not change meanwhile."""

    def __init__(self, work: Callable[[Asked], Answer]) -> None:
        self._work = work
        self._last: tuple[Asked, Answer] | None = None

    def __call__(self, asked: Asked) -> Answer:
        """Return the answer for an object."""
        last = self._last
        if last is None or last[0] is not asked:
            last = self._last = (asked, self._work(asked))
        return last[1]
