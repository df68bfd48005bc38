"""Recorded values with those they follow from: a torque with its thread, a belt's length with its pulleys."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

from shearpin.book.book import Key
from shearpin.book.linked import LinkedBook
from shearpin.book.values import quantity_of
from shearpin.mechanics.guards import ImpossibleInputError
from shearpin.mechanics.strength import Strength, parse_grade, strength_at
from shearpin.mechanics.threads import Thread, parse_thread
from shearpin.model.fields import Plate
from shearpin.model.machines import Plated, Value
from shearpin.model.position import FieldPath
from shearpin.model.quantity import Quantity, QuantityKind

OF_RECORDED: Final = ("value", "machine", "engine")
"""Kinds of the records that say which values are recorded, and what they follow from."""

_K = QuantityKind


@dataclass(frozen=True, slots=True)
class Recorded:
    """One figure in the record of a machine or engine, read as what it measures."""

    holder: Key
    file: str
    name: str
    kind: Value
    quantity: Quantity

    @property
    def path(self) -> FieldPath:
        """Where the figure stands in its file."""
        return ("values", self.name, "is")


@dataclass(frozen=True, slots=True)
class Companion:
    """A value that another one follows from: the field that names it, and what it must measure."""

    path: FieldPath
    name: str
    measures: QuantityKind


# Field of a value kind: what the value itself measures, and what the values named in that field measure.
_FOLLOWS: Mapping[str, tuple[QuantityKind, Mapping[str, QuantityKind]]] = MappingProxyType(
    {
        "fastener": (_K.TORQUE, {"thread": _K.DESIGNATION, "grade": _K.DESIGNATION}),
        "shear_bolt": (_K.DESIGNATION, {"thread": _K.DESIGNATION, "shaft": _K.LENGTH}),
        "belt": (_K.LENGTH, {"drive": _K.LENGTH, "driven": _K.LENGTH, "center_distance": _K.LENGTH}),
        "behind_belt": (
            _K.ROTATIONAL_SPEED,
            {"speed": _K.ROTATIONAL_SPEED, "drive": _K.LENGTH, "driven": _K.LENGTH},
        ),
        "behind_gears": (_K.ROTATIONAL_SPEED, {"speed": _K.ROTATIONAL_SPEED, "ratio": _K.RATIO}),
        "cylinder": (_K.DISPLACEMENT, {"bore": _K.LENGTH, "stroke": _K.LENGTH}),
    }
)


def measures_by_fields(kind: Value) -> Iterator[tuple[FieldPath, QuantityKind]]:
    """Yield each field of a value kind that says what it follows from, with what the value must measure."""
    for field, (own, _) in _FOLLOWS.items():
        if getattr(kind, field) is not None:
            yield (field,), own
    if kind.tip_diameter is not None:
        yield ("tip_diameter",), _K.ROTATIONAL_SPEED
    if kind.fuel_ethanol:
        yield ("fuel_ethanol",), _K.CONCENTRATION


def companions(kind: Value) -> Iterator[Companion]:
    """Yield the values that a value follows from."""
    for field, (_, parts) in _FOLLOWS.items():
        given = getattr(kind, field)
        if given is not None:
            for part, measures in parts.items():
                name = getattr(given, part)
                if name is not None:
                    yield Companion((field, part), name, measures)
    if kind.tip_diameter is not None:
        yield Companion(("tip_diameter",), kind.tip_diameter, _K.LENGTH)


def recorded_values(linked: LinkedBook, names: Iterable[str]) -> Iterator[Recorded]:
    """Yield every figure of these names that a machine or engine has and that can be read.

    A value that does not measure what its own fields say is left out: that is another finding.
    """
    kinds = {name: linked.book.values[name] for name in names if name in linked.book.values}
    kinds = {
        name: kind
        for name, kind in kinds.items()
        if all(kind.quantity is measures for _, measures in measures_by_fields(kind))
    }
    if not kinds:
        return
    for holder_kind in ("machine", "engine"):
        for record_id, record in linked.book.of_kind(holder_kind).items():
            assert isinstance(record, Plated)
            holder = (holder_kind, record_id)
            file = linked.book.file_of[holder].path
            for name, entry in record.values.items():
                kind = kinds.get(name)
                quantity = quantity_of(kind, entry) if kind is not None else None
                if kind is not None and quantity is not None:
                    yield Recorded(holder, file, name, kind, quantity)


def companion_of(
    linked: LinkedBook, recorded: Recorded, name: str, measures: QuantityKind
) -> Recorded | None:
    """Return the value `name` of the same machine or engine, or of the machine's engine.

    None where the book, the machine or its engine has none, where it cannot be read, or measures another thing.
    """
    kind = linked.book.values.get(name)
    if kind is None or kind.quantity is not measures:
        return None
    holder = recorded.holder
    if kind.plate is Plate.ENGINE and holder[0] == "machine":
        holder = ("engine", linked.book.machines[holder[1]].engine or "")
    record = linked.book.get(*holder)
    if kind.plate.value != holder[0] or not isinstance(record, Plated) or name not in record.values:
        return None
    quantity = quantity_of(kind, record.values[name])
    if quantity is None:
        return None
    return Recorded(holder, linked.book.file_of[holder].path, name, kind, quantity)


@dataclass(frozen=True, slots=True)
class Joint:
    """The thread and the strength of a threaded joint, with where both are recorded."""

    thread: Thread
    strength: Strength
    recorded: tuple[Recorded, Recorded]


def joint_of(linked: LinkedBook, recorded: Recorded, thread_name: str, grade_name: str) -> Joint | None:
    """Return thread and strength of a joint; None where one is missing or unknown to the standards."""
    thread_value = companion_of(linked, recorded, thread_name, QuantityKind.DESIGNATION)
    grade_value = companion_of(linked, recorded, grade_name, QuantityKind.DESIGNATION)
    if thread_value is None or grade_value is None:
        return None
    try:
        thread = parse_thread(thread_value.quantity.text)
        strength = strength_at(parse_grade(grade_value.quantity.text), thread.diameter_mm)
    except ImpossibleInputError:
        return None
    return Joint(thread, strength, (thread_value, grade_value))
