"""Lists that are too long for the page of a record: which those are, and the addresses of the pages that hold them."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import partial
from typing import Final

from shearpin.book.linked import LinkedBook
from shearpin.book.safety import WITH_CAUTIONS
from shearpin.model.fields import Plate
from shearpin.model.kinds import KINDS
from shearpin.model.machines import Part
from shearpin.site import long_lists

_OWN_PAGE: Final = 60  # a list of more entries than this may stand on pages of its own
_ON_THE_PAGE: Final = 300  # links that a page of 60 KB has room for
_ROWS: Final = 150  # rows of a table that it has room for
_ROW_BYTES: Final = 320


@dataclass(frozen=True, slots=True)
class LongList:
    """A list of a record's page with pages of its own: its name in addresses, and what it holds.

    `rows` tells a table from a list of links: the ids are of parts or of values then.
    """

    name: str
    kind: str
    ids: tuple[str, ...]
    rows: bool = False


def users(linked: LinkedBook, kind: str, record_id: str, of_kind: str) -> tuple[str, ...]:
    """Return the ids of a kind's records that the page of a record leads back to."""
    if kind == "caution":
        return _showing_known(linked)(record_id, of_kind)
    return tuple(user for _, user in linked.links.origins((kind, record_id), of_kind))


def _users_of_all_kinds(linked: LinkedBook, kind: str, record_id: str) -> int:
    if kind == "caution":
        return sum(len(users(linked, kind, record_id, of_kind)) for of_kind in WITH_CAUTIONS)
    return len(linked.links.origins((kind, record_id)))


# Found for all cautions at once, and then an answer for each: a page reads no more than its own.
def _showing_known(linked: LinkedBook) -> Callable[[str, str], tuple[str, ...]]:
    return linked.remembered("pages with a caution", partial(_showing, linked))


def _showing(linked: LinkedBook, caution_id: str, of_kind: str) -> tuple[str, ...]:
    pages = linked.safety.pages_with().get(caution_id, ())
    return tuple(user for user_kind, user in pages if user_kind == of_kind)


def parts_by(linked: LinkedBook, machine_id: str, plate: Plate) -> tuple[str, ...]:
    """Return the parts of a machine that one of its plates orders, by title."""
    if plate is Plate.ENGINE and linked.applicability.engine_of(machine_id) is None:
        return ()
    return _parts_known(linked)(plate.value, machine_id)


def _parts_known(linked: LinkedBook) -> Callable[[str, str], tuple[str, ...]]:
    return linked.remembered("parts of a machine", partial(_parts_of, linked))


def _needing(linked: LinkedBook, part_id: str, part: Part) -> frozenset[str]:
    """Return the machines that can need a part: they have a system of it or a number, or a procedure for them uses it."""
    machines_for = linked.applicability.machines_for
    here = machines_for(part.applies_to)
    systems = [linked.book.systems[name] for name in part.systems if name in linked.book.systems]
    having = frozenset[str]().union(*(machines_for(system.applies_to) for system in systems))
    if not systems or here <= having:
        return here
    work = (linked.book.procedures[user] for user in users(linked, "part", part_id, "procedure"))
    return here & having.union(part.numbers, *(machines_for(each.applies_to) for each in work))


def fitting(linked: LinkedBook, kind: str, machine_id: str) -> tuple[str, ...]:
    """Return the ids of a kind's records that are for a machine, by title."""
    return _records_known(linked)(kind, machine_id)


def _records_known(linked: LinkedBook) -> Callable[[str, str], tuple[str, ...]]:
    return linked.remembered("records for a machine", partial(_records_for, linked))


# Each found for all machines at once, and then an answer for each: a page of a machine reads no more than its own.
def _parts_of(linked: LinkedBook, plate: str, machine_id: str) -> tuple[str, ...]:
    return _parts_by_machine(linked)(plate).get(machine_id, ())


def _parts_by_machine(linked: LinkedBook) -> Callable[[str], dict[str, tuple[str, ...]]]:
    return linked.remembered("parts by machine", partial(_parts, linked), kept=True)


def _records_for(linked: LinkedBook, kind: str, machine_id: str) -> tuple[str, ...]:
    return _records_by_machine(linked)(kind).get(machine_id, ())


def _records_by_machine(linked: LinkedBook) -> Callable[[str], dict[str, tuple[str, ...]]]:
    return linked.remembered("records by machine", partial(_records, linked), kept=True)


def _parts(linked: LinkedBook, plate: str) -> dict[str, tuple[str, ...]]:
    chosen = [(part.title, key, part) for key, part in linked.book.parts.items() if part.plate.value == plate]
    chosen.sort(key=lambda each: each[0])
    return _by_machine(linked, ((part_id, _needing(linked, part_id, part)) for _, part_id, part in chosen))


def _records(linked: LinkedBook, kind: str) -> dict[str, tuple[str, ...]]:
    machines_for = linked.applicability.machines_for
    return _by_machine(
        linked, ((each.id, machines_for(each.applies_to)) for each in linked.book.outlines(kind))
    )


