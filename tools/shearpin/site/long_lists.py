"""Lists that would outweigh a page, shared out over several: the first at the list's own address, the others beside it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from typing import Final

from shearpin.book.book import Outline
from shearpin.book.linked import LinkedBook
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


def _portions_of_kind(linked: LinkedBook, kind: str, entries: Sequence[Outline]) -> tuple[range, ...]:
    """Return how the list of a kind is shared out, by the entries in its order."""
    tabled = kind in _TABLED
    weights = [
        _LINK
        + (_ROW if tabled else _ENTRY + entry.said)
        + 2 * len(entry.id)
        + len(entry.title.encode())
        + _fits(linked, entry)
        + _more(linked, kind, entry.id)
        for entry in entries
    ]
    return portions([round(weight * _ROUGHLY) for weight in weights])


def _fits(linked: LinkedBook, entry: Outline) -> int:
    """Return what the machines weigh that an entry names, up to a limit, where it is not for all of them."""
    machines = len(linked.applicability.in_order)
    here = len(linked.applicability.machines_for(entry.applies_to))
    return _MACHINE * here if entry.applies_to is not None and here < min(machines, FITS_LIMIT) else 0


def _more(linked: LinkedBook, kind: str, record_id: str) -> int:
    """Return what only entries of parts and terms have: order numbers, other names."""
    if kind == "part":
        numbers = linked.book.parts[record_id].numbers
        return _NUMBER * len(numbers) + (_MACHINE * len(linked.applicability.in_order) if numbers else 0)
    if kind == "term":
        term = linked.book.terms[record_id]
        return _ALSO + sum(len(word.encode()) + 2 for word in (*term.also, *term.avoid))
    return 0


def shared_out(linked: LinkedBook, kind: str) -> tuple[tuple[str, ...], ...]:
    """Return which ids stand on which page of a kind's list."""
    return linked.remembered("pages of a list", partial(_shared_out, linked), kept=True)(kind)


def _shared_out(linked: LinkedBook, kind: str) -> tuple[tuple[str, ...], ...]:
    entries = sorted(linked.book.outlines(kind), key=lambda entry: (entry.title.casefold(), entry.id))
    return tuple(
        tuple(entry.id for entry in entries[share.start : share.stop])
        for share in _portions_of_kind(linked, kind, entries)
    )


def portions_of_links(linked: LinkedBook, kind: str, ids: Sequence[str]) -> tuple[range, ...]:
    """Return how a list of nothing but links is shared out."""
    return portions(list(map(weights_known(linked)(kind).__getitem__, ids)))


def weights_known(linked: LinkedBook) -> Callable[[str], dict[str, int]]:
    """Return what gives by id what a link to each record of a kind weighs: many lists hold the same ones."""
    return linked.remembered("weights of links", partial(_weights_of_links, linked))


def _weights_of_links(linked: LinkedBook, kind: str) -> dict[str, int]:
    return {each.id: _LINK + 2 * len(each.id) + len(each.title) for each in linked.book.outlines(kind)}


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
