"""What a record holds but for its words: as long as that is the same, no more than wording changed."""

from __future__ import annotations

from collections.abc import Callable
from collections.abc import Set as AbstractSet
from functools import cache
from typing import Any, Final

from shearpin.model.contents import contents_of
from shearpin.model.fields import Fields
from shearpin.model.inline import mentioned
from shearpin.model.references import inline_attributes, parts_of


def bones(record: Fields) -> list[object]:
    """Return what a record holds but for its title and the wording of its prose: other fields, and what its prose mentions where.

    The `repr` of it tells one from another.
    """
    return _bones_of(type(record), frozenset({"title"}))(record)


_Bones = Callable[[Any], list[object]]


@cache
def _bones_of(owner: type[Fields], besides: AbstractSet[str] = frozenset()) -> _Bones:
    """Return what gives the bones of mappings of a type, without the fields `besides` but for what these mention."""
    inline = inline_attributes(owner)
    kept = [name for name in owner.model_fields if name in inline or name not in besides]
    words = [name in inline for name in kept]
    take = contents_of(tuple(kept))

    def bones_of(value: Any) -> list[object]:
        found: list[object] = []
        for name, is_words, inner in zip(kept, words, take(value), strict=True):
            if not inner:
                continue
            if is_words:
                if mentions_here := _mentioned(inner):
                    found += (name, mentions_here)
            else:
                found += (name, inner if inner.__class__ in _PLAIN else _bones(inner))
        return found

    return bones_of


_PLAIN: Final = frozenset({str, bool, int, float})


def _bones(value: object) -> object:
    if isinstance(value, Fields):
        return _bones_of(type(value))(value)
    if isinstance(value, tuple):
        return [inner if inner.__class__ is str else _bones(inner) for inner in value]
    if isinstance(value, dict):
        return [(name, _bones(inner)) for name, inner in value.items()]
    return value


def _mentioned(value: object) -> list[object]:
    """Return what each text with braces in a field of prose mentions, with its place where there are several."""
    if isinstance(value, str):
        return ["mentions", *mentioned(value)] if "{" in value or "}" in value else []
    return [(place, inner) for place, each in parts_of(value) if (inner := _mentioned(each))]
