"""What is no quantity: where exactly the text goes wrong, what it was most likely meant to be."""

from __future__ import annotations

import time

import pytest

from shearpin.model.quantity import QuantityError, QuantityKind, WrongKind, parse_quantity

K = QuantityKind

# text | kind | offset of the offending part | part of the message | part of the hint
REFUSED = [
    ("", K.TORQUE, 0, "empty", "24 N·m"),
    ("   ", None, 0, "empty", "24 N·m"),
    ("N·m", K.TORQUE, 0, "expected a number", "24 N·m"),
    ("24 to N·m", K.TORQUE, 6, "expected a number, found `N`", "24 N·m"),
    ("22–", K.TORQUE, 3, "but the text ends", "24 N·m"),
    ("24", K.TORQUE, 2, "`24` has no unit", "`N·m`"),
    ("22–26", K.TORQUE, 5, "`26` has no unit", "`N·m`"),
    ("24 N·mm", K.TORQUE, 3, "unknown unit `N·mm`", "did you mean `N·m`?"),
    ("24 ftlbz", K.TORQUE, 3, "unknown unit `ftlbz`", "did you mean `lbf·ft`?"),
    ("5 milimeters", None, 2, "unknown unit", "did you mean `mm`?"),
    ("24 qqqq", K.TORQUE, 3, "unknown unit", "`lbf·ft`"),
    ("24 nm", K.TORQUE, 3, "nanometre", "did you mean `N·m`?"),
    ("5 mPa", K.PRESSURE, 2, "millipascal", "`kPa`"),
    ("5 mpa", K.PRESSURE, 2, "unknown unit", "did you mean `MPa`?"),
    ("20 mil", K.LENGTH, 3, "to some", "`thou`"),
    ("12 V AC", K.VOLTAGE, 3, "more than a unit", "note"),
    ("5 c", K.TEMPERATURE, 2, "unknown unit `c`", "did you mean `°C`?"),
    ("0,75 mm", K.LENGTH, 1, "decimal comma", "`0.75`"),
    ("0.70–0,80 mm", K.LENGTH, 6, "decimal comma", "`0.80`"),
    ("24 N·m ± 2,5 %", K.TORQUE, 10, "decimal comma", "`2.5`"),
    ("24 N·m ± 1,000 %", K.TORQUE, 10, "decimal comma", "`1000`"),
    ("1,250 N·m", K.TORQUE, 1, "decimal comma", "`1250` for thousands, or `1.250`"),
    ("1,000 h 5 min", K.TIME, 1, "decimal comma", "`1000`"),
    ("1 day 1,000 s", K.TIME, 7, "decimal comma", "`1000`"),
    ("30 h to 1,000 min", K.TIME, 9, "decimal comma", "`1000`"),
    ("0,600 rpm", K.ROTATIONAL_SPEED, 1, "decimal comma", "`0.600`"),
    ("3,60 rpm", K.ROTATIONAL_SPEED, 1, "decimal comma", "`3.60`"),
    ("3,600", None, 1, "decimal comma", "`3600`"),
    ("1e3 mm", K.LENGTH, 1, "exponent", "write the number out"),
    ("1e999 mm", K.LENGTH, 1, "exponent", "write the number out"),
    ("inf N·m", K.TORQUE, 0, "expected a number", "24 N·m"),
    ("nan", None, 0, "expected a number", "24 N·m"),
    ("1.2.3 mm", K.LENGTH, 3, "one decimal point", "`0.75`"),
    ("9" * 16 + " mm", K.LENGTH, 0, "too long", "15 digits"),
    ("1." + "0" * 16 + " mm", K.LENGTH, 0, "too long", "15 digits"),
    ("1/99999 in", K.LENGTH, 0, "too long", "decimal number"),
    ("9" * 300, None, 200, "too long", "note"),
    ("1/0 in", K.LENGTH, 2, "divided by zero", "`3/8`"),
    ("1 5/4 in", K.LENGTH, 2, "less than one", "`1 1/4`"),
    ("26–22 N·m", K.TORQUE, 3, "does not rise", "`22–26`"),
    ("22–22 N·m", K.TORQUE, 3, "does not rise", "`22` alone"),
    ("50 to 1", None, 6, "does not rise", "`50:1`"),
    ("22–26–30 mm", K.LENGTH, 5, "unexpected", "one range"),
    ("24 ± 2 ± 1 mm", K.LENGTH, 7, "unexpected", "one tolerance"),
    ("24 ± 0 mm", K.LENGTH, 5, "more than zero", "24 ± 2"),
    ("24 ± -2 mm", K.LENGTH, 5, "more than zero", "24 ± 2"),
    ("±2 mm", K.LENGTH, 0, "expected a number, found `±`", "24 N·m"),
    ("24 mm +2/-1", K.LENGTH, 6, "unexpected `+2/-1`", "uneven tolerance"),
    ("24 N·m (18 lbf·ft)", K.TORQUE, 7, "unexpected `(18`", "conversion is computed"),
    ("5 in. thick", K.LENGTH, 6, "unexpected `thick`", "note"),
    ("5 mm\u200b", K.LENGTH, 4, "unexpected `U+200B`", "note"),
    ("about 5 mm", K.LENGTH, 0, "`about`", "range or a tolerance"),
    (" ~5 mm", K.LENGTH, 1, "`~`", "range or a tolerance"),
    ("< 10 %", K.RATIO, 0, "limit itself", "`≤`"),
    ("more than 10 %", K.RATIO, 0, "limit itself", "`≥`"),
    ("max 22–26 mm", K.LENGTH, 6, "one number", "not both"),
    ("≤ 5 ± 1 mm", K.LENGTH, 4, "one number", "not both"),
    ("24 mm–3 in", K.LENGTH, 8, "same unit", "`mm`"),
    ("24 °C ± 4 °F", K.TEMPERATURE, 10, "same unit", "`°C`"),
    ("20 °C ± 5 %", K.TEMPERATURE, 8, "ambiguous", "`20 ± 5 °C`"),
    ("50 % ± 5 %", K.RATIO, 7, "ambiguous", "`50 ± 5 %`"),
    ("1:30", K.TIME, 1, "colon", "`1 h 30 min`"),
    ("1:50", K.RATIO, 1, "colon", "`50:1`"),
    ("1 h 90 min", K.TIME, 4, "not less than one `h`", "carry"),
    ("1 h 60 min", K.TIME, 4, "not less than one `h`", "carry"),
    ("1 h 30", K.TIME, 6, "`30` has no unit", "`1 h 30 min`"),
    ("1 h 30 min ± 10", K.TIME, 15, "`10` has no unit", "after each number"),
    ("1.5 h 10 min", K.TIME, 0, "only the last unit", "`1 h 30 min`"),
    ("1 h 2 h", K.TIME, 6, "does not go after", "one unit"),
    ("-1 ft 3 in", K.LENGTH, 0, "below zero", "`in`"),
    ("-5 N·m", K.TORQUE, 0, "torque is never below zero", "sign"),
    ("2 ± 3 N·m", K.TORQUE, 0, "torque is never below zero", "tolerance"),
    ("≤ -5 N·m", K.TORQUE, 2, "torque is never below zero", "sign"),
    ("-300 °C", K.TEMPERATURE, 0, "absolute zero", "unit"),
    ("110 %", K.CONCENTRATION, 0, "never above 100 %", "unit"),
    ("4.5", K.COUNT, 0, "whole number", "`2`"),
    ("2–4.5", K.COUNT, 2, "whole number", "`2`"),
]  # fmt: skip


