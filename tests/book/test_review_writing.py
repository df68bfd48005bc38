"""A review is written into a record's text without touching anything else, or not at all."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shearpin.book.review_writing import CannotWrite, with_review
from shearpin.model.yamltext import parse
from tests.sound_book import SOUND_BOOK

REVIEW = {"state": "reviewed", "by": "lead instructor", "on": "2026-11-28", "digest": "0123456789abcdef"}
FLOW = "{state: reviewed, by: lead instructor, on: 2026-11-28, digest: 0123456789abcdef}"


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("title: a # c\n", f"title: a # c\nreview: {FLOW}\n"),
        ("title: a", f"title: a\nreview: {FLOW}\n"),
        ("title: a\r\n", f"title: a\r\nreview: {FLOW}\r\n"),
        ("\ufefftitle: a\n", f"\ufefftitle: a\nreview: {FLOW}\n"),
        ("title: ü – a\nreview: {state: draft} # c\nx: y\n", f"title: ü – a\nreview: {FLOW} # c\nx: y\n"),
        ("title: a\nreview: {}\nx: y\n", f"title: a\nreview: {FLOW}\nx: y\n"),
        ("x: |+\n  b\n\n\n", f"x: |+\n  b\n\n\nreview: {FLOW}\n"),
        (
            "review:\n  state: draft  # why\n  on: '2026-01-01'\n# end\nx: y\n",
            "review:\n  state: reviewed  # why\n  on: 2026-11-28\n  by: lead instructor\n"
            "  digest: 0123456789abcdef\n# end\nx: y\n",
        ),
    ],
)
def test_only_the_words_of_the_review_change(before: str, after: str) -> None:
    assert with_review(before.encode(), REVIEW).decode() == after


def test_writing_the_same_review_again_changes_nothing() -> None:
    once = with_review(b"title: a\nreview:\n  state: draft\n", REVIEW)
    assert with_review(once, REVIEW) == once


@pytest.mark.parametrize("text", ["{title: a}\n", "review: draft\n", "- a\n", "title: a\n...\n"])
def test_a_text_that_cannot_take_a_review_safely_is_refused(text: str) -> None:
    with pytest.raises(CannotWrite):
        with_review(text.encode(), REVIEW)


SCALARS = st.sampled_from(
    ["a", "'b c'", '"d"', "|\n    e\n    f", ">\n    g", "{state: x}", "[h, i]", "|+\n    j\n\n"]
)


@settings(max_examples=150, deadline=None)
@given(
    values=st.lists(SCALARS, min_size=1, max_size=5), at=st.integers(0, 5), comment=st.sampled_from(["", " # c"])
)  # fmt: skip
def test_whatever_stands_around_it_reads_back_equal(values: list[str], at: int, comment: str) -> None:
    lines = [f"k{number}: {value}" for number, value in enumerate(values)]
    lines.insert(min(at, len(lines)), f"review: {{state: draft}}{comment}")
    raw = ("\n".join(lines) + "\n").encode()
    before, _ = parse(raw)
    after, faults = parse(with_review(raw, REVIEW))
    assert not faults
    assert after == {**before, "review": REVIEW}


@pytest.mark.parametrize("path", sorted(SOUND_BOOK.rglob("*.yaml")), ids=lambda path: path.stem)
def test_every_sound_record_takes_a_review_and_keeps_its_text(path: Path) -> None:
    raw = path.read_bytes()
    after = with_review(raw, REVIEW)
    if b"\nreview:" not in raw:
        assert after.startswith(raw)
