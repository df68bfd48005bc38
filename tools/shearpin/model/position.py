"""Where in a file a field stands: looked up only when there is something to report."""

from __future__ import annotations

from collections.abc import Sequence

from ruamel.yaml.error import YAMLError
from ruamel.yaml.nodes import MappingNode, Node, ScalarNode, SequenceNode

from shearpin.model.yamltext import compose

FieldPath = tuple[str | int, ...]


class Positions:
    """Line and column of every field of one file, found by composing its text once more (0.1 ms)."""

    def __init__(self, raw: bytes) -> None:
        self._text = raw.decode("utf-8", "replace").removeprefix("\ufeff")
        self._lines = self._text.split("\n")
        try:
            self._root = compose(raw)
        except YAMLError:
            self._root = None

    def find(self, path: Sequence[str | int], *, on_key: bool = False, offset: int = 0) -> tuple[int, int]:
        """Return line and column (from 1) of the value at `path`, or of its key.

        Where `path` leads beyond the text (a missing field), the nearest enclosing field is meant. `offset` counts
        characters into a scalar's text as the record holds it, line folding undone.
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
            step = _child(node, part)
            if step is None:
                # A single item may stand where a list is allowed: its index 0 is the item itself.
                if part == 0 and not isinstance(node, SequenceNode):
                    continue
                return node, key, False
            key = step[0] if step[0] is not None else key if isinstance(part, str) else None
            node = step[1]
        return node, key, True

    def _inside(self, node: ScalarNode, offset: int) -> tuple[int, int]:
        """Follow the scalar's text through its source, whitespace matching whitespace however it was folded."""
        line, column = node.start_mark.line, node.start_mark.column
        if node.style in ("|", ">"):
            line, column = line + 1, 0
        elif node.style in ("'", '"'):
            column += 1
        source = "\n".join(self._lines[line:])
        at = column
        value = str(node.value)
        if node.style in ("|", ">"):
            at = _skip_space(source, at)
        for index in range(min(offset, len(value))):
            if value[index].isspace():
                if index == 0 or not value[index - 1].isspace():
                    at = _skip_space(source, at)
            elif at < len(source) and source[at] == value[index]:
                at += 1
            else:
                break  # an escape: the place reached so far is the best there is
        before = source[:at]
        return line + before.count("\n") + 1, at - (before.rfind("\n") + 1) + 1


def _skip_space(source: str, at: int) -> int:
    while at < len(source) and source[at].isspace():
        at += 1
    return at


def _child(node: Node | None, part: str | int) -> tuple[Node | None, Node] | None:
    if isinstance(node, MappingNode) and isinstance(part, str):
        for key, value in node.value:
            if isinstance(key, ScalarNode) and key.value == part:
                return key, value
    if isinstance(node, SequenceNode) and isinstance(part, int) and 0 <= part < len(node.value):
        return None, node.value[part]
    return None
