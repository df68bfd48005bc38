"""Chances after a result follow Bayes' rule, as published examples have it."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shearpin.diagnosis.model import DiagnosisModel, TestModel
from shearpin.diagnosis.plan import posterior
from shearpin.diagnosis.priors import SOMETHING_ELSE


def _model(priors: Mapping[str, float], *tests: TestModel) -> DiagnosisModel:
    return DiagnosisModel(
        "a-symptom", None, {**priors, SOMETHING_ELSE: priors.get(SOMETHING_ELSE, 0.0)}, tests, {}
    )


def _test(name: str, yes: Mapping[str, float], otherwise: float = 0.0) -> TestModel:
    """A test that shows `yes` or `no`; `yes` holds the chance of the first under each cause."""
    rows = {cause: (share, 1.0 - share) for cause, share in {SOMETHING_ELSE: otherwise, **yes}.items()}
    return TestModel(name, 1.0, (), False, ("yes", "no"), rows)


TECHNICIANS = {"first": 0.20, "second": 0.60, "third": 0.15, "fourth": 0.05}
INCOMPLETE = {"first": 0.05, "second": 0.10, "third": 0.10, "fourth": 0.05}


@pytest.mark.parametrize(
    ("who", "printed"), [("first", 0.114), ("second", 0.686), ("third", 0.171), ("fourth", 0.029)]
)
def test_four_technicians_and_an_incomplete_repair(who: str, printed: float) -> None:
    """Miller & Freund, Probability and Statistics for Engineers, p. 74 (read second-hand); the last three derived."""
    chances = posterior(_model(TECHNICIANS, _test("repair", INCOMPLETE)), {"repair": "yes"})
    assert chances[who] == pytest.approx(printed, abs=0.0005)


def test_four_technicians_in_full() -> None:
    """The same: 0.0100 of 0.0875."""
    chances = posterior(_model(TECHNICIANS, _test("repair", INCOMPLETE)), {"repair": "yes"})
    assert chances["first"] == pytest.approx(0.0100 / 0.0875)
    assert sum(chances.values()) == pytest.approx(1.0)


def test_a_rare_illness_and_a_positive_test() -> None:
    """Gigerenzer & Hoffrage, Psychological Review 102 (1995): 1 %, 80 %, 9.6 % give 0.0776 (from memory)."""
    model = _model({"ill": 0.01, "well": 0.99}, _test("screening", {"ill": 0.8, "well": 0.096}))
    assert posterior(model, {"screening": "yes"})["ill"] == pytest.approx(0.0776, abs=0.00005)


def test_a_stiff_neck_and_a_rare_cause() -> None:
    """Russell & Norvig, Artificial Intelligence, 3rd ed., section 13.5: 0.0014 (from memory).

    The book gives P(s) = 0.01 for all; the chance of a stiff neck without the illness follows from it.
    """
    ill = 1 / 50_000
    model = _model(
        {"ill": ill, "well": 1 - ill}, _test("neck", {"ill": 0.7, "well": (0.01 - 0.7 * ill) / (1 - ill)})
    )
    assert posterior(model, {"neck": "yes"})["ill"] == pytest.approx(0.0014, abs=0.00005)


def test_two_results_count_as_independent_given_the_cause() -> None:
    """Worked by hand."""
    model = _model(
        {"a": 0.5, "b": 0.5}, _test("one", {"a": 0.8, "b": 0.4}), _test("two", {"a": 0.5, "b": 0.25})
    )
    both = posterior(model, {"one": "yes", "two": "no"})
    assert both["a"] == pytest.approx(0.8 * 0.5 / (0.8 * 0.5 + 0.4 * 0.75))
    assert posterior(model, {"two": "no", "one": "yes"}) == pytest.approx(both)


def test_nothing_seen_leaves_the_chances_as_they_were() -> None:
    model = _model(TECHNICIANS, _test("repair", INCOMPLETE))
    assert posterior(model, {}) == model.priors


def test_an_unknown_test_and_an_unknown_result_are_errors_of_the_caller() -> None:
    model = _model(TECHNICIANS, _test("repair", INCOMPLETE))
    with pytest.raises(KeyError):
        posterior(model, {"inspection": "yes"})
    with pytest.raises(ValueError, match="repair has no result maybe; it has: yes, no"):
        posterior(model, {"repair": "maybe"})


def test_results_that_no_cause_can_show_together_contradict_each_other() -> None:
    model = _model(
        {"a": 0.5, "b": 0.5}, _test("one", {"a": 1.0, "b": 0.0}), _test("two", {"a": 0.0, "b": 1.0})
    )
    with pytest.raises(ValueError, match="contradict"):
        posterior(model, {"one": "yes", "two": "yes"})


shares = st.floats(0.01, 1.0)


@settings(max_examples=60, deadline=None)
@given(
    weights=st.lists(shares, min_size=2, max_size=5),
    yes=st.lists(st.floats(0.0, 1.0), min_size=5, max_size=5),
)
def test_the_chances_after_every_result_average_to_those_before(
    weights: Sequence[float], yes: Sequence[float]
) -> None:
    """The law of total probability: a test to come changes no chance on average."""
    causes = {f"cause-{n}": weight / math.fsum(weights) for n, weight in enumerate(weights)}
    model = _model(causes, _test("one", dict(zip(causes, yes, strict=False))))
    average = dict.fromkeys(causes, 0.0)
    for index, result in enumerate(("yes", "no")):
        chance = sum(causes[cause] * model.tests[0].likelihood[cause][index] for cause in causes)
        if chance > 0:
            after = posterior(model, {"one": result})
            assert sum(after.values()) == pytest.approx(1.0)
            for cause in causes:
                average[cause] += chance * after[cause]
    assert average == pytest.approx(causes)
