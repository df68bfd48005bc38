"""The clauses of a record, or its runs of three words where it is short, as numbers: by these its doubles are looked for."""

from __future__ import annotations

import re
from array import array
from collections.abc import Iterable
from hashlib import blake2b
from typing import Final

from shearpin.checks.wording import prose_of
from shearpin.model.fields import Record

KINDS_COMPARED: Final = ("symptom", "cause", "test", "procedure", "caution", "system", "part", "tool", "term")

_SHORT: Final = 60  # words; a shorter text has too few clauses to know its double by
_CLAUSE_END: Final = re.compile(r"[.,;:!?]\s+")
_WORD: Final = re.compile(r"[^\W_]+|\{[^{}]*\}")
_NUMBER: Final = "Q"

Run = tuple[str, ...]
"""Three words that follow one another."""


def said_by(record: Record) -> str:
    """Return all that a record says to its reader, in small letters."""
    return " ".join([text for _, text in prose_of(record)]).lower()


def runs_of(text: str) -> frozenset[Run]:
    """Return the runs of a text."""
    words = _WORD.findall(text)
    return frozenset(zip(words, words[1:], words[2:], strict=False))


def packed_clauses(record: Record) -> bytes:
    """Return a number for each clause or run of a record, each once, packed; clauses that are alike have one number."""
    text = said_by(record)
    short = text.count(" ") < _SHORT
    marks: Iterable[str] = (
        ("\0".join(run) for run in runs_of(text)) if short else set(_CLAUSE_END.split(text))
    )
    return b"".join(
        sorted(blake2b(mark.encode(errors="surrogatepass"), digest_size=8).digest() for mark in marks)
    )


def unpacked_clauses(packed: bytes) -> array[int]:
    """Return the numbers that `packed_clauses` packed."""
    numbers = array(_NUMBER)
    numbers.frombytes(packed)
    return numbers
