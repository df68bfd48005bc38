"""What a plan costs, added up over its tree."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

from shearpin.diagnosis.state import Check, Numbers, State


@dataclass(frozen=True, slots=True)
class PlannedTest:
    """A test of a plan: what it costs where one comes to it, and the chance of coming to it at all.

    `minutes` is the mean over the places where it stands, its share of opening included. `proves` is the chance that
    it proves a cause there and then. `opens` are the preparations it needs in most of these cases and are not open.
    `main` tests follow one another as long as the likelier results prove nothing.
    """

    test: str
    minutes: float
    reach_probability: float
    proves: float
    opens: tuple[str, ...] = ()
    main: bool = True


class Totals:
    """Sums over the tree of a plan; `weight` is the weight of its root."""

    def __init__(self, numbers: Numbers, weight: float) -> None:
        self._numbers = numbers
        self.weight = weight
        self.proven = 0.0
        self._reach: dict[int, float] = defaultdict(float)
        self._minutes: dict[int, float] = defaultdict(float)
        self._proves: dict[int, float] = defaultdict(float)
        self._opens: dict[int, dict[int, float]] = defaultdict(lambda: defaultdict(float))

    def visit(self, check: Check, state: State) -> None:
        """Count a test that is done in a state."""
        share = sum(state.weights) / self.weight
        self._reach[check.number] += share
        self._minutes[check.number] += share * self._numbers.minutes(state, check)
        self._opens[check.number][self._numbers.needs(state, check)] += share

    def prove(self, check: Check, weight: float) -> None:
        """Count a proof by a test."""
        self._proves[check.number] += weight / self.weight
        self.proven += weight / self.weight

    def tests(self, main: Sequence[str]) -> tuple[PlannedTest, ...]:
        """Return all tests that were visited: those of `main` in their order, then the others by falling reach."""
        place = {self._numbers.number_of[test]: index for index, test in enumerate(main)}
        order = sorted(
            self._reach, key=lambda number: (place.get(number, len(place)), -self._reach[number], number)
        )
        return tuple(self._planned(number, number in place) for number in order)

    def _planned(self, number: int, main: bool) -> PlannedTest:
        reach = self._reach[number]
        opens = self._opens[number]
        usual = max(opens, key=lambda bits: (opens[bits], -bits))
        return PlannedTest(
            self._numbers.checks[number].id,
            self._minutes[number] / reach,
            reach,
            self._proves[number] / reach,
            self._numbers.names(usual),
            main,
        )
