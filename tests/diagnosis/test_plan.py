"""The order of tests: falling chance per minute where that is proven best, shared access once, quiet tests first."""

from __future__ import annotations

import dataclasses
import itertools
from collections.abc import Mapping, Sequence

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shearpin.diagnosis.lookahead import LookAheadPlanner
from shearpin.diagnosis.model import DiagnosisModel, Terms, TestModel
from shearpin.diagnosis.plan import Plan, make_plan
from shearpin.diagnosis.priors import SOMETHING_ELSE
from shearpin.diagnosis.state import Numbers

PATIENT = Terms(unproven_minutes=1e6)
"""Nobody gives up before every test is done, as the published rule has it."""
BY_LOOK_AHEAD = Terms(unproven_minutes=1e6, exact_size=0)


def _certain(
    chances: Sequence[float],
    minutes: Sequence[float],
    *,
    access: Mapping[int, tuple[str, ...]] | None = None,
    live: frozenset[int] = frozenset(),
    access_minutes: Mapping[str, float] | None = None,
    terms: Terms = PATIENT,
) -> DiagnosisModel:
    """One test for each cause, which it shows for certain and nothing else; they are numbered from 1."""
    causes = {f"cause-{n}": chance for n, chance in enumerate(chances, 1)}
    priors = {**causes, SOMETHING_ELSE: 1.0 - sum(chances)}
    tests = []
    for n, cost in enumerate(minutes, 1):
        rows = {cause: (1.0, 0.0) if cause == f"cause-{n}" else (0.0, 1.0) for cause in priors}
        tests.append(
            TestModel(f"test-{n}", cost, (access or {}).get(n, ()), n in live, ("found", "not-found"), rows)
        )
    return DiagnosisModel("a-symptom", None, priors, tuple(tests), access_minutes or {}, terms=terms)


def _order(plan: Plan) -> list[int]:
    return [int(planned.test.removeprefix("test-")) for planned in plan.tests]


def _expected(order: Sequence[int], chances: Sequence[float], minutes: Sequence[float]) -> float:
    """Expected minutes of an order: each test costs its minutes if no cause before it was found."""
    total, reached = 0.0, 1.0
    for n in order:
        total += minutes[n - 1] * reached
        reached -= chances[n - 1]
    return total


CHANCES, MINUTES = (0.50, 0.30, 0.15, 0.05), (10.0, 3.0, 1.0, 8.0)


@pytest.mark.parametrize(("terms", "method"), [(PATIENT, "exact"), (BY_LOOK_AHEAD, "look-ahead")])
def test_falling_chance_per_minute(terms: Terms, method: str) -> None:
    """Kadane & Simon, Annals of Statistics 5 (1977); the figures of the example are derived: 9.45 minutes."""
    plan = make_plan(_certain(CHANCES, MINUTES, terms=terms))
    assert _order(plan) == [3, 2, 1, 4]
    assert plan.expected_minutes == pytest.approx(9.45)
    assert plan.method == method


@pytest.mark.parametrize(("order", "minutes"), [((1, 2, 3, 4), 12.10), ((3, 2, 4, 1), 12.95)])
def test_the_other_orders_of_the_example_cost_more(order: Sequence[int], minutes: float) -> None:
    """By chance alone 12.10, by minutes alone 12.95 (derived)."""
    assert _expected(order, CHANCES, MINUTES) == pytest.approx(minutes)


def test_the_chance_of_getting_to_a_test_is_told() -> None:
    plan = make_plan(_certain(CHANCES, MINUTES))
    assert [planned.reach_probability for planned in plan.tests] == pytest.approx([1.0, 0.85, 0.55, 0.05])
    assert [planned.proves for planned in plan.tests] == pytest.approx([0.15, 0.3 / 0.85, 0.5 / 0.55, 1.0])
    assert [planned.minutes for planned in plan.tests] == [1.0, 3.0, 10.0, 8.0]


def test_equal_minutes_go_by_chance() -> None:
    assert _order(make_plan(_certain((0.1, 0.4, 0.2, 0.3), (5.0, 5.0, 5.0, 5.0)))) == [2, 4, 3, 1]


def test_equal_chances_go_by_minutes() -> None:
    assert _order(make_plan(_certain((0.25, 0.25, 0.25, 0.25), (4.0, 1.0, 3.0, 2.0)))) == [2, 4, 3, 1]


