"""Whether the records of an edition may be published: reviewed, or the edition says draft on every page."""

from __future__ import annotations

from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

from shearpin.book.book import Key
from shearpin.book.linked import LinkedBook
from shearpin.book.review import ReviewState


@dataclass(frozen=True, slots=True)
class Unfit:
    """A record that a final edition must not hold, and why."""

    path: str
    reason: str


def unfit_records(packed: LinkedBook) -> tuple[Unfit, ...]:
    """Return the records of a packed book that nobody has reviewed, that changed since, or that are withdrawn."""
    return tuple(
        Unfit(f"{packed.book.shown}/{packed.book.file_of[key].path}", reason)
        for key, _ in packed.book.records()
        if (reason := _reason(packed, key))
    )


_REASONS: Final = MappingProxyType(
    {
        ReviewState.DRAFT: "nobody has reviewed this {noun}",
        ReviewState.LAPSED: "this {noun} was changed after its review",
        ReviewState.WITHDRAWN: "this {noun} is withdrawn",
    }
)


def _reason(packed: LinkedBook, key: Key) -> str:
    return _REASONS.get(packed.reviews.of(*key).state, "").format(noun=key[0])
