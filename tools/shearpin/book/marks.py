"""The marks of what is read of a book: each changes with the one thing that it is the mark of."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import cache, partial

from shearpin.book.book import Outline
from shearpin.book.gist import plain_gist
from shearpin.book.inputs import (
    BONES,
    ENGINE_OF,
    EVERYWHERE,
    EXISTING,
    FACTS,
    GIST,
    MACHINES_FOR,
    REASONS_AGAINST,
    RECORD,
    RECORDED,
)
from shearpin.book.linked import LinkedBook
from shearpin.book.marking import mark_of, mark_of_plain
from shearpin.book.values import quantity_of
from shearpin.model.bones import bones
from shearpin.model.conditiontext import condition_of, text_of
from shearpin.model.machines import Plated


def marks_of(linked: LinkedBook) -> dict[str, Callable[..., bytes]]:
    """Return, for each kind of input, what gives the mark of one."""
    book = linked.book

    def record(kind: str, record_id: str) -> bytes:
        file = book.file_of.get((kind, record_id))
        return file.digest if file is not None else b"none"

    def title(kind: str, record_id: str) -> bytes:
        there = (kind, record_id) in book.file_of
        return mark_of(there, not book.has(kind, record_id), book.title(kind, record_id))

    def bones_of(kind: str, record_id: str) -> bytes:
        file = book.file_of.get((kind, record_id))
        if file is None or file.record is None:
            return mark_of(file is None)
        return mark_of(file.path, file.broken, bones(file.record))

    @cache
    def of_kind(kind: str) -> bytes:
        return mark_of_plain(
            [(file.path, file.digest) for file in book.files if kind in ("", file.kind.name)]
        )

    return {
        RECORD: record,
        "title": title,
        BONES: bones_of,
        GIST: partial(_mark_of_gist, linked),
        RECORDED: partial(_mark_of_recorded, linked),
        EXISTING: lambda: mark_of_plain(tuple(book.file_of)),
        "ids": lambda kind: mark_of_plain(tuple(book.of_kind(kind))),
        "kind": of_kind,
        "outlines": lambda kind: _mark_of_outlines(book.outlines(kind)),
        "origins": partial(_mark_of_origins, linked),
        "outside": lambda: mark_of(sorted(book.outside.items())),
        "book": lambda: mark_of(of_kind(""), book.strays),
        **_of_machines(linked),
    }


def _of_machines(linked: LinkedBook) -> dict[str, Callable[..., bytes]]:
    """Return the same for what is told of machines."""
    return {
        FACTS: partial(_mark_of_facts, linked),
        EVERYWHERE: lambda: mark_of_plain(sorted(linked.applicability.everywhere)),
        MACHINES_FOR: partial(_mark_of_machines, linked),
        REASONS_AGAINST: partial(_mark_of_reasons, linked),
        ENGINE_OF: partial(_mark_of_engine, linked),
        "order of machines": lambda: mark_of(linked.applicability.in_order),
    }


def _mark_of_origins(linked: LinkedBook, kind: str, record_id: str) -> bytes:
    return mark_of_plain(sorted(set(linked.links.to.get((kind, record_id), ()))))


def _mark_of_facts(linked: LinkedBook) -> bytes:
    return mark_of(*(machine.plain for machine in linked.applicability.machines.values()))


def _mark_of_machines(linked: LinkedBook, condition: str) -> bytes:
    return mark_of_plain(sorted(linked.applicability.machines_for(condition_of(condition))))


def _mark_of_reasons(linked: LinkedBook, condition: str) -> bytes:
    told, against = linked.applicability, condition_of(condition)
    return mark_of_plain([(each, told.reason_against(against, each)) for each in told.machines])


def _mark_of_engine(linked: LinkedBook, machine_id: str) -> bytes:
    there = machine_id in linked.applicability.machines
    return mark_of(there and linked.applicability.engine_of(machine_id))


def _mark_of_gist(linked: LinkedBook, kind: str, record_id: str) -> bytes:
    book = linked.book
    heading = book.heading(kind, record_id)
    if heading is None:
        return mark_of((kind, record_id) in book.file_of)
    file, pointers = book.file_of[kind, record_id], linked.links.pointers.get((kind, record_id))
    gist = book.gist(kind, record_id).for_pages()
    own = text_of(heading.applies_to), heading.systems, plain_gist(gist)
    return mark_of(file.path, file.broken, own, pointers)


def _mark_of_recorded(linked: LinkedBook, kind: str, record_id: str) -> bytes:
    book = linked.book
    record = book.get(kind, record_id)
    if not isinstance(record, Plated):
        return mark_of((kind, record_id) in book.file_of)
    # Whether a figure can be read hangs on what the value measures too, which whoever reads this notes besides.
    return mark_of(
        [
            (
                name,
                entry.basis is None,
                (measured := book.values.get(name)) and quantity_of(measured, entry) is None,
            )
            for name, entry in record.values.items()
        ]
    )


def _mark_of_outlines(outlines: Sequence[Outline]) -> bytes:
    conditions = {id(each.applies_to): each.applies_to for each in outlines}  # many have one in common
    told = {number: text_of(condition) for number, condition in conditions.items()}
    return mark_of_plain([(each.id, each.title, each.said, told[id(each.applies_to)]) for each in outlines])
