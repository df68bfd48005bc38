"""Pages of the site before that are taken over where another file lies, and pages that are written into such a file."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from shearpin.book.joined import packed
from shearpin.model import shares
from shearpin.model.spare import stamp_of
from shearpin.site import taking_over
from shearpin.site.blanks import Fillings
from shearpin.site.earlier import Notes
from shearpin.site.taking_over import TakingOver
from shearpin.site.traces import Trace, Traces

PAGES = ("tools/clamp.html", "tools/punch.html", "tools/rule.html")


@pytest.fixture(params=[1, 2], ids=["in one process", "in two"])
def over(request: pytest.FixtureRequest, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> TakingOver:
    """Takes over three pages, where other files lie in the new site at each."""
    monkeypatch.setattr(taking_over, "shares_for", lambda files: 2)
    if request.param == 1:
        monkeypatch.setattr(shares, "forked", lambda work: None)
    for folder, content in (("before", "the page at {}"), ("now", "what was there long ago")):
        (tmp_path / folder / "tools").mkdir(parents=True)
        for url in PAGES:
            (tmp_path / folder / url).write_text(content.format(url))
    traces = Traces()
    for url in PAGES:
        traces.later[url] = Trace(packed(()), b"shell", stamp_of(tmp_path / "before" / url))
    notes = Notes(traces=traces)
    return TakingOver(
        notes, frozenset(), tmp_path / "before", tmp_path / "now", Fillings({}, {}), {}, set(PAGES)
    )


def test_they_are_put_right_while_others_are_made(over: TakingOver, tmp_path: Path) -> None:
    assert all(over.page(url, b"shell") for url in PAGES[:2])
    assert not over.page(PAGES[2], b"another shell")
    number = (tmp_path / "now" / PAGES[2]).stat().st_ino
    with over.putting_right() as lost:
        over.write(PAGES[2], b"made")
        assert lost() == set()
    assert over.taken == set(PAGES[:2])
    for url in PAGES[:2]:
        page, now = tmp_path / "before" / url, tmp_path / "now" / url
        assert now.read_text() == page.read_text() == f"the page at {url}"
        assert stamp_of(now) == stamp_of(page)
        assert not now.samefile(page), "the file that lay there is of use"
    made = tmp_path / "now" / PAGES[2]
    assert (made.read_text(), made.stat().st_ino) == ("made", number)
    assert (tmp_path / "before" / PAGES[2]).read_text() == f"the page at {PAGES[2]}"


def test_one_that_somebody_changed_meanwhile_is_told_and_made(over: TakingOver, tmp_path: Path) -> None:
    assert all(over.page(url, b"shell") for url in PAGES)
    (tmp_path / "before" / PAGES[0]).write_text("by hand")
    (tmp_path / "before" / PAGES[1]).unlink()
    with over.putting_right() as lost:
        assert lost() == set(PAGES[:2])
    assert over.taken == {PAGES[2]}
    over.write(PAGES[0], b"made again")
    assert (tmp_path / "now" / PAGES[0]).read_text() == "made again"
    assert (tmp_path / "before" / PAGES[0]).read_text() == "by hand"


@pytest.mark.parametrize("links", [True, False])
def test_a_file_that_has_another_name_is_not_written_into(
    over: TakingOver, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, links: bool
) -> None:
    def refuse(*names: object, **options: object) -> None:
        raise OSError("not on this file system")

    backups = [tmp_path / f"backup-{number}.html" for number in range(len(PAGES))]
    for url, backup in zip(PAGES, backups, strict=True):
        os.link(tmp_path / "now" / url, backup)
    if not links:
        monkeypatch.setattr(os, "link", refuse)
    assert all(over.page(url, b"shell") for url in PAGES[:2])
    with over.putting_right() as lost:
        over.write(PAGES[2], b"made")
        assert lost() == set()
    for url in PAGES[:2]:
        page, now = tmp_path / "before" / url, tmp_path / "now" / url
        assert now.samefile(page) is links
        assert (now.read_text(), stamp_of(now)) == (f"the page at {url}", stamp_of(page))
    assert (tmp_path / "now" / PAGES[2]).read_text() == "made"
    assert {backup.read_text() for backup in backups} == {"what was there long ago"}


def test_a_page_that_has_a_second_name_is_not_written_into(tmp_path: Path) -> None:
    for folder in ("before", "now"):
        (tmp_path / folder / "tools").mkdir(parents=True)
    page, name = tmp_path / "before" / PAGES[0], tmp_path / "now" / PAGES[0]
    page.write_text("the page")
    os.link(page, name)
    same = {PAGES[0]: stamp_of(page)}
    over = TakingOver(Notes(), frozenset(), tmp_path / "before", tmp_path / "now", Fillings({}, {}), same)
    over.write(PAGES[0], b"made")
    assert (page.read_text(), name.read_text()) == ("the page", "made")


def test_where_the_rest_fails_nobody_waits(over: TakingOver) -> None:
    assert all(over.page(url, b"shell") for url in PAGES)
    with pytest.raises(OSError, match="the disk is full"), over.putting_right():
        raise OSError("the disk is full")
