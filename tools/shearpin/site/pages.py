"""Every page of the site that comes from records: address, title, and the function that writes its body."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

from shearpin.book.linked import LinkedBook
from shearpin.model.finding import Finding
from shearpin.model.kinds import KINDS
from shearpin.site import calculators, listings
from shearpin.site.bodies import apparatus, data_sheet, identity, knowledge, work
from shearpin.site.common import KIND_WORDS, article
from shearpin.site.html import bullets, text
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


def all_pages(linked: LinkedBook, findings: tuple[Finding, ...] = ()) -> Iterator[Page]:
    """Yield every page of the book, records first.

    A record that could not be read whole shows its findings in place of its content; the rest is not affected.
    """
    top, below = View(linked, ""), View(linked, "../")
    by_path: dict[str, list[Finding]] = {}
    for finding in findings:
        by_path.setdefault(finding.path, []).append(finding)
    for (kind, record_id), file in linked.book.file_of.items():
        record = linked.book.get(kind, record_id)
        if record is None or file.broken:
            body = _broken(kind, record_id, by_path.get(f"{linked.book.shown}/{file.path}", []))
            yield Page(address(kind, record_id), record.title if record else record_id, body)
        else:
            yield Page(address(kind, record_id), record.title, BODIES[kind](below, record_id))
    for machine_id, machine in linked.book.machines.items():
        title = f"{machine.title}: data sheet"
        yield Page(data_sheet.sheet_address(machine_id), title, data_sheet.data_sheet(below, machine_id))
    for kind in KINDS:
        yield Page(f"{KINDS[kind].folder}/index.html", KIND_WORDS[kind][1], listings.listing(below, kind))
    yield Page("index.html", "", listings.front(top))
    yield Page("search.html", "Search", listings.search_page(top))
    yield Page("coverage.html", "Coverage", listings.coverage(top))
    yield Page("calculators.html", "Bench calculators", calculators.page(top))


def _broken(kind: str, record_id: str, findings: list[Finding]) -> str:
    rows = bullets(
        f"<code>{text(f'{f.path}:{f.line}:{f.column}')}</code> <b>{text(f.code)}</b> {text(f.message)}"
        f"{f'<p>{text(f.help)}</p>' if f.help else ''}"
        for f in findings
    )
    return article(
        kind, record_id,
        f'<header class="page-head"><h1>{text(record_id)}</h1></header>'
        f'<p class="draft" data-missing="record"><b>This record cannot be shown until it is corrected.</b> Do not work from memory instead.</p>{rows}',
    )  # fmt: skip
