"""What is handed on of a ledger: settled or noted since, it tells the same."""

from __future__ import annotations

import random
from dataclasses import replace

import pytest

from shearpin.book.joined import Unpacking, packed
from shearpin.book.past import Past, Settled


def settled(past: Past) -> Past:
    return Past(Settled(Unpacking(b"".join(past.packed()))))


def _grouped(names: list[tuple[str, ...]], first: int) -> dict[tuple[str, ...], dict[str, int]]:
    groups: dict[tuple[str, ...], dict[str, int]] = {}
    for number, name in enumerate(names, first):
        groups.setdefault(name[:-1], {})[name[-1]] = number
    return groups


def _grown(past: Past, chance: random.Random) -> Past:
    """Return the past with more names, and others marks, reads and values of some that are there."""
    first = len(past)
    names: list[tuple[str, ...]] = [("input", f"{first}-{each}") for each in range(chance.randrange(1, 12))]
    names += [("sum", "of", f"{first}-{each}") for each in range(chance.randrange(1, 12))]
    names += [(f"alone {first}",)]
    last = first + len(names)
    known = {number for number in range(first) if past.name(number)[0] == "sum"}
    answers = known | {first + place for place, name in enumerate(names) if name[0] == "sum"}
    others = {n for n in range(first) if chance.random() < 0.3}
    marks, new_marks = dict(past.marks), [*past.new_marks]
    for number in sorted({*range(first, last), *others}):
        mark = bytes([chance.randrange(256)] * 12)
        if number < len(past.settled):
            marks[number] = mark
        else:
            new_marks[number - len(past.settled) : number - len(past.settled) + 1] = [mark]
    read = sorted(n for n in answers if n >= first or n in others)
    return Past(
        past.settled,
        _grouped([*past.names, *names], len(past.settled)),
        new_marks,
        marks,
        {**past.reads, **{n: packed(chance.sample(range(last), min(3, n))) for n in read}},
        {**past.values, **{n: b"value %d" % chance.randrange(99) for n in read if n % 2}},
    )


def _told(past: Past) -> dict[str, object]:
    numbers = range(len(past))
    begins = {past.name(number)[:-1] for number in numbers}
    return {
        "names": [past.name(number) for number in numbers],
        "marks": [past.mark(number) for number in numbers],
        "reads": {n: past.read(n) for n in numbers if past.name(n)[0] == "sum"},
        "values": [past.value(number) for number in numbers],
        "begins": set(past.begins()) | begins,
        "groups": {begin: past.group(begin) for begin in begins},
        "reached": [past.reached_from({number}) for number in numbers],
    }


@pytest.mark.parametrize("seed", range(6))
def test_it_makes_no_difference_what_was_settled_when(seed: int) -> None:
    chance = random.Random(seed)
    one = other = Past()
    for _ in range(5):
        state = chance.getstate()
        one = _grown(one, chance)
        chance.setstate(state)
        other = _grown(other, chance)
        if chance.random() < 0.5:
            other = settled(other)
        assert _told(one) == _told(other)
    assert all(one.group(one.name(n)[:-1])[one.name(n)[-1]] == n for n in range(len(one)))


def test_answers_are_reached_by_way_of_other_answers_as_they_were_made_last() -> None:
    names: list[tuple[str, ...]] = [("input",), ("one",), ("two",), ("three",)]
    past = Past(
        groups=_grouped(names, 0),
        new_marks=[b"m"] * 4,
        reads={1: packed({0}), 2: packed({1}), 3: packed({2})},
    )
    assert past.reached_from({0}) == {1, 2, 3}
    now = settled(past)
    assert now.reached_from({0}) == {1, 2, 3}
    now = replace(now, reads={2: packed({3})})  # another one now
    assert now.reached_from({0}) == {1}
    assert now.reached_from({2}) == {2, 3}


def test_there_is_nothing_in_an_empty_past() -> None:
    for past in (Past(), settled(Past())):
        assert len(past) == 0
        assert past.group(()) == {}
        assert past.value(0) is None
        assert past.reached_from({1}) == set()


def test_inputs_of_which_nothing_is_read_take_no_answers_away() -> None:
    """Thousands of names without reads stand before the answers in a large book."""
    names: list[tuple[str, ...]] = [("input", str(number)) for number in range(3_000)]
    names += [("sum", "of", str(number)) for number in range(600)]
    last = len(names)
    reads = {number: packed({number - 3_000}) for number in range(3_000, last)}
    now = settled(Past(groups=_grouped(names, 0), new_marks=[b"m"] * last, reads=reads))
    assert now.reached_from({599}) == {3_599}
    assert [now.read(number) for number in range(3_000, last)] == list(reads.values())
