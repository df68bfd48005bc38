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
    if not prose or ("{" not in prose and "}" not in prose):
        return prose or ""  # as most texts are
    parts = []
    for piece in parse_inline(prose):
        if isinstance(piece, Words):
            parts.append(piece.text)
        elif isinstance(piece, ValueMention):
            parts.append(value_words(linked, piece.name, machine_id))
        elif isinstance(piece, Link):
            parts.append(piece.words or linked.book.title(piece.kind, piece.id))
        elif isinstance(piece, InlineError):
            parts.append("")
    return "".join(parts)


def value_words(linked: LinkedBook, name: str, machine_id: str | None) -> str:
    """Return what stands in plain text in the place of a value."""
    found = linked.values.resolve(name, machine_id) if machine_id is not None else None
    if isinstance(found, ResolvedValue):
        return dual_text(found.quantity)
    kind = linked.book.values.get(name)
    title = kind.title if kind is not None else name
    if found is None:
        return _NAMED.get(linked.book.language, _NAMED[ORIGINAL]).format(title)
    return f"[{title}: {found.reason}]"
