"""The quantity itself: exact bounds, canonical text, and the error that says why a text is none."""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from shearpin.model.units import QuantityKind, Unit, unit_named

TEXT_KINDS = frozenset({QuantityKind.VISCOSITY_GRADE, QuantityKind.DESIGNATION})
"""Kinds that are names, not numbers."""

# The table counts whole turns, which keeps its factors exact; SI counts radians.
_RADIANS_PER_TURN_KINDS = frozenset({QuantityKind.ANGLE, QuantityKind.ROTATIONAL_SPEED})


class QuantityError(ValueError):
    """A text is not a quantity: what is wrong, at which character (from 0), what to write instead."""

    def __init__(self, message: str, offset: int = 0, hint: str = "") -> None:
        super().__init__(message, offset, hint)
        self.message = message
        self.offset = offset
        self.hint = hint

    def __str__(self) -> str:
        return self.message


class WrongKind(QuantityError):
    """A text is a quantity, but of another kind than the one asked for: pounds where a torque belongs."""


@dataclass(frozen=True, slots=True)
class Quantity:
    """A value, a range or a limit with its unit, as written and exactly.

    `low`, `high` and `nominal` are in `unit`; a missing bound is open. An exact value has all three alike, a
    tolerance has all three, a range has no nominal, a limit has one bound only. `decimals` is the number of
    decimals the writer gave (None: a common fraction), which decides how finely a converted value is shown.
    Kinds that are names carry `text` alone.
    """

    kind: QuantityKind
    unit: str
    text: str
    low: Fraction | None = None
    high: Fraction | None = None
    nominal: Fraction | None = None
    decimals: int | None = None

    def __str__(self) -> str:
        return self.text

    def __hash__(self) -> int:
        return hash(self.text)  # fractions take twenty times as long

    @property
    def low_si(self) -> float | None:
        """Return the lower bound in the coherent SI unit of the kind (N·m, m, m³, Pa, rad/s, K …), if any."""
        return self._si(self.low)

    @property
    def high_si(self) -> float | None:
        """Return the upper bound in the coherent SI unit of the kind, if any."""
        return self._si(self.high)

    @property
    def nominal_si(self) -> float | None:
        """Return the nominal value in the coherent SI unit of the kind; a range or a limit has none."""
        return self._si(self.nominal)

    @property
    def si(self) -> float:
        """Return one number to compute with, in coherent SI: nominal, else middle, else the only bound.

        Raises ValueError for a kind that is a name.
        """
        return self._float(self._single())

    @property
    def minutes(self) -> float:
        """Return a time as one number of minutes. Raises ValueError for any other kind."""
        if self.kind is not QuantityKind.TIME:
            raise ValueError(f"{self.kind.words} has no minutes")
        return self.value_in("min")

    def value_in(self, symbol: str) -> float:
        """Return one number to compute with (see `si`) in a unit. Raises KeyError for one of another kind."""
        return _in_unit(self.kind, self.unit, self._single(), symbol)

    def bounds_in(self, symbol: str) -> tuple[float | None, float | None]:
        """Return both bounds in a unit. Raises KeyError for a unit of another kind."""
        low, high = self.exact_bounds_in(symbol)
        return (None if low is None else float(low), None if high is None else float(high))

    def exact_bounds_in(self, symbol: str) -> tuple[Fraction | None, Fraction | None]:
        """Return both bounds, exactly, in a unit. Raises KeyError for a unit of another kind."""
        if symbol == self.unit:
            return self.low, self.high
        source, target = self._unit(), unit_named(self.kind, symbol)
        low = None if self.low is None else target.from_base(source.to_base(self.low))
        high = None if self.high is None else target.from_base(source.to_base(self.high))
        return low, high

    def contains(self, other: Quantity) -> bool:
        """Tell whether this one allows everything that the other allows. A name contains itself only."""
        if self.kind is not other.kind:
            return False
        if self.kind in TEXT_KINDS:
            return self.text == other.text
        low, high = other.exact_bounds_in(self.unit)
        above = self.low is None or (low is not None and low >= self.low)
        return above and (self.high is None or (high is not None and high <= self.high))

    def _unit(self) -> Unit:
        return unit_named(self.kind, self.unit)

    def _single(self) -> Fraction:
        if self.nominal is not None:
            return self.nominal
        if self.low is not None and self.high is not None:
            return (self.low + self.high) / 2
        bound = self.low if self.high is None else self.high
        if bound is None:
            raise ValueError(f"{self.kind.words} is a name, not a number")
        return bound

    def _si(self, value: Fraction | None) -> float | None:
        return None if value is None else self._float(value)

    def _float(self, value: Fraction) -> float:
        return _in_si(self.kind, self.unit, value)


@lru_cache(maxsize=2048)
def _in_si(kind: QuantityKind, unit: str, value: Fraction) -> float:
    """Return a figure in the SI unit of its kind; the same few stand in many records."""
    base = float(unit_named(kind, unit).to_base(value))
    return base * math.tau if kind in _RADIANS_PER_TURN_KINDS else base


@lru_cache(maxsize=2048)
def _in_unit(kind: QuantityKind, unit: str, value: Fraction, symbol: str) -> float:
    """Return a figure in another unit of its kind; the same few working times stand in many records."""
    return float(unit_named(kind, symbol).from_base(unit_named(kind, unit).to_base(value)))


def number_text(value: Fraction, decimals: int) -> str:
    """Return a number that has no more than these decimals as people read it, with a true minus sign."""
    scaled = int(value * 10**decimals)
    digits = str(abs(scaled)).rjust(decimals + 1, "0")
    whole, part = (digits[:-decimals], digits[-decimals:]) if decimals else (digits, "")
    return ("−" if scaled < 0 else "") + whole + (f".{part}" if part else "")


def with_unit(number: str, unit: Unit, largest: Fraction) -> str:
    """Return number and unit as printed; `largest` decides on the plural of a unit that is a word."""
    symbol = unit.plural if unit.plural and largest > 1 else unit.symbol
    gap = "" if symbol in ("", "°", ":1") else " "
    return f"{number}{gap}{symbol}"


def range_text(low: str, high: str) -> str:
    """Return a range as printed: an en dash, or a word where a minus sign or a space would blur it."""
    return f"{low} to {high}" if "−" in low + high or " " in low + high else f"{low}–{high}"


def readable(part: str) -> str:
    """Return a piece of a writer's text fit for a message: short, its invisible characters by their code."""
    return "".join(c if c.isprintable() else f"U+{ord(c):04X}" for c in part[:40])
