"""The words of pages and scripts in another language: nothing that scripts say is forgotten, and places keep their order."""

from __future__ import annotations

import json
import re
import shutil
import subprocess
from pathlib import Path

import pytest

from shearpin.site.interface import INTERFACES
from shearpin.site.phrasebook import Phrasebook
from tests.browser.harness import missing

ROOT = Path(__file__).resolve().parents[2]
LOOK = ROOT / "site_overrides/look"
IN_ENGLISH = re.compile(r"calculators.*|search-(words|plan|convert|index|rank|spell)|diagnosis-plan")
"""Scripts that say nothing, and those of the calculators: their page is marked as English."""

SAID_BY_NOBODY = {
    "use strict",
    "search-note not-yours",
    "PRODID:-//Shearpin//Service plan//EN",
    "shearpin.ticks {0} {1} {2} {3}",
    "@page { margin-top: {0}mm; @top-left { content: {1}; } }",
    "@page :first { margin-top: 9mm; @top-left { content: none; } }",
    "{0} min",
}


def test_a_place_is_filled_and_what_stands_in_it_is_said_too() -> None:
    book = Phrasebook(
        {"{0} of {1} steps": "{0} de {1} pasos", "for the {0}": "para la {0}", "mower": "segadora"}
    )
    assert book.said("3 of 10 steps") == "3 de 10 pasos"
    assert book.said("for the mower") == "para la segadora"
    assert book.said("for the Osmere D24") == "para la Osmere D24"
    assert book.said("nobody knows this") is None


def test_the_places_of_a_phrase_may_change_their_order() -> None:
    book = Phrasebook({"{0} is not for {1}": "{1} no admite {0}"})
    assert book.said("This page is not for D24") == "D24 no admite This page"


def test_a_list_is_said_only_when_each_of_its_words_is_known() -> None:
    book = Phrasebook({"lift": "levantar", "refuel": "cargar"})
    assert book.said("lift, refuel") == "levantar, cargar"
    assert book.said("lift; refuel") == "levantar; cargar"
    assert book.said("lift, fly") is None


@pytest.mark.parametrize("language", sorted(INTERFACES))
def test_a_translation_has_no_place_that_its_phrase_lacks(language: str) -> None:
    table = INTERFACES[language]
    for english, own in {**table.words, **table.script_words}.items():
        assert set(re.findall(r"\{\d\}", own)) <= set(re.findall(r"\{\d\}", english)), english
        places = re.findall(r"\{(\d)\}", english)
        assert places == [str(n) for n in range(len(places))], english


def test_a_word_that_is_counted_is_not_found_in_a_sentence() -> None:
    said = INTERFACES["es"].in_markup.said
    assert said("1,234 machines") == "1,234 máquinas"
    assert said("29 CFR 1910.212: guarding of machines") is None


def test_every_language_translates_phrases_that_another_knows_too() -> None:
    spanish = INTERFACES["es"]
    for language, table in INTERFACES.items():
        unknown = set(table.words) - set(spanish.words) - set(spanish.script_words)
        assert unknown == set(), language


def test_all_that_scripts_say_is_in_the_spanish_table() -> None:
    if shutil.which("node") is None or not (ROOT / "tests/node_modules/acorn").is_dir():
        missing("Node.js with acorn is needed: run tools/test.py, which installs it")
    scripts = [str(path) for path in sorted(LOOK.glob("*.js")) if not IN_ENGLISH.fullmatch(path.stem)]
    command = [
        "node",
        str(ROOT / "tests/site/said_by_scripts.mjs"),
        str(ROOT / "tests/package.json"),
        *scripts,
    ]
    done = subprocess.run(command, capture_output=True, text=True, check=True)
    said = json.loads(done.stdout)
    assert len(said) > 100
    table = INTERFACES["es"]
    words = {**table.words, **table.script_words}
    # `{0} plate` and the like are said with each word that can stand there.
    unknown = {text: name for text, name in said.items() if text not in words and text not in SAID_BY_NOBODY}
    assert unknown == {}
