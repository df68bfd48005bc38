"""Pages of the site before get their second names in the new one while the records are still being read.

Where folders of the site before that one are kept (`model/spare.py`), nearly all of their files have them already, or are copies.
Most pages will be taken over. Those that are not lose the name again before anything else is written: whoever wrote to one
would write into the site before.
"""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterable, Mapping, Set
from contextlib import suppress
from pathlib import Path
from typing import Final

from shearpin.model.kinds import KINDS
from shearpin.model.shares import Elsewhere, shares_for
from shearpin.model.spare import WORTH_SPARING, Spare, Stamp, is_copy, stamp_of
from shearpin.search.exporting import FOLDER as INDEX

_PAGES: Final = tuple(dict.fromkeys(kind.folder for kind in KINDS.values()))
"""The folders of a site that have pages of records and their data."""

FOLDERS: Final = (*_PAGES, INDEX)
"""The folders of a site that are kept when it is replaced."""

_Names = Mapping[str, int]
"""Names of files in a folder with the numbers of the files."""


class Ahead:
    """Files of the site `before`, by their address, to which another process gives second names in the folder `now`; none unless `wanted`."""

    def __init__(self, before: Path, now: Path, *, wanted: bool) -> None:
        self._before, self._now = os.fspath(before), os.fspath(now)
        self._spare = Spare(before)
        there = {folder: _pages_in(f"{self._before}/{folder}") for folder in _PAGES} if wanted else {}
        files = sum(map(len, there.values()))
        is_large = files >= WORTH_SPARING
        self._work = Elsewhere(lambda: self._begin_with(there), shares_for(files)) if is_large else None
        self._found: tuple[dict[str, Stamp], set[str]] | None = None

    def _begin_with(self, there: Mapping[str, _Names]) -> tuple[dict[str, Stamp], set[str]]:
        """Take the folders that are kept, and link what can be linked; return what `same` and `own` do."""
        same: dict[str, Stamp] = {}
        own: set[str] = set()
        for folder, names in there.items():
            here = self._folder(folder, names)
            for name, number in names.items():
                url = f"{folder}/{name}"
                old, new = f"{self._before}/{url}", f"{self._now}/{url}"
                # Where no second name can be had it is copied or made later.
                with suppress(OSError, NotImplementedError):
                    known = here.get(name)
                    if known is None:
                        os.link(old, new, follow_symlinks=False)
                    stamp, is_own = stamp_of(new), known not in (None, number)
                    if is_own:
                        own.add(url)
                    if not is_own or is_copy(stamp, stamp_of(old)):
                        same[url] = stamp
        return same, own

    def _folder(self, folder: str, there: _Names) -> _Names:
        """Give the new site a folder; return which of its files have names of files that are `there`. Others are in it no more."""
        self._spare.take_folder(folder, self._now)
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

    def same(self) -> Mapping[str, Stamp]:
        """Wait for the work; return the stamps of the files that are as in the site before and, at any time, have not been given up."""
        return self._begun()[0]

    def own(self) -> Set[str]:
        """Wait for the work; return where files lie that have no name in the site before, the same or not: into these may be written."""
        return self._begun()[1]

    def give_up(self, urls: Iterable[str]) -> None:
        """Take the files at these addresses away, where there are any."""
        same, own = self._begun()
        for url in urls:
            if same.pop(url, None) is not None or url in own:
                own.discard(url)
                os.unlink(f"{self._now}/{url}")

    def stop(self) -> None:
        """End the work, the result of which nobody wants any more; the folders are kept for the next build."""
        if self._work is not None:
            if self._found is None:
                self._work.stop()
            for folder in FOLDERS:
                self._spare.keep_folder(folder, self._now)


def _pages_in(folder: str) -> _Names:
    """Return the pages and their data in a folder."""
    with suppress(OSError), os.scandir(folder) as entries:
        return {
            entry.name: entry.inode()
            for entry in entries
            if entry.name.endswith((".html", ".js")) and not entry.name.startswith(".")
        }
    return {}
