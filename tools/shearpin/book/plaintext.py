"""Prose as plain text: values and links in words, for the terminal, for search and for exports."""

from __future__ import annotations

from types import MappingProxyType
from typing import Final

from shearpin.book.linked import LinkedBook
from shearpin.book.values import ResolvedValue
from shearpin.model.inline import InlineError, Link, ValueMention, Words, parse_inline
from shearpin.model.quantity import dual_text
from shearpin.model.translation import ORIGINAL

_NAMED: Final = MappingProxyType({ORIGINAL: "the figure “{}”", "es": "«{}»", "fr": "la valeur « {} »"})
"""A value where no machine is chosen, by the language of the book; Spanish would melt an article with the word before it."""


def plain_text(linked: LinkedBook, prose: str | None, machine_id: str | None = None) -> str:
    """Return prose without markup; a value becomes its figure for the machine, or its name where none is chosen."""
    parts = []
    for piece in parse_inline(prose or ""):
        if isinstance(piece, Words):
            parts.append(piece.text)
        elif isinstance(piece, ValueMention):
            parts.append(_value_words(linked, piece.name, machine_id))
        elif isinstance(piece, Link):
            parts.append(piece.words or linked.book.title(piece.kind, piece.id))
        elif isinstance(piece, InlineError):
            parts.append("")
    return "".join(parts)


def _value_words(linked: LinkedBook, name: str, machine_id: str | None) -> str:
    kind = linked.book.values.get(name)
    title = kind.title if kind is not None else name
    if machine_id is None:
        return _NAMED.get(linked.book.language, _NAMED[ORIGINAL]).format(title)
    found = linked.values.resolve(name, machine_id)
    return dual_text(found.quantity) if isinstance(found, ResolvedValue) else f"[{title}: {found.reason}]"
