"""Reads a whole quantity: limits, values, ranges and tolerances, and gives each its canonical spelling."""

from __future__ import annotations

import re
from fractions import Fraction

from shearpin.model.quantity_designation import looks_like_grade, parse_designation, parse_grade
from shearpin.model.quantity_number import decimal_comma, plain, scan_number
from shearpin.model.quantity_operand import Operand, Settled, scan_operand, settle
from shearpin.model.quantity_value import Quantity, QuantityError, range_text, readable, with_unit
from shearpin.model.units import QuantityKind

_MAX_TEXT = 200

_MOST = r"(?P<most>max(?:imum\b|\.|(?![a-z]))|{})"
_LEAST = r"(?P<least>min(?:imum\b|\.|(?![a-z]))|{})"
_LIMIT = re.compile(
    f" *(?:{_MOST.format(r'≤|<=|=<|at most|up to|(?:not|no) more than')}"
    f"|{_LEAST.format(r'≥|>=|=>|at least|(?:not|no) less than')})",
    re.IGNORECASE,
)
_LIMIT_AFTER = re.compile(rf" *,? *(?:{_MOST.format('or less')}|{_LEAST.format('or more')})", re.IGNORECASE)
_RANGE = re.compile(r" *(?:-|(?:to|through)\b)", re.IGNORECASE)
_TOLERANCE = re.compile(r" *(?:±|\+ ?/? ?-|plus or minus\b)", re.IGNORECASE)
_PER_CENT = re.compile(r" *(?:%|per ?cent\b|pct\b)", re.IGNORECASE)
_VAGUE = re.compile(r" *(?:[~≈]|(?:about|approx|approximately|around|ca|circa|nearly)\b)", re.IGNORECASE)
_STRICT = re.compile(
    r" *(?:(?P<less><|(?:less than|under|below)\b)|>|(?:more than|over|above)\b)", re.IGNORECASE
)

_PERCENTAGES = ("%", "vol %")

# Kinds in which nothing lies below zero. In the others zero is only a mark: a gauge pressure, an offset, a
# voltage.
_NEVER_NEGATIVE = frozenset(
    {
        QuantityKind.TORQUE,
        QuantityKind.VOLUME,
        QuantityKind.SPEED,
        QuantityKind.ROTATIONAL_SPEED,
        QuantityKind.MASS,
        QuantityKind.RESISTANCE,
        QuantityKind.POWER,
        QuantityKind.TIME,
        QuantityKind.DISPLACEMENT,
        QuantityKind.AREA,
        QuantityKind.CONCENTRATION,
        QuantityKind.COUNT,
        QuantityKind.FLOW,
        QuantityKind.CHARGE,
        QuantityKind.ENERGY,
        QuantityKind.FREQUENCY,
    }
)


def read_quantity(text: str, kind: QuantityKind | None) -> Quantity:
    """Read a quantity of any kind. Raises QuantityError."""
    if kind is QuantityKind.DESIGNATION:
        return parse_designation(text)
    text = plain(text)
    if kind is QuantityKind.VISCOSITY_GRADE or (kind is None and looks_like_grade(text)):
        return parse_grade(text)
    return _read_measure(text, kind)


def _read_measure(text: str, kind: QuantityKind | None) -> Quantity:
    if len(text) > _MAX_TEXT:
        raise QuantityError(
            "the text is too long for a quantity", _MAX_TEXT, "write the value alone, the rest in a note"
        )
    if not text.strip(" "):
        raise QuantityError("the quantity is empty", 0, "write a value such as `24 N·m`")
    limit = _LIMIT.match(text)
    if limit is None:
        _refuse_vague(text)
    first = scan_operand(text, limit.end() if limit else 0, kind)
    limit_after = None if limit else _LIMIT_AFTER.match(text, first.end)
    if limit or limit_after:
        quantity = _limited(text, first, limit, limit_after, kind)
    elif tolerance := _TOLERANCE.match(text, first.end):
        quantity = _with_tolerance(text, first, tolerance.end(), kind)
    elif reach := _RANGE.match(text, first.end):
        quantity = _with_range(text, first, reach.end(), kind)
    else:
        _expect_end(text, first.end)
        settled = settle((first,), text, kind)
        quantity = _made(settled, settled.texts[0], settled.values[0], settled.values[0], settled.values[0])
    _refuse_impossible(quantity, first.start)
    return quantity


def _limited(
    text: str,
    first: Operand,
    before: re.Match[str] | None,
    after: re.Match[str] | None,
    kind: QuantityKind | None,
) -> Quantity:
    end = after.end() if after else first.end
    further = _TOLERANCE.match(text, end) or _RANGE.match(text, end)
    if further:
        at = further.end() - len(further[0].lstrip(" "))
        raise QuantityError("a limit has one number", at, "write the limit or the range, not both")
    _expect_end(text, end)
    settled = settle((first,), text, kind)
    is_most = bool((before and before["most"]) or (after and after["most"]))
    low, high = (None, settled.values[0]) if is_most else (settled.values[0], None)
    return _made(settled, f"{'≤' if is_most else '≥'} {settled.texts[0]}", low, high, None)


