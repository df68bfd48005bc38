"""The order in which the fields of a record are written: that of the model, as the book's pages read."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from types import MappingProxyType
from typing import Final

from shearpin.model.fields import Fields, Record
from shearpin.model.machines import Plated
from shearpin.model.references import field_names

_APPARATUS: Final = tuple(name for name in field_names(Record) if name != "title")
_MOVED: Final[Mapping[str, tuple[tuple[str, str], ...]]] = MappingProxyType(
    {
        # What a kind adds to fields it shares stands where a writer thinks of it: each name after another.
        "procedure": (("remedies", "systems"), ("isolates", "systems"), ("figures", "outcome")),
        "test": (("figures", "finish"),),
        "machine": (("suits", "summary"), ("engine", "summary"), ("class", "summary")),
    }
)


@cache
def written_order(owner: type[Fields]) -> tuple[str, ...]:
    """Return the names of the fields of a record, or of a part of one, in the order in which they are written.

    Sources, review and the like come after what a record says; the long tables of figures come last of all.
    """
    names = list(field_names(owner))
    if not issubclass(owner, Record):
        return tuple(names)
    names = [name for name in names if name not in _APPARATUS] + list(_APPARATUS)
    for name, after in _MOVED.get(str(owner.__dict__.get("KIND", "")), ()):
        names.remove(name)
        names.insert(names.index(after) + 1, name)
    if issubclass(owner, Plated):
        names.remove("values")
        names.append("values")
    return tuple(names)


@cache
def written_rank(owner: type[Fields]) -> Mapping[str, int]:
    """Return the place of each field; sources and review stand together, and which of them is first says nothing."""
    rank = {name: place for place, name in enumerate(written_order(owner))}
    if issubclass(owner, Record):
        rank["review"] = rank["sources"]
    return MappingProxyType(rank)
