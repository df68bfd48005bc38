from __future__ import annotations

from types import MappingProxyType

import pytest

from shearpin.search import tables
from shearpin.search.leaning import SAME, kind_factors, plain_words, traits


def of(query: str, intent: str = "complaint") -> dict[str, int]:
    return kind_factors(query.split(), intent)


def test_words_are_letters_and_figures_whatever_is_typed_round_them() -> None:
    typed = ["Won't", "go,", "12", "mm", "on", "D24!", "–", "ÉTÉ"]
    assert plain_words(typed) == ["wont", "go", "#", "mm", "on", "@", "t"]


def test_a_query_has_its_words_its_neighbours_and_its_traits_once() -> None:
    found = traits("the belt the belt".split(), "complaint")
    assert found == [
        "the",
        "belt",
        "the_belt",
        "belt_the",
        "^the",
        "belt$",
        "~4",
        "~the",
        "~part",
        "~complaint",
    ]


@pytest.mark.parametrize(
    ("query", "trait"),
    [
        ("putting belts on", "~ing"),
        ("pin that holds it", "~where"),
        ("will not turn", "~not"),
        ("can I run it", "~whether"),
        ("how does it turn", "~question"),
        ("she dies", "~who"),
        ("belt smokes", "~few"),
        ("new drive belt", "~part"),
    ],
)
def test_traits_tell_how_something_is_asked(query: str, trait: str) -> None:
    assert trait in traits(query.split(), "complaint")
    assert trait not in traits(["engine", "rattles", "and", "knocks"], "complaint")


def test_nothing_said_leans_to_nothing() -> None:
    assert traits(["–"], "complaint") == []
    sure = tables.KIND_FACTORS["complaint"]
    assert of("–") == {kind: sure.get(kind, 16) * 16 for kind in (*sure, "machine", "engine")}


def test_each_step_is_a_sixteenth_of_a_doubling_and_steps_add_up(monkeypatch: pytest.MonkeyPatch) -> None:
    count = len(tables.LEANING_KINDS)
    up, far_down = "u" + "m" * (count - 1), "a" + "m" * (count - 1)
    monkeypatch.setattr(tables, "LEANINGS", MappingProxyType({"screw": up, "^screw": up, "left": far_down}))
    plain = tables.KIND_FACTORS["complaint"][tables.LEANING_KINDS[0]] * 16
    assert of("loose screw")["symptom"] == plain * round(SAME * 2**0.5) // SAME
    assert of("screw loose")["symptom"] == plain * 2
    assert of("left out")["symptom"] == plain * round(SAME * 2**-0.75) // SAME


def test_a_long_message_leans_no_further_than_as_many_words_as_queries_have(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    words = ["w" + "x" * number for number in range(2 * tables.MOST_LEANING_WORDS)]
    up = "n" + "m" * (len(tables.LEANING_KINDS) - 1)
    monkeypatch.setattr(tables, "LEANINGS", MappingProxyType(dict.fromkeys(words, up)))
    query, message = " ".join(words[: tables.MOST_LEANING_WORDS]), " ".join(words)
    assert of(message) == of(query) != of("none of them")


def test_a_thing_told_by_what_it_does_is_a_part_and_any_asks_for_a_test() -> None:
    assert of("pin that holds the wheel")["part"] > of("wheel is loose")["part"]
    assert of("any play in the shaft")["test"] > of("play in the shaft")["test"]


def test_the_table_has_a_letter_for_each_kind() -> None:
    assert tables.LEANINGS
    assert {len(pushes) for pushes in tables.LEANINGS.values()} == {len(tables.LEANING_KINDS)}
    assert set("".join(tables.LEANINGS.values())) <= set("abcdefghijklmnopqrstuvwxy")
