"""Reads one number at a place in a text: decimals, thousands, common fractions; says why it is none."""

from __future__ import annotations

import re
from collections.abc import Mapping
from fractions import Fraction
from types import MappingProxyType
from typing import NamedTuple

from shearpin.model.quantity_value import QuantityError, number_text, readable

_MAX_DIGITS = 15  # on either side of the point: beyond any instrument, and it bounds the work
_MAX_PART_DIGITS = 4  # of a common fraction

_LOOKALIKES = str.maketrans(
    {
        **dict.fromkeys("\t\n\r\u00a0\u2007\u2008\u2009\u200a\u202f", " "),
        **dict.fromkeys("∙⋅•‧・∗", "·"),
        **dict.fromkeys("−‐‑‒–—﹣－", "-"),  # the place decides between minus and range
        **dict.fromkeys("º˚", "°"),
        **dict.fromkeys("″”“＂ʺ", '"'),
        **dict.fromkeys("′’ʹ", "'"),
        **dict.fromkeys("≦⩽", "≤"),
        **dict.fromkeys("≧⩾", "≥"),
        **dict.fromkeys("⁄∕", "/"),
        "\u2126": "Ω",  # OHM SIGN
        "\u00b5": "μ",  # MICRO SIGN
        "％": "%",
        "∶": ":",
        "＋": "+",
        "₂": "2",
    }
)

_VULGAR: Mapping[str, tuple[int, int]] = MappingProxyType(
    {
        "½": (1, 2),
        "⅓": (1, 3),
        "⅔": (2, 3),
        "¼": (1, 4),
        "¾": (3, 4),
        "⅛": (1, 8),
        "⅜": (3, 8),
        "⅝": (5, 8),
        "⅞": (7, 8),
    }
)

_NUMBER = re.compile(
    r"""\ *(?P<number>(?P<sign>[-+]?)\ *
    (?: (?:(?P<whole>[0-9]+)(?P<joint>\ +|-))?(?P<top>[0-9]+)/(?P<bottom>[0-9]+)      # 3/8, 1 1/4, 1-1/4
      | (?P<vulgar_whole>[0-9]*)\ ?(?P<vulgar>[½⅓⅔¼¾⅛⅜⅝⅞])
      | (?P<digits>[0-9]{1,3}(?:\ [0-9]{3})+(?![0-9/])
                 | [1-9][0-9]{0,2}(?:,[0-9]{3})+(?![0-9,])
                 | [0-9]+ | (?=\.[0-9]))
        (?P<part>\.[0-9]+)?
    ))""",
    re.VERBOSE,
)
# What most writers type; whatever may go on as something else is left to the pattern above.
_SIMPLE = re.compile(
    r" *(?P<number>(-?)([0-9]{1,15})(?:\.([0-9]{1,15}))?)(?![0-9.,/eE½⅓⅔¼¾⅛⅜⅝⅞]| +[0-9½⅓⅔¼¾⅛⅜⅝⅞]|-[0-9]+/)"
)
_STRAY = re.compile(r"(?P<comma>,\ ?[0-9])|(?P<exponent>[eE][-+]?[0-9])|(?P<point>\.[0-9])")
_AFTER_COMMA = re.compile(r",\ *([0-9]*)")


class Number(NamedTuple):
    """A number as written: exact value, canonical text, number of decimals (None: common fraction), place.

    `comma` is the index of the only comma between thousands, -1 when there is none or more than one says what
    it is: `3,600` may be meant as 3.6, which only the unit can tell; `1,234,567` and `1,234.5` may not.
    """

    value: Fraction
    text: str
    decimals: int | None
    start: int
    end: int
    comma: int = -1


def plain(text: str) -> str:
    """Return the text with look-alike characters replaced one for one, so that offsets stay true."""
    return text.translate(_LOOKALIKES)


