"""The text of one record file, for changing it in place: where its nodes and comments stand, and edits of it.

ruamel.yaml parses, the text around what changes stays as its writer left it: a dump of the whole tree would move
comments, requote and refold. Whoever edits proves afterwards, by reading the result back, that it means what it should.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import Final

from ruamel.yaml.error import YAMLError
from ruamel.yaml.nodes import MappingNode, Node, ScalarNode, SequenceNode

from shearpin.model.position import FieldPath
from shearpin.model.yamltext import compose

_BREAK: Final = re.compile(r"\r\n|\r|\n")
_COMMENT: Final = re.compile(r"(?:(?<=\s)|^)#[^\n]*", re.MULTILINE)
_BLOCK_HEADER: Final = re.compile(r"[|>][-+0-9]*[ \t]*(#[^\n]*)?")
_PLAIN_NEEDS_QUOTES: Final = re.compile(r"[\x00-\x1f\x7f-\x9f\u2028\u2029\ufeff]|^\s|\s$|^$")


@dataclass(frozen=True, slots=True)
class Edit:
    """Characters `start` to `end` of a text, and what stands there afterwards."""

    start: int
    end: int
    text: str


def apply_edits(text: str, edits: Iterable[Edit]) -> str:
    """Return the text with all edits made; raises `ValueError` where two overlap."""
    pieces: list[str] = []
    at = 0
    for edit in sorted(edits, key=lambda e: (e.start, e.end)):
        if edit.start < at:
            raise ValueError(f"two edits overlap at character {edit.start}")
        pieces += [text[at : edit.start], edit.text]
        at = edit.end
    pieces.append(text[at:])
    return "".join(pieces)


def read_text(raw: bytes) -> tuple[str, str]:
    """Return the text of a file with plain line ends and no byte-order mark, and the line end it mostly has."""
    text = raw.decode("utf-8").removeprefix("\ufeff")
    line_end = "\r\n" if text.count("\r\n") * 2 > len(_BREAK.findall(text)) else "\n"
    return _BREAK.sub("\n", text), line_end


def to_bytes(text: str, line_end: str) -> bytes:
    """Return a text as the bytes of its file."""
    return text.replace("\n", line_end).encode("utf-8")


@dataclass(frozen=True)
class Source:
    """A text with plain line ends that holds one YAML mapping, and its parsed nodes."""

    text: str
    root: MappingNode = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        try:
            root = compose(self.text.encode("utf-8"))
        except YAMLError as error:
            raise ValueError(str(error)) from error
        if not isinstance(root, MappingNode):
            raise ValueError("no mapping of fields")
        object.__setattr__(self, "root", root)

    @cached_property
    def line_starts(self) -> tuple[int, ...]:
        """Offset of each line."""
        return (0, *(match.end() for match in re.finditer("\n", self.text)))

    def start(self, node: Node) -> int:
        """Return the offset at which a node begins."""
        mark = node.start_mark
        return min(self.line_starts[int(mark.line)] + int(mark.column), len(self.text))

    def end(self, node: Node) -> int:
        """Return the offset behind a node: of a block collection, behind the last thing in it."""
        if isinstance(node, (MappingNode, SequenceNode)) and not node.flow_style and node.value:
            last = node.value[-1]
            return self.end(last[1] if isinstance(last, tuple) else last)
        mark = node.end_mark
        if mark.line >= len(self.line_starts):
            return len(self.text)
        return min(self.line_starts[int(mark.line)] + int(mark.column), len(self.text))

    def column(self, offset: int) -> int:
        """Return how many characters stand before `offset` in its line."""
        return offset - (self.text.rfind("\n", 0, offset) + 1)

    def line_of(self, offset: int) -> int:
        """Return the offset at which the line of `offset` begins."""
        return self.text.rfind("\n", 0, offset) + 1

    def line_end(self, offset: int) -> int:
        """Return the offset behind the line of `offset`, its line end included."""
        found = self.text.find("\n", offset)
        return len(self.text) if found < 0 else found + 1

    def node_at(self, path: FieldPath) -> Node | None:
        """Return the node of a field; a single item may stand where a list is allowed, its index 0 is itself."""
        node: Node = self.root
        for part in path:
            inner = child(node, part)
            if inner is None:
                if part == 0 and not isinstance(node, SequenceNode):
                    continue
                return None
            node = inner
        return node

    def key_at(self, path: FieldPath) -> ScalarNode | None:
        """Return the node of a field's name."""
        holder = self.node_at(path[:-1])
        if isinstance(holder, MappingNode):
            for key, _ in holder.value:
                if isinstance(key, ScalarNode) and str(key.value) == path[-1]:
                    return key
        return None

    def scalars(self) -> Iterator[ScalarNode]:
        """Yield every scalar, in the order of the text."""
        waiting: list[Node] = [self.root]
        while waiting:
            node = waiting.pop()
            if isinstance(node, ScalarNode):
                yield node
            elif isinstance(node, MappingNode):
                waiting += [part for pair in reversed(node.value) for part in reversed(pair)]
            else:
                waiting += reversed(node.value)

    @cached_property
    def comments(self) -> tuple[tuple[int, int], ...]:
        """Start and end of every comment: what begins with `#` outside of every scalar."""
        found: list[tuple[int, int]] = []
        at = 0
        for node in self.scalars():
            start = self.start(node)
            found += self._comments_between(at, start)
            if node.style in ("|", ">"):
                header = _BLOCK_HEADER.match(self.text, start)
                if header is not None and header.group(1) is not None:
                    found.append(header.span(1))
            at = self.end(node)
        return (*found, *self._comments_between(at, len(self.text)))

    def _comments_between(self, start: int, end: int) -> list[tuple[int, int]]:
        return [match.span() for match in _COMMENT.finditer(self.text, start, end)]

    def comment_texts(self) -> tuple[str, ...]:
        """Return the comments, sorted: two texts with the same ones have lost none."""
        return tuple(sorted(self.text[start:end].rstrip() for start, end in self.comments))

    def has_comment(self, start: int, end: int) -> bool:
        """Tell whether a comment stands between two offsets."""
        return any(start <= at < end for at, _ in self.comments)


