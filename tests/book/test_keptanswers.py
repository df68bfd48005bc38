"""Answers that are kept come back as they were, and what says the same many times takes little room."""

import pickle

import pytest

from shearpin.book.keptanswers import packed_answer, unpacked_answer


@pytest.mark.parametrize(
    "answer",
    [None, "", "x", b"x", ("x",) * 3, {"a": (1, 2)}, "long " * 500, b"x" * 5_000, ["é", "\ud800"] * 400],
)
def test_an_answer_comes_back_as_it_was(answer: object) -> None:
    assert unpacked_answer(packed_answer(answer)) == answer


def test_no_pickle_is_taken_for_one_that_is_deflated() -> None:
    """Every pickle of a protocol from 2 on begins with PROTO (Python's pickletools), a zlib stream with 0x78 (RFC 1950, 32 K window)."""
    assert {packed_answer("short")[0], pickle.dumps(None, pickle.HIGHEST_PROTOCOL)[0]} == {0x80}
    assert packed_answer("long " * 500)[0] == 0x78


def test_what_says_the_same_again_and_again_takes_little_room() -> None:
    rows = "<tr><td>Osmere D24</td><td>8 N·m</td></tr>" * 300
    assert len(packed_answer(rows)) < len(rows) / 20
