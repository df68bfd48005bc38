from __future__ import annotations

import math

import pytest

from shearpin.search.impacts import (
    LEVELS,
    POINTS,
    STRONG_CODES,
    WEAK_CODES,
    FieldWeight,
    field_shares,
    inverse_document_frequency,
    level,
    rounded_idf,
    rounded_mean,
    saturate,
)

# Robertson & Zaragoza, Foundations and Trends in Information Retrieval 3(4), 2009 (formula from memory); k1 1.2, b 0.75,
# query "engine start".
K1 = 1.2
ONE_FIELD = (FieldWeight("text", 1.0, 0.75),)
TEXTS = (
    "engine will not start",
    "engine surges at idle",
    "auger will not turn",
    "no self propel drive belt slips",
)
MEAN = 4.5


def bm25(query: str, text: str, idf: dict[str, float]) -> float:
    """BM25 by way of BM25F with one field of weight 1, times the constant k1 + 1 that BM25F leaves out."""
    words = text.split()
    total = 0.0
    for term in query.split():
        (share,) = field_shares([len(words)], [MEAN], ONE_FIELD)
        frequency = words.count(term) * share
        total += idf[term] * saturate(frequency, K1) * (K1 + 1)
    return total


def containing(term: str) -> int:
    return sum(term in text.split() for text in TEXTS)


def test_one_field_of_weight_one_is_bm25_with_the_idf_of_robertson_and_sparck_jones() -> None:
    # R10: worked by hand from the formula.
    idf = {
        term: math.log((4 - containing(term) + 0.5) / (containing(term) + 0.5))
        for term in ("engine", "start")
    }
    assert [bm25("engine start", text, idf) for text in TEXTS] == pytest.approx([0.887645, 0, 0, 0], abs=1e-6)


def test_one_field_of_weight_one_is_bm25_with_the_idf_that_is_never_negative() -> None:
    # R11: worked by hand from the formula.
    idf = {term: inverse_document_frequency(4, containing(term)) for term in ("engine", "start")}
    scores = [bm25("engine start", text, idf) for text in TEXTS]
    assert scores == pytest.approx([1.987459, 0.726154, 0, 0], abs=1e-6)


def test_frequencies_are_weighted_before_they_are_saturated_once() -> None:
    # By hand: title 1 of 4 terms, mean 8, b 0.5, weight 6: 6 / (0.5 + 0.5·4/8) = 8; body 3 of 100, mean 200, b 0.75,
    # weight 1: 3 / (0.25 + 0.75·100/200) = 4.8; tf' = 12.8; with k1 = 4: 12.8 / 16.8.
    fields = (FieldWeight("title", 6.0, 0.5), FieldWeight("body", 1.0, 0.75))
    in_title, in_body = field_shares([4, 100], [8, 200], fields)
    frequency = 1 * in_title + 3 * in_body
    assert frequency == pytest.approx(12.8)
    assert saturate(frequency, 4.0) == pytest.approx(12.8 / 16.8)
    separately = saturate(8, 4.0) + saturate(4.8, 4.0)
    assert separately > 1 > saturate(frequency, 4.0)  # the sum of single fields is another measure


def test_a_field_that_no_record_has_counts_plainly() -> None:
    assert field_shares([3], [0], ONE_FIELD) == (1.0,)


def test_idf_falls_with_every_further_record_and_never_below_zero() -> None:
    values = [inverse_document_frequency(100, n) for n in range(1, 101)]
    assert values == sorted(values, reverse=True)
    assert values[-1] > 0


def test_levels_rise_with_the_frequency_and_codes_fit_a_digit() -> None:
    levels = [level(0.1 * step) for step in range(5000)]
    assert levels == sorted(levels)
    assert (levels[0], max(levels)) == (0, LEVELS - 1)
    assert level(1e12) == LEVELS - 1
    assert len(POINTS) == len({*WEAK_CODES, *STRONG_CODES})
    assert [POINTS[code] for code in STRONG_CODES] == list(range(1, LEVELS + 1))
    weak = [POINTS[code] for code in WEAK_CODES]
    assert weak == sorted(weak)


def test_every_code_that_a_level_can_have_counts_close_to_it() -> None:
    for found, code in enumerate(WEAK_CODES[6:32], start=6):
        assert abs(POINTS[code] - (found + 1)) <= 5


def test_idf_is_a_small_whole_number() -> None:
    assert rounded_idf(10_000, 10_000) == 1
    assert rounded_idf(10_000, 1) == round(16 * 3.75 * (math.log(1 + 9999.5 / 1.5) / 3.75) ** 0.7)
    assert rounded_idf(10**9, 1) <= 255


def test_rarity_counts_for_less_the_rarer_a_word_is() -> None:
    assert rounded_idf(10_000, 235) == 60 == round(16 * math.log(1 + 9765.5 / 235.5))
    assert rounded_idf(10_000, 1) < 16 * inverse_document_frequency(10_000, 1)
    assert rounded_idf(10_000, 5_000) > 16 * inverse_document_frequency(10_000, 5_000)


@pytest.mark.parametrize(("total", "count", "mean"), [(18, 4, 4.5), (40_000, 103, 390.0), (0, 0, 0.0)])
def test_mean_lengths_have_two_digits(total: int, count: int, mean: float) -> None:
    assert rounded_mean(total, count) == mean
