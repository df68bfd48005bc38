"""Every page of the site that comes from records: address, title, and the function that writes its body."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path
from types import MappingProxyType
from typing import Final

from shearpin.book.book import Book, Key
from shearpin.book.linked import LinkedBook
from shearpin.diagnosis.history import History
from shearpin.model.finding import Finding, Severity
from shearpin.model.keptfile import has_record
from shearpin.model.kinds import KINDS
from shearpin.site import apart, calculators, coverage, job_page, linked_data, listings, long_lists
from shearpin.site.answers import make_known
from shearpin.site.blanks import has_blanks
from shearpin.site.bodies import apart as bodies_apart
from shearpin.site.bodies import apparatus, data_sheet, identity, knowledge, parts, work
from shearpin.site.broken import broken_page
from shearpin.site.common import KIND_WORDS
from shearpin.site.rule_pages import rule_pages
from shearpin.site.view import View, address


@dataclass(frozen=True, slots=True)
class Page:
    """One finished page without the theme's shell; `encoded` is the body as bytes, where somebody had to know how many.

    What is left out of one that is `cut` hangs on how much goes into its blanks.
    """

    url: str
    title: str
    body: str
    encoded: bytes | None = field(default=None, repr=False, compare=False)
    cut: bool = field(default=False, compare=False)


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
        "part": parts.part,
        "tool": apparatus.tool,
        "term": apparatus.term,
        "source": apparatus.source,
        "figure": apparatus.figure,
        "edition": apparatus.edition,
    }
)


@dataclass(frozen=True, slots=True)
class Planned:
    """A file that is to be made: its address, and what makes it.

    One that shows findings is made in every build; `bare` has no shell of the theme around it. One of a `group` rests on
    much that the others of it rest on too: one process makes them all, one after the other.
    """

    url: str
    make: Callable[[], Page]
    shows_findings: bool = False
    bare: bool = False
    group: str = ""


def all_pages(
    linked: LinkedBook, findings: tuple[Finding, ...] = (), history: History | None = None
) -> Iterator[Page]:
    """Yield every page of the book, records first."""
    planned = planned_pages(View(linked, "", history), View(linked, "../", history), findings)
    return (page.make() for page in planned)


def planned_pages(top: View, below: View, findings: tuple[Finding, ...]) -> Iterator[Planned]:
    """Yield every page of the book, records first, none of it made yet; the views are of the root and of a folder.

    A record with errors shows them in place of its content; the rest is not affected.
    """
    book = top.book
    for view in (top, below):
        make_known(view)
    by_path = errors_by_path(book, findings)
    for key, file in book.file_of.items():
        yield page_of_record(below, key, by_path.get(file.path, ()))
    for machine_id in book.machines:
        for part in range(len(data_sheet.shares(below, machine_id))):
            url = data_sheet.sheet_address(machine_id, part)
            yield Planned(url, partial(_sheet, below, machine_id, part, url))
    for kind in KINDS:
        for part in range(len(long_lists.shared_out(top.linked, kind))):
            url = long_lists.part_address(KINDS[kind].folder, part)
            yield Planned(url, partial(_listing, below, kind, part, url))
    for kind in KINDS:
        for record_id in apart.records_with_lists(below.linked, kind):
            yield from _list_pages(below, kind, record_id)
    if not book.is_part:  # a course pack is for those who work from it, not for those who write it
        yield from _pages_for_writers(top, below)
    for url, title, write in SPECIAL:
        yield Planned(url, partial(_special, top, url, title, write))


def errors_by_path(book: Book, findings: Iterable[Finding]) -> Mapping[str, Sequence[Finding]]:
    """Return the errors among findings by the path below `kb/` of each file the record of which they hide."""
    shown = book.shown.replace("\\", "/").rstrip("/")
    by_path: dict[str, list[Finding]] = {}
    for finding in findings:
        if finding.severity is Severity.ERROR:
            for path in dict.fromkeys((finding.path, *finding.hides)):
                by_path.setdefault(path.removeprefix(f"{shown}/"), []).append(finding)
    return by_path


def page_of_record(below: View, key: Key, errors: Sequence[Finding]) -> Planned:
    """Return the page of a record; one with errors shows them in place of its content."""
    kind, record_id = key
    url = address(kind, record_id)
    file = below.book.file_of[key]
    if not has_record(file) or file.broken or errors:
        place = below.book.kb / file.path
        return Planned(url, partial(_broken, below, kind, record_id, place, errors), shows_findings=True)
    return Planned(url, partial(_record, below, kind, record_id), group=group_of(kind, record_id))


def group_of(kind: str, record_id: str) -> str:
    """Return the group of the files that show the diagnosis of a symptom; none for other records."""
    return f"symptom {record_id}" if kind == "symptom" else ""


def _pages_for_writers(top: View, below: View) -> Iterator[Planned]:
    answers = coverage.Answers(top.linked)
    for system_id in top.book.systems:
        make = partial(_covered, below, answers, system_id)
        yield Planned(f"coverage/{system_id}.html", make, group="coverage")
    yield Planned("coverage.html", partial(_summary, top, answers), group="coverage")
    for url, title, body in rule_pages():
        yield Planned(url, partial(Page, url, title, body))


SPECIAL: Final[tuple[tuple[str, str, Callable[[View], str]], ...]] = (
    ("index.html", "", listings.front),
    ("search.html", "Search", listings.search_page),
    ("job.html", "Job", job_page.page),
    ("calculators.html", "Bench calculators", calculators.page),
)
"""Pages of the whole book: address, title, and what writes the body."""


MOST_BYTES: Final = 51_400
"""Of a body, so that the page with its shell stays within 60 KB."""

_REFERENCES: Final = re.compile(r' data-ref="(?:tool|part|system|value|machine|source|term|figure):[^"]*"')


def _record(view: View, kind: str, record_id: str) -> Page:
    body = BODIES[kind](view, record_id) + linked_data.block(view, kind, record_id)
    encoded = body.encode()
    heavy = view.size(encoded) > MOST_BYTES
    cut = heavy and has_blanks(encoded)
    if heavy:
        lighter = view.lightened()
        body = BODIES[kind](lighter, record_id) + linked_data.block(lighter, kind, record_id)
        if view.size(body.encode()) > MOST_BYTES:
            body = _without_references(body)
        encoded = body.encode()
    return Page(address(kind, record_id), view.book.title(kind, record_id), body, encoded, cut)


def _without_references(body: str) -> str:
    """Return a body that is still too heavy without what links say by their addresses as well.

    Those to other work and to causes keep it, for other programs follow them.
    """
    return _REFERENCES.sub("", body)


def _broken(view: View, kind: str, record_id: str, place: Path, found: Sequence[Finding]) -> Page:
    body = broken_page(kind, record_id, place, found)
    return Page(address(kind, record_id), view.book.title(kind, record_id), body)


def _sheet(view: View, machine_id: str, place: int, url: str) -> Page:
    title = f"{view.title('machine', machine_id)}: data sheet"
    body = data_sheet.data_sheet(view, machine_id, place)
    encoded = body.encode()
    heavy = view.size(encoded) > MOST_BYTES
    if heavy:
        body = _without_references(body)
    return Page(url, title, body, cut=heavy and has_blanks(encoded))


def _listing(view: View, kind: str, place: int, url: str) -> Page:
    return Page(url, KIND_WORDS[kind][1], listings.listing(view, kind, place))


def _list_pages(view: View, kind: str, record_id: str) -> Iterator[Planned]:
    """Yield the pages of the lists that are too long for the page of their record."""
    for name in apart.lists(view.linked, kind, record_id):
        for place in range(len(apart.shares(view.linked, kind, record_id, name))):
            url = apart.list_address(kind, record_id, name, place)
            yield Planned(url, partial(_list_page, view, kind, record_id, name, place, url))


def _list_page(view: View, kind: str, record_id: str, name: str, place: int, url: str) -> Page:
    listed = apart.long_list(view.linked, kind, record_id, name)
    title = bodies_apart.title(view, kind, record_id, listed)
    return Page(url, title, bodies_apart.list_page(view, kind, record_id, listed, place))


def _covered(view: View, answers: coverage.Answers, system_id: str) -> Page:
    title, body = coverage.of_system(view, answers.of_system(system_id), system_id)
    return Page(f"coverage/{system_id}.html", title, body)


def _summary(view: View, answers: coverage.Answers) -> Page:
    return Page("coverage.html", "Coverage", coverage.summary(view, answers.whole()))


def _special(view: View, url: str, title: str, write: Callable[[View], str]) -> Page:
    return Page(url, title, write(view))
