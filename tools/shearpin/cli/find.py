"""`shearpin find`: the search of the manual on the command line."""

from __future__ import annotations

import argparse
import io
import json
import re
import sys
from collections.abc import Sequence
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from shearpin.checks.nearest import did_you_mean, nearest_or_all
from shearpin.cli.common import (
    UserError,
    at_least_one,
    load_book_or_fail,
    new_parser,
    print_json,
    records_folder,
    todays_id,
)
from shearpin.search.cache import index_of
from shearpin.search.document import KIND_ORDER, Hit, SearchResult
from shearpin.search.misses import as_text, keep_miss, misses_file, read_misses
from shearpin.search.ranking import rank, search
from shearpin.search.store import StoredIndex

if TYPE_CHECKING:
    from shearpin.book.linked import LinkedBook

_Json = dict[str, Any]
_LIKE_AN_ID: Final = re.compile(r"[a-z0-9]+(?:[-.][a-z0-9]+)+")


def run(words: Sequence[str]) -> int:
    """Print the pages that fit; 1 when nothing was found, 3 when a query of a batch could not be answered."""
    options = _options(words)
    folder, _ = records_folder(options.kb)
    if options.misses:
        return _show_misses(folder, options.json)
    if options.stdin == bool(options.words):
        raise UserError("give the words to find, or --stdin to read queries from standard input")
    for kind in options.kind:
        if kind not in KIND_ORDER:
            raise UserError(
                f"there is no kind `{kind}`; {did_you_mean(kind, KIND_ORDER) or 'kinds: ' + ', '.join(KIND_ORDER)}"
            )
    today = _Today(folder, options.kb)
    if options.machine is not None:
        options.machine = today.machine(options.machine)
        _check_machine(options.machine, sorted(file.stem for file in (folder / "machines").glob("*.yaml")))
    with index_of(folder) as index:
        return _answer_all(index, today, options) if options.stdin else _answer_one(index, today, options)


def _answer_one(index: StoredIndex, today: _Today, options: argparse.Namespace) -> int:
    query = today.words(" ".join(options.words))
    answer = _answer(index, query, options)
    found = bool(answer["hits"] or answer["answer"])
    if not found and not options.kind and not options.fitting:
        keep_miss(today.folder, query)
    if options.json:
        print_json(answer)
    else:
        _print_for_people(index, query, answer, options)
    return 0 if found else 1


def _options(words: Sequence[str]) -> argparse.Namespace:
    parser = new_parser("find", "Find pages by what the customer said, a part number or a value.")
    parser.add_argument("words", nargs="*", metavar="WORDS", help="as people say it, misspelt or not")
    parser.add_argument(
        "--machine", metavar="ID", help="rank for this machine; pages that do not fit it are marked"
    )
    parser.add_argument("--fitting", action="store_true", help="leave out pages that do not fit --machine")
    parser.add_argument(
        "--kind",
        action="append",
        default=[],
        metavar="KIND",
        help="only pages of this kind, such as procedure; repeatable",
    )
    parser.add_argument(
        "--limit", type=at_least_one, default=10, metavar="N", help="how many pages (default: 10)"
    )
    parser.add_argument("--explain", action="store_true", help="say why each page ranks where it does")
    parser.add_argument(
        "--stdin", action="store_true", help="read one query a line, print one JSON object a line"
    )
    parser.add_argument(
        "--misses",
        action="store_true",
        help="list your searches that found nothing, as the coverage page reads them",
    )
    return parser.parse_args(list(words))


class _Today:
    """Former ids, and what they are called today; the book is only loaded for what looks like an id and is none."""

    def __init__(self, folder: Path, kb: str | None) -> None:
        self.folder = folder
        self._kb = kb

    def machine(self, given: str) -> str:
        """Return the id that a machine has today."""
        if (self.folder / "machines" / f"{given}.yaml").is_file():
            return given
        return todays_id(self._book, "machine", given)

    def words(self, query: str) -> str:
        """Return a query; a former id gives way to the title of its record."""
        if not _LIKE_AN_ID.fullmatch(query) or any(self.folder.glob(f"*/{query}.yaml")):
            return query
        from shearpin.book.former import former_ids

        for kind, old in former_ids(self._book.book):
            if old == query:
                record = self._book.book.get(kind, todays_id(self._book, kind, query))
                return record.title if record is not None else query
        return query

    @cached_property
    def _book(self) -> LinkedBook:
        return load_book_or_fail(self._kb)


