"""What a new record holds before its writer has written it: for each field a mark, a plausible word or an example."""

from __future__ import annotations

import types
import typing
from collections.abc import Mapping
from datetime import date
from enum import StrEnum
from types import MappingProxyType
from typing import Annotated, Any, Final, Union, get_args, get_origin

from pydantic import StringConstraints

from shearpin.authoring.order import written_order
from shearpin.checks.unwritten import unwritten, unwritten_id
from shearpin.model.fields import (
    ID_PATTERN,
    ChanceField,
    Count,
    Date,
    Duration,
    Fields,
    Flag,
    OneOrMore,
    RefTo,
)

# Where the first of several words would be a strange beginning.
_WORDS: Final[Mapping[str, str]] = MappingProxyType(
    {
        "signal_word": "WARNING",
        "severity": "serious",
        "likelihood": "could",
        "seen": "from-memory",
        "nature": "common-practice",
        "chance": "sometimes",
        "otherwise": "never",
        "something_else": "rarely",
        "every": "25 h",
        "quantity": "length",
        "language": "en",
        "code": "LNG001",
        "link": "https://www.example.org/page",
        "planes": '"2"',
    }
)
_SHORT: Final[Mapping[str, str]] = MappingProxyType(
    {
        "title": "what the page is called",
        "is": "the figure with its unit",
        "also": "another name",
        "band": "the plausible range",
        "said": "what a customer says",
        "summary": "two sentences",
        "do": "one action",
        "seen": "what is seen",
        "then": "what to do next",
        "number": "the number",
        "licence": "the licence",
        "issuer": "who issues it",
    }
)


def example(annotation: Any, name: str, info: Any = None) -> str:
    """Return one line of YAML that a field of this type can hold."""
    if annotation is Duration:
        return _WORDS.get(name, "15 min")
    if annotation is ChanceField:
        return _WORDS.get(name, "sometimes")
    if annotation in (Count, Flag, Date):
        return {id(Count): "1", id(Flag): "yes", id(Date): date.today().isoformat()}[id(annotation)]
    origin = get_origin(annotation)
    if origin is Annotated:
        return _annotated(annotation, name, info)
    if origin in (Union, types.UnionType):
        inner = [argument for argument in get_args(annotation) if argument is not type(None)]
        return example(inner[0], name, info)
    if origin is tuple:
        return f"[{example(get_args(annotation)[0], name, info)}]"
    if origin is dict:
        key, item = get_args(annotation)
        return f"{{{example(key, name)}: {example(item, name)}}}"
    if isinstance(annotation, type) and issubclass(annotation, Fields):
        return part(annotation)
    if isinstance(annotation, type) and issubclass(annotation, StrEnum):
        return _WORDS.get(name, str(next(iter(annotation)).value))
    return unwritten(_what(name, info))


def _annotated(annotation: Any, name: str, info: Any) -> str:
    base, *marks = get_args(annotation)
    for mark in marks:
        if mark is OneOrMore:
            return f"[{example(get_args(base)[0], name, info)}]"
        if isinstance(mark, RefTo):
            return unwritten_id(mark.kinds[0])
    for mark in marks:
        if isinstance(mark, StringConstraints) and mark.pattern:
            pattern = str(mark.pattern)
            if pattern == ID_PATTERN:
                return _WORDS.get(name, unwritten_id(name.replace("_", "-")))
            return _WORDS.get(name, pattern.removeprefix("^(").split("|")[0].removesuffix(")$"))
    return example(base, name, info) if base is not str else unwritten(_what(name, info))


def part(owner: type[Fields]) -> str:
    """Return a part of a record in braces: what it must have, or its first field where it must have none."""
    hints = typing.get_type_hints(owner, include_extras=True)
    by_name = {
        (info.alias or attribute): (hints[attribute], info) for attribute, info in owner.model_fields.items()
    }
    order = written_order(owner)
    wanted = [name for name in order if by_name[name][1].is_required()] or list(order[:1])
    return (
        "{"
        + ", ".join(f"{name}: {example(by_name[name][0], name, by_name[name][1])}" for name in wanted)
        + "}"
    )


def _what(name: str, info: Any) -> str:
    """Return what is to be written, in few words: plain in YAML, so without a colon or a comma."""
    if name in _SHORT:
        return _SHORT[name]
    words = (
        (getattr(info, "description", None) or name.replace("_", " "))
        .split(".")[0]
        .split(",")[0]
        .split(":")[0]
    )
    plain = "".join(c for c in words if c.isalnum() or c in " -'’/")
    return plain[:1].lower() + plain[1:]
