"""The report on the repair log, in words and as JSON."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import asdict
from typing import Final

from shearpin.book.linked import LinkedBook
from shearpin.diagnosis.history import History
from shearpin.diagnosis.log_report import LogReport, SlowTest, Surprise
from shearpin.diagnosis.priors import SOMETHING_ELSE

_RAREST: Final = 1_000_000_000


def report_json(history: History, report: LogReport) -> dict[str, object]:
    """Return the report for other programs."""
    return {
        **asdict(report),
        "unknown": [{"kind": item.kind, "id": item.id, "repairs": item.count} for item in history.unknown],
    }


def report_lines(history: History, report: LogReport) -> Iterator[str]:
    """Yield the report for people."""
    linked = history.linked
    yield f"{counted(report.repairs)} in the log, {report.proven} with a proven cause."
    yield "\nCauses that surprise:"
    yield from (_surprise(linked, item) for item in report.surprises)
    if not report.surprises:
        yield "  none so far; few repairs say little, so this stays empty until they are clear"
    yield from _unlisted(linked, report)
    yield "\nTests slower than the book says:"
    yield from (_slow(linked, item) for item in report.slow_tests)
    if not report.slow_tests:
        yield "  none so far; it takes five timed tests and more to tell"
    yield f"\nSymptoms without history: {len(report.without_history)} of {len(linked.book.symptoms)}"
    yield from (f"  {linked.book.symptoms[symptom].title}  {symptom}" for symptom in report.without_history)
    if history.unknown:
        yield "\nNot in this book, kept and not counted:"
        yield from (f"  {item.kind} `{item.id}` in {counted(item.count)}" for item in history.unknown)


def counted(repairs: int) -> str:
    """Return a number of repairs in words."""
    return f"{repairs or 'no'} {'repair' if repairs == 1 else 'repairs'}"


def _surprise(linked: LinkedBook, item: Surprise) -> str:
    machines = ", ".join(_title(linked, "machine", machine) for machine in item.machines)
    cause = (
        "something not in this book" if item.cause == SOMETHING_ELSE else _title(linked, "cause", item.cause)
    )
    more = "more" if item.count > item.expected else "less"
    return (
        f"  {_title(linked, 'symptom', item.symptom)} ({machines})\n"
        f"    {cause}: {item.count} of {item.total}, {more} often than the book's words allow for "
        f"(about {item.expected:.1f}); by luck {_luck(item.luck)}"
    )


def _luck(chance: float) -> str:
    """Return a chance in words; one that a long log makes too small to tell, or nothing at all, as less than that."""
    return f"once in {round(1 / chance):,}" if chance * _RAREST > 1.0 else f"less than once in {_RAREST:,}"


def _unlisted(linked: LinkedBook, report: LogReport) -> Iterator[str]:
    if report.unlisted:
        yield "\nProven, but not listed for the symptom:"
    for item in report.unlisted:
        cause, symptom = _title(linked, "cause", item.cause), _title(linked, "symptom", item.symptom)
        yield f"  {symptom}: {cause} ({item.count} time{'s' * (item.count != 1)})"


def _slow(linked: LinkedBook, item: SlowTest) -> str:
    return (
        f"  {_title(linked, 'test', item.test)}: {item.median_minutes:.0f} min in the middle, the book says "
        f"{item.book_minutes:.0f} min (slower {item.slower} of {item.timed} times)"
    )


def _title(linked: LinkedBook, kind: str, record_id: str) -> str:
    record = linked.book.get(kind, record_id)
    return record.title if record is not None else record_id