def _show_misses(folder: Path, as_json: bool) -> int:
    misses = read_misses(folder)
    if as_json:
        rows = [{"query": query, "times": times} for query, times in misses]
        print_json({"file": str(misses_file(folder)), "misses": rows})
    else:
        sys.stdout.write(as_text(misses))
    return 0


def _check_machine(given: str, known: Sequence[str]) -> None:
    if given not in known:
        advice = nearest_or_all(given, known, "machines")
        raise UserError(f"there is no machine `{given}`; {advice}")


def _answer_all(index: StoredIndex, today: _Today, options: argparse.Namespace) -> int:
    """Answer every line; one that cannot be answered gets an object that says so, and the others are answered."""
    if isinstance(sys.stdin, io.TextIOWrapper):
        sys.stdin.reconfigure(encoding="utf-8", errors="replace")
    code = 0
    for line in sys.stdin:
        query = line.strip()
        try:
            found = _answer(index, today.words(query), options)
        except Exception as error:  # whatever is wrong with one line is no matter of the next
            found = {"query": query, "corrected": None, "answer": None, "hits": [], "error": repr(error)}
            code = 3
        print(json.dumps(found, ensure_ascii=False))
    return code


def _answer(index: StoredIndex, query: str, options: argparse.Namespace) -> _Json:
    result = search(index, query, options.machine, options.limit, **_filters(options))
    reasons = _reasons(index, query, options) if options.explain else [{} for _ in result.hits]
    return {
        "query": result.query,
        "corrected": result.corrected,
        "answer": result.answer,
        "hits": [{**_hit(hit), **reason} for hit, reason in zip(result.hits, reasons, strict=True)],
    }


def _filters(options: argparse.Namespace) -> _Json:
    return {"kinds": options.kind, "fitting": options.fitting}


def _hit(hit: Hit) -> _Json:
    names = ("id", "kind", "title", "url", "score", "excerpt", "fits")
    return {name: getattr(hit, name) for name in names}


def _reasons(index: StoredIndex, query: str, options: argparse.Namespace) -> list[_Json]:
    from shearpin.search.explaining import explain

    found = rank(index, query, options.machine, options.limit, **_filters(options))
    reasons = []
    for number in found.hits:
        why = explain(index, found.plan, number, options.machine)
        matches = [
            {
                "term": m.term,
                "how": m.how,
                "weight": m.weight,
                "idf": m.idf,
                "impact": m.impact,
                "points": m.points,
            }
            for m in why.matches
        ]
        steps = [
            {"why": s.why, "times": [s.over, s.under], "plus": s.plus, "score": s.score} for s in why.steps
        ]
        reasons.append({"explanation": {"matches": matches, "sum": why.sum, "steps": steps}})
    return reasons


def _print_for_people(index: StoredIndex, query: str, answer: _Json, options: argparse.Namespace) -> None:
    if answer["answer"]:
        print(answer["answer"])
    if answer["corrected"]:
        print(f"Showing results for: {answer['corrected']}")
    if not answer["hits"] and not answer["answer"]:
        _print_nothing(search(index, query, options.machine, options.limit, **_filters(options)))
    for number, hit in enumerate(answer["hits"], 1):
        away = "  [not for the chosen machine]" if not hit["fits"] else ""
        print(f"{number:2}. {hit['title']}  ({hit['kind']}){away}\n    {hit['excerpt']}\n    {hit['url']}")
        if options.explain:
            _print_reason(hit["explanation"])


def _print_nothing(result: SearchResult) -> None:
    near = f" Did you mean: {', '.join(result.nearest)}?" if result.nearest else ""
    print(f"Nothing found.{near} Try fewer words, or the name of the part or system.")


def _print_reason(why: _Json) -> None:
    for m in why["matches"]:
        print(
            f"      {m['points']:>9}  {m['term']}: {m['how']} (weight {m['weight']}/8 × rarity {m['idf']}/16 × impact {m['impact']}/46)"
        )
    print(f"      {why['sum']:>9}  sum")
    for s in why["steps"]:
        over, under = s["times"]
        plus = f" + {s['plus']}" if s["plus"] else ""
        print(f"      {s['score']:>9}  × {over}/{under}{plus}: {s['why']}")
