"""Translated text: the file beside a record, and the texts of a record that a translation may replace."""

from __future__ import annotations

from collections.abc import Callable
from typing import Annotated, Final, TypeVar

from pydantic import Field, StringConstraints

from shearpin.model.fields import Fields, Record, Text
from shearpin.model.references import inline_attributes

ORIGINAL: Final = "en"
"""Language of the records."""

_BESIDE_PROSE: Final = frozenset(
    {"title", "heading", "alt", "if_needed", "consumable", "when", "reads", "text"}
)
_NAMES: Final = frozenset({"machine", "engine"})
"""Kinds whose title is a name, the same in every language."""

STAYS_AS_IT_IS: Final = frozenset({"source", "edition"})
"""Kinds without a translation: a source is cited as it was published, an edition is written in its own language."""

Kept = TypeVar("Kept", bound=Fields)


class TextPair(Fields):
    """One text of the record as it stands there, and its translation; empty while nobody has translated it."""

    from_: Text = Field(alias="from", description="The text as it stands in the record.")
    to: Annotated[str, StringConstraints(strip_whitespace=True)] = Field(
        "", description="Its translation, with the same `{…}` in it."
    )


class TranslationText(Fields):
    """What a translation file holds."""

    state: Annotated[str, StringConstraints(pattern="^(draft|reviewed)$")] = Field(
        "draft", description="`reviewed` once a mechanic who speaks the language has read it."
    )
    by: Text | None = Field(None, description="The reviewer's role; no names of people.")
    texts: tuple[TextPair, ...] = Field(description="Each text once, in the order of the record.")


def rewritten(record: Kept, change: Callable[[str], str]) -> Kept:
    """Return the record with every text for the reader changed; what decides and computes stays as it is."""
    named = str(getattr(type(record), "KIND", "")) in _NAMES
    inline = inline_attributes(type(record))
    update: dict[str, object] = {}
    for attribute, value in record.__dict__.items():
        if not value:
            continue
        if attribute in inline or (attribute in _BESIDE_PROSE and not (named and attribute == "title")):
            update[attribute] = _changed(value, change)
        elif isinstance(value, (Fields, tuple, dict)):
            update[attribute] = _inside(value, change)
    return record.model_copy(update=update)


def _changed(value: object, change: Callable[[str], str]) -> object:
    return tuple(change(item) for item in value) if isinstance(value, tuple) else change(str(value))


def _inside(value: object, change: Callable[[str], str]) -> object:
    if isinstance(value, Fields):
        return rewritten(value, change)
    if isinstance(value, tuple):
        return tuple(_inside(item, change) for item in value)
    if isinstance(value, dict):
        return {name: _inside(item, change) for name, item in value.items()}
    return value


def texts_to_translate(record: Record) -> tuple[str, ...]:
    """Return every text that a translation may replace, each once, in the order of the record."""
    if str(getattr(type(record), "KIND", "")) in STAYS_AS_IT_IS:
        return ()
    found: dict[str, None] = {}

    def note(text: str) -> str:
        found[text] = None
        return text

    rewritten(record, note)
    return tuple(found)