def _by_machine(
    linked: LinkedBook, records: Iterable[tuple[str, frozenset[str]]]
) -> dict[str, tuple[str, ...]]:
    """Return the ids of these records, in their order, for each of the machines that they are for."""
    found: dict[str, list[str]] = {machine: [] for machine in linked.applicability.in_order}
    for record_id, machines in records:
        for machine in machines:
            found[machine].append(record_id)
    return {machine: tuple(ids) for machine, ids in found.items()}


MANY_LEAD_TO: Final = frozenset({"caution", "source", "machine", "engine", "procedure", "system", "tool"})
"""Kinds of which a record may have a list that grows with the book."""


def lists(linked: LinkedBook, kind: str, record_id: str) -> dict[str, LongList]:
    """Return by its name each list that stands on pages of its own; none where the page has room for all."""
    if kind not in MANY_LEAD_TO:
        return {}
    return _lists_known(linked)(kind, record_id)


def records_with_lists(linked: LinkedBook, kind: str) -> tuple[str, ...]:
    """Return the ids of a kind's records that have such lists: few, and every build asks for them."""
    return _records_with_lists_known(linked)(kind) if kind in MANY_LEAD_TO else ()


def _records_with_lists_known(linked: LinkedBook) -> Callable[[str], tuple[str, ...]]:
    return linked.remembered("records with long lists", partial(_records_with_lists, linked), kept=True)


def _records_with_lists(linked: LinkedBook, kind: str) -> tuple[str, ...]:
    lists_of = _lists_known(linked)
    return tuple([record_id for record_id in linked.book.of_kind(kind) if lists_of(kind, record_id)])


def long_list(linked: LinkedBook, kind: str, record_id: str, name: str) -> LongList:
    """Return one of these lists; raises `KeyError` where it stands on no pages of its own."""
    return _list_known(linked)(kind, record_id, name)


def _list_known(linked: LinkedBook) -> Callable[[str, str, str], LongList]:
    # An answer of its own: when one list of a record is another, the pages of its others are as they were.
    return linked.remembered("long list", partial(_list, linked))


def _list(linked: LinkedBook, kind: str, record_id: str, name: str) -> LongList:
    return lists(linked, kind, record_id)[name]


def _lists_known(linked: LinkedBook) -> Callable[[str, str], dict[str, LongList]]:
    return linked.remembered("long lists", partial(_lists, linked), kept=True)


def shares(linked: LinkedBook, kind: str, record_id: str, name: str) -> tuple[range, ...]:
    """Return which places of a list stand on which of its pages."""
    return _shares_known(linked)(kind, record_id, name)


def _shares_known(linked: LinkedBook) -> Callable[[str, str, str], tuple[range, ...]]:
    return linked.remembered("pages of a long list", partial(_shares, linked), kept=True)


def _shares(linked: LinkedBook, kind: str, record_id: str, name: str) -> tuple[range, ...]:
    listed = long_list(linked, kind, record_id, name)
    if listed.rows:
        return long_lists.portions([_ROW_BYTES] * len(listed.ids))
    return long_lists.portions_of_links(linked, listed.kind, listed.ids)


def _lists(linked: LinkedBook, kind: str, record_id: str) -> dict[str, LongList]:
    if kind == "machine":
        found = _of_machine(linked, record_id)
    elif kind == "engine":
        found = [LongList("values", "value", tuple(linked.book.engines[record_id].values), rows=True)]
    elif _users_of_all_kinds(linked, kind, record_id) <= _OWN_PAGE:
        return {}  # as for most records: nothing is asked kind after kind
    else:
        found = [
            LongList(name_of_users(kind, user), user, users(linked, kind, record_id, user)) for user in KINDS
        ]
    room = _ROWS if kind == "engine" else _ON_THE_PAGE
    if kind != "source" and sum(len(each.ids) for each in found) <= room:
        return {}
    return {each.name: each for each in found if len(each.ids) > _OWN_PAGE}


def _of_machine(linked: LinkedBook, machine_id: str) -> list[LongList]:
    links = [
        LongList(KINDS[kind].folder, kind, fitting(linked, kind, machine_id))
        for kind in ("symptom", "procedure")
    ]
    tables = [
        LongList(f"{plate.value}-parts", "part", parts_by(linked, machine_id, plate), rows=True)
        for plate in Plate
    ]
    return links + tables


def name_of_users(kind: str, of_kind: str) -> str:
    """Return the name of the list of a kind's records that use a record."""
    return f"{'on-it' if kind == 'source' else 'used-by'}-{KINDS[of_kind].folder}"


def list_address(kind: str, record_id: str, name: str, place: int = 0) -> str:
    """Return the address of one page of a list, from the root; no record has a page of such a name."""
    more = f".{place + 1}" if place else ""
    return f"{KINDS[kind].folder}/{record_id}.{name}{more}.html"


KNOWN: Final = (
    _records_with_lists_known,
    _parts_known,
    _records_known,
    _parts_by_machine,
    _records_by_machine,
    _showing_known,
    _lists_known,
    _list_known,
    _shares_known,
    long_lists.weights_known,
)
"""Each makes known to a book what lists are made from."""