@pytest.mark.parametrize(
    ("text", "kind", "offset", "message", "hint"), REFUSED, ids=[row[0][:30] or "nothing" for row in REFUSED]
)
def test_what_is_no_quantity_is_refused_at_its_place(
    text: str, kind: QuantityKind | None, offset: int, message: str, hint: str
) -> None:
    with pytest.raises(QuantityError) as caught:
        parse_quantity(text, kind)
    assert not isinstance(caught.value, WrongKind)
    assert caught.value.offset == offset
    assert message in str(caught.value)
    assert hint in caught.value.hint


WRONG_KIND = [
    ("18 lb", K.TORQUE, 3, "`lbf·ft` or `lbf·in`"),
    ("18–20 lbs", K.TORQUE, 6, "`lbf·ft` or `lbf·in`"),
    ("24 N", K.TORQUE, 3, "`N·m`"),
    ("2.4 kg", K.TORQUE, 4, "`kgf·m`"),
    ("24 J", K.TORQUE, 3, "energy"),
    ("60 Hz", K.ROTATIONAL_SPEED, 3, "rpm"),
    ("12 lb", K.FORCE, 3, "`lbf`"),
    ("20 oz", K.VOLUME, 3, "`fl oz`"),
    ("5 m", K.TIME, 2, "`min`"),
    ("20°", K.TEMPERATURE, 2, "`°C` or `°F`"),
    ("160 in-lb", K.LENGTH, 4, "`mm`"),
    ("5 mm", K.COUNT, 2, "plain number"),
    ("50:1", K.TIME, 2, "`1 h 30 min`"),
    ("24 ± 10 % N·m", K.TORQUE, 8, "`N·m`"),
    ("22 mm – 5 kPa", None, 10, "`mm`"),
]


@pytest.mark.parametrize(("text", "kind", "offset", "hint"), WRONG_KIND, ids=[row[0] for row in WRONG_KIND])
def test_a_unit_of_another_kind_is_told_apart(
    text: str, kind: QuantityKind | None, offset: int, hint: str
) -> None:
    with pytest.raises(WrongKind) as caught:
        parse_quantity(text, kind)
    assert caught.value.offset == offset
    assert hint in caught.value.hint


HOSTILE = [
    "9" * 100_000,
    "1" + " 000" * 49,
    "1" + ",000" * 49,
    "-" * 200,
    " " * 100_000 + "x",
    " " * 199 + "x",
    "1" + "·" * 198 + "x",
    "1 " + "N·" * 99,
    "1 " + "ft " * 66,
    "1 h " * 50,
    "1/" * 100,
    "1 " + "(" * 198,
    "SAE" + " " * 190 + "x",
    "1:" * 100,
    "± " * 100,
    "½" * 200,
    "1 " + "é" * 198,
]


@pytest.mark.parametrize("text", HOSTILE, ids=[text[:8] for text in HOSTILE])
@pytest.mark.parametrize("kind", [None, K.TORQUE, K.TIME, K.VISCOSITY_GRADE])
def test_hostile_text_is_refused_quickly(text: str, kind: QuantityKind | None) -> None:
    started = time.perf_counter()
    with pytest.raises(QuantityError):
        parse_quantity(text, kind)
    assert time.perf_counter() - started < 0.5  # hundreds of times what it takes: only a blow-up fails
