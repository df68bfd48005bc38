"""Owns the rounds of the comparison with plain Markdown: both sites built from nothing, weighed, and searched over http."""

from __future__ import annotations

import random
import re
import statistics
from collections.abc import Sequence
from pathlib import Path
from typing import Final

from _bench.book import records_of
from _bench.browser import Searched, SearchVisit, opened_browser, search_once
from _bench.measures import KB, MB, Reading, Readings
from _bench.plainpages import write_plain
from _bench.plan import make_plan
from _bench.project import BUILD, Project, Took, put_aside
from _bench.scribe import Scribe
from _bench.served import served

_PLAIN: Final = "plain"
_BUILD_PLAIN: Final = (*BUILD, "--config-file", f"{_PLAIN}/mkdocs.yml")
_SLOW: Final = 4
_NOT_TEXT: Final = re.compile(r"<(script|style|svg)\b.*?</\1>|<[^>]*>", re.DOTALL)
_NOTHING_FOUND: Final = "No matching documents"


def build_both(project: Project) -> Readings:
    """Build ours and the same records as plain Markdown from nothing, one after the other."""
    plain = project.root / _PLAIN
    if not plain.is_dir():
        book = project.book
        scribe = Scribe(make_plan(book.records), random.Random(book.draw))
        write_plain(plain, list(records_of(scribe)))
    project.drop_caches()
    project.drop_site()
    put_aside(plain / "site")
    return {
        **_built("ours", project.run(BUILD), project.site),
        **_built("plain", project.run(_BUILD_PLAIN), plain / "site"),
    }


def search_both(project: Project) -> Readings:
    """Search both sites, which the round before has built; raises `NotHere` without a browser."""
    return _searched(project.site, project.root / _PLAIN / "site", project.book.queries)


def _built(side: str, took: Took, site: Path) -> dict[str, Reading]:
    sizes = [path.stat().st_size for path in site.rglob("*") if path.is_file()]
    found = {
        f"{side}-build": Reading(took.seconds, took.cpu),
        f"{side}-size": Reading(sum(sizes) / MB),
        f"{side}-words": Reading(statistics.mean(map(words_of, sorted(site.glob("*/*.html"))))),
    }
    if took.cpu is not None:
        found[f"{side}-cpu"] = Reading(took.cpu)
    if took.peak is not None:
        found[f"{side}-memory"] = Reading(took.peak / MB)
    return found


def words_of(page: Path) -> int:
    """Return the number of words in the article of a page."""
    html = page.read_text(encoding="utf-8")
    start, end = html.find("<article"), html.rfind("</article>")
    return len(_NOT_TEXT.sub(" ", html[start:end]).split()) if 0 <= start < end else 0


def _searched(ours: Path, plain: Path, queries: Sequence[str]) -> dict[str, Reading]:
    """Search both sites for each query at both speeds; times are medians over the queries that both find something for."""
    found: dict[str, Reading] = {}
    with opened_browser(ours) as browser, served(ours) as our_address, served(plain) as plain_address:
        sides = {
            "ours": Searched(
                ours, our_address, "search.html", ours / "index", "[data-search-results] a[href]"
            ),
            "plain": Searched(
                plain,
                plain_address,
                "index.html",
                plain / "search",
                ".md-search-result__list a[href]",
                _NOTHING_FOUND,
            ),
        }
        for name, slowdown in (("hit", 1), ("hit-slow", _SLOW)):
            visits = {
                side: [search_once(browser, where, query, slowdown) for query in queries]
                for side, where in sides.items()
            }
            both = [
                hits
                for hits in zip(*visits.values(), strict=True)
                if all(visit.hit_seconds for visit in hits)
            ]
            for index, side in enumerate(sides):
                times = [hits[index].hit_seconds or 0.0 for hits in both]
                if times:
                    found[f"{side}-{name}"] = Reading(statistics.median(times))
                if slowdown == 1:
                    found |= _read(side, visits[side])
    return found


def _read(side: str, visits: Sequence[SearchVisit]) -> dict[str, Reading]:
    return {
        f"{side}-bytes": Reading(max(visit.index_bytes for visit in visits) / KB),
        f"{side}-found": Reading(sum(visit.hit_seconds is not None for visit in visits)),
    }
