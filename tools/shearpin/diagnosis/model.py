"""What a diagnosis is computed from: chances of causes, likelihoods of results, minutes, shared access.

The numbers are complete: whoever has a `DiagnosisModel` can compute every chance and every plan of `plan.py` anew.
`as_numbers` gives them as JSON, for `shearpin diagnose --json --model` and for the pages.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import asdict, dataclass, field
from typing import Final

from shearpin.book.linked import LinkedBook
from shearpin.diagnosis.likelihood import classes_of, likelihood_rows, trial_row
from shearpin.diagnosis.priors import counted_priors, written_priors
from shearpin.model.knowledge import Symptom
from shearpin.model.steps import Need, Procedure, Test, Work

RUN_ACTIONS: Final = "run-"
"""How actions begin that run the machine: run-engine, run-auger, run-pump."""
LIVE_ACTIONS: Final = (RUN_ACTIONS, "connect-")
"""How actions begin that put energy into the machine: those, and connect-mains, connect-battery."""
LIVE_NEEDS: Final = frozenset({Need.MAINS, Need.BATTERY})
ENGINE_COLD: Final = "engine-cold"
"""The state of a machine that has stood; a test that runs the engine ends it, waiting brings it back."""
COOLING_MINUTES: Final = 30.0
"""What waiting for a cold engine costs. Common practice, no source; the tests' own records say how long to wait."""
CURED: Final = "cured"
NOT_CURED: Final = "not-cured"


@dataclass(frozen=True, slots=True)
class TestModel:
    """One test as the computation sees it.

    `likelihood[cause][i]` is the chance of `results[i]` when `cause` is the fault; each row sums to one. `minutes` is
    without `access`: the preparations and states it needs, whose minutes are shared with other tests. A `live` test
    puts energy into the machine; where it `runs` the machine, everything is closed for it, and the machine must be made
    safe again. An `as_found` test needs the machine untouched. A `trial` is a repair done to see
    whether it helps: its id is the procedure's, its results are `cured` and `not-cured`.
    """

    __test__ = False
    id: str
    minutes: float
    access: tuple[str, ...]
    live: bool
    results: tuple[str, ...]
    likelihood: Mapping[str, tuple[float, ...]]
    runs: bool = False
    as_found: bool = False
    trial: bool = False
    needs: tuple[str, ...] = ()

    @property
    def classes(self) -> tuple[int, ...]:
        """The class of each result; results of one class change every chance alike."""
        return classes_of(self.likelihood)


@dataclass(frozen=True, slots=True)
class Remedy:
    """A procedure that cures a cause on this machine, with its own minutes and those of what is done before it."""

    procedure: str
    minutes: float
    before: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Terms:
    """What a plan is judged by. Ours, no source.

    `proven_at` is the chance from which a cause that was shown counts as proven. `unproven_minutes` is what it costs
    to be left without a proof: the maker's manual, a colleague, parts changed on suspicion. `live_minutes` is added
    to a live test when plans are compared, so that a quiet one of like value goes first; no minutes told include it.
    `speaks_for` is how many times likelier than under something else, and than under the other causes together, a result
    must be to speak for a cause.
    `exact_size` is the product over tests up to which a plan is worked out exactly (see `state.py`); beyond it the
    look-ahead tries `candidates` tests, and follows branches down to `smallest_branch` of the cases.
    """

    proven_at: float = 0.8
    unproven_minutes: float = 120.0
    live_minutes: float = 1.0
    speaks_for: float = 2.0
    exact_size: int = 3000
    candidates: int = 4
    smallest_branch: float = 0.02


@dataclass(frozen=True, slots=True)
class DiagnosisModel:
    """Single-fault model of one symptom on one machine, or on all it occurs on when `machine` is None.

    `priors` sum to one and include `SOMETHING_ELSE`. `access_minutes` are the minutes of shared preparations and
    states. `start` are the preparations done before any test but those that need the machine as found. `opened` are
    states in force at the beginning.
    """

    symptom: str
    machine: str | None
    priors: Mapping[str, float]
    tests: tuple[TestModel, ...]
    access_minutes: Mapping[str, float]
    start: tuple[str, ...] = ()
    opened: tuple[str, ...] = ()
    remedies: Mapping[str, tuple[Remedy, ...]] = field(default_factory=dict)
    terms: Terms = Terms()


