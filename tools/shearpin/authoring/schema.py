"""JSON Schema 2020-12 for editors, one per kind of record, made from the types that read the records.

A schema helps while writing: it completes fields, ids and words, shows what a field is for, and marks what no record
can hold. What depends on other records in more than their ids stays with `shearpin check`. Every scalar of a record is
text, but an editor's YAML reader takes `2` for a number: numbers pass wherever text does.
"""

from __future__ import annotations

import types
import typing
from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from types import MappingProxyType
from typing import Annotated, Any, Final, Union, get_args, get_origin

from pydantic import StringConstraints, WithJsonSchema
from pydantic.fields import FieldInfo

from shearpin.authoring.order import written_order
from shearpin.authoring.suggestions import Suggestions
from shearpin.book.book import Book
from shearpin.model.fields import (
    ID_PATTERN,
    ChanceField,
    ChanceWord,
    Duration,
    Fields,
    Inline,
    OneOrMore,
    RefTo,
)
from shearpin.model.kinds import KINDS, Kind
from shearpin.model.machines import Value, ValueEntry
from shearpin.model.quantity import QuantityKind
from shearpin.model.quantity_value import TEXT_KINDS

DIALECT: Final = "https://json-schema.org/draft/2020-12/schema"
Schema = dict[str, Any]

_TEXT: Final[Mapping[str, Any]] = MappingProxyType({"type": ["string", "number", "boolean"], "minLength": 1})
_PROSE: Final = (
    r"^(?:[^{}]|\{\{|\}\}|\{\s*(?:[a-z0-9.-]+|(?:" + "|".join(KINDS) + r"):[a-z0-9.-]+(?:\|[^{}]+)?)\s*\})*$"
)
_PROSE_ADVICE: Final = (
    "a brace holds a value or `kind:id`, such as {spark-plug.gap} or {procedure:make-machine-safe}"
)
_DIGIT: Final = r"[0-9½⅓⅔¼¾⅛⅜⅝⅞]"
_SHARE: Final = r"^\s*[0-9]{1,3}(?:\.[0-9]+)?\s*%?\s*$"


def schemas(book: Book) -> dict[str, Schema]:
    """Return the schema of every kind by the name of the kind, with the ids that this book has."""
    suggestions = Suggestions(book)
    return {name: _Maker(suggestions).record(kind) for name, kind in KINDS.items()}


