"""Writes a review into the text of a record: its own few words, and not a character of anything else."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Final

from ruamel.yaml.nodes import MappingNode, Node, ScalarNode

from shearpin.model.yamltext import compose, parse

_LINE: Final = re.compile(r"[^\r\n]*(?:\r\n|\r|\n|\Z)")


class CannotWrite(Exception):
    """The text has a form in which a review cannot be set without risk; its text says what to do."""


def with_review(raw: bytes, review: Mapping[str, str]) -> bytes:
    """Return the bytes of a record with these fields of its review set; comments and layout stay as they are.

    Raises `CannotWrite` where the result would not read back as the same record with that review.
    """
    mark, text = ("\ufeff", raw.decode("utf-8-sig")) if raw[:3] == b"\xef\xbb\xbf" else ("", raw.decode())
    root = compose(text.encode())
    places = _Places(text)
    found = _child(root, "review")
    if isinstance(found, MappingNode):
        changed = _changed(text, places, found, review)
    elif found is None and isinstance(root, MappingNode) and not root.flow_style:
        end = "\r\n" if "\r\n" in text else "\n"
        start = text if text.endswith(("\n", "\r")) else text + end
        changed = f"{start}review: {{{', '.join(f'{name}: {value}' for name, value in review.items())}}}{end}"
    else:
        raise CannotWrite("its `review` is not a mapping; write `review: {state: draft}` and try again")
    result = (mark + changed).encode()
    _compare(raw, result, review)
    return result


@dataclass(frozen=True, slots=True)
class _Edit:
    start: int
    end: int
    text: str


class _Places:
    """Offsets in a text by line and column of the parser's marks."""

    def __init__(self, text: str) -> None:
        self._starts = [match.start() for match in _LINE.finditer(text)]

    def __call__(self, mark: Any) -> int:
        return self._starts[int(mark.line)] + int(mark.column)


def _changed(text: str, places: _Places, node: MappingNode, review: Mapping[str, str]) -> str:
    edits = []
    missing = []
    for name, value in review.items():
        old = _child(node, name)
        if isinstance(old, ScalarNode):
            edits.append(_Edit(places(old.start_mark), places(old.end_mark), value))
        else:
            missing.append(f"{name}: {value}")
    if missing:
        edits.append(_addition(text, places, node, missing))
    for edit in sorted(edits, key=lambda e: e.start, reverse=True):
        text = text[: edit.start] + edit.text + text[edit.end :]
    return text


def _addition(text: str, places: _Places, node: MappingNode, missing: list[str]) -> _Edit:
    if not node.value:
        at = places(node.start_mark) + 1  # behind the brace
        return _Edit(at, at, ", ".join(missing))
    at = places(node.value[-1][1].end_mark)
    if node.flow_style:
        return _Edit(at, at, "".join(f", {entry}" for entry in missing))
    end = "\r\n" if "\r\n" in text else "\n"
    indent = end + " " * int(node.value[0][0].start_mark.column)
    return _Edit(at, at, "".join(indent + entry for entry in missing))


def _child(node: Node | None, name: str) -> Node | None:
    if isinstance(node, MappingNode):
        for key, value in node.value:
            if isinstance(key, ScalarNode) and key.value == name:
                return value  # type: ignore[no-any-return]
    return None


def _compare(before: bytes, after: bytes, review: Mapping[str, str]) -> None:
    old, _ = parse(before)
    new, faults = parse(after)
    kept = old.get("review")
    wanted = {**old, "review": {**(kept if isinstance(kept, dict) else {}), **review}}
    if faults or new != wanted:
        raise CannotWrite("its text has a form that cannot be changed safely; set `review` by hand")
