"""Who read what: the readers of numbers, against looking through every one."""

import random

import pytest

from shearpin.book.numbering import Readers, packed


def _reads(seed: int) -> dict[int, set[int]]:
    chance = random.Random(seed)
    # Numbers whose bytes hold those of others, also across the end of one and the beginning of the next.
    numbers = [0, 1, 2, 255, 256, 257, 512, 65_536, 65_537, 16_777_216, *range(300, 340)]
    return {reader: set(chance.sample(numbers, chance.randrange(8))) for reader in range(300, 420)}


@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize("many", [1, 3, 40])
def test_all_who_read_one_of_some_numbers_are_found(seed: int, many: int) -> None:
    reads = _reads(seed)
    readers = Readers({reader: packed(read) for reader, read in reads.items()})
    chance = random.Random(seed)
    for _ in range(20):
        sought = set(chance.sample(sorted(set().union(*reads.values())), many))
        assert readers.of(sought) == {reader for reader, read in reads.items() if read & sought}


@pytest.mark.parametrize("seed", range(4))
def test_those_reached_by_way_of_other_readers_are_found(seed: int) -> None:
    reads = _reads(seed)
    readers = Readers({reader: packed(read) for reader, read in reads.items()})
    for number in (0, 257, 301, 16_777_216):
        expected: set[int] = set()
        latest = {number}
        while latest:
            latest = {reader for reader, read in reads.items() if read & latest} - expected
            expected |= latest
        assert readers.reached_from({number}) == expected


def test_nobody_reads_what_nobody_read() -> None:
    assert Readers[str]({}).of({1}) == set()
    assert Readers({"a": packed(set()), "b": packed({2})}).of({1, 3}) == set()
