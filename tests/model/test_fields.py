"""The types of fields: chances, times, counts, flags, dates and ids take what is meant and nothing else."""

from __future__ import annotations

from typing import Any

import pytest
from pydantic import TypeAdapter, ValidationError

from shearpin.model.fields import (
    SHARE_OF_WORD,
    AppliesTo,
    Chance,
    ChanceField,
    ChanceWord,
    Count,
    Date,
    Duration,
    Flag,
    Id,
)


def _takes(kind: Any, text: object) -> bool:
    try:
        TypeAdapter(kind).validate_python(text)
    except ValidationError:
        return False
    return True


@pytest.mark.parametrize(("word", "share"), [(word.value, SHARE_OF_WORD[word]) for word in ChanceWord])
def test_a_chance_in_words_means_its_share(word: str, share: float) -> None:
    chance: Chance = TypeAdapter(ChanceField).validate_python(word)
    assert chance.number == share
    assert str(chance) == word


def test_words_for_chances_fall_in_their_order() -> None:
    shares = list(SHARE_OF_WORD.values())
    assert list(SHARE_OF_WORD) == list(ChanceWord)
    assert shares == sorted(shares, reverse=True)
    assert 0 < shares[-1] < shares[0] < 1


@pytest.mark.parametrize(
    ("text", "share", "shown"),
    [
        ("0.3", 0.3, "30 %"),
        ("30 %", 0.3, "30 %"),
        ("30%", 0.3, "30 %"),
        ("0", 0.0, "0 %"),
        ("1", 1.0, "100 %"),
        ("2.5 %", 0.025, "2.5 %"),
    ],
)
def test_a_chance_as_a_share(text: str, share: float, shown: str) -> None:
    chance: Chance = TypeAdapter(ChanceField).validate_python(text)
    assert chance.number == pytest.approx(share)
    assert str(chance) == shown


@pytest.mark.parametrize(
    "text", ["1.01", "101 %", "-0.1", "oftn", "", "0,3", "1e-1", "nan", "0.3 0.4", ["often"], "۰.۳"]
)
def test_what_is_no_chance_is_refused(text: object) -> None:
    assert not _takes(ChanceField, text)


@pytest.mark.parametrize(("text", "seconds"), [("15 min", 900), ("1 h 30 min", 5400), (" 2 h ", 7200)])
def test_a_time_is_a_quantity(text: str, seconds: int) -> None:
    assert TypeAdapter(Duration).validate_python(text).si == seconds


@pytest.mark.parametrize("text", ["15", "soon", "15 mm", "", ["15 min"]])
def test_what_is_no_time_is_refused(text: object) -> None:
    assert not _takes(Duration, text)


@pytest.mark.parametrize(
    ("text", "taken"),
    [
        ("1", True),
        (" 12 ", True),
        ("0", False),
        ("01", False),
        ("-1", False),
        ("1.0", False),
        ("two", False),
        ("100000", False),
    ],
)
def test_counts_begin_at_one(text: str, taken: bool) -> None:
    assert _takes(Count, text) is taken


@pytest.mark.parametrize(
    ("text", "taken"),
    [("yes", True), ("no", True), ("Yes", False), ("true", False), ("", False), ("1", False)],
)
def test_flags_are_yes_or_no(text: str, taken: bool) -> None:
    assert _takes(Flag, text) is taken


@pytest.mark.parametrize(
    ("text", "taken"),
    [("2026-10-02", True), ("2024-02-29", True), ("2026-13-01", False), ("2026-00-10", False), ("2026-02-30", False),
     ("2026-02-29", False), ("2026-04-31", False), ("02.10.2026", False), ("2026-1-2", False)],
)  # fmt: skip
def test_dates_are_days_of_the_calendar(text: str, taken: bool) -> None:
    assert _takes(Date, text) is taken


@pytest.mark.parametrize(
    ("text", "taken"),
    [("auger-belt", True), ("plug.gap", True), ("e212", True), ("a" * 80, True), ("a" * 81, False), ("Auger", False), ("auger_belt", False),
     ("-a", False), ("a-", False), ("a--b", False), ("a.b.c", False), ("", False), ("é", False), ("a\n", False), ("..", False), ("a/b", False)],
)  # fmt: skip
def test_ids_are_lower_case_words_joined_by_hyphens(text: str, taken: bool) -> None:
    assert _takes(Id, text) is taken


def test_a_condition_may_be_written_as_one_word_or_a_list() -> None:
    one = AppliesTo.model_validate({"class": "two-stage", "fitted": "tracks"})
    assert one == AppliesTo.model_validate({"class": ["two-stage"], "fitted": ["tracks"]})
    assert hash(one) == hash(AppliesTo.model_validate({"class": ["two-stage"], "fitted": ["tracks"]}))
