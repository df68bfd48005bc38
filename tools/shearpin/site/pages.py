"""Every page of the site that comes from records: address, title, and the function that writes its body."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import partial
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
    """One finished page without the theme's shell."""

    url: str
    title: str
    body: str


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


@dataclass(frozen=True, slots=True)
class Planned:
    """A page that is to be made: its address, and what makes it. One that shows findings is made in every build."""

    url: str
    make: Callable[[], Page]
    shows_findings: bool = False


def all_pages(linked: LinkedBook, findings: tuple[Finding, ...] = ()) -> Iterator[Page]:
    """Yield every page of the book, records first."""
    return (planned.make() for planned in planned_pages(linked, findings))


def planned_pages(linked: LinkedBook, findings: tuple[Finding, ...] = ()) -> list[Planned]:
    """Return every page of the book, records first, none of it made yet.

    A record that could not be read whole shows its findings in place of its content; the rest is not affected.
    """
    top, below = View(linked, ""), View(linked, "../")
    by_path: dict[str, list[Finding]] = {}
    for finding in findings:
        by_path.setdefault(finding.path, []).append(finding)
    planned = []
    for (kind, record_id), file in linked.book.file_of.items():
        url = address(kind, record_id)
        if file.record is None or file.broken:
            here = by_path.get(f"{linked.book.shown}/{file.path}", [])
            planned.append(Planned(url, partial(_broken_page, below, kind, record_id, here), True))
        else:
            planned.append(Planned(url, partial(_record_page, below, kind, record_id)))
    for machine_id in linked.book.machines:
        url = data_sheet.sheet_address(machine_id)
        planned.append(Planned(url, partial(_sheet_page, below, machine_id)))
    for kind in KINDS:
        planned.append(Planned(f"{KINDS[kind].folder}/index.html", partial(_listing_page, below, kind)))
    for name, title, write in SPECIAL:
        planned.append(Planned(f"{name}.html", partial(_special_page, top, name, title, write)))
    return planned


SPECIAL: Final[tuple[tuple[str, str, Callable[[View], str]], ...]] = (
    ("index", "", listings.front),
    ("search", "Search", listings.search_page),
    ("coverage", "Coverage", listings.coverage),
    ("calculators", "Bench calculators", calculators.page),
)
"""Pages of the whole book: file name, title, and what writes the body."""


def _record_page(view: View, kind: str, record_id: str) -> Page:
    record = view.book.of_kind(kind)[record_id]
    return Page(address(kind, record_id), record.title, BODIES[kind](view, record_id))


def _broken_page(view: View, kind: str, record_id: str, findings: list[Finding]) -> Page:
    body = _broken(kind, record_id, findings)
    return Page(address(kind, record_id), view.book.title(kind, record_id), body)


def _sheet_page(view: View, machine_id: str) -> Page:
    title = f"{view.title('machine', machine_id)}: data sheet"
    return Page(data_sheet.sheet_address(machine_id), title, data_sheet.data_sheet(view, machine_id))


def _listing_page(view: View, kind: str) -> Page:
    return Page(f"{KINDS[kind].folder}/index.html", KIND_WORDS[kind][1], listings.listing(view, kind))


def _special_page(view: View, name: str, title: str, write: Callable[[View], str]) -> Page:
    return Page(f"{name}.html", title, write(view))


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
