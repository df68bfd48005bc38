"""Cells as they come out of a spreadsheet program: texts with their places, and what must not be taken for text."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from typing import Any, Final

_GUARDED: Final = re.compile(r"^'(?=[=+\-@\t\r])")
_FORMULA: Final = re.compile(r"^[=@]|^[+-](?![\s\d.]|$)")
# What a spreadsheet program makes of `3-6` or `1/4`, in English, German and French settings, when text is saved.
_MONTHS: Final = (
    "jan|feb|fev|fév|mar|mär|mrz|apr|avr|may|mai|jun|juin|jul|juil|aug|aoû|aou|sep|oct|okt|nov|dec|dez|déc"
)
_DATES: Final = (
    re.compile(rf"^\d{{1,2}}[. -]{{1,2}}(?:{_MONTHS})[a-zé]*\.?(?:[. -]+\d{{2,4}})?$", re.IGNORECASE),
    re.compile(rf"^(?:{_MONTHS})[a-zé]*\.?[. -]+\d{{1,4}}$", re.IGNORECASE),
    re.compile(r"^\d{1,2}[./]\d{1,2}[./]\d{2,4}(?: \d{1,2}:\d{2}(?::\d{2})?)?$"),
    re.compile(r"^\d{1,2}:\d{2}(?::\d{2})?(?: ?[AP]M)?$", re.IGNORECASE),  # of `10:1`
    re.compile(r"^(?:19|20)\d{2}-\d{2}-\d{2}(?:[ T]\d{2}:\d{2}(?::\d{2})?)?$"),
)
_ERRORS: Final = re.compile(
    r"^#(?:N/A|NV|REF!|BEZUG!|VALUE!|WERT!|VALEUR!|NAME\?|DIV/0!|NUM!|ZAHL!|NULL!|#+)$"
)


@dataclass(frozen=True, slots=True)
class Cell:
    """The text of a cell and where it stands, such as `Sheet1!C14`; `fault` says why it is no text."""

    place: str
    text: str
    fault: str = ""
    help: str = ""


@dataclass(frozen=True, slots=True)
class Table:
    """The lines of one sheet, the first of which names the columns."""

    name: str
    lines: tuple[tuple[Cell, ...], ...]
    decimal_comma: bool = False


def place(sheet: str, row: int, column: int) -> str:
    """Return the address of a cell as spreadsheet programs write it; row and column count from 0."""
    letters = ""
    number = column + 1
    while number:
        number, rest = divmod(number - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return f"{sheet}!{letters}{row + 1}"


def guarded(text: str) -> str:
    """Return a text that no spreadsheet program takes for a formula."""
    return f"'{text}" if text[:1] in ("=", "+", "-", "@", "\t", "\r") else text


def text_cell(where: str, written: str) -> Cell:
    """Return a cell of a text file; a guard before a sign that could begin a formula is taken away."""
    text = written.strip()
    if _GUARDED.match(text):
        return Cell(where, text[1:])
    return _checked(where, text)


def typed_cell(where: str, value: Any, number_format: str, kind: str) -> Cell:
    """Return a cell of a workbook; `kind` is the type that the workbook gives it."""
    if value is None:
        return Cell(where, "")
    if kind == "f" or (isinstance(value, str) and kind != "s" and value.startswith("=")):
        return Cell(where, str(value), "this cell holds a formula", "write the figure itself, as text")
    if kind == "e":
        return Cell(where, str(value), f"this cell holds the error {value}", "write the figure itself")
    if isinstance(value, (datetime, date, time, timedelta)):
        shown = value.strftime("%d %B") if isinstance(value, (datetime, date)) else str(value)
        return Cell(
            where,
            str(value),
            f"the spreadsheet program has made a date or time of this ({shown.lstrip('0')})",
            _AS_TEXT,
        )
    if isinstance(value, bool):
        return Cell(where, str(value), "this cell holds a yes/no of the spreadsheet program", _AS_TEXT)
    if isinstance(value, (int, float)):
        return _number(where, value, number_format)
    return _checked(where, _GUARDED.sub("", str(value).strip()), formula=False)


_AS_TEXT: Final = "format the cell as text, then type it anew, such as `3–6 mm`"


def _number(where: str, value: float, number_format: str) -> Cell:
    if "%" in number_format:
        shown = f"{value * 100:g} %"
        return Cell(
            where,
            str(value),
            f"the spreadsheet program keeps this as a share of one ({shown} as {value:g})",
            _AS_TEXT,
        )
    text = str(int(value)) if float(value).is_integer() else repr(value)
    return Cell(where, text)


def _checked(where: str, text: str, *, formula: bool = True) -> Cell:
    if _ERRORS.match(text):
        return Cell(where, text, f"this cell holds the error {text}", "write the figure itself")
    if formula and _FORMULA.match(text):
        return Cell(
            where,
            text,
            "this cell holds a formula",
            "write the figure itself; a text may not begin with `=`, `+`, `-` or `@`",
        )
    return Cell(where, text)


def looks_like_date(text: str) -> bool:
    """Tell whether a text is what a spreadsheet program makes of `3-6`: `03. Jun`, `6-Mar`, `2026-06-03`."""
    return any(pattern.match(text) for pattern in _DATES)
