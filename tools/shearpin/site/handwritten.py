"""Hand-written pages: links to records by kind and id, `[words](procedure:make-machine-safe)`."""

from __future__ import annotations

import re
from typing import Final

from shearpin.book.linked import LinkedBook
from shearpin.model.kinds import KINDS
from shearpin.site.view import View

_LINK: Final = re.compile(rf"\[([^\]\n]*)\]\(({'|'.join(KINDS)}):([a-z0-9.-]+)\)")


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
