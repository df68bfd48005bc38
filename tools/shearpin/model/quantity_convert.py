"""Converts a quantity, rounding inward, and pairs it with the usual unit of the other system."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from functools import cache
from types import MappingProxyType

from shearpin.model.quantity_value import (
    Quantity,
    WrongKind,
    number_text,
    range_text,
    with_unit,
)
from shearpin.model.units import QuantityKind, Unit, unit_named

# A range may lose a quarter of its width to inward rounding, a single number may move by a fiftieth: beyond
# that one more digit is shown. A fiftieth is half of what ISO 6789 grants a hand torque tool (4 %; from
# memory).
_MOST_WIDTH_LOST = Fraction(1, 4)
_MOST_MOVED = Fraction(1, 50)
_FRACTION_DIGITS = 3  # a common fraction is exact; three digits are what a caliper or a rule shows of it

_K = QuantityKind
# The usual unit of the other system; with a limit (in the source unit) and a second unit from that limit on.
_Counterpart = tuple[str] | tuple[str, int, str]
_COUNTERPARTS: Mapping[tuple[QuantityKind, str], _Counterpart] = MappingProxyType(
    {
        (_K.TORQUE, "N·m"): ("lbf·in", 15, "lbf·ft"),
        (_K.TORQUE, "N·cm"): ("lbf·in",),
        (_K.TORQUE, "kgf·m"): ("lbf·ft",),
        (_K.TORQUE, "kgf·cm"): ("lbf·in",),
        (_K.TORQUE, "lbf·ft"): ("N·m",),
        (_K.TORQUE, "lbf·in"): ("N·m",),
        (_K.TORQUE, "ozf·in"): ("N·m",),
        (_K.LENGTH, "mm"): ("in",),
        (_K.LENGTH, "cm"): ("in",),
        (_K.LENGTH, "m"): ("ft",),
        (_K.LENGTH, "μm"): ("in",),
        (_K.LENGTH, "in"): ("mm",),
        (_K.LENGTH, "thou"): ("mm",),
        (_K.LENGTH, "ft"): ("m",),
        (_K.VOLUME, "mL"): ("US fl oz", 1000, "US qt"),
        (_K.VOLUME, "cm³"): ("US fl oz", 1000, "US qt"),
        (_K.VOLUME, "L"): ("US qt", 4, "US gal"),
        (_K.VOLUME, "in³"): ("mL",),
        **{(_K.VOLUME, f"{land} {part}"): (metric,)
           for land in ("US", "imp")
           for part, metric in (("fl oz", "mL"), ("pt", "mL"), ("qt", "L"), ("gal", "L"))},
        (_K.DISPLACEMENT, "cm³"): ("in³",),
        (_K.DISPLACEMENT, "L"): ("in³",),
        (_K.DISPLACEMENT, "mL"): ("in³",),
        (_K.DISPLACEMENT, "in³"): ("cm³",),
        **{(_K.PRESSURE, metric): ("psi",) for metric in ("kPa", "bar", "mbar", "MPa", "kgf/cm²")},
        **{(_K.PRESSURE, us): ("kPa",) for us in ("psi", "inHg", "inH₂O")},
        (_K.STRESS, "MPa"): ("ksi",),
        (_K.STRESS, "N/mm²"): ("ksi",),
        (_K.STRESS, "psi"): ("MPa",),
        (_K.STRESS, "ksi"): ("MPa",),
        (_K.SPEED, "km/h"): ("mph",),
        (_K.SPEED, "mph"): ("km/h",),
        (_K.SPEED, "m/s"): ("ft/min",),
        (_K.SPEED, "ft/min"): ("m/s",),
        (_K.SPEED, "ft/s"): ("m/s",),
        (_K.TEMPERATURE, "°C"): ("°F",),
        (_K.TEMPERATURE, "°F"): ("°C",),
        (_K.TEMPERATURE_DIFFERENCE, "°C"): ("°F",),
        (_K.TEMPERATURE_DIFFERENCE, "°F"): ("°C",),
        (_K.TEMPERATURE_DIFFERENCE, "K"): ("°F",),
        (_K.MASS, "kg"): ("lb",),
        (_K.MASS, "g"): ("oz",),
        (_K.MASS, "lb"): ("kg",),
        (_K.MASS, "oz"): ("g",),
        **{(_K.FORCE, metric): ("lbf",) for metric in ("N", "kN", "kgf")},
        **{(_K.FORCE, us): ("N",) for us in ("lbf", "ozf")},
        (_K.POWER, "kW"): ("hp",),
        (_K.POWER, "hp"): ("kW",),
        (_K.POWER, "PS"): ("kW",),
        (_K.AREA, "mm²"): ("in²",),
        (_K.AREA, "cm²"): ("in²",),
        (_K.AREA, "m²"): ("ft²",),
        (_K.AREA, "in²"): ("mm²",),
        (_K.AREA, "ft²"): ("m²",),
        (_K.CONCENTRATION, "mL/L"): ("US fl oz/US gal",),
        (_K.FLOW, "L/min"): ("US gal/min",),
        (_K.FLOW, "US gal/min"): ("L/min",),
        (_K.FLOW, "L/h"): ("US gal/min",),
        (_K.FLOW, "m³/h"): ("US gal/min",),
        (_K.CONCENTRATION, "US fl oz/US gal"): ("mL/L",),
        (_K.CONCENTRATION, "imp fl oz/imp gal"): ("mL/L",),
    }
)  # fmt: skip


@cache  # few figures stand on many pages
def dual_parts(quantity: Quantity) -> tuple[str, str | None]:
    """Return the quantity as its source gives it, and converted to the other system (None: of no use)."""
    counterpart = _COUNTERPARTS.get((quantity.kind, quantity.unit))
    if counterpart is None:
        return quantity.text, None
    symbol = counterpart[0]
    if len(counterpart) == 3 and _largest(quantity.low, quantity.high) >= counterpart[1]:
        symbol = counterpart[2]
    return quantity.text, convert(quantity, symbol).text


def dual_text(quantity: Quantity) -> str:
    """Return `24 ± 2 N·m (16.3–19.1 lbf·ft)`: the source first, the converted value in parentheses."""
    source, converted = dual_parts(quantity)
    return source if converted is None else f"{source} ({converted})"


def convert(quantity: Quantity, symbol: str) -> Quantity:
    """Return the quantity in the unit of this symbol, with the digits that the source has.

    A range or a limit is rounded inward: nothing that the converted one allows is forbidden by the source. A
    single number is rounded to the nearest, halves away from zero. One more digit is taken as often as needed
    to keep a range from closing (or losing more than a quarter of its width) and a number from moving by more
    than 2 %. A tolerance becomes the range it stands for. Raises WrongKind for a unit that the kind does not
    have.
    """
    if symbol == quantity.unit:
        return quantity
    try:
        target = unit_named(quantity.kind, symbol)
    except KeyError:
        raise WrongKind(
            f"`{symbol}` is no unit of {quantity.kind.words}", 0, "choose a unit of that kind"
        ) from None
    low, high = quantity.exact_bounds_in(symbol)
    exponent = _first_exponent(quantity, _largest(low, high))
    while True:
        step = Fraction(10) ** exponent
        new_low, new_high = _rounded(low, high, step)
        if _is_close(quantity.kind, low, high, new_low, new_high):
            return _converted(target, new_low, new_high, max(0, -exponent))
        exponent -= 1


def _first_exponent(quantity: Quantity, largest: Fraction) -> int:
    """Return the power of ten of the last digit to show: as many significant digits as the source carries.

    Significant digits mean nothing where zero is a mark on a scale, so temperatures keep their decimals
    instead.
    """
    decimals = quantity.decimals
    if quantity.kind is QuantityKind.TEMPERATURE or not largest:
        return -(decimals or 0)
    if decimals is None:
        digits = _FRACTION_DIGITS
    else:
        digits = len(str(int(_largest(quantity.low, quantity.high) * 10**decimals)))
    return _floor_log10(largest) - digits + 1


def _rounded(
    low: Fraction | None, high: Fraction | None, step: Fraction
) -> tuple[Fraction | None, Fraction | None]:
    if low is not None and low == high:
        nearest = (abs(low) / step + Fraction(1, 2)) // 1 * step
        value = -nearest if low < 0 else nearest
        return value, value
    new_low = None if low is None else -(-low // step) * step
    new_high = None if high is None else high // step * step
    return new_low, new_high


def _is_close(
    kind: QuantityKind,
    low: Fraction | None,
    high: Fraction | None,
    new_low: Fraction | None,
    new_high: Fraction | None,
) -> bool:
    """Tell whether the rounded bounds say nearly the same as the exact ones."""
    pairs = [(e, r) for e, r in ((low, new_low), (high, new_high)) if e is not None and r is not None]
    if len(pairs) == 2 and low != high:
        (exact_low, rounded_low), (exact_high, rounded_high) = pairs
        lost = (rounded_low - exact_low) + (exact_high - rounded_high)
        return lost <= (exact_high - exact_low) * _MOST_WIDTH_LOST
    return kind is QuantityKind.TEMPERATURE or all(abs(r - e) <= abs(e) * _MOST_MOVED for e, r in pairs)


def _converted(unit: Unit, low: Fraction | None, high: Fraction | None, decimals: int) -> Quantity:
    shown = [number_text(bound, decimals) for bound in (low, high) if bound is not None]
    text = with_unit(shown[0], unit, _largest(low, high))
    nominal = None
    if low is None:
        text = f"≤ {text}"
    elif high is None:
        text = f"≥ {text}"
    elif low == high:
        nominal = low
    else:
        text = with_unit(range_text(*shown), unit, high)
    return Quantity(unit.kind, unit.symbol, text, low, high, nominal, decimals)


def _largest(low: Fraction | None, high: Fraction | None) -> Fraction:
    return max((abs(bound) for bound in (low, high) if bound is not None), default=Fraction(0))


def _floor_log10(value: Fraction) -> int:
    """Return the exponent of the leading digit of a positive number, exactly."""
    exponent = len(str(value.numerator)) - len(str(value.denominator))
    return exponent if Fraction(10) ** exponent <= value else exponent - 1
