"""What is read of plain records is what the reader of all YAML reads; whatever is not plain is left to it."""

from __future__ import annotations

import random
from pathlib import Path
from typing import Final

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shearpin.model.plainyaml import MAX_LENGTH, plain_data
from shearpin.model.reading import _USUAL
from shearpin.model.yamltext import MAX_NODES, parse
from tests.sound_book import SOUND_BOOK

RECORDS: Final = sorted(Path(__file__).parents[2].glob("kb/*/*.yaml")) + sorted(SOUND_BOOK.glob("*/*.yaml"))

PLAIN: Final = """\
title: Change the belt
purpose: >
  It slips: with a - dash, [brackets] and key: a colon
  over two lines.

  It squeals too.
"""


def _agrees(text: str) -> bool:
    """Return whether a text is plain; raises where it is read in another way than by the reader of all YAML."""
    data = plain_data(text) if _USUAL.fullmatch(text) else None
    if data is None:
        return False
    expected, faults = parse(text.encode())
    assert faults == ()
    assert data == expected
    assert repr(data) == repr(expected)  # the order of fields too
    return True


def test_nearly_every_record_of_the_books_is_plain() -> None:
    plain = [_agrees(path.read_text(encoding="utf-8")) for path in RECORDS]
    assert sum(plain) > 0.8 * len(plain)


@pytest.mark.parametrize("seed", range(4))
def test_changed_records_are_read_alike(seed: int) -> None:
    """Lines, words and signs are taken out, put in, doubled and moved, until few of the texts are records any more."""
    chance = random.Random(seed)
    texts = [path.read_text(encoding="utf-8") for path in chance.sample(RECORDS, 60)]
    signs = [
        *"\n\n  --::,,>>|[]{}'\"#&*!?%@`~.<x0½°\r\t",
        ": ",
        "- ",
        " #",
        "\n  ",
        "\n- ",
        ">-",
        "key:",
        "[a, b]",
        "{a: b}",
    ]
    plain = 0
    for text in texts:
        for _ in range(40):
            for _ in range(chance.randint(1, 2)):
                at = chance.randrange(len(text))
                end = min(len(text), at + chance.choice([0, 0, 0, 1, 1, 2, 5, 40]))
                to = chance.choice([chance.choice(signs), "", text[at:end] * 2])
                changed = text[:at] + to + text[end:]
            plain += _agrees(changed)
    assert plain > 100


_VALUES: Final = """\
x y; x: y; x:; x #y; ; >; >-; |; [a, b]; [a,b]; [a , b]; [a: b]; []; [a, b; {a: b}; {a: b, a: c}; {a: [b, c]}; {a: {b: c}}
{a: b}.; {a: b; 'x'; "x y"; 'x; 'x''y'; *x; &x y; !x y; x ; ½; -5; - x; x, y; x [y]; (x); % x; @x; {a: b c, d: e}; [a'b, c"d]
{a: "b, c: d", e: f}; {a: "b", c: "d"}; {a: "b"c}; {a: "b}; {a: 'b'}; {a: ""}; {a: "b", "c": d}
""".replace("\n", "; ").split("; ")
_LINES: Final = st.lists(
    st.tuples(
        st.sampled_from(["", "", " ", "  ", "  ", "   ", "    "]),
        st.sampled_from(["", "", "", "- ", "- ", "-", "- - ", "? "]),
        st.sampled_from(["a: ", "b: ", "c.d: ", "a:", "b:", "", "A b: ", "a:b", "<<: ", "--- ", "'q': "]),
        st.sampled_from(_VALUES),
    ).map("".join),
    max_size=7,
)


@given(lines=_LINES, end=st.sampled_from(["\n", "\n", "\n", "", "\n\n", "\n...\n"]))
def test_texts_of_all_forms_are_read_alike(lines: list[str], end: str) -> None:
    _agrees("\n".join(lines) + end)


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("", ""),
        ("two lines.", "two lines"),
        ("  over", "  \\tover"),
        ("belt", "belt: the wide one"),
        ("belt", "belt # not the wide one"),
        ("purpose: >", "purpose: |"),
        ("  over", "   over"),
        ("  over", " over"),
        ("  over", "\n\n over"),
        ("too.\n", "too.\n\n"),
        ("too.\n", "too."),
        ("title", "Title"),
        ("purpose", "title"),
        ("too.\n", "too.\nbefore:\n"),
        ("too.\n", "too.\n# later\n"),
        ("too.\n", "too.\nbefore: &a [b]\n"),
    ],
)
def test_only_plain_texts_are_read(before: str, after: str) -> None:
    assert _agrees(PLAIN.replace(before, after)) is (before in ("", "two lines."))


def test_no_text_that_is_read_has_more_entries_than_are_allowed() -> None:
    assert MAX_LENGTH <= MAX_NODES
    assert plain_data("a: b\n" * 3 + "a:" + "\n") is None
    assert plain_data("title: " + "x" * MAX_LENGTH + "\n") is None


def test_nesting_ends_before_that_of_the_reader_of_all_yaml() -> None:
    deep = "".join(f"{'  ' * level}a:\n" for level in range(60))
    assert plain_data(deep + "  " * 60 + "a: b\n") is None
