"""What a sheet that comes back would change: every row compared with its record, every fault by its cell."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Final

from shearpin.authoring.sheet import COLUMNS, ENTRY_FIELDS, TOLD_FIELDS, entry_fields, mark_of
from shearpin.authoring.sheetcells import Cell, Table, looks_like_date
from shearpin.book.book import Key
from shearpin.book.former import id_today
from shearpin.book.linked import LinkedBook
from shearpin.checks.nearest import did_you_mean
from shearpin.model.fields import Basis, Plate
from shearpin.model.machines import Plated, Value
from shearpin.model.quantity import QuantityError, parse_quantity
from shearpin.model.quantity_value import TEXT_KINDS

_NEEDED: Final = ("record", "value", "is")
# A comma that can only be a decimal one: three digits behind it could be thousands.
_DECIMAL_COMMA: Final = re.compile(r"(?<=\d),(?=(?:\d{1,2}|\d{4,})(?!\d))")


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing wrong in a sheet, with its cell."""

    place: str
    message: str
    help: str = ""


@dataclass(frozen=True, slots=True)
class EntryChange:
    """A figure of a machine or engine, before and after."""

    holder: Key
    value: str
    place: str
    before: Mapping[str, str]
    after: Mapping[str, str]


@dataclass
class SheetPlan:
    """What becomes of a sheet: `kept` counts rows that nobody touched while their record went on."""

    changes: list[EntryChange] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)
    notices: list[Problem] = field(default_factory=list)
    unchanged: int = 0
    kept: int = 0


class _Refused(Exception):
    def __init__(self, cell: Cell, message: str, advice: str = "") -> None:
        super().__init__(message)
        self.problem = Problem(cell.place, message, advice)


def plan_sheet(linked: LinkedBook, tables: Sequence[Table]) -> SheetPlan:
    """Compare the tables of a sheet with the book."""
    plan = SheetPlan()
    with_columns = [table for table in tables if table.lines and _names(table.lines[0])]
    if not with_columns:
        first = tables[0].name if tables else "the sheet"
        message = "the first line does not name the columns"
        plan.problems.append(Problem(f"{first}!A1", message, f"they are: {', '.join(COLUMNS)}"))
    seen: dict[tuple[Key, str], str] = {}
    for table in with_columns:
        columns = _columns(table, plan)
        if columns is not None:
            _Rows(linked, table, columns, plan, seen).read()
    return plan


def _names(line: Sequence[Cell]) -> bool:
    return any(cell.text.strip().lower() == "record" for cell in line)


def _columns(table: Table, plan: SheetPlan) -> dict[str, int] | None:
    """Return the place of each column, or None where the sheet cannot be read by its columns."""
    found: dict[str, int] = {}
    before = len(plan.problems)
    for index, cell in enumerate(table.lines[0]):
        name = cell.text.strip().lower()
        if not name and all(len(line) <= index or not line[index].text for line in table.lines):
            continue
        if name in found:
            plan.problems.append(Problem(cell.place, f"there are two columns `{name}`", "keep one"))
        elif name not in COLUMNS:
            advice = did_you_mean(name, COLUMNS) or f"columns: {', '.join(COLUMNS)}"
            plan.problems.append(Problem(cell.place, f"no column is called `{name}`", advice))
        else:
            found[name] = index
    missing = [name for name in _NEEDED if name not in found]
    for name in missing if len(plan.problems) == before else ():
        plan.problems.append(
            Problem(table.lines[0][0].place, f"the column `{name}` is missing", "each row needs it")
        )
    return found if len(plan.problems) == before else None


