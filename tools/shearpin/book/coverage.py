"""What a book still lacks: per machine, symptom and procedure, and by value and review."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Collection, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Final

from shearpin.book.book import Key
from shearpin.book.holes import HOLES
from shearpin.book.linked import LinkedBook
from shearpin.book.review import ReviewState, Standing
from shearpin.model.fields import AppliesTo
from shearpin.model.steps import Procedure

NEEDED_BY_OTHERS: Final = (
    "cause",
    "test",
    "procedure",
    "caution",
    "value",
    "part",
    "tool",
    "source",
    "figure",
)
"""Kinds of which a record that nothing refers to is an orphan: no page leads to it."""


@dataclass(frozen=True, slots=True)
class Cell:
    """How far a symptom or a procedure serves one machine: causes that no procedure cures, values that are not there."""

    uncured: tuple[str, ...] = ()
    untested: tuple[str, ...] = ()
    missing: tuple[str, ...] = ()

    @property
    def ready(self) -> bool:
        """Whether a technician finds everything."""
        return not (self.uncured or self.untested or self.missing)


READY: Final = Cell()
"""The cell of what is ready, one for all: a large book has a hundred thousand."""


@dataclass(frozen=True)
class Coverage:
    """The holes of one book, each list worked out when first asked for."""

    linked: LinkedBook
    pages_with: Callable[[], Mapping[str, tuple[Key, ...]]]
    """What tells of the pages with each caution, asked where a caution may be an orphan."""
    standing: Callable[[str, str], Standing]
    """What tells how far the review of a record holds."""

    @cached_property
    def procedures(self) -> dict[tuple[str, str], Cell]:
        """Cells by procedure and machine it is for: the values it shows that are not recorded for the machine."""
        return self._all_cells("procedure")

    @cached_property
    def symptoms(self) -> dict[tuple[str, str], Cell]:
        """Cells by symptom and machine it occurs on: its causes there, their tests, cures, and the cures' values."""
        return self._all_cells("symptom")

    def _all_cells(self, kind: str) -> dict[tuple[str, str], Cell]:
        wanting = self.wanting(kind)
        return {
            (record_id, machine): wanting.get((record_id, machine), READY)
            for record_id, here in self.holds(kind).items()
            for machine in sorted(here)
        }

    def wanting(self, kind: str) -> Mapping[tuple[str, str], Cell]:
        """Return those of the cells of procedures, or of symptoms, that are not ready: few of very many."""
        return self._wanting_procedures if kind == "procedure" else self._wanting_symptoms

    @cached_property
    def _wanting_procedures(self) -> dict[tuple[str, str], Cell]:
        cells = {}
        for procedure_id, lacking in self.lacking.items():
            for machine in sorted(frozenset[str]().union(*(machines for _, machines in lacking))):
                names = dict.fromkeys(name for name, machines in lacking if machine in machines)
                cells[procedure_id, machine] = Cell(missing=tuple(names))
        return cells

    def holds(self, kind: str) -> dict[str, frozenset[str]]:
        """Return for each record of a kind the machines it is for."""
        book, machines_for = self.linked.book, self.linked.applicability.machines_for
        headings = ((record_id, book.heading(kind, record_id)) for record_id in book.of_kind(kind))
        return {record_id: machines_for(h.applies_to) for record_id, h in headings if h is not None}

    @cached_property
    def lacking(self) -> dict[str, list[tuple[str, frozenset[str]]]]:
        """Values that procedures show, with the machines whose steps show them though they are not recorded; the others lack nothing."""
        found: dict[str, list[tuple[str, frozenset[str]]]] = {}
        without = self._without
        for procedure_id, here in self._procedures_hold.items() if without else ():
            pointers = self.linked.pointers.get(("procedure", procedure_id), ())
            shown = (name for kinds, names in pointers if kinds == ("value",) for name in names)
            lacking = {name for name in shown if name in without and not here.isdisjoint(without[name])}
            # Most procedures lack nothing: only of the others it is asked which steps show what.
            if lacking:
                procedure = self.linked.book.procedures[procedure_id]
                found[procedure_id] = list(self._lacking_in(procedure_id, procedure, lacking))
        return found

    def _lacking_in(
        self, procedure_id: str, procedure: Procedure, names: Collection[str]
    ) -> Iterator[tuple[str, frozenset[str]]]:
        """Yield each place of a procedure that shows one of these values, with the machines there that lack it."""
        machines_for = self.linked.applicability.machines_for
        for use in self.linked.links.of(("procedure", procedure_id)):
            if use.kinds == ("value",) and use.id in names:
                here = machines_for(procedure.applies_to) & self._without[use.id]
                if use.path[0] in ("steps", "finish") and isinstance(use.path[1], int):
                    step = (procedure.steps if use.path[0] == "steps" else procedure.finish)[use.path[1]]
                    here &= machines_for(step.applies_to)
                if here:
                    yield use.id, here

    @cached_property
    def _without(self) -> dict[str, frozenset[str]]:
        """The machines for which a value should be recorded and is not, by the value."""
        return {name: frozenset(machines) for name, machines in self.linked.laid(HOLES).lacking.items()}

    @cached_property
    def _wanting_symptoms(self) -> dict[tuple[str, str], Cell]:
        cells = {}
        for symptom_id, there in self.holds("symptom").items():
            causes_of = self.linked.book.gist("symptom", symptom_id).causes
            suspects = [(cause, self._possible_on(cause, condition)) for cause, condition in causes_of]
            lacking = frozenset[str]().union(*(here - self._served(cause) for cause, here in suspects))
            for machine in sorted(there & lacking):
                cell = self._of_causes([cause for cause, here in suspects if machine in here], machine)
                if not cell.ready:
                    cells[symptom_id, machine] = cell
        return cells

    def _served(self, cause: str) -> frozenset[str]:
        """Return the machines for which a cause has a test, and a cure all values of which are recorded."""
        known = self._known_served.get(cause)
        if known is None:
            cured = frozenset[str]().union(*(self._ready_on(procedure) for procedure in self._cures[cause]))
            known = self._known_served[cause] = cured & self._testable[cause]
        return known

    @cached_property
    def _known_served(self) -> dict[str, frozenset[str]]:
        return {}

    def _ready_on(self, procedure_id: str) -> frozenset[str]:
        heading = self.linked.book.heading("procedure", procedure_id)
        here = self.linked.applicability.machines_for(heading.applies_to if heading is not None else None)
        return here.difference(*(machines for _, machines in self.lacking.get(procedure_id, ())))

    def _possible_on(self, cause_id: str, condition: AppliesTo | None) -> frozenset[str]:
        """Return the machines on which a suspect can be the cause."""
        cause = self.linked.book.heading("cause", cause_id)
        machines_for = self.linked.applicability.machines_for
        return machines_for(condition) & machines_for(cause.applies_to if cause is not None else None)

    def _of_causes(self, causes: list[str], machine: str) -> Cell:
        uncured, missing = [], {}
        for cause in causes:
            cure = self._best_cure(cause, machine)
            if cure is None:
                uncured.append(cause)
            elif cure.missing:
                missing.update(dict.fromkeys(cure.missing))
        untested = [cause for cause in causes if machine not in self._testable[cause]]
        if not (uncured or untested or missing):
            return READY
        return Cell(tuple(uncured), tuple(untested), tuple(missing))

    def _best_cure(self, cause: str, machine: str) -> Cell | None:
        """Return the cell of a cure that is ready for a machine, else that of its first cure there; None without one."""
        key = (cause, machine)
        if key not in self._best_cures:
            cells = [
                self._wanting_procedures.get((cure, machine), READY)
                for cure in self._cures[cause]
                if machine in self._procedures_hold[cure]
            ]
            ready = (cell for cell in cells if cell.ready)
            self._best_cures[key] = next(ready, cells[0] if cells else None)
        return self._best_cures[key]

    @cached_property
    def _procedures_hold(self) -> Mapping[str, frozenset[str]]:
        return self.holds("procedure")

    @cached_property
    def _best_cures(self) -> dict[tuple[str, str], Cell | None]:
        return {}

    @cached_property
    def _cures(self) -> dict[str, list[str]]:
        found: dict[str, list[str]] = defaultdict(list)
        for procedure_id in self.linked.book.of_kind("procedure"):
            for cause, _ in self.linked.book.gist("procedure", procedure_id).causes:
                found[cause].append(procedure_id)
        return found

    @cached_property
    def _testable(self) -> dict[str, set[str]]:
        found: dict[str, set[str]] = defaultdict(set)
        for test_id, here in self.holds("test").items():
            for cause, _ in self.linked.book.gist("test", test_id).causes:
                found[cause] |= here
        return found

    @cached_property
    def values(self) -> tuple[list[tuple[str, str]], list[tuple[str, str]]]:
        """Value and machine: those not recorded, and those recorded without a source."""
        holes = self.linked.laid(HOLES)
        missing, unsourced = (
            [(name, machine) for name in self.linked.book.values for machine in found.get(name, ())]
            for found in (holes.missing, holes.unsourced)
        )
        return missing, unsourced

    @cached_property
    def reviews(self) -> dict[ReviewState, list[Key]]:
        """Records by their state of review."""
        found: dict[ReviewState, list[Key]] = {state: [] for state in ReviewState}
        for key in self.linked.book.all_keys():
            found[self.standing(*key).state].append(key)
        return found

    @cached_property
    def unsourced(self) -> list[Key]:
        """Records that name no source, of the kinds that state facts."""
        return [
            key
            for key in self.linked.book.all_keys()
            if not self.linked.book.gist(*key).sourced
            and key[0] not in ("source", "edition", "tool", "figure", "part")
        ]

    @cached_property
    def orphans(self) -> list[Key]:
        """Records that no page leads to."""
        return [
            key
            for key in self.linked.book.all_keys()
            if key[0] in NEEDED_BY_OTHERS
            and not self.linked.links.to.get(key)
            and not self._comes_by_itself(key)
        ]

    def _comes_by_itself(self, key: Key) -> bool:
        """Whether a page shows a record that it need not name: a test of its causes, a caution of its acts, a cure."""
        kind, record_id = key
        if kind == "caution":
            return record_id in self.pages_with()
        causes = self.linked.book.gist(kind, record_id).causes
        if kind == "test":
            return any(cause in self._suspected for cause, _ in causes)
        return kind == "procedure" and bool(causes)

    @cached_property
    def _suspected(self) -> set[str]:
        return self.linked.book.causes_of("symptom")
