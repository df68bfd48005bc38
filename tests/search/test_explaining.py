from __future__ import annotations

import pytest

from shearpin.search.explaining import explain
from shearpin.search.index import StoredIndex
from shearpin.search.ranking import rank
from tests.search.test_ranking import MEANT


@pytest.mark.parametrize("machine", [None, "osmere-d24", "no-such-machine"])
def test_matches_and_steps_add_up_to_the_score_of_every_hit(index: StoredIndex, machine: str | None) -> None:
    for query in (*MEANT, "how does my snowblower auger drive work", "18 ft lb"):
        found = rank(index, query, machine, 20)
        for number, hit in found.hits.items():
            why = explain(index, found.plan, number, machine)
            score = sum(match.weight * match.idf * match.impact for match in why.matches)
            assert score == why.sum
            for step in why.steps:
                score = score * step.over // step.under + step.plus
                assert score == step.score
            assert score == why.score == hit.score, (query, hit.id)