@dataclass
class _Rows:
    """Reads the rows of one table into a plan."""

    linked: LinkedBook
    table: Table
    columns: Mapping[str, int]
    plan: SheetPlan
    seen: dict[tuple[Key, str], str]

    def read(self) -> None:
        """Read every row that holds anything."""
        for line in self.table.lines[1:]:
            if any(cell.text or cell.fault for cell in line):
                self._row(line)

    def _cell(self, line: Sequence[Cell], name: str) -> Cell:
        index = self.columns.get(name, len(line))
        return line[index] if index < len(line) else Cell(line[0].place, "")

    def _row(self, line: Sequence[Cell]) -> None:
        faulty = [
            cell for name in COLUMNS if name not in TOLD_FIELDS and (cell := self._cell(line, name)).fault
        ]
        if faulty:
            self.plan.problems += [Problem(cell.place, cell.fault, cell.help) for cell in faulty]
            return
        try:
            holder = self._holder(self._cell(line, "record"))
            value = self._value(self._cell(line, "value"), holder)
            self._compare(line, holder, value)
        except _Refused as refused:
            self.plan.problems.append(refused.problem)

    def _holder(self, cell: Cell) -> Key:
        """Return the machine or engine of a row."""
        kind, _, given = cell.text.rpartition("/")
        book = self.linked.book
        kinds = (kind,) if kind in ("machine", "engine") else ("machine", "engine")
        for one in kinds:
            record_id = id_today(book, one, given)
            if book.get(one, record_id) is not None:
                if book.file_of[one, record_id].broken:
                    raise _Refused(
                        cell, f"{book.file_of[one, record_id].path} cannot be read", "mend it first"
                    )
                return one, record_id
        known = [f"{one}/{record_id}" for one in ("machine", "engine") for record_id in book.of_kind(one)]
        advice = did_you_mean(cell.text, known) or "records: " + ", ".join(known)
        raise _Refused(cell, f"there is no machine or engine `{cell.text}`", advice)

    def _value(self, cell: Cell, holder: Key) -> str:
        """Return the value of a row, which the plate of its machine or engine must decide."""
        name = id_today(self.linked.book, "value", cell.text)
        value = self.linked.book.values.get(name)
        if value is None:
            raise _Refused(
                cell, f"there is no value `{cell.text}`", did_you_mean(cell.text, self.linked.book.values)
            )
        if (value.plate is Plate.MACHINE) != (holder[0] == "machine"):
            raise _Refused(
                cell,
                f"the {value.plate.value} plate decides `{name}`",
                f"move it to the row of the {value.plate.value}",
            )
        return name

    def _compare(self, line: Sequence[Cell], holder: Key, name: str) -> None:
        where = self._cell(line, "is").place
        if (holder, name) in self.seen:
            other = self.seen[holder, name]
            raise _Refused(
                self._cell(line, "value"),
                f"`{name}` of {holder[1]} stands in {other} already",
                "keep one row",
            )
        self.seen[holder, name] = where
        owner = self.linked.book.get(*holder)
        assert isinstance(owner, Plated)
        before = entry_fields(owner.values.get(name))
        given = {field: self._cell(line, field).text for field in ENTRY_FIELDS if field in self.columns}
        row = {field: text for field in ENTRY_FIELDS if (text := given.get(field, before.get(field, "")))}
        if _plain(row) == _plain(before):
            self.plan.unchanged += 1
            return
        if self._settled_by_mark(line, row, before):
            return
        after = {**row, **self._checked(line, row, before, self.linked.book.values[name])}
        after = {field: after[field] for field in ENTRY_FIELDS if field in after}
        if after == before:
            self.plan.unchanged += 1
        else:
            self.plan.changes.append(EntryChange(holder, name, where, before, after))

    def _settled_by_mark(
        self, line: Sequence[Cell], row: Mapping[str, str], before: Mapping[str, str]
    ) -> bool:
        """Tell whether only the record has changed since the sheet was written; refuse where both have."""
        mark = self._cell(line, "mark").text
        if not mark or mark == mark_of(before):
            return False
        if mark == mark_of(row):
            self.plan.kept += 1
            return True
        now = before.get("is", "nothing")
        raise _Refused(
            self._cell(line, "is"),
            f"the record was changed since this sheet was written; it holds `{now}` now",
            "look at both, then write a new sheet or correct the record",
        )

    def _checked(
        self, line: Sequence[Cell], row: Mapping[str, str], before: Mapping[str, str], value: Value
    ) -> dict[str, str]:
        """Return the fields of a row that are written otherwise than they stand in it."""
        figure = self._cell(line, "is")
        if "is" not in row:
            if before:
                raise _Refused(
                    figure,
                    "the figure is gone; an empty cell does not delete it",
                    "delete it in the record, or write it again",
                )
            raise _Refused(figure, "the row has no figure", "write one, or leave the whole row empty")
        checked = {"is": self._figure(figure, row["is"], value)}
        basis = self._cell(line, "basis")
        if "basis" in row and row["basis"] not in set(Basis):
            words = [word.value for word in Basis]
            raise _Refused(
                basis,
                f"`{row['basis']}` is no basis",
                did_you_mean(row["basis"], words) or "one of: " + ", ".join(words),
            )
        if "source" in row:
            checked["source"] = id_today(self.linked.book, "source", row["source"])
            if checked["source"] not in self.linked.book.sources:
                advice = (
                    did_you_mean(row["source"], self.linked.book.sources)
                    or "`shearpin new source ID` begins one"
                )
                raise _Refused(self._cell(line, "source"), f"there is no source `{row['source']}`", advice)
        return checked

    def _figure(self, cell: Cell, text: str, value: Value) -> str:
        """Return a figure as it is printed."""
        if looks_like_date(text):
            message = f"`{text}` looks like a date that the spreadsheet program has made of a figure"
            raise _Refused(cell, message, "format the cell as text, then type it anew, such as `3–6 mm`")
        try:
            return parse_quantity(text, value.quantity).text
        except QuantityError as error:
            with_point = _DECIMAL_COMMA.sub(".", text)
            if with_point != text and value.quantity not in TEXT_KINDS:
                try:
                    read = parse_quantity(with_point, value.quantity).text
                except QuantityError:
                    pass
                else:
                    self.plan.notices.append(Problem(cell.place, f"`{text}` is read as `{read}`"))
                    return read
            raise _Refused(cell, str(error), error.hint) from error


def _plain(entry: Mapping[str, str]) -> dict[str, str]:
    """Return the fields with single blanks, as a sheet holds them."""
    return {name: " ".join(text.split()) for name, text in entry.items()}


def field_changes(change: EntryChange) -> Iterator[tuple[str, str, str]]:
    """Yield the fields that a change touches, with what they held and will hold; nothing is an empty text."""
    for name in ENTRY_FIELDS:
        old, new = change.before.get(name, ""), change.after.get(name, "")
        if old != new:
            yield name, old, new
