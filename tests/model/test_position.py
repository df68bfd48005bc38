"""Positions: where in its file a field, its name, or a character of its text stands."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shearpin.model.position import Positions
from shearpin.model.yamltext import parse

TEXT = b"""title: A
steps:
  - do: one
    action: run
  - {do: two, caution: [b, c]}
review:
  state: draft
"""


@pytest.mark.parametrize(
    ("path", "on_key", "place"),
    [
        (("title",), False, (1, 8)),
        (("title",), True, (1, 1)),
        (("steps",), False, (3, 3)),
        (("steps", 0), False, (3, 5)),
        (("steps", 0, "action"), True, (4, 5)),
        (("steps", 0, "action", 0), False, (4, 13)),
        (("steps", 1, "caution", 1), False, (5, 28)),
        (("steps", 1, "note"), False, (5, 5)),
        (("steps", 7), False, (2, 1)),
        (("review", "by"), False, (6, 1)),
        (("review", "state"), False, (7, 10)),
        (("absent",), True, (1, 1)),
        ((), False, (1, 1)),
    ],
)
def test_fields_are_found_and_missing_ones_at_what_encloses_them(
    path: tuple[str | int, ...], on_key: bool, place: tuple[int, int]
) -> None:
    assert Positions(TEXT).find(path, on_key=on_key) == place


def test_of_two_equal_fields_the_first_is_meant() -> None:
    assert Positions(b"a: b\na: c\n").find(("a",)) == (1, 4)


@pytest.mark.parametrize(
    "raw", [b"", b"- a", b"\xff\xfe", b"a: &x [*x]", b"a: " + b"[" * 100_000, b"? [a]\n: b"]
)
def test_what_cannot_be_read_has_a_place_all_the_same(raw: bytes) -> None:
    assert Positions(raw).find(("b", 0), offset=3) == (1, 1)


STYLES = {
    "plain": "t: {}\n",
    "plain over lines": "t: {}\n",
    "single quotes": "t: '{}'\n",
    "double quotes": 't: "{}"\n',
    "folded": "t: >\n  {}\n",
    "folded, stripped": "# first\nt: >-   # why\n  {}\n",
    "literal": "±: x\nt: |\n  {}\n",
}


def _written(style: str, text: str) -> str:
    words = text
    if style == "single quotes":
        words = text.replace("'", "''")
    elif style == "double quotes":
        words = text.replace("\\", "\\\\").replace('"', '\\"').replace("µ", "\\u00b5")
    if style in ("plain over lines", "single quotes", "double quotes", "folded", "folded, stripped"):
        words = words.replace(" two ", "\n  two ", 1)
    return STYLES[style].format(words)


@pytest.mark.parametrize("style", STYLES)
@pytest.mark.parametrize("text", ["one two MARK", "± é one two 日本 MARK end", 'it\'s "one" \\ µ two MARK'])
def test_a_character_is_found_in_every_style_of_text(style: str, text: str) -> None:
    source = _written(style, text)
    value = parse(source.encode())[0]["t"].strip()
    assert value == text
    line, column = Positions(source.encode()).find(("t",), offset=value.index("MARK"))
    assert source.split("\n")[line - 1][column - 1 :].startswith("MARK")


@pytest.mark.parametrize("line_end", ["\n", "\r\n", "\r"])
def test_a_character_is_found_whatever_ends_the_lines(line_end: str) -> None:
    source = line_end.join(["a: b", "t: >", "  one", "", "  two MARK", ""])
    value = parse(source.encode())[0]["t"]
    assert Positions(source.encode()).find(("t",), offset=value.index("MARK")) == (5, 7)


WORD = st.text(st.sampled_from("ab'\"\\µ±日-.,"), min_size=1, max_size=6)
GAP = st.sampled_from([" ", "  ", "\n  ", "\n\n   "])


@settings(max_examples=100, deadline=None)
@given(before=st.lists(st.tuples(WORD, GAP), max_size=6), after=st.lists(st.tuples(GAP, WORD), max_size=3))
def test_a_word_is_found_behind_whatever_stands_before_it(
    before: list[tuple[str, str]], after: list[tuple[str, str]]
) -> None:
    body = "".join(word + gap for word, gap in before) + "MARK" + "".join(gap + word for gap, word in after)
    single, double = body.replace("'", "''"), body.replace("\\", "\\\\").replace('"', '\\"')
    for source in (f"t: '{single}'\n", f't: "{double}"\n', f"t: >\n  {body}\n"):
        value = parse(source.encode())[0]["t"].strip()
        line, column = Positions(source.encode()).find(("t",), offset=value.index("MARK"))
        if value.startswith("MARK"):
            assert (line, column) == (1, 4)  # the first character of a text stands where the text does
        else:
            assert source.split("\n")[line - 1][column - 1 :].startswith("MARK")
