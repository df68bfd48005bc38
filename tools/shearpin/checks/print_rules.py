"""The rule on figures that stand together in a text: one figure in two units."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from contextlib import suppress
from fractions import Fraction
from types import MappingProxyType
from typing import Final

from shearpin.checks.rule import AnyRule, Fault, rule
from shearpin.checks.wording import texts_of
from shearpin.model.printed import printed_span
from shearpin.model.quantity import Quantity, QuantityError, QuantityKind, convert, parse_quantity
from shearpin.model.reading import RecordFile

_K = QuantityKind

# What looks like a figure, before the reader of quantities is asked: a limit sign, a number, its unit; perhaps a
# second number after a dash, `±` or `to`. A sieve only: what it lets through is read in full.
_NUMBER = (
    r"[-−]?(?:[0-9][0-9 ,]*(?:\.[0-9]+)?(?:[ -]?[0-9]*[½⅓⅔¼¾⅛⅜⅝⅞]|[ -]?[0-9]*/[0-9]+)?|\.[0-9]+|[½⅓⅔¼¾⅛⅜⅝⅞])"
)
_UNIT = r"[A-Za-zΩμµ°\"″'′%·.²³₂/-]+(?: [A-Za-z%·.²³₂/]+){0,3}"
_QUANTITY = (
    r"(?:[≤≥] ?|[<>]= ?)?"
    r"(?:[0-9]+ ?(?:ft|h|lb) (?=[0-9]))?"  # the larger unit of `5 ft 6 in`
    rf"{_NUMBER}(?: ?{_UNIT})?"
    rf"(?: ?(?:-|–|±|\+/?-|\bto\b) ?{_NUMBER})?"
    rf"(?: ?{_UNIT}|(?<=[\"″'′%°]))"
)
_AT_END: Final = re.compile(rf"(?<![\w.,/-])({_QUANTITY}) ?$")
_WHOLE: Final = re.compile(_QUANTITY)
_SECOND: Final = re.compile(r"[(\[](?P<inside>[^()\[\]]{2,60})[)\]]| / (?P<after>[^()\[\],;]{2,40})")
_VAGUE: Final = re.compile(
    r"(?:\b(?:about|around|roughly|nearly|some|approx\.?|approximately)|[~≈]) ?$", re.IGNORECASE
)
_REACH: Final = 60  # characters before a second figure in which the first one begins

# Units that serve two kinds: a pair agrees when it agrees as either.
_ALSO: Final[Mapping[QuantityKind, QuantityKind]] = MappingProxyType(
    {
        _K.TEMPERATURE: _K.TEMPERATURE_DIFFERENCE,
        _K.STRESS: _K.PRESSURE,
        _K.PRESSURE: _K.STRESS,
        _K.VOLUME: _K.DISPLACEMENT,
        _K.DISPLACEMENT: _K.VOLUME,
        _K.RATIO: _K.CONCENTRATION,
    }
)


@rule("QTY004")
def two_units_that_disagree(file: RecordFile) -> Iterator[Fault]:
    """One figure printed in two units that say different things.

    ## Why
    One of the two is a misprint, and the reader cannot tell which; `0.030 inch (.08382 cm)` stands so in a government
    manual (TM 5-4310-360-14). Each figure may be off by half of its last digit, a range may be rounded inward.

    ## Hint
    look both up in the source, and write the one that it states; pages convert values by themselves

    ## Bad
    ```yaml
    # kb/tools/pin-punch.yaml
    title: Pin punch
    summary: Set the gap to 0.030 inch (.08382 cm) first.
    ```

    ## Good
    ```yaml
    # kb/tools/pin-punch.yaml
    title: Pin punch
    summary: Set the gap to 0.030 inch (.0762 cm) first.
    ```
    """
    advice = (
        "look both up in the source, and write the one that it states; pages convert values by themselves"
    )
    if file.record is None or file.unpaired:
        return
    for path, text in texts_of(file.record):
        for first, second, offset in _pairs(text):
            message = f"`{second.text}` is {convert(second, first.unit)}, and `{first.text}` stands beside it"
            yield Fault(file.path, path, message, advice, offset=offset)


def _pairs(text: str) -> Iterator[tuple[Quantity, Quantity, int]]:
    """Yield both figures of every pair that disagrees, with the place of the second."""
    for match in _SECOND.finditer(text):
        first = _AT_END.search(text, max(0, match.start() - _REACH), match.start())
        if first is None or _VAGUE.search(text, max(0, first.start(1) - _REACH), first.start(1)):
            continue
        inside = match["inside"] or match["after"]
        start = match.start("inside" if match["inside"] else "after") + len(inside) - len(inside.lstrip())
        for second in [inside.strip()] if match["inside"] else _beginnings(inside):
            readings = _readings(first[1], second) if _WHOLE.fullmatch(second) else []
            if readings:
                if not any(one.unit == other.unit or _agree(one, other) for one, other in readings):
                    yield *readings[0], start
                break


def _beginnings(text: str) -> Iterator[str]:
    """Yield what a text may begin with, the most words first: after a slash the sentence may go on."""
    words = text.split(" ")
    for count in range(min(len(words), 6), 0, -1):
        yield " ".join(words[:count]).rstrip(".")


def _readings(first: str, second: str) -> list[tuple[Quantity, Quantity]]:
    """Return both figures as each thing that both may measure, the likeliest first; nothing where there is none."""
    found = []
    for kind in _kinds(first, second):
        with suppress(QuantityError):
            found.append((parse_quantity(first, kind), parse_quantity(second, kind)))
    return found


def _kinds(first: str, second: str) -> list[QuantityKind]:
    """Return what both figures may measure, the likeliest first."""
    try:
        kinds = {parse_quantity(text).kind: None for text in (first, second)}
    except QuantityError:
        return []
    return list(dict.fromkeys([*kinds, *(_ALSO[kind] for kind in kinds if kind in _ALSO)]))


def _agree(one: Quantity, other: Quantity) -> bool:
    """Whether one of two figures is the other one rounded, bound by bound.

    A bound that only one of them has is left alone.
    """
    for lower in (True, False):
        bounds = [quantity.low if lower else quantity.high for quantity in (one, other)]
        if None not in bounds and not (_rounds_to(one, other, lower) or _rounds_to(other, one, lower)):
            return False
    return True


def _rounds_to(exact: Quantity, rounded: Quantity, lower: bool) -> bool:
    """Whether a bound, converted, lies within half of the last digit of the other one.

    A range may be rounded inward, which moves its bounds by up to a whole digit.
    """
    low, high = exact.exact_bounds_in(rounded.unit)
    bound, printed = (low, rounded.low) if lower else (high, rounded.high)
    assert bound is not None
    assert printed is not None
    least, most = printed_span(printed, rounded, rounded.unit)
    inward = (most - least) / 2 if rounded.low != rounded.high else Fraction(0)
    return least - (inward if lower else 0) <= bound <= most + (0 if lower else inward)


PRINT_RULES: Final[tuple[AnyRule, ...]] = (two_units_that_disagree,)
