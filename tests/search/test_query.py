from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from shearpin.search.document import Document, Synonym
from shearpin.search.index import StoredIndex, build_index, search
from shearpin.search.query import Plan, make_plan, read_items
from shearpin.search.words import Analyser


def plan(index: StoredIndex, query: str, *, literal: bool = False) -> Plan:
    return make_plan(query, index, Analyser(), literal=literal)


def looked_up(found: Plan) -> list[set[str]]:
    return [{term for term, _ in unit.alternatives} for unit in found.units]


def test_synonyms_are_looked_up_before_spelling(index: StoredIndex) -> None:
    found = plan(index, "gas leak")  # not "gasket"
    assert found.corrected is None
    assert "fuel!" in looked_up(found)[0]


def test_synonyms_of_several_words_are_phrases(index: StoredIndex) -> None:
    assert all("shearbolt!" in unit for unit in looked_up(plan(index, "shear pin")))
    assert not any("shearbolt!" in unit for unit in looked_up(plan(index, "pin shear")))


@pytest.mark.parametrize("query", ["shearpin", "shear-pin", "shear pin", "Shear Pins"])
def test_synonyms_are_known_however_their_words_are_joined(index: StoredIndex, query: str) -> None:
    assert any("shearbolt!" in unit for unit in looked_up(plan(index, query)))


def test_known_misspellings_are_corrected_to_the_preferred_word(index: StoredIndex) -> None:
    assert plan(index, "clean carburator").corrected == "clean carburetor"


def test_unknown_misspellings_are_corrected_to_words_of_the_book(index: StoredIndex) -> None:
    assert plan(index, "wron frction ring").corrected == "worn friction ring"


@pytest.mark.parametrize(
    "query", ["belt", "carb", "petrol", "one side", "986-3413", "E212", "won't", "24 Nm", "3/8"]
)
def test_what_the_book_knows_is_never_corrected(index: StoredIndex, query: str) -> None:
    assert plan(index, query).corrected is None


@pytest.mark.parametrize("query", ["986-9999", "XK-2211-7", "bpr6es", "10w40"])
def test_what_looks_like_a_part_number_is_never_corrected(index: StoredIndex, query: str) -> None:
    assert plan(index, query).corrected is None


@pytest.mark.parametrize("query", ["single half", "auger tingle", "packet of belts"])
def test_an_everyday_word_is_no_misspelling(index: StoredIndex, query: str) -> None:
    assert plan(index, query).corrected is None


@pytest.mark.parametrize(
    "query", ["why does the belt smoke", "what makes it stall", "reasons for a fouled plug"]
)
def test_a_question_for_the_reason_asks_for_a_cause(index: StoredIndex, query: str) -> None:
    assert plan(index, query).intent == "cause"


def test_a_literal_search_is_not_corrected(index: StoredIndex) -> None:
    assert plan(index, "frction ring", literal=True).corrected is None


@pytest.mark.parametrize("query", ["986-3413", "9863413", "986 3413", "986.3413", "986–3413"])
def test_part_numbers_are_one_with_any_separator(index: StoredIndex, query: str) -> None:
    found = plan(index, query)
    assert looked_up(found) == [{"9863413"}]
    assert found.intent == "part"


@pytest.mark.parametrize("query", ["9863", "98634", "986-34", "986 34"])
def test_the_beginning_of_a_part_number_is_enough(index: StoredIndex, query: str) -> None:
    assert {"9863413", "9863420"} & set.union(*looked_up(plan(index, query)))


def test_a_word_being_typed_stands_for_words_that_begin_with_it(index: StoredIndex) -> None:
    found = plan(index, "replace impel")
    assert found.corrected is None
    assert "impel" in looked_up(found)[-1]


def test_words_beside_one_another_are_looked_up_as_a_pair(index: StoredIndex) -> None:
    assert "auger&belt" in plan(index, "auger belt").pairs
    assert plan(index, "belt auger").pairs == ("auger&belt",)


