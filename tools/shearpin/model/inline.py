"""References inside text: `{value.name}` for a value, `{kind:id}` or `{kind:id|words}` for a link to a record."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import Final, NamedTuple


class Words(NamedTuple):
    """Plain text."""

    text: str


class ValueMention(NamedTuple):
    """A value shown for the machine at hand; `offset` counts characters to its name."""

    name: str
    offset: int


class Link(NamedTuple):
    """A link to a record, with its title as text where `words` is empty."""

    kind: str
    id: str
    words: str
    offset: int


class InlineError(NamedTuple):
    """A brace that leads nowhere, at `offset`."""

    message: str
    offset: int


Piece = Words | ValueMention | Link | InlineError

TOKEN: Final = re.compile(r"\{\{|\}\}|\{([^{}]*)\}|[{}]")
"""Whatever braces say in a text, each by itself."""

_VALUE: Final = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*(?:\.[a-z0-9]+(?:-[a-z0-9]+)*)?")
_LINK: Final = re.compile(r"([a-z]+):([a-z0-9.-]+)(?:\|(.+))?", re.DOTALL)
_VALUE_MENTION: Final = re.compile(rf"\{{\s*({_VALUE.pattern})\s*\}}")
_MENTION: Final = re.compile(rf"\{{\s*(?:({_VALUE.pattern})|([a-z]+):([a-z0-9.-]+)(?:\|\s*+[^{{}}]+)?)\s*\}}")
_SOUND: Final = re.compile(
    rf"(?:[^{{}}]++|\{{\{{|\}}\}}|\{{(?:{_VALUE.pattern}|[a-z]+:[a-z0-9.-]+(?:\|[^{{}}\s][^{{}}]*)?)\}})*+"
)


def parse_inline(text: str) -> tuple[Piece, ...]:
    """Split text into words, values, links and errors; `{{` and `}}` stand for the braces themselves."""
    if "{" not in text and "}" not in text:
        return (Words(text),)  # most texts, which would push the others out of the cache
    return _parsed(text)


def values_in(text: str) -> list[str]:
    """Return the names of the values that `parse_inline` finds, in their order; quicker."""
    if "{{" not in text and "}}" not in text:
        return _VALUE_MENTION.findall(text)
    return [piece.name for piece in _parsed(text) if isinstance(piece, ValueMention)]


def mentioned(text: str) -> list[tuple[str, str]]:
    """Return kind and id of every link and value that `parse_inline` finds, in their order; quicker."""
    if "{{" not in text and "}}" not in text:
        return [(kind or "value", name or record) for name, kind, record in _MENTION.findall(text)]
    pieces = (piece for piece in _parsed(text) if isinstance(piece, (ValueMention, Link)))
    return [("value", p.name) if isinstance(p, ValueMention) else (p.kind, p.id) for p in pieces]


def leads_somewhere(text: str) -> bool:
    """Whether every brace of a text is sure to name a value or a record: no error is parsed then."""
    return _SOUND.fullmatch(text) is not None


@lru_cache(maxsize=4096)
def _parsed(text: str) -> tuple[Piece, ...]:
    pieces: list[Piece] = []
    end = 0
    for match in TOKEN.finditer(text):
        if match.start() > end:
            pieces.append(Words(text[end : match.start()]))
        pieces.append(_piece(match))
        end = match.end()
    if end < len(text):
        pieces.append(Words(text[end:]))
    return tuple(pieces)


def _piece(match: re.Match[str]) -> Piece:
    whole, inner = match.group(), match.group(1)
    if whole in ("{{", "}}"):
        return Words(whole[0])
    if inner is None:
        return InlineError(f"a lone `{whole}`: a value is written `{{name}}`", match.start())
    inner_text = inner.strip()
    offset = match.start() + 1 + (len(inner) - len(inner.lstrip()))
    if _VALUE.fullmatch(inner_text):
        return ValueMention(inner_text, offset)
    link = _LINK.fullmatch(inner_text)
    if link:
        return Link(link.group(1), link.group(2), (link.group(3) or "").strip(), offset)
    return InlineError(f"`{whole}` is neither a value's name nor `kind:id`", match.start())
