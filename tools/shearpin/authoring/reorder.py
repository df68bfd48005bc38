"""Puts the fields of a record in their written order, by moving their text; comments go with the field they stand at."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final

from ruamel.yaml.nodes import MappingNode, Node, ScalarNode, SequenceNode

from shearpin.authoring.order import written_order, written_rank
from shearpin.authoring.source import Edit, Source, apply_edits
from shearpin.model.fields import Fields, Record
from shearpin.model.position import FieldPath
from shearpin.model.references import nested_fields

_BETWEEN: Final = re.compile(r"[ \t]*(?:#[^\n]*)?")
_MOST_ROUNDS: Final = 500  # each puts one mapping in order; a record has some dozens of steps


def in_order(text: str, owner: type[Record]) -> str:
    """Return the text with every mapping in written order; one that cannot be moved safely stays as it is."""
    for _ in range(_MOST_ROUNDS):
        source = Source(text)
        moved = next(
            (new for node, fields in _mappings(source, owner) if (new := _ordered(source, node, fields))),
            None,
        )
        if moved is None:
            return text
        text = moved
    return text


def _mappings(source: Source, owner: type[Record]) -> Iterator[tuple[MappingNode, type[Fields]]]:
    """Yield every mapping of known fields with its type, the record itself first."""
    waiting: list[tuple[Node, FieldPath]] = [(source.root, ())]
    while waiting:
        node, path = waiting.pop()
        if isinstance(node, MappingNode):
            fields = nested_fields(owner, path) if path else owner
            names = [str(key.value) for key, _ in node.value if isinstance(key, ScalarNode)]
            if fields is not None and set(names) <= set(written_order(fields)):
                yield node, fields
            waiting += [(value, (*path, str(key.value))) for key, value in node.value]
        elif isinstance(node, SequenceNode):
            waiting += [(item, (*path, index)) for index, item in enumerate(node.value)]


def _ordered(source: Source, node: MappingNode, fields: type[Fields]) -> str | None:
    """Return the text with the fields of one mapping in order, or None where they are, or cannot be moved."""
    rank = written_rank(fields)
    names = [str(key.value) for key, _ in node.value]
    wanted = sorted(range(len(names)), key=lambda index: rank[names[index]])
    if wanted == list(range(len(names))):
        return None
    spans = _flow_spans(source, node) if node.flow_style else _block_spans(source, node)
    if spans is None:
        return None
    pieces = [source.text[start:end] for start, end in spans]
    if not node.flow_style:
        pieces = [piece if piece.endswith("\n") else piece + "\n" for piece in pieces]
    edits = [Edit(*spans[place], pieces[index]) for place, index in enumerate(wanted)]
    return apply_edits(source.text, edits)


def _flow_spans(source: Source, node: MappingNode) -> list[tuple[int, int]] | None:
    if source.has_comment(source.start(node), source.end(node)):
        return None
    spans = [(source.start(key), source.end(value)) for key, value in node.value]
    # A name without a value, or with a question mark before it, does not stand where its node says.
    plain = all(source.text[start - 1 : start] not in ("?",) and start < end for start, end in spans)
    return spans if plain and all(":" in source.text[s:e] for s, e in spans) else None


def _block_spans(source: Source, node: MappingNode) -> list[tuple[int, int]] | None:
    """Return the text of each field: comments above it that are not indented deeper, its lines, comments below."""
    keys = [source.start(key) for key, _ in node.value]
    ends = [
        _end_of_field(source, source.end(value), source.column(key))
        for key, (_, value) in zip(keys, node.value, strict=True)
    ]
    column = source.column(keys[0])
    spans: list[tuple[int, int]] = []
    for index, key in enumerate(keys):
        before = source.text[source.line_of(key) : key]
        first_after_dash = index == 0 and before.strip() != "" and set(before) <= set(" -")
        if source.column(key) != column or (before.strip() and not first_after_dash):
            return None
        begins = key if index == 0 else ends[index - 1]
        if index == 0 and not first_after_dash:
            begins = _start_of_comments(source, source.line_of(key))
        spans.append((begins, ends[index]))
    return (
        _behind_dash(source, spans, keys) if source.text[source.line_of(keys[0]) : keys[0]].strip() else spans
    )


def _behind_dash(
    source: Source, spans: list[tuple[int, int]], keys: list[int]
) -> list[tuple[int, int]] | None:
    """Return spans that begin at the names, so that any of them can stand behind a list item's dash.

    Not where comments stand above one of them: they would come between the dash and the name.
    """
    made = []
    for (begin, end), key in zip(spans, keys, strict=True):
        if source.text[begin:key].strip():
            return None
        made.append((key, end))
    return made


def _end_of_field(source: Source, end: int, column: int) -> int:
    """Return the offset behind the last line of a field, with the comments below it that are indented deeper."""
    at = end if end > 0 and source.text[end - 1] == "\n" else source.line_end(end)
    last = at
    while at < len(source.text):
        line = source.text[at : source.line_end(at)]
        body = line.strip()
        if body and not (body.startswith("#") and len(line) - len(line.lstrip()) > column):
            break
        at = source.line_end(at)
        if body:
            last = at
    return last


def _start_of_comments(source: Source, line: int) -> int:
    """Return where the comments directly above a line begin; a blank line ends them: they head the file."""
    at = line
    while at > 0:
        above = source.line_of(at - 1)
        if not source.text[above:at].strip().startswith("#"):
            break
        at = above
    return at
