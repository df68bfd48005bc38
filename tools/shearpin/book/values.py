"""Values: the one figure that holds for a machine, through its engine where the engine's plate decides."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from shearpin.book.applicability import Applicability
from shearpin.book.book import Book, Key
from shearpin.model.fields import Plate
from shearpin.model.machines import Engine, Machine, Value, ValueEntry
from shearpin.model.quantity import Quantity, QuantityError, QuantityKind, parse_quantity


@dataclass(frozen=True, slots=True, repr=False)
class ResolvedValue:
    """A value as it holds for one machine: where it is recorded, as what, and the quantity it is."""

    name: str
    machine: str
    holder: Key
    entry: ValueEntry
    quantity: Quantity

    def __repr__(self) -> str:
        # The mark of a value is made of this, for every value of every machine: all that tells two apart, and no more.
        told = (*self.holder, self.quantity.kind.value, *self.entry.__dict__.values())
        return f"ResolvedValue({self.name!r}, {self.machine!r}, {told!r})"


@dataclass(frozen=True, slots=True)
class MissingValue:
    """No value, and why in words; never another model's figure in its place."""

    name: str
    machine: str
    reason: str
    applies: bool  # whether this machine should have one


class Values:
    """Resolves values for every machine of a book."""

    def __init__(self, book: Book, applicability: Applicability) -> None:
        self._book = book
        self._applicability = applicability
        self._known: dict[tuple[str, str], ResolvedValue | MissingValue] = {}

    def resolve(self, name: str, machine_id: str) -> ResolvedValue | MissingValue:
        """Return the value `name` for a machine; raises `KeyError` for a machine the book does not have."""
        key = (name, machine_id)
        if key not in self._known:
            self._known[key] = self._work_out(name, machine_id, self._book.machines[machine_id])
        return self._known[key]

    def _work_out(self, name: str, machine_id: str, machine: Machine) -> ResolvedValue | MissingValue:
        kind = self._book.values.get(name)
        if kind is None:
            return MissingValue(name, machine_id, f"the book has no value called {name}", False)
        against = self._applicability.reason_against(kind.applies_to, machine_id)
        if against is not None:
            return MissingValue(name, machine_id, f"{machine.title} has no such value: {against}", False)
        holder, owner = self._holder(kind, machine_id, machine)
        if owner is None and machine.engine is not None:
            return MissingValue(
                name, machine_id, f"the record of the engine of {machine.title} cannot be read", True
            )
        if owner is None:
            return MissingValue(name, machine_id, f"{machine.title} has no engine", False)
        entry = owner.values.get(name)
        if entry is None:
            return MissingValue(name, machine_id, f"not recorded for {owner.title}", True)
        quantity = quantity_of(kind, entry)
        if quantity is None:
            return MissingValue(name, machine_id, f"what is recorded for {owner.title} cannot be read", True)
        return ResolvedValue(name, machine_id, holder, entry, quantity)

    def _holder(self, kind: Value, machine_id: str, machine: Machine) -> tuple[Key, Machine | Engine | None]:
        if kind.plate is Plate.MACHINE:
            return ("machine", machine_id), machine
        return ("engine", machine.engine or ""), self._book.engines.get(machine.engine or "")

    def machines_with(self, name: str) -> tuple[str, ...]:
        """Return the machines that should have this value, sorted."""
        kind = self._book.values.get(name)
        return tuple(sorted(self._applicability.machines_for(kind.applies_to))) if kind is not None else ()


def quantity_of(kind: Value, entry: ValueEntry) -> Quantity | None:
    """Return the entry's quantity, or None where it cannot be read as what the value measures."""
    return _read(entry.is_, kind.quantity)


@lru_cache(maxsize=8192)  # many plates have the same figure
def _read(text: str, kind: QuantityKind) -> Quantity | None:
    try:
        return parse_quantity(text, kind)
    except QuantityError:
        return None
