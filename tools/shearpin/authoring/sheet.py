"""Values of machines and engines as rows of a sheet: one row for each figure, with where it comes from.

A row has room for basis, source, place and note; one column for each machine would not. What a sheet brings back is
compared with the record as it was when the sheet was written, by a mark in each row: a row that its writer did not
touch changes nothing, and one that was touched in both places is told instead of written.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Final

from shearpin.book.applicability import Applicability
from shearpin.book.book import Book, Key
from shearpin.model.fields import Plate
from shearpin.model.machines import Plated, Value, ValueEntry
from shearpin.model.quantity_value import TEXT_KINDS
from shearpin.model.units import units_of

ENTRY_FIELDS: Final = ("is", "basis", "source", "place", "note")
"""What a writer fills in."""

TOLD_FIELDS: Final = ("title", "measures", "plausible")
"""What the sheet says about a row; read past on the way back."""

COLUMNS: Final = ("record", "value", *TOLD_FIELDS, *ENTRY_FIELDS, "mark")
"""The columns, in their order: a record is `machine/osmere-d24`; the mark belongs to the program."""

Entry = Mapping[str, str]
"""The fields of one figure that are filled in, by name."""


@dataclass(frozen=True, slots=True)
class Row:
    """One line of a sheet on its way out."""

    record: str
    value: str
    title: str
    measures: str
    plausible: str
    entry: Entry

    @property
    def cells(self) -> tuple[str, ...]:
        """The texts of the row in the order of the columns."""
        fields = (self.entry.get(name, "") for name in ENTRY_FIELDS)
        return (
            self.record,
            self.value,
            self.title,
            self.measures,
            self.plausible,
            *fields,
            mark_of(self.entry),
        )


def mark_of(entry: Entry) -> str:
    """Return a short digest of a figure as it is recorded; of none, a word.

    It begins with a letter, so that no spreadsheet program takes `28e5` for a number.
    """
    if not entry:
        return "new"
    text = "\x1f".join(" ".join(entry.get(name, "").split()) for name in ENTRY_FIELDS)
    return "m" + hashlib.sha256(text.encode("utf-8")).hexdigest()[:10]


def entry_fields(entry: ValueEntry | None) -> dict[str, str]:
    """Return the fields of a figure that are filled in."""
    if entry is None:
        return {}
    given = {
        "is": entry.is_,
        "basis": entry.basis.value if entry.basis is not None else None,
        "source": entry.source,
        "place": entry.place,
        "note": entry.note,
    }
    return {name: text for name, text in given.items() if text is not None}


def rows(book: Book, holders: Iterable[Key], names: Iterable[str]) -> Iterator[Row]:
    """Yield a row for each of these values on each of these machines and engines that has, or should have, it."""
    applicability = Applicability(book)
    wanted = sorted(names)
    for kind, record_id in holders:
        owner = book.get(kind, record_id)
        if not isinstance(owner, Plated):
            continue
        for name in wanted:
            value = book.values[name]
            entry = entry_fields(owner.values.get(name))
            if entry or _should_have(book, applicability, (kind, record_id), value):
                yield Row(f"{kind}/{record_id}", name, value.title, _measures(value), value.band or "", entry)


def _should_have(book: Book, applicability: Applicability, holder: Key, value: Value) -> bool:
    """Tell whether the plate of a machine or engine decides this value, and some machine with it needs it."""
    kind, record_id = holder
    if value.plate is not (Plate.MACHINE if kind == "machine" else Plate.ENGINE):
        return False
    machines = applicability.machines_for(value.applies_to)
    if kind == "machine":
        return record_id in machines
    return any(book.machines[machine].engine == record_id for machine in machines)


def _measures(value: Value) -> str:
    """Return what is measured, with the usual units."""
    if value.quantity in TEXT_KINDS:
        return value.quantity.words
    units = [unit.symbol for unit in units_of(value.quantity) if unit.symbol][:3]
    return f"{value.quantity.words} ({', '.join(units)})" if units else value.quantity.words
