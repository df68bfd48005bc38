"""One repair as the log keeps it: what was found, and nothing about the customer."""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Final

from shearpin.model.fields import ID_PATTERN

COLUMNS: Final = ("date", "machine", "symptom", "tests", "cause", "minutes", "note")
"""The columns of a log in a spreadsheet, in order; `minutes` and `note` may be missing."""

REQUIRED: Final = frozenset({"date", "machine", "symptom", "cause"})
NOT_PROVEN: Final = "not-proven"
"""What stands for the cause when none was proven; such a repair moves no chance."""

NOTE_LENGTH: Final = 80
MAX_MINUTES: Final = 6000
MAX_TESTS: Final = 60
_ID: Final = re.compile(ID_PATTERN)
_ID_LENGTH: Final = 80
_TEST: Final = re.compile(r"^(?P<test>[^=\s]+)\s*=\s*(?P<result>\S+)(?:\s+(?P<minutes>[0-9]{1,5})\s*min)?$")
# Six digits and more make telephone, plate and serial numbers; a size or a part of the machine has fewer.
_DIGITS_OF_PERSONS: Final = 6


@dataclass(frozen=True, slots=True)
class TestDone:
    """A test, what it showed, and its minutes without the preparations, where someone took the time."""

    __test__ = False
    test: str
    result: str
    minutes: int | None = None

    def __str__(self) -> str:
        return f"{self.test}={self.result}" + (f" {self.minutes} min" if self.minutes is not None else "")


@dataclass(frozen=True, slots=True)
class Repair:
    """What one repair showed.

    `cause` is an id, `something-else` for a cause the book does not have, or `not-proven`. `minutes` lead from the first
    test to the proof. Ids are kept as they were when it was written, whatever the book calls them now.
    """

    date: str
    machine: str
    symptom: str
    tests: tuple[TestDone, ...]
    cause: str
    minutes: int | None = None
    note: str = ""

    def as_row(self) -> dict[str, str]:
        """Return it as text by column."""
        return {
            "date": self.date,
            "machine": self.machine,
            "symptom": self.symptom,
            "tests": "; ".join(map(str, self.tests)),
            "cause": self.cause,
            "minutes": "" if self.minutes is None else str(self.minutes),
            "note": self.note,
        }

    def digest(self) -> str:
        """Return what is the same for two entries of the same content, and tells when a stored one was altered."""
        row = self.as_row()
        content = json.dumps([row[column] for column in COLUMNS], ensure_ascii=False)
        return hashlib.sha256(content.encode("utf-8", "surrogatepass")).hexdigest()[:32]


@dataclass(frozen=True, slots=True)
class Fault:
    """What is wrong with one column of an entry."""

    column: str
    message: str


def read_repair(row: Mapping[str, str]) -> Repair | tuple[Fault, ...]:
    """Return the repair that these texts by column describe, or everything that is wrong with them."""
    texts = {column: row.get(column, "").strip() for column in COLUMNS}
    faults: list[Fault] = []
    for column in COLUMNS:
        if column in REQUIRED and not texts[column]:
            faults.append(Fault(column, f"the {column} is missing"))
    _check_date(texts["date"], faults)
    for column in ("machine", "symptom", "cause"):
        if texts[column] and not is_id(texts[column]):
            faults.append(Fault(column, f"`{shown(texts[column])}` is not an id such as `osmere-d24`"))
    tests = _tests(texts["tests"], faults)
    minutes = _minutes(texts["minutes"], "minutes", faults)
    faults += [Fault("note", message) for message in note_faults(texts["note"])]
    if faults:
        return tuple(faults)
    return Repair(
        texts["date"], texts["machine"], texts["symptom"], tests, texts["cause"], minutes, texts["note"]
    )


def is_id(text: str) -> bool:
    """Tell whether a text has the form of a record's id."""
    return len(text) <= _ID_LENGTH and _ID.fullmatch(text) is not None


def shown(text: str, most: int = 40) -> str:
    """Return foreign text as a message may quote it: short, without what could steer a terminal."""
    short = text if len(text) <= most else text[: most - 1] + "…"
    return "".join(sign if sign.isprintable() else "�" for sign in short)


def note_faults(note: str) -> tuple[str, ...]:
    """Return why a note is refused: too long, not plain text, or it looks like a way to reach a person.

    Names and addresses of streets cannot be told from other words; whoever writes the note must leave them out.
    """
    found = []
    if len(note) > NOTE_LENGTH:
        found.append(f"the note has {len(note)} characters; {NOTE_LENGTH} are the most")
    if any(not sign.isprintable() for sign in note):
        found.append("the note must be one line of plain text")
    if re.search(r"\S@\S", note):
        found.append("the note looks like an e-mail address; the log holds nothing about customers")
    for run in re.findall(r"[0-9](?:[ ()/.+-]{0,3}[0-9])*", note):
        if sum(sign.isdigit() for sign in run) >= _DIGITS_OF_PERSONS:
            found.append(
                f"`{shown(run)}` looks like a telephone or serial number; the log holds nothing about customers"
            )
    return tuple(found)


def _check_date(text: str, faults: list[Fault]) -> None:
    if not text:
        return
    try:
        good = re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", text) is not None and date.fromisoformat(text)
    except ValueError:
        good = False
    if not good:
        faults.append(
            Fault("date", f"`{shown(text)}` is not a date; write year, month, day, such as 2026-11-28")
        )


def _minutes(text: str, column: str, faults: list[Fault]) -> int | None:
    if not text:
        return None
    if re.fullmatch(r"[0-9]{1,5}", text) and 1 <= int(text) <= MAX_MINUTES:
        return int(text)
    faults.append(Fault(column, f"`{shown(text)}` is not a whole number of minutes from 1 to {MAX_MINUTES}"))
    return None


def _tests(text: str, faults: list[Fault]) -> tuple[TestDone, ...]:
    pieces = [piece.strip() for piece in text.split(";")]
    found: list[TestDone] = []
    for piece in filter(None, pieces):
        match = _TEST.fullmatch(piece)
        if match is None or not is_id(match["test"]) or not is_id(match["result"]):
            hint = "write TEST=RESULT or TEST=RESULT 6 min, and a semicolon between tests"
            faults.append(Fault("tests", f"`{shown(piece)}` cannot be read; {hint}"))
            continue
        before = len(faults)
        minutes = _minutes(match["minutes"] or "", "tests", faults)
        if len(faults) == before:
            found.append(TestDone(match["test"], match["result"], minutes))
    names = [done.test for done in found]
    for name in dict.fromkeys(name for name in names if names.count(name) > 1):
        faults.append(Fault("tests", f"`{name}` stands there twice"))
    if len(found) > MAX_TESTS:
        faults.append(Fault("tests", f"{len(found)} tests; {MAX_TESTS} are the most"))
    return tuple(found)
