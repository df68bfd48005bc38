from __future__ import annotations

from collections import Counter

from hypothesis import example, given
from hypothesis import strategies as st

from shearpin.search.concepts import Concepts, build_concepts
from shearpin.search.document import Synonym
from shearpin.search.numbered import TermNumbers, WordNumbers
from shearpin.search.words import Analyser
from tests.search.book_of_documents import DOCUMENTS

ANALYSER = Analyser()
NO_CONCEPTS = Concepts({}, ())
CONCEPTS = build_concepts(
    [
        Synonym("turn", ("spin", "go round", "go round and round")),
        Synonym("shear bolt", ("shear pin", "break-away bolt")),
        Synonym("carburetor", ("carb", "carburettor"), ("carburator",)),
        Synonym("tick", ("tap tap",)),
    ],
    ANALYSER,
)


def is_read_as_by_the_analyser(words: WordNumbers, terms: TermNumbers, text: str) -> bool:
    """Whether the fast reading of a text gives the terms, the words and the extra terms that the analyser gives."""
    numbers, distinct, joined = words.read(text)
    names, spaced = list(terms), list(words)
    tokens, extra = ANALYSER.tokens(text.split())
    return (
        [names[number] for number in numbers] == [token.term for token in tokens]
        and {spaced[number] for number in distinct} == set(text.split())
        and sorted(names[number] for number in joined) == sorted(extra)
    )


def numbers_for(concepts: Concepts) -> tuple[WordNumbers, TermNumbers]:
    terms = TermNumbers(concepts)
    return WordNumbers(ANALYSER, terms), terms


@given(st.text())
def test_no_text_is_too_odd(text: str) -> None:
    words, terms = numbers_for(NO_CONCEPTS)
    for _ in range(2):  # the second reading comes from memory
        assert is_read_as_by_the_analyser(words, terms, text)


PIECES = "will not won t 5 in a ft lb n m no 24 won't snow-blower 986-3413 don the ½ v can turn 3/8 of – 0:F"


@given(st.lists(st.lists(st.sampled_from(PIECES.split()), max_size=12), min_size=2, max_size=2))
@example([[], ["5", "in", "lb"]])
@example([["in", "lb"], ["24", "in", "the", "lb"]])
def test_words_are_read_in_the_light_of_those_before_them(texts: list[list[str]]) -> None:
    words, terms = numbers_for(NO_CONCEPTS)
    for pieces in (*texts, *texts):
        assert is_read_as_by_the_analyser(words, terms, " ".join(pieces))


def test_documents_are_read_as_by_the_analyser() -> None:
    words, terms = numbers_for(NO_CONCEPTS)
    for document in DOCUMENTS:
        for text in document.fields.values():
            assert is_read_as_by_the_analyser(words, terms, text)


def named(text: str, words: WordNumbers, terms: TermNumbers) -> dict[str, int]:
    numbers, _, _ = words.read(text)
    found = terms.concepts_in(numbers, Counter(numbers))
    names = list(terms)
    return {names[number]: times for number, times in found.items()}


def test_each_name_of_a_thing_names_its_concept() -> None:
    numbers = numbers_for(CONCEPTS)
    assert named("the auger turns, spins and will go round", *numbers) == {"turn!": 3}
    assert named("a shear pin, no shear bolt; another shear pin", *numbers) == {"shearbolt!": 3}
    assert named("shear the other bolt", *numbers) == {}
    assert named("It will go round and round, round and go", *numbers) == {"turn!": 2}
    assert named("tap tap tap", *numbers) == {"tick!": 2}


def test_misspellings_name_nothing() -> None:
    assert named("carburator", *numbers_for(CONCEPTS)) == {}


PHRASES = "go round and turn spin shear pin bolt break-away carb tap tick"


@given(st.lists(st.sampled_from(PHRASES.split()), max_size=14))
def test_concepts_are_counted_wherever_their_words_follow_one_another(pieces: list[str]) -> None:
    numbers = numbers_for(CONCEPTS)
    said = [token.term for token in ANALYSER.tokens(pieces)[0]]
    expected: Counter[str] = Counter()
    for found in CONCEPTS.phrases.values():
        for phrase in found:
            size = len(phrase.terms)
            places = range(len(said) - size + 1)
            times = sum(tuple(said[place : place + size]) == phrase.terms for place in places)
            if times and not phrase.preferred:
                expected[phrase.concept] += times
    assert named(" ".join(pieces), *numbers) == expected
