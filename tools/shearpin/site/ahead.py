"""Pages of the site before get their second names in the new one while the records are still being read.

Most of them will be taken over. Those that are not lose the name again before anything else is written: whoever wrote to
one would write into the site before.
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import suppress
from pathlib import Path

from shearpin.model.kinds import KINDS
from shearpin.model.shares import Elsewhere, shares_for
from shearpin.site.traces import Stamp, stamp_of


class Ahead:
    """Files of the site `before`, by their address, which another process links into the folder `now`; none unless `wanted`."""

    def __init__(self, before: Path, now: Path, *, wanted: bool) -> None:
        self._before, self._now = os.fspath(before), os.fspath(now)
        urls = list(_urls_in(self._before)) if wanted else []
        shares = shares_for(len(urls))
        self._work = Elsewhere(lambda: self._link(urls), shares) if shares > 1 else None
        self._linked: dict[str, Stamp] | None = None

    def _link(self, urls: Sequence[str]) -> dict[str, Stamp]:
        """Link what can be linked; return the stamps."""
        linked: dict[str, Stamp] = {}
        for folder in {url.partition("/")[0] for url in urls}:
            os.makedirs(f"{self._now}/{folder}", exist_ok=True)
        for url in urls:
            old, new = f"{self._before}/{url}", f"{self._now}/{url}"
            # Where no second name can be had it is copied or made later.
            with suppress(OSError, NotImplementedError):
                try:
                    os.link(old, new, follow_symlinks=False)
                except FileExistsError:  # by a process that died amid this
                    os.unlink(new)
                    os.link(old, new, follow_symlinks=False)
                linked[url] = stamp_of(new)
        return linked

    def linked(self) -> Mapping[str, Stamp]:
        """Wait for the work; return the stamps of the files that were linked and, at any time, have not been given up."""
        if self._linked is None:
            self._linked = self._work.result() if self._work is not None else {}
        return self._linked

    def give_up(self, urls: Iterable[str]) -> None:
        """Take the second names of these away, where they have one."""
        self.linked()
        for url in urls:
            if self._linked and self._linked.pop(url, None) is not None:
                os.unlink(f"{self._now}/{url}")

    def stop(self) -> None:
        """End the work, the result of which nobody wants any more."""
        if self._work is not None and self._linked is None:
            self._work.stop()


def _urls_in(site: str) -> Iterator[str]:
    """Yield the addresses of pages and their data among those of records."""
    for kind in KINDS.values():
        with suppress(OSError):
            for name in os.listdir(f"{site}/{kind.folder}"):
                if name.endswith((".html", ".js")) and not name.startswith("."):
                    yield f"{kind.folder}/{name}"
