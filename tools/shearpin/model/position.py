"""Where in a file a field stands: looked up only when there is something to report."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import cached_property
from typing import Final

from ruamel.yaml.error import YAMLError
from ruamel.yaml.nodes import MappingNode, Node, ScalarNode, SequenceNode

from shearpin.model.yamltext import compose

FieldPath = tuple[str | int, ...]

_LINE_BREAK: Final = re.compile(r"\r\n|\r|\n")
_ESCAPE: Final = re.compile(r"\\(?:x[0-9A-Fa-f]{2}|u[0-9A-Fa-f]{4}|U[0-9A-Fa-f]{8}|.)")
_ESCAPED_BREAK: Final = re.compile(r"\\\n\s*")


class Positions:
    """Line and column of every field of one file, found by composing its text once more (0.1 ms)."""

    def __init__(self, raw: bytes) -> None:
        self._text = raw.decode("utf-8", "replace").removeprefix("\ufeff")
        self._children: dict[int, dict[str, tuple[Node, Node]]] = {}
        self._sources: dict[int, tuple[str, list[int]]] = {}
        try:
            self._root = compose(raw)
        except YAMLError:
            self._root = None

    @cached_property
    def _lines(self) -> list[str]:
        return _LINE_BREAK.split(self._text)

    def find(self, path: Sequence[str | int], *, on_key: bool = False, offset: int = 0) -> tuple[int, int]:
        """Return line and column (from 1) of the value at `path`, or of its key.

        Where `path` leads beyond the text (a missing field), the nearest enclosing field is meant. `offset` counts
        characters into a scalar's text as the record holds it: line folding undone, blanks around it left out.
        """
        node, key, complete = self._walk(path)
        if node is None:
            return 1, 1
        if key is not None and (on_key or not complete):
            return key.start_mark.line + 1, key.start_mark.column + 1
        if offset and complete and isinstance(node, ScalarNode):
            return self._inside(node, offset)
        return node.start_mark.line + 1, node.start_mark.column + 1

    def _walk(self, path: Sequence[str | int]) -> tuple[Node | None, Node | None, bool]:
        node: Node | None = self._root
        key: Node | None = None
        for part in path:
            step = self._child(node, part)
            if step is None:
                # A single item may stand where a list is allowed: its index 0 is the item itself.
                if part == 0 and not isinstance(node, SequenceNode):
                    continue
                return node, key, False
            key = step[0] if step[0] is not None else key if isinstance(part, str) else None
            node = step[1]
        return node, key, True

    def _child(self, node: Node | None, part: str | int) -> tuple[Node | None, Node] | None:
        if isinstance(node, MappingNode) and isinstance(part, str):
            if id(node) not in self._children:
                # Reversed, so that the first of two equal keys stays: it is the one that is read.
                self._children[id(node)] = {
                    str(key.value): (key, value)
                    for key, value in reversed(node.value)
                    if isinstance(key, ScalarNode)
                }
            return self._children[id(node)].get(part)
        if isinstance(node, SequenceNode) and isinstance(part, int) and 0 <= part < len(node.value):
            return None, node.value[part]
        return None

    def _inside(self, node: ScalarNode, offset: int) -> tuple[int, int]:
        if id(node) not in self._sources:
            source = "\n".join(self._lines[node.start_mark.line :])
            self._sources[id(node)] = (source, _source_places(node, source))
        source, places = self._sources[id(node)]
        value = str(node.value)
        index = min(offset + len(value) - len(value.lstrip()), len(places) - 1)
        before = source[: places[index]]
        return node.start_mark.line + before.count("\n") + 1, len(before) - (before.rfind("\n") + 1) + 1


def _source_places(node: ScalarNode, source: str) -> list[int]:
    """Return for each character of a scalar's text, and for its end, where it stands in its source.

    Blanks match blanks however they were folded. `source` begins with the line on which the scalar begins.
    """
    at = node.start_mark.column
    if node.style in ("|", ">"):
        at = _skip_blanks(source, source.find("\n") + 1)
    elif node.style in ("'", '"'):
        at += 1
    places: list[int] = []
    after_blank = False
    for character in str(node.value):
        escape = None
        if node.style == '"':
            broken = _ESCAPED_BREAK.match(source, at)
            at = broken.end() if broken else at
            escape = _ESCAPE.match(source, at)
        places.append(at)
        blank = character.isspace()
        if escape:
            at = escape.end()
        elif blank:
            at = at if after_blank else _skip_blanks(source, at)
        else:
            at += 2 if node.style == "'" == character else 1
        after_blank = blank
    places.append(at)
    return places


def _skip_blanks(source: str, at: int) -> int:
    while at < len(source) and source[at].isspace():
        at += 1
    return at
