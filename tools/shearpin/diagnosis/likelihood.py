"""How likely each result of a test is under each cause, and which results mean the same for the causes at hand."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache
from typing import Final

from shearpin.model.steps import Test

_ALIKE: Final = 1e-9  # columns closer than this, scaled to sum to one, are one
_UNNAMED: Final = ""  # no record has this id
_FIXED, _FIXED_BY_CHANCE = 0.98, 0.02
"""How often a trial repair is followed by a good function test: under a cause it cures, and under another. Ours."""


def likelihood_row(test: Test, cause: str) -> tuple[float, ...]:
    """Return the chance of each result of a test under one cause; sums to one.

    What a result does not say is taken from its `otherwise`; where that is missing too, the results without a
    statement share what remains. Words are scaled so that the row sums to one.
    """
    stated = [result.given.get(cause) or result.otherwise for result in test.results]
    numbers = [chance.number if chance is not None else None for chance in stated]
    open_count = numbers.count(None)
    if open_count:
        known = sum([number for number in numbers if number is not None])
        # Without a remainder a silent result keeps a trace, so that no reading is ever impossible.
        share = max(1.0 - known, 0.02) / open_count
        row = [number if number is not None else share for number in numbers]
    else:
        row = [number for number in numbers if number is not None]
    whole = sum(row)
    return tuple([number / whole if whole else 1.0 / len(row) for number in row])


def likelihood_rows(test: Test, causes: Iterable[str]) -> dict[str, tuple[float, ...]]:
    """Return the row of each cause; causes that no result names share one, which is worked out once."""
    named = {cause for result in test.results for cause in result.given}
    others = likelihood_row(test, _UNNAMED)
    return {cause: likelihood_row(test, cause) if cause in named else others for cause in causes}


def trial_row(cures: bool) -> tuple[float, float]:
    """Return the chances of `cured` and `not-cured` after a trial repair, under a cause it cures or another."""
    share = _FIXED if cures else _FIXED_BY_CHANCE
    return share, 1.0 - share


def classes_of(rows: Mapping[str, Sequence[float]]) -> tuple[int, ...]:
    """Return for each result the number of its class, counted from 0 in order of first appearance.

    Results are of one class when they are in the same proportion under every cause of `rows`: they change no chance
    differently, so a plan needs to tell only classes apart. Results that no cause can show form a class too.
    """
    return _classes_of(tuple(map(tuple, rows.values())))


@lru_cache(maxsize=64)
def _classes_of(rows: tuple[tuple[float, ...], ...]) -> tuple[int, ...]:
    """Return the classes for rows alone; whoever builds a model asks again soon."""
    found: list[tuple[float, ...]] = []
    classes = []
    for column in zip(*rows, strict=True):
        whole = sum(column) or 1.0
        scaled = tuple([share / whole for share in column])
        same = (number for number, other in enumerate(found) if _nearly_same(scaled, other))
        number = next(same, len(found))
        if number == len(found):
            found.append(scaled)
        classes.append(number)
    return tuple(classes)


def _nearly_same(one: Sequence[float], other: Sequence[float]) -> bool:
    for a, b in zip(one, other, strict=True):  # noqa: SIM110 `all` takes twice as long
        if not -_ALIKE < a - b < _ALIKE:
            return False
    return True
