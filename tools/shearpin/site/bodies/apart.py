"""Pages of the lists that are too long for the page of their record, and the ways to them."""

from __future__ import annotations

from collections.abc import Mapping
from functools import partial
from types import MappingProxyType
from typing import Final

from shearpin.model.fields import Plate
from shearpin.site import apart, common, long_lists
from shearpin.site.apart import LongList
from shearpin.site.bodies import identity, parts
from shearpin.site.html import bullets, text
from shearpin.site.view import View

_HEADINGS: Final[Mapping[str, str]] = MappingProxyType(
    {
        "symptoms": "Symptoms on this machine",
        "procedures": "What can be done to it",
        "machine-parts": "Parts by the machine plate",
        "engine-parts": "Parts by the engine plate",
        "values": "Values by the engine plate",
    }
)
_RELATIONS: Final[Mapping[str, str]] = MappingProxyType(
    {"source": "that rest on it", "caution": "that show it"}
)


def heading(kind: str, listed: LongList) -> str:
    """Return what a list is called on its own pages."""
    words = common.KIND_WORDS[listed.kind][1]
    return _HEADINGS.get(listed.name) or f"{words} {_RELATIONS.get(kind, 'that use it')}"


def list_page(view: View, kind: str, record_id: str, listed: LongList, place: int) -> str:
    """Return the body of one page of a list."""
    shares = apart.shares(view.linked, kind, record_id, listed.name)
    at = partial(apart.list_address, kind, record_id, listed.name)
    addresses = [view.root + at(each) for each in range(len(shares))]
    ways = long_lists.ways(addresses, lambda at: view.title(listed.kind, listed.ids[at]), place, shares)
    shown = listed.ids[shares[place].start : shares[place].stop]
    content = _rows(view, kind, record_id, listed, shown) or bullets(
        view.ref(listed.kind, each) for each in shown
    )
    title = text(heading(kind, listed))
    return (
        f'<article data-kind="page" data-id="{at(place).removesuffix(".html")}">'
        f'<header class="page-head"><p class="kind">{view.ref(kind, record_id)}</p><h1>{title}</h1></header>'
        f"{ways}<section>{content}</section></article>"
    )


def _rows(view: View, kind: str, record_id: str, listed: LongList, shown: tuple[str, ...]) -> str:
    if not listed.rows:
        return ""
    if kind == "engine":
        return identity.engine_values(view, record_id, shown)
    plate = Plate.MACHINE if listed.name == "machine-parts" else Plate.ENGINE
    return parts.parts_table(view, record_id, plate, shown)


def title(view: View, kind: str, record_id: str, listed: LongList) -> str:
    """Return the title of the pages of a list."""
    return f"{heading(kind, listed)}: {view.title(kind, record_id)}"
