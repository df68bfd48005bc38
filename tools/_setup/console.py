"""Owns what set-up shows: one line per stage, live on a terminal, printed once when finished in a pipe."""

from __future__ import annotations

import shutil
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import TextIO

LABEL_WIDTH = 24
RESULT_WIDTH = 22


class Fault(Exception):
    """Something about this computer or folder that stops us; the text is for the person in front of it."""


@dataclass(slots=True)
class Stage:
    """One stage under way; `result` is what its line says when it ends."""

    label: str
    stream: TextIO
    result: str = "ok"
    started: float = field(default_factory=time.monotonic)

    def seconds(self) -> float:
        return time.monotonic() - self.started

    def note(self, text: str) -> None:
        """Show what is going on now, on a terminal only: it is overwritten by the next line."""
        if self.stream.isatty():
            line = f"  {self.label:<{LABEL_WIDTH}}{self.seconds():5.0f} s  {text.strip()}"
            self._overwrite(line)

    def close(self) -> None:
        self._overwrite(f"  {self.label:<{LABEL_WIDTH}}{self.result:<{RESULT_WIDTH}}{self.seconds():6.1f} s")
        self.stream.write("\n")
        self.stream.flush()

    def _overwrite(self, line: str) -> None:
        # Blanks instead of an escape sequence: the old Windows console shows those as rubbish.
        if self.stream.isatty():
            width = shutil.get_terminal_size().columns - 1
            line = "\r" + line[:width].ljust(width)
        self.stream.write(line)
        self.stream.flush()


@contextmanager
def stage(label: str, stream: TextIO) -> Iterator[Stage]:
    """Time a stage and print its line, `failed` when an exception ends it."""
    current = Stage(label, stream)
    try:
        yield current
    except BaseException as error:
        current.result = "stopped" if isinstance(error, KeyboardInterrupt) else "failed"
        raise
    finally:
        current.close()


def say_anything(*streams: TextIO) -> None:
    """Let the streams print paths whose letters the console's encoding lacks, instead of failing on them."""
    for stream in streams:
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(errors="backslashreplace")
