"""Pages about the program itself: they come with it, and a book has them unless it has a page of the same name."""

from __future__ import annotations

import re
from collections.abc import Collection
from pathlib import Path
from typing import Any, Final

from mkdocs.config.defaults import MkDocsConfig
from mkdocs.structure.files import File, Files, InclusionLevel

from shearpin.book.forwriters import is_for_writers
from shearpin.model.kinds import KINDS

FOLDER: Final = Path(__file__).resolve().parents[1] / "guides"

_LINK: Final = re.compile(r"(!?)\[([^\]\n]*)\]\(([^)\s]+)\)")
_RECORD: Final = re.compile(rf"(?:{'|'.join(KINDS)}):")


def add_guides(files: Files, config: MkDocsConfig) -> frozenset[str]:
    """Add the pages that the book does not have itself; return their names. The navigation need not list them."""
    added = []
    for path in sorted(FOLDER.glob("*.md")):
        if files.get_file_from_path(path.name) is None:
            files.append(
                File.generated(config, path.name, abs_src_path=str(path), inclusion=InclusionLevel.NOT_IN_NAV)
            )
            added.append(path.name)
    return frozenset(added)


def leave_out_pages_for_writers(files: Files, config: MkDocsConfig) -> None:
    """Take out of a course pack what only those use who write or publish the book."""
    for file in tuple(files):
        if file.src_uri.endswith(".md") and is_for_writers(file.src_uri, file.content_string):
            files.remove(file)
    config.nav = _without_missing(config.nav, files.src_uris)


def _without_missing(nav: Any, pages: Collection[str]) -> Any:
    """Return the navigation as it is written, without pages that are gone and headings that hold none."""
    if isinstance(nav, list):
        return [kept for kept in (_without_missing(item, pages) for item in nav) if kept]
    if isinstance(nav, dict):
        return {title: kept for title, item in nav.items() if (kept := _without_missing(item, pages))}
    return nav if not isinstance(nav, str) or not nav.endswith(".md") or nav in pages else None


def guide_in_language(language: str, name: str) -> Path:
    """Return where the translation of a guide lies."""
    return FOLDER / language / name


def fitted_to_book(markdown: str, pages: Collection[str], records: Collection[tuple[str, str]]) -> str:
    """Return a guide's text without what this book lacks: a link becomes its words, a picture nothing."""

    def kept(match: re.Match[str]) -> str:
        picture, words, target = match.groups()
        if _RECORD.match(target):
            kind, _, record_id = target.partition(":")
            there = (kind, record_id) in records
        else:
            there = "://" in target or target.partition("#")[0] in ("", *pages)
        return match.group() if there else "" if picture else words

    return _LINK.sub(kept, markdown)
