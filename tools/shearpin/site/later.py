"""The search index of a preview: made when the page that was saved is shown already, for nobody searches as quickly."""

from __future__ import annotations

import threading
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

from shearpin.book.linked import LinkedBook
from shearpin.search.exporting import FOLDER
from shearpin.site.taking_over import link_or_copy
from shearpin.site.writing import make_index


class TakenIndex:
    """The index of the site `before`, with which the site `now` begins."""

    def __init__(self, before: Path, now: Path) -> None:
        self._before, self._now = before / FOLDER, now / FOLDER

    def result(self) -> int:
        """Take every file over; return how many there are."""
        with suppress(OSError):
            files = sorted(self._before.iterdir())
            return sum(link_or_copy(each, self._now / each.name, lambda _: True) for each in files)
        return 0

    def stop(self) -> None:
        """Nothing goes on meanwhile."""

    def finish(self) -> None:
        """Nothing goes on afterwards."""


class LaterIndex:
    """Makes the index of a book in the site in place, beside whatever else goes on; `finish` before another build."""

    def __init__(self) -> None:
        self._thread: threading.Thread | None = None
        self._unwanted = threading.Event()

    def begin(
        self, linked: LinkedBook, site: Path, first: Callable[[Callable[[], bool]], object] | None = None
    ) -> None:
        """Begin; files that come out as they are stay. What is to be done `first` is told how to know that it is unwanted."""
        self.finish()
        self._unwanted.clear()
        self._thread = threading.Thread(target=self._make, args=(linked, site, first), daemon=True)
        self._thread.start()

    def finish(self, *, wanted: bool = False) -> None:
        """Wait until nothing is written any more; what is not `wanted` ends before its next step."""
        if self._thread is not None:
            if not wanted:
                self._unwanted.set()
            self._thread.join()
            self._thread = None

    def _make(
        self, linked: LinkedBook, site: Path, first: Callable[[Callable[[], bool]], object] | None
    ) -> None:
        with suppress(OSError):  # the preview ended, and its site is gone
            if first is not None:
                first(self._unwanted.is_set)
            make_index(linked, site, self._unwanted.is_set)
