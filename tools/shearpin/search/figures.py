"""Figures as index terms, so that "18 ft lb" finds 24 ± 2 N·m: a dimension and two digits of its value in the SI unit.

A record has a term for every two-digit step of its range; a query asks for its figure and those next to it.
"""

from __future__ import annotations

import re
from typing import Final

from shearpin.model.quantity_value import Quantity
from shearpin.model.units import unit_named
from shearpin.search import tables
from shearpin.search.document import FIGURE_MARK
from shearpin.search.figure_units import DIMENSIONS

# A range of more steps is told by its ends.
_MOST_STEPS: Final = 60
_SCIENTIFIC: Final = re.compile(r"([0-9])(?:\.([0-9]))?e([-+][0-9]+)")

_DIMENSIONS: Final = {kind: name for name, kinds in DIMENSIONS.items() for kind in kinds}


def figure_terms(quantity: Quantity) -> list[str]:
    """Terms of a record's quantity; none for kinds that nobody asks for by figure, or a value of zero or less."""
    dimension = _DIMENSIONS.get(quantity.kind)
    bounds = [bound for bound in (quantity.low, quantity.high) if bound is not None]
    if dimension is None or not bounds:
        return []
    unit = unit_named(quantity.kind, quantity.unit)
    values = [float(unit.to_base(bound)) for bound in bounds]
    if min(values) <= 0:
        return []
    first, last = _step(values[0]), _step(values[-1])
    steps = [first]
    while steps[-1] != last and len(steps) < _MOST_STEPS:
        digits, power = steps[-1]
        steps.append((digits + 1, power) if digits < 99 else (10, power + 1))
    if steps[-1] != last:
        steps = [first, last]
    return [_term(dimension, step) for step in steps]


def asked_terms(number: str, unit: str) -> tuple[str, ...]:
    """Terms for a number of a query and the unit token after it; none for units that are not asked for by figure."""
    found = tables.FIGURE_UNITS.get(unit)
    over, _, under = number.partition("/")
    if found is None or (under and not int(under)):
        return ()
    dimension, factor = found
    value = float(over) / float(under or "1") * factor
    if not value:
        return ()
    return tuple(dict.fromkeys(_term(dimension, _step(value * near)) for near in tables.FIGURES_NEAR))


def _step(value: float) -> tuple[int, int]:
    """Two digits and the power of ten of the first; a hair above, so that halves round alike everywhere."""
    match = _SCIENTIFIC.fullmatch(f"{value * tables.FIGURE_NUDGE:.1e}")
    assert match is not None  # that is how Python prints it
    return int(match[1] + (match[2] or "0")), int(match[3])


def _term(dimension: str, step: tuple[int, int]) -> str:
    digits, power = step
    return f"{dimension}{FIGURE_MARK}{digits}e{power}"
