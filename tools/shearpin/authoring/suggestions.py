"""What an editor can offer in a field: ids of this book with their titles, and the words it uses for features and acts."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from types import MappingProxyType
from typing import Final

from shearpin.book.book import Book
from shearpin.model.fields import Fields, Record
from shearpin.model.kinds import KINDS
from shearpin.model.steps import Step


@dataclass(frozen=True)
class Suggestions:
    """Known ids and words of one book."""

    book: Book

    def ids(self, kinds: Iterable[str]) -> Mapping[str, str]:
        """Return the ids of these kinds, each with its title; what cannot be read stands with its id alone."""
        found: dict[str, str] = {}
        for file in self.book.files:
            if file.kind.name in kinds:
                found.setdefault(file.id, file.record.title if file.record is not None else "")
        return found

    def words(self, field: str) -> tuple[str, ...]:
        """Return the words that the book uses in fields of this name and its like, sorted; few fields have any."""
        family = _FAMILY.get(field)
        return self._families[family] if family is not None else ()

    @cached_property
    def _families(self) -> Mapping[str, tuple[str, ...]]:
        found: dict[str, set[str]] = {family: set() for family in _FAMILY.values()}
        for _, record in self.book.records():
            for name, value in _ids_in(record):
                found[_FAMILY[name]].update(value)
        found["kind"] = set(KINDS)
        return {family: tuple(sorted(words)) for family, words in found.items()}


_FAMILY: Final[Mapping[str, str]] = MappingProxyType(
    {
        "action": "action",
        "actions": "action",
        "energies": "energy",
        "isolates": "energy",
        "fitted": "feature",
        "any_fitted": "feature",
        "not_fitted": "feature",
        "class": "class",
        "kinds": "kind",
    }
)
"""Fields that hold words which are no records, and what kind of word."""


def _ids_in(owner: Fields) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Yield the words of such fields, in a record and the parts of it that have some."""
    for attribute, info in type(owner).model_fields.items():
        name = info.alias or attribute
        value = getattr(owner, attribute)
        if name in _FAMILY and value:
            yield name, (value,) if isinstance(value, str) else value
        elif isinstance(value, Fields) and not isinstance(value, Record):
            yield from _ids_in(value)
        elif isinstance(value, tuple) and value and isinstance(value[0], Step):
            for step in value:
                yield from _ids_in(step)