@dataclass
class _Maker:
    """Makes one schema; parts that repeat are named once under `$defs`."""

    suggestions: Suggestions
    defs: dict[str, Schema] = field(default_factory=dict)

    def record(self, kind: Kind) -> Schema:
        """Return the whole schema of a kind."""
        body = self._fields(kind.record)
        return {
            "$schema": DIALECT,
            "title": kind.name,
            "description": _sentence(kind.record),
            **body,
            "$defs": dict(sorted(self.defs.items())),
        }

    def _fields(self, owner: type[Fields]) -> Schema:
        hints = typing.get_type_hints(owner, include_extras=True)
        by_name = {(info.alias or name): (name, info) for name, info in owner.model_fields.items()}
        properties: Schema = {}
        for name in written_order(owner):
            attribute, info = by_name[name]
            properties[name] = self._described(self._of(hints[attribute], name), info, hints[attribute])
        required = [name for name, (_, info) in by_name.items() if info.is_required()]
        return {
            "type": "object",
            "properties": properties,
            "required": [name for name in written_order(owner) if name in required],
            "additionalProperties": False,
        }

    def _described(self, schema: Schema, info: FieldInfo, annotation: Any) -> Schema:
        words = [info.description] if info.description else []
        target = _reference(annotation)
        if target is not None:
            words.append(f"Names a {' or '.join(target.kinds)}.")
        least = _least(info)
        if least:
            schema = {**schema, "minItems": least}
        return {"description": " ".join(words), **schema} if words else schema

    def _of(self, annotation: Any, name: str) -> Schema:
        """Return the schema of a type; `name` is the field's, which tells features from acts."""
        origin = get_origin(annotation)
        if annotation in (Duration, ChanceField):
            return self._named("duration" if annotation is Duration else "chance", _special(annotation))
        if origin is Annotated:
            return self._annotated(annotation, name)
        if origin in (Union, types.UnionType):
            inner = [argument for argument in get_args(annotation) if argument is not type(None)]
            return self._of(inner[0], name)
        if origin is tuple:
            return {"type": "array", "items": self._of(get_args(annotation)[0], name)}
        if origin is dict:
            return self._mapping(name, *get_args(annotation))
        if isinstance(annotation, type) and issubclass(annotation, Fields):
            return self._part(annotation)
        if isinstance(annotation, type) and issubclass(annotation, StrEnum):
            return {"enum": [str(member.value) for member in annotation]}
        return dict(_TEXT)

    def _annotated(self, annotation: Any, name: str) -> Schema:
        base, *marks = get_args(annotation)
        if OneOrMore in marks:
            single = self._of(get_args(base)[0], name)
            return {"anyOf": [{"type": "array", "items": single}, single]}
        for mark in marks:
            if isinstance(mark, RefTo):
                return self._ids(mark)
            if isinstance(mark, Inline):
                return self._named(
                    "prose", {**_TEXT, "pattern": _PROSE, "patternErrorMessage": _PROSE_ADVICE}
                )
            if isinstance(mark, WithJsonSchema):
                return _scalar(mark.json_schema or {})
        for mark in marks:
            if isinstance(mark, StringConstraints):
                return self._constrained(mark, name)
        return self._of(base, name)

    def _constrained(self, mark: StringConstraints, name: str) -> Schema:
        pattern = str(mark.pattern or "")
        choices = pattern.removeprefix("^(").removesuffix(")$")
        if pattern == f"^({choices})$" and choices.replace("|", "").replace("-", "").isalpha():
            return {"enum": choices.split("|")}
        if pattern == ID_PATTERN:
            words = self.suggestions.words(name)
            own: Schema = {"type": ["string", "number"], "pattern": ID_PATTERN}
            return {"anyOf": [{"enum": list(words)}, own]} if words else own
        return {**_TEXT, "pattern": pattern} if pattern else dict(_TEXT)

    def _ids(self, target: RefTo) -> Schema:
        """Return the ids of one or two kinds; a book without any of them takes whatever is an id."""
        known = self.suggestions.ids(target.kinds)
        if not known:
            return {"type": "string", "pattern": ID_PATTERN}
        kinds = " or ".join(target.kinds)
        return self._named(
            f"id-of-{'-or-'.join(target.kinds)}",
            {
                "enum": list(known),
                "markdownEnumDescriptions": [title or record_id for record_id, title in known.items()],
                "errorMessage": f"the book has no such {kinds}; `shearpin schema` tells the editor of new records",
            },
        )

    def _mapping(self, name: str, key: Any, item: Any) -> Schema:
        """Return a mapping of ids; each id is a field of its own, so that an editor completes and explains it."""
        target = _reference(key)
        known = self.suggestions.ids(target.kinds) if target is not None else {}
        properties: Schema = {}
        for record_id, title in known.items():
            of_value = item is ValueEntry
            inner = self._figure(record_id) if of_value else self._of(item, name)
            about = self._about_value(record_id) if of_value else ""
            properties[record_id] = {
                "title": title or record_id,
                **({"description": about} if about else {}),
                **inner,
            }
        if not properties:
            return {"type": "object", "additionalProperties": self._of(item, name)}
        return {"type": "object", "properties": properties, "additionalProperties": False}

    def _figure(self, name: str) -> Schema:
        """Return the schema of one figure, which knows what the value measures."""
        kind = self.suggestions.book.values.get(name)
        whole = self._part(ValueEntry)
        if kind is None or kind.quantity in TEXT_KINDS:
            return whole
        return self._named(f"figure-of-{kind.quantity.value}", self._measured(kind.quantity))

    def _measured(self, quantity: QuantityKind) -> Schema:
        whole = self._fields(ValueEntry)
        described = whole["properties"]["is"]
        figure = {
            **described,
            "description": f"{described['description']} Here: {quantity.words}.",
            "pattern": _DIGIT,
            "patternErrorMessage": f"{quantity.words} has a number",
        }
        return {**whole, "properties": {**whole["properties"], "is": figure}}

    def _about_value(self, name: str) -> str:
        value = self.suggestions.book.values.get(name)
        return _about(value) if value is not None else ""

    def _part(self, owner: type[Fields]) -> Schema:
        name = owner.__name__
        if name not in self.defs:
            self.defs[name] = {}  # a part that holds itself would not end
            self.defs[name] = {"description": _sentence(owner), **self._fields(owner)}
        return {"$ref": f"#/$defs/{name}"}

    def _named(self, name: str, schema: Schema) -> Schema:
        self.defs[name] = schema
        return {"$ref": f"#/$defs/{name}"}


def _about(value: Value) -> str:
    band = f", plausible {value.band}" if value.band else ""
    return f"{value.quantity.words.capitalize()}; the {value.plate.value} plate decides{band}."


def _special(annotation: Any) -> Schema:
    if annotation is Duration:
        return {
            "type": ["string", "number"],
            "pattern": _DIGIT,
            "patternErrorMessage": "a time has a number and a unit: 15 min",
        }
    words = [word.value for word in ChanceWord]
    share = {"type": ["string", "number"], "pattern": _SHARE, "minimum": 0, "maximum": 1}
    return {"anyOf": [{"enum": words}, share]}


def _scalar(schema: Mapping[str, Any]) -> Schema:
    """Return a schema that pydantic was told, for editors that read numbers where records have text."""
    made = dict(schema)
    if made.get("type") == "string":
        made["type"] = ["string", "number"]
    return made


def _sentence(owner: type[Fields]) -> str:
    return " ".join((owner.__doc__ or "").split())


def _least(info: FieldInfo) -> int:
    """Return how many items a field must have."""
    return max((int(getattr(mark, "min_length", 0) or 0) for mark in info.metadata), default=0)


def _reference(annotation: Any) -> RefTo | None:
    """Return what a field refers to, however it is wrapped."""
    if isinstance(annotation, RefTo):
        return annotation
    if get_origin(annotation) is dict:
        return None
    for argument in get_args(annotation):
        found = _reference(argument)
        if found is not None:
            return found
    return None
