"""The exact plan: dynamic programming over everything that can be done and seen, the last tests first.

What was seen is a number with a digit for each test: 0 not done, else its class + 1. All states are worked out one after
the other in tables by this number, which costs less than to find out which of them could be spared.
"""

from __future__ import annotations

from typing import Final, NamedTuple

from shearpin.diagnosis.choice import Choice, first_of_least
from shearpin.diagnosis.state import TOLERANCE, Check, Numbers, State

METHOD: Final = "exact"


class _Move(NamedTuple):
    """A test: what it counts, what the number of a state grows by with each class, and the values of the states after it."""

    check: Check
    charge: float
    steps: tuple[int, ...]
    after: list[float]


class ExactPlanner:
    """Knows the choice of least value, by the definition in `state.py`, in the planned state and all that can follow it.

    Classes that are as good as impossible are not left out: they count less than the tolerance.
    """

    method: Final = METHOD

    def __init__(self, numbers: Numbers, root: State) -> None:
        self._numbers = numbers
        self._steps: dict[int, tuple[int, ...]] = {}
        shown, done = [root.shown], {0: [0]}
        by_cause = [[weight] for weight in root.weights]
        for check in numbers.left(root):
            place, classes = len(shown), check.classes
            steps = self._steps[check.number] = tuple(place * digit for digit in range(1, len(classes) + 1))
            for weights, shares in zip(
                by_cause, zip(*(known.column for known in classes), strict=True), strict=True
            ):
                weights += [share * weight for share in shares for weight in weights]
            shown += [bits | known.speaks for known in classes for bits in shown]
            done |= {
                tests | 1 << check.number: [step + state for step in steps for state in states]
                for tests, states in done.items()
            }
        self._states = done
        """The numbers of the states in which certain tests are done, by the bits of these."""
        states = list(zip(*by_cause, strict=True))
        proven, weights_of = numbers.proven_share, numbers.weights_of
        self._open = [
            0.0 if bits and max(weights_of[bits](weights)) >= proven * weight else weight
            for weights, bits, weight in zip(states, shown, map(sum, states), strict=True)
        ]
        """The weight of each state in which nothing is proven."""
        # What is open follows from what was done, but where a test closes everything.
        self._values: dict[int, list[float]] = {}
        self._solved: set[tuple[int, int]] = set()
        self._solve(root._replace(weights=()), 0)

    def choose(self, state: State) -> Choice:
        """Return the best next test of a state that is not proven."""
        weight = sum(state.weights)
        place = sum(
            steps[digit - 1]
            for number, steps in self._steps.items()
            if (digit := self._numbers.digit(state, number))
        )
        options = [
            (check, charge * weight + sum([after[place + step] for step in steps]))
            for check, charge, steps, after in self._moves(state)
        ]
        return first_of_least(options, self._numbers.terms.unproven_minutes * weight, TOLERANCE * weight)

    def _moves(self, state: State) -> list[_Move]:
        """Return the tests to choose from in a state."""
        return [
            _Move(
                check,
                charge,
                self._steps[check.number],
                self._values_with(self._numbers.done(state, check)[0]),
            )
            for check, charge in self._numbers.charges(state)
        ]

    def _values_with(self, opened: int) -> list[float]:
        """Return the values of all states in which this is open, by their number; 0 where it is proven, or not known yet."""
        if opened not in self._values:
            self._values[opened] = [0.0] * len(self._open)
        return self._values[opened]

    def _solve(self, stage: State, done: int) -> None:
        """Work out all states in which the same was done and is open, after all that can follow them.

        `stage` tells what is open and left; its weights say nothing.
        """
        if (done, stage.opened) in self._solved:
            return
        self._solved.add((done, stage.opened))
        for check in self._numbers.left(stage):
            opened, left, touched = self._numbers.done(stage, check)
            self._solve(State((), 0, opened, left, touched, 0), done | 1 << check.number)
        moves = [move[1:] for move in self._moves(stage)]
        values, open_weights = self._values_with(stage.opened), self._open
        unproven = self._numbers.terms.unproven_minutes
        for place in self._states[done]:
            weight = open_weights[place]
            if weight:
                least = unproven * weight
                for charge, steps, after in moves:
                    value = charge * weight
                    for step in steps:
                        value += after[place + step]
                    if value < least:
                        least = value
                values[place] = least
