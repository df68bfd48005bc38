"""The log as CSV: RFC 4180, safe in a spreadsheet, every fault with row and column."""

from __future__ import annotations

import csv
import io

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shearpin.diagnosis.repair import Repair, TestDone, note_faults
from shearpin.diagnosis.repair_csv import MAX_BYTES, CsvFault, read_csv, write_csv

HEAD = "date,machine,symptom,tests,cause,minutes,note"
GOOD = "2026-11-28,osmere-d24,auger-does-not-turn,belt-check=slack 6 min,auger-cable-slack,14,"


def told(text: str | bytes) -> list[str]:
    read = read_csv(text if isinstance(text, bytes) else text.encode())
    assert all(isinstance(item, CsvFault) for item in read)
    return [str(item) for item in read]


notes = st.text(st.characters(codec="utf-8", categories=("L", "P", "S", "Zs")), max_size=60)
repairs = st.builds(
    Repair,
    date=st.dates().map(lambda day: f"{day.year:04}-{day.month:02}-{day.day:02}"),
    machine=st.sampled_from(["osmere-d24", "x1"]),
    symptom=st.sampled_from(["auger-does-not-turn", "a.b"]),
    tests=st.sampled_from([(), (TestDone("a", "b", 7),), (TestDone("a", "b"), TestDone("c", "d", 1))]),
    cause=st.sampled_from(["rust", "something-else"]),
    minutes=st.none() | st.integers(1, 6000),
    note=notes.map(str.strip).filter(lambda note: not note_faults(note)),
)


@settings(max_examples=150, deadline=None)
@given(st.lists(repairs, max_size=4))
def test_what_is_written_is_read_back_exactly(some: list[Repair]) -> None:
    assert read_csv(write_csv(some).encode()) == tuple(some)


@pytest.mark.parametrize("note", ["=1+1", "+1", "-1", "@SUM(A1)", "'=1", "＝1", '=cmd|" /C calc"!A0'])
def test_no_cell_begins_as_a_formula(note: str) -> None:
    text = write_csv([Repair("2026-11-28", "a", "b", (), "c", None, note)])
    cell = list(csv.reader(io.StringIO(text)))[1][6]
    assert cell == "'" + note


def test_lines_end_and_quotes_double_as_rfc_4180_has_it() -> None:
    text = write_csv([Repair("2026-11-28", "a", "b", (), "c", 3, 'a "loose", old bolt')])
    assert text == f'{HEAD}\r\n2026-11-28,a,b,,c,3,"a ""loose"", old bolt"\r\n'


def test_a_spreadsheets_ways_are_understood() -> None:
    text = f"\ufeff{HEAD.upper()}\n{GOOD}\n\n,,,,,,\n"
    assert len(read_csv(text.encode())) == 1
    assert len(read_csv(b"cause,symptom,machine,date\r\nc,b,a,2026-11-28")) == 1


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "row 1: the file is empty"),
        (HEAD.replace(",", ";"), "row 1: the cells are not parted by commas"),
        (HEAD.replace("note", "customer"), "row 1, column G: there is no column `customer`"),
        (f"{HEAD},note", "row 1, column H: the column `note` stands there twice"),
        (HEAD.replace("cause,", ""), "row 1: the column `cause` is missing"),
        (f"{HEAD}\n{GOOD}\na,b", "row 3: 2 cells; the heading has 7"),
        (f'{HEAD}\n{GOOD}\n"a"b,c', "row 3: this is not a row of comma-separated values"),
        (f"{HEAD}\n{GOOD}x".replace("14", "a"), "row 2, column minutes (F): `a` is not a whole number"),
        (f"{HEAD}\n{GOOD}call 555 0142 77", "row 2, column note (G): `555 0142 77` looks like a telephone"),
        (f"{HEAD}\n\n{GOOD.replace('osmere-d24', '')}", "row 3, column machine (B): the machine is missing"),
        (b"\xff\xfe", "row 1: this is not UTF-8 text"),
        (f"{HEAD}\n{GOOD}\n\0", "row 3: there is a NUL character"),
        ("\n\0", "row 2: there is a NUL character"),
    ],
)  # fmt: skip
def test_every_fault_has_its_place(text: str | bytes, said: str) -> None:
    assert told(text)[0].startswith(said)


def test_one_wrong_row_makes_the_whole_file_wrong_and_all_are_told() -> None:
    assert [line.split(",")[0] for line in told(f"{HEAD}\n{GOOD}\n{GOOD[1:]}\n{GOOD}\n{GOOD[2:]}")] == [
        "row 3",
        "row 5",
    ]


def test_a_file_that_is_too_large_is_refused_in_its_first_row() -> None:
    assert told(b"x" * (MAX_BYTES + 1)) == [f"row 1: the file has more than {MAX_BYTES // 1_000_000} MB"]
