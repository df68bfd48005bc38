"""A review holds while the record says what was read, however it is written, and lapses when it says something else."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import pytest

from shearpin.book.review import ReviewState
from tests.sound_book import read_over, sound, swap

PUNCH = "tools/pin-punch.yaml"
PUNCH_KEY = ("tool", "pin-punch")
D24 = "machines/brook-d24.yaml"
D24_KEY = ("machine", "brook-d24")
REPLACE = "procedures/replace-auger-shear-bolt.yaml"
REPLACE_KEY = ("procedure", "replace-auger-shear-bolt")


def _digest(folder: Path, key: tuple[str, str], files: Mapping[str, str | bytes | None]) -> str:
    return read_over(folder, files).reviews.digest(*key)


@pytest.fixture
def digests(tmp_path: Path) -> tuple[Path, Path]:
    return tmp_path / "one", tmp_path / "two"


def _same(
    folders: tuple[Path, Path], key: tuple[str, str], changed: Mapping[str, str | bytes | None]
) -> bool:
    return _digest(folders[0], key, {}) == _digest(folders[1], key, changed)


@pytest.mark.parametrize(
    "text",
    [
        "# a comment\nsummary: Drives out broken shear bolts.\ntitle: Pin punch\n",
        "title: 'Pin punch'\nsummary: >\n  Drives out broken\n  shear bolts.\n",
        'title: Pin punch\nsummary: Drives out broken shear bolts.\nspecial: "no"\nalso: []\n',
        "title: Pin punch\r\nsummary: Drives out broken shear bolts.\r\n",
        "title: Pin punch\nsummary: Drives out broken shear bolts.\nreview: {state: withdrawn, by: dean}\n",
    ],
    ids=["order and comments", "quotes and folding", "defaults", "line ends", "the review itself"],
)
def test_the_way_a_record_is_written_does_not_count(text: str, digests: tuple[Path, Path]) -> None:
    base = {PUNCH: "title: Pin punch\nsummary: Drives out broken shear bolts.\n"}
    assert _digest(digests[0], PUNCH_KEY, base) == _digest(digests[1], PUNCH_KEY, {PUNCH: text})


@pytest.mark.parametrize(
    ("name", "key", "old", "new"),
    [
        (D24, D24_KEY, "is: 8 N·m", "is: 8 Nm"),
        ("values/auger-shear-bolt.torque.yaml", ("value", "auger-shear-bolt.torque"), "4–15 N·m", "4 to 15 Nm"),
        (REPLACE, REPLACE_KEY, "time: 15 min", "time: 15min"),
    ],
)  # fmt: skip
def test_the_spelling_of_a_figure_does_not_count(
    name: str, key: tuple[str, str], old: str, new: str, digests: tuple[Path, Path]
) -> None:
    assert _same(digests, key, swap(name, old, new))


@pytest.mark.parametrize(
    ("name", "key", "old", "new"),
    [
        (D24, D24_KEY, "is: 8 N·m", "is: 8.5 N·m"),
        (D24, D24_KEY, "is: 8 N·m, basis: demo", "is: 8 N·m, basis: measured, source: bench-notes"),
        (REPLACE, REPLACE_KEY, "time: 15 min", "time: 16 min"),
        (REPLACE, REPLACE_KEY, "tighten", "turn"),
        (
            "procedures/make-machine-safe.yaml",
            ("procedure", "make-machine-safe"),
            "sources:",
            "ignore: [{code: LNG001, reason: x}]\nsources:",
        ),
    ],
)
def test_another_figure_word_or_suppression_counts(
    name: str, key: tuple[str, str], old: str, new: str, digests: tuple[Path, Path]
) -> None:
    assert not _same(digests, key, swap(name, old, new))


def test_a_caution_that_is_gone_from_a_page_counts(digests: tuple[Path, Path]) -> None:
    """Nothing in the test changes; the caution no longer covers the energy that brought it there."""
    gone = swap("cautions/rotating-auger.yaml", "energies: [rotating-auger], ", "")
    assert not _same(digests, ("test", "shear-bolt-inspection"), gone)


def test_the_words_of_a_caution_are_reviewed_where_they_stand(digests: tuple[Path, Path]) -> None:
    words = swap("cautions/rotating-auger.yaml", "consequence: ", "consequence: Once more, ")
    assert _same(digests, REPLACE_KEY, words)


def test_a_figure_of_a_machine_is_reviewed_where_it_stands(digests: tuple[Path, Path]) -> None:
    assert _same(digests, REPLACE_KEY, swap(D24, "is: 8 N·m", "is: 8.5 N·m"))


def test_another_drawing_counts(digests: tuple[Path, Path]) -> None:
    drawing = sound("figures/shear-bolt.svg").replace("</svg>", "<title>x</title></svg>")
    assert not _same(digests, ("figure", "shear-bolt"), {"figures/shear-bolt.svg": drawing})


def _state(folder: Path, review: str) -> ReviewState:
    text = f"title: Pin punch\nsummary: Drives out pins.\n{review}"
    return read_over(folder, {PUNCH: text}).reviews.of(*PUNCH_KEY).state


def test_each_state_of_review_is_told_apart(tmp_path: Path) -> None:
    held = _digest(tmp_path / "a", PUNCH_KEY, {PUNCH: "title: Pin punch\nsummary: Drives out pins.\n"})
    states = [
        _state(tmp_path / "b", ""),
        _state(tmp_path / "c", "review: {state: draft}\n"),
        _state(tmp_path / "d", "review: {state: withdrawn}\n"),
        _state(tmp_path / "e", "review: {state: reviewed, by: dean, on: 2026-10-02}\n"),
        _state(tmp_path / "f", f"review: {{state: reviewed, digest: {held}}}\n"),
        _state(tmp_path / "g", "review: {state: reviewed, digest: 0123456789abcdef}\n"),
    ]
    assert states == ["draft", "draft", "withdrawn", "unbound", "reviewed", "lapsed"]
