"""What the log teaches: posterior means and intervals worked by hand, and which repairs count for which machine."""

from __future__ import annotations

from pathlib import Path

import pytest

from shearpin.diagnosis.history import History, learn
from shearpin.diagnosis.model import build_model
from shearpin.diagnosis.priors import SOMETHING_ELSE, STRENGTH_OF_WORDS
from shearpin.diagnosis.repair import NOT_PROVEN, Repair, TestDone
from tests.sound_book import read_over

SYMPTOM = "one-side-of-auger-does-not-turn"
CAUSE = "title: A\nmechanism: B.\nconfirmed_by: C.\nsystems: auger-drive\n"
FILES = {
    f"symptoms/{SYMPTOM}.yaml": "title: A\nsummary: B.\nsystems: auger-drive\ncauses:\n"
    "  - {cause: rust, chance: often}\n  - {cause: ice, chance: sometimes}\n"
    "  - {cause: slack-track, chance: sometimes, applies_to: {fitted: tracks}}\n",
    **{f"causes/{cause}.yaml": CAUSE for cause in ("rust", "ice", "slack-track", "rats")},
}
INTERVALS = [
    (0.5325289003570655, 0.8388152759117995),
    (0.1374569032955017, 0.43404937492224266),
    (0.0007908685979525573, 0.10888116067935288),
]


def repair(cause: str, machine: str = "brook-d24", **more: str) -> Repair:
    return Repair("2026-11-28", machine, more.get("symptom", SYMPTOM), (), cause)


def history(folder: Path, *repairs: Repair) -> History:
    return History(read_over(folder, FILES), repairs)


def test_words_of_strength_ten_and_twenty_three_repairs_worked_by_hand() -> None:
    """10 · 0.6 = 6 words for rust, and 17 repairs of 23: (6 + 17)/(10 + 23) = 23/33.

    The intervals are scipy.stats.beta.ppf([0.025, 0.975], a, b) of scipy 1.17.1 for (23, 10), (9, 24) and (1, 32).
    """
    assert STRENGTH_OF_WORDS == 10
    found = learn({"rust": 0.6, "ice": 0.3, SOMETHING_ELSE: 0.1}, {"rust": 17, "ice": 6})
    assert [(item.count, item.total) for item in found.values()] == [(17, 23), (6, 23), (0, 23)]
    assert [item.chance for item in found.values()] == pytest.approx([23 / 33, 9 / 33, 1 / 33], rel=1e-12)
    assert [(item.low, item.high) for item in found.values()] == [
        pytest.approx(pair, rel=1e-9) for pair in INTERVALS
    ]


def test_nothing_counted_leaves_the_words_as_they_are(tmp_path: Path) -> None:
    log = history(tmp_path)
    assert not log.counts(SYMPTOM, "brook-d24")
    assert log.learned(SYMPTOM, "brook-d24") == {}


def test_the_model_is_built_with_what_the_log_teaches(tmp_path: Path) -> None:
    log = history(tmp_path, *[repair("ice")] * 8, repair("rust"))
    counts = log.counts(SYMPTOM, "brook-d24")
    model = build_model(log.linked, SYMPTOM, "brook-d24", counts)
    learned = log.learned(SYMPTOM, "brook-d24")
    assert model.priors == {cause: item.chance for cause, item in learned.items()}
    assert model.priors["ice"] > model.priors["rust"]
    assert sum(model.priors.values()) == pytest.approx(1.0)


def test_repairs_count_on_machines_on_which_the_same_causes_can_occur(tmp_path: Path) -> None:
    log = history(tmp_path, repair("rust"), repair("ice", "brook-t28"), repair("slack-track", "brook-t28"))
    assert log.counts(SYMPTOM, "brook-d24") == {"rust": 1}
    assert log.counts(SYMPTOM, "brook-t28") == {"ice": 1, "slack-track": 1}
    assert log.counts(SYMPTOM, None) == {"rust": 1, "ice": 1, "slack-track": 1}


def test_a_cause_that_is_not_listed_is_something_else_to_the_model(tmp_path: Path) -> None:
    log = history(
        tmp_path, repair("rats"), repair(SOMETHING_ELSE), repair(NOT_PROVEN), repair("renamed-since")
    )
    assert log.counts(SYMPTOM, "brook-d24") == {SOMETHING_ELSE: 2}


def test_ids_that_the_book_does_not_have_are_kept_and_told(tmp_path: Path) -> None:
    done = (TestDone("shear-bolt-inspection", "broken"), TestDone("old-test", "yes"))
    odd = Repair("2026-11-28", "sold-long-ago", "old-symptom", done, "renamed-since")
    log = history(tmp_path, odd, odd, repair("rust"), repair("rust", "sold-long-ago"), repair(NOT_PROVEN))
    assert [(item.kind, item.id, item.count) for item in log.unknown] == [
        ("cause", "renamed-since", 2),
        ("machine", "sold-long-ago", 3),
        ("symptom", "old-symptom", 2),
        ("test", "old-test", 2),
    ]
    assert log.counts(SYMPTOM, "brook-d24") == {"rust": 1}
    assert not log.counts("old-symptom", None)


def test_repairs_logged_under_a_former_id_count_under_todays(tmp_path: Path) -> None:
    files = {**FILES, "causes/rust.yaml": CAUSE + "formerly: [brown-rot]\n"}
    log = History(read_over(tmp_path, files), [repair("brown-rot"), repair("rust")])
    assert log.counts(SYMPTOM, "brook-d24") == {"rust": 2}
    assert log.unknown == ()
