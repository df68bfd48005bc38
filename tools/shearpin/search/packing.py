"""Numbers and posting lists as short strings of 92 printable characters that need no escape in JSON, called digits.

In a number a digit below 46 is the last, one above it has more to follow, lowest first.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Sequence
from functools import lru_cache
from itertools import pairwise
from typing import Any, Final

from shearpin.search.impacts import CODE_BITS, CODE_MASK, POINTS, STRONG_CODE

DIGITS = "".join(chr(code) for code in range(0x21, 0x7F) if chr(code) not in '"\\')
HALF = len(DIGITS) // 2


@lru_cache(maxsize=1 << 14)
def pack_number(number: int) -> str:
    """A number as one or more digits."""
    packed = ""
    while number >= HALF:
        number, digit = divmod(number, HALF)
        packed += DIGITS[HALF + digit]
    return packed + DIGITS[number]


# In the list of a common term, one digit holds a distance up to 8 and one of the 8 weak codes; the other 28 digits
# begin a longer form with a remainder of 14.
_DENSE_GAPS = 8
_DENSE_LONG = _DENSE_GAPS * STRONG_CODE
_DENSE_REMAINDERS = (len(DIGITS) - _DENSE_LONG) // 2
# A term in at least this part of the records is common.
_DENSE_SHARE = 12


def is_dense(count: int, total: int) -> bool:
    """Whether the list of a term in `count` of `total` records takes the dense form."""
    return count * _DENSE_SHARE >= total


def _sparse_form(gap: int, code: int) -> str:
    return pack_number(gap - 1) + DIGITS[code]


def _dense_form(gap: int, code: int) -> str:
    if code < STRONG_CODE and gap <= _DENSE_GAPS:
        return DIGITS[(gap - 1) * STRONG_CODE + code]
    more, remainder = divmod(gap - 1, _DENSE_REMAINDERS)
    if more:
        return DIGITS[_DENSE_LONG + _DENSE_REMAINDERS + remainder] + pack_number(more - 1) + DIGITS[code]
    return DIGITS[_DENSE_LONG + remainder] + DIGITS[code]


def _table(form: Callable[[int, int], str]) -> tuple[str, ...]:
    """Forms of the short gaps with every code, by gap · 128 + code."""
    return tuple(
        form(gap, code) if gap and code < len(POINTS) else ""
        for gap in range(HALF)
        for code in range(CODE_MASK + 1)
    )


_SPARSE_TABLE = _table(_sparse_form)
_DENSE_TABLE = _table(_dense_form)


def pack_postings(packed: Sequence[int], *, dense: bool) -> str:
    """Each posting as its distance to the record before (the first: to record -1) and its code."""
    form, table = (_dense_form, _DENSE_TABLE) if dense else (_sparse_form, _SPARSE_TABLE)
    if len(packed) == 1:  # as most are
        return form((packed[0] >> CODE_BITS) + 1, packed[0] & CODE_MASK)
    limit = len(table)
    before = -1 << CODE_BITS
    parts = []
    for posting in packed:
        distance = posting - before
        parts.append(
            table[distance] if distance < limit else form(distance >> CODE_BITS, distance & CODE_MASK)
        )
        before = posting & ~CODE_MASK
    return "".join(parts)


def front_coded(words: Sequence[str], between: str = "") -> str:
    """Words, each after what it shares with the one before."""
    return between.join(after(before, word) for before, word in pairwise(["", *words]))


def after(before: str, word: str, most: int = 25) -> str:
    """`word` as what it shares with the word before it, as a sign (A for nothing), and the rest."""
    shared = 0
    for sign, other in zip(before[:most], word, strict=False):
        # A script counts signs beyond U+FFFF twice.
        if sign != other or sign > "\uffff":
            break
        shared += 1
    return chr(ord("A") + shared) + word[shared:]


_as_json: Final = json.JSONEncoder(ensure_ascii=False, separators=(",", ":")).encode


def script(name: str, data: Any) -> str:
    """A file of the index: one call of a classic script."""
    text = _as_json(data)
    if not text.isascii():
        # These two end a line in ES2017 strings.
        text = text.replace("\u2028", "\\u2028").replace("\u2029", "\\u2029")
    return f'shearpinIndex("{name}",{text});\n'
