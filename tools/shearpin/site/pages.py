"""Every page of the site that comes from records: address, title, and the function that writes its body."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

from shearpin.book.coverage import Coverage
from shearpin.book.linked import LinkedBook
from shearpin.diagnosis.history import History
from shearpin.model.finding import Finding, Severity
from shearpin.model.kinds import KINDS
from shearpin.site import calculators, coverage, job_page, linked_data, listings
from shearpin.site.bodies import apparatus, data_sheet, identity, knowledge, work
from shearpin.site.broken import broken_page
from shearpin.site.common import KIND_WORDS
from shearpin.site.rule_pages import rule_pages
from shearpin.site.view import View, address


@dataclass(frozen=True, slots=True)
class Page:
    """One finished page without the theme's shell; `depth` counts the folders between it and the root."""

    url: str
    title: str
    body: str

    @property
    def depth(self) -> int:
        """Folders above the page."""
        return self.url.count("/")


BODIES: Final[Mapping[str, Callable[[View, str], str]]] = MappingProxyType(
    {
        "symptom": knowledge.symptom,
        "cause": knowledge.cause,
        "test": work.test,
        "procedure": work.procedure,
        "caution": knowledge.caution,
        "machine": identity.machine,
        "engine": identity.engine,
        "system": knowledge.system,
        "value": identity.value,
        "part": identity.part,
        "tool": apparatus.tool,
        "term": apparatus.term,
        "source": apparatus.source,
        "figure": apparatus.figure,
        "edition": apparatus.edition,
    }
)


def all_pages(
    linked: LinkedBook, findings: tuple[Finding, ...] = (), history: History | None = None
) -> Iterator[Page]:
    """Yield every page of the book, records first; `history` is what the shop's repair log teaches.

    A record with errors shows its findings in place of its content; the rest is not affected.
    """
    top, below = View(linked, "", history), View(linked, "../", history)
    shown = linked.book.shown.replace("\\", "/").rstrip("/")
    by_path: dict[str, list[Finding]] = {}
    for finding in findings:
        by_path.setdefault(finding.path, []).append(finding)
    for (kind, record_id), file in linked.book.file_of.items():
        record = linked.book.get(kind, record_id)
        found = by_path.get(f"{shown}/{file.path}", [])
        if record is None or file.broken or any(f.severity is Severity.ERROR for f in found):
            body = broken_page(kind, record_id, linked.book.kb / file.path, found)
            yield Page(address(kind, record_id), record.title if record else record_id, body)
        else:
            body = BODIES[kind](below, record_id) + linked_data.block(below, kind, record_id)
            yield Page(address(kind, record_id), record.title, body)
    for machine_id, machine in linked.book.machines.items():
        title = f"{machine.title}: data sheet"
        yield Page(data_sheet.sheet_address(machine_id), title, data_sheet.data_sheet(below, machine_id))
    for kind in KINDS:
        yield Page(f"{KINDS[kind].folder}/index.html", KIND_WORDS[kind][1], listings.listing(below, kind))
    yield Page("index.html", "", listings.front(top))
    yield Page("search.html", "Search", listings.search_page(top))
    covered = Coverage(linked)
    yield Page("coverage.html", "Coverage", coverage.summary(top, covered))
    for url, title, body in (*coverage.by_system(below, covered), *rule_pages()):
        yield Page(url, title, body)
    yield Page("job.html", "Job", job_page.page(top))
    yield Page("calculators.html", "Bench calculators", calculators.page(top))
