"""A question for a conversion, answered: "24 Nm in ft lb", "how many mm in 0.030 in", "-25 C in F"."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction
from typing import Final

from shearpin.mechanics.guards import with_unit
from shearpin.model.quantity import Quantity, QuantityError, parse_quantity
from shearpin.model.units import QuantityKind, Unit, unit_named, unit_table

_ASKED: Final = re.compile(r"^ *(?:convert|what is|what's|whats|how much is|(how many)) +", re.I)
_BETWEEN: Final = re.compile(r" (?:in|to|into|as|is|are|=) (?=[^ ])", re.I)
_SOURCE_DIGITS: Final = 10

# The trade writes nm for newton metres, and c and f for degrees; the reader of records is stricter.
_NEWTON_METRES: Final = re.compile(r"(^|[ 0-9])nm$", re.I)
_OUNCES: Final = re.compile(r"(^|[ 0-9])(?:oz|ounces?)$", re.I)
_DEGREES: Final = re.compile(r"(^|[ 0-9.]|deg )([cf])$", re.I)

# Names and bare numbers have no units to convert.
_KINDS: Final = tuple(
    kind
    for kind in QuantityKind
    if kind
    not in (QuantityKind.RATIO, QuantityKind.COUNT, QuantityKind.VISCOSITY_GRADE, QuantityKind.DESIGNATION)
)


def conversion_answer(query: str) -> str | None:
    """`24 N·m = 17.7 lbf·ft`; None when the query asks for no conversion, or for one between kinds."""
    if not _BETWEEN.search(query):
        return None
    asked = _ASKED.match(query)
    text = query[asked.end() if asked else 0 :].rstrip("? ")
    for split in _splits(text):
        left, right = text[: split.start()], text[split.end() :]
        answer = _in_any_ounces(left, right) or (_in_any_ounces(right, left) if asked and asked[1] else None)
        if answer:
            return answer
    return None


def _splits(text: str) -> Iterator[re.Match[str]]:
    """Every word between that may divide the quantity from the unit: in "3 in in mm" it is the second."""
    place = 0
    while match := _BETWEEN.search(text, place):
        yield match
        place = match.start() + 1


def _in_any_ounces(written: str, unit: str) -> str | None:
    """Ounces are a mass, and where that does not do, a volume."""
    fluid = [_OUNCES.sub(r"\1fl oz", text) for text in (written, unit)]
    return _converted(written, unit) or (_converted(*fluid) if fluid != [written, unit] else None)


def _converted(written: str, unit: str) -> str | None:
    written, unit = _as_records(written), _as_records(unit)
    for kind in _KINDS:
        try:
            target = parse_quantity(f"1 {unit}", kind)
            quantity = parse_quantity(written, kind)
        except QuantityError:
            continue
        return _sentence(quantity, unit_named(kind, target.unit))
    return None


def _as_records(text: str) -> str:
    text = _NEWTON_METRES.sub(r"\1N·m", text.strip())
    return _DEGREES.sub(lambda match: match[1] + match[2].upper(), text)


def _sentence(quantity: Quantity, target: Unit) -> str | None:
    source = unit_named(quantity.kind, quantity.unit)
    if quantity.nominal is not None and quantity.low == quantity.high:
        values = [quantity.nominal]
    elif quantity.low is not None and quantity.high is not None:
        values = [quantity.low, quantity.high]
    else:
        return None
    given = " to ".join(with_unit(float(value), source.symbol, _SOURCE_DIGITS) for value in values)
    found = " to ".join(
        with_unit(float(target.from_base(source.to_base(value))), target.symbol) for value in values
    )
    return f"{given} = {found}"


def unit_rows() -> list[object]:
    """Every unit for the browser: kind, symbol, plural, factor and offset as sums of two numbers, spellings."""
    return [
        [
            row["kind"],
            row["symbol"],
            row["plural"],
            _as_sum(Fraction(row["numerator"], row["denominator"])),
            _as_sum(Fraction(row["offset_numerator"], row["offset_denominator"])),
            ",".join(row["spellings"]),
        ]
        for row in unit_table()["units"]
    ]


def browser_units() -> dict[str, object]:
    """What the browser's reader of quantities needs to convert."""
    return {
        "units": unit_rows(),
        "usual": {},
        "hints": {},
        "strangers": {},
        "kinds": [str(kind) for kind in _KINDS],
    }


def _as_sum(value: Fraction) -> float | list[float]:
    """Return a number, as head and tail where a script's own sixteen digits do not hold it: the sum of two has thirty."""
    head = float(value)
    tail = float(value - Fraction(head))
    return [head, tail] if tail else int(head) if head.is_integer() else head
