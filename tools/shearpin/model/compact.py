"""Records in little room: a book of ten thousand has a hundred thousand mappings, and most of what they say is said often."""

from __future__ import annotations

from sys import intern
from typing import Any, Final, TypeVar

from shearpin.model.fields import AppliesTo, Chance, Fields, Record

AnyRecord = TypeVar("AnyRecord", bound=Record)

_Pair = tuple[tuple[str, ...], tuple[str, ...]]

_NONE_SET: Final[set[str]] = set()
_SHORT: Final = 40
"""Characters of the longest id, date or single word that is looked for among those that were met before."""

_new: Final = object.__new__
_put: Final = object.__setattr__


class Compacting:
    """Makes records that hold the same in less room: what several say alike stands in memory once.

    Which of its fields a record was given, and which have their default, nobody asks of it afterwards.
    """

    def __init__(self) -> None:
        self._shared: dict[Any, Any] = {}

    def record(self, record: AnyRecord) -> AnyRecord:
        """Return an equal record."""
        smaller: AnyRecord = self._fields(record)
        return smaller

    def pairs(self, pairs: tuple[_Pair, ...]) -> tuple[_Pair, ...]:
        """Return equal pairs of lists of ids, none of them empty."""
        smaller = [(self._items(first), self._items(second)) for first, second in pairs]
        return tuple([self._shared.setdefault(pair, pair) for pair in smaller])

    def _fields(self, owner: Any) -> Any:
        # Attributes that are set one by one lie beside each other, without a table of their names for each mapping.
        smaller = _new(type(owner))
        value: Any
        for name, value in owner.__dict__.items():
            if not value:  # as most
                _put(smaller, name, value)
                continue
            kind = type(value)
            if kind is str:
                if len(value) <= _SHORT and " " not in value:
                    value = intern(value)
            elif kind is tuple:
                value = self._items(value)
            elif kind is dict:
                value = {intern(key): self._any(inner) for key, inner in value.items()}
            else:
                value = self._any(value)
            _put(smaller, name, value)
        _put(smaller, "__pydantic_fields_set__", _NONE_SET)
        _put(smaller, "__pydantic_extra__", None)
        _put(smaller, "__pydantic_private__", None)
        return smaller

    def _items(self, items: tuple[Any, ...]) -> tuple[Any, ...]:
        first = items[0]
        if type(first) is not str:
            return tuple(map(self._any, items))
        if len(first) > _SHORT or " " in first:
            return items
        known = self._shared.get(items)
        if known is None:
            known = tuple(map(intern, items))
            self._shared[known] = known
        return known

    def _any(self, value: Any) -> Any:
        kind = type(value)
        if kind is Chance:
            return self._shared.setdefault(value, value)
        if kind is AppliesTo:
            known = self._shared.get(value)
            return known if known is not None else self._shared.setdefault(value, self._fields(value))
        if isinstance(value, Fields):
            return self._fields(value)
        return self._items(value) if kind is tuple and value else value
