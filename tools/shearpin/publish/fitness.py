"""Whether the records of an edition may be published: reviewed, or the edition says draft on every page."""

from __future__ import annotations

from dataclasses import dataclass

from shearpin.book.book import Key
from shearpin.book.linked import LinkedBook
from shearpin.model.kinds import KINDS


@dataclass(frozen=True, slots=True)
class Unfit:
    """A record that a final edition must not hold, and why."""

    path: str
    reason: str


def unfit_records(packed: LinkedBook) -> tuple[Unfit, ...]:
    """Return the records of a packed book that are not reviewed, or are withdrawn."""
    return tuple(
        Unfit(f"{packed.book.shown}/{packed.book.file_of[key].path}", reason)
        for key, _ in packed.book.records()
        if (reason := _reason(packed, key))
    )


def _reason(packed: LinkedBook, key: Key) -> str:
    record = packed.book.get(*key)
    assert record is not None
    state = record.review.state if record.review is not None else "draft"
    noun = KINDS[key[0]].name
    if state == "withdrawn":
        return f"this {noun} is withdrawn"
    return "" if state == "reviewed" else f"nobody has reviewed this {noun}"
