from __future__ import annotations

import json
from array import array
from collections.abc import Iterator

from hypothesis import given
from hypothesis import strategies as st

from shearpin.search.impacts import CODE_BITS, POINTS, STRONG_CODE
from shearpin.search.packing import DIGITS, is_dense, pack_number, pack_postings, pack_postings_again


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


POSTINGS = st.dictionaries(st.integers(0, 300), st.integers(0, len(POINTS) - 1))


@given(POSTINGS, POSTINGS, st.integers(0, 300), st.integers(0, 300), st.integers(0, 3), st.booleans())
def test_what_is_packed_again_in_part_is_what_would_be_packed_afresh(
    former: dict[int, int], others: dict[int, int], start: int, end: int, further: int, dense: bool
) -> None:
    """Other postings between two records, and all behind them further on: as after an edit, or any."""
    kept = {record: code for record, code in former.items() if record < start}
    kept |= {record: code for record, code in others.items() if start <= record < end}
    kept |= {record + further: code for record, code in former.items() if record >= max(start, end)}
    before, now = (
        array("I", sorted((record << CODE_BITS) + code for record, code in each.items()))
        for each in (former, kept)
    )
    packed = pack_postings(before, dense=dense)
    assert pack_postings_again(before, packed, now, dense=dense) == pack_postings(now, dense=dense)


def test_a_common_term_takes_one_digit_a_record() -> None:
    packed = [(record << CODE_BITS) + record % STRONG_CODE for record in range(0, 1000, 3)]
    assert len(pack_postings(packed, dense=True)) == len(packed)
    assert is_dense(len(packed), 1000)
    assert not is_dense(80, 1000)
