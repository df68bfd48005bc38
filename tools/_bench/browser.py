"""Owns timing the finished site in Chromium, opened from its folder as technicians open it."""

from __future__ import annotations

import importlib.util
import json
import os
import shutil
import statistics
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Final
from urllib.parse import quote, unquote

from _bench.book import SyntheticBook
from _bench.measures import KB, MB, Reading, Readings
from _bench.project import NotHere

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

_SLOW: Final = 4
_SLOWEST: Final = 6  # for the longest time the page does not answer
_PATIENCE_MS: Final = 60_000
_SHOP_PC: Final = {"width": 1366, "height": 768}
_FLAGS: Final = (
    "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync",
    "--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1",  # not offline, a page reaches this computer only
)  # fmt: skip

# Notes when the first hit is on the screen: the frame after it came into the page, counted from navigation.
_WATCH: Final = """
(() => {
  const hit = () => document.querySelector(SELECTOR);
  const observer = new MutationObserver(() => {
    if (!hit()) return;
    observer.disconnect();
    requestAnimationFrame(() => { window.firstHitMs = performance.now(); });
  });
  observer.observe(document, {childList: true, subtree: true});
  window.longestTaskMs = 0;
  const note = (list) => list.getEntries().forEach((task) => { window.longestTaskMs = Math.max(window.longestTaskMs, task.duration); });
  new PerformanceObserver(note).observe({type: 'longtask', buffered: true});
})();
"""
_ANSWERED: Final = """
(nothing) => window.firstHitMs > 0 || (nothing !== '' && document.body.innerText.includes(nothing))
"""
_LOADED: Final = "() => performance.getEntriesByType('navigation')[0].loadEventEnd > 0"
_LOAD_MS: Final = "() => performance.getEntriesByType('navigation')[0].loadEventEnd"


@dataclass(frozen=True, slots=True)
class SearchVisit:
    """One cold visit to the search page: seconds to the first hit (None: it says there is none) and to the whole page,
    bytes of index, heap, and seconds of the longest task of the main thread (0: none took 50 ms)."""

    hit_seconds: float | None
    load_seconds: float
    index_bytes: int
    heap_bytes: float
    longest_task: float


@dataclass(frozen=True, slots=True)
class Searched:
    """A site to search: folder, address without a slash at the end, page, folder of the index, and how a hit looks."""

    site: Path
    address: str
    page: str
    index: Path
    selector: str
    nothing: str = ""  # what the page says when it finds nothing


@contextmanager
def opened_browser(site: Path) -> Iterator[Browser]:
    """Yield a Chromium that has shown the front page of a site once; raises `NotHere` without Playwright or Chromium."""
    if importlib.util.find_spec("playwright") is None:
        raise NotHere("Playwright is not installed: run tools/test.py, which installs it")
    names = ("chromium", "chromium-browser", "google-chrome")
    executable = os.environ.get("SHEARPIN_CHROMIUM") or next(filter(None, map(shutil.which, names)), None)
    if executable is None:
        raise NotHere("there is no Chromium: install it, or name it in SHEARPIN_CHROMIUM")
    from playwright.sync_api import sync_playwright

    is_root = hasattr(os, "geteuid") and os.geteuid() == 0
    flags = [*_FLAGS, *(["--no-sandbox"] if is_root else [])]  # its sandbox refuses root
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=executable, args=flags)
        try:
            _load(browser, site / "index.html", 1)
            yield browser
        finally:
            browser.close()


def load_pages(browser: Browser, site: Path, book: SyntheticBook) -> Readings:
    """Load a procedure at both speeds."""
    page = site / book.edited_page
    return {
        "load-page": Reading(_load(browser, page, 1)),
        "load-page-slow": Reading(_load(browser, page, _SLOW)),
    }


