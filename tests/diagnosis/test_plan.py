"""The order of tests: falling chance per minute where that is proven best, shared access once, quiet tests first."""

from __future__ import annotations

import itertools
from collections.abc import Mapping, Sequence

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shearpin.diagnosis.model import DiagnosisModel, TestModel
from shearpin.diagnosis.priors import SOMETHING_ELSE
from shearpin.diagnosis.plan import METHOD, Plan, make_plan, power


def _certain(
    chances: Sequence[float],
    minutes: Sequence[float],
    *,
    access: Mapping[int, tuple[str, ...]] | None = None,
    live: frozenset[int] = frozenset(),
    access_minutes: Mapping[str, float] | None = None,
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
    return DiagnosisModel("a-symptom", None, priors, tuple(tests), access_minutes or {})


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


def test_falling_chance_per_minute() -> None:
    """Kadane & Simon, Annals of Statistics 5 (1977); the figures of the example are derived: 9.45 minutes."""
    plan = make_plan(_certain(CHANCES, MINUTES))
    assert _order(plan) == [3, 2, 1, 4]
    assert plan.expected_minutes == pytest.approx(9.45)
    assert plan.method == METHOD


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
)
def test_no_order_is_cheaper_where_the_rule_is_proven(
    weights: Sequence[int], minutes: Sequence[int], unknown: int
) -> None:
    """Compared with every permutation of up to six certain tests."""
    whole = sum(weights) + unknown
    chances, costs = [weight / whole for weight in weights], [float(cost) for cost in minutes[: len(weights)]]
    plan = make_plan(_certain(chances, costs))
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
    assert make_plan(DiagnosisModel("a", None, {SOMETHING_ELSE: 1.0}, (), {})) == Plan((), 0.0)


def _rows(**yes: float) -> TestModel:
    rows = {name.replace("_", "-"): (share, 1.0 - share) for name, share in yes.items()}
    return TestModel("test", 1.0, (), False, ("yes", "no"), rows)


def test_power_is_one_for_the_cause_that_is_shown_for_certain_and_none_for_the_rest() -> None:
    shown = power(
        _rows(a=1.0, b=0.0, c=0.0, something_else=0.0), {"a": 0.5, "b": 0.3, "c": 0.1, SOMETHING_ELSE: 0.1}
    )
    assert shown == {"a": 1.0, "b": 0.0, "c": 0.0, SOMETHING_ELSE: 0.0}


def test_power_is_shared_by_causes_that_look_alike() -> None:
    chances = {"a": 0.4, "b": 0.4, SOMETHING_ELSE: 0.2}
    both = power(_rows(a=1.0, b=1.0, something_else=0.0), chances)
    assert 0.0 < both["a"] == both["b"] < 1.0
    assert both[SOMETHING_ELSE] == 0.0


def test_power_falls_with_false_alarms() -> None:
    chances = {"a": 0.5, "b": 0.5, SOMETHING_ELSE: 0.0}
    powers = [
        power(_rows(a=0.9, b=0.1, something_else=alarm), chances)["a"] for alarm in (0.0, 0.3, 0.6, 0.95)
    ]
    assert powers == sorted(powers, reverse=True)
    assert powers[0] == pytest.approx(0.8)
    assert powers[-1] == 0.0


@settings(max_examples=60, deadline=None)
@given(
    shares=st.lists(st.floats(0.0, 1.0), min_size=3, max_size=3),
    weights=st.lists(st.integers(0, 9), min_size=3, max_size=3),
)
def test_power_is_a_share(shares: Sequence[float], weights: Sequence[int]) -> None:
    whole = sum(weights) or 1
    chances = dict(zip(("a", "b", SOMETHING_ELSE), (weight / whole for weight in weights), strict=True))
    found = power(_rows(a=shares[0], b=shares[1], something_else=shares[2]), chances)
    assert all(0.0 <= share <= 1.0 + 1e-9 for share in found.values())
