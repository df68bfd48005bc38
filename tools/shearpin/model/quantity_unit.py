"""Finds the unit that stands at a place in a text, and says what a wrong one was most likely meant to be."""

from __future__ import annotations

import re
from collections.abc import Mapping
from types import MappingProxyType
from typing import NamedTuple, NoReturn

from shearpin.model.quantity_value import QuantityError, WrongKind
from shearpin.model.units import UNITS, QuantityKind, Unit, units_of


class FoundUnit(NamedTuple):
    """A unit and where its spelling stands in the text."""

    unit: Unit
    start: int
    end: int


class _Word(NamedTuple):
    key: str  # the spelling up to and with this word, as the table writes it
    start: int
    end: int


def _tabulate(fold: bool) -> Mapping[str, tuple[Unit, ...]]:
    table: dict[str, tuple[Unit, ...]] = {}
    for unit in UNITS:
        symbol = unit.symbol.replace("·", " ").replace("₂", "2")
        spellings = (unit.symbol, symbol, *unit.spellings)
        for key in dict.fromkeys(s.casefold() if fold else s for s in spellings if s):
            table[key] = (*table.get(key, ()), unit)
    return MappingProxyType(table)


_EXACT = _tabulate(fold=False)
_FOLDED = _tabulate(fold=True)
# Where the case of a letter is a factor of a million, only the exact spelling will do.
_CASE_MATTERS = frozenset({"mpa", "mv", "ma", "mω", "mohm", "mohms", "mbar", "nm"})

_WORD = re.compile(
    r"""(?P<word>(?:[^\W\d_½⅓⅔¼¾⅛⅜⅝⅞]|[°"'%℃℉⁻]|(?<=H)2(?=O))+
    (?: (?<=[A-Za-z])\^?(?P<power>[23])(?![0-9A-Za-z]|[./][0-9])      # cm2, mm^2
      | (?<=\bmin)\^?(?P<inverse>-1)(?!\ *[0-9A-Za-z½⅓⅔¼¾⅛⅜⅝⅞]|[./][0-9])   # min-1, but not 15 min-1 h
    )?)
    (?P<gap>[ ·.*×()-]*/?[ ·.*×()-]*)""",
    re.VERBOSE,
)
_CLOSE = re.compile(r"\.?\)|\.(?![0-9])")
_GOES_ON = (
    "-",
    " -",
    "±",
    " ±",
    " to ",
)  # a range or a tolerance, not a unit: said here because it is so common
_COLON = re.compile(r" *:( *1(?![0-9.]))?")
_MAX_WORDS = 8
# Words that go on with the sentence. After a slash they belong to the unit: r/min.
_STOP = frozenset({"to", "through", "max", "maximum", "min", "minimum", "plus", "or"})
_FIRST_STOP = _STOP - {"min"}

# Spellings that look like a unit and are none of ours: what they are, and what to write.
_STRANGERS: Mapping[str, tuple[str, str]] = MappingProxyType(
    {
        "nm": ("a nanometre", "did you mean `N·m`?"),
        "mPa": ("a millipascal", "did you mean `MPa` or `kPa`?"),
        "mil": ("a thousandth of an inch to some and a millimetre to others", "write `thou`, `in` or `mm`"),
        "mils": ("a thousandth of an inch to some and a millimetre to others", "write `thou`, `in` or `mm`"),
        **dict.fromkeys(
            ("VAC", "V AC", "V ac"), ("more than a unit", "write `V`; say in the note that it is AC")
        ),
        **dict.fromkeys(
            ("VDC", "V DC", "V dc"), ("more than a unit", "write `V`; say in the note that it is DC")
        ),
    }
)
# Units of a dimension that no kind has.
_OTHER_KINDS: Mapping[str, tuple[str, str]] = MappingProxyType(
    {
        "cSt": ("a unit of viscosity", "name the viscosity grade, such as `SAE 30` or `ISO VG 46`"),
    }
)
_NEEDS_DISTANCE = "a torque needs a distance too: write `{}`"
# What a writer most likely meant by a unit of another kind.
_KIND_HINTS: Mapping[tuple[QuantityKind, str], str] = MappingProxyType(
    {
        (QuantityKind.TORQUE, "lb"): _NEEDS_DISTANCE.format("lbf·ft` or `lbf·in"),
        (QuantityKind.TORQUE, "lbf"): _NEEDS_DISTANCE.format("lbf·ft` or `lbf·in"),
        (QuantityKind.TORQUE, "oz"): _NEEDS_DISTANCE.format("ozf·in"),
        (QuantityKind.TORQUE, "N"): _NEEDS_DISTANCE.format("N·m"),
        (QuantityKind.TORQUE, "kg"): _NEEDS_DISTANCE.format("kgf·m` or `kgf·cm"),
        (QuantityKind.TORQUE, "J"): "write a torque in `N·m`: the joule is for energy",
        (QuantityKind.ROTATIONAL_SPEED, "Hz"): "write a rotational speed in `rpm`",
        (QuantityKind.FORCE, "lb"): "`lb` is a mass: write `lbf` for a force",
        (QuantityKind.FORCE, "kg"): "`kg` is a mass: write `kgf` or `N` for a force",
        (QuantityKind.FORCE, "oz"): "`oz` is a mass: write `ozf` for a force",
        (QuantityKind.VOLUME, "oz"): "`oz` is a mass: write `fl oz` for a volume",
        (QuantityKind.TIME, "m"): "`m` is a metre: write `min` for minutes",
        (QuantityKind.TIME, ":1"): "write a time as `1 h 30 min`",
        (QuantityKind.TEMPERATURE, "°"): "say which degrees: `°C` or `°F`",
        (QuantityKind.TEMPERATURE_DIFFERENCE, "°"): "say which degrees: `°C` or `°F`",
        (QuantityKind.PRESSURE, "lb"): "a pressure needs an area too: write `psi`",
        (QuantityKind.PRESSURE, "kg"): "a pressure needs an area too: write `kgf/cm²`",
    }
)


