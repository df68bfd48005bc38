"""Guides come with the program: they fit every book, and a book's own page of the same name takes their place."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from mkdocs.config import load_config
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.structure.files import get_files

from shearpin.model.kinds import KINDS
from shearpin.site.guides import FOLDER, add_guides, fitted_to_book

GUIDES = sorted(path.name for path in FOLDER.glob("*.md"))


@pytest.fixture
def config(tmp_path: Path) -> MkDocsConfig:
    """Settings of a book with one page of its own, called as a guide is."""
    (tmp_path / "docs").mkdir()
    (tmp_path / "docs" / "safety-notice.md").write_text("# Our own notice\n", encoding="utf-8")
    (tmp_path / "mkdocs.yml").write_text("site_name: A book\nplugins: []\n", encoding="utf-8")
    config = load_config(str(tmp_path / "mkdocs.yml"))
    config.plugins._current_plugin = "shearpin"  # as MkDocs sets it around each event
    return config


def test_a_books_own_page_takes_the_place_of_a_guide(config: MkDocsConfig) -> None:
    files = get_files(config)
    added = add_guides(files, config)
    assert added == set(GUIDES) - {"safety-notice.md"}
    assert set(GUIDES) == {file.src_uri for file in files.documentation_pages()}
    own = files.get_file_from_path("safety-notice.md")
    assert own is not None
    assert own.content_string == "# Our own notice\n"


def test_what_the_book_lacks_leaves_only_words() -> None:
    text = (
        "[safe](procedure:make-machine-safe) [gone](procedure:gone) [here](about.md#top) [no](missing.md) "
        "![front](pictures/front.png) ![back](pictures/back.png) [net](https://example.org) [top](#top)"
    )
    fitted = fitted_to_book(text, {"about.md", "pictures/front.png"}, {("procedure", "make-machine-safe")})
    assert fitted == (
        "[safe](procedure:make-machine-safe) gone [here](about.md#top) no "
        "![front](pictures/front.png)  [net](https://example.org) [top](#top)"
    )


@pytest.mark.parametrize("name", GUIDES)
def test_guides_lead_to_guides_to_the_walk_through_or_to_records(name: str) -> None:
    known = {*GUIDES, "from-the-bench-to-the-page.md", "pictures/front.png"}
    text = (FOLDER / name).read_text(encoding="utf-8")
    for target in re.findall(r"\]\(([^)\s]+)\)", text):
        assert target.partition("#")[0] in known or target.partition(":")[0] in KINDS, target
