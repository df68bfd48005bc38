"""The words of the pages themselves in the language of an edition: one table per language, laid over finished pages.

A text between two tags that stands in the table as a whole is replaced; anything else stays. So pages are written once,
in English, and a word that a table lacks shows in English and never as nothing.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

from shearpin.book.book import Book
from shearpin.model.knowledge import SignalWord
from shearpin.model.translation import ORIGINAL
from shearpin.site import words_es, words_fr
from shearpin.site.html import text

_PIECES: Final = re.compile(r"(<script.*?</script>|<style.*?</style>|<title.*?</title>|<[^>]*>)", re.DOTALL)
_SIGNAL: Final = re.compile(r"(<span class=\"signal-word\">(?:<svg.*?</svg>)?)([A-Z]+)(</span>)")
_SPOKEN: Final = re.compile(r'( (?:aria-label|placeholder|alt)=")([^"]*)(")')


@dataclass(frozen=True, slots=True)
class Interface:
    """Words by their English ones, as they stand in markup, and signal words by those of ANSI Z535."""

    words: Mapping[str, str]
    signal_words: Mapping[str, str]


INTERFACES: Final[Mapping[str, Interface]] = MappingProxyType(
    {
        "es": Interface(words_es.WORDS, words_es.SIGNAL_WORDS),
        "fr": Interface(words_fr.WORDS, words_fr.SIGNAL_WORDS),
    }
)
"""Languages that an edition may have besides that of the records."""


def word(book: Book, english: str) -> str:
    """Return one phrase of the interface, or the English one where the table lacks it."""
    table = INTERFACES.get(book.language)
    return table.words.get(english, english) if table is not None else english


def signal_word(book: Book, signal: SignalWord) -> str:
    """Return a signal word as the book's language has it."""
    table = INTERFACES.get(book.language)
    return table.signal_words[signal.value] if table is not None else signal.value


def localized(markup: str, book: Book) -> str:
    """Return finished markup in the language of the book; titles that nobody translated are marked as English."""
    table = INTERFACES.get(book.language)
    if table is None:
        return markup
    markup = _SIGNAL.sub(lambda m: m[1] + table.signal_words.get(m[2], m[2]) + m[3], markup)
    words = {text(english): text(own) for english, own in table.words.items()}
    foreign = frozenset(text(title) for title in book.untranslated)
    pieces, english = [], _Inside()
    listed = False  # an option holds no markup
    for piece in _PIECES.split(markup):
        if piece.startswith("<"):
            english.pass_by(piece)
            listed = piece.startswith("<option") or (listed and piece != "</option>")
            pieces.append(_SPOKEN.sub(lambda m: m[1] + words.get(m[2], m[2]) + m[3], piece))
        elif english.depth:
            pieces.append(piece)
        else:
            pieces.append(_said(piece, words, frozenset() if listed else foreign))
    return "".join(pieces)


class _Inside:
    """Whether the markup read so far is inside an element that is marked as English; `depth` counts those of its name."""

    def __init__(self) -> None:
        self.depth = 0
        self._name = ""

    def pass_by(self, tag: str) -> None:
        name = tag.strip("</>").partition(" ")[0]
        if not self.depth and f' lang="{ORIGINAL}"' in tag:
            self._name, self.depth = name, 1
        elif self.depth and name == self._name:
            self.depth += -1 if tag.startswith("</") else 1


def _said(piece: str, words: Mapping[str, str], foreign: Collection[str]) -> str:
    core = piece.strip()
    if not core:
        return piece
    own = words.get(core)
    if own is None and core in foreign:
        own = f'<span lang="{ORIGINAL}" data-untranslated>{core}</span>'
    return piece.replace(core, own) if own is not None else piece
