"""Entries of the log: what is taken, what is refused, and that nothing about customers goes in."""

from __future__ import annotations

import pytest

from shearpin.diagnosis.repair import NOTE_LENGTH, Repair, TestDone, note_faults, read_repair

ROW = {
    "date": "2026-11-28",
    "machine": "osmere-d24",
    "symptom": "auger-does-not-turn",
    "tests": "belt-check=slack 6 min; cable-check = free",
    "cause": "auger-cable-slack",
    "minutes": "14",
    "note": "mouse nest under the cover",
}


def faults(**changed: str) -> list[tuple[str, str]]:
    read = read_repair({**ROW, **changed})
    assert not isinstance(read, Repair)
    return [(fault.column, fault.message) for fault in read]


def test_an_entry_is_read_and_written_back() -> None:
    read = read_repair(ROW)
    assert isinstance(read, Repair)
    assert read.tests == (TestDone("belt-check", "slack", 6), TestDone("cable-check", "free"))
    assert read.minutes == 14
    assert read_repair(read.as_row()) == read
    assert read.as_row()["tests"] == "belt-check=slack 6 min; cable-check=free"


def test_only_date_machine_symptom_and_cause_are_needed() -> None:
    read = read_repair({name: ROW[name] for name in ("date", "machine", "symptom", "cause")})
    assert isinstance(read, Repair)
    assert (read.tests, read.minutes, read.note) == ((), None, "")


@pytest.mark.parametrize("column", ["date", "machine", "symptom", "cause"])
def test_what_is_needed_and_missing_is_said(column: str) -> None:
    assert faults(**{column: " "}) == [(column, f"the {column} is missing")]


@pytest.mark.parametrize(
    ("column", "text"),
    [
        ("date", "28.11.2026"),
        ("date", "2026-02-30"),
        ("date", "2026-1-3"),
        ("machine", "Osmere D24"),
        ("symptom", "=1+1"),
        ("cause", "x" * 81),
        ("minutes", "0"),
        ("minutes", "6001"),
        ("minutes", "1.5"),
        ("minutes", "-5"),
        ("minutes", "٣"),
        ("tests", "belt-check"),
        ("tests", "belt-check=slack 6 hours"),
        ("tests", "belt-check=Slack Belt"),
        ("tests", "belt-check=slack; belt-check=tight"),
        ("tests", "belt-check=slack 0 min"),
    ],
)
def test_what_cannot_be_read_is_a_fault_of_its_column(column: str, text: str) -> None:
    assert [name for name, _ in faults(**{column: text})] == [column]


def test_every_fault_is_told_at_once() -> None:
    assert [name for name, _ in faults(date="x", cause="Y", minutes="z")] == ["date", "cause", "minutes"]


@pytest.mark.parametrize(
    "note",
    [
        "call 555-0142 88", "(555) 014 2233", "+1 555.014.2233", "555/014/22", "someone@example.org", "serial 20480113",
        "two\nlines", "tab\there", "x" * (NOTE_LENGTH + 1), "bell\a",
    ],
)  # fmt: skip
def test_notes_that_may_reach_a_person_are_refused(note: str) -> None:
    assert note_faults(note)


@pytest.mark.parametrize(
    "note",
    [
        "",
        "bolt M6 x 30 fitted, 8.8 instead of 5.8",
        "gap was 0.95 mm",
        "plug 12 345 h old",
        "-5 °C in the shed",
        "=?",
        "@ idle",
        "x" * NOTE_LENGTH,
    ],
)
def test_notes_about_the_machine_are_taken(note: str) -> None:
    assert note_faults(note) == ()


def test_the_digest_is_of_the_content_alone() -> None:
    one, same = read_repair(ROW), read_repair({**ROW, "tests": "belt-check=slack  6 min;cable-check=free;"})
    other = read_repair({**ROW, "note": "mouse nest"})
    assert isinstance(one, Repair)
    assert isinstance(same, Repair)
    assert isinstance(other, Repair)
    assert one.digest() == same.digest() != other.digest()


def test_six_digits_in_a_note_may_be_a_person_and_five_are_not() -> None:
    assert note_faults("belt 12345 fitted") == ()
    assert len(note_faults("belt 123456 fitted")) == 1
