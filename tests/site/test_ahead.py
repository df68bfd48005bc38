"""Pages linked ahead: second names in the new site, given up before anything is written there."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from shearpin.model import shares
from shearpin.site import ahead as ahead_of
from shearpin.site.ahead import Ahead
from shearpin.site.traces import stamp_of

PAGES = ("symptoms/no-spark.html", "symptoms/no-spark.js", "procedures/set-gap.html")


@pytest.fixture
def before(tmp_path: Path) -> Path:
    site = tmp_path / "site"
    for url in (*PAGES, "figures/gap.svg", "symptoms/.hidden.html", "look/search.js", "index.html"):
        (site / url).parent.mkdir(parents=True, exist_ok=True)
        (site / url).write_text(url, encoding="utf-8")
    return site


@pytest.fixture(params=[1, 2], ids=["in one process", "in two"], autouse=True)
def processes(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> int:
    monkeypatch.setattr(ahead_of, "shares_for", lambda files: 2)
    if request.param == 1:  # no second one can be had when it comes to it
        monkeypatch.setattr(shares, "forked", lambda work: None)
    return int(request.param)


def test_pages_of_records_and_their_data_are_linked_and_nothing_else(before: Path, tmp_path: Path) -> None:
    now = tmp_path / "now"
    now.mkdir()
    ahead = Ahead(before, now, wanted=True)
    assert ahead.linked() == {url: stamp_of(before / url) for url in PAGES}
    files = {path.relative_to(now).as_posix() for path in now.rglob("*") if path.is_file()}
    assert files == set(PAGES)
    assert all((now / url).samefile(before / url) for url in PAGES)


def test_what_is_given_up_can_be_written_and_the_site_before_keeps_its_own(
    before: Path, tmp_path: Path
) -> None:
    now = tmp_path / "now"
    now.mkdir()
    ahead = Ahead(before, now, wanted=True)
    ahead.give_up([PAGES[0], "symptoms/another.html"])
    assert sorted(ahead.linked()) == sorted(PAGES[1:])
    (now / PAGES[0]).write_text("new", encoding="utf-8")
    assert (before / PAGES[0]).read_text(encoding="utf-8") == PAGES[0]


def test_names_left_by_a_process_that_died_are_set_right(before: Path, tmp_path: Path) -> None:
    now = tmp_path / "now"
    (now / "symptoms").mkdir(parents=True)
    os.link(before / PAGES[0], now / PAGES[0])
    (now / PAGES[1]).write_text("half", encoding="utf-8")
    assert Ahead(before, now, wanted=True).linked() == {url: stamp_of(before / url) for url in PAGES}


def test_where_there_is_no_site_or_nobody_wants_it_nothing_is_linked(before: Path, tmp_path: Path) -> None:
    now = tmp_path / "now"
    now.mkdir()
    for ahead in (Ahead(before, now, wanted=False), Ahead(tmp_path / "none", now, wanted=True)):
        assert ahead.linked() == {}
        ahead.stop()
    assert list(now.iterdir()) == []
