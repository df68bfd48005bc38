"""What an earlier build noted of its pages, kept for the next one."""

from __future__ import annotations

import hashlib
import marshal
import secrets
from contextlib import suppress
from dataclasses import dataclass, field
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
from shearpin.site.traces import SettledTraces, Trace, Traces

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
