"""The searches that are compared: ours, plain BM25, and the theme's own as it comes."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from html.parser import HTMLParser
from importlib.resources import files
from pathlib import Path
from typing import Any

from _evaluation.measures import DEPTH

Ranked = dict[str, list[str]]
"""For each query the pages found, best first, as `kind:id`."""


@dataclass(frozen=True, slots=True)
class PageText:
    """A page of the built manual: `kind:id`, its title, and its article as text and as it is."""

    name: str
    title: str
    text: str
    html: str


def ours(queries: Sequence[str], kb: Path) -> Ranked:
    """What `shearpin find` answers."""
    from shearpin.search.cache import index_of
    from shearpin.search.ranking import search

    with index_of(kb) as index:
        return {q: [f"{hit.kind}:{hit.id}" for hit in search(index, q, limit=DEPTH).hits] for q in queries}


def build_site(root: Path, folder: Path) -> None:
    """Build the manual of `root` into `folder`. Raises `CalledProcessError` when that fails."""
    command = [sys.executable, "-m", "mkdocs", "build", "--site-dir", str(folder), "--quiet"]
    subprocess.run(command, cwd=root, check=True)


def read_pages(site: Path) -> list[PageText]:
    """The record pages of a built manual, in the order of their paths."""
    pages = []
    for path in sorted(site.glob("*/*.html")):
        html = path.read_text(encoding="utf-8")
        start, end = html.find("<article data-kind"), html.rfind("</article>")
        if start < 0 < end:
            continue
        reader = _Reader()
        reader.feed(html[start:end])
        if reader.name:
            pages.append(PageText(reader.name, "".join(reader.title), " ".join(reader.text), html[start:end]))
    return pages


class _Reader(HTMLParser):
    """Takes the text of an article, its name, and the text of its first heading."""

    def __init__(self) -> None:
        super().__init__()
        self.name = ""
        self.title: list[str] = []
        self.text: list[str] = []
        self._in_title = False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        found = dict(attrs)
        if tag == "article" and not self.name and found.get("data-kind") and found.get("data-id"):
            self.name = f"{found['data-kind']}:{found['data-id']}"
        self._in_title = self._in_title or (tag == "h1" and not self.title)

    def handle_endtag(self, tag: str) -> None:
        self._in_title = self._in_title and tag != "h1"

    def handle_data(self, data: str) -> None:
        self.text.append(data)
        if self._in_title:
            self.title.append(data)


def plain_bm25(queries: Sequence[str], pages: Sequence[PageText]) -> Ranked:
    """`bm25s` as it comes, over all text of a page, with English stop words and Snowball's English stems."""
    import bm25s
    import snowballstemmer

    stemmer = snowballstemmer.stemmer("english")

    def tokens(texts: Sequence[str]) -> Any:
        return bm25s.tokenize(texts, stopwords="en", stemmer=stemmer.stemWords, show_progress=False)

    retriever = bm25s.BM25()
    retriever.index(tokens([page.text for page in pages]), show_progress=False)
    places, scores = retriever.retrieve(tokens(queries), k=DEPTH, show_progress=False)
    return {
        query: [pages[place].name for place, score in zip(row, row_scores, strict=True) if score > 0]
        for query, row, row_scores in zip(queries, places.tolist(), scores.tolist(), strict=True)
    }


# The theme's worker is asked as its pages ask it: 0 sets it up, 1 says it is ready, 2 is a query, 3 the answer.
_ASK_WORKER = """([source, index, queries, depth]) => new Promise((resolve, reject) => {
    const worker = new Worker(URL.createObjectURL(new Blob([source], {type: 'text/javascript'})));
    const found = [];
    worker.onerror = (event) => reject(new Error(event.message));
    const next = () => found.length < queries.length
        ? worker.postMessage({type: 2, data: queries[found.length]}) : resolve(found);
    worker.onmessage = ({data}) => {
        if (data.type === 3) found.push(data.data.items.slice(0, depth).map((group) => group[0].location.split('#')[0]));
        if (data.type === 1 || data.type === 3) next();
    };
    worker.postMessage({type: 0, data: {config: index.config, docs: index.docs, options: {suggest: false}}});
})"""


def themes_own(queries: Sequence[str], pages: Sequence[PageText], site: Path) -> Ranked:
    """Material's search: its plugin's index of the pages, its worker (lunr) in Chromium, its order.

    Raises `NotHere` without Chromium.
    """
    import json

    from material.plugins.search.plugin import SearchIndex

    from _bench.browser import opened_browser

    index = SearchIndex(
        lang=["en"],
        separator=r"[\s\-]+",
        pipeline=["stopWordFilter"],
        fields={"title": {"boost": 1e3}, "text": {"boost": 1e0}, "tags": {"boost": 1e6}},
    )
    for page in pages:
        index.add_entry_from_context(_AsPage(page))
    data: Mapping[str, Any] = json.loads(index.generate_search_index(None))
    with opened_browser(site) as browser:
        page_there = browser.new_page()
        found = page_there.evaluate(_ASK_WORKER, [worker_of_theme(), data, list(queries), DEPTH])
    return dict(zip(queries, found, strict=True))


def worker_of_theme() -> str:
    """Return the script that searches in the theme's own search, from the theme itself: our sites hold none of its scripts."""
    workers = files("material") / "templates" / "assets" / "javascripts" / "workers"
    found = (each for each in workers.iterdir() if each.name.startswith("search."))
    return next(each.read_text("utf-8") for each in found if each.name.endswith(".min.js"))


class _AsPage:
    """What Material's plugin reads of a page of MkDocs."""

    def __init__(self, page: PageText) -> None:
        self.meta: dict[str, object] = {}
        self.toc: list[object] = []
        self.url, self.title, self.content = page.name, page.title, page.html
