"""The theme's shell: rendered once for each family of pages, with marks where title and body go."""

from __future__ import annotations

import hashlib
import re
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any, Final

from mkdocs.commands.build import get_context
from mkdocs.structure.files import File
from mkdocs.structure.pages import Page as MkDocsPage

from shearpin.book.book import Book
from shearpin.model.translation import ORIGINAL
from shearpin.site.html import text
from shearpin.site.interface import in_original, localized
from shearpin.site.pages import Page

_ORIGINAL_ONLY: Final = ("calculators.html", "coverage.html", "coverage/", "rules/")
"""Pages full of sentences that are put together, for writers and for the calculating bench; not translated yet."""

_TITLE = "shearpin-title-goes-here"
_BODY = "<!-- shearpin-body-goes-here -->"
_BETWEEN_LINES: Final = re.compile(r"\s*\n\s*")


@dataclass(frozen=True)
class Shell:
    """The three pieces of a page around its title and body."""

    before_title: str
    between: str
    after_body: str

    @property
    def mark(self) -> bytes:
        """A digest that changes with the shell."""
        return hashlib.blake2b(b"\0".join(self.encoded), digest_size=12).digest()

    @cached_property
    def encoded(self) -> tuple[bytes, bytes, bytes]:
        """The pieces as bytes."""
        return self.before_title.encode(), self.between.encode(), self.after_body.encode()

    @cached_property
    def size(self) -> int:
        """How many bytes the pieces have."""
        return sum(map(len, self.encoded))

    def around(self, page: Page) -> str:
        """Return the finished page."""
        return f"{self.before_title}{text(page.title)}{self.between}{page.body}{self.after_body}"

    def bytes_around(self, page: Page) -> bytes:
        """Return the finished page as bytes: what is encoded already is not encoded again."""
        before, between, after = self.encoded
        body = page.encoded if page.encoded is not None else page.body.encode()
        return b"".join((before, text(page.title).encode(), between, body, after))


class Shells:
    """Shells by depth and family, each rendered when first asked for."""

    def __init__(self, env: Any, config: Any, nav: Any, files: Any, book: Book) -> None:
        self._book = book
        self._env, self._config, self._nav, self._files = env, config, nav, files
        self._known: dict[tuple[int, str], tuple[Shell, bytes]] = {}

    def content(self, page: Page) -> bytes:
        """Return the finished page, shell included, as it is written."""
        if self._book.language == ORIGINAL:
            return self._of(page.url)[0].bytes_around(page)
        return self.wrap(page).encode()

    def wrap(self, page: Page) -> str:
        """Return the finished page, shell included."""
        if self._book.language != ORIGINAL and page.url.startswith(_ORIGINAL_ONLY):
            page = replace(page, body=in_original(page.body, self._book))
        return localized(self._of(page.url)[0].around(page), self._book)

    def mark(self, url: str, *, bare: bool = False) -> bytes:
        """Return the mark of the shell of the page at an address; one of its own where there is none."""
        return b"" if bare else self._of(url)[1]

    def size(self, url: str) -> int:
        """Return how many bytes lie around title and body of the page at an address."""
        return self._of(url)[0].size

    def _of(self, url: str) -> tuple[Shell, bytes]:
        key = (url.count("/"), url if url in ("index.html", "search.html") else "")
        if key not in self._known:
            shell = self._render(*key)
            self._known[key] = (shell, shell.mark)
        return self._known[key]

    def _render(self, depth: int, special: str) -> Shell:
        source = "shell/" * depth + (special.removesuffix(".html") or "shell") + ".md"
        file = File.generated(self._config, source, content="")
        page = MkDocsPage(_TITLE, file, self._config)
        page.meta = {"shell": True, "title": _TITLE if special != "index.html" else None, "special": special}
        page.content = _BODY
        context = get_context(self._nav, self._files, self._config, page)
        rendered = self._env.get_template("main.html").render(context)
        # The theme's indentation would weigh a kilobyte in every page; nothing in a shell keeps its lines.
        output = with_root(_BETWEEN_LINES.sub("\n", rendered).lstrip(), depth)
        if special == "index.html":
            # The front page is called as the book is; it has no title of its own to put in.
            before, after = output.split(_BODY)
            return Shell("", before, after)
        head, rest = output.split(_TITLE, 1)
        between, after = rest.split(_BODY)
        return Shell(head, between.replace(_TITLE, ""), after)


def with_root(output: str, depth: int) -> str:
    """Tell scripts the way to the root of the site."""
    return output.replace("<html ", f'<html data-root="{"../" * depth}" ', 1)
