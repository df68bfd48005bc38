"""Fits `search/leaning_words.py` to the judged queries: `PYTHONPATH=tools python -m _evaluation.leanings` (`--try` only says how well).

For each query the records found are ranked by the logarithm of their score without the factor of their kind, plus that of the
factor, plus the pushes of the query's traits. The pushes are those under which the wanted pages come first with the greatest
likelihood (softmax over the best 80 pages), less a penalty on their squares that keeps rare traits near nothing. The held-back
half of `queries.tsv` takes no part. `--try` leaves out each set in turn, fits on the others and prints success@1 and success@3
on the one left out: that is what to expect of queries nobody has seen.
"""

from __future__ import annotations

import argparse
import math
import sys
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any, Final

import numpy as np
from scipy.optimize import minimize
from scipy.sparse import csr_matrix

from _evaluation.queries import HALVES, WANTED, Judged, read_queries
from shearpin.search import tables
from shearpin.search.cache import index_of
from shearpin.search.leaning import SAME, traits
from shearpin.search.query import make_plan
from shearpin.search.ranking import rank_plan
from shearpin.search.words import Analyser

ROOT: Final = Path(__file__).resolve().parents[2]
SETS: Final = ROOT / "tests" / "search"
RESULT: Final = ROOT / "tools" / "shearpin" / "search" / "leaning_words.py"

# Kept out of every fit, to be counted only.
NEVER: Final = ("queries-fresh-h.tsv", "queries-fresh-j.tsv")

# Written by the hand that fits, and with more questions for parts and tests than people ask: counts half.
OWN: Final = "queries-shop.tsv"

_PAGES: Final = 80
_LEAST_QUERIES: Final = 6
_PENALTY: Final = 0.6
_OWN_WEIGHT: Final = 0.5
_SHARPNESS: Final = 5.0
_NEARLY: Final = 0.5
_STEPS: Final = 80
_STEP: Final = math.log(2) / 16
_LARGEST: Final = 12
_PER_LINE: Final = 5

_HEAD: Final = '''"""How far words and traits of a query push each kind: written by `python -m _evaluation.leanings`, not by hand."""

from __future__ import annotations

from typing import Final

LEANINGS_TEXT: Final = """
'''

Array = Any  # numpy's arrays


@dataclass(frozen=True, slots=True)
class Asked:
    """A judged query as the fit sees it: its set, its traits, and of each page found the score, factor, kind and grade."""

    name: str
    held_back: bool
    traits: tuple[str, ...]
    scores: tuple[float, ...]
    factors: tuple[float, ...]
    kinds: tuple[int, ...]
    grades: tuple[int, ...]


def ask(files: Sequence[Path]) -> list[Asked]:
    """Ask every query of the files."""
    with index_of(ROOT / "kb") as index:
        return [_asked(index, file.name, query) for file in files for query in read_queries(file)]


def _asked(index: Any, name: str, query: Judged) -> Asked:
    plan = make_plan(query.text, index, Analyser())
    typed = (plan.corrected or query.text).split()
    sure = {kind: factor * 16 for kind, factor in tables.KIND_FACTORS[plan.intent].items()}
    hits = list(rank_plan(index, replace(plan, factors={}), limit=_PAGES).hits.values())
    return Asked(
        name,
        name == "queries.tsv" and query.half == HALVES[1],
        tuple(traits(typed, plan.intent)),
        tuple(math.log(hit.score) for hit in hits),
        tuple(math.log(sure.get(hit.kind, SAME) / SAME) for hit in hits),
        tuple(_kind(hit.kind) for hit in hits),
        tuple(query.grades.get(f"{hit.kind}:{hit.id}", 0) for hit in hits),
    )


def _kind(kind: str) -> int:
    kinds = tables.LEANING_KINDS
    return kinds.index(kind) if kind in kinds else len(kinds)


def _grid(rows: Sequence[Sequence[float]], empty: float) -> Array:
    return np.array([[*row, *[empty] * (_PAGES - len(row))] for row in rows])


