"""Owns the words that stems are compared on: those of the demonstration, the tests, and a system's word list."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

from tests.search.book_of_documents import DOCUMENTS

KB = Path(__file__).resolve().parents[2] / "kb"
WORD_LIST = Path("/usr/share/dict/words")  # Debian's wamerican, where it is installed


# Endings that the steps of the stemmer look at.
ENDINGS = (
    "",
    "s",
    "es",
    "ed",
    "ing",
    "ly",
    "er",
    "ness",
    "ful",
    "ation",
    "ize",
    "ive",
    "al",
    "ement",
    "ousness",
    "y",
)


@cache
def vocabulary() -> tuple[str, ...]:
    """Plain lower-case words, sorted: as they stand, and those of the book with endings that English has."""
    texts = [text for document in DOCUMENTS for text in document.fields.values()]
    texts += [path.read_text(encoding="utf-8") for path in sorted(KB.rglob("*.yaml"))]
    if WORD_LIST.is_file():
        texts.append(WORD_LIST.read_text(encoding="utf-8"))
    words = {word for text in texts for word in re.findall("[a-z]+", text.lower())}
    of_book = [word for word in words if 3 < len(word) < 12] if not WORD_LIST.is_file() else []
    return tuple(sorted(words | {word + ending for word in of_book for ending in ENDINGS}))
