"""`shearpin calendar`: the service plan of a machine for a calendar, from a date the user gives."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from datetime import date
from decimal import Decimal, InvalidOperation
from pathlib import Path

from shearpin.authoring.files import WriteRefused, replace_file
from shearpin.book.service_plan import service_plan, storage_day
from shearpin.cli.common import UserError, known_machine, load_book_or_fail, new_parser, print_json
from shearpin.publish.service_calendar import Event, calendar_text, events_of

_YEARS = range(1900, 9000)  # what a browser's calendar can name too


def run(words: Sequence[str]) -> int:
    """Write the service plan as iCalendar; 1 when the machine has none."""
    parser = new_parser("calendar", "The service plan of a machine as iCalendar (RFC 5545).")
    parser.add_argument("--machine", metavar="ID", required=True, help="id of the machine")
    parser.add_argument(
        "--from",
        metavar="DATE",
        required=True,
        dest="start",
        help="first day of the season, such as 2026-11-01",
    )
    parser.add_argument("--storage", metavar="DATE", help="day of storage (default: five months after)")
    parser.add_argument(
        "--hours-a-week", metavar="N", help="running hours a week; gives days to what hours decide"
    )
    parser.add_argument("--out", metavar="FILE", help="file to write (default: print)")
    options = parser.parse_args(list(words))
    start = _day(options.start, "--from")
    storage = _day(options.storage, "--storage") if options.storage is not None else storage_day(start)
    if not 0 < (storage - start).days <= 366:
        raise UserError(f"--storage {storage} must be within a year after --from {start}")
    hours = _hours(options.hours_a_week) if options.hours_a_week is not None else None
    linked = load_book_or_fail(options.kb)
    machine = known_machine(linked, options.machine)
    assert machine is not None
    plan = service_plan(linked, machine)
    events = events_of(plan, start, storage, hours)
    if not events:
        raise UserError(f"the {plan.title} has no service plan that a calendar could hold", 1)
    text = calendar_text(plan, events, start)
    if options.out is not None:
        _write(Path(options.out), text)
    if options.json:
        print_json(_as_json(machine, start, storage, events, options.out))
    elif options.out is None:
        _print(text)
    else:
        print(f"{options.out}: {len(events)} events for the {plan.title} from {start}")
    return 0


def _day(text: str, option: str) -> date:
    try:
        day = date.fromisoformat(text)
    except ValueError:
        day = None
    if day is None or day.isoformat() != text or day.year not in _YEARS:
        raise UserError(f"{option} needs a date such as 2026-11-01, not `{text}`")
    return day


def _hours(text: str) -> Decimal:
    try:
        hours = Decimal(text)
    except InvalidOperation:
        hours = Decimal(0)
    if not (hours.is_finite() and Decimal("0.01") <= hours <= 168 and hours == round(hours, 2)):
        raise UserError(f"--hours-a-week needs a number up to 168, such as 4 or 2.5, not `{text}`")
    return hours


def _as_json(
    machine: str, start: date, storage: date, events: Sequence[Event], out: str | None
) -> dict[str, object]:
    return {
        "machine": machine,
        "from": start.isoformat(),
        "storage": storage.isoformat(),
        "events": [
            {
                "uid": event.uid,
                "date": event.day.isoformat(),
                "summary": event.summary,
                "description": event.description,
                "rule": event.rule or None,
            }
            for event in events
        ],
        "file": out,
    }


def _print(text: str) -> None:
    """Print with the line ends of the format, which a text stream might change."""
    stream = getattr(sys.stdout, "buffer", None)
    if stream is None:
        sys.stdout.write(text)
        return
    sys.stdout.flush()
    stream.write(text.encode("utf-8"))
    stream.flush()


def _write(path: Path, text: str) -> None:
    try:
        replace_file(path, text.encode("utf-8"))
    except WriteRefused as error:
        raise UserError(str(error), 1) from error
