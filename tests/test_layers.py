"""The package keeps its layers, its modules short, and printing in the command line."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Final

import pytest

import shearpin

PACKAGE = Path(shearpin.__file__).parent

LAYERS: Final = (
    ("model",),
    ("checks",),
    ("book",),
    ("mechanics",),
    ("diagnosis",),
    ("catalogue", "places", "inspection", "verdict"),
    ("authoring",),
    ("search",),
    ("site",),
    ("publish",),
    ("cli",),
)
"""From the bottom to the top; a module imports from its own layer and from those below."""

RANK: Final = {name: rank for rank, layer in enumerate(LAYERS) for name in layer}
MAX_MODULE_LINES: Final = 300
MAX_FUNCTION_LINES: Final = 40

MODULES = sorted(path for path in PACKAGE.rglob("*.py"))
NAMES = [path.relative_to(PACKAGE).with_suffix("").as_posix() for path in MODULES]


def _tree(path: Path) -> ast.Module:
    return ast.parse(path.read_text(encoding="utf-8"), str(path))


def _imports(tree: ast.Module) -> Iterator[tuple[int, str]]:
    """Yield line and dotted name of every import, those inside functions too."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            for alias in node.names:
                yield node.lineno, alias.name
        elif isinstance(node, ast.ImportFrom):
            if node.level:
                yield node.lineno, "." * node.level + (node.module or "")
            elif node.module == "shearpin":
                for alias in node.names:
                    yield node.lineno, f"shearpin.{alias.name}"
            else:
                yield node.lineno, node.module or ""


def _breaches(layer: str, tree: ast.Module) -> list[str]:
    """Return the imports of a module of this layer that lead upward or are relative."""
    found = []
    for line, name in _imports(tree):
        parts = name.split(".")
        if name.startswith("."):
            found.append(f"line {line}: {name} is relative")
        elif parts[0] == "shearpin" and len(parts) > 1:
            target = parts[1]
            if target in RANK and RANK[target] > RANK[layer]:
                found.append(f"line {line}: {layer} imports {name}")
    return found


def test_every_module_belongs_to_a_layer() -> None:
    top = {name.split("/")[0] for name in NAMES} - {"__init__"}
    assert top <= set(RANK)


@pytest.mark.parametrize("path", MODULES, ids=NAMES)
def test_imports_lead_only_down(path: Path) -> None:
    layer = path.relative_to(PACKAGE).with_suffix("").parts[0]
    if layer != "__init__":
        assert _breaches(layer, _tree(path)) == []


@pytest.mark.parametrize(
    "line",
    [
        "from shearpin.cli.main import main",
        "import shearpin.book.book",
        "from shearpin import search",
        "from .model import fields",
        "def f():\n    from shearpin.diagnosis.plan import make_plan",
        "if TYPE_CHECKING:\n    from shearpin.catalogue import RULES",
    ],
)
def test_an_import_upward_would_be_noticed(line: str) -> None:
    assert len(_breaches("checks", ast.parse(line))) == 1


def test_an_import_downward_is_no_breach() -> None:
    text = "from shearpin.model.fields import Id\nfrom shearpin.checks.rule import rule\nfrom shearpin import __version__"
    assert _breaches("checks", ast.parse(text)) == []


@pytest.mark.parametrize("path", MODULES, ids=NAMES)
def test_only_the_command_line_prints(path: Path) -> None:
    if "cli" in path.relative_to(PACKAGE).parts:
        return
    calls = [node for node in ast.walk(_tree(path)) if isinstance(node, ast.Call)]
    printing = [c.lineno for c in calls if isinstance(c.func, ast.Name) and c.func.id == "print"]
    writing = [
        c.lineno
        for c in calls
        if isinstance(c.func, ast.Attribute) and re.fullmatch(r"sys\.std(out|err)\.\w+", ast.unparse(c.func))
    ]
    assert printing + writing == []


@pytest.mark.parametrize("path", MODULES, ids=NAMES)
def test_modules_are_short_or_say_why_not(path: Path) -> None:
    lines = path.read_text(encoding="utf-8").splitlines()
    if len(lines) > MAX_MODULE_LINES:
        reason = re.compile(r"^# Longer than 300 lines: .{10,}")
        assert any(reason.match(line) for line in lines), (
            f"{len(lines)} lines and no `# Longer than 300 lines: …`"
        )


def _long_functions(text: str) -> list[str]:
    """Return functions whose code, their docstring left out, is too long and which do not say why."""
    lines = text.splitlines()
    found = []
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, (ast.FunctionDef, ast.AsyncFunctionDef)):
            first = node.body[0]
            documented = isinstance(first, ast.Expr) and ast.get_docstring(node) is not None
            words = (first.end_lineno or 0) - first.lineno + 1 if documented else 0
            length = (node.end_lineno or 0) - node.lineno + 1 - words
            own = lines[node.lineno - 1 : node.end_lineno]
            if length > MAX_FUNCTION_LINES and not any("# Longer than 40 lines: " in line for line in own):
                found.append(f"{node.name}: {length} lines")
    return found


@pytest.mark.parametrize("path", MODULES, ids=NAMES)
def test_functions_are_short_or_say_why_not(path: Path) -> None:
    assert _long_functions(path.read_text(encoding="utf-8")) == []


def test_a_long_function_would_be_noticed() -> None:
    body = "    a = 1\n" * 40
    assert _long_functions(f'def f():\n    """Words.\n\n    More.\n    """\n{body}') == ["f: 41 lines"]
    assert _long_functions(f"def f():\n    # Longer than 40 lines: a table.\n{body}") == []
    assert _long_functions(f"def f():\n{body[10:]}") == []


@pytest.mark.parametrize("path", MODULES, ids=NAMES)
def test_every_module_says_what_it_owns(path: Path) -> None:
    assert ast.get_docstring(_tree(path))
