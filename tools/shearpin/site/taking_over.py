"""Takes over pages of the site before: those that are still the same get a second name of their file in the new site."""

from __future__ import annotations

import os
import shutil
import stat
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from contextlib import contextmanager, suppress
from pathlib import Path
from types import MappingProxyType

from shearpin.model.shares import Elsewhere, shares_for
from shearpin.model.spare import Stamp, copy_into, stamp_of, write_into
from shearpin.site.blanks import Fillings
from shearpin.site.earlier import Notes
from shearpin.site.folders import read_bytes, write_bytes
from shearpin.site.traces import Trace, Traces


class TakingOver:
    """Takes over the pages of an earlier build for which nothing that they were made from is in `changed`.

    Those of which stamps are given as the `same` are in the new site already. Where it has `own` files that are not the same, they
    are put right. Of those of which only what goes into their blanks is another, all else is taken over.
    """

    def __init__(
        self,
        notes: Notes,
        changed: frozenset[int],
        before: Path,
        now: Path,
        fillings: Fillings,
        same: Mapping[str, Stamp] = MappingProxyType({}),
        own: Collection[str] = (),
    ) -> None:
        self._others = notes.traces.readers(changed)
        self._notes, self.fillings = notes, fillings
        self._same, self._own = same, own
        self._refilled: Mapping[str, Trace] = {}
        if fillings.differ:
            self._refilled = notes.traces.where(fillings.concern)
        self.before, self.now = os.fspath(before), os.fspath(now)  # quicker to join than paths
        self.taken: set[str] = set()
        """The addresses of the pages that were taken over."""
        self._later: list[tuple[str, Stamp]] = []

    def page(self, url: str, shell: bytes) -> bool:
        """Give the file of a page its place in the new site; False when the page must be made anew."""
        facts = self._notes.traces.facts(url)
        if facts is None or facts[0] != shell or url in self._others or url in self._refilled:
            return False
        found = self._same.get(url)
        if found is None and url in self._own:
            self._later.append((url, facts[1]))
        elif found is None:
            if not link_or_copy(f"{self.before}/{url}", f"{self.now}/{url}", facts[1].__eq__):
                return False
        elif found != facts[1]:  # somebody changed it
            return False
        self.taken.add(url)
        return True

    @contextmanager
    def putting_right(self) -> Iterator[Callable[[], set[str]]]:
        """Put the pages that are taken over where other files lie, while this process goes on.

        Gives what waits for it, and returns the addresses of those that must be made anew after all.
        """
        work = Elsewhere(self._put_right, shares_for(len(self._later)))

        def lost() -> set[str]:
            urls = work.result()
            self.taken -= urls
            return urls

        try:
            yield lost
        except BaseException:
            work.stop()
            raise

    def _put_right(self) -> set[str]:
        lost = set()
        for url, noted in self._later:
            old, new = f"{self.before}/{url}", f"{self.now}/{url}"
            with suppress(OSError):
                # So there are two files of it, and neither will have to be deleted or made again.
                if stamp_of(old) == noted and copy_into(old, new) and stamp_of(new) == noted:
                    continue
                os.unlink(new)
            if not link_or_copy(old, new, noted.__eq__):  # it is gone, or somebody changed it
                lost.add(url)
        return lost

    def write(self, url: str, content: bytes) -> str:
        """Write a page that was not taken over, into the file that lies there where that has no other name; return its path."""
        path = f"{self.now}/{url}"
        if url in self._own and write_into(path, content):
            return path
        if url in self._same:  # whoever wrote there would write into the site before
            with suppress(FileNotFoundError):
                os.unlink(path)
        write_bytes(path, content)
        return path

    def may_be_refilled(self, url: str) -> bool:
        """Whether, as far as is told, nothing of a page is another but what goes into its blanks."""
        return url in self._refilled and url not in self._others

    def refilled(self, url: str, shell: bytes, most: int) -> tuple[bytes, Trace] | None:
        """Return a page of which only that is another which goes into its blanks, with it, and its trace before.

        None where there is more to it: such a page must be made anew, and so must one of more than so many bytes, which may
        have to leave something out.
        """
        trace = self._refilled.get(url)
        if trace is None or trace.shell != shell or url in self._others:
            return None  # more of it is another
        old = f"{self.before}/{url}"
        try:
            if stamp_of(old) != trace.stamp:  # somebody changed it
                return None
            former = read_bytes(old, trace.stamp[0])
        except OSError:
            return None
        content = self.fillings.filled_again(former, trace.gaps) if len(former) == trace.stamp[0] else None
        return (content, trace) if content is not None and len(content) <= most else None

    def traces(self, made: Mapping[str, Trace]) -> Traces:
        """Return the traces of all pages, of which some were made."""
        return self._notes.traces.since(made, self.taken, self.fillings.kept)


def link_or_copy(old: Path | str, new: Path | str, fits: Callable[[Stamp], bool]) -> bool:
    """Give a file that fits a second name, or copy it where that cannot be had; tell whether it was done."""
    try:
        if not fits(stamp_of(old)):
            return False
        try:
            os.link(old, new, follow_symlinks=False)
        except (OSError, NotImplementedError):  # its folder may not be there yet
            os.makedirs(os.path.dirname(new), exist_ok=True)
            with suppress(OSError, NotImplementedError):
                os.link(old, new, follow_symlinks=False)
                return True
            shutil.copy2(old, new)
    except OSError:
        return False
    return True


def put_bytes(url: str, content: bytes, now: Path, before: Path) -> None:
    """Give the site `now` a file of this content: a second name of that in the site `before` where it is the same."""
    old = f"{os.fspath(before)}/{url}"
    new = f"{os.fspath(now)}/{url}"

    def same(stamp: Stamp) -> bool:
        if stamp[0] != len(content) or os.path.islink(old):
            return False
        with open(old, "rb") as file:
            return file.read() == content

    if not link_or_copy(old, new, same):
        write_bytes(new, content)


def share_unchanged(before: Path, now: Path, made: Iterable[str], done: Collection[str]) -> dict[str, Stamp]:
    """Put files of the site `before` in the place of those in `now` that are the same to the byte: they keep their times.

    Looked at are those that were `made` and all in folders but for those that are `done`. Returns the stamps of the files of
    before by their address.
    """
    if not before.is_dir():
        return {}
    addresses = list(made)
    for folder, folders, names in os.walk(now):
        below = os.path.relpath(folder, now)
        folders[:] = [each for each in folders if os.path.normpath(os.path.join(below, each)) not in done]
        addresses += [os.path.normpath(os.path.join(below, name)).replace(os.sep, "/") for name in names]
    shared: dict[str, Stamp] = {}
    for address in dict.fromkeys(addresses):
        with suppress(OSError):
            if _is_shared(os.path.join(before, address), os.path.join(now, address)):
                shared[address] = stamp_of(now / address)
    return shared


def _is_shared(old: str, new: str) -> bool:
    """Put a file in the place of another one that is the same to the byte; tell whether it was done."""
    there, here = os.lstat(old), os.lstat(new)
    if not stat.S_ISREG(there.st_mode) or there.st_ino == here.st_ino or there.st_size != here.st_size:
        return False
    with open(old, "rb") as one, open(new, "rb") as other:
        if one.read() != other.read():
            return False
    folder, name = os.path.split(new)
    beside = os.path.join(folder, f".{name}.same")
    os.link(old, beside)
    os.replace(beside, new)
    return True