def as_numbers(model: DiagnosisModel) -> dict[str, object]:
    """Return the whole model as JSON-ready data; `classes` beside each test's results spares others finding them."""
    return {
        "priors": dict(model.priors),
        "tests": json.loads(json.dumps([{**asdict(test), "classes": test.classes} for test in model.tests])),
        "access_minutes": dict(model.access_minutes),
        "start": list(model.start),
        "opened": list(model.opened),
        "remedies": {
            cause: [asdict(remedy) for remedy in remedies] for cause, remedies in model.remedies.items()
        },
        "terms": asdict(model.terms),
    }


def build_model(
    linked: LinkedBook,
    symptom_id: str,
    machine_id: str | None = None,
    counts: Mapping[str, int] | None = None,
    terms: Terms | None = None,
) -> DiagnosisModel:
    """Return the model of a symptom for a machine; raises `KeyError` for an unknown symptom or machine.

    `counts` are proven causes of earlier cases of this symptom, from the repair log; they sharpen the priors.
    """
    symptom = linked.book.symptoms[symptom_id]
    if machine_id is not None and machine_id not in linked.applicability.everywhere:
        raise KeyError(machine_id)
    priors = written_priors(linked, symptom, machine_id)
    if counts:
        priors = counted_priors(priors, counts)
    reader = _Reader(linked, symptom, machine_id, tuple(priors))
    tests = [reader.test(test_id) for test_id in linked.safety.tests_for(symptom_id)]
    remedies = reader.remedies()
    cures = sorted({remedy.procedure for found in remedies.values() for remedy in found})
    trials = [reader.trial(procedure) for procedure in cures]
    known = tuple(test for test in (*tests, *trials) if test is not None)
    start = reader.prepared(symptom)
    minutes = reader.access_minutes(known, start)
    opened = (ENGINE_COLD,) if ENGINE_COLD in minutes else ()
    return DiagnosisModel(
        symptom_id, machine_id, priors, known, minutes, start, opened, remedies, terms or Terms()
    )


def alike(linked: LinkedBook, symptom_id: str, machines: Iterable[str]) -> tuple[tuple[str, ...], ...]:
    """Return machines in groups for which the model of a symptom is the same, in their order.

    What can differ is which causes, tests, remedies and preparations occur; so few models serve many machines.
    """
    symptom = linked.book.symptoms[symptom_id]
    causes = [s.cause for s in symptom.causes if s.cause in linked.book.causes]
    conditions = [symptom.applies_to, *(suspect.applies_to for suspect in symptom.causes)]
    conditions += [linked.book.causes[cause].applies_to for cause in causes]
    work: list[Work] = [linked.book.tests[test_id] for test_id in linked.safety.tests_for(symptom_id)]
    work += [linked.book.procedures[p] for p in _curing(linked, causes)]
    conditions += [record.applies_to for record in work]
    before = [linked.book.preparations(symptom), *(linked.book.preparations(record) for record in work)]
    for preparations in before:
        for procedure_id in preparations:
            procedure = linked.book.procedures.get(procedure_id)
            conditions.append(procedure.applies_to if procedure is not None else None)
    sets = {linked.applicability.machines_for(condition) for condition in conditions if condition is not None}
    groups: dict[frozenset[frozenset[str]], list[str]] = {}
    for machine_id in machines:
        groups.setdefault(frozenset(s for s in sets if machine_id in s), []).append(machine_id)
    return tuple(tuple(group) for group in groups.values())


def _curing(linked: LinkedBook, causes: Iterable[str]) -> list[str]:
    procedures = linked.book.procedures
    found = {
        key[1]
        for cause in causes
        for key in linked.links.origins(("cause", cause), "procedure")
        if key[1] in procedures and cause in procedures[key[1]].remedies
    }
    return sorted(found)


