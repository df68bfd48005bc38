"""Findings: what is wrong with a record, and where."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Severity(StrEnum):
    """`error`: the page would mislead or harm. `warning`: the author should look. There is no third level."""

    ERROR = "error"
    WARNING = "warning"


@dataclass(frozen=True, slots=True, order=True)
class Finding:
    """One thing wrong, with its place. Sorts by path, line, column, code.

    `path` is relative to the folder that holds the records, with forward slashes; `line` and `column` count from 1
    in characters. `help` says what to do about it. `related` names other places, as `path:line:column`. `hides` names
    further records, by path as well, that are not to be worked by until this is mended.
    """

    path: str
    line: int
    column: int
    code: str
    message: str
    help: str = ""
    severity: Severity = Severity.ERROR
    related: tuple[str, ...] = ()
    hides: tuple[str, ...] = ()

    def __str__(self) -> str:
        return f"{self.path}:{self.line}:{self.column}: {self.severity.value}[{self.code}] {self.message}"
