"""The heading of a record: what lists, conditions and links need of it."""

from __future__ import annotations

from typing import NamedTuple

from shearpin.model.fields import AppliesTo, Record


class Heading(NamedTuple):
    """What lists, conditions and links need of a record.

    `ignores` says that it names rules that do not hold in it; `said` is how many bytes the sentence has that lists show.
    """

    title: str
    applies_to: AppliesTo | None
    systems: tuple[str, ...]
    also: tuple[str, ...]
    formerly: tuple[str, ...]
    ignores: bool
    said: int


def summary_of(record: Record) -> str:
    """Return the sentence that lists and search results show of a record."""
    for name in ("summary", "purpose", "mechanism", "definition", "hazard", "measured", "alt"):
        content = getattr(record, name, None)
        if content:
            return str(content)
    return ""


def heading_of(record: Record) -> Heading:
    """Return the heading of a record."""
    return Heading(
        record.title,
        getattr(record, "applies_to", None),
        getattr(record, "systems", ()),
        getattr(record, "also", ()),
        record.formerly,
        bool(record.ignore),
        len(summary_of(record).encode(errors="surrogatepass")),
    )
