"""Folders of a site that was replaced are kept; files in them are written into, and no other file ever is."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from shearpin.model.spare import Spare, copy_into, is_copy, stamp_of, write_into

FORMER = b"what stood there before, and much of it"


@pytest.fixture
def replaced(tmp_path: Path) -> Path:
    """A file that was replaced."""
    file = tmp_path / "pin-punch.html"
    file.write_bytes(FORMER)
    return file


@pytest.mark.parametrize("content", [b"", b"short", b"longer than all that stood there before" * 9])
@pytest.mark.parametrize("written", [None, 1_700_000_000_123_456_700])
def test_the_new_content_stands_in_the_file_that_was_replaced(
    replaced: Path, content: bytes, written: int | None
) -> None:
    number = replaced.stat().st_ino
    assert write_into(str(replaced), content, written)
    assert replaced.read_bytes() == content
    assert replaced.stat().st_ino == number
    assert written is None or stamp_of(replaced) == (len(content), written)


def test_what_is_not_there_is_not_written_into(tmp_path: Path) -> None:
    assert not write_into(str(tmp_path / "new.html"), b"new")
    assert not (tmp_path / "new.html").exists()


def test_a_file_with_a_second_name_is_left_alone(tmp_path: Path, replaced: Path) -> None:
    copy = tmp_path / "backup.html"
    os.link(replaced, copy)
    assert not write_into(str(replaced), b"new")
    assert not replaced.exists()
    assert copy.read_bytes() == FORMER


def test_what_a_link_leads_to_is_left_alone(tmp_path: Path, replaced: Path) -> None:
    other = tmp_path / "other.txt"
    other.write_text("not ours")
    replaced.unlink()
    replaced.symlink_to(other)
    assert not write_into(str(replaced), b"new")
    assert not os.path.lexists(replaced)
    assert other.read_text() == "not ours"


def test_where_not_all_goes_in_nothing_is_left(replaced: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(file: int) -> os.stat_result:
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as patch:
        patch.setattr(os, "fstat", full)
        assert not write_into(str(replaced), b"new")
    assert not replaced.exists()


def test_a_copy_has_the_content_and_the_time_and_is_known_by_them(tmp_path: Path, replaced: Path) -> None:
    page = tmp_path / "page.html"
    page.write_bytes(b"as it is now")
    os.utime(page, ns=(1_700_000_000_000_000_001,) * 2)
    assert not is_copy(stamp_of(page), stamp_of(replaced))
    assert copy_into(str(page), str(replaced))
    assert replaced.read_bytes() == b"as it is now"
    assert not replaced.samefile(page)
    assert is_copy(stamp_of(page), stamp_of(replaced))


def test_where_times_are_whole_seconds_no_copy_is_known() -> None:
    assert is_copy((7, 1_700_000_000_000_000_001), (7, 1_700_000_000_000_000_001))
    assert not is_copy((7, 1_700_000_000_000_000_000), (7, 1_700_000_000_000_000_000))


def test_there_is_no_copy_of_what_is_not_there(tmp_path: Path, replaced: Path) -> None:
    assert not copy_into(str(tmp_path / "gone.html"), str(replaced))


def kept(tmp_path: Path) -> list[str]:
    below = tmp_path / ".site.spare"
    return sorted(path.relative_to(below).as_posix() for path in below.rglob("*") if path.is_file())


@pytest.fixture
def previous(tmp_path: Path) -> Path:
    """A site that was replaced."""
    folder = tmp_path / "previous"
    for name in ("a/1.html", "a/2.html", "b/3.html"):
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_text(name)
    return folder


@pytest.fixture
def spare(tmp_path: Path) -> Spare:
    return Spare(tmp_path / "site")


def test_a_folder_that_is_kept_is_taken_once(tmp_path: Path, previous: Path, spare: Spare) -> None:
    spare.keep_folder("a", previous)
    spare.keep_folder("of-no-site", previous)
    assert kept(tmp_path) == ["a/1.html", "a/2.html"]
    for now, names in (("first", ["1.html", "2.html"]), ("second", [])):
        (tmp_path / now).mkdir()
        spare.take_folder("a", tmp_path / now)
        assert sorted(os.listdir(tmp_path / now / "a")) == names


def test_the_folder_that_is_kept_is_that_of_the_last_site(
    tmp_path: Path, previous: Path, spare: Spare
) -> None:
    spare.keep_folder("a", previous)
    (previous / "a").mkdir()
    (previous / "a" / "later.html").write_text("later")
    spare.keep_folder("a", previous)
    assert kept(tmp_path) == ["a/later.html"]
    spare.keep_folder("a", previous)
    assert kept(tmp_path) == ["a/later.html"], "a site without such a folder takes none away"


def test_what_cannot_be_kept_stays_where_it_is(tmp_path: Path, previous: Path, spare: Spare) -> None:
    (tmp_path / ".site.spare").write_text("in the way")
    spare.keep_folder("a", previous)
    assert (previous / "a" / "1.html").exists()


def test_all_of_it_can_be_dropped(tmp_path: Path, previous: Path, spare: Spare) -> None:
    spare.keep_folder("a", previous)
    spare.drop()
    spare.drop()
    assert not (tmp_path / ".site.spare").exists()
