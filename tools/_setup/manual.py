"""Owns tools/start.py: environment, packages, records checked, manual built and opened."""

from __future__ import annotations

import argparse
import os
import sys
import time
import webbrowser
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TextIO

from _setup.console import Fault, say_anything, stage
from _setup.environment import prepare
from _setup.oserrors import explain_output
from _setup.process import run_watched

ROOT = Path(__file__).resolve().parents[2]

# Modules rather than the commands in .venv: the first line of a script must stay short, and folders need not.
CHECK = ("-m", "shearpin.cli", "check")
BUILD = ("-m", "mkdocs", "build", "--strict")  # never -q: with it, --strict passes in spite of warnings

TRACEBACK = "Traceback (most recent call last)"
DAMAGED = "This is not a fault in the records. If it stays, delete the folder .venv and run again."


def start(arguments: Sequence[str], root: Path = ROOT) -> int:
    """Set up, check, build and open.

    Returns 0, or 1 for findings, 2 for wrong usage or a computer that will not do, 130 when stopped.
    """
    parser = argparse.ArgumentParser(prog="start.py", description="Set Shearpin up and open the manual.")
    parser.add_argument("--no-open", action="store_true", help="only print where the manual is")
    options = parser.parse_args(arguments)
    stream = sys.stdout
    say_anything(stream, sys.stderr)
    began = time.monotonic()
    try:
        _require_project(root)
        python = prepare(root, stream)
        clean = _passes("Records checked", [python, *CHECK], root, stream) and _passes(
            "Manual built", [python, *BUILD], root, stream
        )
    except Fault as fault:
        stream.flush()
        sys.stderr.write(f"\n{fault}\n")
        return 2
    except KeyboardInterrupt:
        stream.write("Stopped. Run the same command to go on.\n")
        return 130
    stream.write(f"  {'':<24}{'':<22}{time.monotonic() - began:6.1f} s in all\n\n")
    if not clean:
        stream.write("The manual was not opened: put right what is listed above and run the command again.\n")
        return 1
    _show(root / "site" / "index.html", stream, opening=not options.no_open)
    return 0


def can_open(environment: Mapping[str, str], system: str = sys.platform) -> bool:
    """Tell whether this session has a screen for a browser to open on."""
    if system in ("win32", "darwin"):
        return True
    return bool(environment.get("DISPLAY") or environment.get("WAYLAND_DISPLAY"))


def _require_project(root: Path) -> None:
    for name in ("pyproject.toml", "mkdocs.yml"):
        if not (root / name).is_file():
            raise Fault(f"{root / name} is missing: this copy is incomplete. Copy the whole folder again.")


def _passes(label: str, command: Sequence[str | Path], root: Path, stream: TextIO) -> bool:
    """Run one check and show what it found. Raises Fault when it broke instead of finding something."""
    with stage(label, stream) as current:
        outcome = run_watched(command, root, current.note)
        if outcome.code not in (0, 1) or TRACEBACK in outcome.output:
            broke = f"{label}: broke with exit code {outcome.code}. {DAMAGED}"
            raise Fault(f"{explain_output(outcome.output, root, broke)}\n{outcome.tail(40)}")
        if outcome.code == 1:
            current.result = "findings"
    if outcome.code == 1:
        stream.write(f"\n{outcome.output.rstrip()}\n\n")
    return outcome.code == 0


def _show(index: Path, stream: TextIO, opening: bool) -> None:
    opened = opening and can_open(os.environ) and webbrowser.open(index.as_uri())
    stream.write(f"{'Opened in the browser' if opened else 'Open this file in a browser'}: {index}\n")
