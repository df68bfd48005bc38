"""Required cautions: computed from the systems touched, the energy in them, the acts taken and the work called."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Final

from shearpin.book.applicability import Applicability
from shearpin.book.book import Book, Key
from shearpin.model.fields import AppliesTo, Record
from shearpin.model.inline import mentioned
from shearpin.model.knowledge import Caution, SignalWord, Symptom, System, Tool
from shearpin.model.steps import Step, Work

GRAVITY: Final = {word: rank for rank, word in enumerate(SignalWord)}
WITH_CAUTIONS: Final = ("procedure", "test", "symptom")
"""Kinds whose pages show cautions, in the order of lists of them."""
_BY_CALL: Final = "it calls the"


@dataclass(frozen=True, slots=True, repr=False)
class RequiredCaution:
    """A caution that a page must show, and why: one reason a line."""

    id: str
    signal_word: SignalWord
    reasons: tuple[str, ...]

    def __repr__(self) -> str:
        # The mark of what a record requires is made of this: it is no more than it must be.
        return f"RequiredCaution({self.id!r}, {self.signal_word.value!r}, {self.reasons!r})"

    def __reduce__(self) -> tuple[type[RequiredCaution], tuple[object, ...]]:
        # Thousands are kept: quicker than by its fields.
        return RequiredCaution, (self.id, self.signal_word, self.reasons)

    @property
    def own(self) -> bool:
        """Whether the record's own work brings it, and not only work that it calls."""
        return not all(map(called, self.reasons))


