"""Refusal of impossible input, with the argument that is at fault and a plain sentence."""

from __future__ import annotations

import math
from decimal import ROUND_HALF_UP, Context, Decimal

# Beyond these no bench measurement lies; inside them no formula here overflows or underflows to zero.
SMALLEST = 1e-9
LARGEST = 1e12

_UNITS: tuple[tuple[str, str], ...] = (
    ("_m_s", "m/s"),
    ("_mm2", "mm²"),
    ("_cm3", "cm³"),
    ("_mpa", "MPa"),
    ("_kpa", "kPa"),
    ("_ohm", "Ω"),
    ("_rpm", "rpm"),
    ("_deg", "°"),
    ("_percent", "%"),
    ("_nm", "N·m"),
    ("_mm", "mm"),
    ("_ml", "mL"),
    ("_hz", "Hz"),
    ("_c", "°C"),
    ("_n", "N"),
    ("_l", "L"),
    ("_v", "V"),
    ("_a", "A"),
    ("_w", "W"),
)


class ImpossibleInputError(ValueError):
    """A number that no real part, belt, fuel or winding can have.

    `argument` is the name of the argument at fault, so that a form can point at its field; the message is a
    plain sentence for the person who typed it.
    """

    def __init__(self, argument: str, sentence: str) -> None:
        super().__init__(sentence)
        self.argument = argument


def words_and_unit(argument: str) -> tuple[str, str]:
    """`("shaft diameter", "mm")` for `shaft_diameter_mm`: how an argument is called in a sentence."""
    for suffix, unit in _UNITS:
        if argument.endswith(suffix):
            return argument.removesuffix(suffix).replace("_", " "), unit
    return argument.replace("_", " "), ""


def shown(number: float, digits: int = 4) -> str:
    """The number to so many significant digits, without an exponent or idle zeros: 11658.2 gives `11660`.

    For sentences and worked lines; computation never goes through it. Halves go away from zero, as people
    round and as a page's script does; a negative number has a true minus sign. A number that is not finite is
    named.
    """
    if not math.isfinite(number):
        return "not a number" if math.isnan(number) else "infinite"
    if number == 0:
        return "0"
    exact = Decimal(number)
    place = Decimal(1).scaleb(exact.adjusted() + 1 - digits)
    rounded = exact.quantize(place, rounding=ROUND_HALF_UP, context=Context(prec=digits + 2))
    text = f"{rounded:f}".replace("-", "−")
    return text.rstrip("0").rstrip(".") if "." in text else text


def with_unit(number: float, unit: str, digits: int = 4) -> str:
    """The shown number with its unit: `11.6 N·m`, `45°`, `0.2`."""
    return f"{shown(number, digits)}{'' if unit in ('', '°') else ' '}{unit}"


def require_finite(**arguments: float) -> None:
    """Refuse what is not a number of bench size; zero and negative numbers pass.

    Errors: ImpossibleInputError (a ValueError) for nan, infinity and magnitudes above 1e12.
    """
    for argument, number in arguments.items():
        words, unit = words_and_unit(argument)
        if not math.isfinite(number):
            raise ImpossibleInputError(
                argument, f"the {words} must be a number, and this one is {shown(number)}"
            )
        if abs(number) > LARGEST:
            raise ImpossibleInputError(
                argument, f"the {words} is beyond anything on a bench: {number:.3g} {unit}".rstrip()
            )


def require_positive(**arguments: float) -> None:
    """Refuse zero, negative and absurdly small or large sizes.

    Errors: ImpossibleInputError for nan, infinity, anything at or below zero, below 1e-9 or above 1e12.
    """
    require_finite(**arguments)
    for argument, number in arguments.items():
        if number < SMALLEST:
            words, unit = words_and_unit(argument)
            raise ImpossibleInputError(
                argument, f"the {words} must be more than {with_unit(0, unit)}, not {with_unit(number, unit)}"
            )


def require_not_negative(**arguments: float) -> None:
    """Refuse negative numbers; zero passes.

    Errors: ImpossibleInputError for nan, infinity, anything below zero or above 1e12.
    """
    require_finite(**arguments)
    for argument, number in arguments.items():
        if number < 0:
            words, unit = words_and_unit(argument)
            raise ImpossibleInputError(
                argument,
                f"the {words} cannot be below {with_unit(0, unit)}, and {with_unit(number, unit)} is",
            )


def require_between(lowest: float, highest: float, **arguments: float) -> None:
    """Refuse numbers outside a closed range.

    Errors: ImpossibleInputError for nan, infinity, and anything outside `lowest` to `highest`.
    """
    require_finite(**arguments)
    for argument, number in arguments.items():
        if not lowest <= number <= highest:
            words, unit = words_and_unit(argument)
            limits = f"{shown(lowest)} to {with_unit(highest, unit)}"
            raise ImpossibleInputError(
                argument, f"the {words} must lie within {limits}, and {with_unit(number, unit)} does not"
            )


def require_count(**arguments: int) -> None:
    """Refuse counts below one and above a million: teeth, cylinders, poles, planes.

    Errors: ImpossibleInputError for anything that is not a whole number from 1 to 1,000,000.
    """
    for argument, number in arguments.items():
        if isinstance(number, bool) or not isinstance(number, int) or not 1 <= number <= 1_000_000:
            words, _ = words_and_unit(argument)
            raise ImpossibleInputError(
                argument, f"the {words} must be a whole number, one or more, not {number}"
            )
