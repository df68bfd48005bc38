"""The page of all commands, written from the parsers that read their words.

The page is Markdown of our own, not the text of `--help`: how argparse sets that differs between versions of Python.
"""

from __future__ import annotations

import argparse
import importlib
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Final
from unittest.mock import patch

from shearpin.cli import log
from shearpin.cli.main import COMMANDS

PAGE: Final = Path(__file__).resolve().parents[1] / "shearpin" / "guides" / "commands.md"

_SHARED: Final = ("--help", "--kb", "--json")
_HEAD: Final = """\
# All commands

Type a command in the folder that holds `kb`, or below it. `shearpin COMMAND --help` says the same on a terminal.

- Exit codes: 0 clean, 1 findings, 2 wrong usage, 3 a fault of the program.
- `--kb DIR`, where a command reads records, names another folder of records than the `kb` of the current project.
- `--json` prints what a command found as JSON, for other programs.
"""
_FOOT: Final = (
    "<!-- Made by `python3 tools/documents.py commands`; change the words where the command reads them. -->\n"
)


def commands_page() -> str:
    """Return the whole page as Markdown."""
    parts = [_HEAD]
    for name in COMMANDS:
        for words in [[name, action] for action in log.ACTIONS] if name == "log" else [[name]]:
            parts.append(_section(" ".join(words), _parser_of(words)))
    return "\n".join([*parts, _FOOT])


class _Caught(Exception):
    def __init__(self, parser: argparse.ArgumentParser) -> None:
        super().__init__()
        self.parser = parser


def _parser_of(words: Sequence[str]) -> argparse.ArgumentParser:
    """Return the parser with which a command would read its words; the command itself does not run."""

    def caught(parser: argparse.ArgumentParser, *_: object) -> None:
        raise _Caught(parser)

    module = importlib.import_module(f"shearpin.cli.{words[0]}")
    with patch.object(argparse.ArgumentParser, "parse_args", caught):
        try:
            module.run(list(words[1:]))
        except _Caught as found:
            return found.parser
    raise AssertionError(f"`{' '.join(words)}` reads its words without a parser")


def _section(name: str, parser: argparse.ArgumentParser) -> str:
    actions = [a for a in parser._actions if not set(a.option_strings) & set(_SHARED)]
    positional = " ".join(_placed(action) for action in actions if not action.option_strings)
    options = " [options]" if any(action.option_strings for action in actions) else ""
    usage = f"shearpin {name} {positional}".rstrip() + options
    lines = [f"## {name}", "", parser.description or "", "", f"    {usage}", ""]
    if actions:
        lines += ["| word | what it does |", "|---|---|", *_rows(actions), ""]
    return "\n".join(lines)


def _rows(actions: Sequence[argparse.Action]) -> Iterator[str]:
    for action in actions:
        described = (action.help or "") % {"default": action.default}
        needed = " (needed)" if action.option_strings and action.required else ""
        yield f"| `{_name(action)}` | {described}{needed} |"


def _name(action: argparse.Action) -> str:
    if not action.option_strings:
        return _metavar(action)
    return " ".join([", ".join(action.option_strings), _metavar(action) if action.nargs != 0 else ""]).strip()


def _metavar(action: argparse.Action) -> str:
    if isinstance(action.metavar, str):
        return action.metavar
    return ",".join(map(str, action.choices)) if action.choices else action.dest.upper()


def _placed(action: argparse.Action) -> str:
    name = _metavar(action)
    return {None: name, "?": f"[{name}]", "*": f"[{name} …]", "+": f"{name} …"}.get(action.nargs, name)  # type: ignore[arg-type]
