"""Hand-written pages: links to records by kind and id, `[words](procedure:make-machine-safe)`, and translated pages.

A translation is `translations/<language>/pages/<name>.md`. Its first line is a comment with the mark of the page that it was made
from: `<!-- original: 1a2b3c4d5e6f -->`. Once that page says something else, it is shown itself instead.
"""

from __future__ import annotations

import hashlib
import re
from pathlib import Path
from typing import Final

from shearpin.book.forwriters import is_for_writers
from shearpin.book.linked import LinkedBook
from shearpin.book.translations import FOLDER, PAGES
from shearpin.model.kinds import KINDS
from shearpin.site.guides import FOLDER as GUIDES
from shearpin.site.guides import guide_in_language
from shearpin.site.view import View

_MADE_FROM: Final = re.compile(r"<!-- original: ([0-9a-f]{12}) -->")
_LINK: Final = re.compile(rf"\[([^\]\n]*)\]\(({'|'.join(KINDS)}):([a-z0-9.-]+)\)")


def mark_of_page(markdown: str) -> str:
    """Return what stands for the words of a page: the beginning of their SHA-256, in whatever lines they are set."""
    return hashlib.sha256(" ".join(markdown.split()).encode("utf-8")).hexdigest()[:12]


def page_in_language(path: Path, original: str) -> str | None:
    """Return the translation of a hand-written page, or None where there is none at this path that holds."""
    try:
        own = path.read_text(encoding="utf-8")
    except (OSError, ValueError):
        return None
    first, _, rest = own.partition("\n")
    made_from = _MADE_FROM.fullmatch(first.strip())
    return rest if made_from and made_from[1] == mark_of_page(original) else None


def page_path(language: str, name: str) -> str:
    """Return where the translation of a page lies, below `kb/`."""
    return f"{FOLDER}/{language}/{PAGES}/{name}"


def pages_to_translate(kb: Path, language: str, *, part: bool) -> list[dict[str, str]]:
    """Return the hand-written pages that an edition in a language shows in English: path, state, mark.

    The program's guides are among them, but where the book has a page of the same name. An edition that is `part` of the
    book has no pages for those who write it.
    """
    found = []
    pages = {path.name: path for folder in (GUIDES, kb / PAGES) for path in sorted(folder.glob("*.md"))}
    for _, path in sorted(pages.items()):
        original = path.read_text(encoding="utf-8")
        if part and is_for_writers(path.name, original):
            continue
        own = page_path(language, path.name)
        ours = guide_in_language(language, path.name) if path.parent == GUIDES else kb / own
        if page_in_language(kb / own, original) is None and page_in_language(ours, original) is None:
            state = "stale" if (kb / own).is_file() else "untranslated"
            found.append({"path": own, "state": state, "mark": mark_of_page(original)})
    return found


def with_record_links(markdown: str, linked: LinkedBook, depth: int) -> tuple[str, tuple[str, ...]]:
    """Return the text with record links made into HTML, and the targets that do not exist."""
    view = View(linked, "../" * depth)
    unknown: list[str] = []

    def replaced(match: re.Match[str]) -> str:
        words, kind, record_id = match.groups()
        if (kind, record_id) not in linked.book.file_of and (kind, record_id) not in linked.book.outside:
            unknown.append(f"{kind}:{record_id}")
        return view.ref(kind, record_id, words)

    return _LINK.sub(replaced, markdown), tuple(unknown)
