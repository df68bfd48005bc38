"""The heading of a record: what lists, conditions and links need of it."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from typing import Any, Final, NamedTuple

from pydantic import TypeAdapter

from shearpin.model.fields import AppliesTo, Record, Text
from shearpin.model.machines import Engine, Machine

_SUMMARIES: Final = ("summary", "purpose", "mechanism", "definition", "hazard", "measured", "alt")
"""Fields that say in a sentence what a record is about, those that come first before others."""


Worn = tuple[str, str | None, tuple[str, ...]]
"""The class of a machine, the engine that it names, and what is fitted to it; of an engine what is fitted alone."""


class Heading(NamedTuple):
    """What lists, conditions and links need of a record.

    `ignores` says that it names rules that do not hold in it; `said` is how many bytes the sentence has that lists show. `worn` is
    that of a machine or an engine, None of other records.
    """

    title: str
    applies_to: AppliesTo | None
    systems: tuple[str, ...]
    also: tuple[str, ...]
    formerly: tuple[str, ...]
    ignores: bool
    said: int
    worn: Worn | None = None


def summary_of(record: Record) -> str:
    """Return the sentence that lists and search results show of a record."""
    has = _fields_of(type(record))
    for name in _SUMMARIES:
        if name in has and (content := getattr(record, name)):
            return str(content)
    return ""


_sentence: Final = TypeAdapter(Text)


def summary_in(kind: type[Record], data: Mapping[str, Any]) -> str:
    """Return the same of data of which a sound record of this kind can be made."""
    has = _fields_of(kind)
    found = (data.get(name) for name in _SUMMARIES if name in has)
    return next((_sentence.validate_python(content) for content in found if content), "")


def heading_of(record: Record) -> Heading:
    """Return the heading of a record."""
    has = _fields_of(type(record))
    return Heading(
        record.title,
        getattr(record, "applies_to", None) if "applies_to" in has else None,
        getattr(record, "systems", ()) if "systems" in has else (),
        getattr(record, "also", ()) if "also" in has else (),
        record.formerly,
        bool(record.ignore),
        len(summary_of(record).encode(errors="surrogatepass")),
        _worn(record),
    )


def _worn(record: Record) -> Worn | None:
    if isinstance(record, Machine):
        return record.class_, record.engine, record.fitted
    return ("", None, record.fitted) if isinstance(record, Engine) else None


@cache
def _fields_of(kind: type[Record]) -> frozenset[str]:
    """Return the fields of a kind: pydantic is slow to say of a record that it has no such field."""
    return frozenset(kind.model_fields)
