"""References: every field of every kind that names another record, or holds text that may, is found."""

from __future__ import annotations

import re
import types
import typing
from collections.abc import Iterator
from typing import Annotated, Any, Union, get_args, get_origin

import pytest

from shearpin.model.fields import Fields, Inline, RefTo
from shearpin.model.kinds import KINDS
from shearpin.model.position import FieldPath
from shearpin.model.references import InlineText, Reference, field_names, mentions, nested_fields, texts

Mark = tuple[FieldPath, str]


def _marked(annotation: Any, path: FieldPath = ()) -> Iterator[Mark]:
    """Yield the path of everything that the type marks, by a walk of its own; a list item is 0, a key `a-key`."""
    origin = get_origin(annotation)
    if origin is Annotated:
        base, *marks = get_args(annotation)
        found = [mark for mark in marks if isinstance(mark, (RefTo, Inline))]
        if found:
            mark = found[0]
            yield path, "|".join(mark.kinds) if isinstance(mark, RefTo) else "text"
        else:
            yield from _marked(base, path)
    elif origin in (Union, types.UnionType):
        for argument in get_args(annotation):
            yield from _marked(argument, path)
    elif origin is tuple:
        yield from _marked(get_args(annotation)[0], (*path, 0))
    elif origin is dict:
        key, item = get_args(annotation)
        yield from _marked(key, (*path, "a-key"))
        yield from _marked(item, (*path, "a-key"))
    elif isinstance(annotation, type) and issubclass(annotation, Fields):
        hints = typing.get_type_hints(annotation, include_extras=True)
        for name, field in annotation.model_fields.items():
            yield from _marked(hints[name], (*path, field.alias or name))


def _filled(annotation: Any) -> Any:
    """Return a value of the annotation's shape with something in every field; pydantic checks nothing here."""
    origin = get_origin(annotation)
    if origin is Annotated:
        base, *marks = get_args(annotation)
        if any(isinstance(mark, Inline) for mark in marks):
            return "{a.value}"
        return "an-id" if any(isinstance(mark, RefTo) for mark in marks) else _filled(base)
    if origin in (Union, types.UnionType):
        return _filled(next(argument for argument in get_args(annotation) if argument is not type(None)))
    if origin is tuple:
        return (_filled(get_args(annotation)[0]),)
    if origin is dict:
        return {"a-key": _filled(get_args(annotation)[1])}
    if isinstance(annotation, type) and issubclass(annotation, Fields):
        hints = typing.get_type_hints(annotation, include_extras=True)
        return annotation.model_construct(**{name: _filled(hints[name]) for name in annotation.model_fields})
    return "plain"


KIND_NAMES = list(KINDS)
EXPECTED = [(kind, path, what) for kind in KINDS for path, what in _marked(KINDS[kind].record)]


@pytest.mark.parametrize("kind", KIND_NAMES)
def test_every_marked_field_is_walked(kind: str) -> None:
    record = _filled(KINDS[kind].record)
    walked = [
        (mention.path, "|".join(mention.kinds) if isinstance(mention, Reference) else "text")
        for mention in mentions(record)
    ]
    assert sorted(walked, key=str) == sorted(_marked(KINDS[kind].record), key=str)


def test_there_is_something_to_walk() -> None:
    assert len(EXPECTED) > 100
    assert {what for _, _, what in EXPECTED} >= {*KIND_NAMES, "text", "machine|engine"} - {"edition", "test"}


def test_every_kind_that_a_field_may_name_exists() -> None:
    named = {kind for _, _, what in EXPECTED if what != "text" for kind in what.split("|")}
    assert named <= set(KINDS)


def test_keys_say_that_they_are_keys() -> None:
    machine = _filled(KINDS["machine"].record)
    keys = [m for m in mentions(machine) if isinstance(m, Reference) and m.on_key]
    assert [(m.path, m.kinds, m.id) for m in keys] == [(("values", "a-key"), ("value",), "a-key")]


def test_text_with_braces_comes_with_its_words() -> None:
    tool = KINDS["tool"].record.model_validate({"title": "{tool:a}", "summary": "Like {tool:b}."})
    assert mentions(tool) == [InlineText(("summary",), "Like {tool:b}.")]


def test_text_without_braces_mentions_nothing() -> None:
    assert mentions(KINDS["tool"].record.model_validate({"title": "A", "summary": "Like b."})) == []
    assert mentions(KINDS["tool"].record.model_validate({"title": "A", "summary": "Like b}."})) != []


def test_texts_are_those_of_every_field_with_their_places() -> None:
    record = KINDS["machine"].record.model_validate(
        {
            "title": "A", "summary": "B", "class": "two-stage", "engine": "e", "plate": {"where": "C"},
            "fitted": ["f", "g"], "values": {"v.torque": {"is": "8 N·m", "note": "D"}},
        }
    )  # fmt: skip
    assert dict(texts(record)) == {
        ("title",): "A",
        ("summary",): "B",
        ("class",): "two-stage",
        ("engine",): "e",
        ("plate", "where"): "C",
        ("fitted", 0): "f",
        ("fitted", 1): "g",
        ("values", "v.torque", "is"): "8 N·m",
        ("values", "v.torque", "note"): "D",
    }


def test_names_of_fields_are_those_of_the_file() -> None:
    assert "class" in field_names(KINDS["machine"].record)
    assert "something_else" in field_names(KINDS["symptom"].record)
    assert all(
        re.fullmatch(r"[a-z_]*[a-z]", name) for kind in KINDS.values() for name in field_names(kind.record)
    )


@pytest.mark.parametrize(
    ("kind", "path", "name"),
    [
        ("procedure", (), "Procedure"),
        ("procedure", ("steps", 3), "Step"),
        ("procedure", ("steps", 3, "applies_to"), "AppliesTo"),
        ("machine", ("values", "plug.gap"), "ValueEntry"),
        ("machine", ("plate",), "PlateNotice"),
        ("part", ("numbers", "brook-d24"), "PlateNumber"),
        ("test", ("results", 0), "Result"),
        ("symptom", ("causes", 1, "applies_to"), "AppliesTo"),
    ],
)
def test_the_type_of_a_mapping_inside_a_record_is_known(kind: str, path: FieldPath, name: str) -> None:
    found = nested_fields(KINDS[kind].record, path)
    assert found is not None
    assert found.__name__ == name


def test_text_holds_no_fields() -> None:
    assert nested_fields(KINDS["procedure"].record, ("title",)) is None
    assert nested_fields(KINDS["procedure"].record, ("title", "more")) is None