def test_ties_cost_the_same_in_any_order() -> None:
    chances, minutes = (0.2, 0.4, 0.1, 0.3), (4.0, 8.0, 2.0, 6.0)
    costs = {round(_expected(order, chances, minutes), 9) for order in itertools.permutations((1, 2, 3, 4))}
    assert len(costs) == 1
    assert make_plan(_certain(chances, minutes)).expected_minutes == pytest.approx(costs.pop())


@settings(max_examples=60, deadline=None)
@given(
    weights=st.lists(st.integers(1, 100), min_size=2, max_size=6),
    minutes=st.lists(st.integers(1, 60), min_size=6, max_size=6),
    unknown=st.integers(0, 50),
    terms=st.sampled_from([PATIENT, dataclasses.replace(BY_LOOK_AHEAD, smallest_branch=0.0)]),
)
def test_no_order_is_cheaper_where_the_rule_is_proven(
    weights: Sequence[int], minutes: Sequence[int], unknown: int, terms: Terms
) -> None:
    """Compared with every permutation of up to six certain tests."""
    whole = sum(weights) + unknown
    chances, costs = [weight / whole for weight in weights], [float(cost) for cost in minutes[: len(weights)]]
    plan = make_plan(_certain(chances, costs, terms=terms))
    orders = itertools.permutations(range(1, len(weights) + 1))
    assert plan.expected_minutes == pytest.approx(min(_expected(order, chances, costs) for order in orders))
    assert plan.expected_minutes == pytest.approx(_expected(_order(plan), chances, costs))


@pytest.mark.parametrize("factor", [0.5, 2.0, 60.0])
def test_minutes_in_another_unit_change_the_cost_and_not_the_order(factor: float) -> None:
    plan = make_plan(_certain(CHANCES, [factor * cost for cost in MINUTES]))
    assert _order(plan) == [3, 2, 1, 4]
    assert plan.expected_minutes == pytest.approx(9.45 * factor)


def test_two_causes_need_a_test_each_for_something_else_is_never_excluded() -> None:
    plan = make_plan(_certain((0.6, 0.4), (2.0, 2.0)))
    assert _order(plan) == [1, 2]
    assert plan.expected_minutes == pytest.approx(2.0 + 2.0 * 0.4)


def test_shared_access_is_paid_once() -> None:
    model = _certain(
        (0.4, 0.3, 0.2),
        (1.0, 1.0, 1.0),
        access={1: ("cover",), 3: ("cover",)},
        access_minutes={"cover": 10.0},
    )
    plan = make_plan(model)
    assert _order(plan) == [2, 1, 3]
    assert [planned.minutes for planned in plan.tests] == [1.0, 11.0, 1.0]
    assert [planned.opens for planned in plan.tests] == [(), ("cover",), ()]
    assert plan.expected_minutes == pytest.approx(1.0 + 11.0 * 0.7 + 1.0 * 0.3)


def test_access_that_a_test_already_done_has_opened_is_not_paid_again() -> None:
    model = _certain(
        (0.4, 0.3, 0.2),
        (1.0, 1.0, 1.0),
        access={1: ("cover",), 3: ("cover",)},
        access_minutes={"cover": 10.0},
    )
    plan = make_plan(model, {"test-1": "not-found"})
    assert _order(plan) == [2, 3]
    assert [planned.minutes for planned in plan.tests] == [1.0, 1.0]


def test_what_was_seen_changes_the_order() -> None:
    model = _certain((0.5, 0.3, 0.15), (10.0, 3.0, 1.0))
    assert _order(make_plan(model)) == [3, 2, 1]
    plan = make_plan(model, {"test-3": "not-found"})
    assert _order(plan) == [2, 1]
    assert plan.tests[0].reach_probability == pytest.approx(1.0)
    assert make_plan(model, {"test-2": "found"}).tests == ()


def test_a_live_test_waits_for_a_quiet_one_of_like_value() -> None:
    chances, minutes = (0.30, 0.28), (3.0, 3.0)
    assert _order(make_plan(_certain(chances, minutes))) == [1, 2]
    assert _order(make_plan(_certain(chances, minutes, live=frozenset({1})))) == [2, 1]


def test_a_live_test_of_far_better_value_does_not_wait() -> None:
    assert _order(make_plan(_certain((0.6, 0.2), (3.0, 3.0), live=frozenset({1})))) == [1, 2]


def test_the_same_model_gives_the_same_plan() -> None:
    model = _certain((0.25, 0.25, 0.25), (2.0, 2.0, 2.0))
    assert _order(make_plan(model)) == [1, 2, 3]
    assert make_plan(model) == make_plan(model)


