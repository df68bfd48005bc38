"""A value no plan can be better than, from what the tests left could prove at best."""

from __future__ import annotations

from shearpin.diagnosis.state import Numbers, State


class LowerBound:
    """Lower bounds of values, in minutes times weight.

    Of all cases in a state of weight W, those that end in a proof of cause c weigh at most w_c / `proven_at`, for w_c is
    all there is of c and at least that share of every proof. Each of them has paid for a test that speaks for c, or for
    any test when c was shown before; every other case has paid `unproven_minutes`. The cheapest way to share out W is a
    lower bound: the cheapest proofs first.
    """

    def __init__(self, numbers: Numbers) -> None:
        self._numbers = numbers
        self._covers: dict[tuple[int, int, bool], tuple[tuple[float, int], ...]] = {}

    def of(self, state: State, weight: float) -> float:
        """Return a lower bound of a state that is not proven."""
        weights, shown = state.weights, state.shown
        share, places = self._numbers.proven_share, self._numbers.places
        rest, cost, seen = weight, 0.0, 0
        for minutes, causes in self._cover(state):
            new = causes & ~seen if seen else causes | shown
            if not new:
                continue
            seen |= new
            most = sum([weights[place] for place in places[new]]) / share
            if most >= rest:
                return cost + minutes * rest
            cost += minutes * most
            rest -= most
        return cost + self._numbers.terms.unproven_minutes * rest

    def one_step(self, state: State) -> float:
        """Return a sharper bound: the best first test, with the bound of every state it leads to."""
        weight = sum(state.weights)
        least = self._numbers.terms.unproven_minutes * weight
        for check, charge in self._numbers.charges(state):
            value = charge * weight
            for after, share in self._numbers.open_after(state, check, weight):
                value += self.of(after, share)
            least = min(least, value)
        return least

    def _cover(self, state: State) -> tuple[tuple[float, int], ...]:
        """Return falling-due minutes and the causes the tests of these minutes speak for, the cheapest first.

        A test costs at least what it costs now: what another test opens meanwhile, that other test has paid for.
        """
        key = (state.left, state.opened, state.touched)
        known = self._covers.get(key)
        if known is None:
            numbers = self._numbers
            priced = sorted((charge, check.speaks) for check, charge in numbers.charges(state))
            limit = numbers.terms.unproven_minutes
            known = self._covers[key] = tuple(pair for pair in priced if pair[0] < limit)
        return known
