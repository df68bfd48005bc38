"""References inside text: `{value.name}` for a value, `{kind:id}` or `{kind:id|words}` for a link to a record."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache
from typing import Final


@dataclass(frozen=True, slots=True)
class Words:
    """Plain text."""

    text: str


@dataclass(frozen=True, slots=True)
class ValueMention:
    """A value shown for the machine at hand; `offset` counts characters to its name."""

    name: str
    offset: int


@dataclass(frozen=True, slots=True)
class Link:
    """A link to a record, with its title as text where `words` is empty."""

    kind: str
    id: str
    words: str
    offset: int


@dataclass(frozen=True, slots=True)
class InlineError:
    """A brace that leads nowhere, at `offset`."""

    message: str
    offset: int


Piece = Words | ValueMention | Link | InlineError

TOKEN: Final = re.compile(r"\{\{|\}\}|\{([^{}]*)\}|[{}]")
"""Whatever braces say in a text, each by itself."""

_VALUE: Final = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*(?:\.[a-z0-9]+(?:-[a-z0-9]+)*)?")
_LINK: Final = re.compile(r"([a-z]+):([a-z0-9.-]+)(?:\|(.+))?", re.DOTALL)
_SOUND: Final = re.compile(
    rf"(?:[^{{}}]++|\{{\{{|\}}\}}|\{{(?:{_VALUE.pattern}|[a-z]+:[a-z0-9.-]+(?:\|[^{{}}\s][^{{}}]*)?)\}})*+"
)


def parse_inline(text: str) -> tuple[Piece, ...]:
    """Split text into words, values, links and errors; `{{` and `}}` stand for the braces themselves."""
    if "{" not in text and "}" not in text:
        return (Words(text),)  # most texts, which would push the others out of the cache
    return _parsed(text)


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
