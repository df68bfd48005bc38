"""Tests tools/evaluate_search.py: its measures against published ones, its halves and slips, its queries."""

from __future__ import annotations

from types import MappingProxyType

import pytest

from _evaluation.measures import measure
from _evaluation.queries import HALVES, QUERIES, Judged, misspelt, read_queries
from _evaluation.searches import worker_of_theme
from shearpin.model.kinds import KINDS
from tests.conftest import ROOT


def judged(text: str, **grades: int) -> Judged:
    return Judged(text, "complaint", MappingProxyType(grades))


def test_ndcg_is_that_of_the_hand_computation() -> None:
    # Järvelin & Kekäläinen, TOIS 20(4) 2002, in the form of most libraries (gain over log2 of rank + 1): gains
    # 3, 2, 3, 0, 1, 2 give 6.861127, their best order 7.140995, the ratio 0.960808 (worked by hand).
    query = judged("q", a=3, b=2, c=3, e=1, f=2)
    assert measure([query], {"q": list("abcdef")}).ndcg_10 == pytest.approx(0.960808, abs=1e-6)
    assert measure([query], {"q": list("acbfe")}).ndcg_10 == pytest.approx(1)


def test_success_and_reciprocal_rank_count_pages_of_grade_two_and_more() -> None:
    queries = [judged("first", a=3), judged("third", a=2, x=1), judged("never", a=3), judged("nothing", a=3)]
    ranked = {"first": ["a", "x"], "third": ["x", "y", "a"], "never": ["x", "y"], "nothing": []}
    found = measure(queries, ranked)
    assert (found.queries, found.success_1, found.success_3) == (4, 0.25, 0.5)
    assert found.mrr == pytest.approx((1 + 1 / 3) / 4)


def test_slips_are_one_edit_from_the_query_and_always_the_same() -> None:
    query = judged("auger belt smokes", a=3)
    slips = [slip.text for slip in misspelt(query)]
    assert slips == [slip.text for slip in misspelt(query)]
    assert [len(text) - len(query.text) for text in slips] == [-1, 0, 1, 0]
    assert query.text not in slips
    assert list(misspelt(judged("no 24 d28"))) == []


def test_slips_spare_no_place_in_a_word_not_even_the_first() -> None:
    firsts = [
        slip.text
        for slip in (s for q in read_queries(ROOT / QUERIES) for s in misspelt(q))
        if slip.text[0] == " "
    ]
    assert firsts == []
    sources = [(q, s) for q in read_queries(ROOT / QUERIES) for s in misspelt(q)]
    changed = [
        s
        for q, s in sources
        if any(a[0] != b[0] for a, b in zip(q.text.split(), s.text.split(), strict=True))
    ]
    assert len(changed) > len(sources) / 8


def test_the_queries_are_many_and_of_many_kinds_and_want_pages_that_are_there() -> None:
    queries = read_queries(ROOT / QUERIES)
    assert len(queries) >= 250
    assert len({query.text.casefold() for query in queries}) == len(queries)
    halves = [sum(query.half == half for query in queries) for half in HALVES]
    assert min(halves) > len(queries) * 0.4
    assert {"complaint", "procedure", "value", "test", "part", "term", "misspelt"} <= {
        q.kind for q in queries
    }
    for query in queries:
        for page in query.grades:
            kind, _, name = page.partition(":")
            assert (ROOT / "kb" / KINDS[kind].folder / f"{name}.yaml").is_file(), (query.text, page)


def test_a_line_that_cannot_be_read_is_named(tmp_path_factory: pytest.TempPathFactory) -> None:
    path = tmp_path_factory.mktemp("queries") / "queries.tsv"
    path.write_text("# remark\nq\tcomplaint\tsymptom:a=x\n", encoding="utf-8")
    with pytest.raises(ValueError, match=r"queries.tsv:2"):
        read_queries(path)


def test_the_theme_s_own_search_is_there_to_be_compared_with() -> None:
    assert "lunr" in worker_of_theme()
