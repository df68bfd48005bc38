"""What is not recorded of values, and not sourced, by machine: what rules on values and the pages on coverage begin with."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, fields
from typing import Final

from shearpin.book.changed import Changed
from shearpin.book.linked import LinkedBook
from shearpin.book.values import MissingValue
from shearpin.checks.rule import MACHINE_FACTS, Groundwork

ByValue = Mapping[str, tuple[str, ...]]
"""Machines, sorted, by the names of values; those with none are left out."""


@dataclass(frozen=True, slots=True)
class Holes:
    """Machines a value is for and that have none; those of them that should have it; those where nothing says whence it is."""

    missing: ByValue
    lacking: ByValue
    unsourced: ByValue


def _holes(linked: LinkedBook) -> Holes:
    return _as_holes({name: linked.values.machines_with(name) for name in linked.book.values}, linked)


def _as_holes(asked: Mapping[str, Collection[str]], linked: LinkedBook) -> Holes:
    """Return the holes among these values of these machines."""
    missing: dict[str, list[str]] = {}
    lacking: dict[str, list[str]] = {}
    unsourced: dict[str, list[str]] = {}
    for name, machines in asked.items():
        for machine_id in machines:
            found = linked.values.resolve(name, machine_id)
            if isinstance(found, MissingValue):
                missing.setdefault(name, []).append(machine_id)
                if found.applies:
                    lacking.setdefault(name, []).append(machine_id)
            elif found.entry.basis is None:
                unsourced.setdefault(name, []).append(machine_id)
    return Holes(
        *({name: tuple(found) for name, found in each.items()} for each in (missing, lacking, unsourced))
    )


def _holes_again(linked: LinkedBook, before: Holes, changed: Changed) -> Holes:
    """Return the holes now: only machines and values that were changed are asked about, where all conditions hold as before."""
    machines, engines, values = (changed.of_kind(kind) for kind in ("machine", "engine", "value"))
    if MACHINE_FACTS in changed.bones:
        return _holes(linked)
    if not machines and not engines and not values:
        return before
    if engines:
        machines |= {m for m, facts in linked.applicability.machines.items() if facts.engine in engines}
    asked: dict[str, Collection[str]] = {}
    for name in linked.book.values:
        here = linked.values.machines_with(name)
        asked[name] = here if name in values else machines.intersection(here)
    now = _as_holes(asked, linked)

    def joined(what: str) -> Iterator[tuple[str, tuple[str, ...]]]:
        former, latest = getattr(before, what), getattr(now, what)
        for name in linked.book.values:  # in the order of holes that are looked for afresh
            kept = former.get(name, ()) if name not in values else ()
            found = {each for each in kept if each not in machines}.union(latest.get(name, ()))
            if found:
                yield name, tuple(sorted(found))

    return Holes(*(dict(joined(field.name)) for field in fields(Holes)))


HOLES: Final = Groundwork("holes", _holes, _holes_again)