def usual_units(kind: QuantityKind) -> str:
    """Return the advice that names the usual units of a kind."""
    symbols = [f"`{unit.symbol}`" for unit in units_of(kind) if unit.symbol][:3]
    if not symbols:
        return "write a plain number"
    listed = " or ".join(filter(None, (", ".join(symbols[:-1]), symbols[-1])))
    return f"write {kind.words} in {listed}"


def find_unit(text: str, pos: int, kind: QuantityKind | None) -> FoundUnit | None:
    """Find the longest spelling of a unit at `pos`; None where no word begins.

    Without a kind the first kind that has the spelling is meant. Raises WrongKind for a unit of another kind
    and QuantityError for a word that is no unit.
    """
    if text.startswith(_GOES_ON, pos):
        return None
    rest = text[pos:].strip(" ")
    units = _EXACT.get(rest)
    if units and (kind is None or units[0].kind is kind):  # nothing but a unit is left: most texts end here
        start = text.index(rest, pos)
        return FoundUnit(units[0], start, start + len(rest))
    colon = _COLON.match(text, pos)
    if colon:
        return _find_ratio(text, colon, kind)
    words = _words(text, pos)
    if not words:
        return None
    for count in range(len(words), 0, -1):
        key, _, end = words[count - 1]
        units = _look_up(key, words[0].start, kind)
        if units:
            break
    else:
        _refuse_unknown(text, words, kind)
    if count < len(words) and _is_joined(text[end : words[count].start]):
        _refuse_unknown(text, words, kind)
    close = _CLOSE.match(text, end)
    if close and (close[0] == "." or "(" in text[pos:end]):
        end = close.end()
    return FoundUnit(_of_kind(units, text[words[0].start : end], words[0].start, kind), words[0].start, end)


def _find_ratio(text: str, colon: re.Match[str], kind: QuantityKind | None) -> FoundUnit:
    start = text.index(":", colon.start())
    if not colon[1]:
        raise QuantityError(
            "a colon stands only before 1", start, "write a ratio as `50:1`, a time as `1 h 30 min`"
        )
    return FoundUnit(_of_kind(_EXACT[":1"], ":1", start, kind), start, colon.end())


def _words(text: str, pos: int) -> list[_Word]:
    """Return the words at `pos` that may make up a unit, each with the spelling so far."""
    found: list[_Word] = []
    while pos < len(text) and text[pos] == " ":
        pos += 1
    joint = ""
    for _ in range(_MAX_WORDS):
        match = _WORD.match(text, pos)
        if match is None:
            break
        word = match["word"]
        if joint != "/" and word.casefold() in (_STOP if found else _FIRST_STOP):
            break
        if match["power"]:
            word = word.rstrip("^23") + ("²" if match["power"] == "2" else "³")
        elif match["inverse"]:
            word = "min⁻¹"
        key = found[-1].key + joint + word if found else word
        found.append(_Word(key, match.start(), match.end("word")))
        joint, pos = "/" if "/" in match["gap"] else " ", match.end()
    return found


def _look_up(key: str, start: int, kind: QuantityKind | None) -> tuple[Unit, ...]:
    units = _EXACT.get(key)
    if units:
        return units
    if key in _OTHER_KINDS:
        what, hint = _OTHER_KINDS[key]
        raise (WrongKind if kind else QuantityError)(f"`{key}` is {what}", start, hint)
    if key in _STRANGERS:
        what, hint = _STRANGERS[key]
        raise QuantityError(f"`{key}` is {what}", start, hint)
    folded = key.casefold()
    return () if len(key) == 1 or folded in _CASE_MATTERS else _FOLDED.get(folded, ())


def _is_joined(gap: str) -> bool:
    """Tell whether the gap ties two words into one unit, rather than ending it: N·mm, but not `in. thick`."""
    return " " not in gap or any(mark in gap for mark in "·*×/")


def _of_kind(units: tuple[Unit, ...], spelt: str, start: int, kind: QuantityKind | None) -> Unit:
    if kind is None:
        return units[0]
    for unit in units:
        if unit.kind is kind:
            return unit
    hint = _KIND_HINTS.get((kind, units[0].symbol)) or usual_units(kind)
    raise WrongKind(f"`{spelt}` is a unit of {units[0].kind.words}, not of {kind.words}", start, hint)


def _refuse_unknown(text: str, words: list[_Word], kind: QuantityKind | None) -> NoReturn:
    from difflib import get_close_matches  # only a text that is wrong pays for it

    spelt = text[words[0].start : words[-1].end][:40]
    candidates = (
        _FOLDED if kind is None else {k: u for k, u in _FOLDED.items() if any(x.kind is kind for x in u)}
    )
    tries = (get_close_matches(key[:40].casefold(), candidates, n=1) for key in (words[-1].key, words[0].key))
    close = next(filter(None, tries), None)
    if close:
        unit = next(u for u in _FOLDED[close[0]] if kind is None or u.kind is kind)
        hint = f"did you mean `{unit.symbol}`?"
    else:
        hint = (
            usual_units(kind)
            if kind
            else "write one of the units the trade uses, such as `N·m`, `mm` or `kPa`"
        )
    raise QuantityError(f"unknown unit `{spelt}`", words[0].start, hint)
