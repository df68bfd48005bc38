"""The kinds of record: their names, folders and types."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

from shearpin.model.editions import Edition
from shearpin.model.fields import Record
from shearpin.model.knowledge import Cause, Caution, Figure, Source, Symptom, System, Term, Tool
from shearpin.model.machines import Engine, Machine, Part, Value
from shearpin.model.steps import Procedure, Test


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of record; `folder` names its folder under `kb/` and its pages' folder on the site."""

    name: str
    folder: str
    record: type[Record]
    plural: str


def _kind(record: type[Record], folder: str, plural: str | None = None) -> Kind:
    return Kind(str(record.__dict__["KIND"]), folder, record, plural or folder)


_ALL: Final = (
    _kind(Symptom, "symptoms"),
    _kind(Cause, "causes"),
    _kind(Test, "tests"),
    _kind(Procedure, "procedures"),
    _kind(Caution, "cautions"),
    _kind(Machine, "machines"),
    _kind(Engine, "engines"),
    _kind(System, "systems"),
    _kind(Value, "values"),
    _kind(Part, "parts"),
    _kind(Tool, "tools"),
    _kind(Term, "terms"),
    _kind(Source, "sources"),
    _kind(Figure, "figures"),
    _kind(Edition, "editions"),
)

KINDS: Final[Mapping[str, Kind]] = MappingProxyType({kind.name: kind for kind in _ALL})
"""Kinds by name, in the order in which lists show them."""

KIND_OF_FOLDER: Final[Mapping[str, Kind]] = MappingProxyType({kind.folder: kind for kind in _ALL})