def _with_range(text: str, first: Operand, pos: int, kind: QuantityKind | None) -> Quantity:
    second = scan_operand(text, pos, kind or (first.unit.kind if first.unit else None))
    _expect_end(text, second.end)
    settled = settle((first, second), text, kind)
    low, high = settled.values
    if low >= high:
        hint = (
            f"write `{range_text(second.text, first.text)}`" if low > high else f"write `{first.text}` alone"
        )
        if low > high == 1:
            hint = f"write a ratio as `{first.text}:1`"
        raise QuantityError("the range does not rise", second.start, hint)
    return _made(settled, range_text(*settled.texts), low, high, None)


def _with_tolerance(text: str, first: Operand, pos: int, kind: QuantityKind | None) -> Quantity:
    number = scan_number(text, pos)
    if number.value <= 0:
        raise QuantityError("a tolerance is more than zero", number.start, "write it as `24 ± 2 N·m`")
    per_cent = _PER_CENT.match(text, number.end)
    if per_cent and first.unit:
        if first.unit.symbol in _PERCENTAGES or first.unit.kind is QuantityKind.TEMPERATURE:
            hint = f"write `{first.text} ± {number.text} {first.unit.symbol}` for a tolerance in that unit"
            raise QuantityError(
                f"a per cent of a value in {first.unit.symbol} is ambiguous", number.start, hint
            )
        _expect_end(text, per_cent.end())
        settled = settle((first,), text, kind)
        if number.comma >= 0:
            raise decimal_comma(text, number.comma)
        nominal = settled.values[0]
        spread = abs(nominal) * number.value / 100
        shown = with_unit(settled.texts[0], settled.unit, nominal) if settled.is_shared else settled.texts[0]
        whole = settled._replace(is_shared=False)
        return _made(whole, f"{shown} ± {number.text} %", nominal - spread, nominal + spread, nominal)
    second = scan_operand(text, pos, kind or (first.unit.kind if first.unit else None))
    _expect_end(text, second.end)
    settled = settle((first, second), text, kind)
    nominal, spread = settled.values
    return _made(settled, " ± ".join(settled.texts), nominal - spread, nominal + spread, nominal)


def _made(
    settled: Settled, text: str, low: Fraction | None, high: Fraction | None, nominal: Fraction | None
) -> Quantity:
    unit = settled.unit
    shown = with_unit(text, unit, max(settled.values)) if settled.is_shared else text
    return Quantity(unit.kind, unit.symbol, shown, low, high, nominal, settled.decimals)


def _refuse_vague(text: str) -> None:
    vague = _VAGUE.match(text)
    start = len(text) - len(text.lstrip(" "))
    if vague:
        raise QuantityError(
            f"`{vague[0].strip()}` says nothing that can be checked", start, "write a range or a tolerance"
        )
    strict = _STRICT.match(text)
    if strict:
        sign = "≤" if strict["less"] else "≥"
        hint = f"write `{sign}` and the last value that is allowed"
        raise QuantityError(f"`{strict[0].strip()}` leaves the limit itself out", start, hint)


def _expect_end(text: str, pos: int) -> None:
    """Raise QuantityError, with advice, when anything is left at `pos`."""
    rest = text[pos:].lstrip(" ")
    if not rest:
        return
    at = len(text) - len(rest)
    word = readable(rest.split(" ")[0])
    hints = {
        "(": "write the value of the source alone: the conversion is computed",
        "-": "a quantity has one range",
        "±": "a quantity has one tolerance",
        "+": "write an uneven tolerance as a range such as `22–25 N·m`",
        ",": "write one quantity; use a decimal point",
        "/": "write a fraction as `3/8`",
    }
    hint = hints.get(rest[0], "write one value with one unit, and anything else in the note")
    raise QuantityError(f"unexpected `{word}`", at, hint)


def _refuse_impossible(quantity: Quantity, start: int) -> None:
    """Raise QuantityError for what no machine has: below nothing, below absolute zero, more than all."""
    low, high = quantity.low, quantity.high
    if quantity.kind in _NEVER_NEGATIVE and (
        (low is not None and low < 0) or (high is not None and high < 0)
    ):
        raise QuantityError(
            f"{quantity.kind.words} is never below zero", start, "check the sign and the tolerance"
        )
    check = "check the number and the unit"
    if quantity.kind is QuantityKind.TEMPERATURE:
        bounds = quantity.exact_bounds_in("K")
        if any(bound is not None and bound < 0 for bound in bounds):
            raise QuantityError("the temperature is below absolute zero", start, check)
    elif quantity.kind is QuantityKind.CONCENTRATION:
        bounds = quantity.exact_bounds_in("vol %")
        if any(bound is not None and bound > 100 for bound in bounds):
            raise QuantityError("a concentration is never above 100 %", start, check)
