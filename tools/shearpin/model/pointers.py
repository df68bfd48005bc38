"""What a record points to, without where it does: asked of every record that is read, and found in a third of the time."""

from __future__ import annotations

import types
from collections import defaultdict
from collections.abc import Callable
from functools import cache
from sys import intern
from typing import Annotated, Any, Union, get_args, get_origin

from shearpin.model.fields import Fields, Inline
from shearpin.model.inline import mentioned
from shearpin.model.references import annotations_of, reference_in

Group = tuple[tuple[str, ...], tuple[str, ...]]
"""The kinds that may be meant, and ids of which each is that of a record of one of them."""

Pointers = tuple[Group, ...]
"""What one record refers to: by the kinds that may be meant the ids, each once, in the order of its fields."""

_Found = defaultdict[tuple[str, ...], dict[str, None]]
_Walk = Callable[[Any, _Found], None]


def pointers_of(record: Fields) -> Pointers:
    """Return what a record points to, in the order of its fields."""
    found: _Found = defaultdict(dict)
    _walk_fields(type(record))(record, found)
    return tuple([(kinds, tuple(map(intern, names))) for kinds, names in found.items()])


@cache
def _walk_fields(owner: type[Fields]) -> _Walk:
    parts = [
        (attribute, walk)
        for attribute, annotation in annotations_of(owner).values()
        if (walk := _walk_of(annotation)) is not None
    ]

    def walk_fields(value: Any, found: _Found) -> None:
        fields = value.__dict__
        for attribute, walk in parts:
            inner = fields[attribute]
            if inner:
                walk(inner, found)

    return walk_fields


def _walk_of(annotation: Any) -> _Walk | None:
    """Return the walk of a field, or None where it can point to nothing."""
    mark = reference_in(annotation)
    if mark is not None:
        kinds = mark.kinds

        def add(value: str, found: _Found) -> None:
            found[kinds][value] = None

        return add
    origin = get_origin(annotation)
    if origin is Annotated:
        base, *metadata = get_args(annotation)
        return _add_mentioned if any(isinstance(mark, Inline) for mark in metadata) else _walk_of(base)
    if origin in (Union, types.UnionType):
        return next((walk for part in get_args(annotation) if (walk := _walk_of(part)) is not None), None)
    if origin is tuple:
        return _items(get_args(annotation)[0])
    if origin is dict:
        return _mapping(*get_args(annotation))
    return (
        _walk_fields(annotation) if isinstance(annotation, type) and issubclass(annotation, Fields) else None
    )


def _add_mentioned(text: str, found: _Found) -> None:
    if "{" in text:
        for kind, name in mentioned(text):
            found[(kind,)][name] = None


def _items(item: Any) -> _Walk | None:
    mark, walk = reference_in(item), _walk_of(item)
    if walk is None:
        return None

    def walk_items(value: tuple[Any, ...], found: _Found) -> None:
        if mark is not None:
            found[mark.kinds].update(dict.fromkeys(value))
            return
        for each in value:
            walk(each, found)

    return walk_items


def _mapping(key: Any, item: Any) -> _Walk | None:
    mark, walk = reference_in(key), _walk_of(item)
    if mark is None and walk is None:
        return None

    def walk_mapping(value: dict[str, Any], found: _Found) -> None:
        for name, inner in value.items():
            if mark is not None:
                found[mark.kinds][name] = None
            if walk is not None:
                walk(inner, found)

    return walk_mapping
