"""What is handed on of a ledger: to the next build, and to another process of the same one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from shearpin.book.numbering import Deps, Name


@dataclass(slots=True)
class Past:
    """What an earlier build noted: names in the order of their numbers, a mark for each, reads of each answer.

    `values` are the answers that are kept whole, pickled.
    """

    names: list[Name] = field(default_factory=list)
    marks: list[bytes] = field(default_factory=list)
    reads: dict[int, Deps] = field(default_factory=dict)
    values: dict[int, bytes] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Noted:
    """What one process noted: names from number `start` on, reads, marks and values of answers by number, marks of inputs."""

    start: int
    names: Sequence[Name]
    reads: dict[int, Deps]
    results: dict[int, bytes]
    values: dict[int, bytes]
    marks: dict[int, bytes]
