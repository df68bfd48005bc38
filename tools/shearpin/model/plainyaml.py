"""The part of YAML that nearly every record keeps to, read in a third of the time that a reader of all YAML takes.

One field or item a line, texts in plain words or folded after `>`, short lists and mappings in brackets. Where a text has anything
else, nothing is read here: `yamltext` reads it then, and says what is wrong. What is read is what `yamltext` would read; a
test holds one against the other.
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import Any, Final

MAX_LENGTH: Final = 20_000
"""Characters up to which a text is read here; no text of that length has more entries than `yamltext` allows."""

_MAX_DEPTH: Final = 12

_KEY: Final = r"[a-z][a-z0-9_.-]{0,99}"
# Of each line: blanks and dash before it, the name, the value or item, a folded text with its lines, else the whole line.
_LINE: Final = re.compile(
    rf"^( *)(- )?(?:({_KEY}):(?: |$))?(?:(?:>(-?)\n((?:\n*\1(?(2)  ) .*\n)+))|([^\n> ].*)?\n)|^(.*\n)",
    re.MULTILINE,
)
_IN_FLOW: Final = r"[^\W_](?:[^,:?\[\]{}#\n]*[^,:?\[\]{}#\n ])?"
_LIST: Final = rf"\[{_IN_FLOW}(?:, {_IN_FLOW})*+\]"
_QUOTED: Final = r'"[^"\n]+"'
_ENTRY: Final = rf"{_KEY}: (?:{_IN_FLOW}|{_LIST}|{_QUOTED})"
_WHOLE_LIST: Final = re.compile(_LIST)
_MAPPING: Final = re.compile(rf"\{{{_ENTRY}(?:, {_ENTRY})*+\}}")
_PAIR: Final = re.compile(rf"({_KEY}): (?:({_IN_FLOW})|\[([^\]]*)\]|\"([^\"]*)\")")


def plain_data(text: str) -> dict[str, Any] | None:
    """Return the data of a record's text, or None where it is not as plain as that.

    The text holds none but usual characters (`reading.RecordFile`).
    """
    if len(text) > MAX_LENGTH or text[-1:] != "\n" or "\r" in text or " #" in text or " \n" in text:
        return None
    try:
        return _data(text)
    except _NotPlain:
        return None


class _NotPlain(Exception):
    """The text has something that is not read here."""


def _data(text: str) -> dict[str, Any]:
    # Longer than 40 lines: one loop over all lines of all records, in which a call for each line would cost a third more.
    root: dict[str, Any] = {}
    here: Any = root  # the mapping or list that is being read, and the column where its lines begin
    column = 0
    around: list[tuple[Any, int]] = []
    awaiting = ""  # the name of the field whose mapping or list begins on the next line
    for blanks, dash, key, strip, folded, value, other in _LINE.findall(text):
        at = len(blanks)
        if other or (not dash and not key):
            raise _NotPlain
        if awaiting:
            if at < column or (at == column and not dash) or len(around) > _MAX_DEPTH:
                raise _NotPlain
            around.append((here, column))
            here[awaiting] = here = [] if dash else {}
            column, awaiting = at, ""
        else:
            kind = list if dash else dict
            while column != at or type(here) is not kind:
                if not around:
                    raise _NotPlain
                here, column = around.pop()
        if dash and key:
            around.append((here, column))
            inner: dict[str, Any] = {}
            here.append(inner)
            here, column = inner, at + 2
        if folded:
            read: Any = _folded(folded, strip)
        elif not value:
            if not key or key in here:
                raise _NotPlain
            awaiting = key
            continue
        else:
            bare = value[0].isalnum() and ": " not in value and value[-1] != ":"
            read = value if bare else _in_signs(value)
        if not key:
            here.append(read)
        elif key in here:
            raise _NotPlain  # given twice
        else:
            here[key] = read
    if awaiting or not root:
        raise _NotPlain
    return root


def _folded(lines: str, strip: str) -> str:
    """Return a text that is folded after `>`, all lines of which begin in one column but for those that are blank."""
    indent = len(lines) - len(lines.lstrip(" "))
    edge = "\n" + " " * indent
    parts = lines[indent:-1].split(edge)
    text = " ".join(parts)
    if "" in parts or edge + " " in lines:
        raise _NotPlain
    if "\n" in text:
        if lines[0] == "\n" or any("\n" in part.rstrip("\n") for part in parts):
            raise _NotPlain
        text = text.replace("\n ", "\n")  # a break for each blank line
    return text if strip else text + "\n"


@lru_cache(maxsize=4096)
def _in_signs(text: str) -> Any:
    """Return what stands in brackets or quotes; records say much of it in the same words, and none of it is changed."""
    first, inner = text[0], text[1:-1]
    if first in "\"'" and len(text) > 2 and text[-1] == first and first not in inner:
        return inner
    if _WHOLE_LIST.fullmatch(text):
        return inner.split(", ")
    if not _MAPPING.fullmatch(text):
        raise _NotPlain
    pairs = _PAIR.findall(inner)
    data = {key: value or quoted or items.split(", ") for key, value, items, quoted in pairs}
    if len(data) < len(pairs):
        raise _NotPlain  # given twice
    return data
