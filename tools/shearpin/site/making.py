"""Makes the pages that are not taken over from an earlier build, shared out over processes where there are many."""

from __future__ import annotations

import os
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Final

from shearpin.book.ledger import Ledger
from shearpin.book.numbering import packed, renumbered
from shearpin.book.past import Noted
from shearpin.model.pieces import Claims
from shearpin.model.progress import say
from shearpin.model.shares import share_out, shares_for
from shearpin.site.earlier import Trace, stamp_of
from shearpin.site.folders import write_text
from shearpin.site.pages import Planned
from shearpin.site.shell import Shells

_Traces = dict[str, Trace]

_EFFORT: Final = {"symptom": 5, "coverage": 80}
"""How much longer than a usual page one of a group takes, by the first word of the group's name; measured."""


_MOST_BATCHES: Final = 400


def make_pages(planned: Sequence[Planned], ledger: Ledger, shells: Shells, site: Path) -> Mapping[str, Trace]:
    """Write these pages into `site`; return the traces of those that a later build may take over."""
    shares = shares_for(len(planned))
    batches = in_batches(planned)
    for page in planned:
        shells.mark(page.url, bare=page.bare)  # every shell is rendered before the processes part
    start = ledger.size
    claims = Claims(len(batches)) if shares > 1 else None

    def work(share: int) -> tuple[dict[int, _Traces], Noted | None]:
        done: dict[int, _Traces] = {}
        for number in range(len(batches)) if claims is None else claims:
            say("making pages", number, len(batches))
            done[number] = _make(batches[number], ledger, shells, site)
        say("making pages", len(batches), len(batches))
        noted = None
        if share:
            noted = ledger.noted_since(start, share, shares)
        elif shares > 1:
            ledger.find_marks(share, shares)
        ledger.forget_answers()  # makes room for what another process noted
        return done, noted

    found = _taken_over(share_out(work, shares), ledger)
    if claims is not None:
        claims.close()
    for number, batch in enumerate(batches):
        if number not in found:  # who took it died over it
            found[number] = _make(batch, ledger, shells, site)
    return {url: trace for number in range(len(batches)) for url, trace in found[number].items()}


def _make(batch: Iterable[Planned], ledger: Ledger, shells: Shells, site: Path) -> _Traces:
    """Write these pages in this process; return their traces."""
    folder = os.path.join(site, "")
    traces: _Traces = {}
    for page in batch:
        with ledger.reading() as read:
            made = page.make()
        path = f"{folder}{made.url}"
        write_text(path, made.body if page.bare else shells.wrap(made))
        if not page.shows_findings:
            traces[made.url] = Trace(packed(read), shells.mark(made.url, bare=page.bare), stamp_of(path))
    return traces


def _taken_over(
    results: Iterable[tuple[dict[int, _Traces], Noted | None]], ledger: Ledger
) -> dict[int, _Traces]:
    """Return the traces of all batches, with the numbers of this process's ledger, which takes over what others noted."""
    found: dict[int, _Traces] = {}
    for done, noted in results:
        if noted is not None:
            numbers = ledger.take_over(noted)
            for traces in done.values():
                for url, trace in traces.items():
                    traces[url] = replace(trace, read=renumbered(trace.read, numbers))
        found.update(done)
    return found


def in_batches(planned: Sequence[Planned]) -> list[list[Planned]]:
    """Return the pages in batches for whoever is free next: groups of pages whole, one after the other, the heaviest first."""
    groups: dict[str, list[Planned]] = {}
    for number, page in enumerate(planned):
        groups.setdefault(page.group or str(number), []).append(page)
    efforts = [(_EFFORT.get(name.partition(" ")[0], 1) * len(group), group) for name, group in groups.items()]
    least = sum(effort for effort, _ in efforts) / _MOST_BATCHES
    found: list[list[Planned]] = []
    work = least
    for effort, group in sorted(efforts, key=lambda each: -each[0]):
        if work >= least:
            found.append([])
            work = 0
        found[-1] += group
        work += effort
    return found