def fit(asked: Sequence[Asked]) -> dict[str, Array]:
    """The push of each kind, as a logarithm, for each trait that enough of the queries have."""
    asked = [one for one in asked if max(one.grades, default=0) >= WANTED]
    counts = Counter(trait for one in asked for trait in one.traits)
    known = {trait: n for n, trait in enumerate(sorted(t for t, c in counts.items() if c >= _LEAST_QUERIES))}
    places = [(n, known[trait]) for n, one in enumerate(asked) for trait in one.traits if trait in known]
    rows, columns = zip(*places, strict=True)
    has = csr_matrix((np.ones(len(rows)), (rows, columns)), shape=(len(asked), len(known)))
    plain = _grid([np.add(one.scores, one.factors).tolist() for one in asked], -1e6)
    kinds = _grid([one.kinds for one in asked], len(tables.LEANING_KINDS)).astype(int)
    worth = {grade: 1.0 if grade > WANTED else _NEARLY for grade in range(WANTED, 4)}
    wanted = _grid([[worth.get(grade, 0.0) for grade in one.grades] for one in asked], 0.0)
    weight = np.array([[_OWN_WEIGHT if one.name == OWN else 1.0] for one in asked])
    count = len(tables.LEANING_KINDS)
    one_of = np.eye(count + 1)[kinds]

    def loss(flat: Array) -> tuple[float, Array]:
        pushes = np.hstack([flat.reshape(len(known), count), np.zeros((len(known), 1))])
        sharp = _SHARPNESS * (plain + np.take_along_axis(has @ pushes, kinds, 1))
        likely = np.exp(sharp - sharp.max(1, keepdims=True))
        all_pages, mine = likely.sum(1, keepdims=True), (likely * wanted).sum(1, keepdims=True)
        slope = weight * _SHARPNESS * (likely / all_pages - likely * wanted / (mine + 1e-300))
        upward = has.T @ np.einsum("ij,ijk->ik", slope, one_of)[:, :count]
        stiff = _PENALTY * _SHARPNESS**2
        total = (weight * (np.log(all_pages) - np.log(mine + 1e-300))).sum() + stiff / 2 * (flat**2).sum()
        return float(total), upward.ravel() + stiff * flat

    found = minimize(
        loss, np.zeros(len(known) * count), jac=True, method="L-BFGS-B", options={"maxiter": _STEPS}
    )
    table = found.x.reshape(len(known), count)
    return {trait: table[n] for trait, n in known.items()}


def success(asked: Sequence[Asked], pushes: dict[str, Array]) -> list[tuple[bool, bool]]:
    """Whether a wanted page is first, and among the first three, for each query."""
    return [(place == 0, place < 3) for place in (_place(one, pushes) for one in asked)]


def _place(one: Asked, pushes: dict[str, Array]) -> int:
    push = sum(
        (pushes[trait] for trait in one.traits if trait in pushes), np.zeros(len(tables.LEANING_KINDS))
    )
    push = np.append(push, 0.0)
    scores = [s + f + push[k] for s, f, k in zip(one.scores, one.factors, one.kinds, strict=True)]
    order = sorted(range(len(scores)), key=lambda n: -scores[n])
    return next((place for place, n in enumerate(order) if one.grades[n] >= WANTED), len(order) + 3)


def letters(push: Array) -> str:
    """A push for each kind as `tables.LEANINGS` has it."""
    steps = [max(-_LARGEST, min(_LARGEST, round(float(value) / _STEP))) for value in push]
    return "".join(chr(ord("m") + step) for step in steps)


def write(pushes: dict[str, Array]) -> None:
    """Write the module of pushes; traits that push no kind by more than a step are left out."""
    told = {trait: letters(push) for trait, push in sorted(pushes.items())}
    rows = [f"{trait}={pushed}" for trait, pushed in told.items() if not set(pushed) <= set("lmn")]
    lines = [" ".join(rows[n : n + _PER_LINE]) for n in range(0, len(rows), _PER_LINE)]
    RESULT.write_text(_HEAD + "\n".join(lines) + '\n"""\n', encoding="utf-8")


def main(arguments: Sequence[str]) -> int:
    """Fit and write, or try."""
    parser = argparse.ArgumentParser(
        prog="_evaluation.leanings", description="Fit what words of a query lean to."
    )
    parser.add_argument("--try", dest="only_try", action="store_true", help="leave out each set in turn")
    options = parser.parse_args(arguments)
    asked = ask([file for file in sorted(SETS.glob("queries*.tsv")) if file.name not in NEVER])
    mine = [one for one in asked if not one.held_back]
    if not options.only_try:
        write(fit(mine))
        return 0
    for name in dict.fromkeys(one.name for one in asked):
        left_out = [one for one in asked if one.name == name]
        before = np.mean(success(left_out, {}), axis=0)
        after = np.mean(success(left_out, fit([one for one in mine if one.name != name])), axis=0)
        print(f"{name:<24} {len(left_out):>4}  without {before.round(3)}  with {after.round(3)}")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
