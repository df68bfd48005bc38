"""Posterior chances and the order of tests: falling probability per minute."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from shearpin.diagnosis.model import SOMETHING_ELSE, DiagnosisModel, TestModel

METHOD: Final = "probability-per-minute"
_LIKE_VALUE: Final = 0.9  # within a tenth of the best, a quiet test goes before a live one


@dataclass(frozen=True, slots=True)
class PlannedTest:
    """A test in its place: minutes it costs there (its share of opening included), and the chance of getting to it.

    `proves` is the chance that it settles the matter, given that one gets to it; `opens` are the preparations whose
    minutes it bears, because no test before it needed them.
    """

    test: str
    minutes: float
    reach_probability: float
    proves: float
    opens: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Plan:
    """Tests in order; `expected_minutes` until a cause is shown or the tests are used up."""

    tests: tuple[PlannedTest, ...]
    expected_minutes: float
    method: str = METHOD


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


def power(test: TestModel, chances: Mapping[str, float]) -> dict[str, float]:
    """Return how well a test shows each cause: 0 not at all, 1 surely.

    It is the share of cases in which the result speaks for the cause: likelier under it than under the mixture of the
    others, and than under something else, which no test can exclude. A result that only clears another cause shows
    nothing.
    """
    unknown = test.likelihood[SOMETHING_ELSE]
    whole = sum(chances.values())
    mixture = [sum(chances[c] * test.likelihood[c][i] for c in chances) for i in range(len(test.results))]
    found = {}
    for cause, chance in chances.items():
        rest = whole - chance
        row = test.likelihood[cause]
        others = (
            [(total - chance * own) / rest for total, own in zip(mixture, row, strict=True)]
            if rest > 0.0
            else unknown
        )
        found[cause] = sum(max(0.0, own - max(pair)) for own, *pair in zip(row, others, unknown, strict=True))
    return found


def make_plan(model: DiagnosisModel, seen: Mapping[str, str] | None = None) -> Plan:
    """Return the tests not yet done, each time the one with the highest chance of proving a cause per minute.

    With tests that each show one cause for certain and share no access this is the rule of Kadane and Simon (Annals of
    Statistics 5, 1977), optimal there: falling p/c, expected cost Σ c_i·(1 − Σ_{j<i} p_j). Elsewhere it is a sound
    first order, not proven best. Access already opened costs nothing again.
    """
    seen = seen or {}
    chances = posterior(model, seen)
    told = {test.id: _tells(test, chances) for test in model.tests if test.id not in seen}
    done = {test.id for test in model.tests if test.id in seen}
    opened = {procedure for test in model.tests if test.id in done for procedure in test.access}
    open_mass = dict(chances)  # what is not yet shown of each cause
    waiting = {test.id: test for test in model.tests if test.id not in seen}
    planned: list[PlannedTest] = []
    expected = 0.0
    while waiting:
        reach = sum(open_mass.values())
        if reach <= 1e-9:
            break
        choice = _best(model, waiting, told, open_mass, opened)
        if choice is None:
            break
        test, minutes, gain = choice
        opens = tuple(procedure for procedure in test.access if procedure not in opened)
        planned.append(PlannedTest(test.id, minutes, reach, gain / reach, opens))
        expected += minutes * reach
        for cause, share in told[test.id].items():
            open_mass[cause] *= 1.0 - share
        opened.update(test.access)
        del waiting[test.id]
    return Plan(tuple(planned), expected)


def _tells(test: TestModel, chances: Mapping[str, float]) -> dict[str, float]:
    """Return the power of a test for the causes it raises more than it raises the unknown."""
    return {cause: share for cause, share in power(test, chances).items() if share > 0.05}


def _best(
    model: DiagnosisModel,
    waiting: Mapping[str, TestModel],
    told: Mapping[str, Mapping[str, float]],
    open_mass: Mapping[str, float],
    opened: set[str],
) -> tuple[TestModel, float, float] | None:
    rated = []
    for test in waiting.values():
        minutes = test.minutes + sum(model.access_minutes[p] for p in test.access if p not in opened)
        gain = sum(open_mass[cause] * share for cause, share in told[test.id].items())
        if gain > 1e-9:
            rated.append((gain / max(minutes, 0.1), test, minutes, gain))
    if not rated:
        return None
    top = max(rate for rate, *_ in rated)
    like = [item for item in rated if item[0] >= top * _LIKE_VALUE]
    _, test, minutes, gain = min(like, key=lambda item: (item[1].live, -item[0], item[1].id))
    return test, minutes, gain
