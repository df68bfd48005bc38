"""Where a diagnosis stands, and what a test makes of it: the numbers every way of planning is built on.

This is the whole contract of a plan; what computes plans elsewhere follows it word for word.

**Causes** c have the weight w_c: the prior times the likelihoods of all results seen. W is the sum of the weights, and
w_c / W the chance. `something-else` is a cause like the others, but it is never proven.

**Speaks.** A class r of results of a test t speaks for a cause c when L(t,c,r) > 0 and
L(t,c,r) ≥ `speaks_for` · the greater of L(t,something-else,r) and M, with L summed over the results of the class. M is
what the other causes make of it together: Σ_k prior_k·L(t,k,r) over all k but c, divided by the sum of these priors
(0 when that is 0). So a cause that is likely beforehand is not proven by a result that fits the others as well. A cause is *shown* when
some result seen speaks for it: never by elimination alone, for something else cannot be excluded.

**Proven.** A state is proven when a shown cause has w_c ≥ (`proven_at` − 1e-9) · W. Testing stops there.

**Tests to choose from** are those not done and not out of reach ("couldn't check"); a test that needs the machine as
found only while no other kind of test has been done. A test done again would not be independent, so it never is.

**Minutes.** `opened` is the set of preparations and states in force, at the beginning those the model names. A test needs its `access`;
the first test that is not `as_found` needs the model's `start` as well. It costs its own minutes and those of what it
needs and is not opened; an `as_found` test costs its own minutes only and opens nothing. Afterwards what it needs is
opened too; after a test that `runs` the machine nothing is: it must be made safe again, and what was open was closed for it.

**Value** of a state, in minutes: V = 0 when proven, else the least of
    `unproven_minutes`, for stopping without a proof, and
    over the tests: minutes(t) + `live_minutes` if t is live + Σ_r P(r) · V(state after r), with P(r) = Σ_c w_c·L(t,c,r) / W.
Classes with P(r) ≤ 1e-12 are left out. Minutes told to people hold neither `live_minutes` nor `unproven_minutes`.

**Ties.** Choices stand in this order: stop; quiet tests by id; live tests by id; quiet trials by id; live trials by id.
The first one whose value is within 1e-9 minutes of the least is taken.

**Which method.** The plan is exact when the product of (number of classes + 1) over the tests left, times the number of
different `access` sets (without the empty one, at least 1) of those that do not run the machine when one left does, is at
most `exact_size`; else it is by look-ahead (`lookahead.py`).
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from functools import reduce
from math import prod
from operator import mul, or_
from typing import Final, NamedTuple

from shearpin.diagnosis.bits import Places, WeightsOf
from shearpin.diagnosis.model import DiagnosisModel, TestModel
from shearpin.diagnosis.priors import SOMETHING_ELSE

TOLERANCE: Final = 1e-9
IMPOSSIBLE: Final = 1e-12

_new: Final = tuple.__new__  # a third of the time of asking the class


class ClassOfResults(NamedTuple):
    """Results that mean the same: the column of likelihoods by cause, and the bits of the causes it speaks for."""

    results: tuple[str, ...]
    column: tuple[float, ...]
    speaks: int


@dataclass(frozen=True, slots=True)
class Check:
    """A test made ready for computing: bits instead of names. `speaks` are the causes any of its results speaks for."""

    id: str
    number: int
    minutes: float
    needs: int
    live: bool
    runs: bool
    as_found: bool
    classes: tuple[ClassOfResults, ...]
    speaks: int


class State(NamedTuple):
    """Where a diagnosis stands; a tuple, for tens of thousands are made for a plan.

    `weights` are not normalised: their sum is the chance of getting here. `shown` are bits of causes, `opened` bits of
    preparations, `left` bits of the tests still to choose from. `key` tells states apart by what was done and seen.
    """

    weights: tuple[float, ...]
    shown: int
    opened: int
    left: int
    touched: bool
    key: int


class Numbers:
    """A model made ready for computing. `checks` stand in the order in which ties are broken; `as_found` are bits."""

    def __init__(self, model: DiagnosisModel) -> None:
        self.model = model
        self.terms = model.terms
        self.causes = tuple(cause for cause in model.priors if cause != SOMETHING_ELSE)
        self._order = (*self.causes, SOMETHING_ELSE)
        self._priors = tuple(model.priors.get(cause, 0.0) for cause in self._order)
        self.access = tuple(model.access_minutes)
        self.access_minutes = tuple(model.access_minutes.values())
        tests = sorted(model.tests, key=lambda test: (test.trial, test.live, test.id))
        self.checks = tuple(self._check(number, test) for number, test in enumerate(tests))
        self.number_of: Mapping[str, int] = {check.id: check.number for check in self.checks}
        self._start = self._bits(model.start)
        self.as_found = sum(1 << check.number for check in self.checks if check.as_found)
        self._places = _places(self.checks)
        self._minutes_of: dict[int, float] = {0: 0.0}
        self.places = Places(len(self.causes))
        self.weights_of = WeightsOf(self.places)
        self._left_of: dict[int, tuple[Check, ...]] = {}
        self._charges_of: dict[tuple[int, int, bool], tuple[tuple[Check, float], ...]] = {}
        self.proven_share = model.terms.proven_at - TOLERANCE

    def beginning(self, left: Collection[str] | None = None) -> State:
        """Return the state before any test; `left` are the ids of the tests to choose from, all when None."""
        bits = sum(1 << check.number for check in self.checks if left is None or check.id in left)
        return State(self._priors, 0, self._bits(self.model.opened), bits, False, 0)

    def needs(self, state: State, check: Check) -> int:
        """Return the bits of what must be opened for a test and is not."""
        if check.as_found:
            return 0
        return (check.needs | (0 if state.touched else self._start)) & ~state.opened

    def names(self, bits: int) -> tuple[str, ...]:
        """Return the names of preparations and states."""
        return tuple(name for place, name in enumerate(self.access) if bits >> place & 1)

    def minutes(self, state: State, check: Check) -> float:
        """Return the minutes of a test in a state, its share of opening included."""
        return check.minutes + self.opening_minutes(self.needs(state, check))

    def opening_minutes(self, bits: int) -> float:
        """Return the minutes of opening these preparations and states."""
        known = self._minutes_of.get(bits)
        if known is None:
            known = sum(m for place, m in enumerate(self.access_minutes) if bits >> place & 1)
            self._minutes_of[bits] = known
        return known

    def charge(self, state: State, check: Check) -> float:
        """Return what a test counts when plans are compared: its minutes, and the surcharge of a live one."""
        return self.minutes(state, check) + (self.terms.live_minutes if check.live else 0.0)

    def charges(self, state: State) -> tuple[tuple[Check, float], ...]:
        """Return the tests still to choose from with their charges, in the order of ties."""
        _, _, opened, left, touched, _ = state
        key = (left, opened, touched)
        known = self._charges_of.get(key)
        if known is None:
            # Word for word what `charge` says; thousands of sets of tests are priced for a plan that looks ahead.
            closed, start, extra = ~opened, 0 if touched else self._start, self.terms.live_minutes
            minutes = self.opening_minutes
            known = self._charges_of[key] = tuple(
                (check, check.minutes + minutes(needs & closed) + (extra if check.live else 0.0))
                for check in self.left(state)
                for needs in (0 if check.as_found else check.needs | start,)
            )
        return known

    def after(self, state: State, check: Check, result: int) -> State:
        """Return the state after the class of results numbered `result` was seen."""
        seen = check.classes[result]
        weights = tuple(map(mul, state.weights, seen.column))
        key = state.key + self._places[check.number] * (result + 1)
        return State(weights, state.shown | seen.speaks, *self.done(state, check), key)

    def open_after(self, state: State, check: Check, weight: float) -> list[tuple[State, float]]:
        """Return the states a test leads to in which nothing is proven yet, with their weights.

        `weight` is that of `state`; what is as good as impossible is left out.
        """
        opened, left, touched = self.done(state, check)
        before, seen, _, _, _, key = state
        least, place = IMPOSSIBLE * weight, self._places[check.number]
        proven, weights_of = self.proven_share, self.weights_of
        found = []
        # Nothing is called that need not be: most of the time of a plan is spent here.
        for _, column, speaks in check.classes:
            key += place
            weights = tuple(map(mul, before, column))
            share, shown = sum(weights), seen | speaks
            proves = shown and max(weights_of[shown](weights)) >= proven * share
            if share > least and not proves:
                found.append((_new(State, (weights, shown, opened, left, touched, key)), share))
        return found

    def done(self, state: State, check: Check) -> tuple[int, int, bool]:
        """Return what is opened and left after a test, and whether the machine was touched."""
        left = state.left & ~(1 << check.number)
        if check.as_found:
            return state.opened, left, state.touched
        opened = 0 if check.runs else state.opened | self.needs(state, check)
        return opened, left & ~self.as_found, True

    def digit(self, state: State, number: int) -> int:
        """Return 0 when the test of this number is not done, else one more than the number of the class that was seen."""
        return state.key // self._places[number] % (len(self.checks[number].classes) + 1)

    def is_proven(self, state: State) -> bool:
        """Tell whether a cause that was shown has the chance of a proof."""
        return self.shown_weight(state.weights, state.shown) >= self.proven_share * sum(state.weights)

    def shown_weight(self, weights: Sequence[float], shown: int) -> float:
        """Return the largest weight of a cause whose bit is in `shown`, 0 when there is none."""
        return max(self.weights_of[shown](weights)) if shown else 0.0

    def proven_cause(self, state: State) -> str | None:
        """Return the cause that is proven, if one is."""
        if not self.is_proven(state):
            return None
        best = max((w, -place) for place, w in enumerate(state.weights) if state.shown >> place & 1)
        return self.causes[-best[1]]

    def left(self, state: State) -> tuple[Check, ...]:
        """Return the tests still to choose from, in the order of ties."""
        known = self._left_of.get(state.left)
        if known is None:
            known = tuple([check for check in self.checks if state.left >> check.number & 1])
            self._left_of[state.left] = known
        return known

    def size(self, state: State) -> int:
        """Return about the most states an exact plan can have to look at.

        What is open follows from what was done, but where a test that runs the machine closes everything: then what the
        tests since need is open, which doubles and trebles the states (measured: never above this product).
        """
        left = self.left(state)
        opening = {check.needs for check in left if check.needs and not check.runs}
        ways = max(1, len(opening)) if any(check.runs for check in left) else 1
        return ways * prod(len(check.classes) + 1 for check in left)

    def class_of(self, test_id: str, result: str) -> int:
        """Return the number of the class a result belongs to; raises `KeyError` or `ValueError` for unknown ones."""
        check = self.checks[self.number_of[test_id]]
        for number, known in enumerate(check.classes):
            if result in known.results:
                return number
        raise ValueError(f"{test_id} has no result {result}")

    def _bits(self, names: Sequence[str]) -> int:
        return sum(1 << self.access.index(name) for name in dict.fromkeys(names))

    def _check(self, number: int, test: TestModel) -> Check:
        names: dict[int, list[str]] = {}
        columns: dict[int, list[float]] = {}
        for index, (name, group) in enumerate(zip(test.results, test.classes, strict=True)):
            shares = [test.likelihood[cause][index] for cause in self._order]
            names.setdefault(group, []).append(name)
            before = columns.get(group)
            columns[group] = [a + b for a, b in zip(before, shares, strict=True)] if before else shares
        classes = tuple(
            ClassOfResults(tuple(names[group]), tuple(column), self._speaks(column))
            for group, column in columns.items()
        )
        return Check(
            test.id,
            number,
            test.minutes,
            self._bits(test.access),
            test.live,
            test.runs,
            test.as_found,
            classes,
            reduce(or_, [known.speaks for known in classes]),
        )

    def _speaks(self, column: Sequence[float]) -> int:
        priors = self._priors
        shares = list(map(mul, priors, column))
        bits, least = 0, self.terms.speaks_for
        for place, share in enumerate(column[:-1]):
            if share <= 0.0 or share < least * column[-1]:
                continue
            rest = sum([*priors[:place], *priors[place + 1 :]])
            mixture = sum([*shares[:place], *shares[place + 1 :]]) / rest if rest > 0.0 else 0.0
            if share >= least * mixture:
                bits |= 1 << place
        return bits


def _places(checks: Sequence[Check]) -> tuple[int, ...]:
    """Return the place values of a mixed-radix number with a digit for each test: 0 not done, else class + 1."""
    places, value = [], 1
    for check in checks:
        places.append(value)
        value *= len(check.classes) + 1
    return tuple(places)