class Safety:
    """Required cautions of every record of a book. A writer can add to them, never drop one."""

    def __init__(self, book: Book, applicability: Applicability) -> None:
        self._book = book
        self._applicability = applicability
        self._known: dict[Key, tuple[RequiredCaution, ...]] = {}
        self._calls: dict[Key, tuple[tuple[str, ...], tuple[Key, ...]]] = {}
        self._said: dict[str, str] = {}
        self._covering: dict[str, Mapping[str, tuple[str, ...]]] = {}
        self._pages_with: Mapping[str, tuple[Key, ...]] | None = None
        self._tests_of_cause: Mapping[str, tuple[str, ...]] | None = None

    @property
    def by_action(self) -> Mapping[str, tuple[str, ...]]:
        """Cautions by the action that brings them."""
        return self.covering("actions")

    @property
    def by_energy(self) -> Mapping[str, tuple[str, ...]]:
        """Cautions by the energy that brings them."""
        return self.covering("energies")

    def covering(self, what: str) -> Mapping[str, tuple[str, ...]]:
        """Return cautions by what brings them: `actions` or `energies`."""
        if what not in self._covering:
            self._covering[what] = self._find_covering(what)
        return self._covering[what]

    def covered_by(self, what: str, source: str) -> tuple[str, ...]:
        """Return the cautions that one of the `actions` or `energies` brings: few pages hang on those of another."""
        return self.covering(what).get(source, ())

    def _find_covering(self, what: str) -> dict[str, tuple[str, ...]]:
        found: dict[str, list[str]] = defaultdict(list)
        for caution_id, caution in self._book.cautions.items():
            for source in getattr(caution.covers, what):
                found[source].append(caution_id)
        return {source: tuple(ids) for source, ids in found.items()}

    def required(self, kind: str, record_id: str) -> tuple[RequiredCaution, ...]:
        """Return the cautions a procedure, test or symptom requires.

        The gravest come first; among equals those that its own work brings, before those of the work it calls.
        """
        key = (kind, record_id)
        if key not in self._known:
            self._known[key] = self._work_out(key)
        return self._known[key]

    def keep(self, kind: str, record_id: str, found: tuple[RequiredCaution, ...]) -> None:
        """Keep what was worked out of the same records elsewhere."""
        self._known[kind, record_id] = found

    def required_ids(self, kind: str, record_id: str) -> tuple[str, ...]:
        """Return the ids of the same cautions."""
        return tuple([item.id for item in self.required(kind, record_id)])

    def pages_with(self) -> Mapping[str, tuple[Key, ...]]:
        """Return procedures, tests and symptoms by the caution they require."""
        if self._pages_with is None:
            self._pages_with = self._find_pages()
        return self._pages_with

    def _find_pages(self) -> dict[str, tuple[Key, ...]]:
        found: dict[str, list[Key]] = defaultdict(list)
        for kind in WITH_CAUTIONS:
            for record_id in self._book.of_kind(kind):
                for caution in self.required_ids(kind, record_id):
                    found[caution].append((kind, record_id))
        return {caution: tuple(keys) for caution, keys in found.items()}

    def of_step(self, step: Step) -> tuple[str, ...]:
        """Return the cautions of one step: those the writer put there, and those its actions bring."""
        if not (step.caution or step.action):
            return ()  # as for most steps
        ids = list(step.caution)
        for action in step.action:
            ids += self.covered_by("actions", action)
        known = [caution for caution in dict.fromkeys(ids) if caution in self._book.cautions]
        return tuple(
            sorted(known, key=lambda c: (GRAVITY[self._book.cautions[c].signal_word], known.index(c)))
        )

    def _work_out(self, key: Key) -> tuple[RequiredCaution, ...]:
        record = self._book.get(*key)
        if record is None:
            return ()
        reasons: dict[str, dict[str, None]] = {}  # each reason once, in order
        for caution_id, reason in self._reasons(key, record):
            said = self._said.setdefault(reason, reason)  # one text for all that have this reason
            reasons.setdefault(caution_id, {})[said] = None
        here = self._applicability.machines_for(condition_of(record))
        found = []
        for caution_id, why in reasons.items():
            caution = self._in_short("caution", caution_id)
            if caution is not None:
                signal_word, condition = caution
                # A caution about something no machine of this page has would only blunt the others.
                if not here or here & self._applicability.machines_for(condition):
                    found.append(RequiredCaution(caution_id, signal_word, tuple(why)))
        return tuple(sorted(found, key=_urgency))

    def _in_short(self, kind: str, record_id: str) -> tuple[Any, ...] | None:
        """Return what of a caution, a system or a tool decides which cautions a page must show, and the titles in reasons.

        Of a caution the signal word and its condition; of a system the title, hazards and energies; of a tool the title and its
        cautions. Most edits of one are of its words, and leave that as it is.
        """
        record = self._book.get(kind, record_id)
        if isinstance(record, Caution):
            return record.signal_word, record.applies_to
        if isinstance(record, System):
            return record.title, record.hazards, record.energies
        return (record.title, record.cautions) if isinstance(record, Tool) else None

    def _reasons(self, key: Key, record: Record) -> Iterator[tuple[str, str]]:
        """Yield (caution, reason) for a record and the work it calls."""
        yield from self._own(record)
        for called in self._called(key, record):
            inner = self._book.get(*called)
            if inner is not None and called != key:
                for caution in self._within(called, key):
                    yield caution, f"{_BY_CALL} {called[0]} “{inner.title}”"

    def _own(self, record: Record) -> Iterator[tuple[str, str]]:
        if isinstance(record, (Work, Symptom)):
            for caution in record.cautions:
                yield caution, "the writer put it on this page"
            yield from self._of_systems(record.systems)
        if isinstance(record, Work):
            yield from self._of_work(record)

    def _within(self, start: Key, caller: Key) -> tuple[str, ...]:
        """Return the cautions of a record and of all it calls, directly or not; each is visited once."""
        seen = {caller, start}
        waiting = [start]
        found: dict[str, None] = {}
        while waiting:
            cautions, calls = self._of_called(*waiting.pop())
            found.update(dict.fromkeys(cautions))
            called = [inner for inner in calls if inner not in seen]
            seen.update(called)
            waiting += called
        return tuple(found)

    def _of_called(self, kind: str, record_id: str) -> tuple[tuple[str, ...], tuple[Key, ...]]:
        """Return the cautions that a record's own work brings, and what it calls: many pages call the same."""
        key = (kind, record_id)
        if key not in self._calls:
            record = self._book.get(*key)
            cautions = (
                dict.fromkeys(caution for caution, _ in self._own(record)) if record is not None else {}
            )
            calls = self._called(key, record) if record is not None else ()
            self._calls[key] = tuple(cautions), tuple(calls)
        return self._calls[key]

    def _of_systems(self, systems: tuple[str, ...]) -> Iterator[tuple[str, str]]:
        for system_id in systems:
            system = self._in_short("system", system_id)
            if system is None:
                continue
            title, hazards, energies = system
            for caution in hazards:
                yield caution, f"it touches the system “{title}”"
            for energy in energies:
                for caution in self.covered_by("energies", energy):
                    yield caution, f"the system “{title}” holds: {energy.replace('-', ' ')}"

    def _of_work(self, work: Work) -> Iterator[tuple[str, str]]:
        for step in _steps(work):
            for caution in step.caution:
                yield caution, "a step of this page needs it"
            for action in step.action:
                for caution in self.covered_by("actions", action):
                    yield caution, f"a step takes the action: {action.replace('-', ' ')}"
        for tool_id in work.tools:
            title, cautions = self._in_short("tool", tool_id) or ("", ())
            for caution in cautions:
                yield caution, f"it uses the tool “{title}”"

    def _called(self, key: Key, record: Record) -> Iterator[Key]:
        if isinstance(record, (Work, Symptom)):
            for procedure in record.before:
                yield "procedure", procedure
        if isinstance(record, Work):
            for step in _steps(record):
                for found in mentioned(step.do) if "{" in step.do else ():
                    if found[0] in ("procedure", "test"):
                        yield found
        if isinstance(record, Symptom):
            for test in self.tests_for(key[1]):
                yield "test", test

    def tests_for(self, symptom_id: str) -> tuple[str, ...]:
        """Return the tests that say something about a cause of the symptom, sorted."""
        symptom = self._book.symptoms.get(symptom_id)
        causes = [suspect.cause for suspect in symptom.causes] if symptom is not None else []
        tests = self.tests_of_cause()
        return tuple(sorted({test for cause in causes for test in tests.get(cause, ())}))

    def tests_of_cause(self) -> Mapping[str, tuple[str, ...]]:
        """Return tests by the causes that their results say something about."""
        if self._tests_of_cause is None:
            found: dict[str, list[str]] = defaultdict(list)
            for test_id, test in self._book.tests.items():
                for cause in {cause for result in test.results for cause in result.given}:
                    found[cause].append(test_id)
            self._tests_of_cause = {cause: tuple(tests) for cause, tests in sorted(found.items())}
        return self._tests_of_cause


def called(reason: str) -> bool:
    """Whether a caution is required for this reason by work that is called, not by the record itself."""
    return reason.startswith(_BY_CALL)


def _urgency(item: RequiredCaution) -> tuple[int, int, str]:
    own = sum(not called(reason) for reason in item.reasons)
    return GRAVITY[item.signal_word], -own, item.id


def _steps(work: Work) -> tuple[Step, ...]:
    steps: tuple[Step, ...] = getattr(work, "steps", ())
    return steps + tuple(getattr(work, "finish", ()))


def condition_of(record: Record | None) -> AppliesTo | None:
    """Return the condition under which a record holds."""
    condition = getattr(record, "applies_to", None)
    return condition if isinstance(condition, AppliesTo) else None
