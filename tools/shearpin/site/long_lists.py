"""Lists that would outweigh a page, shared out over several: the first at the list's own address, the others beside it."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import Final

from shearpin.book.linked import LinkedBook
from shearpin.model.fields import Record
from shearpin.model.knowledge import Term
from shearpin.model.machines import Part
from shearpin.site.html import text

_MOST_BYTES: Final = 50_000  # of the rows of a list; shell and heading come on top
_ROUGHLY: Final = 1.03  # what an entry may weigh more than estimated
FITS_LIMIT: Final = 40  # machines named beside an entry of a list; more would outweigh the list
_TABLED: Final = frozenset({"value", "part", "machine"})  # lists without a sentence beside each record
_LINK: Final = 66  # bytes of the markup of a link besides the id, which it holds twice
_ROW: Final = 56  # of a row of a table besides its link
_ENTRY: Final = 10  # of an entry with its sentence besides its link
_NUMBER: Final = 135  # of an order number with its machines
_ALSO: Final = 45  # of the other names of a term
_MACHINE: Final = 16  # of a machine's id beside an order number


def portions(weights: Sequence[int]) -> tuple[range, ...]:
    """Return the places of each page's entries: as few pages as hold them all, about equally heavy."""
    total = sum(weights)
    pages = max(1, -(-total // _MOST_BYTES))
    found: list[range] = []
    start, reached = 0, 0
    for place, weight in enumerate(weights):
        reached += weight
        if reached * pages >= total * (len(found) + 1) and len(found) < pages - 1:
            found.append(range(start, place + 1))
            start = place + 1
    return (*found, range(start, len(weights)))


def _in_order(linked: LinkedBook, kind: str) -> list[tuple[str, Record]]:
    """Return the records of a kind as lists have them, by title."""
    return sorted(linked.book.of_kind(kind).items(), key=lambda item: (item[1].title.casefold(), item[0]))


def _portions_of_kind(
    linked: LinkedBook, kind: str, records: Sequence[tuple[str, Record]], summaries: Sequence[str]
) -> tuple[range, ...]:
    """Return how the list of a kind is shared out, by the records in its order and the sentence beside each."""
    if kind in _TABLED:
        summaries = [""] * len(records)
    weights = [
        _LINK
        + (_ROW if kind in _TABLED else _ENTRY)
        + 2 * len(record_id)
        + len(record.title.encode())
        + len(said.encode())
        + _more(linked, record)
        for (record_id, record), said in zip(records, summaries, strict=True)
    ]
    return portions([round(weight * _ROUGHLY) for weight in weights])


def _more(linked: LinkedBook, record: Record) -> int:
    machines = len(linked.applicability.in_order)
    # An entry that is not for all machines names those it is for, up to a limit.
    condition = getattr(record, "applies_to", None)
    here = len(linked.applicability.machines_for(condition))
    fits = _MACHINE * here if condition is not None and here < min(machines, FITS_LIMIT) else 0
    if isinstance(record, Part):
        return fits + _NUMBER * len(record.numbers) + _MACHINE * (machines if record.numbers else 0)
    if isinstance(record, Term):
        return fits + _ALSO + sum(len(word.encode()) + 2 for word in (*record.also, *record.avoid))
    return fits


def shared_out(linked: LinkedBook, kind: str) -> tuple[tuple[str, ...], ...]:
    """Return which ids stand on which page of a kind's list."""
    return linked.remembered("pages of a list", partial(_shared_out, linked), kept=True)(kind)


def _shared_out(linked: LinkedBook, kind: str) -> tuple[tuple[str, ...], ...]:
    records = _in_order(linked, kind)
    summaries = [summary_of(record) for _, record in records]
    return tuple(
        tuple(record_id for record_id, _ in records[share.start : share.stop])
        for share in _portions_of_kind(linked, kind, records, summaries)
    )


def summary_of(record: Record) -> str:
    """Return the sentence that lists and search results show of a record."""
    for name in ("summary", "purpose", "mechanism", "definition", "hazard", "measured", "alt"):
        content = getattr(record, name, None)
        if content:
            return str(content)
    return ""


def portions_of_links(linked: LinkedBook, kind: str, ids: Sequence[str]) -> tuple[range, ...]:
    """Return how a list of nothing but links is shared out."""
    titles = (linked.book.title(kind, record_id) for record_id in ids)
    return portions(
        [_LINK + 2 * len(record_id) + len(title) for record_id, title in zip(ids, titles, strict=True)]
    )


def part_address(folder: str, place: int) -> str:
    """Return the address of one page of a kind's list, from the root; no record has a page of such a name."""
    return f"{folder}/index.html" if place == 0 else f"{folder}/index.{place + 1}.html"


def ways(addresses: Sequence[str], ends: Sequence[tuple[str, str]], here: int) -> str:
    """Return the way to every page of a list, called by the first letters of its first and last title, `ends`."""
    if len(addresses) == 1:
        return ""
    links = []
    for place, (first, last) in enumerate(ends):
        words = text(f"{_begin(first)} to {_begin(last)}")
        current = ' aria-current="page"' if place == here else ""
        links.append(f'<a href="{addresses[place]}"{current}>{words}</a>')
    return f'<nav class="jumps" aria-label="Pages of this list">{"".join(links)}</nav>'


def _begin(title: str) -> str:
    """Return the first word, cut short where it is long: enough to find one's page by."""
    word = title.split()[0]
    return word if len(word) <= 12 else f"{word[:11]}…"
