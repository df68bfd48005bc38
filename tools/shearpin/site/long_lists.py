"""Lists that would outweigh a page, shared out over several: the first at the list's own address, the others beside it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from shearpin.book.linked import LinkedBook
from shearpin.model.fields import Record
from shearpin.model.kinds import KINDS
from shearpin.model.knowledge import Term
from shearpin.model.machines import Part
from shearpin.site.html import text

_MOST_BYTES: Final = 53_000  # of the rows of a list; shell and heading come on top
_TABLED: Final = frozenset({"value", "part", "machine"})  # lists without a sentence beside each record
_LINK: Final = 52  # bytes of the markup of a link besides the id, which it holds twice
_ROW: Final = 80  # of a row besides its link
_NUMBER: Final = 105  # of an order number with its machines


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


def in_order(linked: LinkedBook, kind: str) -> list[tuple[str, Record]]:
    """Return the records of a kind as lists have them, by title."""
    return sorted(linked.book.of_kind(kind).items(), key=lambda item: (item[1].title.casefold(), item[0]))


def portions_of_kind(
    kind: str, records: Sequence[tuple[str, Record]], summaries: Sequence[str]
) -> tuple[range, ...]:
    """Return how the list of a kind is shared out, by the records in its order and the sentence beside each."""
    if kind in _TABLED:
        summaries = [""] * len(records)
    weights = [
        _LINK + _ROW + 2 * len(record_id) + len(record.title.encode()) + len(said.encode()) + _more(record)
        for (record_id, record), said in zip(records, summaries, strict=True)
    ]
    return portions(weights)


def _more(record: Record) -> int:
    numbers = _NUMBER * len(record.numbers) if isinstance(record, Part) else 0
    if isinstance(record, Term):
        return numbers + sum(len(word.encode()) + 2 for word in (*record.also, *record.avoid))
    return numbers


def portions_of_links(linked: LinkedBook, kind: str, ids: Sequence[str]) -> tuple[range, ...]:
    """Return how a list of nothing but links is shared out."""
    titles = (linked.book.title(kind, record_id) for record_id in ids)
    return portions(
        [_LINK + 2 * len(record_id) + len(title) for record_id, title in zip(ids, titles, strict=True)]
    )


def part_address(folder: str, place: int) -> str:
    """Return the address of one page of a kind's list, from the root; no record has a page of such a name."""
    return f"{folder}/index.html" if place == 0 else f"{folder}/index.{place + 1}.html"


def ways(addresses: Sequence[str], titles: Sequence[str], here: int, shares: Sequence[range]) -> str:
    """Return the way to every page of a list, called by the first letters of its first and last title."""
    if len(shares) == 1:
        return ""
    links = []
    for place, share in enumerate(shares):
        words = text(f"{_begin(titles[share[0]])} to {_begin(titles[share[-1]])}")
        current = ' aria-current="page"' if place == here else ""
        links.append(f'<a href="{addresses[place]}"{current}>{words}</a>')
    return f'<nav class="jumps" aria-label="Pages of this list">{"".join(links)}</nav>'


def _begin(title: str) -> str:
    """Return the first word, cut short where it is long: enough to find one's page by."""
    word = title.split()[0]
    return word if len(word) <= 12 else f"{word[:11]}…"


# ---- what a source carries ----------------------------------------------------------------------------------------

_OWN_PAGE: Final = 60  # more records of a kind than this stand on a page of their own


def carried(linked: LinkedBook, source_id: str, kind: str) -> tuple[str, ...]:
    """Return the ids of a kind's records that rest on a source."""
    return tuple(origin for _, origin in linked.links.origins(("source", source_id), kind))


def apart(linked: LinkedBook, source_id: str) -> tuple[str, ...]:
    """Return the kinds of which so many records rest on a source that they have a page of their own."""
    return tuple(kind for kind in KINDS if len(carried(linked, source_id, kind)) > _OWN_PAGE)


def carried_address(source_id: str, kind: str, place: int = 0) -> str:
    """Return the address of the records of a kind that rest on a source, from the root."""
    more = f".{place + 1}" if place else ""
    return f"{KINDS['source'].folder}/{source_id}.on-it-{KINDS[kind].folder}{more}.html"
