"""Pages that are no records as documents of the search: those written by hand, and those of the rules."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Final

from shearpin.book.book import Book
from shearpin.book.forwriters import is_for_writers
from shearpin.catalogue import RULES
from shearpin.search.document import Document

EXCERPT_CHARACTERS: Final = 100
"""A hit shows about this much; what is cut ends in an ellipsis."""

_SENTENCE_END: Final = re.compile(r"[.!?](?= [A-Z])")
_COMMENT: Final = re.compile(r"<!--.*?-->", re.DOTALL)


def pages_of(book: Book) -> Iterator[Document]:
    """Yield the pages of a book that are no records; a part of a book has none for its writers."""
    yield from _by_hand(book.kb / "pages", part=book.is_part)
    if not book.is_part:
        yield from _rules()


def excerpt(text: str, characters: int = EXCERPT_CHARACTERS) -> str:
    """The beginning of `text`, cut after a sentence, or between words where that would leave less than half: half of an
    advice such as "Close the fuel valve at …" helps nobody."""
    # Of a long text a part is enough; where that holds hardly any words but spaces, all of it is read.
    begun = " ".join(text[: 2 * characters].split())
    text = begun if len(begun) > characters + 1 else " ".join(text.split())
    if len(text) <= characters:
        return text
    cut = text[:characters].rpartition(" ")[0]
    sentences = [end.start() for end in _SENTENCE_END.finditer(cut) if end.start() >= characters // 2]
    return (cut[: sentences[-1] + 1] if sentences else cut.rstrip(" ,;:–")) + " …"


def _rules() -> Iterator[Document]:
    """Pages of rules, by code and name alone: their examples are full of words that a technician looks for."""
    for rule in RULES.values():
        title = f"{rule.code} {rule.name.replace('-', ' ')}"
        url = f"rules/{rule.code.lower()}.html"
        yield Document(
            rule.code, "page", title, url, excerpt(rule.summary), {"numbers": rule.code, "title": title}
        )


def _by_hand(folder: Path, *, part: bool) -> Iterator[Document]:
    """Hand-written pages, without the marks of Markdown and without comments."""
    for path in sorted(folder.rglob("*.md")):
        markdown = path.read_text(encoding="utf-8", errors="replace")
        if part and is_for_writers(path.relative_to(folder).as_posix(), markdown):
            continue
        lines = _COMMENT.sub("", markdown).splitlines()
        heading = next((line for line in lines if line.startswith("# ")), "")
        title = heading.lstrip("# ").strip() or path.stem.replace("-", " ")
        body = re.sub(
            r"\{[^}]*\}|\]\([^)]*\)|[#*`>|\[\]]", " ", "\n".join(line for line in lines if line != heading)
        )
        name = path.relative_to(folder).with_suffix("").as_posix()
        yield Document(name, "page", title, f"{name}.html", excerpt(body), {"title": title, "body": body})
