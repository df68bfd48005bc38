"""Owns the faults: what each changes in one place of a module's text."""

from __future__ import annotations

import ast
import copy
from collections.abc import Iterator
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

OTHER: Final = MappingProxyType(
    {
        ast.Lt: ast.LtE,
        ast.LtE: ast.Lt,
        ast.Gt: ast.GtE,
        ast.GtE: ast.Gt,
        ast.Eq: ast.NotEq,
        ast.NotEq: ast.Eq,
        ast.In: ast.NotIn,
        ast.NotIn: ast.In,
        ast.Is: ast.IsNot,
        ast.IsNot: ast.Is,
        ast.Add: ast.Sub,
        ast.Sub: ast.Add,
        ast.Mult: ast.Div,
        ast.Div: ast.Mult,
        ast.And: ast.Or,
        ast.Or: ast.And,
    }
)
"""Each operator and the one that takes its place."""


@dataclass(frozen=True, slots=True)
class Mutation:
    """One fault: its function's first line, the place, what stands there, and what is put there instead."""

    function: int
    line: int
    column: int
    end: tuple[int, int]
    was: str
    becomes: str

    def applied_to(self, text: str) -> str:
        """Return the module's text with the fault in it."""
        lines = text.encode("utf-8").split(b"\n")
        (last, end), first = self.end, self.line
        head, tail = lines[first - 1][: self.column], lines[last - 1][end:]
        lines[first - 1 : last] = [head + self.becomes.encode("utf-8") + tail]
        return b"\n".join(lines).decode("utf-8")


def mutations_of(text: str) -> Iterator[Mutation]:
    """Yield every fault that can be put into the functions of a module, in order."""
    tree = ast.parse(text)
    for function in ast.walk(tree):
        if isinstance(function, ast.FunctionDef):
            first = min(node.lineno for node in (function, *function.decorator_list))
            for statement in function.body:
                yield from _within(statement, text, first)


def _within(root: ast.AST, text: str, function: int) -> Iterator[Mutation]:
    stack = [root]
    while stack:
        node = stack.pop()
        # Words for people are judged by reading; annotations are judged by mypy.
        if isinstance(node, (ast.JoinedStr, ast.FunctionDef, ast.AnnAssign)):
            stack += [node.value] if isinstance(node, ast.AnnAssign) and node.value else []
            continue
        changed = _changed(node)
        if changed is not None and isinstance(node, ast.expr):
            yield Mutation(
                function,
                node.lineno,
                node.col_offset,
                (node.end_lineno or 0, node.end_col_offset or 0),
                ast.get_source_segment(text, node) or "",
                f"({ast.unparse(changed)})",
            )
        stack += reversed(list(ast.iter_child_nodes(node)))


def _changed(node: ast.AST) -> ast.expr | None:
    """Return the expression with one fault in it, or None where this kind has none."""
    if isinstance(node, ast.Constant) and type(node.value) in (int, float):
        return ast.Constant(node.value + 1)
    if isinstance(node, ast.Constant) and type(node.value) is bool:
        return ast.Constant(not node.value)
    if isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.Not):
        return node.operand
    if isinstance(node, ast.Compare) and type(node.ops[0]) in OTHER:
        other = copy.deepcopy(node)
        other.ops[0] = OTHER[type(node.ops[0])]()
        return other
    if isinstance(node, (ast.BinOp, ast.BoolOp)) and type(node.op) in OTHER:
        changed = copy.deepcopy(node)
        changed.op = OTHER[type(node.op)]()
        return changed
    return None
