"""Posterior chances, and the plan: which test comes next, and after each result which one after it.

The numbers come from `model.py`; what a plan is and what it minimises is defined in `state.py`. `exact.py` finds it by
dynamic programming, `lookahead.py` comes close where that is too much; `bound.py` says how far off it can be at most.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass

from shearpin.diagnosis.bound import LowerBound
from shearpin.diagnosis.exact import ExactPlanner
from shearpin.diagnosis.lookahead import LookAheadPlanner
from shearpin.diagnosis.model import DiagnosisModel
from shearpin.diagnosis.state import IMPOSSIBLE, Check, Numbers, State
from shearpin.diagnosis.totals import PlannedTest, Totals


@dataclass(frozen=True, slots=True)
class Branch:
    """What follows on results of one class: a proven `cause`, another test, or neither (stop, or plan anew)."""

    results: tuple[str, ...]
    chance: float
    cause: str | None
    then: PlanNode | None


@dataclass(frozen=True, slots=True)
class PlanNode:
    """A test in the tree of a plan, the chance of coming to it, and its branches by falling chance."""

    test: str
    minutes: float
    reach_probability: float
    opens: tuple[str, ...]
    branches: tuple[Branch, ...]


@dataclass(frozen=True, slots=True)
class Plan:
    """The next test and what may come after it.

    `tests` are all tests of the plan: first those one comes to as long as the likelier results prove nothing, then
    those for other results, by falling chance of coming to them. `expected_minutes` is Σ minutes · reach_probability,
    until a cause is proven or testing stops. `proven_probability` is the chance that a cause is proven. `value` is
    what the plan minimises and `lower_bound` what no plan can be better than, both in minutes with
    `unproven_minutes` and `live_minutes` in them. `proven` is the cause that is proven already, if one is.
    """

    tests: tuple[PlannedTest, ...]
    expected_minutes: float
    method: str
    value: float = 0.0
    lower_bound: float = 0.0
    proven_probability: float = 0.0
    tree: PlanNode | None = None
    proven: str | None = None


def posterior(model: DiagnosisModel, seen: Mapping[str, str]) -> dict[str, float]:
    """Return the chance of each cause after the results in `seen` (test id to result id), by Bayes' rule.

    Results are taken as independent given the cause. Raises `KeyError` for an unknown test and `ValueError` for a
    result the test does not have, or results that no cause of the model can show together.
    """
    tests = {test.id: test for test in model.tests}
    weights = dict(model.priors)
    for test_id, result in seen.items():
        test = tests[test_id]
        if result not in test.results:
            raise ValueError(f"{test_id} has no result {result}; it has: {', '.join(test.results)}")
        index = test.results.index(result)
        for cause in weights:
            weights[cause] *= test.likelihood[cause][index]
    whole = sum(weights.values())
    if whole <= 0.0:
        raise ValueError("these results contradict each other under every cause")
    return {cause: weight / whole for cause, weight in weights.items()}


def state_after(numbers: Numbers, seen: Mapping[str, str], skipped: Collection[str] = ()) -> State:
    """Return the state after the results in `seen`, in their order; `skipped` tests cannot be done here."""
    state = numbers.beginning({check.id for check in numbers.checks} - set(skipped))
    for test_id, result in seen.items():
        check = numbers.checks[numbers.number_of[test_id]]
        state = numbers.after(state, check, numbers.class_of(test_id, result))
    return state


def make_plan(
    model: DiagnosisModel, seen: Mapping[str, str] | None = None, skipped: Collection[str] = ()
) -> Plan:
    """Return the plan after the results in `seen`, without the tests in `skipped`.

    Raises like `posterior`. What is open counts as the order of `seen` leaves it.
    """
    seen = seen or {}
    posterior(model, seen)
    numbers = Numbers(model)
    state = state_after(numbers, seen, skipped)
    proven = numbers.proven_cause(state)
    exact = numbers.size(state) <= model.terms.exact_size
    planner = ExactPlanner(numbers, state) if exact else LookAheadPlanner(numbers, state)
    if proven is not None:
        return Plan((), 0.0, planner.method, proven_probability=1.0, proven=proven)
    weight = sum(state.weights)
    value = planner.choose(state).value / weight
    bound = value if exact else min(value, LowerBound(numbers).one_step(state) / weight)
    totals = Totals(numbers, weight)
    tree = _grow(numbers, planner, state, totals)
    tests = totals.tests(_main_path(tree))
    minutes = sum(item.minutes * item.reach_probability for item in tests)
    return Plan(tests, minutes, planner.method, value, bound, totals.proven, tree)


def value_beginning_with(model: DiagnosisModel, test_id: str) -> float:
    """Return what `Plan.value` is for a plan that begins with this test; raises `KeyError` for an unknown one.

    What comes after it is planned anew for each result, so that plans with different beginnings are compared alike.
    """
    numbers = Numbers(model)
    state = state_after(numbers, {})
    check = numbers.checks[numbers.number_of[test_id]]
    weight = sum(state.weights)
    value = numbers.charge(state, check) * weight
    for after, _ in numbers.open_after(state, check, weight):
        exact = numbers.size(after) <= model.terms.exact_size
        planner = ExactPlanner(numbers, after) if exact else LookAheadPlanner(numbers, after)
        value += planner.choose(after).value
    return value / weight


def _grow(
    numbers: Numbers, planner: ExactPlanner | LookAheadPlanner, state: State, totals: Totals
) -> PlanNode | None:
    """Return the tree from a state that is not proven, and add up what happens in it."""
    check = planner.choose(state).check
    if check is None:
        return None
    weight = sum(state.weights)
    branches = []
    for result, known in enumerate(check.classes):
        after = numbers.after(state, check, result)
        share = sum(after.weights)
        if share <= IMPOSSIBLE * weight:
            continue
        cause = numbers.proven_cause(after)
        if cause is not None:
            totals.prove(check, share)
        then = _grow(numbers, planner, after, totals) if cause is None else None
        branches.append(Branch(known.results, share / weight, cause, then))
    branches.sort(key=lambda branch: -branch.chance)
    totals.visit(check, state)
    return PlanNode(
        check.id,
        numbers.minutes(state, check),
        weight / totals.weight,
        _opens(numbers, state, check),
        tuple(branches),
    )


def _opens(numbers: Numbers, state: State, check: Check) -> tuple[str, ...]:
    return numbers.names(numbers.needs(state, check))


def _main_path(tree: PlanNode | None) -> tuple[str, ...]:
    """Return the tests one comes to while the likelier of the results that prove nothing show."""
    found = []
    while tree is not None:
        found.append(tree.test)
        tree = next((branch.then for branch in tree.branches if branch.then is not None), None)
    return tuple(found)
