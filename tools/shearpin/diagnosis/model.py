"""What a diagnosis is computed from: chances of causes, likelihoods of results, minutes, shared access."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Final

from shearpin.book.linked import LinkedBook
from shearpin.model.fields import Chance, ChanceWord
from shearpin.model.knowledge import Symptom
from shearpin.model.steps import Test

SOMETHING_ELSE: Final = "something-else"
"""The cause that is not in the book; no record can have this id, for the model adds it itself."""

_ELSE_WHEN_UNSAID: Final = Chance(ChanceWord.RARELY, None)
LIVE_ACTIONS: Final = frozenset({"run-engine", "run-auger", "run-drive", "connect-mains"})
"""Actions of tests that put energy into the machine: ordered after quiet tests of like value."""


@dataclass(frozen=True, slots=True)
class TestModel:
    """One test as the computation sees it.

    `likelihood[cause][i]` is the chance of `results[i]` when `cause` is the fault; each row sums to one. `minutes` is
    without `access`, the procedures done before it in their order, whose minutes are shared with other tests.
    """

    __test__ = False
    id: str
    minutes: float
    access: tuple[str, ...]
    live: bool
    results: tuple[str, ...]
    likelihood: Mapping[str, tuple[float, ...]]


@dataclass(frozen=True, slots=True)
class DiagnosisModel:
    """Single-fault model of one symptom on one machine, or on all it occurs on when `machine` is None.

    `priors` sum to one and include `SOMETHING_ELSE`; `access_minutes` are the minutes of shared preparations.
    """

    symptom: str
    machine: str | None
    priors: Mapping[str, float]
    tests: tuple[TestModel, ...]
    access_minutes: Mapping[str, float]


def build_model(linked: LinkedBook, symptom_id: str, machine_id: str | None = None) -> DiagnosisModel:
    """Return the model of a symptom for a machine; raises `KeyError` for an unknown symptom or machine."""
    symptom = linked.book.symptoms[symptom_id]
    if machine_id is not None and machine_id not in linked.book.machines:
        raise KeyError(machine_id)
    priors = _priors(linked, symptom, machine_id)
    tests = []
    for test_id in linked.safety.tests_for(symptom_id):
        test = linked.book.tests[test_id]
        if _occurs(linked, test.applies_to, symptom.applies_to, machine_id):
            model = _test_model(test_id, test, priors, linked, machine_id)
            if model is not None:
                tests.append(model)
    access = sorted({procedure for test in tests for procedure in test.access})
    minutes = {procedure: _minutes(linked.book.procedures[procedure].time.si) for procedure in access}
    return DiagnosisModel(symptom_id, machine_id, priors, tuple(tests), minutes)


def alike(linked: LinkedBook, symptom_id: str, machines: Iterable[str]) -> tuple[tuple[str, ...], ...]:
    """Return machines in groups for which the model of a symptom is the same, in their order.

    What can differ is which causes, tests and preparations occur; so few models serve many machines.
    """
    symptom = linked.book.symptoms[symptom_id]
    conditions = [symptom.applies_to, *(suspect.applies_to for suspect in symptom.causes)]
    conditions += [
        linked.book.causes[s.cause].applies_to for s in symptom.causes if s.cause in linked.book.causes
    ]
    for test_id in linked.safety.tests_for(symptom_id):
        test = linked.book.tests[test_id]
        conditions.append(test.applies_to)
        for procedure_id in linked.book.preparations(test):
            procedure = linked.book.procedures.get(procedure_id)
            conditions.append(procedure.applies_to if procedure is not None else None)
    sets = {linked.applicability.machines_for(condition) for condition in conditions if condition is not None}
    groups: dict[frozenset[frozenset[str]], list[str]] = {}
    for machine_id in machines:
        groups.setdefault(frozenset(s for s in sets if machine_id in s), []).append(machine_id)
    return tuple(tuple(group) for group in groups.values())


def _minutes(seconds: float | None) -> float:
    """Return minutes of a working time in seconds."""
    return (seconds or 0.0) / 60.0


def _occurs(linked: LinkedBook, *conditions_and_machine: object) -> bool:
    *conditions, machine_id = conditions_and_machine
    possible = linked.applicability.everywhere
    for condition in conditions:
        possible &= linked.applicability.machines_for(condition)  # type: ignore[arg-type]
    return machine_id in possible if machine_id is not None else bool(possible)


def _priors(linked: LinkedBook, symptom: Symptom, machine_id: str | None) -> dict[str, float]:
    weights: dict[str, float] = {}
    for suspect in symptom.causes:
        cause = linked.book.causes.get(suspect.cause)
        if cause is None:
            continue
        if _occurs(linked, symptom.applies_to, suspect.applies_to, cause.applies_to, machine_id):
            weights[suspect.cause] = suspect.chance.number
    rest = (symptom.else_ or _ELSE_WHEN_UNSAID).number
    # `rarely` for something else means a tenth of all, however many causes are listed.
    total = sum(weights.values())
    if rest >= 1.0:
        weights = dict.fromkeys(weights, 0.0)
    weights[SOMETHING_ELSE] = rest * total / (1 - rest) if total and rest < 1 else 1.0
    whole = sum(weights.values())
    return {cause: weight / whole for cause, weight in weights.items()}


def _test_model(
    test_id: str, test: Test, priors: Iterable[str], linked: LinkedBook, machine_id: str | None
) -> TestModel | None:
    rows = {cause: likelihood_row(test, cause) for cause in priors}
    if len(set(rows.values())) < 2:
        return None  # it tells nothing about the causes possible here
    procedures = linked.book.procedures
    access = tuple(
        procedure
        for procedure in linked.book.preparations(test)
        if procedure in procedures and _occurs(linked, procedures[procedure].applies_to, machine_id)
    )
    live = any(action in LIVE_ACTIONS for step in test.steps for action in step.action)
    return TestModel(
        test_id, _minutes(test.time.si), access, live, tuple(result.id for result in test.results), rows
    )


def likelihood_row(test: Test, cause: str) -> tuple[float, ...]:
    """Return the chance of each result of a test under one cause; sums to one.

    What a result does not say is taken from its `otherwise`; where that is missing too, the results without a
    statement share what remains. Words are scaled so that the row sums to one.
    """
    stated = [result.given.get(cause) or result.otherwise for result in test.results]
    known = sum(chance.number for chance in stated if chance is not None)
    open_count = sum(chance is None for chance in stated)
    # Without a remainder a silent result keeps a trace, so that no reading is ever impossible.
    share = max(1.0 - known, 0.02) / open_count if open_count else 0.0
    row = [chance.number if chance is not None else share for chance in stated]
    whole = sum(row) or 1.0
    return tuple(number / whole if sum(row) else 1.0 / len(row) for number in row)
