"""Strict YAML: bytes of one record file to plain text data, or the faults that prevent it.

YAML 1.2 syntax, of which a record needs little: every scalar stays text, mappings have text keys, each once.
Anchors, aliases, tags, merge keys and further documents are refused: they make a file mean something that its reader
does not see. ruamel.yaml's C parser does the reading, and is stopped where input would exhaust its stack or our time.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Any, Final

from _ruamel_yaml import CParser
from ruamel.yaml.error import MarkedYAMLError, YAMLError
from ruamel.yaml.nodes import MappingNode, Node, ScalarNode, SequenceNode
from ruamel.yaml.reader import ReaderError
from ruamel.yaml.tag import Tag
from ruamel.yaml.tokens import AliasToken, AnchorToken

from shearpin.model.filecontent import MAX_BYTES

Tree = str | list["Tree"] | dict[str, "Tree"]

MAX_DEPTH: Final = 40  # records need about 6; the C parser overflows its stack near 30,000
MAX_NODES: Final = 20_000  # a machine with a hundred values has some 600
_UNTAGGED: Final = Tag(suffix="untagged")  # one object for all nodes: comparing it costs nothing
_HIDDEN_BREAKS: Final = re.compile("[\u0085\u2028\u2029]")


@dataclass(frozen=True, slots=True)
class TextFault:
    """A fault of the text itself; line and column count from 1 in characters."""

    code: str
    message: str
    help: str
    line: int
    column: int


class Refused(YAMLError):
    """YAML that is no record's, with the fault that says why."""

    def __init__(self, fault: TextFault) -> None:
        super().__init__(fault.message)
        self.fault = fault


class _Parser(CParser):  # type: ignore[misc]
    """The C parser without tag resolution, so that `no`, `1:30` and `010` remain what was written.

    It asks its resolver on the way into and out of every node; here that stops it before it is too deep for its
    stack, or has read too much, whatever the text looks like.
    """

    def __init__(self, raw: bytes) -> None:
        super().__init__(raw)
        self._depth = 0
        self._nodes = 0

    def resolve(self, kind: type[Node], value: object, implicit: object) -> Tag:
        return _UNTAGGED

    def descend_resolver(self, parent: Node | None, index: object) -> None:
        self._depth += 1
        self._nodes += 1
        if self._depth > MAX_DEPTH or self._nodes > MAX_NODES:
            assert parent is not None
            message, advice = f"nested deeper than {MAX_DEPTH} levels", "a record needs about six"
            if self._depth <= MAX_DEPTH:
                message, advice = f"more than {MAX_NODES:,} entries", "a record has some hundred; split it"
            raise Refused(TextFault("FMT002", message, advice, *_start(parent)))

    def ascend_resolver(self) -> None:
        self._depth -= 1


def compose(raw: bytes) -> Node | None:
    """Return the node tree of one document with its marks; raises `YAMLError`, of which `Refused` is one."""
    node: Node | None = _Parser(raw).get_single_node()
    return node


def parse(raw: bytes) -> tuple[dict[str, Any], tuple[TextFault, ...]]:
    """Return the data of a record file and its faults; the data is empty when the text cannot be read."""
    fault = _unreadable(raw)
    if fault is not None:
        return {}, (fault,)
    try:
        root = compose(raw)
        # Only now: scanning what is nested too deep takes time that grows with the square of the depth.
        if b"&" in raw or b"*" in raw:
            _refuse_anchors(raw)
    except Refused as refused:
        return {}, (refused.fault,)
    except ReaderError as error:
        # Printable text that is not allowed in YAML: the position counts bytes.
        line, column = _place(raw, int(error.position))
        character = f"U+{int(error.character):04X}"
        message = f"character {character} is not allowed in a YAML file"
        return {}, (TextFault("FMT003", message, "remove it or write it in words", line, column),)
    except MarkedYAMLError as error:
        return {}, (_syntax_fault(error),)
    except YAMLError as error:
        return {}, (TextFault("FMT001", f"this is not YAML: {error}", _SYNTAX_HELP, 1, 1),)
    if root is None:
        return {}, (
            TextFault("FMT002", "the file is empty", "write at least a `title`, or delete the file", 1, 1),
        )
    if not isinstance(root, MappingNode):
        message = "a record is a mapping of fields, such as `title: …`"
        return {}, (TextFault("FMT002", message, "begin with `title:`", *_start(root)),)
    faults: list[TextFault] = []
    data = _plain(root, faults)
    assert isinstance(data, dict)
    return data, tuple(faults)


