"""What the demonstration book teaches: its systems are explained at length, in plain words, with drawings."""

from __future__ import annotations

import re
from itertools import chain
from pathlib import Path

import pytest

from shearpin.book.linked import LinkedBook, load_linked
from shearpin.model.knowledge import System

KB = Path(__file__).resolve().parents[2] / "kb"
SYSTEMS = sorted(path.stem for path in (KB / "systems").glob("*.yaml"))


@pytest.fixture(scope="module")
def linked() -> LinkedBook:
    return load_linked(KB, "kb")


def _theory(system: System) -> str:
    return " ".join(chain.from_iterable(section.text for section in system.theory))


def _spoken(text: str) -> list[str]:
    """Return the words of a text; a value in braces is one word."""
    return re.findall(r"[^\W\d_][\w'’-]*|\d[\w.,]*", re.sub(r"\{[^{}]*\}", " value ", text))


def _syllables(word: str) -> int:
    """Count groups of vowels, a silent e at the end left out: the usual rough count, no source."""
    groups = len(re.findall(r"[aeiouy]+", word.casefold()))
    silent = word.casefold().endswith("e") and not word.casefold().endswith(("le", "ee")) and groups > 1
    return max(1, groups - silent)


def _grade(text: str) -> float:
    """Return the Flesch-Kincaid grade (Kincaid et al. 1975, from memory): 0.39 w/s + 11.8 syllables/w - 15.59."""
    words = _spoken(text)
    sentences = len(re.findall(r"[.!?:](?:\s|$)", re.sub(r"\{[^{}]*\}", "value", text)))
    return 0.39 * len(words) / sentences + 11.8 * sum(map(_syllables, words)) / len(words) - 15.59


def test_the_grade_of_a_known_text_is_right() -> None:
    # By hand: 6 words, 6 syllables, 1 sentence: 0.39 x 6 + 11.8 - 15.59 = -1.45
    assert _grade("The cat sat on the mat.") == pytest.approx(-1.45, abs=0.01)


@pytest.mark.parametrize("system_id", SYSTEMS)
def test_a_system_is_explained_in_300_to_700_plain_words(linked: LinkedBook, system_id: str) -> None:
    theory = _theory(linked.book.systems[system_id])
    assert 300 <= len(_spoken(theory)) <= 700
    assert _grade(theory) <= 8


@pytest.mark.parametrize("system_id", SYSTEMS)
def test_a_system_is_drawn(linked: LinkedBook, system_id: str) -> None:
    system = linked.book.systems[system_id]
    assert system.figures or any(section.figure for section in system.theory)


def test_the_drawings_are_many_and_all_are_shown_beside_the_work(linked: LinkedBook) -> None:
    assert len(linked.book.figures) >= 24
    for figure_id in linked.book.figures:
        kinds = {kind for kind, _ in linked.links.origins(("figure", figure_id))}
        assert kinds & {"system", "machine", "engine"}, figure_id
        assert kinds & {"procedure", "test", "cause", "symptom", "machine"}, figure_id


def test_the_alternative_text_of_a_drawing_carries_its_content(linked: LinkedBook) -> None:
    for figure_id, figure in linked.book.figures.items():
        assert figure.alt is not None
        assert len(_spoken(figure.alt)) >= 35, figure_id
        assert len(figure.labels) >= 4, figure_id
