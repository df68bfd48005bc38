"""Every text of a record that is written for the reader, found by a walk that is laid out once for each kind of record."""

from __future__ import annotations

import types
from collections.abc import Callable
from functools import cache
from typing import Annotated, Any, Union, get_args, get_origin

from shearpin.model.contents import contents_of
from shearpin.model.fields import Fields
from shearpin.model.position import FieldPath
from shearpin.model.references import annotations_of, prose_fields

Texts = list[tuple[FieldPath, str]]

_Names = frozenset[str]
_Walk = Callable[[Any, FieldPath, Texts], None]
_Parts = list[tuple[str, str, _Walk | None]]
"""Attribute and name of each field that may hold text for the reader, and its walk; None where it is such a text itself."""


def reader_texts(record: Fields) -> Texts:
    """Return every text for the reader with its place, in the order of the fields.

    A text is for the reader when its field, or the field of the list that it stands in, has the name of one that is.
    """
    found: Texts = []
    walk = _walk_fields(type(record), prose_fields(type(record)))
    if walk is not None:
        walk(record, (), found)
    return found


@cache
def _walk_fields(owner: type[Fields], names: _Names) -> _Walk | None:
    """Return the walk of a mapping, None where it can hold no text for the reader.

    `names` are those of the fields with text for the reader.
    """
    walks = {
        name: (attribute, _walk_of(annotation, name, names))
        for name, (attribute, annotation) in annotations_of(owner).items()
    }
    parts: _Parts = [
        (attribute, name, None if walk is _add_text else walk)
        for name, (attribute, walk) in walks.items()
        if walk is not None
    ]
    if not parts:
        return None

    take = contents_of(tuple(attribute for attribute, _, _ in parts))

    def walk_fields(value: Any, path: FieldPath, found: Texts) -> None:
        for inner, (_, name, walk) in zip(take(value), parts, strict=True):
            if not inner:
                continue
            if walk is None:
                found.append(((*path, name), inner))
            else:
                walk(inner, (*path, name), found)

    return walk_fields


def _walk_of(annotation: Any, name: str, names: _Names) -> _Walk | None:
    """Return the walk of a field, or None where it can hold no text for the reader."""
    base = _unwrapped(annotation)
    if isinstance(base, type) and get_origin(base) is None:
        if issubclass(base, Fields):
            return _walk_fields(base, names)
        return _add_text if issubclass(base, str) and name in names else None
    if get_origin(base) is tuple:
        item = _unwrapped(get_args(base)[0])
        if isinstance(item, type) and get_origin(item) is None:
            if issubclass(item, Fields):
                each = _walk_fields(item, names)
                return _each(each) if each is not None else None
            return _add_items if issubclass(item, str) and name in names else None

    def walk_anything(value: Any, path: FieldPath, found: Texts) -> None:
        _add_anything(value, path, names, found)

    return walk_anything


def _unwrapped(annotation: Any) -> Any:
    """Return the type itself, without what is said about it and without the None that it may be instead."""
    origin = get_origin(annotation)
    if origin is Annotated:
        return _unwrapped(get_args(annotation)[0])
    if origin in (Union, types.UnionType):
        others = [part for part in get_args(annotation) if part is not types.NoneType]
        return _unwrapped(others[0]) if len(others) == 1 else annotation
    return annotation


def _add_text(value: Any, path: FieldPath, found: Texts) -> None:
    found.append((path, value))


def _add_items(value: Any, path: FieldPath, found: Texts) -> None:
    for index, item in enumerate(value):
        found.append(((*path, index), item))


def _each(walk: _Walk) -> _Walk:
    def walk_items(value: Any, path: FieldPath, found: Texts) -> None:
        for index, item in enumerate(value):
            walk(item, (*path, index), found)

    return walk_items


def _add_anything(value: object, path: FieldPath, names: _Names, found: Texts) -> None:
    """Add the texts below a value of whatever type; the place of a list's item ends with its number."""
    if isinstance(value, str):
        if (path[-1] if isinstance(path[-1], str) else path[-2]) in names:
            found.append((path, value))
    elif isinstance(value, Fields):
        walk = _walk_fields(type(value), names)
        if walk is not None:
            walk(value, path, found)
    elif isinstance(value, tuple):
        for index, item in enumerate(value):
            _add_anything(item, (*path, index), names, found)
    elif isinstance(value, dict):
        for key, item in value.items():
            _add_anything(item, (*path, key), names, found)