def test_a_test_that_tells_nothing_is_left_out() -> None:
    model = _certain((0.6, 0.3), (1.0, 1.0))
    flat = TestModel("test-9", 0.1, (), False, ("a", "b"), dict.fromkeys(model.priors, (0.5, 0.5)))
    wider = DiagnosisModel(model.symptom, None, model.priors, (*model.tests, flat), {})
    assert _order(make_plan(wider)) == [1, 2]


def test_no_tests_make_an_empty_plan() -> None:
    assert make_plan(DiagnosisModel("a", None, {SOMETHING_ELSE: 1.0}, (), {})) == Plan(
        (), 0.0, "exact", 120.0, 120.0
    )


def _by_rule(model: DiagnosisModel) -> tuple[str | None, float]:
    """First test and value of following the rule of chance per minute alone."""
    numbers = Numbers(dataclasses.replace(model, terms=dataclasses.replace(model.terms, smallest_branch=0.0)))
    state = numbers.beginning()
    choice = LookAheadPlanner(numbers, state).follow(state, sum(state.weights))
    return choice.check.id if choice.check else None, choice.value


def _with(model: DiagnosisModel, *more: TestModel) -> DiagnosisModel:
    return dataclasses.replace(model, tests=(*model.tests, *more))


def _beside_a_cover() -> DiagnosisModel:
    covered = {2: ("cover",), 3: ("cover",)}
    return _certain((0.2, 0.25, 0.25), (6.0, 1.0, 1.0), access=covered, access_minutes={"cover": 10.0})


def test_two_tests_behind_one_cover_beat_the_rule() -> None:
    """The rule fails for shared access: Ottosen and Jensen, arXiv 1203.3502 (abstract read); the figures are ours."""
    model = _beside_a_cover()
    plan = make_plan(model)
    assert _by_rule(model)[0] == "test-1"
    assert _order(plan) == [2, 3, 1]
    assert plan.value < _by_rule(model)[1] - 0.5
    assert plan.expected_minutes == pytest.approx(11.0 + 1.0 * 0.75 + 6.0 * 0.5)


def test_only_the_state_that_is_planned_for_is_looked_ahead_from() -> None:
    numbers = Numbers(_beside_a_cover())
    first = numbers.beginning()
    elsewhere = numbers.after(first, numbers.checks[0], numbers.class_of("test-1", "not-found"))
    ahead = LookAheadPlanner(numbers, first).choose(first)
    beyond = LookAheadPlanner(numbers, elsewhere).choose(first)
    assert (ahead.check, beyond.check) == (numbers.checks[1], numbers.checks[0])
    assert beyond.value > ahead.value + 0.5


def test_a_branch_is_small_beside_the_state_that_is_planned_for() -> None:
    numbers = Numbers(_beside_a_cover())
    whole = numbers.beginning()
    part = whole._replace(weights=tuple(weight / 1000 for weight in whole.weights))
    of_whole = LookAheadPlanner(numbers, whole).choose(whole)
    of_part = LookAheadPlanner(numbers, part).choose(part)
    assert of_part.check == of_whole.check
    assert of_part.value == pytest.approx(of_whole.value / 1000)


def test_the_size_of_a_plan_is_a_state_for_every_outcome_of_every_test() -> None:
    """Each test is not done, or shows one of two results."""
    numbers = Numbers(_beside_a_cover())
    assert numbers.size(numbers.beginning()) == 3**3


def test_a_question_that_only_tells_where_to_look_beats_the_rule() -> None:
    """The rule knows no questions that only inform: Heckerman, Breese and Rommelse, CACM 38 (1995), from memory."""
    model = _certain((0.24, 0.24, 0.24, 0.24), (20.0, 20.0, 20.0, 20.0))
    left = {f"cause-{n}": 0.98 if n < 3 else 0.02 for n in (1, 2, 3, 4)} | {SOMETHING_ELSE: 0.5}
    rows = {cause: (share, 1.0 - share) for cause, share in left.items()}
    asked = _with(model, TestModel("which-side", 1.0, (), False, ("left", "right"), rows))
    plan = make_plan(asked)
    assert _by_rule(asked)[0] != "which-side"
    assert plan.tests[0].test == "which-side"
    assert plan.value < _by_rule(asked)[1] - 5.0


