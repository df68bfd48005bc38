"""What goes into the search index and what comes out of it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Final

# Hits with equal scores are in the order of their kinds.
KIND_ORDER = (
    "symptom",
    "procedure",
    "value",
    "test",
    "cause",
    "machine",
    "engine",
    "system",
    "part",
    "tool",
    "caution",
    "term",
    "page",
    "source",
    "edition",
    "figure",
)

# In the id of a document that answers for some plates only: divides the id of the record from the rest. In the index:
# ends a term that names a plate, and the kind of such a document.
ANSWER_MARK = "@"

# In the index: divides the dimension of a figure from its digits; see `figures`.
FIGURE_MARK = "#"


def kind_rank(kind: str) -> tuple[int, str]:
    """Place of `kind` in KIND_ORDER; kinds the search does not know come last, by name."""
    return (KIND_ORDER.index(kind) if kind in KIND_ORDER else len(KIND_ORDER), kind)


@dataclass(frozen=True, slots=True)
class Document:
    """One record as the search sees it.

    `url` is relative to the root of the site. `fields` may hold `title`, `said` (what people say at the counter),
    `also` (other names), `summary`, `body`, `numbers` (part numbers) and `figures` (terms of `figures`); a line break divides one phrase or number
    from the next. `machines` names the machines the record applies to; None means all of them.

    A record may have further documents that answer for some plates only, such as a value's figure for one engine; their
    ids are the record's, ANSWER_MARK and anything, and their field `plates` holds the plates' names. Such an answer is
    the record's hit only where it is for the chosen machine or, with none chosen, where the query names its plate:
    nobody shall read the figure of another model. In the index they follow their record.
    """

    id: str
    kind: str
    title: str
    url: str
    excerpt: str
    fields: Mapping[str, str]
    machines: frozenset[str] | None = None


NOBODY: Final = Document("", "", "", "", "", {})
"""Stands at a number that no document has (see `blocks`)."""


def how_many(documents: Iterable[Document]) -> int:
    """Return how many documents these are, without the numbers that none has."""
    return sum(document.kind != "" for document in documents)


def is_answer(document: Document) -> bool:
    """Whether this is a further document of a record, which answers for one plate."""
    return ANSWER_MARK in document.id


def marked_kind(document: Document) -> str:
    """The kind, marked in documents that answer for one plate: what an index stores of every document."""
    return document.kind + ANSWER_MARK if is_answer(document) else document.kind


@dataclass(frozen=True, slots=True)
class Synonym:
    """One thing, the word the book uses for it, and what else people call it; each may be of several words.

    `misspellings` are corrected to `preferred` and reported as corrected; `others` are understood as they stand.
    """

    preferred: str
    others: tuple[str, ...] = ()
    misspellings: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Hit:
    """One record found. `fits` is False when the record does not apply to the machine that was asked for."""

    id: str
    kind: str
    title: str
    url: str
    score: int
    excerpt: str
    fits: bool


@dataclass(frozen=True, slots=True)
class SearchResult:
    """Hits, best first. `corrected` is the query that was searched instead, None when it was searched as typed.

    `total` counts every record found, shown or not. `nearest` offers words of the book when nothing was found.
    `answer` is the conversion or the value that was asked for, None when none was; of several figures each has a line.
    """

    query: str
    corrected: str | None
    hits: tuple[Hit, ...]
    total: int
    nearest: tuple[str, ...] = field(default=())
    answer: str | None = None
