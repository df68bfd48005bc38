"""Owns the command: its options, what is asked of which search, and the tables."""

from __future__ import annotations

import argparse
import json
import sys
import tempfile
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import asdict
from pathlib import Path

from _evaluation.measures import Measures, measure
from _evaluation.queries import HALVES, QUERIES, WANTED, Judged, misspelt, read_queries
from _evaluation.searches import Ranked, build_site, ours, plain_bm25, read_pages, themes_own
from _setup.console import say_anything

ROOT = Path(__file__).resolve().parents[2]

_HEAD = f"{'':<34} {'queries':>7} {'S@1':>6} {'S@3':>6} {'MRR':>6} {'nDCG@10':>8}"

Table = Mapping[str, Measures]


def evaluate(arguments: Sequence[str]) -> int:
    """Measure and print; returns 0, or 2 for wrong usage."""
    say_anything(sys.stdout, sys.stderr)
    options = _options(arguments)
    judged = read_queries(options.queries)
    slips = [slip for query in judged for slip in misspelt(query)]
    found = _ask(options, [query.text for query in (*judged, *slips)])
    tables = {
        f"{name}: {part}": rows
        for name, ranked in found.items()
        for part, rows in _tables(judged, slips, ranked)
    }
    if options.json:
        print(
            json.dumps(
                {name: {row: asdict(m) for row, m in rows.items()} for name, rows in tables.items()}, indent=2
            )
        )
    else:
        print("\n\n".join("\n".join(_lines(name, rows)) for name, rows in tables.items()))
    if options.misses:
        mine = [(query, query) for query in judged]
        if options.misses == "all":
            mine += [(query, slip) for query in judged for slip in misspelt(query)]
        print("\n" + "\n".join(_misses(mine, found["shearpin"])))
    return 0


def _options(arguments: Sequence[str]) -> argparse.Namespace:
    parser = argparse.ArgumentParser(
        prog="evaluate_search.py", description="Measure the search with judged queries."
    )
    parser.add_argument("--queries", type=Path, default=ROOT / QUERIES, help=f"default: {QUERIES}")
    parser.add_argument("--kb", type=Path, default=ROOT / "kb", help="folder of records (default: kb)")
    parser.add_argument(
        "--alone", action="store_true", help="our own search only, without those to compare with"
    )
    parser.add_argument(
        "--misses",
        choices=("written", "all"),
        help="also list queries of the tuning half whose page is not first; all: misspelt ones too",
    )
    parser.add_argument("--json", action="store_true", help="print JSON")
    return parser.parse_args(arguments)


def _ask(options: argparse.Namespace, queries: Sequence[str]) -> dict[str, Ranked]:
    found = {"shearpin": ours(queries, options.kb)}
    if not options.alone:
        with tempfile.TemporaryDirectory(prefix="shearpin-evaluation-") as folder:
            site = Path(folder)
            build_site(ROOT, site)
            pages = read_pages(site)
            found["plain BM25"] = plain_bm25(queries, pages)
            found["the theme's own search"] = themes_own(queries, pages, site)
    return found


def _tables(judged: Sequence[Judged], slips: Sequence[Judged], ranked: Ranked) -> Iterator[tuple[str, Table]]:
    of_half = {query.text: query.half for query in judged}
    rows = {"all": measure(judged, ranked)}
    for half in HALVES:
        rows[half] = measure([q for q in judged if q.half == half], ranked)
    for kind in dict.fromkeys(query.kind for query in judged):
        rows[f"held back, {kind}"] = measure(
            [q for q in judged if q.kind == kind and q.half == HALVES[1]], ranked
        )
    yield "as written", rows
    # A misspelling belongs to the half of the query it was made from.
    mine = [(of_half[query.text], slip) for query in judged for slip in misspelt(query)]
    rows = {"all": measure(slips, ranked)}
    for half in HALVES:
        rows[half] = measure([slip for there, slip in mine if there == half], ranked)
    first = [
        slip for (_, slip), query in zip(mine, _sources(judged), strict=True) if _first_letter(slip, query)
    ]
    rows["first letter of a word"] = measure(first, ranked)
    yield "one slip of a letter", rows


def _sources(judged: Sequence[Judged]) -> Iterator[Judged]:
    for query in judged:
        for _ in misspelt(query):
            yield query


def _first_letter(slip: Judged, source: Judged) -> bool:
    pairs = zip(slip.text.split(), source.text.split(), strict=True)
    return any(left[0] != right[0] for left, right in pairs)


def _lines(name: str, rows: Table) -> Iterator[str]:
    yield name
    yield _HEAD
    for row, m in rows.items():
        yield f"  {row:<32} {m.queries:>7} {m.success_1:>6.3f} {m.success_3:>6.3f} {m.mrr:>6.3f} {m.ndcg_10:>8.3f}"


def _misses(judged: Sequence[tuple[Judged, Judged]], ranked: Ranked) -> Iterator[str]:
    """Queries of the tuning half, and misspellings of them, whose page is not first: its place, and what is."""
    for source, query in judged:
        found = ranked[query.text]
        wanted = {page for page, grade in query.grades.items() if grade >= WANTED}
        place = next((n for n, page in enumerate(found, 1) if page in wanted), 0)
        if place != 1 and source.half == HALVES[0]:
            yield f"{place or '-':>2}  {query.text!r} wanted {', '.join(sorted(wanted))} found {', '.join(found[:3])}"
