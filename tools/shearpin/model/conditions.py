"""Where in a record conditions stand that say for which machines something is."""

from __future__ import annotations

from collections.abc import Iterator

from shearpin.model.fields import AppliesTo, Fields
from shearpin.model.position import FieldPath
from shearpin.model.references import fields_leading_to


def conditions_of(record: Fields) -> Iterator[tuple[FieldPath, AppliesTo]]:
    """Yield every condition of a record with its place, those of steps and lists included."""
    waiting: list[tuple[FieldPath, object]] = [((), record)]
    while waiting:
        path, value = waiting.pop()
        if isinstance(value, AppliesTo):
            yield path, value
        elif isinstance(value, Fields):
            for attribute, name in fields_leading_to(type(value), AppliesTo):
                inner = getattr(value, attribute)
                if inner and isinstance(inner, (Fields, tuple)):
                    waiting.append(((*path, name), inner))
        elif isinstance(value, tuple) and isinstance(value[0], Fields):
            waiting += [((*path, index), item) for index, item in enumerate(value)]
