"""The look of the pages, and what its templates may know: the edition, the word of caution."""

from __future__ import annotations

import os
from collections.abc import Sequence
from itertools import filterfalse
from pathlib import Path
from typing import Final

from jinja2 import Environment, FileSystemLoader
from mkdocs.theme import Theme

from shearpin.book.book import Book
from shearpin.book.linked import LinkedBook
from shearpin.model.editions import Contents
from shearpin.site import machine_list
from shearpin.site.interface import INTERFACES, SCRIPT_TABLE
from shearpin.site.pages import Page
from shearpin.site.safety import DEFERENCE

_PARTS: Final = ("words", "spell", "leaning", "plan", "index", "rank", "misses", "hits")
"""The scripts of a search in the order in which they run."""

_PACKAGE = Path(__file__).resolve().parents[1]


_UNUSED: Final = "assets/javascripts/"
"""The folder of the theme's own scripts: no page of ours asks for them, and they come to two megabytes."""


class _OfUse(FileSystemLoader):
    """Templates of a theme, hidden ones and what no page uses left out of the list, but for those in a book's `own` folder.

    MkDocs takes none that is hidden, and looks at each name many times to find that out: a theme hides ten thousand icons.
    """

    def __init__(self, folders: Sequence[str], own: str | None) -> None:
        super().__init__(folders)
        self._own = own

    def list_templates(self) -> list[str]:
        found: set[str] = set()
        for folder in self.searchpath:
            for here, folders, files in os.walk(folder, followlinks=self.followlinks):
                folders[:] = [name for name in folders if not name.startswith(".")]
                below = os.path.relpath(here, folder).replace(os.sep, "/")
                names = (name if below == "." else f"{below}/{name}" for name in files)
                found.update(names if folder == self._own else filterfalse(_is_unused, names))
        return sorted(found)


def _is_unused(name: str) -> bool:
    return name.startswith(_UNUSED) or name.endswith(".map")


def add_look(theme: Theme) -> None:
    """Lay our templates over those of the theme, and the book's own `custom_dir` over ours.

    An installed package holds them; in a checkout they lie at its top.
    """
    environment = type(theme).get_env

    def without_hidden() -> Environment:
        env = environment(theme)
        env.loader = _OfUse(theme.dirs, theme.custom_dir)
        return env

    vars(theme)["get_env"] = without_hidden  # MkDocs asks for it once per build, and has no event before
    inside, beside = _PACKAGE / "look", _PACKAGE.parents[1] / "site_overrides"
    look = str(inside if inside.is_dir() else beside)
    if look not in theme.dirs:
        theme.dirs.insert(1 if theme.custom_dir else 0, look)


def join_search_scripts(look: Path) -> None:
    """Put the scripts of a search into one file beside them: one is read from a disk sooner than eight.

    Nothing is done where a folder of the look lacks one of them.
    """
    scripts = [look / f"search-{part}.js" for part in _PARTS]
    if all(script.is_file() for script in scripts):
        joined = "\n".join(script.read_text(encoding="utf-8") for script in scripts)
        (look / "search-parts.js").write_text(joined, encoding="utf-8", newline="\n")


def edition_of(book: Book) -> str | None:
    """Return the edition that the pages of a book are: the one of everything, else the first."""
    nothing_chosen = Contents()
    whole = [name for name, edition in book.editions.items() if edition.contents == nothing_chosen]
    return next(iter([*whole, *book.editions]), None)


def book_facts(
    linked: LinkedBook, *, serving: bool, issued: Sequence[Page] | None = None
) -> dict[str, object]:
    """Return plain data for templates.

    `serving` allows the preview's reload connection. `issued` are the pages about a published edition, or None.
    """
    edition_id = edition_of(linked.book)
    edition = linked.book.editions.get(edition_id or "")
    return {
        "machines": machine_list.DATA_FILE,
        "edition": None
        if edition is None
        else {
            "id": edition_id,
            "title": edition.title,
            "number": edition.number,
            "issuer": edition.issuer,
            "date": edition.date,
            "licence": edition.licence,
            "state": edition.state,
        },
        "deference": DEFERENCE,
        "serving": serving,
        "words": SCRIPT_TABLE if linked.book.language in INTERFACES else "",
        "issued": issued is not None,
        "part": linked.book.is_part,
        "about": [{"url": page.url, "title": page.title} for page in issued or ()],
    }
