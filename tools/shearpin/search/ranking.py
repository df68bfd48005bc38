"""From what is looked up to hits in order: whole numbers only, so that every computer orders them alike."""

from __future__ import annotations

from dataclasses import dataclass
from heapq import nsmallest

from shearpin.search import tables
from shearpin.search.document import Hit, SearchResult, kind_rank
from shearpin.search.impacts import POINTS, STRONG_CODE
from shearpin.search.lists import Lists
from shearpin.search.query import Plan, Unit, make_plan
from shearpin.search.spelling import nearest
from shearpin.search.words import Analyser


@dataclass(slots=True)
class _Tally:
    """What each record has of the query so far, by record number."""

    scores: dict[int, int]
    weights: dict[int, int]
    strong: dict[int, int]


def search(
    lists: Lists, query: str, machine: str | None = None, limit: int = 10, *, literal: bool = False
) -> SearchResult:
    """The best `limit` records for `query`.

    With `machine`, records of that machine come up and those for other machines go down, marked as not fitting; a
    machine that no record names changes nothing. `literal` searches as typed, without correcting spelling.
    """
    plan = make_plan(query, lists, Analyser(), literal=literal)
    scores = score(plan, lists)
    fits = _apply_machine(scores, lists, machine)
    best = nsmallest(limit, scores, key=lambda number: (-scores[number], kind_rank(lists.kind(number)), number))
    hits = []
    for number in best:
        card = lists.card(number)
        hits.append(
            Hit(
                card.id,
                lists.kind(number),
                card.title,
                card.url,
                scores[number],
                card.excerpt,
                fits.get(number, True),
            )
        )
    suggestions: tuple[str, ...] = ()
    if not scores and plan.unknown:
        suggestions = nearest(max(plan.unknown, key=len), lists.words)
    return SearchResult(query, plan.corrected, tuple(hits), len(scores), suggestions)


def score(plan: Plan, lists: Lists) -> dict[int, int]:
    """Score of every record that matches a word of the plan, before the machine is looked at.

    The sum of the matches is multiplied by the square of the part of the query that is matched, so that a record with
    all words comes before one with most of them unless it merely mentions them; a record that has every word in its
    title, spoken phrases, names or numbers gains once more.
    """
    tally = _Tally({}, {}, {})
    total = units = 0
    for unit in plan.units:
        weight = _add_unit(unit, lists, tally)
        total += weight
        units += weight > 0
    for pair in plan.pairs:
        found = lists.find(pair)
        if found:
            for number, code in found.postings:
                tally.scores[number] += tables.WEIGHT_PAIR * found.idf * POINTS[code]
    factors = tables.KIND_FACTORS[plan.intent]
    scores = {}
    for number, summed in tally.scores.items():
        matched = tally.weights[number]
        points = summed * matched * matched // (total * total)
        if tally.strong.get(number) == units:
            points = points * tables.FACTOR_ALL_STRONG // 16
        scores[number] = points * factors.get(lists.kind(number), 16) // 16 + 1
    return scores


def _add_unit(unit: Unit, lists: Lists, tally: _Tally) -> int:
    """Add the best match of the unit in each record; return the weight of the unit in the query."""
    best: dict[int, int] = {}
    strong: set[int] = set()
    weights: list[tuple[int, int]] = []
    for term, weight in unit.alternatives:
        found = lists.find(term)
        if not found:
            continue
        weights.append((weight, found.idf))
        for number, code in found.postings:
            points = weight * found.idf * POINTS[code]
            if points > best.get(number, 0):
                best[number] = points
            if code >= STRONG_CODE:
                strong.add(number)
    if not weights:
        return 0
    weight = max(weights)[1]
    for number, points in best.items():
        tally.scores[number] = tally.scores.get(number, 0) + points
        tally.weights[number] = tally.weights.get(number, 0) + weight
    for number in strong:
        tally.strong[number] = tally.strong.get(number, 0) + 1
    return weight


def _apply_machine(scores: dict[int, int], lists: Lists, machine: str | None) -> dict[int, bool]:
    """Raise the records of the machine, lower those of others; return whether each record found fits."""
    fit = lists.fit(machine) if machine else None
    if fit is None:
        return {}
    sets, own = fit
    fits = {}
    for number, points in scores.items():
        there = sets[number]
        fits[number] = there == 0 or there in own
        factor = tables.FACTOR_OWN_MACHINE if there in own else 16 if there == 0 else tables.FACTOR_OTHER_MACHINE
        scores[number] = points * factor // 16
    return fits
