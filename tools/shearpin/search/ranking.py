"""From what is looked up to hits in order: whole numbers only, so that every computer orders them alike."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass

from shearpin.search import tables
from shearpin.search.answering import shown_of, value_answer
from shearpin.search.conversion import conversion_answer
from shearpin.search.document import ANSWER_MARK, Hit, SearchResult, kind_rank
from shearpin.search.impacts import LEVELS, POINTS, STRONG_CODE
from shearpin.search.leaning import SAME
from shearpin.search.lists import Fit, Lists
from shearpin.search.query import Plan, Unit, make_plan
from shearpin.search.spelling import nearest
from shearpin.search.words import Analyser


@dataclass(slots=True)
class _Tally:
    """What each record has of the query so far, by record number; `named` are answers whose plate the query names."""

    scores: dict[int, int]
    weights: dict[int, int]
    strong: dict[int, int]
    named: set[int]


def search(
    lists: Lists,
    query: str,
    machine: str | None = None,
    limit: int = 10,
    *,
    literal: bool = False,
    kinds: Collection[str] = (),
    fitting: bool = False,
) -> SearchResult:
    """The best `limit` records for `query`.

    With `machine`, records of that machine come up and those for other machines go down, marked as not fitting; a
    machine that no record names changes nothing. Without it, the one machine whose model number the query says does the
    same, but nothing is marked. `literal` searches as typed, without correcting spelling. `kinds`
    leaves only records of these kinds, none leaves all; `fitting` leaves out records that do not fit the machine.
    """
    found = rank(lists, query, machine, limit, literal=literal, kinds=kinds, fitting=fitting)
    suggestions: tuple[str, ...] = ()
    if not found.scores and found.plan.unknown:
        suggestions = nearest(max(found.plan.unknown, key=len), lists.words)
    total = sum(not lists.is_answer(number) for number in found.scores)
    hits = tuple(found.hits.values())
    answer = conversion_answer(query) or value_answer(lists, found)
    return SearchResult(query, found.plan.corrected, hits, total, suggestions, answer)


@dataclass(frozen=True, slots=True)
class Ranked:
    """What a query was read as, the score of every record found, and the best as hits by record number.

    `sure` are the records that have every word in their title, spoken phrases, names, numbers or figures; `fit` is what fits
    the machine that is chosen or said, `named` are the answers whose plate the query names.
    """

    plan: Plan
    scores: dict[int, int]
    hits: dict[int, Hit]
    sure: frozenset[int]
    fit: Fit | None
    named: set[int]


def rank(
    lists: Lists,
    query: str,
    machine: str | None = None,
    limit: int = 10,
    *,
    literal: bool = False,
    kinds: Collection[str] = (),
    fitting: bool = False,
) -> Ranked:
    """See `search`."""
    plan = make_plan(query, lists, Analyser(), literal=literal)
    return rank_plan(lists, plan, machine, limit, kinds=kinds, fitting=fitting)


def rank_plan(
    lists: Lists,
    plan: Plan,
    machine: str | None = None,
    limit: int = 10,
    *,
    kinds: Collection[str] = (),
    fitting: bool = False,
) -> Ranked:
    """See `search`."""
    scores, named, sure = score(plan, lists)
    ranked_for = machine or named_machine(plan, lists)
    fit = lists.fit(ranked_for) if ranked_for else None
    scores = {
        number: points
        for number, points in scores.items()
        if (not lists.is_answer(number) or _may_answer(number, fit, named))
        and (not kinds or lists.kind(number) in kinds)
    }
    fits = _apply_machine(scores, fit)
    if not machine:
        fits = {}
    if fitting:
        scores = {number: points for number, points in scores.items() if fits.get(number, True)}
    order = sorted(scores, key=lambda number: (-scores[number], kind_rank(lists.kind(number)), number))
    hits: dict[int, Hit] = {}
    shown: set[tuple[str, str]] = set()
    for number in order:
        if len(hits) >= limit:
            break
        card, kind = lists.card(shown_of(lists, number, fit, named)), lists.kind(number)
        record_id = card.id.partition(ANSWER_MARK)[0]
        if (kind, record_id) not in shown:
            shown.add((kind, record_id))
            fit_here = fits.get(number, True)
            hits[number] = Hit(record_id, kind, card.title, card.url, scores[number], card.excerpt, fit_here)
    return Ranked(plan, scores, hits, sure, fit, named)


def named_machine(plan: Plan, lists: Lists) -> str | None:
    """The machine whose model number the query says; None when it says none, or that of several."""
    found = {
        number
        for unit in plan.units
        for term, _ in unit.alternatives
        if term.endswith(ANSWER_MARK)
        for number, code in _postings(lists, term.rstrip(ANSWER_MARK))
        if code >= STRONG_CODE and lists.kind(number) == "machine"
    }
    return lists.card(found.pop()).id if len(found) == 1 else None


def _postings(lists: Lists, term: str) -> Iterable[tuple[int, int]]:
    found = lists.find(term)
    return found.postings if found else ()


def _may_answer(number: int, fit: Fit | None, named: set[int]) -> bool:
    """Whether an answer for some plates only is wanted: those of the chosen machine, or one the query names."""
    return number in named if fit is None else fit[0][number] in fit[1]


def score(plan: Plan, lists: Lists) -> tuple[dict[int, int], set[int], frozenset[int]]:
    """Score of every record that matches a word of the plan, the answers whose plate is named, and `Ranked.sure`.

    The sum of the matches is multiplied by the part of the query that is matched: a word as far as its impact goes, one merely
    mentioned to a fixed part. So a record about all the words comes before one about most of them, and one named after a word
    before one that says it once. A record that has every word in its title, spoken phrases, names or numbers gains once more.
    """
    tally = _Tally({}, {}, {}, set())
    total = units = 0
    for unit in plan.units:
        weight = _add_unit(unit, lists, tally)
        total += weight
        units += weight > 0 and not unit.weak
    for pair in plan.pairs:
        found = lists.find(pair)
        if found:
            for number, code in found.postings:
                tally.scores[number] += tables.WEIGHT_PAIR * found.idf * POINTS[code]
    line = lists.find(plan.line) if plan.line else None
    if line:
        for number, code in line.postings:
            if number in tally.scores:
                tally.scores[number] += tables.WEIGHT_LINE * line.idf * POINTS[code]
    scores = {}
    for number, summed in tally.scores.items():
        matched = tally.weights[number]
        points = summed * matched // total
        if tally.strong.get(number, 0) == units:
            points = points * tables.FACTOR_ALL_STRONG // 16
        scores[number] = points * plan.factors.get(lists.kind(number), SAME) // SAME + 1
    sure = frozenset(number for number in scores if units and tally.strong.get(number, 0) == units)
    return scores, tally.named, sure


def _add_unit(unit: Unit, lists: Lists, tally: _Tally) -> int:
    """Add the best match of the unit in each record; return the weight of the unit in the query."""
    best: dict[int, int] = {}
    strong: dict[int, int] = {}
    weights: list[tuple[int, int]] = []
    for term, weight in unit.alternatives:
        found = lists.find(term)
        if not found:
            continue
        weights.append((weight, found.idf))
        is_plate = term.endswith(ANSWER_MARK)
        for number, code in found.postings:
            points = weight * found.idf * POINTS[code]
            if points > best.get(number, 0):
                best[number] = points
            if code >= STRONG_CODE and not unit.weak:
                strong[number] = max(POINTS[code], strong.get(number, 0))
            if is_plate:
                tally.named.add(number)
    if not weights:
        return 0
    heaviest, idf = max(weights)
    weight = heaviest * idf
    for number, points in best.items():
        tally.scores[number] = tally.scores.get(number, 0) + points
        part = share_matched(unit, weight, strong.get(number, 0))
        tally.weights[number] = tally.weights.get(number, 0) + part
    for number in strong:
        tally.strong[number] = tally.strong.get(number, 0) + 1
    return weight


def share_matched(unit: Unit, weight: int, impact: int) -> int:
    """How much of the unit's `weight` in the query a record matches, by its strongest `impact`; 0: it has it only in its text."""
    if unit.weak:
        return weight
    return weight * impact // LEVELS if impact else weight * tables.SHARE_MENTIONED // 16


def machine_factor(fit: Fit, number: int) -> int:
    """Sixteenths for a record of the machine, for one of all machines, and for one that does not fit."""
    sets, own = fit
    if sets[number] in own:
        return tables.FACTOR_OWN_MACHINE
    return 16 if sets[number] == 0 else tables.FACTOR_OTHER_MACHINE


def _apply_machine(scores: dict[int, int], fit: Fit | None) -> dict[int, bool]:
    """Raise the records of the machine, lower those of others; return whether each record found fits."""
    if fit is None:
        return {}
    sets, own = fit
    fits = {}
    for number, points in scores.items():
        fits[number] = sets[number] == 0 or sets[number] in own
        scores[number] = points * machine_factor(fit, number) // 16
    return fits
