from __future__ import annotations

from shearpin.search.concepts import build_concepts, line_key, meanings, near_pairs
from shearpin.search.document import Synonym
from shearpin.search.words import Analyser

ANALYSER = Analyser()
CONCEPTS = build_concepts(
    [
        Synonym("turn", ("spin", "go round")),
        Synonym("shear bolt", ("shear pin", "break-away bolt")),
        Synonym("carburetor", ("carb", "carburettor"), ("carburator",)),
        Synonym("the", ("of",)),
    ],
    ANALYSER,
)


def test_misspellings_are_phrases_with_the_right_words() -> None:
    phrases = CONCEPTS.phrases[ANALYSER.stem("carburator")]
    assert [(phrase.preferred, phrase.concept) for phrase in phrases] == [("carburetor", "carburetor!")]


def test_words_without_meaning_make_no_concept() -> None:
    assert all(
        concept != "!" for found in CONCEPTS.phrases.values() for concept in {p.concept for p in found}
    )


def line(text: str) -> str | None:
    return line_key(meant(text))


def meant(text: str) -> list[str]:
    return meanings([token.term for token in ANALYSER.tokens(text.split())[0]], CONCEPTS.phrases.get)


def test_a_line_is_told_whatever_its_order_and_synonyms() -> None:
    key = line("Auger does not turn")
    assert key is not None
    assert key.startswith("auger=")
    assert key == line("not spinning auger") == line("the auger won't go round")
    assert key != line("auger does turn")
    assert line("replace shear bolt") == line("replace the shear pin")


def test_long_lines_and_empty_ones_have_no_key() -> None:
    assert line("one two three four five six seven eight nine") is None
    assert line("the of") is None


def test_words_near_one_another_are_told_by_meaning_in_either_order() -> None:
    pairs = set(near_pairs(meant("auger does not turn")))
    assert pairs == {"auger&not", "auger&turn", "not&turn"}
    assert set(near_pairs(meant("not turn auger"))) == pairs
    assert near_pairs(["auger", "auger"]) == []
    assert "one&four" not in near_pairs(["one", "two", "three", "four"])