def search_pages(browser: Browser, site: Path, book: SyntheticBook) -> Readings:
    """Search once for each query at each speed: medians of the times over the queries, the greatest of the sizes.

    Raises `NotHere` when the site has no index or its search page shows no hit.
    """
    if not (site / "index").is_dir():
        raise NotHere("the site has no search index")
    ours = Searched(site, site.as_uri(), "search.html", site / "index", "[data-search-results] a[href]")
    plain = [search_once(browser, ours, query, 1) for query in book.queries]
    slow = [search_once(browser, ours, query, _SLOW) for query in book.queries]
    slowest = [search_once(browser, ours, query, _SLOWEST) for query in book.queries]
    return {
        "hit": Reading(statistics.median(one.hit_seconds or 0.0 for one in plain)),
        "hit-slow": Reading(statistics.median(one.hit_seconds or 0.0 for one in slow)),
        "hit-bytes": Reading(max(one.index_bytes for one in plain) / KB),
        "hit-heap": Reading(max(one.heap_bytes for one in plain) / MB),
        "hit-blocked": Reading(max(one.longest_task for one in slowest)),
        "load-search": Reading(statistics.median(one.load_seconds for one in plain)),
        "load-search-slow": Reading(statistics.median(one.load_seconds for one in slow)),
    }


@contextmanager
def opened_page(browser: Browser, slowdown: float, offline: bool = True) -> Iterator[Page]:
    """Open a page that shares nothing with those before it, cut off from the network, this computer's servers too."""
    context = browser.new_context(viewport=_SHOP_PC)  # type: ignore[arg-type]
    context.set_offline(offline)
    page = context.new_page()
    page.set_default_timeout(_PATIENCE_MS)
    if slowdown != 1:
        context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": slowdown})
    try:
        yield page
    finally:
        context.close()


def _load(browser: Browser, path: Path, slowdown: float) -> float:
    with opened_page(browser, slowdown) as page:
        page.goto(path.as_uri())
        page.wait_for_function(_LOADED)
        return float(page.evaluate(_LOAD_MS)) / 1000


def search_once(browser: Browser, where: Searched, query: str, slowdown: float) -> SearchVisit:
    """Search once in a page of its own; raises `NotHere` when neither a hit nor a plain no comes in time."""
    from playwright.sync_api import TimeoutError as TooLate

    with opened_page(browser, slowdown, offline=where.address.startswith("file:")) as page:
        asked: set[str] = set()
        page.on("request", lambda request: asked.add(request.url))
        page.add_init_script(_WATCH.replace("SELECTOR", json.dumps(where.selector)))
        # The address a submitted search form leads to; the hash is where the pages keep their state.
        page.goto(f"{where.address}/{where.page}?q={quote(query)}#q={quote(query)}")
        try:
            page.wait_for_function(_ANSWERED, arg=where.nothing)
        except TooLate:
            raise NotHere(
                f"the search page shows no hit for “{query}” within {_PATIENCE_MS // 1000} s"
            ) from None
        page.wait_for_function(_LOADED)
        hit, load = page.evaluate("() => window.firstHitMs"), float(page.evaluate(_LOAD_MS))
        session = page.context.new_cdp_session(page)
        session.send("HeapProfiler.collectGarbage")
        session.send("Performance.enable")
        metrics = {
            entry["name"]: entry["value"] for entry in session.send("Performance.getMetrics")["metrics"]
        }
        seconds = None if hit is None else float(hit) / 1000
        blocked = float(page.evaluate("() => window.longestTaskMs")) / 1000
        heap = float(metrics["JSHeapUsedSize"])
        return SearchVisit(seconds, load / 1000, _index_bytes(where, asked), heap, blocked)


def _index_bytes(where: Searched, asked: set[str]) -> int:
    prefix = f"{where.address}/"
    rest = {
        url.removeprefix(prefix).partition("?")[0].partition("#")[0]
        for url in asked
        if url.startswith(prefix)
    }
    paths = {where.site / unquote(path) for path in rest}
    return sum(path.stat().st_size for path in paths if path.is_file() and where.index in path.parents)
