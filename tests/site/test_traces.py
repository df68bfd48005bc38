"""The traces of pages: settled or noted since, they tell the same."""

from __future__ import annotations

from shearpin.book.joined import Unpacking, packed
from shearpin.site.traces import SettledTraces, Trace, Traces


def trace(*read: int, shell: bytes = b"shell", size: int = 1) -> Trace:
    return Trace(packed(read), shell, (size, 2, 3), b"gaps" * (size - 1))


def settled(traces: Traces) -> Traces:
    then = SettledTraces(Unpacking(b"".join(traces.packed())))
    return Traces(then, fillings=then.fillings)


FIRST = {"a.html": trace(1, 2), "b.html": trace(2), "c.html": trace(3, size=7)}


def test_pages_that_were_taken_over_keep_their_traces_and_others_are_gone() -> None:
    for first in (Traces().since(FIRST, set(), {}), settled(Traces().since(FIRST, set(), {}))):
        later = first.since({"b.html": trace(4), "d.html": trace(1)}, {"c.html"}, {"brook-d24": b"Brook"})
        for each in (later, settled(later)):
            assert each.facts("a.html") is None
            assert each.facts("c.html") == (b"shell", (7, 2, 3))
            assert each.readers({1}) >= {"d.html"}
            assert "b.html" not in each.readers({2})
            assert each.readers({3, 4}) == {"b.html", "c.html"}
            assert each.fillings == {"brook-d24": b"Brook"}
            assert each.all() == {"b.html": trace(4), "c.html": FIRST["c.html"], "d.html": trace(1)}


def test_a_page_that_was_gone_is_there_again_when_it_was_made_again() -> None:
    gone = settled(Traces().since(FIRST, set(), {})).since({}, {"b.html", "c.html"}, {})
    assert gone.facts("a.html") is None
    again = gone.since({"a.html": trace(9)}, {"b.html", "c.html"}, {})
    assert again.facts("a.html") == (b"shell", (1, 2, 3))
    assert again.readers({1, 9}) == {"a.html"}
    assert again.since({}, {"a.html"}, {}).all() == {"a.html": trace(9)}


def test_a_page_made_since_is_gone_when_the_next_build_has_none() -> None:
    made = Traces().since({"a.html": trace(1)}, set(), {})
    assert made.since({}, set(), {}).all() == {}
