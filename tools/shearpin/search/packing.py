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


_NO_RECORD: Final = -1 << CODE_BITS


def pack_postings(packed: Sequence[int], *, dense: bool, before: int = _NO_RECORD) -> str:
    """Each posting as its distance to the record before (the first: to that of the posting `before`, or to record -1) and its code."""
    form, table = (_dense_form, _DENSE_TABLE) if dense else (_sparse_form, _SPARSE_TABLE)
    before &= ~CODE_MASK
    if len(packed) == 1:  # as most are
        return form((packed[0] - before) >> CODE_BITS, packed[0] & CODE_MASK)
    limit = len(table)
    parts = []
    for posting in packed:
        distance = posting - before
        parts.append(
            table[distance] if distance < limit else form(distance >> CODE_BITS, distance & CODE_MASK)
        )
        before = posting & ~CODE_MASK
    return "".join(parts)


def pack_postings_again(former: Sequence[int], packed: str, postings: Sequence[int], *, dense: bool) -> str:
    """Postings packed, of which most are as in a former list that is `packed` in the same form: only what is between is packed anew.

    Where that stands in a long list tells the nearer end of it.
    """
    first = _common(former, postings)
    last = min(len(former), len(postings)) - first
    last = _common(former[: -last - 1 : -1], postings[: -last - 1 : -1]) if last else 0
    before = former[first - 1] if first else _NO_RECORD
    ends = (
        len(former) - max(0, last - 1),
        len(postings) - max(0, last - 1),
    )  # the distance to the next one may be another
    gone = len(pack_postings(former[first : ends[0]], dense=dense, before=before))
    if first <= last:
        start = len(pack_postings(former[:first], dense=dense))
    else:
        behind = pack_postings(former[ends[0] :], dense=dense, before=former[ends[0] - 1])
        start = len(packed) - len(behind) - gone
    between = pack_postings(postings[first : ends[1]], dense=dense, before=before)
    return packed[:start] + between + packed[start + gone :]


def _common(first: Sequence[int], second: Sequence[int]) -> int:
    """Return how many items two lists begin with alike."""
    low, high = 0, min(len(first), len(second))
    while low < high:
        middle = (low + high + 1) // 2
        if first[low:middle] == second[low:middle]:
            low = middle
        else:
            high = middle - 1
    return low


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
