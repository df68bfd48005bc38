"""Everything a record refers to: found by walking the types of its fields, so that no field is forgotten."""

from __future__ import annotations

import types
import typing
from collections.abc import Callable, Iterable
from functools import cache
from typing import Annotated, Any, Final, NamedTuple, Union, get_args, get_origin

from shearpin.model.contents import contents_of
from shearpin.model.fields import Fields, Inline, RefTo
from shearpin.model.position import FieldPath


class Reference(NamedTuple):
    """An id in a field: where it stands, what it may be, what it is."""

    path: FieldPath
    kinds: tuple[str, ...]
    id: str
    on_key: bool = False


class InlineText(NamedTuple):
    """A text with braces, in which values and links stand."""

    path: FieldPath
    text: str


_new: Final = tuple.__new__  # a third of the time of asking the class, and every record has some

Mention = Reference | InlineText
_Walk = Callable[[Any, FieldPath, list[Mention]], None]


def mentions(record: Fields) -> list[Mention]:
    """Return every reference and every text with braces of a record, in the order of its fields."""
    found: list[Mention] = []
    _walk_of(type(record))(record, (), found)
    return found


def texts(record: Fields) -> list[tuple[FieldPath, str]]:
    """Return every text of a record with its place, in the order of its fields."""
    found: list[tuple[FieldPath, str]] = []
    _add_texts(record, (), found)
    return found


def _add_texts(value: object, path: FieldPath, found: list[tuple[FieldPath, str]]) -> None:
    for name, inner in parts_of(value):
        if isinstance(inner, str):
            found.append(((*path, name), inner))
        else:
            _add_texts(inner, (*path, name), found)


def parts_of(value: object) -> Iterable[tuple[str | int, object]]:
    """Return the parts of a mapping or list with their names as written, or numbers."""
    if isinstance(value, Fields):
        names = written_names(type(value))
        return [(names[attribute], inner) for attribute, inner in value.__dict__.items() if inner]
    if isinstance(value, tuple):
        return enumerate(value)
    return value.items() if isinstance(value, dict) else ()


@cache
def written_names(owner: type[Fields]) -> dict[str, str]:
    """Return the name as written of every field, by attribute."""
    return {attribute: field.alias or attribute for attribute, field in owner.model_fields.items()}


def nested_fields(owner: type[Fields], path: FieldPath) -> type[Fields] | None:
    """Return the type of the mapping at `path` below `owner`, or None where there is none."""
    here: type[Fields] | None = owner
    for part in path:
        if here is None:
            return None
        if isinstance(part, int):
            continue
        annotation = annotations_of(here).get(part)
        if annotation is None:
            # Under a mapping of ids the part is a key: the type stays that of its values.
            continue
        here = _inner_fields(annotation[1])
    return here


@cache
def annotations_of(owner: type[Fields]) -> dict[str, tuple[str, Any]]:
    """Return `{name as written: (attribute, annotation)}`."""
    hints = typing.get_type_hints(owner, include_extras=True)
    return {
        (field.alias or attribute): (attribute, hints[attribute])
        for attribute, field in owner.model_fields.items()
    }


def field_names(owner: type[Fields]) -> tuple[str, ...]:
    """Return the names of the fields as written in a record."""
    return tuple(annotations_of(owner))


def field_type(owner: type[Fields], name: str) -> Any:
    """Return the annotation of a field by its written name, or None where there is no such field."""
    found = annotations_of(owner).get(name)
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
def fields_leading_to(owner: type[Fields], wanted: type[Fields]) -> tuple[tuple[str, str], ...]:
    """Return attribute and written name of every field of `owner` that is, or in which may lie, a mapping of a type."""
    found = []
    for name, (attribute, annotation) in annotations_of(owner).items():
        inner = _inner_fields(annotation)
        if inner is not None and (inner is wanted or fields_leading_to(inner, wanted)):
            found.append((attribute, name))
    return tuple(found)


