"""Owns timing the finished site in Chromium, opened from its folder as technicians open it."""

from __future__ import annotations

import importlib.util
import os
import shutil
import statistics
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Final
from urllib.parse import quote, urlsplit
from urllib.request import url2pathname

from _bench.book import SyntheticBook
from _bench.measures import KB, MB, Reading, Readings
from _bench.project import NotHere

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

_SLOW: Final = 4
_PATIENCE_MS: Final = 60_000
_SHOP_PC: Final = {"width": 1366, "height": 768}
_FLAGS: Final = (
    "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync",
)  # fmt: skip

# Notes when the first hit is on the screen: the frame after it came into the page, counted from navigation.
_WATCH: Final = """
(() => {
  const hit = () => document.querySelector('[data-search-results] a[href]');
  const observer = new MutationObserver(() => {
    if (!hit()) return;
    observer.disconnect();
    requestAnimationFrame(() => { window.firstHitMs = performance.now(); });
  });
  observer.observe(document, {childList: true, subtree: true});
})();
"""
_LOADED: Final = "() => performance.getEntriesByType('navigation')[0].loadEventEnd > 0"
_LOAD_MS: Final = "() => performance.getEntriesByType('navigation')[0].loadEventEnd"


@dataclass(frozen=True, slots=True)
class SearchVisit:
    """One cold visit to the search page: seconds to the first hit and to the whole page, bytes of index, heap."""

    hit_seconds: float
    load_seconds: float
    index_bytes: int
    heap_bytes: float


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
    plain = [_search(browser, site, query, 1) for query in book.queries]
    slow = [_search(browser, site, query, _SLOW) for query in book.queries]
    return {
        "hit": Reading(statistics.median(one.hit_seconds for one in plain)),
        "hit-slow": Reading(statistics.median(one.hit_seconds for one in slow)),
        "hit-bytes": Reading(max(one.index_bytes for one in plain) / KB),
        "hit-heap": Reading(max(one.heap_bytes for one in plain) / MB),
        "load-search": Reading(statistics.median(one.load_seconds for one in plain)),
        "load-search-slow": Reading(statistics.median(one.load_seconds for one in slow)),
    }


@contextmanager
def opened_page(browser: Browser, slowdown: float) -> Iterator[Page]:
    """Open a page that shares nothing with those before it, cut off from the network."""
    context = browser.new_context(viewport=_SHOP_PC)  # type: ignore[arg-type]
    context.set_offline(True)
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


def _search(browser: Browser, site: Path, query: str, slowdown: float) -> SearchVisit:
    from playwright.sync_api import TimeoutError as TooLate

    with opened_page(browser, slowdown) as page:
        asked: set[str] = set()
        page.on("request", lambda request: asked.add(request.url))
        page.add_init_script(_WATCH)
        # The address a submitted search form leads to; the hash is where the pages keep their state.
        page.goto(f"{(site / 'search.html').as_uri()}?q={quote(query)}#q={quote(query)}")
        try:
            page.wait_for_function("() => window.firstHitMs > 0")
        except TooLate:
            raise NotHere(
                f"the search page shows no hit for “{query}” within {_PATIENCE_MS // 1000} s"
            ) from None
        page.wait_for_function(_LOADED)
        hit, load = float(page.evaluate("() => window.firstHitMs")), float(page.evaluate(_LOAD_MS))
        session = page.context.new_cdp_session(page)
        session.send("HeapProfiler.collectGarbage")
        session.send("Performance.enable")
        metrics = {
            entry["name"]: entry["value"] for entry in session.send("Performance.getMetrics")["metrics"]
        }
        return SearchVisit(
            hit / 1000, load / 1000, _index_bytes(site, asked), float(metrics["JSHeapUsedSize"])
        )


def _index_bytes(site: Path, asked: set[str]) -> int:
    paths = {Path(url2pathname(urlsplit(url).path)) for url in asked if url.startswith("file:")}
    index = (site / "index").resolve()
    return sum(path.stat().st_size for path in paths if path.is_file() and index in path.resolve().parents)
