"""What rules on one record are computed from: signal words and words counted."""

from __future__ import annotations

from pathlib import Path

import pytest

from shearpin.book.linked import load_linked
from shearpin.checks.record_rules import MAX_WORDS, count_words, signal_word_for, steps_of
from shearpin.model.knowledge import Harm, Likelihood, SignalWord
from tests.sound_book import SOUND_BOOK, check_over, swap


@pytest.mark.parametrize(
    ("severity", "likelihood", "word"),
    [
        (Harm.NONE, Likelihood.COULD, SignalWord.NOTICE),
        (Harm.NONE, Likelihood.WILL, SignalWord.NOTICE),
        (Harm.MINOR, Likelihood.COULD, SignalWord.CAUTION),
        (Harm.MINOR, Likelihood.WILL, SignalWord.CAUTION),
        (Harm.SERIOUS, Likelihood.COULD, SignalWord.WARNING),
        (Harm.SERIOUS, Likelihood.WILL, SignalWord.DANGER),
    ],
)
def test_the_signal_word_follows_ansi_z535(severity: Harm, likelihood: Likelihood, word: SignalWord) -> None:
    """ANSI Z535.4, Annex E in substance: from memory."""
    assert signal_word_for(severity, likelihood) is word


def test_the_signal_word_never_falls_when_harm_or_likelihood_rise() -> None:
    words = list(SignalWord)
    for likelihood in Likelihood:
        ranks = [words.index(signal_word_for(severity, likelihood)) for severity in Harm]
        assert ranks == sorted(ranks, reverse=True)
    for severity in Harm:
        assert words.index(signal_word_for(severity, Likelihood.WILL)) <= words.index(
            signal_word_for(severity, Likelihood.COULD)
        )


@pytest.mark.parametrize(
    ("sentence", "words"),
    [
        ("", 0),
        ("Stop.", 1),
        ("Turn the auger by hand.", 5),
        ("Fit the spark-plug boot.", 4),
        ("Tighten it to {auger-shear-bolt.torque}.", 4),
        ("See {procedure:make-machine-safe|make it safe} now.", 3),
        ("Don't pull the operator’s lever.", 5),
        ("Set it to 3–6 mm, then wait.", 7),
        ("Turn 1/4 turn at 2.5 °C.", 6),
        ("Push — gently — in.", 3),
    ],
)
def test_words_are_counted_as_the_writing_standard_counts_them(sentence: str, words: int) -> None:
    """ASD-STE100, section 8: a hyphenated group and a figure are one word each (from memory)."""
    assert count_words(sentence) == words


def test_the_limit_is_that_of_the_writing_standard() -> None:
    """ASD-STE100 rule 5.1, read second-hand."""
    assert MAX_WORDS == 20


def test_steps_come_with_their_place_finishing_steps_last() -> None:
    book = load_linked(SOUND_BOOK).book
    assert [path for path, _ in steps_of(book.procedures["replace-auger-shear-bolt"])] == [
        ("steps", 0),
        ("steps", 1),
        ("finish", 0),
    ]
    assert list(steps_of(book.tools["pin-punch"])) == []
    assert list(steps_of(None)) == []


ACTS = [
    ("run-engine", "Start the engine."),
    ("run-engine", "Warm up the engine."),
    ("run-engine", "Take the key, and run the engine."),
    ("run-engine", "Let the engine idle."),
    ("tip-machine", "Tip the machine back."),
    ("tip-machine", "Stand the machine on its housing."),
    ("drain-fuel", "Drain the fuel."),
    ("drain-fuel", "Siphon out all the old gasoline."),
    ("refuel", "Fill the tank with fresh fuel."),
    ("pull-recoil", "Pull the recoil rope slowly."),
    ("pull-recoil", "Then pull the starter handle."),
    ("use-compressed-air", "Blow the jet through with compressed air."),
]


@pytest.mark.parametrize(("action", "sentence"), ACTS)
def test_a_hazardous_act_in_words_is_known_as_its_action(action: str, sentence: str, tmp_path: Path) -> None:
    files = swap("procedures/make-machine-safe.yaml", "Take the key out of the switch.", sentence)
    (finding,) = check_over(tmp_path, files)
    assert finding.code == "SAF004"
    assert f"`{action}`" in finding.message


@pytest.mark.parametrize(
    "sentence",
    [
        "Never start the engine in the workshop.",
        "Check that the engine starts.",
        "Look at the tip of the machine screw.",
        "Note how the fuel drains.",
        "Wait until the engine has stopped.",
    ],
)
def test_words_that_only_speak_of_an_act_are_no_act(sentence: str, tmp_path: Path) -> None:
    files = swap("procedures/make-machine-safe.yaml", "Take the key out of the switch.", sentence)
    assert check_over(tmp_path, files) == ()
