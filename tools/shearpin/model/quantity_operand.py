"""Reads one value with its unit, and settles the unit that the two values of a range or tolerance share."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import NamedTuple

from shearpin.model.quantity_number import Number, decimal_comma, scan_number
from shearpin.model.quantity_unit import FoundUnit, find_unit, usual_units
from shearpin.model.quantity_value import QuantityError, with_unit
from shearpin.model.units import QuantityKind, Unit, unit_named

_NEXT_NUMBER = re.compile(r" *(?=[0-9.½⅓⅔¼¾⅛⅜⅝⅞])")

# Units that people write one after the other, largest first: 1 h 30 min, 7 ft 6 in, 2 lb 4 oz.
_SEQUENCES = (("day", "h", "min", "s"), ("ft", "in"), ("lb", "oz"))


class Operand(NamedTuple):
    """A number with what is written after it.

    `text` is the canonical number, with its units only when there are several (`is_sequence`). `comma` is as
    in `Number`. Places are indexes into the text; `unit_start` is where the unit stands or should stand.
    """

    value: Fraction
    unit: Unit | None
    text: str
    decimals: int | None
    start: int
    unit_start: int
    end: int
    comma: int
    is_sequence: bool = False


class Settled(NamedTuple):
    """Operands in the unit they share. `is_shared`: the unit is printed once, after the last number."""

    unit: Unit
    values: tuple[Fraction, ...]
    texts: tuple[str, ...]
    decimals: int | None
    is_shared: bool


def scan_operand(text: str, pos: int, kind: QuantityKind | None) -> Operand:
    """Read a number and the unit after it, if one is there. Raises QuantityError."""
    number = scan_number(text, pos)
    found = find_unit(text, number.end, kind)
    if found is None:
        return Operand(
            number.value,
            None,
            number.text,
            number.decimals,
            number.start,
            number.end,
            number.end,
            number.comma,
        )
    sequence = next((s for s in _SEQUENCES if found.unit.symbol in s[:-1]), None)
    if sequence and _NEXT_NUMBER.match(text, found.end):
        return _scan_sequence(text, number, found, sequence)
    return Operand(
        number.value,
        found.unit,
        number.text,
        number.decimals,
        number.start,
        found.start,
        found.end,
        number.comma,
    )


def _scan_sequence(text: str, number: Number, found: FoundUnit, sequence: tuple[str, ...]) -> Operand:
    """Read on after `1 h`: each further part is smaller than one of the unit before it."""
    if number.value < 0:
        raise QuantityError(
            "a value below zero has one unit", number.start, f"write it in `{sequence[-1]}` alone"
        )
    value, unit, end = number.value, found.unit, found.end
    spelt = [with_unit(number.text, unit, value)]
    part, commas = number, [number.comma]
    while unit.symbol != sequence[-1] and _NEXT_NUMBER.match(text, end):
        if part.decimals != 0:
            raise QuantityError("only the last unit takes a fraction", part.start, "write it as `1 h 30 min`")
        part = scan_number(text, end)
        after = find_unit(text, part.end, unit.kind)
        if after is None:
            raise QuantityError(
                f"`{part.text}` has no unit", part.end, "write it as `1 h 30 min` or `7 ft 6 in`"
            )
        if after.unit.symbol not in sequence[sequence.index(unit.symbol) + 1 :]:
            raise QuantityError(
                f"`{after.unit.symbol}` does not go after `{unit.symbol}`",
                after.start,
                "write it in one unit",
            )
        if part.value * after.unit.factor >= unit.factor:
            raise QuantityError(
                f"`{part.text} {after.unit.symbol}` is not less than one `{unit.symbol}`",
                part.start,
                "carry it over to the larger unit",
            )
        value = value * unit.factor / after.unit.factor + part.value
        unit, end = after.unit, after.end
        spelt.append(with_unit(part.text, unit, part.value))
        commas.append(part.comma)
    return Operand(
        value, unit, " ".join(spelt), part.decimals, number.start, found.start, end, max(commas), True
    )


def settle(operands: tuple[Operand, ...], text: str, kind: QuantityKind | None) -> Settled:
    """Return the operands in one unit. Raises QuantityError where units disagree or are missing."""
    units = tuple(dict.fromkeys(operand.unit for operand in operands if operand.unit))
    # Nobody writes a speed of 3.600 rpm or a count of 3.600: there alone one comma parts thousands.
    if kind is not QuantityKind.COUNT and not (units and units[0].kind is QuantityKind.ROTATIONAL_SPEED):
        for operand in operands:
            if operand.comma >= 0:
                raise decimal_comma(text, operand.comma)
    decimals = [operand.decimals for operand in operands]
    finest = None if None in decimals else max(d for d in decimals if d is not None)
    if not units:
        unit = _without_unit(operands, kind)
    elif len(units) > 1 or any(operand.is_sequence for operand in operands):
        return _settle_sequences(operands, finest)
    else:
        unit = units[0]
    return Settled(unit, tuple(o.value for o in operands), tuple(o.text for o in operands), finest, True)


def _settle_sequences(operands: tuple[Operand, ...], finest: int | None) -> Settled:
    """Settle `45 min to 1 h 30 min` in the smallest unit that is written."""
    units = [operand.unit for operand in operands if operand.unit]
    for operand in operands:
        if operand.unit is None:
            raise QuantityError(
                f"`{operand.text}` has no unit", operand.end, "write the unit after each number"
            )
    sequence = next((s for s in _SEQUENCES if all(unit.symbol in s for unit in units)), None)
    if sequence is None:
        raise QuantityError(
            "both numbers need the same unit", operands[-1].unit_start, f"write `{units[0].symbol}`"
        )
    smallest = max(units, key=lambda unit: sequence.index(unit.symbol))
    values = tuple(o.value * u.factor / smallest.factor for o, u in zip(operands, units, strict=True))
    texts = tuple(
        o.text if o.is_sequence else with_unit(o.text, u, o.value)
        for o, u in zip(operands, units, strict=True)
    )
    return Settled(smallest, values, texts, finest, False)


def _without_unit(operands: tuple[Operand, ...], kind: QuantityKind | None) -> Unit:
    """Return the unit of bare numbers. Without a kind, whole ones are a count, others a ratio."""
    broken = next((operand for operand in operands if operand.decimals != 0), None)
    if kind is None:
        kind = QuantityKind.RATIO if broken else QuantityKind.COUNT
    if kind is QuantityKind.COUNT and broken:
        raise QuantityError("a count is a whole number", broken.start, "write a number such as `2`")
    if kind not in (QuantityKind.COUNT, QuantityKind.RATIO):
        last = operands[-1]
        raise QuantityError(f"`{last.text}` has no unit", last.end, usual_units(kind))
    return unit_named(kind, "")
