"""What a process that stays remembers from one reading of the records to the next, so that it reads only what was saved."""

from __future__ import annotations

from dataclasses import dataclass, field

from shearpin.book.readfiles import ReadFile


@dataclass(slots=True)
class Memory:
    """Files as read, by their path."""

    files: dict[str, ReadFile] = field(default_factory=dict)
