"""What a record points to is what its references and the mentions in its texts say."""

from __future__ import annotations

from pathlib import Path

from hypothesis import given
from hypothesis import strategies as st

from shearpin.book.links import uses_of
from shearpin.book.load import load_book
from shearpin.model.inline import Link, ValueMention, mentioned, parse_inline, values_in
from shearpin.model.pointers import pointers_of
from tests.sound_book import SOUND_BOOK

RECORDS = [
    file.record
    for kb in (Path(__file__).resolve().parents[2] / "kb", SOUND_BOOK)
    for file in load_book(kb).files
    if file.record is not None
]


def test_a_record_points_to_what_it_uses() -> None:
    for record in RECORDS:
        used: dict[tuple[str, ...], dict[str, None]] = {}
        for use in uses_of(("", ""), record):
            used.setdefault(use.kinds, {})[use.id] = None
        assert pointers_of(record) == tuple((kinds, tuple(names)) for kinds, names in used.items())
    assert sum(len(names) for record in RECORDS for _, names in pointers_of(record)) > 5 * len(RECORDS)


_BITS = [
    "{",
    "}",
    "a",
    "b-c",
    "a.b",
    "tool:x",
    "|",
    " ",
    ":",
    "-",
    ".",
    "{{",
    "}}",
    "{a.b}",
    "{ tool:x }",
    "{tool:x|w}",
    "{tool:x| }",
    "\n",
]


@given(st.lists(st.sampled_from(_BITS), max_size=8).map("".join))
def test_mentions_are_those_that_are_parsed(text: str) -> None:
    pieces = [piece for piece in parse_inline(text) if isinstance(piece, (ValueMention, Link))]
    assert values_in(text) == [piece.name for piece in pieces if isinstance(piece, ValueMention)]
    assert mentioned(text) == [
        ("value", piece.name) if isinstance(piece, ValueMention) else (piece.kind, piece.id)
        for piece in pieces
    ]
