from __future__ import annotations

import json
from collections.abc import Iterator

from hypothesis import given
from hypothesis import strategies as st

from shearpin.search.impacts import CODE_BITS, POINTS, STRONG_CODE
from shearpin.search.packing import DIGITS, is_dense, pack_number, pack_postings


def numbers(text: str) -> Iterator[int]:
    """Reads packed numbers by the description of the format, not by the code that writes them."""
    total, place = 0, 1
    for character in text:
        digit = DIGITS.index(character)
        total += (digit % 46) * place
        place *= 46
        if digit < 46:
            yield total
            total, place = 0, 1


def postings(text: str, *, dense: bool) -> list[tuple[int, int]]:
    found = []
    record, at = -1, 0
    while at < len(text):
        digit = DIGITS.index(text[at])
        if dense and digit < 64:
            record, code, at = record + digit // 8 + 1, digit % 8, at + 1
        else:
            if dense:
                more, remainder = divmod(digit - 64, 14)
                gap, at = remainder + 1, at + 1
                if not more:
                    record, code, at = record + gap, DIGITS.index(text[at]), at + 1
                    found.append((record, code))
                    continue
            end = at
            while DIGITS.index(text[end]) >= 46:
                end += 1
            number = next(numbers(text[at : end + 1]))
            record += gap + (number + 1) * 14 if dense else number + 1
            code, at = DIGITS.index(text[end + 1]), end + 2
        found.append((record, code))
    return found


def test_digits_need_no_escape_and_no_blank() -> None:
    assert len(set(DIGITS)) == len(DIGITS) == 92
    assert json.dumps(DIGITS) == f'"{DIGITS}"'
    assert DIGITS.isascii()
    assert not any(character.isspace() for character in DIGITS)


@given(st.lists(st.integers(0, 10**12)))
def test_numbers_come_back(values: list[int]) -> None:
    assert list(numbers("".join(map(pack_number, values)))) == values


@given(
    st.dictionaries(st.integers(0, 20_000), st.integers(0, len(POINTS) - 1)),
    st.booleans(),
)
def test_postings_come_back(found: dict[int, int], dense: bool) -> None:
    packed = [(record << CODE_BITS) + code for record, code in sorted(found.items())]
    assert postings(pack_postings(packed, dense=dense), dense=dense) == sorted(found.items())


def test_a_common_term_takes_one_digit_a_record() -> None:
    packed = [(record << CODE_BITS) + record % STRONG_CODE for record in range(0, 1000, 3)]
    assert len(pack_postings(packed, dense=True)) == len(packed)
    assert is_dense(len(packed), 1000)
    assert not is_dense(80, 1000)