@pytest.mark.parametrize(
    ("query", "intent"),
    [
        ("left auger not spinning", "complaint"),
        ("replace auger belt", "do"),
        ("how to get the belt off", "do"),
        ("will not fit", "complaint"),
        ("replace belt that will not stay on", "do"),
        ("plug gap", "value"),
        ("how tight is the plug", "value"),
        ("24 N·m", "value"),
        ("set valve clearance", "do-value"),
        ("check compression", "test"),
        ("how does the auger drive work", "theory"),
        ("how does the chute change its direction", "theory"),
        ("how short can the rope get", "value"),
        ("what is a shear bolt", "theory"),
        ("986-3413", "part"),
        ("part number auger belt", "part"),
        ("need a belt for the auger", "part"),
        ("how long is the rope", "value"),
        ("is the muffler plugged", "test"),
        ("verify compression", "test"),
        ("take the wheel off", "do"),
        ("where is the drain plug", "theory"),
    ],
)
def test_the_words_tell_what_is_asked_for(index: StoredIndex, query: str, intent: str) -> None:
    assert plan(index, query).intent == intent


@pytest.mark.parametrize("query", ["need a new carburetor", "carburetor, want to order one", "carb"])
def test_what_only_asks_belongs_to_no_line(index: StoredIndex, query: str) -> None:
    assert plan(index, query).line == plan(index, "carburetor").line
    assert index.find(plan(index, query).line or "")


def test_a_line_that_the_book_has_is_taken_whole(tmp_path: Path) -> None:
    titles = {"bad": "machine shakes badly", "shakes": "shakes"}
    documents = [Document(name, "symptom", t, f"{name}.html", "", {"title": t}) for name, t in titles.items()]
    with build_index(documents, (), tmp_path / "index") as found:
        line = found.find(plan(found, "machine shakes badly").line or "")
        assert line
        assert len(list(line.postings)) == 1
        assert plan(found, "machine shakes badly").line != plan(found, "the machine shakes").line


@pytest.mark.parametrize("query", ["", "   ", "the of a", "!!!", "–"])
def test_nothing_to_look_up_is_no_fault(index: StoredIndex, query: str) -> None:
    assert plan(index, query).units == ()


def test_a_long_message_is_read_without_the_words_that_fill_it_and_not_to_its_end(index: StoredIndex) -> None:
    telling = "auger belt cable engine fuel plug gap torque valve chute tire ring impeller snow speed gear"
    few = telling.split()[:6]
    filled = " ".join(f"today {word} here" for word in few)
    assert [item.token.raw for item in read_items(filled.split(), Analyser())] == few
    longer = plan(index, telling + " handle scraper")
    assert replace(longer, factors=plan(index, telling).factors) == plan(index, telling)


def test_what_is_the_matter_may_stand_at_the_end_of_a_long_message(index: StoredIndex) -> None:
    message = (
        "Good morning, my neighbor bought this machine new three years ago, it was always good and never a problem, "
        "but yesterday after we used it the whole day here the left auger is not spinning any more"
    )
    assert search(index, message).hits[0].id == "one-side-of-auger-does-not-turn"


def test_words_that_tell_little_are_weak_and_so_are_those_that_say_what_page_is_wanted(
    index: StoredIndex,
) -> None:
    def weak(query: str) -> set[str]:
        return {term for unit in plan(index, query).units if unit.weak for term, _ in unit.alternatives}

    assert "machin" in weak("machine auger")
    assert "work" in weak("how does the auger drive work")
    assert "auger" not in weak("how does the auger drive work")


def small_index(folder: Path, *titles: str, synonyms: tuple[Synonym, ...] = ()) -> StoredIndex:
    documents = [
        Document(f"p{number}", "procedure", title, f"p{number}.html", "", {"title": title})
        for number, title in enumerate(titles)
    ]
    return build_index(documents, synonyms, folder / "small")


def test_a_verb_may_stand_apart_from_its_second_word(tmp_path: Path) -> None:
    synonyms = (Synonym("remove", ("take off",)),)
    with small_index(tmp_path, "Remove the engine", "Take off the cover", synonyms=synonyms) as small:
        assert "remov!" in looked_up(plan(small, "take the engine off"))[0]
        assert "remov!" not in set.union(*looked_up(plan(small, "take engine")))


def test_a_word_that_has_a_stem_by_accident_is_mended_where_the_book_has_what_was_meant(
    tmp_path: Path,
) -> None:
    with small_index(tmp_path, "Change the oil", "Hang the hood") as small:
        assert plan(small, "hange the oil").corrected == "change the oil"
        assert plan(small, "hange the hood").corrected is None
        assert plan(small, "change the oil").corrected is None
