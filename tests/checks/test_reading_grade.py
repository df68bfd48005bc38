"""Reading grade: the published formula on published examples, and syllables of words whose count is known."""

from __future__ import annotations

import pytest

from shearpin.checks.reading_grade import Readability, readability, syllables


@pytest.mark.parametrize(
    ("word", "count"),
    [
        ("bolt", 1), ("rope", 1), ("pulled", 1), ("loosen", 2), ("lever", 2), ("auger", 2), ("cable", 2), ("paddle", 2),
        ("tighten", 2), ("turning", 2), ("being", 2), ("started", 2), ("impeller", 3), ("gasoline", 3),
        ("ignition", 3), ("quantity", 3), ("machine", 2), ("clearance", 2), ("a", 1), ("the", 1), ("carburetor", 4),
    ],
)  # fmt: skip
def test_syllables_of_words_that_anybody_can_count(word: str, count: int) -> None:
    assert syllables(word) == count


def test_the_lowest_grade_there_can_be() -> None:
    """One word of one syllable to a sentence gives −3.40, the lower end that descriptions of the formula name."""
    assert readability(["Stop."]).grade == pytest.approx(-3.40)


def test_a_worked_example_of_the_formula() -> None:
    """13 words and 24 syllables in one sentence give 11.3 (a widely printed example; counts from memory)."""
    assert Readability(1, 13, 24).grade == pytest.approx(11.3, abs=0.05)
    text = "The Australian platypus is seemingly a hybrid of a mammal and reptilian creature."
    counted = readability([text])
    assert (counted.sentences, counted.words) == (1, 13)
    assert abs(counted.syllables - 24) <= 1


def test_six_words_of_one_syllable() -> None:
    """0.39 · 6 + 11.8 · 1 − 15.59 = −1.45."""
    assert readability(["The cat sat on the mat."]).grade == pytest.approx(-1.45)


def test_a_value_in_braces_counts_as_one_word() -> None:
    assert readability(["Tighten it to {auger-shear-bolt.torque}."]) == Readability(1, 4, 6)


def test_text_without_words_has_no_grade() -> None:
    with pytest.raises(ValueError, match="no grade"):
        _ = readability(["…"]).grade
