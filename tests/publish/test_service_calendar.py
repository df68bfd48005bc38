"""Service plans as iCalendar, read back by an independent library (icalendar on PyPI), and checked against RFC 5545."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from icalendar import Calendar

from shearpin.book.linked import LinkedBook, load_linked
from shearpin.book.service_plan import Occasion, ServicePlan, service_plan, storage_day
from shearpin.publish.service_calendar import calendar_text, escaped, events_of, folded
from tests.sound_book import read_over, swap

KB = Path(__file__).resolve().parents[2] / "kb"
START = date(2026, 11, 1)
STORAGE = date(2027, 4, 1)


@pytest.fixture(scope="module")
def linked() -> LinkedBook:
    return load_linked(KB, "kb")


def made(plan: ServicePlan, start: date = START, storage: date = STORAGE, weekly: str = "") -> str:
    return calendar_text(plan, events_of(plan, start, storage, Decimal(weekly) if weekly else None), start)


def read(text: str) -> list[Any]:
    """Return the events as the library reads them."""
    return list(Calendar.from_ical(text.encode("utf-8")).walk("VEVENT"))


def plan_of(*lines: str, hours: int = 0) -> ServicePlan:
    occasion = Occasion(
        "an-id", "The machine: service", "" if hours else "start", 1, Fraction(hours) or None, lines
    )
    return ServicePlan("m1", "The machine", (occasion,), (), ())


def test_every_machine_has_its_plan_in_the_calendar(linked: LinkedBook) -> None:
    for machine_id in linked.book.machines:
        plan = service_plan(linked, machine_id)
        events = read(made(plan))
        assert [str(event["SUMMARY"]) for event in events] == [
            o.summary for o in plan.occasions if not o.hours
        ]
        by_summary = {str(event["SUMMARY"]).partition(": ")[2]: event for event in events}
        assert by_summary["before the season"]["DTSTART"].dt == START
        assert by_summary["before storage"]["DTSTART"].dt == STORAGE
        told = str(by_summary["before the season"]["DESCRIPTION"])
        assert "- every 25 h: " in told
        assert "- every 100 h: " in told


def test_what_the_library_reads_is_what_the_records_say(linked: LinkedBook) -> None:
    plan = service_plan(linked, "osmere-d24")
    told = str(read(made(plan))[0]["DESCRIPTION"]).split("\n")
    titles = [
        linked.book.procedures[p].title
        for p in ("pre-season-service", "set-tire-pressure", "set-valve-clearance")
    ]
    assert all(f"- {title}" in told for title in titles)
    assert told[-1].startswith("The maker's manual comes first.")


def test_no_procedure_of_the_records_is_left_out(linked: LinkedBook) -> None:
    for machine_id, machine in linked.book.machines.items():
        engine = linked.book.engines[machine.engine or ""]
        text = "\n".join(str(event["DESCRIPTION"]) for event in read(made(service_plan(linked, machine_id))))
        for line in (*machine.service, *engine.service):
            for procedure in line.do:
                assert linked.book.procedures[procedure].title in text, (machine_id, procedure)


def test_events_last_all_day_and_recur_only_by_the_calendar(linked: LinkedBook) -> None:
    plan = service_plan(linked, "osmere-d28")
    for event in read(made(plan, weekly="4")):
        start = event["DTSTART"]
        assert start.params["VALUE"] == "DATE"
        assert type(start.dt) is date
        assert event["TRANSP"] == "TRANSPARENT"
        assert ("RRULE" in event) == (" h" not in str(event["SUMMARY"]))
    rules = [dict(event["RRULE"]) for event in read(made(plan))]
    assert rules == [{"FREQ": ["YEARLY"]}, {"FREQ": ["YEARLY"]}, {"FREQ": ["YEARLY"], "INTERVAL": [3]}]


def test_ids_stay_the_same_and_are_no_two_alike(linked: LinkedBook) -> None:
    seen: set[str] = set()
    for machine_id in linked.book.machines:
        plan = service_plan(linked, machine_id)
        first = [str(event["UID"]) for event in read(made(plan, weekly="5"))]
        later = read(made(plan, date(2027, 10, 15), date(2028, 4, 1), "5"))
        common = min(len(first), len(later))
        assert first[:common] == [str(event["UID"]) for event in later][:common]
        assert len(set(first)) == len(first)
        assert not seen & set(first)
        seen |= set(first)


def test_the_same_words_give_the_same_file(linked: LinkedBook) -> None:
    plan = service_plan(linked, "osmere-t28")
    assert made(plan, weekly="3") == made(service_plan(linked, "osmere-t28"), weekly="3")
    assert {event["DTSTAMP"].dt.isoformat() for event in read(made(plan))} == {"2026-11-01T00:00:00+00:00"}


def test_hours_fall_due_on_the_day_they_are_run_up() -> None:
    # By hand: 25 h at 4 h a week are 6.25 weeks, 43.75 days; 50 h are 87.5 days; 75 h are 131.25 days; the season has 151.
    events = read(made(plan_of("Check all fasteners", hours=25), weekly="4"))
    assert [(event["DTSTART"].dt - START).days for event in events] == [43, 87, 131]
    assert "About 50 running hours after 2026-11-01, at 4 h a week." in str(events[1]["DESCRIPTION"])


def test_hours_that_fall_on_one_day_are_one_event_each() -> None:
    events = read(made(plan_of("Clean it", hours=1), START, START + timedelta(days=5), "168"))
    assert [(event["DTSTART"].dt - START).days for event in events] == [1, 2, 3, 4]


def test_hours_without_a_weekly_figure_are_told_not_dated() -> None:
    assert read(made(plan_of("Check all fasteners", hours=25))) == []


def test_a_leap_day_recurs_every_year() -> None:
    leap = read(made(plan_of("Do it"), date(2028, 2, 29), date(2028, 7, 29)))[0]
    assert dict(leap["RRULE"]) == {"FREQ": ["YEARLY"], "BYMONTH": [2], "BYMONTHDAY": [-1]}


@pytest.mark.parametrize(
    ("start", "storage"),
    [
        ("2026-11-01", "2027-04-01"),
        ("2026-09-30", "2027-02-28"),
        ("2027-09-30", "2028-02-29"),
        ("2026-07-31", "2026-12-31"),
    ],
)
def test_storage_is_five_months_on(start: str, storage: str) -> None:
    assert storage_day(date.fromisoformat(start)).isoformat() == storage


def test_text_is_escaped_as_the_standard_shows() -> None:
    # RFC 5545, 3.3.11, from memory: backslash, semicolon and comma take a backslash, a line end becomes \n.
    assert escaped("a\\b; c, d: e\nf\tg\x07") == "a\\\\b\\; c\\, d: e\\nf g "


@given(st.text(st.characters(exclude_categories=["Cc", "Cs"]), max_size=300))
def test_any_text_comes_back_whole_from_lines_of_75_octets(words: str) -> None:
    text = made(plan_of(words))
    for line in text.encode("utf-8").removesuffix(b"\r\n").split(b"\r\n"):
        assert 0 < len(line) <= 75
        line.decode("utf-8")  # no character is cut in two
    assert f"- {words}\n" in str(read(text)[0]["DESCRIPTION"])


@pytest.mark.parametrize(("length", "lines"), [(75, 1), (76, 2), (149, 2), (150, 3)])
def test_a_line_is_cut_only_where_it_must_be(length: int, lines: int) -> None:
    assert len(folded("x" * length).split("\r\n")) == lines


def test_seasonal_work_of_a_year_stands_together_and_a_range_of_hours_counts_from_its_lower_end(
    tmp_path: Path,
) -> None:
    lines = (
        "service:\n  - {when: in spring, due: {season: end}, do: make-machine-safe}\n"
        "  - {when: in spring, due: {season: end, years: 2}, do: make-machine-safe}\n  - {every: 25–50 h, do: make-machine-safe}\n"
    )
    files = swap(
        "machines/brook-d24.yaml", "service:\n  - {when: after every winter, do: make-machine-safe}\n", lines
    )
    plan = service_plan(read_over(tmp_path, files), "brook-d24")
    assert [(o.season, o.years, o.hours) for o in plan.occasions] == [
        ("end", 1, None),
        ("end", 2, None),
        ("", 0, 25),
    ]