_SYNTAX_HELP: Final = (
    "look at this line and the one before it: a missing colon or quote, a tab, or a `: ` inside unquoted text"
)


def _unreadable(raw: bytes) -> TextFault | None:
    if len(raw) > MAX_BYTES:
        return TextFault(
            "FMT002",
            f"the file is larger than {MAX_BYTES:,} bytes",
            "a record is a few kilobytes; split it",
            1,
            1,
        )
    try:
        text = raw.decode("utf-8")
    except UnicodeDecodeError as error:
        line, column = _place(raw, error.start)
        return TextFault(
            "FMT003", "the file is not UTF-8 text", "save it as UTF-8 in the editor", line, column
        )
    hidden = _HIDDEN_BREAKS.search(text) if not text.isascii() else None
    if hidden is not None:
        # The C parser begins a new line there, and editors do not: a field could hide at the end of another.
        message = f"U+{ord(hidden.group()):04X} breaks the line where an editor shows none"
        line, column = _place(raw, len(text[: hidden.start()].encode()))
        return TextFault(
            "FMT003", message, "break the line with the Enter key, or delete the character", line, column
        )
    return None


def _refuse_anchors(raw: bytes) -> None:
    """Raise at the first anchor or alias; nodes do not show them, tokens do."""
    scanner = _Parser(raw)
    while True:
        token = scanner.get_token()
        if token is None:
            return
        if isinstance(token, AnchorToken):
            raise Refused(_anchor_fault("an anchor (`&`)", token.start_mark))
        if isinstance(token, AliasToken):
            raise Refused(_anchor_fault("an alias (`*`)", token.start_mark))


def _anchor_fault(what: str, mark: Any) -> TextFault:
    advice = "write the text out, or put it in quotes if the sign belongs to it"
    return TextFault("FMT005", f"{what} is not used in records", advice, mark.line + 1, mark.column + 1)


def _syntax_fault(error: MarkedYAMLError) -> TextFault:
    mark = error.problem_mark or error.context_mark
    context = str(error.context or "")
    problem = str(error.problem or context or "unreadable").strip()
    message, advice = f"this is not YAML: {problem}", _SYNTAX_HELP
    if problem == "found undefined alias" or context == "while scanning an alias":
        return _anchor_fault("an alias (`*`)", error.context_mark or mark)
    if context.startswith("found duplicate anchor") or context == "while scanning an anchor":
        return _anchor_fault("an anchor (`&`)", error.context_mark or mark)
    if context.startswith("expected a single document"):
        message, advice = (
            "a file holds one record, and here a second document begins",
            "remove the `---` line",
        )
    elif problem == "found unexpected end of stream":
        message, advice, mark = "a quote opens here and never closes", "close it", error.context_mark or mark
    line, column = (mark.line + 1, mark.column + 1) if mark is not None else (1, 1)
    return TextFault("FMT001", message, advice, line, column)


def _plain(node: Node, faults: list[TextFault]) -> Tree:
    """Return the node as text, list or dict, noting what is refused on the way."""
    if node.ctag is not _UNTAGGED:
        faults.append(
            TextFault("FMT005", f"the tag `{node.tag}` is not used in records", "remove it", *_start(node))
        )
    if isinstance(node, ScalarNode):
        return str(node.value)
    if isinstance(node, SequenceNode):
        return [_plain(item, faults) for item in node.value]
    data: dict[str, Tree] = {}
    for key, value in node.value:
        if not isinstance(key, ScalarNode):
            faults.append(
                TextFault("FMT002", "a field name must be plain text", "write `name: value`", *_start(key))
            )
            continue
        name = str(key.value)
        if name == "<<":
            faults.append(
                TextFault("FMT005", "a merge key (`<<`) is not used in records", "write it out", *_start(key))
            )
            continue
        if name in data:
            message = f"`{name}` is given twice; only one can be meant"
            faults.append(TextFault("FMT004", message, "keep one of them", *_start(key)))
            continue
        data[name] = _plain(value, faults)
    return data


def _start(node: Node) -> tuple[int, int]:
    return node.start_mark.line + 1, node.start_mark.column + 1


def _place(raw: bytes, offset: int) -> tuple[int, int]:
    before = raw[:offset].removeprefix(b"\xef\xbb\xbf")
    line_start = before.rfind(b"\n") + 1
    return before.count(b"\n") + 1, len(before[line_start:].decode("utf-8", "replace")) + 1
