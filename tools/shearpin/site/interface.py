"""The words of the pages themselves in the language of an edition: one table per language, laid over finished pages.

A text between two tags that the table knows as a whole is replaced; anything else stays. So pages are written once,
in English, and a word that a table lacks shows in English and never as nothing. What scripts write later is replaced in the
same way, by `look/interface.js` from the same table.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Collection, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from types import MappingProxyType
from typing import Final

from shearpin.book.book import Book
from shearpin.model.knowledge import SignalWord
from shearpin.model.translation import ORIGINAL
from shearpin.site import words_es, words_es_scripts, words_fr, words_fr_scripts
from shearpin.site.html import text
from shearpin.site.phrasebook import Phrasebook, fill

_PIECES: Final = re.compile(r"(<script.*?</script>|<style.*?</style>|<title.*?</title>|<[^>]*>)", re.DOTALL)
_SIGNAL: Final = re.compile(r"(<span class=\"signal-word\">(?:<svg.*?</svg>)?)([A-Z]+)(</span>)")
_WORKED: Final = re.compile(r"(<[a-z]+)(?=[^>]* (?:class=\"worked|data-worked=|data-formula=))")
"""Worked lines and their formulas: sentences put together from figures, in English."""

_TITLE: Final = re.compile(r"(<title[^>]*>)(.*?)( - .*)?(?=</title>)", re.DOTALL)
"""The title of a page, and after it the name of the manual."""

_SPOKEN: Final = re.compile(r'( (?:aria-label|placeholder|alt)=")([^"]*)(")')


@dataclass(frozen=True)
class Interface:
    """Words of pages and of scripts by their English ones, and signal words by those of ANSI Z535."""

    words: Mapping[str, str]
    script_words: Mapping[str, str]
    signal_words: Mapping[str, str]

    @cached_property
    def in_markup(self) -> Phrasebook:
        """The phrases as they stand in markup."""
        return Phrasebook(
            {text(english): text(own) for english, own in ({**self.script_words, **self.words}).items()}
        )


INTERFACES: Final[Mapping[str, Interface]] = MappingProxyType(
    {
        "es": Interface(dict(words_es.WORDS), dict(words_es_scripts.WORDS), words_es.SIGNAL_WORDS),
        "fr": Interface(dict(words_fr.WORDS), dict(words_fr_scripts.WORDS), words_fr.SIGNAL_WORDS),
    }
)
"""Languages that an edition may have besides that of the records."""


SCRIPT_TABLE: Final = "words.js"
"""Address of what `script_table` makes."""


def word(book: Book, english: str) -> str:
    """Return one phrase of the interface, or the English one where the table lacks it."""
    table = INTERFACES.get(book.language)
    return table.words.get(english, english) if table is not None else english


def phrase(book: Book, english: str, *pieces: object) -> str:
    """Return a phrase of the interface with its places, `{0}` and so on, filled."""
    return fill(word(book, english), pieces)


def in_original(markup: str, book: Book) -> str:
    """Return the body of a page that nobody translated, marked as English, with a note that says so."""
    note = f'<p class="note" data-untranslated>{text(word(book, "This page is in English."))}</p>'
    return markup.replace("<article ", f'{note}<article lang="{ORIGINAL}" ', 1)


def script_table(book: Book) -> str:
    """Return the script that hands the words of the book's language to `look/interface.js`."""
    table = INTERFACES[book.language]
    words = json.dumps(
        {**table.words, **table.script_words}, ensure_ascii=False, separators=(",", ":"), sort_keys=True
    )
    return f"window.shearpinTable = {words};\n"


def signal_word(book: Book, signal: SignalWord) -> str:
    """Return a signal word as the book's language has it."""
    table = INTERFACES.get(book.language)
    return table.signal_words[signal.value] if table is not None else signal.value


def localized(markup: str, book: Book) -> str:
    """Return finished markup in the language of the book; titles that nobody translated are marked as English."""
    table = INTERFACES.get(book.language)
    if table is None:
        return markup
    markup = _WORKED.sub(rf'\1 lang="{ORIGINAL}"', markup)
    markup = _SIGNAL.sub(lambda m: m[1] + table.signal_words.get(m[2], m[2]) + m[3], markup)
    said = table.in_markup.said
    foreign = frozenset(text(title) for title in (*book.untranslated, *_cited(book, table)))
    pieces, english = [], _Inside()
    listed = False  # an option holds no markup
    for piece in _PIECES.split(markup):
        if piece.startswith("<title"):
            pieces.append(_TITLE.sub(lambda m: m[1] + (said(m[2]) or m[2]) + (m[3] or ""), piece))
        elif piece.startswith("<"):
            english.pass_by(piece)
            listed = piece.startswith("<option") or (listed and piece != "</option>")
            pieces.append(_SPOKEN.sub(lambda m: m[1] + (said(m[2]) or m[2]) + m[3], piece))
        elif english.depth:
            pieces.append(piece)
        else:
            pieces.append(_said(piece, said, frozenset() if listed else foreign))
    return "".join(pieces)


def _cited(book: Book, table: Interface) -> Iterator[str]:
    """Yield the texts of sources, which are cited as published; a general one, such as common practice, has words of its own."""
    for source in book.sources.values():
        yield from {source.title, source.summary, source.issuer or source.title} - table.words.keys()


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


def _said(piece: str, said: Callable[[str], str | None], foreign: Collection[str]) -> str:
    core = piece.strip()
    if not core:
        return piece
    title = core if core in foreign else core.removesuffix(".")
    own = said(core) if title not in foreign else None
    if title in foreign:
        own = f'<span lang="{ORIGINAL}" data-untranslated>{core}</span>'
    return piece.replace(core, own) if own is not None else piece
