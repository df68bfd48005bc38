"""What is left unasked because it could find nothing would have found nothing."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Final

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shearpin.catalogue import RULES
from shearpin.checks import plain_words, record_rules
from shearpin.checks.one_file import ON_ONE_FILE, judged
from shearpin.checks.record_rules import may_hold, small_letters
from shearpin.checks.wording import sentences
from shearpin.model.kinds import KIND_OF_FOLDER
from shearpin.model.reading import RecordFile, read_record
from tests.rule_cases import ALL_CASES
from tests.sound_book import SOUND_BOOK


def _read(path: str, content: str | bytes) -> RecordFile:
    folder, _, name = path.partition("/")
    raw = content if isinstance(content, bytes) else content.encode()
    return read_record(path, KIND_OF_FOLDER[folder], Path(name).stem, raw)


def _files() -> list[RecordFile]:
    """Return every record of the sound book, and every one that a rule or its cases call bad or good."""
    texts = [(f"{p.parent.name}/{p.name}", p.read_bytes()) for p in sorted(SOUND_BOOK.glob("*/*.yaml"))]
    files = [_read(*each) for each in texts]
    for rule in RULES.values():
        files += [
            _read(path, text) for each in (*rule.bad, *rule.good) for path, text in _records(each.files)
        ]
    for case in ALL_CASES:
        files += [_read(path, text) for path, text in _records(tuple(case.files.items()))]
    return files


def _records(files: tuple[tuple[str, str | bytes | None], ...]) -> list[tuple[str, str | bytes]]:
    return [
        (path, text)
        for path, text in files
        if text is not None and path.endswith(".yaml") and path.partition("/")[0] in KIND_OF_FOLDER
    ]


def test_rules_that_are_not_asked_of_a_file_would_find_nothing() -> None:
    found = set()
    for file in _files():
        by_all = tuple((rule.code, fault) for rule in ON_ONE_FILE for fault in rule.find(file))
        assert judged(file) == by_all
        found.update(code for code, _ in by_all)
    assert len(found) > 25


_SIEVES: Final = {
    "late caution": (record_rules.LATE_CAUTION, record_rules._OF_LATE_CAUTIONS),
    "caution in a note": (record_rules._CAUTION_NOTE, record_rules._OF_CAUTION_NOTES),
    "must": (plain_words._MODAL, plain_words.OF_MODALS),
    "passive": (plain_words._PASSIVE, plain_words.OF_PASSIVES),
    "condition": (plain_words._LATE_CONDITION, plain_words.OF_CONDITIONS),
    "vague": (plain_words._VAGUE, plain_words.OF_VAGUE),
    "contracted": (plain_words._CONTRACTED, plain_words.OF_CONTRACTIONS),
    **{act: (re.compile(pattern, re.IGNORECASE), words) for act, words, pattern in record_rules._ACTS},
}


@pytest.mark.parametrize("name", _SIEVES)
@settings(max_examples=60, deadline=None)
@given(data=st.data())
def test_what_a_pattern_matches_has_one_of_the_words_that_are_looked_for_first(
    name: str, data: st.DataObject
) -> None:
    pattern, words = _SIEVES[name]
    text = data.draw(st.from_regex(pattern))
    assert may_hold(small_letters(["First.", text]), words)


_WORDS: Final = st.lists(
    st.sampled_from(["Turn", "it", "a", "-", ".", ". ", "?", "! ", "\n", "e.g.", "3.5", " ", "…", "; "]),
    max_size=12,
)


@given(words=_WORDS)
def test_a_text_of_one_sentence_is_parted_like_any_other(words: list[str]) -> None:
    text = "".join(words)
    by_pattern = re.finditer(r"(?:[^.!?]+|[.!?](?=\S))+[.!?]?", text)
    expected = [
        (match.start() + len(match.group()) - len(match.group().lstrip()), match.group().strip())
        for match in by_pattern
        if match.group().strip()
    ]
    assert list(sentences(text)) == expected


@given(
    joints=st.lists(
        st.sampled_from([", ", ". ", "; ", " and ", " then ", ", then ", "! ", ", and "]), max_size=4
    )
)
def test_commands_are_counted_in_every_text_with_joints_enough(joints: list[str]) -> None:
    text = "Turn it" + "".join(f"{joint}lift it" for joint in joints)
    after = [joint for joint in joints if joint in {". ", "! "} or "then" in joint]
    too_many = len(joints) > 1 or bool(after)
    assert (plain_words.too_many_commands(text) is not None) is too_many