@cache
def prose_fields(owner: type[Fields]) -> frozenset[str]:
    """Return the names, as written, of all fields at and below `owner` that hold text for the reader."""
    found: set[str] = set()
    for name, (_, annotation) in annotations_of(owner).items():
        if _is_inline(annotation):
            found.add(name)
        inner = _inner_fields(annotation)
        if inner is not None:
            found |= prose_fields(inner)
    return frozenset(found)


@cache
def inline_attributes(owner: type[Fields]) -> frozenset[str]:
    """Return the attributes of `owner` itself that hold text for the reader."""
    return frozenset(name for name, annotation in annotations_of(owner).values() if _is_inline(annotation))


def _is_inline(annotation: Any) -> bool:
    return isinstance(annotation, Inline) or any(_is_inline(part) for part in get_args(annotation))


@cache
def _walk_of(owner: type[Fields]) -> _Walk:
    parts = [
        (attribute, alias, walk)
        for alias, (attribute, annotation) in annotations_of(owner).items()
        if (walk := _compile(annotation)) is not None
    ]

    take = contents_of(tuple(attribute for attribute, _, _ in parts))

    def walk_fields(value: Any, path: FieldPath, found: list[Mention]) -> None:
        for inner, (_, alias, walk) in zip(take(value), parts, strict=True):
            if not inner:
                continue
            if walk is not _add_inline or "{" in inner or "}" in inner:
                walk(inner, (*path, alias), found)

    return walk_fields


def _compile(annotation: Any) -> _Walk | None:
    """Return the walk for one annotation, or None where nothing can be mentioned."""
    origin = get_origin(annotation)
    if origin is Annotated:
        reference = reference_in(annotation)
        if reference is not None:
            return _reference(reference)
        base, *metadata = get_args(annotation)
        return _add_inline if any(isinstance(mark, Inline) for mark in metadata) else _compile(base)
    if origin in (Union, types.UnionType):
        walks = [walk for argument in get_args(annotation) if (walk := _compile(argument)) is not None]
        return walks[0] if walks else None
    if origin is tuple:
        return _each(get_args(annotation)[0])
    if origin is dict:
        return _mapping(*get_args(annotation))
    if isinstance(annotation, type) and issubclass(annotation, Fields):
        return _walk_of(annotation)
    return None


def _add_inline(value: Any, path: FieldPath, found: list[Mention]) -> None:
    if "{" in value or "}" in value:
        found.append(InlineText(path, value))


def _reference(mark: RefTo) -> _Walk:
    kinds = mark.kinds

    def add_reference(value: Any, path: FieldPath, found: list[Mention]) -> None:
        found.append(_new(Reference, (path, kinds, value, False)))

    return add_reference


def _each(item: Any) -> _Walk | None:
    mark = reference_in(item)
    if mark is not None:
        kinds = mark.kinds

        def add_references(value: Any, path: FieldPath, found: list[Mention]) -> None:
            found += [
                _new(Reference, ((*path, index), kinds, name, False)) for index, name in enumerate(value)
            ]

        return add_references
    inner = _compile(item)
    if inner is None:
        return None

    def walk_items(value: Any, path: FieldPath, found: list[Mention]) -> None:
        for index, item in enumerate(value):
            inner(item, (*path, index), found)

    return walk_items


def _mapping(key: Any, item: Any) -> _Walk | None:
    mark, item_walk = reference_in(key), _compile(item)
    if mark is None and item_walk is None:
        return None
    kinds = mark.kinds if mark is not None else ()

    def walk_mapping(value: Any, path: FieldPath, found: list[Mention]) -> None:
        for name, inner in value.items():
            here = (*path, name)
            if kinds:
                found.append(_new(Reference, (here, kinds, name, True)))
            if item_walk is not None:
                item_walk(inner, here, found)

    return walk_mapping


def reference_in(annotation: Any) -> RefTo | None:
    """Return what an id may be the id of, None where the annotation is not that of an id."""
    if get_origin(annotation) is not Annotated:
        return None
    return next((mark for mark in get_args(annotation)[1:] if isinstance(mark, RefTo)), None)
