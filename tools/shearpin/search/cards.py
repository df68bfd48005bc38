"""What a hit shows of each record, and how that is cut into files."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Final

from shearpin.search.document import ANSWER_MARK, Document
from shearpin.search.packing import after

CardRow = tuple[str, str, str, str]
"""Id, title, excerpt, and the address where it is not the usual one."""

# The address of most records is this folder, the id and this ending; only others are written out.
_PAGE: Final = ".html"
_ARTICLES: Final = ("a", "an", "the")

_MAX_FILES: Final = 900
_BYTES: Final = 2_200
# In a small book few files are read sooner than many, and their bytes do not matter.
_SMALL_BOOK: Final = 2_000
_SMALL_BOOK_BYTES: Final = 6_500
# In cards, where the sign that tells it need not be a capital: up to `z`.
_MOST_SHARED: Final = 57


def card_row(document: Document, folders: dict[str, str]) -> CardRow:
    """Return the card of a document; `folders` are those of `folders_of` all documents."""
    usual = usual_address(document.kind, document.id, folders)
    return document.id, document.title, document.excerpt, "" if document.url == usual else document.url


def usual_address(kind: str, document_id: str, folders: dict[str, str]) -> str:
    """Return the address that most documents of a kind have."""
    return folders.get(kind, "") + document_id.partition(ANSWER_MARK)[0] + _PAGE


def cards_per_file(rows: Sequence[CardRow]) -> int:
    """Return how many cards each file holds."""
    size = sum(len(text) for row in rows for text in row)
    wanted = _BYTES if len(rows) > _SMALL_BOOK else _SMALL_BOOK_BYTES
    files = min(_MAX_FILES, size // wanted + 1)
    return max(1, -(-len(rows) // files))


def packed_cards(rows: Sequence[CardRow]) -> list[str]:
    """Four texts of each row. Ids (empty where the title gives them) and titles stand after what they share with those
    of the row before: figures of one value for many plates differ in their ends alone."""
    packed: list[str] = []
    id_before = title_before = ""
    for id, title, excerpt, url in rows:
        packed.append("" if id == plain_id(title) else after(id_before, id, _MOST_SHARED))
        packed += [after(title_before, title, _MOST_SHARED), excerpt, url]
        id_before, title_before = id, title
    return packed


def plain_id(title: str) -> str:
    """The id that most titles give: their words without articles. Empty when the title is not plain ASCII."""
    words = re.findall("[a-z0-9]+", title.lower()) if title.isascii() else []
    return "-".join(word for word in words if word not in _ARTICLES)


def folders_of(documents: Sequence[Document]) -> dict[str, str]:
    """The folder of each kind's pages, from the first record whose address ends in its id."""
    folders: dict[str, str] = {}
    for document in documents:
        if document.kind not in folders and document.url.endswith(document.id + _PAGE):
            folders[document.kind] = document.url[: -len(document.id + _PAGE)]
    return folders
