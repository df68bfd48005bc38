"""Did-you-mean: the nearest known name, or nothing."""

from __future__ import annotations

import pytest

from shearpin.checks.nearest import did_you_mean, nearest_or_all

KNOWN = ("auger-belt", "auger-brake", "traction-belt", "REF001")


@pytest.mark.parametrize(
    ("word", "meant"),
    [
        ("auger-belt", "auger-belt"),
        ("augur-belt", "auger-belt"),
        ("Auger_Belt", "auger-belt"),
        ("auger belt", "auger-belt"),
        ("auger-brak", "auger-brake"),
        ("traktion-belt", "traction-belt"),
        ("ref01", "REF001"),
    ],
)
def test_the_nearest_name_is_offered(word: str, meant: str) -> None:
    assert did_you_mean(word, KNOWN) == f"did you mean `{meant}`?"


@pytest.mark.parametrize("word", ["", "x", "spark-plug", "日本"])
def test_nothing_near_is_no_offer(word: str) -> None:
    assert did_you_mean(word, KNOWN) == ""


def test_nothing_known_is_no_offer() -> None:
    assert did_you_mean("auger-belt", ()) == ""


def test_where_nothing_is_near_a_few_of_all_are_named() -> None:
    assert nearest_or_all("augur-belt", KNOWN, "parts") == "did you mean `auger-belt`?"
    assert nearest_or_all("x", KNOWN[:2], "parts") == "parts: auger-belt, auger-brake"
    assert nearest_or_all("x", (), "parts") == "the book has no parts yet"
    many = nearest_or_all("x", map(str, range(1000, 1100)), "parts")
    assert many.endswith(" 1011 and 88 more")
