"""`shearpin find`: the search of the manual on the command line."""

from __future__ import annotations

import json
import re
import sys
from collections.abc import Iterator, Sequence
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from shearpin.checks.nearest import did_you_mean
from shearpin.cli.common import UserError, load_book_or_fail, new_parser, records_folder, todays_id
from shearpin.search.cache import index_of
from shearpin.search.document import SearchResult
from shearpin.search.ranking import search

if TYPE_CHECKING:
    from shearpin.book.linked import LinkedBook

_LIKE_AN_ID: Final = re.compile(r"[a-z0-9]+(?:[-.][a-z0-9]+)+")


def run(words: Sequence[str]) -> int:
    """Print the pages that fit; 1 when nothing was found."""
    parser = new_parser("find", "Find pages by what the customer said, a part number or a value.")
    parser.add_argument("words", nargs="*", metavar="WORDS", help="as people say it, misspelt or not")
    parser.add_argument(
        "--machine", metavar="ID", help="rank for this machine; pages that do not fit it are marked"
    )
    parser.add_argument(
        "--limit", type=_positive, default=10, metavar="N", help="how many pages (default: 10)"
    )
    parser.add_argument(
        "--stdin", action="store_true", help="read one query a line, print one JSON object a line"
    )
    options = parser.parse_args(list(words))
    if options.stdin == bool(options.words):
        raise UserError("give the words to find, or --stdin to read queries from standard input")
    folder, _ = records_folder(options.kb)
    index = index_of(folder)
    today = _Today(folder, options.kb)
    if options.machine is not None:
        options.machine = today.machine(options.machine)
        _check_machine(options.machine, sorted(file.stem for file in (folder / "machines").glob("*.yaml")))
    found = False
    for query in _queries(options):
        result = search(index, today.words(query), options.machine, options.limit)
        found = found or bool(result.hits)
        if options.stdin:
            print(json.dumps(_as_json(result), ensure_ascii=False))
        elif options.json:
            print(json.dumps(_as_json(result), ensure_ascii=False, indent=2))
        else:
            _print_for_people(result)
    return 0 if found or options.stdin else 1


class _Today:
    """Former ids, and what they are called today; the book is only loaded for what looks like an id and is none."""

    def __init__(self, folder: Path, kb: str | None) -> None:
        self._folder = folder
        self._kb = kb

    def machine(self, given: str) -> str:
        """Return the id that a machine has today."""
        if (self._folder / "machines" / f"{given}.yaml").is_file():
            return given
        return todays_id(self._book, "machine", given)

    def words(self, query: str) -> str:
        """Return a query; a former id gives way to the title of its record."""
        if not _LIKE_AN_ID.fullmatch(query) or any(self._folder.glob(f"*/{query}.yaml")):
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


def _check_machine(given: str, known: Sequence[str]) -> None:
    if given not in known:
        advice = did_you_mean(given, known) or "machines: " + ", ".join(known)
        raise UserError(f"there is no machine `{given}`; {advice}")


def _positive(text: str) -> int:
    number = int(text)
    if number < 1:
        raise ValueError(text)
    return number


def _queries(options: Any) -> Iterator[str]:
    if options.stdin:
        for line in sys.stdin:
            yield line.strip()
    else:
        yield " ".join(options.words)


def _as_json(result: SearchResult) -> dict[str, object]:
    return {
        "query": result.query,
        "corrected": result.corrected,
        "answer": result.answer,
        "hits": [
            {
                "id": hit.id,
                "kind": hit.kind,
                "title": hit.title,
                "url": hit.url,
                "score": hit.score,
                "excerpt": hit.excerpt,
                "fits": hit.fits,
            }
            for hit in result.hits
        ],
    }


def _print_for_people(result: SearchResult) -> None:
    if result.answer:
        print(result.answer)
    if result.corrected:
        print(f"Showing results for: {result.corrected}")
    if not result.hits and not result.answer:
        near = f" Did you mean: {', '.join(result.nearest)}?" if result.nearest else ""
        print(f"Nothing found.{near} Try fewer words, or the name of the part or system.")
    for number, hit in enumerate(result.hits, 1):
        away = "  [not for the chosen machine]" if not hit.fits else ""
        print(f"{number:2}. {hit.title}  ({hit.kind}){away}\n    {hit.excerpt}\n    {hit.url}")
