"""The preview's index: taken over with the page that was saved, and soon the one that a build would make."""

from __future__ import annotations

from pathlib import Path

import pytest

from shearpin.book.linked import LinkedBook, load_linked
from shearpin.search.exporting import FOLDER
from shearpin.site import later
from shearpin.site.later import LaterIndex, TakenIndex
from shearpin.site.writing import make_index
from tests.sound_book import SOUND_BOOK


@pytest.fixture(scope="module")
def linked() -> LinkedBook:
    return load_linked(SOUND_BOOK, "kb")


def content(site: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in (site / FOLDER).iterdir()}


def test_the_next_site_begins_with_the_index_of_the_one_before(tmp_path: Path) -> None:
    before, now = tmp_path / "before", tmp_path / "now"
    (before / FOLDER).mkdir(parents=True)
    (before / FOLDER / "head.js").write_text("shearpinIndex()")
    (before / FOLDER / "t000.js").write_text("terms")
    assert TakenIndex(before, now).result() == 2
    assert content(now) == content(before)


def test_without_an_index_before_there_is_none_to_begin_with(tmp_path: Path) -> None:
    assert TakenIndex(tmp_path / "before", tmp_path / "now").result() == 0


def test_what_is_made_later_is_what_a_build_makes(linked: LinkedBook, tmp_path: Path) -> None:
    make_index(linked, tmp_path / "built")
    left = tmp_path / "shown" / FOLDER / "t999.js"
    left.parent.mkdir(parents=True)
    left.write_text("of a longer book")
    index = LaterIndex()
    index.begin(linked, tmp_path / "shown")
    index.finish(wanted=True)
    assert content(tmp_path / "shown") == content(tmp_path / "built")


def test_an_index_that_another_save_made_unwanted_is_not_written(
    linked: LinkedBook, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked = iter([False, False, True])
    monkeypatch.setattr(
        later, "make_index", lambda book, site, _: make_index(book, site, lambda: next(asked))
    )
    index = LaterIndex()
    index.begin(linked, tmp_path)
    index.finish(wanted=True)
    assert not (tmp_path / FOLDER).exists()
