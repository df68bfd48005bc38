"""What a printed figure may stand for: half of its last digit either way."""

from __future__ import annotations

from fractions import Fraction

from shearpin.model.quantity import Quantity
from shearpin.model.units import unit_named


def printed_span(bound: Fraction, quantity: Quantity, unit: str) -> tuple[Fraction, Fraction]:
    """Return the lowest and highest figure, in a unit, that round to a bound of a quantity as it is printed.

    `70 mm` is anything from 69.5 to 70.5 mm, `70.0 mm` from 69.95 to 70.05 mm; a common fraction is exact.
    Errors: KeyError for a unit of another kind.
    """
    half = Fraction(0) if quantity.decimals is None else Fraction(1, 2 * 10**quantity.decimals)
    source, target = unit_named(quantity.kind, quantity.unit), unit_named(quantity.kind, unit)
    return target.from_base(source.to_base(bound - half)), target.from_base(source.to_base(bound + half))


def printed_range(quantity: Quantity, unit: str) -> tuple[float, float] | None:
    """Return between what a quantity as printed lies, in a unit; None for a limit, which has one side only."""
    if quantity.low is None or quantity.high is None:
        return None
    return (
        float(printed_span(quantity.low, quantity, unit)[0]),
        float(printed_span(quantity.high, quantity, unit)[1]),
    )