def scan_number(text: str, pos: int) -> Number:
    """Read a number at `pos`, spaces before it skipped. Raises QuantityError."""
    simple = _SIMPLE.match(text, pos)
    if simple:
        spelt, sign, digits, part = simple.groups("")
        return _made(spelt, sign, digits, part, simple.start(1))
    match = _NUMBER.match(text, pos)
    if match is None:
        at = pos + len(text[pos:]) - len(text[pos:].lstrip(" "))
        found = f"found `{readable(text[at])}`" if at < len(text) else "but the text ends"
        raise QuantityError(
            f"expected a number, {found}", at, "write a value such as `24 N·m` or `22–26 N·m`"
        )
    number = _decimal(match) if match["digits"] is not None else _fraction(match)
    stray = _STRAY.match(text, number.end)
    if stray is None:
        return number
    if stray["comma"]:
        raise decimal_comma(text, stray.start())
    if stray["exponent"]:
        raise QuantityError(
            "a number with an exponent is not accepted", stray.start(), "write the number out"
        )
    raise QuantityError("a number has one decimal point", stray.start(), "write it as `3600` or `0.75`")


def _decimal(match: re.Match[str]) -> Number:
    digits, part = match["digits"], (match["part"] or ".")[1:]
    comma = match.start("digits") + digits.index(",") if digits.count(",") == 1 and not part else -1
    digits = digits.replace(" ", "").replace(",", "")
    if len(digits) > _MAX_DIGITS or len(part) > _MAX_DIGITS:
        raise QuantityError(
            "the number is too long",
            match.start("number"),
            f"write at most {_MAX_DIGITS} digits on either side of the point",
        )
    number = _made(match["number"], match["sign"], digits, part, match.start("number"))
    return number._replace(comma=comma)


def _made(spelt: str, sign: str, digits: str, part: str, start: int) -> Number:
    scaled = int(digits + part)
    text = (digits.lstrip("0") or "0") + (f".{part}" if part else "")
    if sign == "-" and scaled:
        scaled, text = -scaled, f"−{text}"
    decimals = len(part)
    return Number(Fraction(scaled, 10**decimals), text, decimals, start, start + len(spelt))


def _fraction(match: re.Match[str]) -> Number:
    start, end, negative = match.start("number"), match.end(), match["sign"] == "-"
    whole = match["vulgar_whole"] or match["whole"] or ""
    if (
        len(whole) > _MAX_DIGITS
        or max(len(match["top"] or ""), len(match["bottom"] or "")) > _MAX_PART_DIGITS
    ):
        raise QuantityError("the number is too long", start, "write it as a decimal number")
    top, bottom = _VULGAR[match["vulgar"]] if match["vulgar"] else (int(match["top"]), int(match["bottom"]))
    if bottom == 0:
        raise QuantityError(
            "a fraction cannot be divided by zero", match.start("bottom"), "write it as `3/8`"
        )
    if whole and top >= bottom:
        if match["joint"] != "-":
            raise QuantityError(
                "the fraction must be less than one", match.start("top"), "write it as `1 1/4`"
            )
        value = Fraction(-int(whole) if negative else int(whole))  # a range that ends in a fraction: 1-5/4
        return Number(value, number_text(value, 0), 0, start, match.end("whole"))
    value = int(whole or 0) + Fraction(top, bottom)
    text = f"{int(whole)} {top}/{bottom}" if whole.strip("0") else f"{top}/{bottom}"
    if negative and value:
        return Number(-value, f"−{text}", None, start, end)
    return Number(value, text, None, start, end)


def decimal_comma(text: str, comma: int) -> QuantityError:
    """Return the error for a comma that may be a decimal comma, with the ways out."""
    tail = _AFTER_COMMA.match(text, comma)
    before = text[:comma]
    digits, part = before[len(before.rstrip("0123456789")) :], tail[1] if tail else ""
    hint = f"write `{digits}.{part}` with a decimal point"
    if len(part) == 3 and digits.strip("0"):
        hint = f"write `{digits}{part}` for thousands, or `{digits}.{part}` with a decimal point"
    return QuantityError("a decimal comma is not accepted", comma, hint)
