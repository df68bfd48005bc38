"""How far long work is, is told by a bar on a terminal, by lines elsewhere, and not at all unless asked for."""

from __future__ import annotations

import io
from collections.abc import Iterator

import pytest

from shearpin.model.progress import Bar, Lines, counted, tell, told_on

LARGE = 2_000


class Terminal(io.StringIO):
    """A stream that says it is a terminal."""

    def isatty(self) -> bool:
        return True


@pytest.fixture(autouse=True)
def _nobody_told_afterwards() -> Iterator[None]:
    yield
    tell(None)


def test_nobody_is_told_who_did_not_ask() -> None:
    pieces = [1, 2, 3]
    assert counted("reading", pieces) is pieces


def test_pieces_come_whole_and_in_their_order() -> None:
    tell(Lines(io.StringIO()))
    assert list(counted("reading", range(LARGE))) == list(range(LARGE))


def test_a_terminal_gets_a_bar_and_anything_else_gets_lines() -> None:
    assert isinstance(told_on(Terminal()), Bar)
    assert isinstance(told_on(io.StringIO()), Lines)


def test_each_long_step_is_one_line() -> None:
    stream = io.StringIO()
    tell(Lines(stream))
    for step, pieces in (("reading", LARGE), ("checking", 3), ("writing", LARGE)):
        list(counted(step, range(pieces)))
    assert stream.getvalue() == "reading …\nwriting …\n"


def drawn(seconds_each: float, pieces: int, *, even: bool = True) -> list[str]:
    """What a bar draws of a step, one drawing an entry."""
    now = 100.0

    def clock() -> float:
        return now

    stream = Terminal()
    tell(Bar(stream, clock))
    for _ in counted("reading", range(pieces), even=even):
        now += seconds_each
    lines = stream.getvalue().split("\r")
    return [line for line in lines if line.strip() and line == line.rstrip()]


def test_the_bar_tells_the_rest_from_what_the_pieces_took() -> None:
    lines = drawn(1.0, 10)
    assert lines[0] == "reading  ....................  0 %"
    assert lines[1] == "reading  ##..................  10 %, this step 9 s more"
    assert lines[9] == "reading  ##################..  90 %, this step 1 s more"


def test_the_bar_says_no_rest_of_pieces_of_unlike_length() -> None:
    assert not any("more" in line for line in drawn(1.0, 10, even=False))


def test_the_bar_is_drawn_ten_times_a_second_at_most_and_wiped_at_the_end() -> None:
    assert len(drawn(0.01, 200)) <= 21
    stream = Terminal()
    tell(Bar(stream))
    list(counted("reading", range(3)))
    assert stream.getvalue().endswith("\r")
    assert not stream.getvalue().split("\r")[-2].strip()
