"""What an earlier build left: pages that are still the same are taken over as they lie, by a second name of the file."""

from __future__ import annotations

import hashlib
import os
import shutil
from collections.abc import Callable, Iterator
from contextlib import suppress
from dataclasses import dataclass, field
from itertools import count, islice
from pathlib import Path
from typing import Any, Final

from shearpin.book.numbering import Deps, Readers
from shearpin.book.past import Past
from shearpin.model.usercache import (
    cache_of,
    packed_slice,
    program_digest,
    read_kept,
    unpacked_slices,
    write_kept_parts,
)
from shearpin.site.folders import write_bytes

PREVIEW = "preview"
"""The name of every site that is only served: each lies in a folder of its own, which is gone afterwards."""

Stamp = tuple[int, int, int]
"""Size, time and number of a file: a file that was written since has another."""

_SLICE: Final = 256
_MANY_DEAD = 2  # times as many names as the first build had: most of them are of no page any more


@dataclass(frozen=True, slots=True)
class Trace:
    """What a page was made from, the mark of the shell around it, and the stamp of its file."""

    read: Deps
    shell: bytes
    stamp: Stamp


@dataclass(slots=True)
class Notes:
    """Everything noted by one build: what was read, by name and mark, and the traces of its pages by address."""

    past: Past = field(default_factory=Past)
    traces: dict[str, Trace] = field(default_factory=dict)
    first: int = 0  # names that were noted when nothing was taken over
    found: bytes = b""  # what rules found that read little wording, pickled


class Earlier:
    """What the last build of the site in folder `site` noted, kept in the user's cache under the `name` of the site.

    `besides` tells whatever pages hang on that no record and no drawing holds.
    """

    def __init__(self, kb: Path, site: Path, name: str, besides: str = "") -> None:
        self.site = site
        short = hashlib.sha256(name.encode(errors="surrogatepass")).hexdigest()[:16]
        self._place = cache_of(kb) / f"pages-{short}.bin"
        self._key = f"{program_digest()} pages {_drawings_mark(kb)} {besides} {name}"
        self.notes = self._load()

    def _load(self) -> Notes:
        payload = read_kept(self._place, self._key) if self.site.is_dir() else None
        if payload is None:
            return Notes()
        try:
            parts = unpacked_slices(payload)
            first, found = next(parts)
            notes = Notes(first=first, found=found)
            past = notes.past
            for names, marks, reads, values, traces in parts:
                past.names += names
                past.marks += marks
                past.reads.update(reads)
                past.values.update(values)
                notes.traces.update((url, Trace(*each)) for url, each in traces.items())
            return notes
        except (ValueError, EOFError, TypeError):
            return Notes()

    def keep(self, past: Past, traces: dict[str, Trace], found: bytes = b"") -> None:
        """Keep what this build noted and what rules found that read little wording; where too much of it is about pages long gone, the next one begins afresh."""
        first = self.notes.first or len(past.names)
        if len(past.names) > _MANY_DEAD * first:
            with suppress(OSError):
                self._place.unlink(missing_ok=True)
            return
        write_kept_parts(self._place, self._key, map(packed_slice, _sliced(past, traces, first, found)))


def _sliced(past: Past, traces: dict[str, Trace], first: int, found: bytes) -> Iterator[tuple[Any, ...]]:
    """Yield what is kept, slice by slice: as a whole it takes three times its room while it is packed."""
    yield first, found
    reads, values, left = iter(past.reads.items()), iter(past.values.items()), iter(traces.items())
    for start in count(0, _SLICE):
        end = start + _SLICE
        plain = {url: (each.read, each.shell, each.stamp) for url, each in islice(left, _SLICE)}
        part = (
            past.names[start:end], past.marks[start:end],
            dict(islice(reads, _SLICE)), dict(islice(values, _SLICE)), plain,
        )  # fmt: skip
        if not any(part):
            return
        yield part


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
    """Takes over the pages of an earlier build for which nothing that they were made from is in `changed`."""

    def __init__(self, notes: Notes, changed: frozenset[int], before: Path, now: Path) -> None:
        read = {url: trace.read for url, trace in notes.traces.items()} if changed else {}
        self._others = Readers(read).of(changed)
        self._notes = notes
        self._before, self._now = os.fspath(before), os.fspath(now)  # quicker to join than paths

    def page(self, url: str, shell: bytes) -> Trace | None:
        """Give the file of a page its place in the new site; None when the page must be made anew."""
        trace = self._notes.traces.get(url)
        if trace is None or trace.shell != shell or url in self._others:
            return None
        stamp = link_or_copy(f"{self._before}/{url}", f"{self._now}/{url}", trace.stamp.__eq__)
        if stamp is None or stamp == trace.stamp:
            return trace if stamp is not None else None
        return Trace(trace.read, shell, stamp)


def stamp_of(path: Path | str) -> Stamp:
    """Return the stamp of a file."""
    state = os.stat(path, follow_symlinks=False)
    return state.st_size, state.st_mtime_ns, state.st_ino


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


def share_unchanged(before: Path, now: Path) -> dict[str, Stamp]:
    """Put files of the site `before` in the place of those in `now` that are the same to the byte: they keep their times.

    Returns the stamps of these files by their address.
    """
    shared: dict[str, Stamp] = {}
    for folder, _, names in os.walk(now):
        below = Path(folder).relative_to(now)
        numbers, there = _numbers_in(before / below), _numbers_in(now / below)
        for name in names:
            # Most files are those of before under a second name: their numbers, which the folders tell, are the same.
            if name not in numbers or numbers[name] == there.get(name):
                continue
            old, new = before / below / name, now / below / name
            with suppress(OSError):
                if old.is_symlink() or os.stat(old).st_size != os.stat(new).st_size:
                    continue
                if old.read_bytes() == new.read_bytes():
                    beside = new.with_name(f".{name}.same")
                    os.link(old, beside)
                    os.replace(beside, new)
                    shared[(below / name).as_posix()] = stamp_of(new)
    return shared


def _numbers_in(folder: Path) -> dict[str, int]:
    """Return the number of each entry of a folder by its name; nothing where there is no such folder."""
    with suppress(OSError), os.scandir(folder) as entries:
        return {entry.name: entry.inode() for entry in entries}
    return {}
