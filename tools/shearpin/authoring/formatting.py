"""The usual form of a record: order of fields, spelling of quantities, length of lines. Meaning and comments stay.

Each step is proven by reading its result back; a step that would change what the file says is not made.
"""

from __future__ import annotations

import copy
import re
from collections.abc import Mapping, Sequence
from typing import Any, Final

from shearpin.authoring.fold import folded
from shearpin.authoring.reorder import in_order
from shearpin.authoring.source import Source, read_text, to_bytes
from shearpin.authoring.spelling import Kinds, Respelling, respellings, respelt
from shearpin.book.book import Book
from shearpin.model.kinds import Kind
from shearpin.model.yamltext import parse

_MOST_ROUNDS: Final = 4  # one step can make room for another; two have been enough for every file so far
_TRAILING: Final = re.compile(r"[ \t]+(?=\n|\Z)")


def quantity_kinds(book: Book) -> Kinds:
    """Return what each value of a book measures."""
    return {name: value.quantity for name, value in book.values.items()}


def formatted(raw: bytes, kind: Kind, kinds: Kinds) -> bytes:
    """Return a record's file in its usual form; `raw` must be readable without a fault of its text.

    Raises `ValueError` for a file that is not.
    """
    text, line_end = read_text(raw)
    for _ in range(_MOST_ROUNDS):
        new = _formatted_once(text, kind, kinds)
        if new == text:
            break
        text = new
    return to_bytes(text, line_end)


def _formatted_once(text: str, kind: Kind, kinds: Kinds) -> str:
    data = plain_data(text)
    # First: behind a text in a block, a line of blanks can become part of it when fields move.
    text = _kept(text, _tidy(text), data)
    text = _kept(text, in_order(text, kind.record), data)
    changes = respellings(data, kind.record, kinds)
    if changes:
        respelt_data = with_spellings(data, changes)
        new = respelt(text, changes)
        if says(new, respelt_data) and Source(new).comment_texts() == Source(text).comment_texts():
            text, data = new, respelt_data
    return _kept(text, folded(text), data)


def plain_data(text: str) -> dict[str, Any]:
    """Return the data of a text; raises `ValueError` where anything in it is a fault."""
    data, faults = parse(text.encode("utf-8"))
    if faults:
        raise ValueError(faults[0].message)
    return data


def says(text: str, data: Mapping[str, Any]) -> bool:
    """Tell whether a text reads back as exactly this data."""
    found, faults = parse(text.encode("utf-8"))
    return not faults and found == data


def with_spellings(data: dict[str, Any], changes: Sequence[Respelling]) -> dict[str, Any]:
    """Return the data with other spellings."""
    made = copy.deepcopy(data)
    for change in changes:
        holder: Any = made
        for part in change.path[:-1]:
            holder = holder[part]
        holder[change.path[-1]] = change.now
    return made


def _kept(old: str, new: str, data: Mapping[str, Any]) -> str:
    """Return the new text where it says the same with the same comments, else the old one."""
    if new == old:
        return old
    return new if says(new, data) and Source(new).comment_texts() == Source(old).comment_texts() else old


def _tidy(text: str) -> str:
    """Take away blanks at the ends of lines outside of texts, and end the last line."""
    source = Source(text)
    spans = [
        (source.start(node), source.end(node))
        for node in source.scalars()
        if source.start(node) < source.end(node)
    ]
    pieces: list[str] = []
    at = 0
    waiting = iter(spans)
    span = next(waiting, None)
    for match in _TRAILING.finditer(text):
        while span is not None and span[1] <= match.start():
            span = next(waiting, None)
        if span is not None and span[0] < match.end():
            continue
        pieces.append(text[at : match.start()])
        at = match.end()
    made = "".join([*pieces, text[at:]])
    return made if made.endswith("\n") else made + "\n"
