"""What pages were made from, page by page; of most pages it stays packed from one build to the next."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping, Set
from dataclasses import dataclass, field

from shearpin.book.joined import Deps, Joined, Unpacking, joined_parts
from shearpin.model.spare import Stamp
from shearpin.model.usercache import packed_slice
from shearpin.site.blanks import Gaps

Facts = tuple[bytes, Stamp]
"""The mark of the shell around a page, and the stamp of its file."""


@dataclass(frozen=True, slots=True)
class Trace:
    """What a page was made from, the mark of the shell around it, the stamp of its file, and where its blanks are."""

    read: Deps
    shell: bytes
    stamp: Stamp
    gaps: Gaps = b""


class SettledTraces:
    """The traces of pages by their address, as they were when all were packed last, and what went into their blanks."""

    def __init__(self, unpacking: Unpacking) -> None:
        facts, fillings = unpacking.slice()
        self.facts: Mapping[str, Facts] = facts
        self.fillings: Mapping[str, bytes] = fillings
        self._reads, self._gaps = unpacking.joined(), unpacking.joined()
        self._urls = list(self.facts)

    def readers(self, numbers: Collection[int]) -> Iterator[str]:
        """Yield the addresses of the pages that read one of these numbers."""
        return (self._urls[place] for place in self._reads.with_numbers(numbers))

    def traces(self, has: Callable[[Gaps], bool] = lambda _: True) -> dict[str, Trace]:
        """Return the trace of every page that has such gaps."""
        every = zip(self.facts.items(), self._reads, self._gaps, strict=True)
        return {url: Trace(read, *facts, gaps) for (url, facts), read, gaps in every if has(gaps)}


def packed_traces(traces: Mapping[str, Trace], fillings: Mapping[str, bytes]) -> Iterator[bytes]:
    """Yield, part by part, what `SettledTraces` unpacks."""
    facts = {url: (trace.shell, trace.stamp) for url, trace in traces.items()}
    yield packed_slice((facts, dict(fillings)))
    yield from joined_parts([trace.read for trace in traces.values()])
    yield from joined_parts([trace.gaps for trace in traces.values()])


def _nothing() -> SettledTraces:
    return SettledTraces(Unpacking(b"".join(packed_traces({}, {}))))


@dataclass
class Traces:
    """The traces of an earlier build: settled ones, those of pages made since, and the addresses of pages that are gone.

    `fillings` are what stands in the blanks of all pages, by name.
    """

    settled: SettledTraces = field(default_factory=_nothing)
    later: dict[str, Trace] = field(default_factory=dict)
    gone: frozenset[str] = frozenset()
    fillings: Mapping[str, bytes] = field(default_factory=dict)

    def facts(self, url: str) -> Facts | None:
        """Return the shell and the stamp of a page; None where there was none."""
        trace = self.later.get(url)
        if trace is not None:
            return trace.shell, trace.stamp
        return self.settled.facts.get(url) if url not in self.gone else None

    def readers(self, numbers: Collection[int]) -> set[str]:
        """Return the addresses of all pages that read one of these numbers."""
        urls, reads = list(self.later), Joined.of([trace.read for trace in self.later.values()])
        settled = {url for url in self.settled.readers(numbers) if url not in self.later}
        return settled | {urls[place] for place in reads.with_numbers(numbers)}

    def since(self, made: Mapping[str, Trace], taken: Set[str], fillings: Mapping[str, bytes]) -> Traces:
        """Return the traces of a build that made some pages and took others over as they were, with this in the blanks."""
        later = {url: trace for url, trace in self.later.items() if url in taken}
        gone = frozenset(self.settled.facts.keys() - made.keys() - taken)
        return Traces(self.settled, {**later, **made}, gone, fillings)

    def packed(self) -> Iterator[bytes]:
        """Yield all of them, settled, part by part."""
        return packed_traces(self.all(), self.fillings)

    def where(self, has: Callable[[Gaps], bool]) -> dict[str, Trace]:
        """Return the traces of the pages that have such gaps."""
        settled = self.settled.traces(has).items()
        found = {url: trace for url, trace in settled if url not in self.gone and url not in self.later}
        return found | {url: trace for url, trace in self.later.items() if has(trace.gaps)}

    def all(self) -> dict[str, Trace]:
        """Return the trace of every page, as `facts` tells of it."""
        kept = {url: trace for url, trace in self.settled.traces().items() if url not in self.gone}
        return kept | self.later
