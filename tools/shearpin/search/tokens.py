"""What text is read into, and how a word is read in the light of the word before it.

Named tuples, for a build makes hundreds of thousands, and they are made three times as fast.
"""

from __future__ import annotations

from typing import NamedTuple

from shearpin.search import tables

_UNIT_PAIR_ENDS = frozenset(pair.split()[1] for pair in tables.UNIT_PAIRS)
CONTEXT = frozenset(
    {"t"}
    | set(tables.UNITS_AFTER_NUMBER)
    | tables.NEGATIONS
    | {f"{stem}'t" for stem in tables.NEGATION_STEMS}
    | {spelling for spelling, unit in tables.UNITS.items() if unit in _UNIT_PAIR_ENDS}
)


class Token(NamedTuple):
    """One word, number, code or unit: `term` is what the index holds, `raw` is what was written.

    `kind` is `word`, `not`, `number`, `code` (letters and digits) or `unit`.
    """

    term: str
    raw: str
    kind: str


class Chunk(NamedTuple):
    """Letters and digits held together by single signs: its tokens, and the terms of its parts written as one."""

    text: str
    tokens: tuple[Token, ...]
    joined: tuple[str, ...] = ()


class Before(NamedTuple):
    """What stands before a chunk: the text of the chunk, and whether the last token is of it."""

    text: str
    has_token: bool


class Word(NamedTuple):
    """What stands between two spaces, read by itself.

    `in_context` when its reading depends on the word before it; `leaves` is what the next word finds before it.
    """

    chunks: tuple[Chunk, ...]
    tokens: tuple[Token, ...]
    joined: tuple[str, ...]
    in_context: bool
    leaves: Before


BEFORE_ALL = Before("", False)
NOT_TOKEN = Token(tables.NEGATION, tables.NEGATION, "not")


def extend(tokens: list[Token], before: Before, chunks: tuple[Chunk, ...]) -> Before:
    """Append the tokens of `chunks`, each read in the light of what stands before it; return what then does."""
    if not chunks:
        return BEFORE_ALL
    for chunk in chunks:
        dropped, added = False, chunk.tokens
        if chunk.text in CONTEXT:
            dropped, added = _in_context(tokens[-1] if tokens else NOT_TOKEN, before, chunk)
        if dropped:
            tokens.pop()
        tokens.extend(added)
        before = Before(chunk.text, bool(added))
    return before


def _in_context(last: Token, before: Before, chunk: Chunk) -> tuple[bool, tuple[Token, ...]]:
    """Whether the last token is part of `chunk` and goes, and the tokens that come."""
    added = chunk.tokens
    if chunk.text == "t" and before.text in tables.NEGATION_STEMS:
        return before.has_token, (NOT_TOKEN,)
    if not before.has_token:
        return False, added
    if chunk.text in tables.UNITS_AFTER_NUMBER and last.kind == "number":
        added = (Token(tables.UNITS_AFTER_NUMBER[chunk.text], chunk.text, "unit"),)
    if not added:
        return False, added
    pair = tables.UNIT_PAIRS.get(f"{last.term} {added[0].term}")
    if pair:
        return True, (Token(pair, chunk.text, "unit"),)
    return added[0].kind == "not" and last.term == "will", added
