"""The word of the book that was probably meant: edit distance in which likely slips cost less."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from shearpin.search import tables

Words = Callable[[int], Sequence[tuple[str, int]]]


def _near_keys() -> frozenset[str]:
    pairs = set()
    for row_number, row in enumerate(tables.KEY_ROWS):
        for column, key in enumerate(row):
            near = row[column + 1 : column + 2]
            if row_number + 1 < len(tables.KEY_ROWS):
                near += tables.KEY_ROWS[row_number + 1][max(0, column - 1) : column + 1]
            pairs |= {key + other for other in near} | {other + key for other in near}
    return frozenset(pairs)


_NEAR_KEYS = _near_keys()
_SOUND_GROUP = {letter: number for number, group in enumerate(tables.SOUND_GROUPS) for letter in group}


def largest_cost(length: int) -> int:
    """The cost up to which a word of this length is corrected; negative for not at all."""
    return tables.LARGEST_COSTS[min(length, len(tables.LARGEST_COSTS) - 1)]


def candidates(typed: str, words: Words) -> list[tuple[int, str]]:
    """The likeliest words for `typed` with their ratings, best (lowest) first; none when none is near.

    Every edit is weighed, one in the first letter too.
    """
    limit = largest_cost(len(typed))
    for lengths in ((0, -1, 1), (-2, 2)):
        rated = sorted(_rated(typed, words, lengths, tables.LETTERS_APART, limit))
        if rated:
            return rated[: tables.MAX_CANDIDATES]
        if len(typed) < 6:
            break
    return []


def nearest(typed: str, words: Words) -> tuple[str, ...]:
    """The words least unlike `typed`, at most five, for when nothing was found."""
    rated = sorted(_rated(typed, words, (0, -1, 1, -2, 2), tables.LETTERS_APART_NEAREST, 10 * len(typed)))
    return tuple(word for _, word in rated[: tables.NEAREST_WORDS])


def _rated(
    typed: str, words: Words, lengths: Sequence[int], letters_apart: int, limit: int
) -> Iterator[tuple[int, str]]:
    letters = set(typed)
    for difference in lengths:
        for word, common in words(len(typed) + difference):
            if len(letters.symmetric_difference(word)) <= letters_apart:
                cost = edit_cost(typed, word)
                if cost <= limit:
                    yield 2 * cost - common, word


def edit_cost(typed: str, word: str) -> int:
    """Least total cost of single-letter changes and swaps of neighbours that turn `typed` into `word`."""
    above: list[int] = []
    row = [0]
    for j, letter in enumerate(word):
        row.append(row[j] + _letter_cost(letter, word[j - 1] if j else ""))
    for i, left in enumerate(typed):
        before = typed[i - 1] if i else ""
        too_many = _letter_cost(left, before)
        next_row = [row[0] + too_many]
        for j, right in enumerate(word):
            neighbour = word[j - 1] if j else ""
            best = min(row[j + 1] + too_many, next_row[j] + _letter_cost(right, neighbour))
            changed = (
                0
                if left == right
                else _change_cost(left, right) + (0 if i or j else tables.COST_FIRST_LETTER)
            )
            best = min(best, row[j] + changed)
            if i and j and left == neighbour and before == right:
                best = min(best, above[j - 1] + tables.COST_SWAPPED)
            next_row.append(best)
        above, row = row, next_row
    return row[-1]


def _change_cost(left: str, right: str) -> int:
    if left in _SOUND_GROUP and _SOUND_GROUP[left] == _SOUND_GROUP.get(right):
        return tables.COST_SOUNDS_ALIKE
    return tables.COST_NEAR_KEY if left + right in _NEAR_KEYS else tables.COST_OTHER_LETTER


def _letter_cost(letter: str, before: str) -> int:
    """Cost of one letter too many or too few, `before` being the letter it follows, empty at the beginning."""
    if letter == before:
        return tables.COST_DOUBLED
    cost = tables.COST_WEAK_LETTER if letter in tables.WEAK_LETTERS else tables.COST_MISSING_LETTER
    return cost if before else cost + tables.COST_FIRST_LETTER
