"""The repair log as a spreadsheet file: comma-separated values of RFC 4180, safe to open, exact when read back."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

from shearpin.diagnosis.repair import COLUMNS, REQUIRED, Fault, Repair, read_repair, shown

MAX_BYTES: Final = 20_000_000
_FORMULA_STARTS: Final = ("=", "+", "-", "@", "＝", "＋", "－", "＠")
"""A spreadsheet takes what begins so for a formula, the wide forms of East Asian keyboards too."""


@dataclass(frozen=True, slots=True)
class CsvFault:
    """What is wrong in a file: row as a spreadsheet counts it (1 is the heading), column by name and letter."""

    row: int
    column: str
    message: str

    def __str__(self) -> str:
        place = f"row {self.row}" + (f", column {self.column}" if self.column else "")
        return f"{place}: {self.message}"


def write_csv(repairs: Iterable[Repair]) -> str:
    """Return the log as text with a heading row; lines end as RFC 4180 has it.

    A text that a spreadsheet would take for a formula gets an apostrophe before it, which `read_csv` takes away.
    """
    stream = io.StringIO(newline="")
    writer = csv.writer(stream, lineterminator="\r\n")
    writer.writerow(COLUMNS)
    for repair in repairs:
        row = repair.as_row()
        writer.writerow([_guarded(row[column]) for column in COLUMNS])
    return stream.getvalue()


def read_csv(content: bytes) -> tuple[Repair, ...] | tuple[CsvFault, ...]:
    """Return the repairs of a file, or everything that is wrong with it; one fault makes the whole file wrong."""
    if len(content) > MAX_BYTES:
        return (CsvFault(1, "", f"the file has more than {MAX_BYTES // 1_000_000} MB"),)
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        row = content.count(b"\n", 0, error.start) + 1
        return (CsvFault(row, "", "this is not UTF-8 text; save it as “CSV UTF-8”"),)
    rows, faults = _rows(text)
    if faults:
        return faults
    heading, faults = _heading(rows)
    if faults:
        return faults
    return _repairs(rows, heading)


def _rows(text: str) -> tuple[list[tuple[int, list[str]]], tuple[CsvFault, ...]]:
    """Return the rows that hold something, with their numbers."""
    if "\0" in text:
        return [], (CsvFault(text.count("\n", 0, text.index("\0")) + 1, "", "there is a NUL character"),)
    reader = csv.reader(io.StringIO(text, newline=""), strict=True)
    rows: list[tuple[int, list[str]]] = []
    number = 0
    try:
        for cells in reader:
            number += 1
            if any(cell.strip() for cell in cells):
                rows.append((number, cells))
    except csv.Error as error:
        return [], (CsvFault(number + 1, "", f"this is not a row of comma-separated values ({error})"),)
    return rows, ()


def _heading(rows: Sequence[tuple[int, list[str]]]) -> tuple[list[str], tuple[CsvFault, ...]]:
    expected = ",".join(COLUMNS)
    if not rows:
        return [], (CsvFault(1, "", f"the file is empty; its first row must be {expected}"),)
    number, cells = rows[0]
    heading = [cell.strip().lower() for cell in cells]
    if len(heading) == 1 and (";" in heading[0] or "\t" in heading[0]):
        return [], (CsvFault(number, "", "the cells are not parted by commas; save it with commas"),)
    faults = [
        CsvFault(number, _letter(index), f"there is no column `{shown(name)}`; columns are {expected}")
        for index, name in enumerate(heading)
        if name not in COLUMNS
    ]
    faults += [
        CsvFault(number, _letter(index), f"the column `{name}` stands there twice")
        for index, name in enumerate(heading)
        if name in COLUMNS and name in heading[:index]
    ]
    faults += [
        CsvFault(number, "", f"the column `{name}` is missing")
        for name in COLUMNS
        if name in REQUIRED and name not in heading
    ]
    return heading, tuple(faults)


def _repairs(
    rows: Sequence[tuple[int, list[str]]], heading: Sequence[str]
) -> tuple[Repair, ...] | tuple[CsvFault, ...]:
    repairs: list[Repair] = []
    faults: list[CsvFault] = []
    for number, cells in rows[1:]:
        if len(cells) != len(heading):
            faults.append(CsvFault(number, "", f"{len(cells)} cells; the heading has {len(heading)}"))
            continue
        read = read_repair(dict(zip(heading, map(_unguarded, cells), strict=True)))
        if isinstance(read, Repair):
            repairs.append(read)
        else:
            faults += [CsvFault(number, _place(fault, heading), fault.message) for fault in read]
    return tuple(faults) or tuple(repairs)


def _place(fault: Fault, heading: Sequence[str]) -> str:
    return (
        f"{fault.column} ({_letter(heading.index(fault.column))})"
        if fault.column in heading
        else fault.column
    )


def _letter(index: int) -> str:
    """Return the letter of a spreadsheet's column; there are few of them here."""
    return chr(ord("A") + index) if index < 26 else str(index + 1)


def _guarded(text: str) -> str:
    return f"'{text}" if text.startswith(("'", *_FORMULA_STARTS)) else text


def _unguarded(text: str) -> str:
    return text[1:] if text.startswith("'") and text[1:].startswith(("'", *_FORMULA_STARTS)) else text
