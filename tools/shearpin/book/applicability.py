"""Which records hold for which machine, and why not."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Final

from shearpin.book.book import Book
from shearpin.model.fields import AppliesTo
from shearpin.model.heading import Worn


@dataclass(frozen=True, slots=True)
class MachineFacts:
    """What decides applicability for one machine."""

    id: str
    class_: str
    engine: str | None
    features: frozenset[str]

    @property
    def plain(self) -> tuple[str, str, str | None, tuple[str, ...]]:
        """All of it, the same for the same facts: to compare them, or to make a digest."""
        return self.id, self.class_, self.engine, tuple(sorted(self.features))


class Applicability:
    """Answers for every machine of a book; each distinct condition is worked out once."""

    def __init__(self, book: Book) -> None:
        # Machines are the largest records: none is made for this.
        self.machines: Mapping[str, MachineFacts] = {
            machine_id: _facts(book, machine_id) for machine_id in book.of_kind("machine")
        }
        self.everywhere = frozenset(self.machines)
        titles = {machine_id: book.title("machine", machine_id) for machine_id in self.machines}
        self.in_order = tuple(sorted(titles, key=lambda machine_id: (titles[machine_id], machine_id)))
        """Machine ids in the order of their titles."""
        # By identity first: a frozen record hashes all its fields anew each time. The condition is kept with its
        # answer, so that its identity cannot pass to another.
        self._by_identity: dict[int, tuple[AppliesTo, frozenset[str]]] = {}
        self._known: dict[AppliesTo, frozenset[str]] = {}

    def machines_for(self, condition: AppliesTo | None) -> frozenset[str]:
        """Return the ids of the machines a condition holds for; no condition holds for all."""
        if condition is None:
            return self.everywhere
        same = self._by_identity.get(id(condition))
        if same is not None:
            return same[1]
        found = self._known.get(condition)
        if found is None:
            found = frozenset(m for m, facts in self.machines.items() if _hindrance(condition, facts) is None)
            self._known[condition] = found
        self._by_identity[id(condition)] = (condition, found)
        return found

    def occurs(self, conditions: Iterable[AppliesTo | None], machine_id: str | None) -> bool:
        """Tell whether all conditions hold on a machine; without one, whether any machine fulfils them together."""
        possible = self.everywhere
        for condition in conditions:
            if condition is not None:
                holding = self.machines_for(condition)
                possible = possible & holding if possible is not self.everywhere else holding
        return machine_id in possible if machine_id is not None else bool(possible)

    def reason_against(self, condition: AppliesTo | None, machine_id: str) -> str | None:
        """Return in words why a condition does not hold for a machine, or None when it does."""
        return None if condition is None else _hindrance(condition, self.machines[machine_id])

    def engine_of(self, machine_id: str) -> str | None:
        """Return the engine that a machine names."""
        return self.machines[machine_id].engine

    @cached_property
    def classes(self) -> frozenset[str]:
        """Every class a machine has."""
        return frozenset(facts.class_ for facts in self.machines.values())

    @cached_property
    def features(self) -> frozenset[str]:
        """Every feature fitted to some machine or engine."""
        nothing: frozenset[str] = frozenset()
        return nothing.union(*(facts.features for facts in self.machines.values()))


ENGINE_FITTED: Final = "engine"
"""The feature of every machine that names an engine; nobody has to write it."""


def _facts(book: Book, machine_id: str) -> MachineFacts:
    class_, engine, fitted = _worn(book, "machine", machine_id)
    features = frozenset(fitted)
    if engine is not None:
        features |= {ENGINE_FITTED, *_worn(book, "engine", engine)[2]}
    return MachineFacts(machine_id, class_, engine, features)


def _worn(book: Book, kind: str, record_id: str) -> Worn:
    heading = book.heading(kind, record_id)
    return heading.worn if heading is not None and heading.worn is not None else ("", None, ())


def _hindrance(condition: AppliesTo, facts: MachineFacts) -> str | None:
    if condition.machines and facts.id not in condition.machines:
        return "it is for other models"
    if condition.engines and facts.engine not in condition.engines:
        return "it is for other engines"
    if condition.classes and facts.class_ not in condition.classes:
        return f"it is for {_words(condition.classes)} machines; this one is {_words((facts.class_,))}"
    missing = [feature for feature in condition.fitted if feature not in facts.features]
    if missing:
        return f"it needs {_words(missing)}, which this machine does not have"
    if condition.any_fitted and not facts.features.intersection(condition.any_fitted):
        return f"it needs {_words(condition.any_fitted, 'or')}, which this machine does not have"
    present = [feature for feature in condition.not_fitted if feature in facts.features]
    if present:
        return f"it is for machines without {_words(present)}"
    return None


def _words(ids: tuple[str, ...] | list[str], joint: str = "and") -> str:
    words = [text.replace("-", " ") if text not in ("single-stage", "two-stage") else text for text in ids]
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} {joint} {words[-1]}"
