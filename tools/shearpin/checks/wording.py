"""Words of a text as they are compared: small letters, no plural, no articles, with their places."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache
from typing import Final

from shearpin.checks.asked_again import AskedAgain
from shearpin.model.readertexts import reader_texts
from shearpin.model.references import texts

_BRACES: Final = re.compile(r"\{[^{}]*\}")
_WORD: Final = re.compile(r"[^\W_]+(?:['’][^\W_]+)?")
_SENTENCE: Final = re.compile(r"(?:[^.!?]+|[.!?](?=\S))+[.!?]?")
SMALL: Final = frozenset(["a", "an", "the", "of", "for", "to", "and", "or", "on", "in", "at", "its", "with"])
"""Words that say nothing about which thing is meant."""


def without_braces(text: str) -> str:
    """Return the text with values and links blanked out, every other character in its place."""
    return _BRACES.sub(lambda match: " " * len(match.group()), text) if "{" in text else text


@lru_cache(maxsize=8192)
def alike(word: str) -> str:
    """Return the form by which a word is compared: small letters, without a plural `s`."""
    word = word.lower().replace("’", "'")
    if len(word) > 3 and word.endswith("s") and not word.endswith(("ss", "us", "is")):
        return word[:-1]
    return word


def words_as_written(text: str) -> list[str]:
    """Return every word of a text."""
    return _WORD.findall(text)


def words_in(text: str) -> list[tuple[str, int, int]]:
    """Return every word of a text in the form by which it is compared, with where it begins and ends."""
    return [(alike(match.group()), match.start(), match.end()) for match in _WORD.finditer(text)]


@lru_cache(maxsize=16384)
def phrase(text: str) -> tuple[str, ...]:
    """Return the words of a name as they are compared, in order, the small ones left out."""
    return tuple(word for word in map(alike, _WORD.findall(text)) if word not in SMALL)


def sentences(text: str) -> Iterator[tuple[int, str]]:
    """Yield each sentence with where it begins."""
    if "." not in text[:-1] and "?" not in text and "!" not in text:
        if text and text != "." and not text.isspace():  # one sentence, as most texts
            yield len(text) - len(text.lstrip()), text.strip()
        return
    for match in _SENTENCE.finditer(text):
        sentence = match.group()
        lead = len(sentence) - len(sentence.lstrip())
        if len(sentence) > lead:
            yield match.start() + lead, sentence.strip()


texts_of: Final = AskedAgain(texts)
"""Every text of a record, with its place."""


prose_of: Final = AskedAgain(reader_texts)
"""Every text of a record that is written for the reader, with its place."""
