from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shearpin.search.words import Analyser, fold

ANALYSER = Analyser()


def terms(text: str) -> list[str]:
    tokens, joined = ANALYSER.tokens(text.split())
    return [token.term for token in tokens] + [f"+{term}" for term in joined]


@pytest.mark.parametrize(
    "text",
    ["won't start", "wont start", "won t start", "won’t start", "WON'T START", "will not start", "does not start",
     "doesn't start", "doesnt start", "doesn t start", "can't start", "cannot start", "can not start", "no start",
     "it never starts"],
)  # fmt: skip
def test_negations_of_every_spelling_are_one(text: str) -> None:
    assert terms(text) == ["not", "start"]


@pytest.mark.parametrize(
    "word", ["no", "not", "never", "cannot", "won't", "will", "off", "on", "without", "only", "out"]
)
def test_words_that_carry_the_complaint_are_kept(word: str) -> None:
    assert terms(word)


def test_stop_words_say_nothing() -> None:
    assert terms("how do I get the belt off of it") == ["belt", "off"]


@pytest.mark.parametrize("text", ["spinning", "spins", "spin", "Spins,", "(spin)", "spin's"])
def test_inflections_stem_alike(text: str) -> None:
    assert terms(text) == ["spin"]


@pytest.mark.parametrize(
    ("british", "american"),
    [("carburettors", "carburetors"), ("tyre", "tire"), ("colour", "color"), ("aluminium", "aluminum"),
     ("gage", "gauge"), ("centre", "center"), ("pressurised", "pressurized"), ("vapour", "vapor"), ("disc", "disk")],
)  # fmt: skip
def test_british_and_american_spellings_are_one(british: str, american: str) -> None:
    assert terms(british) == terms(american)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("24 N·m", ["24", "newtonmetre"]),
        ("24Nm", ["24", "newtonmetre"]),
        ("24 N.m", ["24", "newtonmetre"]),
        ("24 n m", ["24", "newtonmetre"]),
        ("24 newton metres", ["24", "newtonmetre"]),
        ("18 ft-lb", ["18", "poundfoot"]),
        ("18 ft lb", ["18", "poundfoot"]),
        ("18 lbf·ft", ["18", "poundfoot"]),
        ("18 foot pounds", ["18", "poundfoot"]),
        ("80 in lb", ["80", "poundinch"]),
        ("0.030 in", ["0.03", "inch"]),
        (".030 inch", ["0.03", "inch"]),
        ('3/8" bolt', ["3/8", "inch", "bolt"]),
        ("3/8 in.", ["3/8", "inch"]),
        ("1½ turns", ["1", "1/2", "turn"]),
        ("1-1/2 turns", ["1", "1/2", "turn"]),
        ("0,7 mm", ["0.7", "millimetre"]),
        ("0.70–0.80 mm", ["0.7", "0.8", "millimetre"]),
        ("3,600 rpm", ["3600", "rpm"]),
        ("3600 min⁻¹", ["3600", "rpm"]),
        ("212 cm³", ["212", "cubiccentimetre"]),
        ("212cc", ["212", "cubiccentimetre"]),
        ("10 kΩ", ["10", "kiloohm"]),
        ("−25 °C", ["25", "celsius"]),
        ("12 V", ["12", "volt"]),
    ],
)
def test_numbers_and_units_are_one_in_every_spelling(text: str, expected: list[str]) -> None:
    assert terms(text) == expected


def test_in_is_a_unit_only_after_a_number() -> None:
    assert terms("water in fuel") == ["water", "fuel"]
    assert terms("5 in") == ["5", "inch"]
    assert terms("5 – in winter") == ["5", "winter"]


@pytest.mark.parametrize("text", ["986-3413", "986.3413", "986–3413"])
def test_part_numbers_are_also_written_as_one(text: str) -> None:
    assert "+9863413" in terms(text)
    assert terms("9863413") == ["9863413"]


def test_codes_of_letters_and_figures_are_also_written_as_one() -> None:
    assert terms("OSM-4471-B") == ["osm", "4471", "b", "+osm4471b"]
    assert terms("SAE 5W-30") == ["sae", "5w", "30", "+5w30"]


def test_a_range_is_no_part_number() -> None:
    assert terms("3-6 mm") == ["3", "6", "millimetre"]


def test_two_words_and_the_same_written_as_one_share_a_term() -> None:
    for first, second, together in [
        ("snow", "blower", "snowblower"),
        ("spark", "plugs", "sparkplug"),
        ("air", "gap", "airgap"),
    ]:
        tokens, _ = ANALYSER.tokens([first, second])
        assert ANALYSER.pair(*tokens) == terms(together)[0]
        assert f"+{terms(together)[0]}" in terms(f"{first}-{second}")


def test_folding_ends_case_accents_and_look_alikes() -> None:
    assert fold("Ångström’s ﬁlter — ½") == "angstrom's filter -  1/2"


def test_very_long_runs_of_letters_are_left_out() -> None:
    assert terms("a" * 41) == []


@given(st.text())
def test_no_text_is_too_odd(text: str) -> None:
    words = text.split()
    for _ in range(2):  # the second reading comes from memory
        tokens, _ = ANALYSER.tokens(words)
        assert all(token.term for token in tokens)
