"""Makes the pages that are not taken over from an earlier build, shared out over processes where there are many."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator, Mapping, Sequence
from itertools import islice
from typing import Any, Final

from shearpin.book.joined import Deps, packed, renumbered
from shearpin.book.ledger import Ledger
from shearpin.model.handing import Handing
from shearpin.model.progress import counted
from shearpin.model.shares import share_out, shares_for
from shearpin.model.spare import stamp_of
from shearpin.site.blanks import UNKNOWN, Gaps
from shearpin.site.pages import MOST_BYTES, Planned
from shearpin.site.shell import Shells
from shearpin.site.taking_over import TakingOver
from shearpin.site.traces import Trace

_Traces = dict[str, Trace]

_EFFORT: Final = {"symptom": 5, "coverage": 20, "jobs": 60}
"""How much longer than a usual page one of a group takes, by the first word of the group's name; measured."""

_REFILLED: Final = 0.25  # of a usual page, where only what goes into its blanks is another; measured

_PART: Final = 512  # pages of which what they read is handed over at a time

_MANY: Final = 5_000  # pages; the answers of fewer may stay, to give them up takes longer

_RECORDS: Final = 8
"""A page takes as long as reading so many records."""

_NOTES: Final = 20
"""To hand over what it noted takes another process one in so many parts of the time of all pages; measured."""


def make_pages(
    planned: Sequence[Planned], ledger: Ledger, shells: Shells, over: TakingOver
) -> Mapping[str, Trace]:
    """Write these pages into the site that is being built, into files that were replaced in the one before where there are any.

    Returns the traces of those that a later build may take over.
    """
    handing = _handing(shares_for(len(planned) * _RECORDS))
    shares = len(handing) + 1
    of_share = shared_out(planned, shares, over.may_be_refilled)
    for page in planned:
        shells.mark(page.url, bare=page.bare)  # every shell is rendered before the processes part
    before, here = ledger.noted(), os.getpid()

    def work(share: int) -> _Traces | None:
        traces: _Traces = {}
        for page in counted("making pages", of_share[share]):
            shell = shells.mark(page.url, bare=page.bare)
            content, read, gaps = _refilled(page, shells, over) or _made(page, ledger, shells, over)
            path = over.write(page.url, content)
            if not page.shows_findings:
                traces[page.url] = Trace(read, shell, stamp_of(path), gaps)
        if os.getpid() != here:
            ledger.hand_over(before, share, shares, handing[share - 1])
            _hand_over(traces, handing[share - 1])
            return None
        if len(planned) > _MANY:
            ledger.forget_answers()  # makes room for what another process noted
        return traces

    found: _Traces = {}
    for share, traces in enumerate(share_out(work, shares)):
        found.update(traces if traces is not None else _taken_over(ledger, handing[share - 1].take()))
    for each in handing:
        each.close()
    return found


def _refilled(page: Planned, shells: Shells, over: TakingOver) -> tuple[bytes, Deps, Gaps] | None:
    """Return a page that is as before but for what goes into its blanks, what it was made from, and its gaps; None for others."""
    if page.shows_findings or page.bare or not over.may_be_refilled(page.url):
        return None
    most = MOST_BYTES + shells.size(page.url)
    again = over.refilled(page.url, shells.mark(page.url), most)
    return (again[0], again[1].read, again[1].gaps) if again is not None else None


def _made(page: Planned, ledger: Ledger, shells: Shells, over: TakingOver) -> tuple[bytes, Deps, Gaps]:
    with ledger.reading() as read:
        made = page.make()
    content, gaps = over.fillings.filled(made.body.encode() if page.bare else shells.content(made))
    return content, packed(read), UNKNOWN if made.cut else gaps


def _handing(shares: int) -> Sequence[Handing]:
    """Return what processes hand over by, but for this one; none where there is no room for it, and so no process."""
    try:
        return [Handing() for _ in range(1, shares)]
    except OSError:
        return ()


def _hand_over(traces: _Traces, to: Handing) -> None:
    waiting = iter(traces.items())
    while some := {
        url: (each.read, each.shell, each.stamp, each.gaps) for url, each in islice(waiting, _PART)
    }:
        to.put(some)
    to.done()


def _taken_over(ledger: Ledger, parts: Iterator[Any]) -> Iterator[tuple[str, Trace]]:
    """Take over what another process noted, and yield its traces."""
    numbers = ledger.take_over(parts)
    for (some,) in parts:
        for url, (read, shell, stamp, gaps) in some.items():
            yield url, Trace(renumbered(read, numbers), shell, stamp, gaps)


def shared_out(
    planned: Sequence[Planned], shares: int, may_be_refilled: Callable[[str], bool] = lambda _: False
) -> list[list[Planned]]:
    """Return which pages each process makes: groups of pages whole, one after the other, and about as much work for each.

    The heaviest come first, and the heaviest of all to the last process: this one has more to do afterwards. The others have
    their notes to hand over.
    """
    groups: dict[str, list[Planned]] = {}
    for number, page in enumerate(planned):
        groups.setdefault(page.group or str(number), []).append(page)
    found: list[list[Planned]] = [[] for _ in range(shares)]
    work = [0.0] * shares
    efforts = [
        (
            sum(
                _REFILLED if may_be_refilled(page.url) else _EFFORT.get(name.partition(" ")[0], 1)
                for page in group
            ),
            group,
        )
        for name, group in groups.items()
    ]
    efforts.sort(key=lambda each: -each[0])
    notes = sum(effort for effort, _ in efforts) / _NOTES
    for effort, group in efforts:
        share = min(range(shares), key=lambda each: (work[each], -each))
        found[share] += group
        work[share] += effort if work[share] or not share else effort + notes
    return found
