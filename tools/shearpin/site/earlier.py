"""What an earlier build left: pages that are still the same are taken over as they lie, by a second name of the file."""

from __future__ import annotations

import hashlib
import marshal
import os
import secrets
import shutil
import stat
from collections.abc import Callable, Collection, Iterable, Mapping
from contextlib import suppress
from dataclasses import dataclass, field, replace
from itertools import chain
from pathlib import Path
from typing import Any, Final

from shearpin.book.joined import Unpacking
from shearpin.book.past import Past, Settled
from shearpin.model.usercache import (
    cache_of,
    packed_slice,
    program_digest,
    read_kept,
    write_kept,
    write_kept_parts,
)
from shearpin.site.blanks import Fillings
from shearpin.site.folders import read_bytes, write_bytes
from shearpin.site.traces import SettledTraces, Stamp, Trace, Traces, stamp_of

PREVIEW = "preview"
"""The name of every site that is only served: each lies in a folder of its own, which is gone afterwards."""

_NAME_BYTES: Final = 16
_MANY_DEAD = 2  # times as many names as the first build had: most of them are of no page any more
_MUCH: Final = 2  # what was noted since is settled when it comes to more than one of so many


@dataclass(frozen=True, slots=True)
class Notes:
    """Everything noted by one build: what was read, by name and mark, and the traces of its pages by address."""

    past: Past = field(default_factory=Past)
    traces: Traces = field(default_factory=Traces)
    first: int = 0  # names that were noted when nothing was taken over
    found: bytes = b""  # what rules found that read little wording, pickled
    settled: bytes = b""  # tells one file of what is settled from others


class Earlier:
    """What the last build of the site in folder `site` noted, kept in the user's cache under the `name` of the site.

    What is noted since most of it was settled lies in a file of its own: an edit writes no more than that.
    `besides` tells whatever pages hang on that no record and no drawing holds.
    """

    def __init__(self, kb: Path, site: Path, name: str, besides: str = "") -> None:
        self.site = site
        short = hashlib.sha256(name.encode(errors="surrogatepass")).hexdigest()[:16]
        self._place = cache_of(kb) / f"pages-{short}.bin"
        self._later = cache_of(kb) / f"pages-{short}-since.bin"
        self._key = f"{program_digest()} pages {_drawings_mark(kb)} {besides} {name}"
        self.notes = self._load()

    def _load(self) -> Notes:
        payload = read_kept(self._place, self._key) if self.site.is_dir() else None
        if payload is None:
            return Notes()
        try:
            unpacking = Unpacking(payload)
            settled, first, found = unpacking.slice()
            past, then = Past(Settled(unpacking)), SettledTraces(unpacking)
            traces = Traces(then, fillings=then.fillings)
            later = read_kept(self._later, self._key_since(settled))
            if later is not None:
                found, noted, made, traces.gone, traces.fillings = marshal.loads(later)
                past = Past(past.settled, *noted)
                traces.later.update((url, Trace(*each)) for url, each in made.items())
            return Notes(past, traces, first, found, settled)
        except (ValueError, EOFError, TypeError):
            return Notes()

    def _key_since(self, settled: bytes) -> str:
        return f"{self._key} since {settled.hex()}"

    def keep(self, past: Past, traces: Traces, found: bytes = b"") -> None:
        """Keep what this build noted and what rules found that read little wording; where too much of it is about pages long gone, the next one begins afresh."""
        before = self.notes
        first = before.first or len(past)
        if len(past) > _MANY_DEAD * first:
            with suppress(OSError):
                self._place.unlink(missing_ok=True)
        elif before.settled and _is_little(past, traces):
            groups = {begin: dict(group) for begin, group in past.groups.items()}
            noted: tuple[Any, ...] = groups, past.new_marks, past.marks, past.reads, past.values
            made = {url: (each.read, each.shell, each.stamp, each.gaps) for url, each in traces.later.items()}
            content = marshal.dumps((found, noted, made, traces.gone, dict(traces.fillings)))
            write_kept(self._later, self._key_since(before.settled), content)
        else:
            head = packed_slice((secrets.token_bytes(_NAME_BYTES), first, found))
            write_kept_parts(self._place, self._key, chain((head,), past.packed(), traces.packed()))
            with suppress(OSError):
                self._later.unlink(missing_ok=True)


