"""A service plan as iCalendar (RFC 5545): all-day events from a date that the user gives."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from typing import Final

from shearpin.book.service_plan import FOREWORD, Occasion, ServicePlan

MAX_OCTETS: Final = 75
"""Length of a line without its end (RFC 5545, 3.1)."""

_HUNDREDTHS: Final = (
    100  # running hours are counted in hundredths: whole numbers give the same day everywhere
)


@dataclass(frozen=True, slots=True)
class Event:
    """One all-day event; `rule` is its RRULE, empty for a single day."""

    uid: str
    day: date
    summary: str
    description: str
    rule: str


def events_of(
    plan: ServicePlan, start: date, storage: date, hours_a_week: Decimal | None
) -> tuple[Event, ...]:
    """Return the events of a plan.

    What the calendar decides recurs. What running hours decide has single days between `start` and `storage` when
    `hours_a_week` is known (two decimals count), and stands in the description of the season's start otherwise.
    """
    events: list[Event] = []
    for occasion in plan.occasions:
        if occasion.hours is None:
            day = start if occasion.season == "start" else storage
            text = _description(occasion, plan, hourly=hours_a_week is None)
            events.append(Event(occasion.uid, day, occasion.summary, text, _yearly(day, occasion.years)))
        elif hours_a_week is not None:
            events += _by_hours(occasion, start, storage, hours_a_week)
    return tuple(events)


def _yearly(day: date, years: int) -> str:
    """Return the rule of recurrence; the 29th of February becomes the last day of that month."""
    interval = f";INTERVAL={years}" if years != 1 else ""
    leap = ";BYMONTH=2;BYMONTHDAY=-1" if (day.month, day.day) == (2, 29) else ""
    return f"FREQ=YEARLY{interval}{leap}"


def _by_hours(occasion: Occasion, start: date, storage: date, hours_a_week: Decimal) -> Iterator[Event]:
    assert occasion.hours is not None
    every, weekly = int(occasion.hours * _HUNDREDTHS), int(hours_a_week * _HUNDREDTHS)
    previous, times = 0, 0
    while every and weekly:
        times += 1
        days = times * every * 7 // weekly
        if days >= (storage - start).days:
            return
        if days == previous:
            continue  # more than one of them on a day, or on the first one
        previous = days
        since = f"About {_number(times * every)} running hours after {start.isoformat()}, at {_number(weekly)} h a week."
        text = "\n".join((since, "The hours decide, not the date.", *_work(occasion), FOREWORD))
        yield Event(f"{occasion.uid}-{times}", start + timedelta(days=days), occasion.summary, text, "")


def _number(hundredths: int) -> str:
    whole, rest = divmod(hundredths, _HUNDREDTHS)
    return f"{whole}.{rest:02d}".rstrip("0").rstrip(".")


def _work(occasion: Occasion) -> tuple[str, ...]:
    return tuple(f"- {line}" for line in occasion.lines)


def _description(occasion: Occasion, plan: ServicePlan, hourly: bool) -> str:
    lines = [*_work(occasion)]
    if (occasion.season, occasion.years) == ("start", 1):
        if hourly and plan.by_hours:
            lines += ["By running hours:", *(f"- {line}" for line in plan.by_hours)]
        if plan.by_condition:
            lines += ["When it is due:", *(f"- {line}" for line in plan.by_condition)]
    return "\n".join((*lines, FOREWORD))


def calendar_text(plan: ServicePlan, events: tuple[Event, ...], start: date) -> str:
    """Return the calendar with line ends CRLF; DTSTAMP is the given day, so that the same words give the same file."""
    lines = ["BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//Shearpin//Service plan//EN", "CALSCALE:GREGORIAN"]
    lines.append(f"NAME:{escaped(f'Service plan: {plan.title}')}")
    for event in events:
        lines += ["BEGIN:VEVENT", f"UID:{event.uid}", f"DTSTAMP:{_basic(start)}T000000Z"]
        lines.append(f"DTSTART;VALUE=DATE:{_basic(event.day)}")
        if event.rule:
            lines.append(f"RRULE:{event.rule}")
        lines += [f"SUMMARY:{escaped(event.summary)}", f"DESCRIPTION:{escaped(event.description)}"]
        lines += ["TRANSP:TRANSPARENT", "END:VEVENT"]
    return "".join(f"{folded(line)}\r\n" for line in (*lines, "END:VCALENDAR"))


def _basic(day: date) -> str:
    return day.isoformat().replace("-", "")


def escaped(text: str) -> str:
    """Return text as RFC 5545, 3.3.11 writes it; other control characters, which it forbids, become blanks."""
    clean = "".join(sign if sign == "\n" or (ord(sign) >= 32 and ord(sign) != 127) else " " for sign in text)
    for sign in ("\\", ";", ","):
        clean = clean.replace(sign, f"\\{sign}")
    return clean.replace("\n", "\\n")


def folded(line: str) -> str:
    """Return a line cut at 75 octets, no character split; what follows a cut begins with a blank."""
    pieces, piece, octets = [], "", 0
    for sign in line:
        size = len(sign.encode("utf-8", "replace"))
        if octets + size > MAX_OCTETS:
            pieces.append(piece)
            piece, octets = " ", 1
        piece += sign
        octets += size
    return "\r\n".join((*pieces, piece))
