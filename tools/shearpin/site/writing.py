"""Writes everything of a site that comes from records: pages and their data, drawings, search shards."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path
from typing import Final, Protocol

from shearpin.book.keptrecords import WORTH_KEEPING
from shearpin.book.ledger import Ledger
from shearpin.book.linked import LinkedBook
from shearpin.book.watched import WatchedLinked
from shearpin.diagnosis.history import History
from shearpin.diagnosis.model_rules import faults_of_model
from shearpin.model.finding import Finding
from shearpin.model.shares import Afterwards, Elsewhere, at_once, shares_for
from shearpin.model.spare import MOST_SPARE, WORTH_SPARING, Spare
from shearpin.model.translation import ORIGINAL
from shearpin.model.usercache import cache_of
from shearpin.search.exporting import FOLDER as INDEX
from shearpin.site import calculators, diagnosis_data, job_page, machine_list, safety
from shearpin.site.ahead import FOLDERS, Ahead
from shearpin.site.blanks import TITLED, Fillings, title_of
from shearpin.site.earlier import Notes
from shearpin.site.folders import write_text
from shearpin.site.forwarding import forwarding_pages
from shearpin.site.html import text
from shearpin.site.interface import INTERFACES, SCRIPT_TABLE, script_table
from shearpin.site.making import make_pages
from shearpin.site.pages import Page, Planned, group_of, planned_pages
from shearpin.site.shell import Shells
from shearpin.site.taking_over import TakingOver, put_bytes, share_unchanged
from shearpin.site.theme import join_search_scripts
from shearpin.site.traces import Traces
from shearpin.site.view import View, address

_MOST: Final = 0.5
"""Of all pages, the part from which on those to be made show nearly everything that pages show."""


@dataclass(frozen=True, slots=True)
class Material:
    """What a site is made of: the book, what is wrong with it, what the repair log teaches, and ready pages."""

    linked: LinkedBook
    findings: tuple[Finding, ...] = ()
    history: History | None = None
    further: tuple[Page, ...] = ()


@dataclass(frozen=True, slots=True)
class Issue:
    """What an edition is built from in place of the folder of records: its packed book, and pages about it."""

    linked: LinkedBook
    pages: tuple[Page, ...]


@dataclass(frozen=True, slots=True)
class Written:
    """How many pages there are and how many files can be taken over, the addresses of those that were made; what the next build needs."""

    pages: int
    files: int
    addresses: Sequence[str]
    traces: Traces

    @property
    def made(self) -> int:
        """How many files were made."""
        return len(self.addresses)


class Pending(Protocol):
    """An index on its way into the site."""

    def result(self) -> int:
        """Wait for it; return how many files it has."""

    def stop(self) -> None:
        """End the work, the result of which nobody wants any more."""

    def finish(self) -> None:
        """Wait for what goes on when it is in the site."""


def start_index(linked: LinkedBook, site: Path, before: Path | None = None) -> Elsewhere[int]:
    """Begin to write the search index into the folder `site`, as `make_index` does; the result is how many files it has."""
    return Elsewhere(lambda: make_index(linked, site, before=before), shares_for(len(linked.book.files)))


def make_index(
    linked: LinkedBook,
    site: Path,
    unwanted: Callable[[], bool] = lambda: False,
    *,
    before: Path | None = None,
    afterwards: Afterwards = at_once,
) -> int:
    """Write the search index into the folder `site`, with files of the site `before` where they are the same.

    Returns how many files it has. What the next build needs of it is kept at once, or when whoever calls does what is handed to `afterwards`.

    Work that has become `unwanted` ends before its next step; the index in the site stays as it was then.
    """
    # Only imported here: mostly another process makes the index, while this one has other things to do.
    from shearpin.search.documents import documents_of, synonyms_of
    from shearpin.search.exporting import put_files
    from shearpin.search.made import can_be_made_again, made_of
    from shearpin.search.model import build_model
    from shearpin.search.renewing import renewed_index
    from shearpin.search.shards import Shards

    cache_folder = cache_of(linked.book.kb) if len(linked.book.files) >= WORTH_KEEPING else None
    if unwanted():
        return 0
    if cache_folder is not None:
        renewed = renewed_index(linked, site, cache_folder, before, afterwards)
        if renewed is not None:
            return renewed
    documents = documents_of(linked)
    if unwanted():
        return 0
    model = build_model(documents, synonyms_of(linked), cache_folder)
    if unwanted():
        return 0
    shards = Shards(model)
    files = put_files(shards.texts(), (), site, before)
    if cache_folder is not None and can_be_made_again(linked):
        made_of(linked, model, shards, files).keep(cache_folder)
    return len(files)


@dataclass(frozen=True, slots=True)
class Before:
    """The site before, what its build noted, and the book now as it is watched, with the ledger of what is read of it."""

    site: Path
    notes: Notes
    watched: WatchedLinked
    ledger: Ledger
    ahead: Ahead | None = None


def since(site: Path, notes: Notes, linked: LinkedBook, ahead: Ahead | None = None) -> Before:
    """Return the site before, with what notices which of its pages are the same in the book as it is now."""
    ledger = Ledger(notes.past)
    return Before(site, notes, WatchedLinked(linked, ledger), ledger, ahead)


def write_site(material: Material, shells: Shells, site: Path, before: Before, index: Pending) -> Written:
    """Write into the folder `site`; what nothing has changed of is taken over from the site `before`."""
    ledger, earlier = before.ledger, before.site
    history = History(before.watched, material.history.repairs if material.history is not None else ())
    fillings = Fillings(_left_open(material.linked), before.notes.traces.fillings)
    top, below = (View(before.watched, root, history, fillings) for root in ("", "../"))
    planned = list(_planned(material, top, below))
    begun = (before.ahead.same(), before.ahead.own()) if before.ahead is not None else ()
    over = TakingOver(before.notes, ledger.changed(), earlier, site, fillings, *begun)
    waiting = [
        page
        for page in planned
        if page.shows_findings or not over.page(page.url, shells.mark(page.url, bare=page.bare))
    ]
    if before.ahead is not None:
        # What is made has its name taken from it when it is written, by whoever writes it.
        there = before.ahead.same().keys() | before.ahead.own()
        before.ahead.give_up(there - over.taken - {page.url for page in waiting})
    if sum(not over.may_be_refilled(page.url) for page in waiting) > _MOST * len(planned):
        below.work_out_what_all_show()
    with over.putting_right() as lost:
        made = dict(make_pages(waiting, ledger, shells, over))
        _write_unplanned(material, shells, site, earlier)
        urls = lost()
    if urls:
        waiting += (missed := [page for page in planned if page.url in urls])
        made.update(make_pages(missed, ledger, shells, over))
    index.result()
    done = {url.partition("/")[0] for url in over.taken if "/" in url} | {INDEX}
    anew = [url for url in made if not over.may_be_refilled(url)]
    for url, stamp in share_unchanged(earlier, site, anew, done).items():
        if url in made:
            made[url] = replace(made[url], stamp=stamp)
    pages = sum(not page.bare for page in planned) + len(material.further)
    return Written(pages, len(planned), [page.url for page in waiting], over.traces(made))


def _left_open(linked: LinkedBook) -> dict[str, str]:
    """Return what goes into pages last: titles of machines and cautions, and safety messages that are the same on every page.

    Nothing in a translated book: its pages are translated as a whole when they are made.
    """
    book = linked.book
    if book.language != ORIGINAL:
        return {}
    titles = {title_of(*key): text(book.title(*key)) for key in book.file_of if key[0] in TITLED}
    return titles | dict(safety.messages(View(linked, "")))


def put_aside(previous: Path | None, site: Path, written: Written) -> None:
    """Keep the folders that the next build begins with of the site before, which lies in `previous` now, if there was one.

    A small site has too few files for it to matter; one of which nearly all was replaced is of no use.
    """
    spare = Spare(site)
    if previous is None or written.files < WORTH_SPARING or written.made > written.files * MOST_SPARE:
        spare.drop()
    else:
        for folder in FOLDERS:
            spare.keep_folder(folder, previous)


def _planned(material: Material, top: View, below: View) -> Iterator[Planned]:
    """Yield every file that can be taken over, all of them made from a book that notes what is read."""
    linked = top.linked
    yield from planned_pages(top, below, material.findings)
    yield Planned(job_page.DATA_FILE, partial(_job_data, job_page.JobData(linked)), bare=True, group="jobs")
    yield Planned(calculators.DATA_FILE, _calculator_tables, bare=True)
    yield Planned(machine_list.DATA_FILE, partial(_machine_list, linked), bare=True)
    for symptom_id in linked.book.symptoms:
        yield data_of_symptom(below, symptom_id)


def data_of_symptom(below: View, symptom_id: str) -> Planned:
    """Return the file with what the guide on a symptom's page works from."""
    url = address("symptom", symptom_id).replace(".html", ".js")
    data = partial(_symptom_data, below, symptom_id, url)
    return Planned(url, data, bare=True, group=group_of("symptom", symptom_id))


