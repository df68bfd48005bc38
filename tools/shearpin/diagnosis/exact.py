"""The exact plan: dynamic programming over what has been seen, with branches cut that cannot be best."""

from __future__ import annotations

from typing import Final

from shearpin.diagnosis.bound import LowerBound
from shearpin.diagnosis.choice import Choice, first_of_least
from shearpin.diagnosis.state import TOLERANCE, Check, Numbers, State

METHOD: Final = "exact"

_Option = tuple[float, Check, tuple[tuple[State, float], ...]]
"""Least value of a test so far as it is known, the test, and its open branches: state, least value."""


class ExactPlanner:
    """Finds the choice of least value in every state, by the definition in `state.py`; each state is solved once."""

    method: Final = METHOD

    def __init__(self, numbers: Numbers) -> None:
        self._numbers = numbers
        self._bound = LowerBound(numbers)
        self._solved: dict[tuple[int, int], Choice] = {}

    def choose(self, state: State) -> Choice:
        """Return the best next test of a state that is not proven."""
        key = (state.key, state.opened)
        known = self._solved.get(key)
        if known is None:
            known = self._solved[key] = self._solve(state)
        return known

    def _solve(self, state: State) -> Choice:
        weight = sum(state.weights)
        stop = self._numbers.terms.unproven_minutes * weight
        tolerance = TOLERANCE * weight
        best = stop
        found: list[tuple[Check, float]] = []
        for least, check, branches in self._options(state, weight, stop + tolerance):
            if least > best + tolerance:
                break
            value = least
            for branch, bound in branches:
                value += self.choose(branch).value - bound
                if value > best + tolerance:
                    break
            else:
                found.append((check, value))
                best = min(best, value)
        return first_of_least(found, stop, tolerance)

    def _options(self, state: State, weight: float, limit: float) -> list[_Option]:
        """Return the tests that may be worth it, the most promising first."""
        options: list[_Option] = []
        for check, charge in self._numbers.charges(state):
            least = charge * weight
            if least > limit:
                continue
            branches = []
            for after, share in self._numbers.open_after(state, check, weight):
                bound = self._bound.of(after, share)
                branches.append((after, bound))
                least += bound
                if least > limit:  # no bound is below nothing
                    break
            else:
                options.append((least, check, tuple(branches)))
        options.sort(key=lambda option: (option[0], option[1].number))
        return options
