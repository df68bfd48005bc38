"""References inside text: values, links, braces, and what is none of them."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shearpin.model.inline import (
    InlineError,
    Link,
    Piece,
    ValueMention,
    Words,
    leads_somewhere,
    mentioned,
    parse_inline,
    values_in,
)


@pytest.mark.parametrize(
    ("text", "pieces"),
    [
        ("", (Words(""),)),
        ("no braces", (Words("no braces"),)),
        ("to {plug.gap}.", (Words("to "), ValueMention("plug.gap", 4), Words("."))),
        ("{ plug.gap }", (ValueMention("plug.gap", 2),)),
        ("{gap}", (ValueMention("gap", 1),)),
        ("{tool:pin-punch}", (Link("tool", "pin-punch", "", 1),)),
        ("{tool:pin-punch|the punch}", (Link("tool", "pin-punch", "the punch", 1),)),
        ("{tool:pin-punch|a|b}", (Link("tool", "pin-punch", "a|b", 1),)),
        ("{value:plug.gap}", (Link("value", "plug.gap", "", 1),)),
        ("{tool:a}{tool:b}", (Link("tool", "a", "", 1), Link("tool", "b", "", 9))),
        ("{{plug.gap}}", (Words("{"), Words("plug.gap"), Words("}"))),
    ],
)
def test_text_is_split_into_its_pieces(text: str, pieces: tuple[Piece, ...]) -> None:
    assert parse_inline(text) == pieces


@pytest.mark.parametrize(
    ("text", "offset"),
    [("a {", 2), ("a } b", 2), ("{}", 0), ("{ }", 0), ("ab {A B}", 3), ("{tool:}", 0), ("{:a}", 0), ("{Tool:a}", 0), ("{a.b.c}", 0),
     ("{tool:a|}", 0), ("{tool:A}", 0), ("{a\nb}", 0)],
)  # fmt: skip
def test_a_brace_that_leads_nowhere_is_told_with_its_place(text: str, offset: int) -> None:
    (error,) = [piece for piece in parse_inline(text) if isinstance(piece, InlineError)]
    assert error.offset == offset
    assert text[offset] in "{}"


@given(st.text(st.sampled_from("{}:|. a-"), max_size=40))
def test_places_lead_to_what_they_name(text: str) -> None:
    for piece in parse_inline(text):
        if isinstance(piece, ValueMention):
            assert text[piece.offset :].startswith(piece.name)
        elif isinstance(piece, Link):
            assert text[piece.offset :].startswith(f"{piece.kind}:{piece.id}")
        elif isinstance(piece, InlineError):
            assert text[piece.offset] in "{}"


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
    "{tool:x|w}",
    "{a:b:c}",
    "{a.b.c}",
    "{ tool:x }",
    "{tool:x| }",
    "\n",
]


@given(st.lists(st.sampled_from(_BITS), max_size=8).map("".join))
def test_a_text_that_leads_somewhere_holds_no_error(text: str) -> None:
    assert not leads_somewhere(text) or not any(isinstance(p, InlineError) for p in parse_inline(text))


@given(st.lists(st.sampled_from(_BITS), max_size=8).map("".join))
def test_mentions_are_those_that_are_parsed(text: str) -> None:
    pieces = [piece for piece in parse_inline(text) if isinstance(piece, (ValueMention, Link))]
    assert values_in(text) == [piece.name for piece in pieces if isinstance(piece, ValueMention)]
    assert mentioned(text) == [
        ("value", piece.name) if isinstance(piece, ValueMention) else (piece.kind, piece.id)
        for piece in pieces
    ]


def test_usual_mentions_are_known_to_lead_somewhere() -> None:
    assert leads_somewhere("Set {plug.gap} by {tool:gauge}, {procedure:a-b|as told} {{so}}, no more.")
