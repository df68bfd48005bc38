"""Pages of sites before in the new one: second names of those that it may take over, and files to write into."""

from __future__ import annotations

import os
import shutil
from pathlib import Path

import pytest

from shearpin.model import shares
from shearpin.model.spare import stamp_of
from shearpin.site import ahead as ahead_of
from shearpin.site.ahead import Ahead

PAGES = ("symptoms/no-spark.html", "symptoms/no-spark.js", "procedures/set-gap.html")


@pytest.fixture
def before(tmp_path: Path) -> Path:
    site = tmp_path / "site"
    for url in (*PAGES, "figures/gap.svg", "symptoms/.hidden.html", "look/search.js", "index.html"):
        (site / url).parent.mkdir(parents=True, exist_ok=True)
        (site / url).write_text(url, encoding="utf-8")
    return site


@pytest.fixture
def now(tmp_path: Path) -> Path:
    """The folder of the new site."""
    folder = tmp_path / "now"
    folder.mkdir()
    return folder


@pytest.fixture
def kept(before: Path) -> Path:
    """The folders of the site before the last: of three pages one is another now, and one was not there yet."""
    folders = before.parent / ".site.spare"
    (folders / "symptoms").mkdir(parents=True)
    os.link(before / PAGES[1], folders / PAGES[1])
    (folders / PAGES[0]).write_text("what stood there before", encoding="utf-8")
    return folders


def files_in(folder: Path) -> set[str]:
    return {path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file()}


@pytest.fixture(params=[1, 2], ids=["in one process", "in two"], autouse=True)
def processes(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> int:
    monkeypatch.setattr(ahead_of, "shares_for", lambda files: 2)
    monkeypatch.setattr(ahead_of, "WORTH_SPARING", 1)
    if request.param == 1:  # no second one can be had when it comes to it
        monkeypatch.setattr(shares, "forked", lambda work: None)
    return int(request.param)


def test_pages_of_records_and_their_data_are_linked_and_nothing_else(before: Path, now: Path) -> None:
    ahead = Ahead(before, now, wanted=True)
    assert ahead.same() == {url: stamp_of(before / url) for url in PAGES}
    assert ahead.own() == set()
    assert files_in(now) == set(PAGES)
    assert all((now / url).samefile(before / url) for url in PAGES)


def test_what_is_given_up_can_be_written_and_the_site_before_keeps_its_own(before: Path, now: Path) -> None:
    ahead = Ahead(before, now, wanted=True)
    ahead.give_up([PAGES[0], "symptoms/another.html"])
    assert sorted(ahead.same()) == sorted(PAGES[1:])
    (now / PAGES[0]).write_text("new", encoding="utf-8")
    assert (before / PAGES[0]).read_text(encoding="utf-8") == PAGES[0]


def test_names_left_by_a_process_that_died_are_set_right(before: Path, now: Path) -> None:
    (now / "symptoms").mkdir()
    os.link(before / PAGES[0], now / PAGES[0])
    (now / PAGES[1]).write_text("half", encoding="utf-8")
    ahead = Ahead(before, now, wanted=True)
    assert ahead.same() == {url: stamp_of(before / url) for url in PAGES if url != PAGES[1]}
    assert ahead.own() == {PAGES[1]}


def test_a_folder_that_was_kept_is_taken_and_what_is_another_in_it_is_told(
    before: Path, now: Path, kept: Path
) -> None:
    ahead = Ahead(before, now, wanted=True)
    assert ahead.same() == {url: stamp_of(before / url) for url in PAGES[1:]}
    assert ahead.own() == {PAGES[0]}
    assert files_in(now) == set(PAGES)
    assert files_in(kept) == set()
    ahead.give_up([PAGES[0]])
    assert ahead.own() == set()
    assert files_in(now) == set(PAGES[1:])


def test_nothing_is_left_in_a_folder_of_what_no_page_has_now(before: Path, now: Path, kept: Path) -> None:
    for url in ("symptoms/gone.html", "symptoms/deep/page.html", "procedures/gone.svg"):
        (kept / url).parent.mkdir(parents=True, exist_ok=True)
        (kept / url).write_text("of a page that is gone", encoding="utf-8")
    (kept / "procedures" / "led.html").symlink_to(before / "index.html")
    Ahead(before, now, wanted=True).same()
    assert files_in(now) == set(PAGES)
    assert (before / "index.html").exists()


def test_a_copy_is_as_the_page_and_may_be_written_into(before: Path, now: Path, kept: Path) -> None:
    os.utime(before / PAGES[0], ns=(1_700_000_000_000_000_001,) * 2)
    shutil.copy2(before / PAGES[0], kept / PAGES[0])
    ahead = Ahead(before, now, wanted=True)
    assert ahead.same() == {url: stamp_of(before / url) for url in PAGES}
    assert ahead.own() == {PAGES[0]}
    ahead.give_up([PAGES[0]])
    assert PAGES[0] not in ahead.same()
    assert ahead.own() == set()
    assert files_in(now) == set(PAGES[1:])


def test_the_folder_of_the_index_is_left_to_whoever_makes_it(before: Path, now: Path, kept: Path) -> None:
    (kept / "index").mkdir()
    (kept / "index" / "head.js").write_text("head")
    ahead = Ahead(before, now, wanted=True)
    ahead.same()
    assert files_in(kept) == {"index/head.js"}
    (kept / "index").rename(now / "index")
    ahead.stop()
    assert "index/head.js" in files_in(kept), "and kept where the build fails"


@pytest.mark.parametrize("waits", [True, False])
def test_a_build_that_fails_keeps_the_folders_for_the_next_one(
    before: Path, now: Path, kept: Path, waits: bool
) -> None:
    ahead = Ahead(before, now, wanted=True)
    if waits:
        ahead.same()
    ahead.stop()
    assert files_in(now) == set()
    again = Ahead(before, now, wanted=True)
    assert again.same() == {url: stamp_of(before / url) for url in PAGES[1:]}
    assert again.own() == {PAGES[0]}


def test_where_there_is_no_site_or_nobody_wants_it_nothing_is_linked(before: Path, now: Path) -> None:
    for ahead in (Ahead(before, now, wanted=False), Ahead(before / "none", now, wanted=True)):
        assert ahead.same() == {}
        assert ahead.own() == set()
        ahead.stop()
    assert list(now.iterdir()) == []
