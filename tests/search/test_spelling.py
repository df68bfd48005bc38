from __future__ import annotations

from collections.abc import Sequence

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shearpin.search.spelling import Words, candidates, edit_cost, largest_cost, nearest

BOOK = """
auger belt belts bolt bowl cable carburetor choke chute clutch compression crank engine fuel gasket gauge gearbox
governor grease headlight idler ignition impeller kill leak lever machine muffler paddle piston plug pressure primer
pulley recoil rope scraper shear skid spark spring starter surge switch tension throttle tiller tine tire torque
track valve vibration wheel will wrench
"""


def correct(typed: str, words: Words) -> str | None:
    """The likeliest word alone."""
    found = candidates(typed, words)
    return found[0][1] if found else None


def words(length: int) -> Sequence[tuple[str, int]]:
    return [(word, 3) for word in BOOK.split() if len(word) == length]


# Slips of keyboard, ear and haste, the first letter included; the intended word is from common practice, no source.
@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("agur", "auger"), ("auger", "auger"), ("uager", "auger"), ("suger", "auger"), ("ager", "auger"),
        ("carburator", "carburetor"), ("carberator", "carburetor"), ("karburetor", "carburetor"),
        ("carburater", "carburetor"), ("carbrator", "carburetor"), ("csrburetor", "carburetor"),
        ("blet", "belt"), ("impellor", "impeller"), ("impeler", "impeller"), ("gasckit", "gasket"),
        ("govenor", "governor"), ("governer", "governor"), ("ignitoin", "ignition"), ("recoill", "recoil"),
        ("thottle", "throttle"), ("compresion", "compression"), ("muflfer", "muffler"), ("pully", "pulley"),
        ("vavle", "valve"), ("wrentch", "wrench"), ("tesnion", "tension"), ("primmer", "primer"), ("presure", "pressure"),
        ("hedlight", "headlight"), ("vibation", "vibration"), ("shute", "chute"), ("torqe", "torque"),
        ("gearobx", "gearbox"), ("enigne", "engine"), ("rngine", "engine"), ("tiler", "tiller"),
    ],
)  # fmt: skip
def test_slips_are_mended(typed: str, meant: str) -> None:
    assert correct(typed, words) == meant


@pytest.mark.parametrize("typed", ["xyzzy", "qqqqqqq", "ab", "x", "snowmobile", "refrigerator"])
def test_words_near_nothing_stay(typed: str) -> None:
    assert correct(typed, words) is None


def test_the_commoner_of_two_equally_near_words_is_meant() -> None:
    common = {"bolt": 1, "boot": 9}
    assert (
        correct("booot", lambda n: [(word, rate) for word, rate in common.items() if len(word) == n])
        == "boot"
    )


def test_likely_slips_cost_less_than_unlikely_ones() -> None:
    assert edit_cost("belt", "belt") == 0
    assert edit_cost("blet", "belt") < edit_cost("bemt", "belt")  # swapped, another letter
    assert edit_cost("bwlt", "belt") < edit_cost("bmlt", "belt")  # a key beside it, one far away
    assert edit_cost("bilt", "belt") < edit_cost("bmlt", "belt")  # sounds alike
    assert edit_cost("bellt", "belt") < edit_cost("besslt", "belt")  # doubled
    assert edit_cost("celt", "belt") > edit_cost("becl", "bebl")  # the first letter is seldom wrong


LETTERS = st.text("abcdelmnt", max_size=8)


@given(LETTERS, LETTERS)
def test_cost_is_zero_for_the_same_word_alone(typed: str, word: str) -> None:
    assert (edit_cost(typed, word) == 0) == (typed == word)


@given(LETTERS, LETTERS)
def test_no_edit_is_dearer_than_writing_the_word_anew(typed: str, word: str) -> None:
    assert edit_cost(typed, word) <= 9 * (len(typed) + len(word)) + 6


def test_longer_words_may_be_further_off() -> None:
    limits = [largest_cost(length) for length in range(30)]
    assert limits == sorted(limits)
    assert limits[2] < 0


def test_nearest_words_come_in_order() -> None:
    found = nearest("gskt", words)
    assert found[0] == "gasket"
    assert len(found) <= 5