def _is_little(past: Past, traces: Traces) -> bool:
    """Whether it takes little to note what is new or different since the rest was settled."""
    few_marks = (len(past.marks) + len(past.new_marks)) * _MUCH < len(past.settled)
    return few_marks and len(traces.later) * _MUCH < len(traces.settled.facts)


def _drawings_mark(kb: Path) -> str:
    """Return a digest of the drawings, which a review and so a page may hang on without reading a record."""
    digest = hashlib.blake2b(digest_size=16)
    for path in sorted((kb / "figures").glob("*.svg")):
        with suppress(OSError):
            if path.is_file() and not path.is_symlink():
                digest.update(f"{path.name}\0{path.stat().st_size}\0".encode(errors="surrogatepass"))
                digest.update(path.read_bytes())
    return digest.hexdigest()


class TakingOver:
    """Takes over the pages of an earlier build for which nothing that they were made from is in `changed`.

    Those of which stamps are given as linked `ahead` have a name in the new site already. Of those of which only
    what goes into their blanks is another, all else is taken over.
    """

    def __init__(
        self,
        notes: Notes,
        changed: frozenset[int],
        before: Path,
        now: Path,
        ahead: Mapping[str, Stamp],
        fillings: Fillings,
    ) -> None:
        self._others = notes.traces.readers(changed)
        self._notes, self._ahead, self.fillings = notes, ahead, fillings
        self._refilled: Mapping[str, Trace] = {}
        if fillings.differ:
            self._refilled = notes.traces.where(fillings.concern)
        self.before, self.now = os.fspath(before), os.fspath(now)  # quicker to join than paths
        self.taken: set[str] = set()
        """The addresses of the pages that were taken over."""
        self._copied: dict[str, Stamp] = {}

    def page(self, url: str, shell: bytes) -> bool:
        """Give the file of a page its place in the new site; False when the page must be made anew."""
        facts = self._notes.traces.facts(url)
        if facts is None or facts[0] != shell or url in self._others or url in self._refilled:
            return False
        linked = self._ahead.get(url)
        if linked is None:
            linked = link_or_copy(f"{self.before}/{url}", f"{self.now}/{url}", facts[1].__eq__)
            if linked is None:
                return False
            if linked != facts[1]:
                self._copied[url] = linked
        elif linked != facts[1]:  # somebody changed it
            return False
        self.taken.add(url)
        return True

    def free(self, url: str) -> None:
        """Take the second name away from the file of a page that was linked ahead: whoever wrote there would write into the site before."""
        if url in self._ahead:
            with suppress(FileNotFoundError):
                os.unlink(f"{self.now}/{url}")

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
        before = self._notes.traces
        known = before.all() if self._copied else {}
        copied = {url: replace(known[url], stamp=stamp) for url, stamp in self._copied.items()}
        return before.since({**copied, **made}, self.taken, self.fillings.kept)


def link_or_copy(old: Path | str, new: Path | str, fits: Callable[[Stamp], bool]) -> Stamp | None:
    """Give a file that fits a second name, or copy it where that cannot be had; return the stamp of the new one."""
    try:
        found = stamp_of(old)
        if not fits(found):
            return None
        try:
            os.link(old, new, follow_symlinks=False)
        except (OSError, NotImplementedError):  # its folder may not be there yet
            os.makedirs(os.path.dirname(new), exist_ok=True)
            with suppress(OSError, NotImplementedError):
                os.link(old, new, follow_symlinks=False)
                return found
            shutil.copy2(old, new)
            return stamp_of(new)
    except OSError:
        return None
    return found


def put_bytes(url: str, content: bytes, now: Path, before: Path) -> None:
    """Give the site `now` a file of this content: a second name of that in the site `before` where it is the same."""
    old = f"{os.fspath(before)}/{url}"
    new = f"{os.fspath(now)}/{url}"

    def same(stamp: Stamp) -> bool:
        if stamp[0] != len(content) or os.path.islink(old):
            return False
        with open(old, "rb") as file:
            return file.read() == content

    if link_or_copy(old, new, same) is None:
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
