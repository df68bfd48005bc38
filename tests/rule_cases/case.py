"""Owns the shape of a boundary case of a rule."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

Files = Mapping[str, str | bytes | None]


@dataclass(frozen=True, slots=True)
class Case:
    """Files over the sound book, and everything that must be found in them: `path:line:column`, all of one code."""

    code: str
    name: str
    files: Files
    places: tuple[str, ...]

    def __str__(self) -> str:
        return f"{self.code} {self.name}"


def found(code: str, name: str, files: Files, *places: str) -> Case:
    """A case in which the rule finds something, at these places and nowhere else."""
    if not places:
        raise ValueError(f"{code} {name} must name a place; use `silent` where nothing is found")
    return Case(code, name, files, places)


def silent(code: str, name: str, files: Files) -> Case:
    """A case just short of the fault: neither this rule nor any other finds anything."""
    return Case(code, name, files, ())
