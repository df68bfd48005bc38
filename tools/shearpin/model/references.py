"""Everything a record refers to: found by walking the types of its fields, so that no field is forgotten."""

from __future__ import annotations

import types
import typing
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cache
from typing import Annotated, Any, Union, get_args, get_origin

from shearpin.model.fields import Fields, Inline, RefTo
from shearpin.model.position import FieldPath


@dataclass(frozen=True, slots=True)
class Reference:
    """An id in a field: where it stands, what it may be, what it is."""

    path: FieldPath
    kinds: tuple[str, ...]
    id: str
    on_key: bool = False


@dataclass(frozen=True, slots=True)
class InlineText:
    """A text in which values and links may stand."""

    path: FieldPath
    text: str


Mention = Reference | InlineText
_Walk = Callable[[Any, FieldPath], Iterator[Mention]]


def mentions(record: Fields) -> Iterator[Mention]:
    """Yield every reference and every text with inline references of a record, in the order of its fields."""
    return _walk_of(type(record))(record, ())


def nested_fields(owner: type[Fields], path: FieldPath) -> type[Fields] | None:
    """Return the type of the mapping at `path` below `owner`, or None where there is none."""
    here: type[Fields] | None = owner
    for part in path:
        if here is None:
            return None
        if isinstance(part, int):
            continue
        annotation = _annotations(here).get(part)
        if annotation is None:
            # Under a mapping of ids the part is a key: the type stays that of its values.
            continue
        here = _inner_fields(annotation[1])
    return here


@cache
def _annotations(owner: type[Fields]) -> dict[str, tuple[str, Any]]:
    """Return `{name as written: (attribute, annotation)}`."""
    hints = typing.get_type_hints(owner, include_extras=True)
    return {
        (field.alias or attribute): (attribute, hints[attribute])
        for attribute, field in owner.model_fields.items()
    }


def field_names(owner: type[Fields]) -> tuple[str, ...]:
    """Return the names of the fields as written in a record."""
    return tuple(_annotations(owner))


def field_type(owner: type[Fields], name: str) -> Any:
    """Return the annotation of a field by its written name, or None where there is no such field."""
    found = _annotations(owner).get(name)
    return found[1] if found is not None else None


def _inner_fields(annotation: Any) -> type[Fields] | None:
    if isinstance(annotation, type) and not get_origin(annotation) and issubclass(annotation, Fields):
        return annotation
    for argument in get_args(annotation):
        found = _inner_fields(argument) if not isinstance(argument, (RefTo, Inline)) else None
        if found is not None:
            return found
    return None


@cache
def _walk_of(owner: type[Fields]) -> _Walk:
    parts = [
        (attribute, alias, walk)
        for alias, (attribute, annotation) in _annotations(owner).items()
        if (walk := _compile(annotation)) is not None
    ]

    def walk_fields(value: Any, path: FieldPath) -> Iterator[Mention]:
        for attribute, alias, walk in parts:
            inner = getattr(value, attribute)
            if inner:
                yield from walk(inner, (*path, alias))

    return walk_fields


def _compile(annotation: Any) -> _Walk | None:
    """Return the walk for one annotation, or None where nothing can be mentioned."""
    origin = get_origin(annotation)
    if origin is Annotated:
        base, *metadata = get_args(annotation)
        for mark in metadata:
            if isinstance(mark, RefTo):
                return _reference(mark)
            if isinstance(mark, Inline):
                return lambda value, path: iter((InlineText(path, value),))
        return _compile(base)
    if origin in (Union, types.UnionType):
        walks = [walk for argument in get_args(annotation) if (walk := _compile(argument)) is not None]
        return walks[0] if walks else None
    if origin is tuple:
        inner = _compile(get_args(annotation)[0])
        return _each(inner) if inner is not None else None
    if origin is dict:
        return _mapping(*get_args(annotation))
    if isinstance(annotation, type) and issubclass(annotation, Fields):
        return _walk_of(annotation)
    return None


def _reference(mark: RefTo) -> _Walk:
    return lambda value, path: iter((Reference(path, mark.kinds, value),))


def _each(inner: _Walk) -> _Walk:
    def walk_items(value: Any, path: FieldPath) -> Iterator[Mention]:
        for index, item in enumerate(value):
            yield from inner(item, (*path, index))

    return walk_items


def _mapping(key: Any, item: Any) -> _Walk | None:
    key_walk, item_walk = _compile(key), _compile(item)
    if key_walk is None and item_walk is None:
        return None

    def walk_mapping(value: Any, path: FieldPath) -> Iterator[Mention]:
        for name, inner in value.items():
            if key_walk is not None:
                for mention in key_walk(name, (*path, name)):
                    if isinstance(mention, Reference):
                        yield Reference(mention.path, mention.kinds, mention.id, on_key=True)
            if item_walk is not None:
                yield from item_walk(inner, (*path, name))

    return walk_mapping
