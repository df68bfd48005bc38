"""Writes everything of a site that comes from records: pages, drawings, search shards."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from shearpin.book.keptrecords import WORTH_KEEPING
from shearpin.book.ledger import Ledger, Past
from shearpin.book.linked import LinkedBook
from shearpin.book.watched import WatchedLinked
from shearpin.model.finding import Finding
from shearpin.model.shares import Elsewhere, shares_for
from shearpin.model.usercache import cache_of
from shearpin.search.documents import documents_of, synonyms_of
from shearpin.search.model import build_model
from shearpin.search.shards import export_shards
from shearpin.site.earlier import Notes, TakingOver, Trace, share_unchanged
from shearpin.site.folders import write_text
from shearpin.site.forwarding import forwarding_pages
from shearpin.site.making import make_pages
from shearpin.site.pages import planned_pages
from shearpin.site.shell import Shells


@dataclass(frozen=True, slots=True)
class Written:
    """How many pages come from records and how many of them were made anew; what the next build needs to know."""

    pages: int
    made: int
    past: Past
    traces: Mapping[str, Trace]


def start_index(linked: LinkedBook, site: Path) -> Elsewhere[int]:
    """Begin to write the search index into the folder `site`; the result is how many files it has."""
    files = len(linked.book.files)
    cache_folder = cache_of(linked.book.kb) if files >= WORTH_KEEPING else None

    def work() -> int:
        model = build_model(documents_of(linked), synonyms_of(linked), cache_folder)
        return len(export_shards(model, site))

    return Elsewhere(work, shares_for(files))


def write_site(
    linked: LinkedBook,
    findings: tuple[Finding, ...],
    shells: Shells,
    site: Path,
    before: tuple[Notes, Path],
    index: Elsewhere[int],
) -> Written:
    """Write into the folder `site`; pages that nothing has changed of are taken over from the site `before`."""
    notes, earlier = before
    ledger = Ledger(notes.past)
    planned = planned_pages(WatchedLinked(linked, ledger), findings)
    over = TakingOver(notes, ledger.changed(), earlier, site)
    traces: dict[str, Trace] = {}
    waiting = []
    for page in planned:
        trace = over.page(page.url, shells.mark(page.url)) if not page.shows_findings else None
        if trace is not None:
            traces[page.url] = trace
        else:
            waiting.append(page)
    traces.update(make_pages(waiting, ledger, shells, site))
    for url, content in forwarding_pages(linked):
        write_text(site / url, content)
    for figure_id in linked.book.figures:
        drawing = linked.book.kb / "figures" / f"{figure_id}.svg"
        if drawing.is_file() and not drawing.is_symlink():
            target = site / "figures" / drawing.name
            target.parent.mkdir(parents=True, exist_ok=True)
            target.write_bytes(drawing.read_bytes())
    index.result()
    for url, stamp in share_unchanged(earlier, site).items():
        if url in traces:
            traces[url] = replace(traces[url], stamp=stamp)
    return Written(len(planned), len(waiting), ledger.present(), traces)
