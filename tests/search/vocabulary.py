"""Owns the words that stems are compared on: those of the demonstration, the tests, and a system's word list."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

from tests.search.book_of_documents import DOCUMENTS

KB = Path(__file__).resolve().parents[2] / "kb"
WORD_LIST = Path("/usr/share/dict/words")  # Debian's wamerican, where it is installed


@cache
def vocabulary() -> tuple[str, ...]:
    """Plain lower-case words, sorted."""
    texts = [text for document in DOCUMENTS for text in document.fields.values()]
    texts += [path.read_text(encoding="utf-8") for path in sorted(KB.rglob("*.yaml"))]
    if WORD_LIST.is_file():
        texts.append(WORD_LIST.read_text(encoding="utf-8"))
    return tuple(sorted({word for text in texts for word in re.findall("[a-z]+", text.lower())}))
