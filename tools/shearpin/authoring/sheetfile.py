"""Sheets as files: CSV as spreadsheet programs of several languages write it, and workbooks (.xlsx)."""

from __future__ import annotations

import csv
import io
import zipfile
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Final

from shearpin.authoring.files import WriteRefused, replace_file
from shearpin.authoring.sheet import COLUMNS, Row
from shearpin.authoring.sheetcells import Cell, Table, guarded, place, text_cell, typed_cell
from shearpin.model.fields import Basis

MAX_FILE: Final = 20_000_000
_MAX_UNPACKED: Final = 200_000_000
_MAX_ROWS: Final = 100_000
_MAX_COLUMNS: Final = 100
_SEPARATORS: Final = ";,\t"
_WIDTHS: Final = {"record": 24, "value": 34, "title": 38, "measures": 24, "plausible": 18, "is": 26, "basis": 16,
                  "source": 24, "place": 20, "note": 50, "mark": 12}  # fmt: skip
_BOM: Final = "\ufeff"


class SheetRefused(Exception):
    """A file is no sheet; the text says why and what to do."""


def write_sheet(path: Path, rows: Iterable[Row], separator: str) -> int:
    """Write rows to a .csv or .xlsx file and return how many; raises `SheetRefused` or `WriteRefused`."""
    lines = [row.cells for row in rows]
    ending = path.suffix.lower()
    if ending == ".xlsx":
        content = _workbook(lines)
    elif ending == ".csv":
        content = _csv(lines, separator)
    else:
        raise SheetRefused(f"`{path.name}` is neither a .csv nor an .xlsx file")
    if not path.parent.is_dir():
        raise WriteRefused(f"there is no folder {path.parent}")
    replace_file(path, content)
    return len(lines)


def read_sheet(path: Path) -> tuple[Table, ...]:
    """Return the tables of a .csv or .xlsx file; raises `SheetRefused`."""
    try:
        with open(path, "rb") as stream:
            raw = stream.read(MAX_FILE + 1)
    except OSError as error:
        raise SheetRefused(f"cannot read {path}: {error.strerror or error}") from error
    if len(raw) > MAX_FILE:
        raise SheetRefused(f"{path} is larger than {MAX_FILE:,} bytes; a sheet of values is far smaller")
    if path.suffix.lower() == ".csv":
        return (_csv_table(path.stem, raw),)
    if path.suffix.lower() == ".xlsx":
        return _workbook_tables(path, raw)
    raise SheetRefused(f"`{path.name}` is neither a .csv nor an .xlsx file")


def _csv(lines: Sequence[Sequence[str]], separator: str) -> bytes:
    """Return CSV that spreadsheet programs open as Unicode: with a byte-order mark, no cell a formula."""
    stream = io.StringIO()
    writer = csv.writer(stream, delimiter=separator, lineterminator="\r\n")
    writer.writerow(COLUMNS)
    writer.writerows([guarded(" ".join(text.split())) for text in line] for line in lines)
    return (_BOM + stream.getvalue()).encode("utf-8")


def _workbook(lines: Sequence[Sequence[str]]) -> bytes:
    """Return a workbook whose cells are all text, so that no program makes dates or formulas of them."""
    from openpyxl import Workbook  # takes a quarter of a second to load, which only sheets should pay
    from openpyxl.styles import Alignment, Font
    from openpyxl.utils import get_column_letter
    from openpyxl.worksheet.datavalidation import DataValidation

    book = Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.title = "Values"
    for number, line in enumerate([COLUMNS, *lines], 1):
        for column, text in enumerate(line, 1):
            cell = sheet.cell(number, column)
            cell.value = " ".join(text.split()) or None
            if cell.value is not None:
                cell.data_type = "s"
            cell.number_format = "@"
            cell.alignment = Alignment(wrap_text=True, vertical="top")
            if number == 1:
                cell.font = Font(bold=True)
            elif text[:1] in ("=", "+", "-", "@"):
                cell.quotePrefix = True
    for column, name in enumerate(COLUMNS, 1):
        sheet.column_dimensions[get_column_letter(column)].width = _WIDTHS[name]
    sheet.freeze_panes = "C2"
    sheet.auto_filter.ref = sheet.dimensions
    choices = DataValidation(
        type="list", formula1=f'"{",".join(basis.value for basis in Basis)}"', allow_blank=True
    )
    letter = get_column_letter(COLUMNS.index("basis") + 1)
    choices.add(f"{letter}2:{letter}{max(2, len(lines) + 1)}")
    sheet.add_data_validation(choices)
    stream = io.BytesIO()
    book.save(stream)
    return stream.getvalue()


