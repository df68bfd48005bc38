"""Page bodies as leaves of one document: well-formed, without what only a screen can use, and with links of their own.

The same leaves serve print and e-book. Bodies are our own markup, every record text in them escaped.
"""

from __future__ import annotations

import posixpath
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from html import escape
from html.parser import HTMLParser
from typing import Final

from shearpin.book.linked import LinkedBook
from shearpin.site.common import KIND_WORDS
from shearpin.site.pages import BODIES, Page
from shearpin.site.safety import ALERT_BOX, ALERT_PATH
from shearpin.site.view import View, address

ORDER: Final = (
    "symptom", "test", "procedure", "cause", "system", "machine", "engine", "value",
    "part", "tool", "caution", "term", "source",
)  # fmt: skip
"""Kinds in the order in which a book has them; drawings stand where they are shown."""

_VOID: Final = frozenset({"img", "br", "hr", "meta", "link", "input", "path", "use", "wbr"})
_SCREEN_ONLY: Final = frozenset({"button", "form", "noscript", "script"})
_SCREEN_CLASSES: Final = frozenset({"jumps", "letters", "sign-off", "choose"})
_BESIDE_THE_WORK: Final = frozenset({"why-safety", "used-by", "why-figures"})
"""Sections that serve who looks around in the book, and would cost a reader of paper a sheet each."""
_DROPPED: Final = frozenset({"tabindex", "loading", "hidden"})
_CASED: Final = {"viewbox": "viewBox"}  # the parser makes names of attributes small


@dataclass(frozen=True, slots=True)
class Leaf:
    """One page of the book: its address on the site, and the kind and id of its record."""

    kind: str
    id: str
    title: str
    url: str
    body: str

    @property
    def anchor(self) -> str:
        """Name of the leaf inside a document."""
        return f"{self.kind}-{self.id}"


@dataclass(frozen=True, slots=True)
class Part:
    """All leaves of a kind."""

    kind: str
    title: str
    leaves: tuple[Leaf, ...]


def parts_of(packed: LinkedBook) -> Iterator[Part]:
    """Yield the parts of a book with its leaves, sorted by title; kinds without a record are left out."""
    view = View(packed, "../")
    for kind in ORDER:
        records = sorted(
            packed.book.of_kind(kind).items(), key=lambda item: (item[1].title.casefold(), item[0])
        )
        leaves = tuple(
            Leaf(kind, record_id, record.title, address(kind, record_id), BODIES[kind](view, record_id))
            for record_id, record in records
        )
        if leaves:
            yield Part(kind, KIND_WORDS[kind][1], leaves)


def leaf_of(page: Page) -> Leaf:
    """Return a page that comes from no record as a leaf."""
    return Leaf("page", page.url.removesuffix(".html"), page.title, page.url, page.body)


def targets_of(parts: tuple[Part, ...], *further: Leaf) -> dict[str, str]:
    """Return the anchors of leaves by their address on the site."""
    leaves = [leaf for part in parts for leaf in part.leaves]
    return {leaf.url: leaf.anchor for leaf in (*leaves, *further)}


def rendered(leaf: Leaf, link: Callable[[str], str | None], image: Callable[[str], str]) -> str:
    """Return a leaf's body as well-formed markup.

    `link` gives for an address on the site the one in the document, or None where it leads out: then its words stand
    alone. `image` does the same for drawings.
    """
    writer = _Writer(leaf, link, image)
    writer.feed(leaf.body)
    writer.close()
    return "".join(writer.parts)


class _Writer(HTMLParser):
    def __init__(self, leaf: Leaf, link: Callable[[str], str | None], image: Callable[[str], str]) -> None:
        super().__init__(convert_charrefs=True)
        self.parts: list[str] = []
        self._leaf, self._link, self._image = leaf, link, image
        self._folder = posixpath.dirname(leaf.url)
        self._skipping = 0
        self._tags: list[str] = []  # names under which open elements were written

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = dict(attrs)
        void = tag in _VOID
        if self._skipping or _for_screens(tag, given):
            self._skipping += not void
            return
        written = tag
        if tag == "a":
            target = self._target(given.get("href") or "")
            if target is None:
                written = "span"
                given.pop("href", None)
                given.pop("rel", None)
            else:
                given["href"] = target
        elif tag == "img":
            given["src"] = self._image(self._resolved(given.get("src") or ""))
        elif tag == "svg":
            given["xmlns"] = "http://www.w3.org/2000/svg"
            if given.get("class") == "alert-symbol":
                given["viewbox"] = ALERT_BOX
        elif tag == "use":  # the symbol is drawn in the shell of the site, which a leaf has not
            written, given = "path", {"fill": "currentColor", "d": ALERT_PATH}
        self.parts.append(f"<{written}{self._attributes(given)}{'/' if void else ''}>")
        if not void:
            self._tags.append(written)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.handle_starttag(tag, attrs)
        if tag not in _VOID:
            self.handle_endtag(tag)

    def handle_endtag(self, tag: str) -> None:
        if tag in _VOID:
            return
        if self._skipping:
            self._skipping -= 1
        elif self._tags:
            self.parts.append(f"</{self._tags.pop()}>")

    def handle_data(self, data: str) -> None:
        if not self._skipping:
            self.parts.append(escape(data, quote=False))

    def _attributes(self, given: Mapping[str, str | None]) -> str:
        found = []
        for name, value in given.items():
            if name in _DROPPED:
                continue
            content = value if value is not None else ""
            if name == "id":
                content = f"{self._leaf.anchor}--{content}"
            found.append(f' {_CASED.get(name, name)}="{escape(content)}"')
        return "".join(found)

    def _resolved(self, href: str) -> str:
        return posixpath.normpath(posixpath.join(self._folder, href))

    def _target(self, href: str) -> str | None:
        if href.startswith("https:"):
            return href
        if href.startswith("#"):
            return f"#{self._leaf.anchor}--{href[1:]}"
        return self._link(self._resolved(href.partition("#")[0]))


def _for_screens(tag: str, given: Mapping[str, str | None]) -> bool:
    classes = (given.get("class") or "").split()
    if tag in _SCREEN_ONLY or "hidden" in given or given.get("id") in _BESIDE_THE_WORK:
        return True
    return bool(_SCREEN_CLASSES.intersection(classes))
