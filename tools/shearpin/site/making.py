"""Makes the pages that are not taken over from an earlier build, shared out over processes where there are many."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path

from shearpin.book.ledger import Ledger, Noted, packed, renumbered
from shearpin.model.progress import counted
from shearpin.model.shares import share_out, shares_for
from shearpin.site.earlier import Trace, stamp_of
from shearpin.site.folders import write_text
from shearpin.site.pages import Planned
from shearpin.site.shell import Shells

_Traces = dict[str, Trace]


def make_pages(planned: Sequence[Planned], ledger: Ledger, shells: Shells, site: Path) -> Mapping[str, Trace]:
    """Write these pages into `site`; return the traces of those that a later build may take over."""
    shares = shares_for(len(planned))
    for page in planned:
        shells.mark(page.url, bare=page.bare)  # every shell is rendered before the processes part
    start = ledger.size

    def work(share: int) -> tuple[_Traces, Noted | None]:
        traces: _Traces = {}
        for page in counted("making pages", planned[share::shares]):
            with ledger.reading() as read:
                made = page.make()
            path = site / made.url
            write_text(path, made.body if page.bare else shells.wrap(made))
            if not page.shows_findings:
                traces[made.url] = Trace(packed(read), shells.mark(made.url, bare=page.bare), stamp_of(path))
        return traces, ledger.noted_since(start) if share else None

    found: _Traces = {}
    for traces, noted in share_out(work, shares):
        numbers = ledger.take_over(noted) if noted is not None else None
        for url, trace in traces.items():
            read = trace.read if numbers is None else renumbered(trace.read, numbers)
            found[url] = Trace(read, trace.shell, trace.stamp)
    return found
