"""Did-you-mean: the nearest known name, or nothing."""

from __future__ import annotations

import pytest

from shearpin.checks.nearest import did_you_mean

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
