"""Pages of the site before get their second names in the new one while the records are still being read.

Where folders of the site before that one are kept (`model/spare.py`), nearly all of their files have them already. Most pages
will be taken over. Those that are not lose the name again before anything else is written: whoever wrote to one would
write into the site before.
"""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterable, Mapping
from contextlib import suppress
from pathlib import Path
from typing import Final

from shearpin.model.kinds import KINDS
from shearpin.model.shares import Elsewhere, shares_for
from shearpin.model.spare import MOST_SPARE, WORTH_SPARING, Spare
from shearpin.site.traces import Stamp, stamp_of

FOLDERS: Final = tuple(dict.fromkeys(kind.folder for kind in KINDS.values()))
"""The folders of a site that have pages of records and their data."""

_Names = Mapping[str, int]
"""Names of files in a folder with the numbers of the files."""


class Ahead:
    """Files of the site `before`, by their address, to which another process gives second names in the folder `now`; none unless `wanted`."""

    def __init__(self, before: Path, now: Path, *, wanted: bool) -> None:
        self._before, self._now = os.fspath(before), os.fspath(now)
        self.spare = Spare(before)
        there = {folder: _pages_in(f"{self._before}/{folder}") for folder in FOLDERS} if wanted else {}
        self.files = sum(map(len, there.values()))
        is_large = self.files >= WORTH_SPARING
        self._work = Elsewhere(lambda: self._begin_with(there), shares_for(self.files)) if is_large else None
        self._found: tuple[dict[str, Stamp], set[str]] | None = None

    @property
    def goes_on(self) -> bool:
        """Whether the new site begins with files of those before."""
        return self._work is not None

    def _begin_with(self, there: Mapping[str, _Names]) -> tuple[dict[str, Stamp], set[str]]:
        """Take the folders that are kept, and link what can be linked; return the stamps, and what lies there that is another."""
        here = {folder: self._folder(folder, names) for folder, names in there.items()}
        others = {
            f"{folder}/{name}"
            for folder, names in here.items()
            for name, number in names.items()
            if number != there[folder][name]
        }
        if len(others) > self.files * MOST_SPARE:  # of a site long gone
            for url in others:
                os.unlink(f"{self._now}/{url}")
            others.clear()
        linked: dict[str, Stamp] = {}
        for folder, names in there.items():
            known = here[folder]
            for name, number in names.items():
                url = f"{folder}/{name}"
                if url in others:
                    continue
                new = f"{self._now}/{url}"
                # Where no second name can be had it is copied or made later.
                with suppress(OSError, NotImplementedError):
                    if known.get(name) != number:
                        os.link(f"{self._before}/{url}", new, follow_symlinks=False)
                    linked[url] = stamp_of(new)
        return linked, others

    def _folder(self, folder: str, there: _Names) -> _Names:
        """Give the new site a folder; return which of its files have names of files that are `there`. Others are in it no more."""
        self.spare.take_folder(folder, self._now)
        here: dict[str, int] = {}
        with os.scandir(f"{self._now}/{folder}") as entries:
            for entry in entries:
                if entry.name in there and entry.is_file(follow_symlinks=False):
                    here[entry.name] = entry.inode()
                elif entry.is_dir(follow_symlinks=False):
                    shutil.rmtree(entry.path)
                else:
                    os.unlink(entry.path)
        return here

    def _begun(self) -> tuple[dict[str, Stamp], set[str]]:
        if self._found is None:
            self._found = self._work.result() if self._work is not None else ({}, set())
        return self._found

    def linked(self) -> Mapping[str, Stamp]:
        """Wait for the work; return the stamps of the files that were linked and, at any time, have not been given up."""
        return self._begun()[0]

    def others(self) -> set[str]:
        """Wait for the work; return where files lie in the new site that have no name in the one before: whoever makes a page writes into them."""
        return self._begun()[1]

    def give_up(self, urls: Iterable[str]) -> None:
        """Take the files at these addresses away, where there are any."""
        linked, others = self._begun()
        for url in urls:
            if linked.pop(url, None) is not None or url in others:
                others.discard(url)
                os.unlink(f"{self._now}/{url}")

    def stop(self) -> None:
        """End the work, the result of which nobody wants any more; the folders are kept for the next build."""
        if self._work is not None:
            if self._found is None:
                self._work.stop()
            for folder in FOLDERS:
                self.spare.keep_folder(folder, self._now)


def _pages_in(folder: str) -> _Names:
    """Return the pages and their data in a folder."""
    with suppress(OSError), os.scandir(folder) as entries:
        return {
            entry.name: entry.inode()
            for entry in entries
            if entry.name.endswith((".html", ".js")) and not entry.name.startswith(".")
        }
    return {}
