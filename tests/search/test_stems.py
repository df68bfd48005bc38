from __future__ import annotations

from pathlib import Path

import snowballstemmer
from whoosh.lang.porter2 import stem

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


def test_the_vocabulary_holds_every_word_of_the_demonstration() -> None:
    kb = Path(__file__).resolve().parents[2] / "kb"
    assert {"auger", "carburetor", "impeller"} <= set(vocabulary())
    assert kb.is_dir()
