from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import snowballstemmer
from whoosh.lang import porter2

from shearpin.search.stemming import stem
from tests.search.vocabulary import vocabulary


def test_stems_agree_with_the_snowball_project() -> None:
    # PyPI snowballstemmer 2.2.0, English (Porter 2); version 3 changed the algorithm.
    english = snowballstemmer.stemmer("english")
    words = vocabulary()
    assert len(words) >= 14_000
    different = {
        word: (stem(word), english.stemWord(word)) for word in words if stem(word) != english.stemWord(word)
    }
    assert different == {}


def test_steps_that_are_left_out_would_change_nothing() -> None:
    words = vocabulary()
    endings = (
        *(ending for ending, *_ in (*porter2.s2_triples, *porter2.s3_triples)),
        *porter2.s4_delete_list,
    )
    asked = {*words, *porter2.exceptional_forms, *porter2.exceptional_early_exit_post_1a}
    # Two words written as one, as neighbours are indexed, and every ending that the rules know.
    asked.update(first + second for first, second in pairwise(words))
    asked.update(
        word + ending
        for word in words[::40]
        for ending in (
            *endings,
            "sion",
            "tion",
            "ll",
            *"s ed eed eedly edly ing ingly y ied ies sses us ss e".split(),
        )
    )
    assert {
        word: (stem(word), porter2.stem(word)) for word in asked if stem(word) != porter2.stem(word)
    } == {}


def test_the_vocabulary_holds_every_word_of_the_demonstration() -> None:
    kb = Path(__file__).resolve().parents[2] / "kb"
    assert {"auger", "carburetor", "impeller"} <= set(vocabulary())
    assert kb.is_dir()
