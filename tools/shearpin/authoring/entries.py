"""Writes figures into the `values` of a machine's or engine's file; everything around them stays as it is."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from ruamel.yaml.nodes import MappingNode, Node, ScalarNode

from shearpin.authoring.formatting import plain_data, says
from shearpin.authoring.order import written_order
from shearpin.authoring.source import Edit, Source, apply_edits, child, scalar_text
from shearpin.model.machines import ValueEntry

_ORDER = written_order(ValueEntry)


def with_entry(text: str, name: str, after: Mapping[str, str]) -> str:
    """Return the text with one figure as given; raises `ValueError` where it cannot be proven to say just that."""
    text = text if text.endswith("\n") else text + "\n"
    data: dict[str, Any] = plain_data(text)
    values = dict(data.get("values") or {})
    source = Source(text)
    entry = source.node_at(("values", name))
    fields = {key: after[key] for key in _ORDER if key in after}
    if entry is None:
        made = _added(source, name, fields)
    elif isinstance(entry, MappingNode):
        made = _changed(source, entry, {str(k): str(v) for k, v in values[name].items()}, fields)
    else:
        raise ValueError(f"`{name}` has no fields of its own")
    values[name] = fields
    if not says(made, {**data, "values": values}):
        raise ValueError(f"`{name}` stands in a form that cannot be changed for certain")
    if Source(made).comment_texts() != source.comment_texts():
        raise ValueError(f"a comment inside `{name}` would be lost")
    return made


def _in_braces(fields: Mapping[str, str]) -> str:
    return "{" + ", ".join(f"{key}: {scalar_text(text, in_flow=True)}" for key, text in fields.items()) + "}"


def _added(source: Source, name: str, fields: Mapping[str, str]) -> str:
    """Put a figure behind the last one."""
    text = source.text
    values = source.node_at(("values",))
    line = f"{name}: {_in_braces(fields)}"
    if values is None:
        end = _behind(source, source.root)
        gap = "" if text[:end].endswith("\n") else "\n"
        return apply_edits(text, [Edit(end, end, f"{gap}values:\n  {line}\n")])
    if not isinstance(values, MappingNode) or not values.value:
        start, end = source.start(values), source.end(values)
        return apply_edits(text, [Edit(start, end, f"\n  {line}")])
    if values.flow_style:
        last = source.end(values.value[-1][1])
        return apply_edits(text, [Edit(last, last, f", {line}")])
    end = _behind(source, values)
    gap = "" if text[:end].endswith("\n") else "\n"
    indent = " " * source.column(source.start(values.value[0][0]))
    return apply_edits(text, [Edit(end, end, f"{gap}{indent}{line}\n")])


def _behind(source: Source, node: Node) -> int:
    """Return where the line after a block begins."""
    end = source.end(node)
    return end if source.text[end - 1 : end] == "\n" else source.line_end(end)


def _changed(source: Source, entry: MappingNode, before: Mapping[str, str], after: Mapping[str, str]) -> str:
    """Replace what differs; a figure in braces is written anew around the texts that stay."""
    same_fields = set(before) == set(after)
    if (
        entry.flow_style
        and not same_fields
        and not source.has_comment(source.start(entry), source.end(entry))
    ):
        pieces = []
        for key, text in after.items():
            node = child(entry, key)
            kept = node is not None and before.get(key) == text
            written = (
                source.text[source.start(node) : source.end(node)]
                if node is not None and kept
                else scalar_text(text, in_flow=True)
            )
            pieces.append(f"{key}: {written}")
        return apply_edits(
            source.text, [Edit(source.start(entry), source.end(entry), "{" + ", ".join(pieces) + "}")]
        )
    edits = [
        edit
        for key, text in after.items()
        if before.get(key) not in (None, text)
        for edit in _replaced(source, entry, key, text)
    ]
    if not same_fields:
        if entry.flow_style:
            raise ValueError("a comment stands inside the braces")
        edits += _lines_removed(source, entry, after) + _lines_added(source, entry, before, after)
    return apply_edits(source.text, edits)


def _replaced(source: Source, entry: MappingNode, key: str, text: str) -> list[Edit]:
    node = child(entry, key)
    if not isinstance(node, ScalarNode):
        return []
    start, end = source.start(node), source.end(node)
    after = "\n" if source.text[end - 1 : end] == "\n" and end > start else ""
    return [Edit(start, end, scalar_text(text, in_flow=bool(entry.flow_style), style=node.style) + after)]


def _lines_removed(source: Source, entry: MappingNode, after: Mapping[str, str]) -> list[Edit]:
    return [
        Edit(source.line_of(source.start(key)), _behind(source, value), "")
        for key, value in entry.value
        if str(key.value) not in after
    ]


def _lines_added(
    source: Source, entry: MappingNode, before: Mapping[str, str], after: Mapping[str, str]
) -> list[Edit]:
    indent = " " * source.column(source.start(entry.value[0][0]))
    lines = [f"{indent}{key}: {scalar_text(text)}\n" for key, text in after.items() if key not in before]
    end = _behind(source, entry)
    gap = "" if source.text[:end].endswith("\n") else "\n"
    return [Edit(end, end, gap + "".join(lines))] if lines else []
