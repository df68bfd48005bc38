"""Owns the YAML of synthetic records: written as a writer of records would, not as a program dumps it."""

from __future__ import annotations

import json
import re
import textwrap
from collections.abc import Mapping, Sequence
from typing import Any

_NEEDS_QUOTES = re.compile(r"^[\s\-?:,\[\]{}#&*!|>'\"%@`]|: |:$| #|\s$")
_ID = re.compile(r"[A-Za-z0-9][A-Za-z0-9.-]*")
_LINE = 110
_SHORT = 90


def record_text(fields: Mapping[str, Any]) -> str:
    """Return the YAML of a record: text, mappings and sequences, in the order given; empty ones are left out."""
    return "\n".join(_mapping(fields, "")) + "\n"


def _mapping(fields: Mapping[str, Any], indent: str) -> list[str]:
    lines: list[str] = []
    for name, value in fields.items():
        if not _is_empty(value):
            lines += _field(name, value, indent)
    return lines


def _is_empty(value: Any) -> bool:
    if isinstance(value, Mapping):
        return all(_is_empty(inner) for inner in value.values())
    return value is None or len(value) == 0


def _field(name: str, value: Any, indent: str) -> list[str]:
    if isinstance(value, str):
        return _text(f"{indent}{name}:", value, indent)
    if _fits_flow(value):
        return [f"{indent}{name}: {_flow(value)}"]
    if isinstance(value, Mapping):
        return [f"{indent}{name}:", *_mapping(value, indent + "  ")]
    lines = [f"{indent}{name}:"]
    for item in value:
        lines += _item(item, indent + "  ")
    return lines


def _item(item: Any, indent: str) -> list[str]:
    if isinstance(item, str):
        return _text(f"{indent}-", item, indent)
    if _fits_flow(item):
        return [f"{indent}- {_flow(item)}"]
    lines = _mapping(item, indent + "  ")
    return [f"{indent}- {lines[0].lstrip()}", *lines[1:]]


def _text(head: str, value: str, indent: str) -> list[str]:
    if len(value) <= _SHORT:
        return [f"{head} {json.dumps(value, ensure_ascii=False) if _NEEDS_QUOTES.search(value) else value}"]
    margin = indent + "  "
    lines = textwrap.wrap(value, _LINE - len(margin), break_on_hyphens=False, break_long_words=False)
    return [f"{head} >", *(margin + line for line in lines)]


def _fits_flow(value: Any) -> bool:
    """Whether it stands on one line: ids, and short mappings without sentences or structure."""
    if isinstance(value, Mapping):
        simple = all(isinstance(inner, str) and not inner.endswith(".") for inner in value.values())
        return simple and len(_flow(value)) <= _SHORT
    return isinstance(value, Sequence) and all(
        isinstance(item, str) and _ID.fullmatch(item) for item in value
    )


def _flow(value: Mapping[str, str] | Sequence[str]) -> str:
    if isinstance(value, Mapping):
        return "{" + ", ".join(f"{name}: {_flow_text(inner)}" for name, inner in value.items()) + "}"
    return "[" + ", ".join(value) + "]"


def _flow_text(value: str) -> str:
    return json.dumps(value, ensure_ascii=False) if re.search(r"[,\[\]{}:#\"'&*!|>@`]", value) else value
