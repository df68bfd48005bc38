"""Why a hit ranks where it does: the steps of `ranking.score` for one record, in words and with their numbers."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from shearpin.search import tables
from shearpin.search.concepts import CONCEPT_MARK
from shearpin.search.document import ANSWER_MARK, FIGURE_MARK
from shearpin.search.impacts import POINTS, STRONG_CODE
from shearpin.search.leaning import SAME
from shearpin.search.lists import Lists
from shearpin.search.query import Plan, Unit
from shearpin.search.ranking import machine_factor, named_machine, share_matched


@dataclass(frozen=True, slots=True)
class Match:
    """A term of the query in the record: `points` = `weight` (eighths) · `idf` (sixteenths) · `impact` (of 46).

    `how` says what sort of match it is, `strong` whether it stands in a title, a spoken phrase, a name or a number.
    """

    term: str
    how: str
    weight: int
    idf: int
    impact: int
    strong: bool

    @property
    def points(self) -> int:
        """What the match adds to the sum."""
        return self.weight * self.idf * self.impact


@dataclass(frozen=True, slots=True)
class Step:
    """One factor and the score after it: `score` = score before · `over` / `under`, rounded down, + `plus`."""

    why: str
    over: int
    under: int
    plus: int
    score: int


@dataclass(frozen=True, slots=True)
class Explanation:
    """The matches, whose points add up to the sum, and the steps from there to the score."""

    matches: tuple[Match, ...]
    steps: tuple[Step, ...]

    @property
    def sum(self) -> int:
        """The points of all matches."""
        return sum(match.points for match in self.matches)

    @property
    def score(self) -> int:
        """The score of the hit."""
        return self.steps[-1].score


def explain(lists: Lists, plan: Plan, number: int, machine: str | None = None) -> Explanation:
    """Explain the score of the record with this number, which must be one that `plan` finds."""
    total = matched = wanted = strong = 0
    matches: list[Match] = []
    for unit in plan.units:
        share = _share(unit, lists)
        total += share
        wanted += share > 0 and not unit.weak
        here = list(_matches(unit, lists, number))
        if here:
            matches.append(max(here, key=lambda match: match.points))
            impact = max((match.impact for match in here if match.strong and not unit.weak), default=0)
            matched += share_matched(unit, share, impact)
            strong += impact > 0
    whole = [*((pair, "words near each other", tables.WEIGHT_PAIR) for pair in plan.pairs)]
    if plan.line:
        whole.append((plan.line, "the whole query as one line", tables.WEIGHT_LINE))
    for term, how, weight in whole:
        matches += _match(term, how, weight, lists, number)
    score = sum(match.points for match in matches)
    steps = list(_steps(lists, plan, number, machine, score, (matched, total), strong == wanted))
    return Explanation(tuple(matches), tuple(steps))


def _steps(
    lists: Lists,
    plan: Plan,
    number: int,
    machine: str | None,
    score: int,
    share: tuple[int, int],
    all_strong: bool,
) -> Iterator[Step]:
    matched, total = share
    part = f"{100 * matched // total} % of the query's weight is matched"
    rows = [(part, matched, total, 0)]
    if all_strong:
        rows.append(
            ("every word in title, spoken phrases, names or numbers", tables.FACTOR_ALL_STRONG, 16, 0)
        )
    kind = lists.kind(number)
    factor = plan.factors.get(kind, SAME)
    rows.append((f"a {kind}, where the query asks for: {plan.intent}", factor, SAME, 1))
    machine = machine or named_machine(plan, lists)
    fit = lists.fit(machine) if machine else None
    if fit:
        factor = machine_factor(fit, number)
        fitting = "of all machines" if factor == 16 else "of" if factor > 16 else "not for"
        rows.append((f"{fitting} {machine}" if factor != 16 else fitting, factor, 16, 0))
    for why, over, under, plus in rows:
        score = score * over // under + plus
        yield Step(why, over, under, plus, score)


def _share(unit: Unit, lists: Lists) -> int:
    """The weight of a unit in the query, as `ranking` has it."""
    found = [(weight, there.idf) for term, weight in unit.alternatives if (there := lists.find(term))]
    weight, idf = max(found, default=(0, 0))
    return weight * idf


def _matches(unit: Unit, lists: Lists, number: int) -> Iterator[Match]:
    for term, weight in unit.alternatives:
        yield from _match(term, _how(term, weight, unit), weight, lists, number)


def _match(term: str, how: str, weight: int, lists: Lists, number: int) -> Sequence[Match]:
    found = lists.find(term)
    code = dict(found.postings).get(number) if found else None
    if found is None or code is None:
        return ()
    return (Match(term, how, weight, found.idf, POINTS[code], code >= STRONG_CODE),)


def _how(term: str, weight: int, unit: Unit) -> str:
    if term.endswith(CONCEPT_MARK):
        how = "another name or word for it"
    elif term.endswith(ANSWER_MARK):
        how = "the plate"
    elif FIGURE_MARK in term:
        how = "the figure, in any unit"
    elif weight == tables.WEIGHT_JOINED:
        how = "words side by side or as one, or a longer word"
    else:
        how = "the word"
    return f"{how}, which tells little" if unit.weak else how