def _job_data(data: job_page.JobData) -> Page:
    return Page(job_page.DATA_FILE, "", data.script())


def _calculator_tables() -> Page:
    return Page(calculators.DATA_FILE, "", calculators.data_script())


def _machine_list(linked: LinkedBook) -> Page:
    return Page(machine_list.DATA_FILE, "", machine_list.data_script(linked))


def _symptom_data(view: View, symptom_id: str, url: str) -> Page:
    # What rules find in the model is found here, where what it is made from is at hand, and kept with what the page read.
    faults_of_model(view.linked, symptom_id)
    return Page(url, "", diagnosis_data.data_script(view, symptom_id))


def _write_unplanned(material: Material, shells: Shells, site: Path, earlier: Path) -> None:
    """Write what is quicker written than looked up: ready pages, forwarding pages, drawings, the scripts of a search."""
    join_search_scripts(site / "look")
    for page in material.further:
        write_text(site / page.url, shells.wrap(page))
    for url, content in forwarding_pages(material.linked):
        put_bytes(url, content.encode(), site, earlier)
    book = material.linked.book
    if book.language in INTERFACES:
        write_text(site / SCRIPT_TABLE, script_table(book))
    for figure_id in book.figures:
        drawing = os.path.join(book.kb, "figures", f"{figure_id}.svg")
        if os.path.isfile(drawing) and not os.path.islink(drawing):
            with open(drawing, "rb") as file:
                put_bytes(f"figures/{figure_id}.svg", file.read(), site, earlier)
