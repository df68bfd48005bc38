"""Success@1, success@3, MRR and nDCG@10 of ranked pages, by `ir-measures`."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import ir_measures
from ir_measures import RR, Success, nDCG

from _evaluation.queries import WANTED, Judged

DEPTH = 10

_SUCCESS_1 = Success(rel=WANTED) @ 1
_SUCCESS_3 = Success(rel=WANTED) @ 3
_MRR = RR(rel=WANTED) @ DEPTH
# Gain over log2(rank + 1), as most libraries have it; Järvelin and Kekäläinen (2002) do not discount rank 2.
_NDCG = nDCG @ DEPTH


@dataclass(frozen=True, slots=True)
class Measures:
    """Means over queries, each from 0 to 1."""

    queries: int
    success_1: float
    success_3: float
    mrr: float
    ndcg_10: float


def measure(judged: Sequence[Judged], ranked: Mapping[str, Sequence[str]]) -> Measures:
    """Measure the pages `ranked` for each query, best first. Raises `KeyError` for a query that was not asked."""
    qrels = [ir_measures.Qrel(q.text, page, grade) for q in judged for page, grade in q.grades.items()]
    run = [
        ir_measures.ScoredDoc(q.text, page, float(DEPTH - place))
        for q in judged
        # A query without hits counts as one with a hit that nobody wanted; left out of the run it would count not at all.
        for place, page in enumerate(list(ranked[q.text])[:DEPTH] or [""])
    ]
    if not judged:
        return Measures(0, 0.0, 0.0, 0.0, 0.0)
    found = ir_measures.calc_aggregate([_SUCCESS_1, _SUCCESS_3, _MRR, _NDCG], qrels, run)
    return Measures(len(judged), *(float(found[one]) for one in (_SUCCESS_1, _SUCCESS_3, _MRR, _NDCG)))
