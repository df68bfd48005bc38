"""Judged queries: reading them, their fixed halves, and misspellings of them made by rule."""

from __future__ import annotations

import hashlib
import random
import string
from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from types import MappingProxyType
from typing import Final

QUERIES: Final = Path("tests/search/queries.tsv")
HALVES: Final = ("tuning", "held back")

# Pages of this grade and above are what was asked for; those below only help.
WANTED: Final = 2

_MIN_WORD: Final = 4


@dataclass(frozen=True, slots=True)
class Judged:
    """A query, what kind of question it is, and the grade (1 to 3) of each page by `kind:id`."""

    text: str
    kind: str
    grades: MappingProxyType[str, int]

    @property
    def half(self) -> str:
        """The half it belongs to: the parity of the first byte of the SHA-256 of its text."""
        return HALVES[hashlib.sha256(self.text.encode()).digest()[0] % 2]


def read_queries(path: Path) -> tuple[Judged, ...]:
    """Read `query TAB kind TAB kind:id=grade …`, a line each; lines that begin with # are remarks.

    Raises `ValueError` with the number of a line that cannot be read.
    """
    found = []
    for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1):
        if not line or line.startswith("#"):
            continue
        try:
            text, kind, judgements = line.split("\t")
            grades = {page: int(grade) for page, grade in (j.rsplit("=", 1) for j in judgements.split())}
        except ValueError as error:
            raise ValueError(f"{path}:{number}: {error}") from error
        found.append(Judged(text, kind, MappingProxyType(grades)))
    return tuple(found)


def misspelt(query: Judged) -> Iterator[Judged]:
    """The query with one letter missing, changed, too many, or two swapped: one query for each.

    The word (of four letters or more, without figures) and the place in it, the first letter included, follow from a
    generator seeded with the query. A query without such a word has no misspellings.
    """
    words = query.text.split()
    places = [
        n for n, word in enumerate(words) if len(word) >= _MIN_WORD and word.isascii() and word.isalpha()
    ]
    if not places:
        return
    chance = random.Random(query.text)
    for edit in ("missing", "changed", "too many", "swapped"):
        number = chance.choice(places)
        slipped = _slip(words[number], edit, chance)
        yield replace(query, text=" ".join([*words[:number], slipped, *words[number + 1 :]]))


def _slip(word: str, edit: str, chance: random.Random) -> str:
    if edit == "swapped":
        unlike = [n for n in range(len(word) - 1) if word[n] != word[n + 1]]
        at = chance.choice(unlike)
        return word[:at] + word[at + 1] + word[at] + word[at + 2 :]
    at = chance.randrange(len(word))
    letter = chance.choice(string.ascii_lowercase.replace(word[at].lower(), ""))
    after = {"missing": word[at + 1 :], "changed": letter + word[at + 1 :], "too many": letter + word[at:]}
    return word[:at] + after[edit]