@dataclass(frozen=True, slots=True)
class _Reader:
    """Reads the numbers of tests and remedies from the records, for one symptom on one machine."""

    linked: LinkedBook
    symptom: Symptom
    machine: str | None
    causes: tuple[str, ...]
    _prepared: dict[tuple[str, ...], tuple[str, ...]] = field(default_factory=dict)

    def prepared(self, record: Work | Symptom) -> tuple[str, ...]:
        """Return what is known and done before a record on this machine, worked out once where others begin alike."""
        if record.before not in self._prepared:
            known, occurs = self.linked.book.procedures, self.linked.applicability.occurs
            before = [p for p in self.linked.book.preparations(record) if p in known]
            self._prepared[record.before] = tuple(
                p for p in before if occurs((known[p].applies_to,), self.machine)
            )
        return self._prepared[record.before]

    def test(self, test_id: str) -> TestModel | None:
        """Return the numbers of a test, or None when it is not for this machine or tells nothing here."""
        test = self.linked.book.tests[test_id]
        if not self._occurs(test):
            return None
        rows = likelihood_rows(test, self.causes)
        if len(set(classes_of(rows))) < 2:
            return None
        shared = _minutes_of(test.access)
        cold = (ENGINE_COLD,) if Need.COLD_ENGINE in test.needs else ()
        runs = Need.RUNNING_ENGINE in test.needs or takes(test, RUN_ACTIONS)
        return TestModel(
            test_id,
            max(0.0, _minutes(test.time.si) - sum(shared.values())),
            (*self.prepared(test), *shared, *cold),
            runs or bool(LIVE_NEEDS.intersection(test.needs)) or takes(test, LIVE_ACTIONS),
            tuple(result.id for result in test.results),
            rows,
            runs=runs,
            as_found=Need.AS_FOUND in test.needs,
            needs=tuple(test.needs),
        )

    def trial(self, procedure_id: str) -> TestModel | None:
        """Return a repair as a test, or None when its record does not allow it as a trial.

        A machine that is out of use is not run on a suspicion.
        """
        procedure = self.linked.book.procedures[procedure_id]
        if not procedure.trial or self.symptom.take_out_of_use or procedure_id in self.linked.book.tests:
            return None
        return TestModel(
            procedure_id,
            _minutes(procedure.time.si),
            self.prepared(procedure),
            takes(procedure, LIVE_ACTIONS),
            (CURED, NOT_CURED),
            {cause: trial_row(cause in procedure.remedies) for cause in self.causes},
            runs=takes(procedure, RUN_ACTIONS),
            trial=True,
        )

    def remedies(self) -> dict[str, tuple[Remedy, ...]]:
        """Return the procedures that cure each cause on this machine, the quickest first."""
        found: dict[str, tuple[Remedy, ...]] = {}
        for cause in self.causes:
            cures = [
                Remedy(p, _minutes(record.time.si), self.prepared(record))
                for p in _curing(self.linked, (cause,))
                if self._occurs(record := self.linked.book.procedures[p])
            ]
            found[cause] = tuple(sorted(cures, key=lambda remedy: (remedy.minutes, remedy.procedure)))
        return found

    def access_minutes(self, tests: Iterable[TestModel], start: Iterable[str]) -> dict[str, float]:
        """Return the minutes of each preparation and state; where tests differ on a state, the least."""
        minutes: dict[str, float] = {}
        for name in sorted({name for test in tests for name in test.access} | set(start)):
            procedure = self.linked.book.procedures.get(name)
            if procedure is not None:
                minutes[name] = _minutes(procedure.time.si)
        if any(ENGINE_COLD in test.access for test in tests):
            minutes[ENGINE_COLD] = COOLING_MINUTES
        for test in tests:
            if not test.trial:
                for name, shared in _minutes_of(self.linked.book.tests[test.id].access).items():
                    minutes[name] = min(shared, minutes.get(name, shared))
        return minutes

    def _occurs(self, record: Work) -> bool:
        return self.linked.applicability.occurs((record.applies_to, self.symptom.applies_to), self.machine)


def takes(record: Test | Procedure, begins: str | tuple[str, ...]) -> bool:
    """Tell whether a step takes an action that begins so, be it for some machines only: rather too careful than too bold."""
    return any(
        action.startswith(begins) for step in (*record.steps, *record.finish) for action in step.action
    )


def _minutes(seconds: float | None) -> float:
    """Return minutes of a working time in seconds."""
    return (seconds or 0.0) / 60.0


def _minutes_of(shared: Mapping[str, object]) -> dict[str, float]:
    return {name: _minutes(getattr(duration, "si", None)) for name, duration in shared.items()}
