"""The bounded plan: one test ahead by full account, the rule of chance per minute from there on.

**Rule of chance per minute.** For a test t in a state: p = Σ_r P(r) over the classes that lead to a proof;
s = the largest chance of a shown cause (0 when none is shown); g = max(0, Σ_r P(r)·s(after r) − s(now)). With the charge c of
`state.py` (minutes, and `live_minutes` for a live test) its rate is (p + 0.2·g) / max(c, 0.1). It is worth its minutes when
(p + 5·g) · `unproven_minutes` > c. The rule takes the test of the highest rate among those worth it, the first in the order
of ties among rates within 1e-9; without one, or when following it costs more than stopping, it stops.
With tests that each show one cause for certain this is falling p/c, proven best there (Kadane and Simon, Annals of
Statistics 5, 1977).

**Value by the rule** of a state: 0 when proven; with a weight below `smallest_branch` of the weight of the state that is
planned for, 0.6 · `unproven_minutes` times its weight, and no further look; else by following the rule, or stopping if that
is less.

**Look-ahead.** Of the `candidates` tests with the highest rates, worth it or not (compared as whole multiples of 1e-9, equal
ones in the order of ties), and of the tests that need the machine as found and are worth their minutes, the one with the least value c + Σ_r P(r) ·
value (after r) is taken, or stopping; ties as in `state.py`. The value after r is by the rule; but after a test that needs the
machine as found it is by look-ahead again (0 when proven, the same 0.6 · `unproven_minutes` below `smallest_branch`), for such
tests cannot be put off. This is one step of policy improvement (Howard, Dynamic
Programming and Markov Processes, 1960; from memory): never worse than the rule itself.
"""

from __future__ import annotations

from collections.abc import Callable
from math import floor
from operator import mul
from typing import Final, NamedTuple

from shearpin.diagnosis.choice import Choice, first_of_least
from shearpin.diagnosis.state import IMPOSSIBLE, TOLERANCE, Check, Numbers, State

METHOD: Final = "look-ahead"
_SHOWN_COUNTS: Final = (
    0.2  # what raising the shown cause counts beside proving it; found by trial against exact plans
)
_SHOWN_WORTH: Final = 5.0
_LEAST_CHARGE: Final = 0.1
_SMALL_BRANCH_COST: Final = 0.6


class Rated(NamedTuple):
    """A test as the rule sees it."""

    check: Check
    rate: float
    worth: bool


class LookAheadPlanner:
    """Chooses by look-ahead where it is asked, and by the rule beyond; one is made for the state that is planned for."""

    method: Final = METHOD

    def __init__(self, numbers: Numbers, root: State) -> None:
        self._numbers = numbers
        self._floor = numbers.terms.smallest_branch * sum(root.weights)
        self._followed: dict[tuple[int, int], Choice] = {}
        self._root = root
        self._ahead: dict[tuple[int, int], Choice] = {}

    def choose(self, state: State) -> Choice:
        """Return the choice in the planned state by look-ahead, in states beyond it by the rule."""
        if state != self._root and (state.touched or not self._numbers.as_found):
            return self.follow(state)
        return self._look_ahead_from(state)

    def _look_ahead_from(self, state: State) -> Choice:
        weight = sum(state.weights)
        if weight < self._floor:
            return Choice(None, _SMALL_BRANCH_COST * self._numbers.terms.unproven_minutes * weight)
        key = (state.key, state.opened)
        known = self._ahead.get(key)
        if known is None:
            known = self._ahead[key] = self._look_ahead(state)
        return known

    def follow(self, state: State) -> Choice:
        """Return what the rule does in a state that is not proven; below the smallest branch it stops."""
        weight = sum(state.weights)
        if weight < self._floor:
            return Choice(None, _SMALL_BRANCH_COST * self._numbers.terms.unproven_minutes * weight)
        key = (state.key, state.opened)
        known = self._followed.get(key)
        if known is None:
            known = self._followed[key] = self._by_rule(state, weight)
        return known

    def rated(self, state: State) -> list[Rated]:
        """Return the tests left with their rates, in the order of ties."""
        numbers, weights, seen = self._numbers, state.weights, state.shown
        weight = sum(weights)
        before = numbers.shown_weight(weights, seen)
        proven_share, least, worth = numbers.proven_share, IMPOSSIBLE * weight, numbers.terms.unproven_minutes
        found = []
        for check in numbers.left(state):
            proves = shows = 0.0
            for known in check.classes:
                bits = seen | known.speaks
                if bits:
                    after = list(map(mul, weights, known.column))
                    shown, share = numbers.shown_weight(after, bits), sum(after)
                    shows += shown
                    if shown >= proven_share * share and share > least:
                        proves += share
            proof, gain = proves / weight, max(0.0, (shows - before) / weight)
            charge = numbers.charge(state, check)
            rate = (proof + _SHOWN_COUNTS * gain) / max(charge, _LEAST_CHARGE)
            found.append(Rated(check, rate, (proof + _SHOWN_WORTH * gain) * worth > charge))
        return found

    def _by_rule(self, state: State, weight: float) -> Choice:
        stop = self._numbers.terms.unproven_minutes * weight
        options = [rated for rated in self.rated(state) if rated.worth]
        top = max((rated.rate for rated in options), default=0.0)
        check = next((r.check for r in options if r.rate >= top - TOLERANCE), None)
        if check is None:
            return Choice(None, stop)
        value = self._value(state, check, weight, self.follow)
        return Choice(check, value) if value < stop else Choice(None, stop)

    def _value(self, state: State, check: Check, weight: float, further: Callable[[State], Choice]) -> float:
        value = self._numbers.charge(state, check) * weight
        for result in range(len(check.classes)):
            after = self._numbers.after(state, check, result)
            share = sum(after.weights)
            if share > IMPOSSIBLE * weight and not self._numbers.is_proven(after):
                value += further(after).value
        return value

    def _look_ahead(self, state: State) -> Choice:
        weight = sum(state.weights)
        rated = sorted(self.rated(state), key=lambda r: (-floor(r.rate / TOLERANCE + 0.5), r.check.number))
        most = self._numbers.terms.candidates
        tried = [r.check for place, r in enumerate(rated) if place < most or (r.check.as_found and r.worth)]
        options = [
            (check, self._value(state, check, weight, self.choose if check.as_found else self.follow))
            for check in tried
        ]
        return first_of_least(options, self._numbers.terms.unproven_minutes * weight, TOLERANCE * weight)
