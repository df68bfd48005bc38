"""The value of the best plan by plain search over everything that can be done and seen: no code of the planners.

Names instead of bits, normalised chances instead of weights, results one by one instead of in classes, no bounds.
"""

from __future__ import annotations

import random
from collections.abc import Mapping

from shearpin.diagnosis.model import DiagnosisModel, TestModel
from shearpin.diagnosis.priors import SOMETHING_ELSE

Seen = frozenset[tuple[str, str]]


def least_value(model: DiagnosisModel) -> float:
    """Return the least expected minutes, with the charges for live tests and for stopping without a proof."""
    known: dict[tuple[Seen, frozenset[str]], float] = {}
    tests = {test.id: test for test in model.tests}
    speaking = _speaking(model)

    def solve(seen: Seen, opened: frozenset[str]) -> float:
        if (seen, opened) in known:
            return known[seen, opened]
        chances = _chances(model, seen)
        if any(
            chances[c] >= model.terms.proven_at - 1e-9 and any((*s, c) in speaking for s in seen)
            for c in chances
        ):
            return 0.0
        done = {name for name, _ in seen}
        touched = any(not tests[name].as_found for name in done)
        best = model.terms.unproven_minutes
        for test in model.tests:
            if test.id in done or (test.as_found and touched):
                continue
            needed = set() if test.as_found else set(test.access) | (set() if touched else set(model.start))
            minutes = test.minutes + sum(model.access_minutes[name] for name in needed - opened)
            after = frozenset() if test.runs else opened | needed
            if test.as_found:
                after = opened
            value = minutes + (model.terms.live_minutes if test.live else 0.0)
            for place, result in enumerate(test.results):
                chance = sum(chances[cause] * test.likelihood[cause][place] for cause in chances)
                if chance > 1e-12:
                    value += chance * solve(seen | {(test.id, result)}, frozenset(after))
            best = min(best, value)
        known[seen, opened] = best
        return best

    return solve(frozenset(), frozenset(model.opened))


def _chances(model: DiagnosisModel, seen: Seen) -> Mapping[str, float]:
    tests = {test.id: test for test in model.tests}
    joint = {}
    for cause, prior in model.priors.items():
        joint[cause] = prior
        for name, result in sorted(seen):
            joint[cause] *= tests[name].likelihood[cause][tests[name].results.index(result)]
    whole = sum(joint.values())
    return {cause: share / whole for cause, share in joint.items()}


def _speaking(model: DiagnosisModel) -> frozenset[tuple[str, str, str]]:
    """Test, result and cause for each result that speaks for a cause."""
    return frozenset(
        (test.id, result, cause)
        for test in model.tests
        for result in test.results
        for cause in model.priors
        if cause != SOMETHING_ELSE and _speaks(model, test, result, cause)
    )


def _speaks(model: DiagnosisModel, test: TestModel, result: str, cause: str) -> bool:
    own = _of_class(test, result, cause)
    others = {other: prior for other, prior in model.priors.items() if other != cause}
    weight = sum(others.values())
    together = sum(prior * _of_class(test, result, other) for other, prior in others.items())
    unknown = max(_of_class(test, result, SOMETHING_ELSE), together / weight if weight else 0.0)
    return own > 0 and own >= model.terms.speaks_for * unknown


def _of_class(test: TestModel, result: str, cause: str) -> float:
    """The chance of a result and of all that stand in the same proportion to it under every cause."""
    place = test.results.index(result)
    total = 0.0
    for other in range(len(test.results)):
        ratios = [
            (row[place] * sum(r[other] for r in test.likelihood.values()))
            - (row[other] * sum(r[place] for r in test.likelihood.values()))
            for row in test.likelihood.values()
        ]
        if max(abs(ratio) for ratio in ratios) < 1e-9:
            total += test.likelihood[cause][other]
    return total


def random_model(seed: int, count: tuple[int, int] = (1, 5)) -> DiagnosisModel:
    """Return a model with two to eight causes and `count` tests, some live, some sharing access, some as found."""
    chance = random.Random(seed)
    causes = [f"cause-{n}" for n in range(chance.randint(2, 8))]
    weights = {cause: chance.random() ** 2 + 0.02 for cause in causes}
    weights[SOMETHING_ELSE] = 0.05 + 0.1 * chance.random() * sum(weights.values())
    whole = sum(weights.values())
    tests = tuple(_random_test(chance, n, tuple(weights)) for n in range(chance.randint(*count)))
    return DiagnosisModel(
        "a-symptom",
        None,
        {cause: weight / whole for cause, weight in weights.items()},
        tests,
        {"cover": chance.choice([3.0, 5.0]), "housing": 8.0},
        ("cover",) if chance.random() < 0.5 else (),
        ("housing",) if chance.random() < 0.2 else (),
    )


def _random_test(chance: random.Random, number: int, causes: tuple[str, ...]) -> TestModel:
    results = tuple(f"result-{n}" for n in range(chance.choice([2, 2, 3, 3])))
    rows = {}
    for cause in causes:
        usual = (
            len(results) - 1
            if cause == SOMETHING_ELSE or chance.random() < 0.6
            else chance.randrange(len(results))
        )
        share = chance.choice([0.5, 0.85, 0.95, 0.99])
        row = [(1.0 - share) / (len(results) - 1)] * len(results)
        row[usual] = share
        rows[cause] = tuple(row)
    runs = chance.random() < 0.15
    return TestModel(
        f"test-{number}",
        float(chance.choice([1, 2, 3, 5, 8, 12, 20, 30])),
        chance.choice([(), ("cover",), ("cover", "housing"), ("housing",)]),
        runs or chance.random() < 0.1,
        results,
        rows,
        runs=runs,
        as_found=not runs and chance.random() < 0.08,
    )
