"""Reads the kinds that are names: viscosity grades, which form closed classes, and free designations."""

from __future__ import annotations

import re

from shearpin.model.quantity_value import Quantity, QuantityError
from shearpin.model.units import QuantityKind

_MAX_LENGTH = 120

# SAE J300 engine oils, as public reproductions of the table list them; SAE J306 gear oils, ISO 3448 industrial oils
# and NLGI greases from memory.
_ENGINE_WINTER = ("0W", "5W", "10W", "15W", "20W", "25W")
_ENGINE = ("8", "12", "16", "20", "30", "40", "50", "60")
_GEAR_WINTER = ("70W", "75W", "80W", "85W")
_GEAR = ("65", "70", "75", "80", "85", "90", "110", "140", "190", "250")
_ISO_VG = ("2", "3", "5", "7", "10", "15", "22", "32", "46", "68", "100", "150", "220", "320", "460", "680",
           "1000", "1500", "2200", "3200")  # fmt: skip
_NLGI = ("000", "00", "0", "1", "2", "3", "4", "5", "6")

# For text whose runs of spaces are collapsed.
_SAE = re.compile(
    r"(?P<sae>SAE ?-?)? ?(?P<winter>[0-9]{1,2} ?W)? ?[-/]? ?(?P<summer>[0-9]{1,3})?", re.IGNORECASE
)
_CLASSED = re.compile(
    r"(?P<name>ISO ?-?VG|NLGI)(?: ?(?:grade|no\.?))? ?-?(?P<grade>[0-9]{1,4})", re.IGNORECASE
)
_HINT = "write a grade such as `5W-30`, `SAE 30`, `SAE 80W-90`, `ISO VG 46` or `NLGI 2`"


def looks_like_grade(text: str) -> bool:
    """Tell whether a text without a kind can only be a viscosity grade: `5W-30`, `SAE 30`, but not `5 W`."""
    words = _collapsed(text)
    match = _SAE.fullmatch(words)
    return bool(match and match["summer"] and (match["winter"] or match["sae"])) or bool(
        _CLASSED.fullmatch(words)
    )


def parse_grade(text: str) -> Quantity:
    """Read a viscosity grade and make its spelling canonical. Raises QuantityError for one no class knows."""
    words, start = _collapsed(text), len(text) - len(text.lstrip(" "))
    classed = _CLASSED.fullmatch(words)
    if classed:
        name, grades = ("NLGI", _NLGI) if classed["name"].upper() == "NLGI" else ("ISO VG", _ISO_VG)
        grade = classed["grade"]
        if grade not in grades:
            raise QuantityError(
                f"{name} has no grade {grade}", text.rindex(grade), f"write one of {', '.join(grades)}"
            )
        return Quantity(QuantityKind.VISCOSITY_GRADE, "", f"{name} {grade}")
    match = _SAE.fullmatch(words)
    if match is None or not (match["winter"] or match["summer"]):
        raise QuantityError("not a viscosity grade", start if words else 0, _HINT)
    return _sae_grade(match, start, text)


def _collapsed(text: str) -> str:
    """Return the text with single spaces; nothing of a text that is longer than any grade."""
    return " ".join(text.split()) if len(text) <= _MAX_LENGTH else ""


def _sae_grade(match: re.Match[str], start: int, text: str) -> Quantity:
    winter, summer = (match["winter"] or "").upper().replace(" ", ""), match["summer"] or ""
    if not winter and not match["sae"]:
        raise QuantityError(
            "a single grade needs its class", start, f"write `SAE {summer}` or `ISO VG {summer}`"
        )
    engine = winter in ("", *_ENGINE_WINTER) and summer in ("", *_ENGINE)
    gear = winter in ("", *_GEAR_WINTER) and summer in ("", *_GEAR)
    grade = "-".join(filter(None, (winter, summer)))
    if not engine and not gear:
        offset = text.index((match["winter"] or summer)[0], start)
        raise QuantityError(f"SAE J300 and J306 have no grade {grade}", offset, _HINT)
    return Quantity(QuantityKind.VISCOSITY_GRADE, "", f"SAE {grade}" if match["sae"] else grade)


def parse_designation(text: str) -> Quantity:
    """Read a free designation such as `SAE J429 grade 2`; runs of spaces become one. Raises QuantityError."""
    words = " ".join(text.split())
    if not words:
        raise QuantityError("the designation is empty", 0, "write a name such as `SAE J429 grade 2`")
    if len(words) > _MAX_LENGTH:
        raise QuantityError(
            "the designation is too long",
            len(text) - len(text.lstrip()) + _MAX_LENGTH,
            f"write at most {_MAX_LENGTH} characters and the rest in a note",
        )
    for offset, character in enumerate(text):
        if not character.isprintable() and not character.isspace():
            raise QuantityError(
                "a designation has only printable characters", offset, "remove the hidden character"
            )
    return Quantity(QuantityKind.DESIGNATION, "", words)
