"""Owns running another program: watched and collected, or with its output passed straight through."""

from __future__ import annotations

import os
import subprocess
import threading
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

Notice = Callable[[str], None]

NOTICE_SECONDS = 0.2
GRACE_SECONDS = 10
GREATEST_WIDTH = 400  # pip can list every version there ever was on one line


@dataclass(frozen=True, slots=True)
class Outcome:
    """How a program ended: its exit code and all it printed, both streams in order."""

    code: int
    output: str

    def tail(self, lines: int = 12) -> str:
        """Return the last lines printed, indented and cut: enough to see what it complained about."""
        last = self.output.rstrip().splitlines()[-lines:]
        return "\n".join(
            f"    {line if len(line) <= GREATEST_WIDTH else line[:GREATEST_WIDTH] + ' …'}" for line in last
        )


def environment(extra: Mapping[str, str] | None = None) -> dict[str, str]:
    """Return the environment for our programs: UTF-8 output, and nothing that points Python or pip elsewhere."""
    elsewhere = ("PYTHONHOME", "PYTHONPATH", "PIP_TARGET", "PIP_PREFIX")
    inherited = {name: value for name, value in os.environ.items() if name not in elsewhere}
    return {**inherited, "PYTHONIOENCODING": "utf-8", "PIP_USER": "0", **(extra or {})}


def run_watched(
    command: Sequence[str | Path],
    folder: Path,
    notice: Notice,
    extra: Mapping[str, str] | None = None,
) -> Outcome:
    """Run a program to its end, telling `notice` its latest line a few times a second.

    Raises OSError when the program cannot be started.
    """
    lines: list[str] = []
    process = subprocess.Popen(
        command,
        cwd=folder,
        env=environment(extra),
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        encoding="utf-8",
        errors="replace",
    )
    with process:
        reader = threading.Thread(target=_collect, args=(process, lines), daemon=True)
        reader.start()
        try:
            while reader.is_alive():
                reader.join(NOTICE_SECONDS)
                notice(lines[-1] if lines else "")
            process.wait()
        except KeyboardInterrupt:
            _let_it_end(process)
            raise
    return Outcome(process.returncode, "".join(lines))


def run_through(command: Sequence[str | Path], folder: Path, extra: Mapping[str, str] | None = None) -> int:
    """Run a program with its output going where ours goes, and return its exit code."""
    process = subprocess.Popen(command, cwd=folder, env=environment(extra), stdin=subprocess.DEVNULL)
    with process:
        try:
            return process.wait()
        except KeyboardInterrupt:
            _let_it_end(process)
            raise


def _collect(process: subprocess.Popen[str], lines: list[str]) -> None:
    assert process.stdout is not None
    for line in process.stdout:
        lines.append(line)


def _let_it_end(process: subprocess.Popen[str] | subprocess.Popen[bytes]) -> None:
    # The terminal has sent the interrupt to the program as well; give it time to tidy up before forcing it.
    try:
        process.wait(GRACE_SECONDS)
    except subprocess.TimeoutExpired:
        process.kill()
