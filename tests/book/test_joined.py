"""Pieces of bytes in one: found by place, and by the numbers in them, against looking through every one."""

import random

import pytest

from shearpin.book.joined import Joined, Unpacking, joined_parts, packed
from shearpin.model.usercache import packed_slice


def _reads(seed: int) -> list[set[int]]:
    chance = random.Random(seed)
    # Numbers whose bytes hold those of others, also across the end of one and the beginning of the next.
    numbers = [0, 1, 2, 255, 256, 257, 512, 65_536, 65_537, 16_777_216, *range(300, 1_200)]
    return [set(chance.sample(numbers, chance.randrange(8))) for _ in range(400)]


def _unpacked_from_among_others(pieces: list[bytes]) -> Joined:
    parts = (packed_slice("abc"), *joined_parts(pieces), *joined_parts([packed({257})]))
    unpacking = Unpacking(b"".join(parts))
    assert unpacking.slice() == "abc"
    found = unpacking.joined()
    assert [*unpacking.joined()] == [packed({257})]
    return found


@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize("many", [1, 3, 40, 500])
@pytest.mark.parametrize("join", [Joined.of, _unpacked_from_among_others])
def test_all_pieces_with_one_of_some_numbers_are_found(join, seed: int, many: int) -> None:  # type: ignore[no-untyped-def]
    reads = _reads(seed)
    joined: Joined = join([packed(read) for read in reads])
    chance = random.Random(seed)
    for _ in range(20):
        sought = set(chance.sample(sorted(set().union(*reads)), many))
        assert joined.with_numbers(sought) == {place for place, read in enumerate(reads) if read & sought}


@pytest.mark.parametrize("join", [Joined.of, _unpacked_from_among_others])
def test_each_piece_is_there_as_it_was_put_in(join) -> None:  # type: ignore[no-untyped-def]
    pieces = [b"", b"one", b"", b"three", b"\0", *[b""] * 2_000, b"last", b""]
    joined: Joined = join(pieces)
    assert [joined[place] for place in range(len(joined))] == pieces
    with pytest.raises(IndexError):
        joined[len(pieces)]


def test_nothing_is_in_no_pieces() -> None:
    assert Joined.of([]).with_numbers({1}) == set()
    assert Joined.of([packed(set()), packed({2})]).with_numbers({1, 3}) == set()
    assert Joined.of([packed({2})]).with_numbers(set()) == set()
