"""The report: surprises that luck does not explain, slow tests, symptoms without history."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from shearpin.diagnosis.history import History
from shearpin.diagnosis.log_report import _SLOWER, LogReport, report, tail
from shearpin.diagnosis.repair import Repair, TestDone
from tests.diagnosis.test_history import FILES, SYMPTOM, repair
from tests.sound_book import read_over


@pytest.fixture
def of(tmp_path: Path) -> Callable[..., LogReport]:
    linked = read_over(tmp_path, FILES)
    return lambda *repairs: report(History(linked, repairs))


def test_the_tail_is_twice_scipys_binomial() -> None:
    """2·scipy.stats.binom.sf(5, 8, 0.1) and 2·cdf(12, 20, 0.85), scipy 1.17.1."""
    assert tail(6, 8, 0.1) == pytest.approx(4.682000000000002e-05, rel=1e-9)
    assert tail(12, 20, 0.85) == pytest.approx(0.011842291128564, rel=1e-9)
    assert tail(0, 0, 0.3) == 1.0


def test_the_tail_of_a_long_log_can_be_told() -> None:
    """By the normal distribution with the correction for continuity, close at this size (any textbook of statistics)."""
    deviations = (10_200 - 0.5 - 10_000) / math.sqrt(20_000 * 0.5 * 0.5)
    assert tail(10_200, 20_000, 0.5) == pytest.approx(math.erfc(deviations / math.sqrt(2.0)), rel=1e-3)
    assert tail(2_000, 2_000, 0.01) == 0.0
    assert tail(3, 3, 1.0) == 1.0
    assert tail(1, 3, 0.0) == 0.0


def test_few_repairs_do_not_surprise_and_many_do(of: Callable[..., LogReport]) -> None:
    assert of(repair("ice"), repair("ice")).surprises == ()
    more, less = of(*[repair("something-else")] * 9, repair("rust")).surprises
    assert (more.cause, more.count, more.total, more.machines) == ("something-else", 9, 10, ("brook-d24",))
    assert more.expected == pytest.approx(1.0)
    assert more.luck < 0.05 / 3
    assert (less.cause, less.count) == ("rust", 1)
    assert of(*[repair("rust")] * 20, *[repair("ice")] * 9).surprises == ()  # about what the words say


def test_a_cause_that_never_shows_surprises_too(of: Callable[..., LogReport]) -> None:
    found = of(*[repair("ice")] * 60).surprises
    assert {(item.cause, item.count) for item in found} == {("ice", 60), ("rust", 0), ("something-else", 0)}


def timed(minutes: int) -> Repair:
    return replace(repair("rust"), tests=(TestDone("shear-bolt-inspection", "broken", minutes),))


def test_a_test_is_slow_when_it_mostly_takes_longer_than_the_book_says(of: Callable[..., LogReport]) -> None:
    (slow,) = of(*map(timed, (5, 4, 6, 5, 9))).slow_tests
    assert (slow.book_minutes, slow.median_minutes, slow.slower, slow.timed) == (2, 5, 5, 5)
    assert of(*map(timed, (5, 4, 6, 5))).slow_tests == ()  # 1 in 16 by luck
    assert of(*map(timed, (2, 2, 2, 1, 1, 9, 2))).slow_tests == ()


def test_proven_causes_that_the_symptom_does_not_list_are_told(of: Callable[..., LogReport]) -> None:
    told = of(repair("rats"), repair("rats"), repair("rust"))
    assert [(item.symptom, item.cause, item.count) for item in told.unlisted] == [(SYMPTOM, "rats", 2)]
    assert (told.repairs, told.proven) == (3, 3)


def test_symptoms_without_any_repair_are_listed(of: Callable[..., LogReport]) -> None:
    assert of().without_history == (SYMPTOM,)
    assert of(repair("not-proven")).without_history == ()


def test_a_test_that_takes_just_as_much_longer_as_counts_is_slow(of: Callable[..., LogReport]) -> None:
    (slow,) = of(*map(timed, [2] * 5 + [3] * 5)).slow_tests
    assert slow.median_minutes == 2 * _SLOWER


def test_a_repair_that_found_something_else_is_proven_and_one_of_an_unknown_cause_is_not(
    of: Callable[..., LogReport],
) -> None:
    told = of(repair("rust"), repair("something-else"), repair("no-such-cause"), repair("no-such-cause"))
    assert (told.repairs, told.proven) == (4, 2)