def child(node: Node, part: str | int) -> Node | None:
    """Return the node under a name or an index, or None."""
    if isinstance(node, MappingNode) and isinstance(part, str):
        for key, value in node.value:
            if isinstance(key, ScalarNode) and str(key.value) == part:
                inner: Node = value
                return inner
    elif isinstance(node, SequenceNode) and isinstance(part, int) and 0 <= part < len(node.value):
        item: Node = node.value[part]
        return item
    return None


def scalar_text(value: str, *, in_flow: bool = False, style: str | None = None) -> str:
    """Return a text as YAML on one line: plain where that reads back as the same, else in double quotes.

    `style` keeps the quotes that a replaced scalar had.
    """
    if style == "'" and not _PLAIN_NEEDS_QUOTES.search(value):
        return "'" + value.replace("'", "''") + "'"
    if style != '"' and not _PLAIN_NEEDS_QUOTES.search(value) and _reads_back(value, in_flow):
        return value
    return '"' + "".join(_escaped(character) for character in value) + '"'


def _reads_back(value: str, in_flow: bool) -> bool:
    if "#" in value or value in ("~", "null", "true", "false"):
        return False  # a `#` would tempt the next editor to put a blank before it
    try:
        root = compose(f"{{a: {value}, b: c}}".encode() if in_flow else f"a: {value}\n".encode())
    except (YAMLError, UnicodeError):
        return False
    pairs: Sequence[tuple[Node, Node]] = root.value if isinstance(root, MappingNode) else ()
    if len(pairs) != (2 if in_flow else 1):
        return False
    node = pairs[0][1]
    return isinstance(node, ScalarNode) and not node.style and node.value == value and _untagged(value)


def _untagged(value: str) -> bool:
    return value[:1] not in "!&*"


_NAMED: Final = {"\n": "\\n", "\t": "\\t", '"': '\\"', "\\": "\\\\"}


def _escaped(character: str) -> str:
    if character in _NAMED:
        return _NAMED[character]
    if character.isprintable() and character != "\ufeff":
        return character
    code = ord(character)
    return f"\\x{code:02X}" if code < 0x100 else f"\\u{code:04X}" if code < 0x10000 else f"\\U{code:08X}"
