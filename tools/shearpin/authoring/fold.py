"""Folds lines that are too long to read beside a page: prose at blanks, lists and mappings in one line at commas."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final

from ruamel.yaml.nodes import MappingNode, Node, ScalarNode, SequenceNode

from shearpin.authoring.source import Edit, Source, apply_edits

WIDTH: Final = 180
"""Characters of a line: what a wide editor shows. A figure with its note stays on one line, as in a table."""

_BLANK: Final = re.compile(r"(?<=\S) (?=\S)")
_FOLDABLE: Final = re.compile(r"\S(?:[^\n]*\S)?")


def folded(text: str) -> str:
    """Return the text with its long lines folded; what cannot be folded without changing its meaning stays."""
    source = Source(text)
    edits = [edit for node in _outermost(source.root) if (edit := _edit(source, node)) is not None]
    return apply_edits(text, edits)


def _outermost(node: Node) -> Iterator[Node]:
    """Yield the scalars and the bracketed collections that stand in block style."""
    if isinstance(node, ScalarNode) or (isinstance(node, (MappingNode, SequenceNode)) and node.flow_style):
        yield node
    elif isinstance(node, MappingNode):
        for _, value in node.value:
            yield from _outermost(value)
    else:
        for item in node.value:
            yield from _outermost(item)


def _edit(source: Source, node: Node) -> Edit | None:
    start, end = source.start(node), source.end(node)
    lines = source.text[source.line_of(start) : end].split("\n")
    if max(map(len, lines)) <= WIDTH or start == end:
        return None
    indent = " " * (_indent(source, start) + 2)
    if not isinstance(node, ScalarNode):
        return _collection(source, node, indent)
    if node.style == ">":
        return _block(source, start, end)
    if node.style == "|" or not _FOLDABLE.fullmatch(str(node.value)):
        return None
    after = source.text[end : source.line_end(end)].strip()
    if after or (source.text[start:end].count("\n") and source.has_comment(start, end)):
        return None
    return Edit(start, end, ">-\n" + "\n".join(_wrapped(str(node.value), indent)))


def _indent(source: Source, start: int) -> int:
    """Return the column of the name or the dash that a value stands behind."""
    line = source.text[source.line_of(start) :]
    dashes = re.match(r"[ ]*(?:- +)*", line)
    first = dashes.end() if dashes else 0
    here = source.column(start)
    # A list item itself stands behind its last dash; a field behind its name.
    dash = line.rfind("-", 0, here)
    return first if here > first else dash if dash >= 0 else first - 2


def _wrapped(paragraph: str, indent: str) -> list[str]:
    """Return the lines of a paragraph; it breaks only where one blank stands, which folding gives back."""
    lines: list[str] = []
    for word in _BLANK.split(paragraph):
        if lines and len(lines[-1]) + 1 + len(word) <= WIDTH:
            lines[-1] += " " + word
        else:
            lines.append(indent + word)
    return lines


def _block(source: Source, start: int, end: int) -> Edit | None:
    """Fold the paragraphs of a `>` text anew; lines that are indented deeper keep theirs."""
    body = source.line_end(start)
    lines = source.text[body:end].split("\n")
    indents = [len(line) - len(line.lstrip(" ")) for line in lines if line.strip()]
    if not indents or indents[0] != min(indents) or "\t" in source.text[body:end]:
        return None
    indent = " " * indents[0]
    made: list[str] = []
    paragraph: list[str] = []
    for line in [*lines, ""]:
        if line.strip() and len(line) - len(line.lstrip(" ")) == len(indent):
            paragraph.append(line[len(indent) :])
            continue
        made += _wrapped(" ".join(paragraph), indent) if paragraph else []
        paragraph = []
        made.append(line)
    return Edit(body, end, "\n".join(made[:-1]))


def _collection(source: Source, node: Node, indent: str) -> Edit | None:
    """Break a list or mapping in brackets at its commas."""
    start, end = source.start(node), source.end(node)
    if source.has_comment(start, end) or not node.value or not isinstance(node, (MappingNode, SequenceNode)):
        return None
    spans = [
        (source.start(item[0]), source.end(item[1]))
        if isinstance(item, tuple)
        else (source.start(item), source.end(item))
        for item in node.value
    ]
    items = [source.text[a:b] for a, b in spans]
    if any("\n" in item or "?" in source.text[a - 2 : a] for item, (a, _) in zip(items, spans, strict=True)):
        return None
    opening, closing = ("{", "}") if isinstance(node, MappingNode) else ("[", "]")
    lines = [source.text[source.line_of(start) : start] + opening]
    head = len(lines[0]) - 1
    for index, item in enumerate(items):
        piece = item + ("," if index < len(items) - 1 else closing)
        gap = "" if index == 0 else " "
        if index and len(lines[-1]) + len(gap) + len(piece) > WIDTH:
            lines.append(indent + piece)
        else:
            lines[-1] += gap + piece
    return Edit(start, end, "\n".join(lines)[head:])