def test_tests_that_prove_only_together_beat_the_rule() -> None:
    """Dependent, imperfect tests: neither lifts a cause over the threshold, both together do. Figures are ours."""
    priors = {"a": 0.3, "b": 0.3, "c": 0.3, SOMETHING_ELSE: 0.1}
    terms = Terms(unproven_minutes=60.0, proven_at=0.9)

    def test(name: str, high: tuple[str, ...], minutes: float) -> TestModel:
        rows = {cause: (0.95, 0.05) if cause in high else (0.05, 0.95) for cause in priors}
        return TestModel(name, minutes, (), False, ("yes", "no"), rows)

    tests = (test("a-or-b", ("a", "b"), 4.0), test("a-or-c", ("a", "c"), 4.0), test("only-a", ("a",), 30.0))
    model = DiagnosisModel("a-symptom", None, priors, tests, {}, terms=terms)
    plan = make_plan(model)
    assert {planned.test for planned in plan.tests[:2]} == {"a-or-b", "a-or-c"}
    assert plan.value <= _by_rule(model)[1] + 1e-9
    assert plan.tests[0].proves == 0.0
    assert plan.proven_probability > 0.6


def test_a_machine_that_ran_is_made_safe_again_and_opened_again() -> None:
    model = _certain((0.5, 0.3, 0.1), (2.0, 2.0, 2.0), access_minutes={"safe": 3.0, "cover": 5.0})
    needs = {"test-1": ("safe",), "test-2": ("safe",), "test-3": ("safe", "cover")}
    tests = [
        dataclasses.replace(test, access=needs[test.id], live=test.id == "test-1", runs=test.id == "test-1")
        for test in model.tests
    ]
    plan = make_plan(dataclasses.replace(model, tests=tuple(tests), start=("safe",)), {"test-1": "not-found"})
    assert [(p.test, p.minutes, p.opens) for p in plan.tests] == [
        ("test-2", 5.0, ("safe",)),
        ("test-3", 7.0, ("cover",)),
    ]


def test_what_needs_the_machine_as_found_comes_first_or_never() -> None:
    model = _certain((0.5, 0.3), (2.0, 9.0), access_minutes={"safe": 3.0})
    tests = (
        dataclasses.replace(model.tests[0], access=("safe",)),
        dataclasses.replace(model.tests[1], as_found=True),
    )
    found = dataclasses.replace(model, tests=tests, start=("safe",))
    assert [(p.test, p.minutes) for p in make_plan(found).tests] == [("test-2", 9.0), ("test-1", 5.0)]
    assert make_plan(found, {"test-1": "not-found"}).tests == ()


def test_a_test_that_cannot_be_done_here_is_left_out() -> None:
    assert _order(make_plan(_certain(CHANCES, MINUTES), skipped={"test-2"})) == [3, 1, 4]


def test_a_test_not_worth_its_minutes_ends_the_plan() -> None:
    """At one chance in a hundred of 120 minutes saved, a test of two minutes is not done."""
    model = _certain((0.5, 0.005), (2.0, 2.0), terms=Terms())
    assert [planned.test for planned in make_plan(model).tests] == ["test-1"]


def test_the_plan_stops_when_a_cause_is_proven() -> None:
    plan = make_plan(_certain(CHANCES, MINUTES), {"test-3": "found"})
    assert plan.proven == "cause-3"
    assert plan.tests == ()


def test_elimination_alone_proves_nothing() -> None:
    plan = make_plan(_certain((0.6, 0.4), (2.0, 2.0)), {"test-1": "not-found"})
    assert plan.proven is None
    assert _order(plan) == [2]


def test_the_tree_leads_to_proof_or_to_another_test() -> None:
    plan = make_plan(_certain(CHANCES, MINUTES))
    assert plan.tree is not None
    assert plan.tree.test == "test-3"
    ends = {
        branch.results[0]: (branch.cause, branch.then and branch.then.test) for branch in plan.tree.branches
    }
    assert ends == {"found": ("cause-3", None), "not-found": (None, "test-2")}


def test_minutes_times_reach_add_up_to_the_expected_minutes() -> None:
    plan = make_plan(_certain((0.4, 0.3, 0.2), (3.0, 7.0, 1.0)))
    assert plan.expected_minutes == pytest.approx(
        sum(planned.minutes * planned.reach_probability for planned in plan.tests)
    )


def test_the_branches_of_every_test_are_all_there_is() -> None:
    waiting = [make_plan(_certain(CHANCES, MINUTES)).tree]
    seen = 0
    while waiting:
        node = waiting.pop()
        if node is not None:
            seen += 1
            assert sum(branch.chance for branch in node.branches) == pytest.approx(1.0)
            waiting += [branch.then for branch in node.branches]
    assert seen > 2