def _csv_table(name: str, raw: bytes) -> Table:
    text = _decoded(raw)
    separator = ""
    first, _, rest = text.partition("\n")
    skipped = 0
    if (
        first.strip().lower().startswith("sep=") and len(first.strip()) == 5
    ):  # a hint of spreadsheet programs to themselves
        separator, text, skipped = first.strip()[4], rest, 1
    separator = separator or max(_SEPARATORS, key=first.count)
    try:
        lines = list(csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True))
    except (csv.Error, ValueError) as error:
        raise SheetRefused(f"{name}: this is not CSV: {error}") from error
    _check_size(name, len(lines), max((len(line) for line in lines), default=0))
    return Table(
        name,
        tuple(
            tuple(
                text_cell(place(name, row + skipped, column), written) for column, written in enumerate(line)
            )
            for row, line in enumerate(lines)
        ),
        decimal_comma=separator != ",",
    )


def _decoded(raw: bytes) -> str:
    if raw[:2] in (b"\xff\xfe", b"\xfe\xff"):
        coding = "utf-16"
    else:
        coding = "utf-8"
    try:
        text = raw.decode(coding).removeprefix(_BOM)
    except UnicodeDecodeError as error:
        line = raw[: error.start].count(b"\n") + 1
        raise SheetRefused(
            f"line {line} is not UTF-8 text; save the file as `CSV UTF-8`, or as .xlsx"
        ) from None
    if "\x00" in text:
        raise SheetRefused("the file holds bytes of zero; save it as `CSV UTF-8`, or as .xlsx")
    return text


def _check_size(name: str, rows: int, columns: int) -> None:
    if rows > _MAX_ROWS or columns > _MAX_COLUMNS:
        raise SheetRefused(
            f"{name}: {rows:,} rows and {columns:,} columns are more than a sheet of values has"
        )


def _workbook_tables(path: Path, raw: bytes) -> tuple[Table, ...]:
    import warnings

    from openpyxl import load_workbook

    try:
        with zipfile.ZipFile(io.BytesIO(raw)) as packed:
            if sum(entry.file_size for entry in packed.infolist()) > _MAX_UNPACKED:
                raise SheetRefused(f"{path} unpacks to more than {_MAX_UNPACKED:,} bytes")
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # of styles and extensions, which values do not have
            book = load_workbook(io.BytesIO(raw), read_only=True)
            tables = tuple(_sheet_table(sheet) for sheet in book.worksheets)
            book.close()
    except SheetRefused:
        raise
    except Exception as error:  # openpyxl raises whatever its parsers do, and the file may be anything
        raise SheetRefused(f"{path} cannot be read as a workbook: {error or type(error).__name__}") from error
    return tables


def _sheet_table(sheet: object) -> Table:
    name = str(getattr(sheet, "title", ""))
    lines: list[tuple[Cell, ...]] = []
    for number, row in enumerate(sheet.iter_rows(max_col=_MAX_COLUMNS)):  # type: ignore[attr-defined]
        if number >= _MAX_ROWS:
            _check_size(name, number + 1, 0)
        lines.append(
            tuple(
                typed_cell(
                    place(name, number, column),
                    cell.value,
                    str(getattr(cell, "number_format", "")),
                    str(getattr(cell, "data_type", "n")),
                )
                for column, cell in enumerate(row)
            )
        )
    return Table(name, tuple(lines))
