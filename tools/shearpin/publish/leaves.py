"""Page bodies as leaves of one document: well-formed, without what only a screen can use, and with links of their own.

The same leaves serve print and e-book. Bodies are our own markup, every record text in them escaped.
"""

from __future__ import annotations

import posixpath
import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from html import escape, unescape
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
"""Kinds in the order in which a book of procedures has them; drawings stand where they are shown."""

_VOID: Final = frozenset({"img", "br", "hr", "meta", "link", "input", "path", "use", "wbr"})
_SCREEN_ONLY: Final = frozenset({"button", "form", "noscript"})
_SCREEN_CLASSES: Final = frozenset({"jumps", "letters", "sign-off", "choose", "to-job", "cell-name"})
_BESIDE_THE_WORK: Final = frozenset({"why-safety", "used-by", "why-figures"})
"""Sections that serve who looks around in the book, and would cost a reader of paper a sheet each."""
_DROPPED: Final = frozenset({"tabindex", "loading", "hidden"})
_SCRIPT: Final = re.compile(r"<script\b.*?</script>", re.DOTALL)
_TAG: Final = re.compile(r"(<[^<>]+>)")
_NAME: Final = re.compile(r"</?([a-z][a-z0-9]*)")
_ATTRIBUTE: Final = re.compile(r'\s([^\s=/>"]+)(?:="([^"]*)")?')


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


def order_of(packed: LinkedBook) -> tuple[str, ...]:
    """Return the kinds as they follow each other: how things work comes first in a book that explains it."""
    explained = any(("system", system) not in packed.book.shortened for system in packed.book.systems)
    return ("system", *(kind for kind in ORDER if kind != "system")) if explained else ORDER


def parts_of(packed: LinkedBook) -> Iterator[Part]:
    """Yield the parts of a book with its leaves, sorted by title, systems that only warn after those that are explained.

    Kinds without a record are left out.
    """
    view = View(packed, "../")
    for kind in order_of(packed):
        records = sorted(
            packed.book.of_kind(kind).items(),
            key=lambda item: ((kind, item[0]) in packed.book.shortened, item[1].title.casefold(), item[0]),
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
    return _Writer(leaf, link, image).written()


class _Writer:
    """Writes one leaf. Bodies are markup of ours: names in small letters, attributes in double quotes, no sign left unescaped."""

    def __init__(self, leaf: Leaf, link: Callable[[str], str | None], image: Callable[[str], str]) -> None:
        self._leaf, self._link, self._image = leaf, link, image
        self._folder = posixpath.dirname(leaf.url)
        self._parts: list[str] = []
        self._skipping = 0
        self._open: list[str] = []  # names under which open elements were written

    def written(self) -> str:
        """Return the body as it stands in a document."""
        for number, piece in enumerate(_TAG.split(_SCRIPT.sub("", self._leaf.body))):
            if number % 2 == 0:
                if piece and not self._skipping:
                    self._parts.append(_plain(piece))
            elif piece.startswith("</"):
                self._end()
            else:
                self._start(piece)
        return "".join(self._parts)

    def _start(self, piece: str) -> None:
        named = _NAME.match(piece)
        tag = named[1] if named is not None else ""
        given: dict[str, str] = dict(_ATTRIBUTE.findall(piece))
        leaf_of_tree = tag in _VOID
        if self._skipping or _for_screens(tag, given):
            self._skipping += not (leaf_of_tree or piece.endswith("/>"))
            return
        tag, given = self._rewritten(tag, given)
        closed = "/" if leaf_of_tree else ""
        self._parts.append(f"<{tag}{self._attributes(given)}{closed}>")
        if piece.endswith("/>") and not leaf_of_tree:
            self._parts.append(f"</{tag}>")
        elif not leaf_of_tree:
            self._open.append(tag)

    def _end(self) -> None:
        if self._skipping:
            self._skipping -= 1
        elif self._open:
            self._parts.append(f"</{self._open.pop()}>")

    def _rewritten(self, tag: str, given: dict[str, str]) -> tuple[str, dict[str, str]]:
        """Return name and attributes of an element as it stands in a document."""
        if tag == "a":
            target = self._target(given.get("href", ""))
            if target is None:
                return "span", {name: value for name, value in given.items() if name not in ("href", "rel")}
            given["href"] = target
        elif tag == "img":
            given["src"] = self._image(self._resolved(given.get("src", "")))
        elif tag == "svg":
            given["xmlns"] = "http://www.w3.org/2000/svg"
            if "width" not in given:  # the safety alert symbol
                given |= {"class": "alert-symbol", "viewBox": ALERT_BOX}
        elif tag == "use":  # the symbol is drawn in the shell of the site, which a leaf has not
            return "path", {"fill": "currentColor", "d": ALERT_PATH}
        return tag, given

    def _attributes(self, given: Mapping[str, str]) -> str:
        return "".join(
            f' {name}="{self._leaf.anchor}--{_plain(value)}"'
            if name == "id"
            else f' {name}="{_quoted(value)}"'
            for name, value in given.items()
            if name not in _DROPPED
        )

    def _resolved(self, href: str) -> str:
        return posixpath.normpath(posixpath.join(self._folder, href))

    def _target(self, href: str) -> str | None:
        if href.startswith("https:"):
            return href
        if href.startswith("#"):
            return f"#{self._leaf.anchor}--{href[1:]}"
        return self._link(self._resolved(href.partition("#")[0]))


def _plain(words: str) -> str:
    """Return text with the three signs escaped that XML knows of; names of others that HTML has are read."""
    return escape(unescape(words), quote=False) if "&" in words else words


def _quoted(value: str) -> str:
    return escape(unescape(value)) if "&" in value or "'" in value else value


def _for_screens(tag: str, given: Mapping[str, str]) -> bool:
    if tag in _SCREEN_ONLY or (given and ("hidden" in given or given.get("id") in _BESIDE_THE_WORK)):
        return True
    return "class" in given and not _SCREEN_CLASSES.isdisjoint(given["class"].split())
