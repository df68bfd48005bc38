"""Files that were replaced are written into anew, and no other file ever is; folders of a site take turns."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from shearpin.model.spare import Spare, write_into

ADDRESS = "tools/pin-punch.html"


@pytest.fixture
def replaced(tmp_path: Path) -> Path:
    """The file that was replaced at an address."""
    file = tmp_path / ".site.spare" / "files" / ADDRESS
    file.parent.mkdir(parents=True)
    file.write_bytes(b"what stood there before, and much of it")
    return file


def write(tmp_path: Path, content: bytes) -> tuple[bool, Path]:
    path = tmp_path / "new.html"
    return Spare(tmp_path / "site").write_over(ADDRESS, str(path), content), path


@pytest.mark.parametrize("content", [b"", b"short", b"longer than all that stood there before" * 9])
def test_the_new_content_stands_in_the_file_that_was_replaced(
    tmp_path: Path, replaced: Path, content: bytes
) -> None:
    number = replaced.stat().st_ino
    done, path = write(tmp_path, content)
    assert done
    assert path.read_bytes() == content
    assert path.stat().st_ino == number
    assert not replaced.exists()


def test_nothing_is_done_where_nothing_was_replaced(tmp_path: Path) -> None:
    done, path = write(tmp_path, b"new")
    assert not done
    assert not path.exists()


def test_a_file_with_a_second_name_is_left_alone(tmp_path: Path, replaced: Path) -> None:
    copy = tmp_path / "backup.html"
    os.link(replaced, copy)
    before = copy.read_bytes()
    done, path = write(tmp_path, b"new")
    assert not done
    assert not path.exists()
    assert copy.read_bytes() == before


def test_what_a_link_leads_to_is_left_alone(tmp_path: Path, replaced: Path) -> None:
    other = tmp_path / "other.txt"
    other.write_text("not ours")
    replaced.unlink()
    replaced.symlink_to(other)
    done, path = write(tmp_path, b"new")
    assert not done
    assert not os.path.lexists(path)
    assert other.read_text() == "not ours"


def test_where_not_all_goes_in_nothing_is_left(
    tmp_path: Path, replaced: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(file: int) -> os.stat_result:
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as patch:
        patch.setattr(os, "fstat", full)
        done, path = write(tmp_path, b"new")
    assert not done
    assert not path.exists()


def test_what_is_not_there_is_not_written_into(tmp_path: Path) -> None:
    assert not write_into(str(tmp_path / "new.html"), b"new")
    assert not (tmp_path / "new.html").exists()


def kept(tmp_path: Path, folder: str = "files") -> list[str]:
    below = tmp_path / ".site.spare" / folder
    return sorted(path.relative_to(below).as_posix() for path in below.rglob("*") if path.is_file())


@pytest.fixture
def previous(tmp_path: Path) -> Path:
    """A site that was replaced; the one in its place has one of its files too."""
    folder = tmp_path / "previous"
    for name in ("a/1.html", "a/2.html", "b/3.html"):
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_text(name)
    os.link(folder / "a/2.html", tmp_path / "of-the-new-site.html")
    return folder


@pytest.fixture
def spare(tmp_path: Path) -> Spare:
    return Spare(tmp_path / "site")


def test_only_what_no_other_site_has_is_kept(tmp_path: Path, previous: Path, spare: Spare) -> None:
    spare.keep_files(previous, ["a/1.html", "a/2.html", "b/3.html", "b/of-a-new-page.html"])
    assert kept(tmp_path) == ["a/1.html", "b/3.html"]
    assert sorted(path.name for path in previous.rglob("*.html")) == ["2.html"]


@pytest.mark.parametrize(("most", "there"), [(2, ["a/1.html", "b/3.html"]), (1, [])])
def test_more_than_there_is_room_for_is_not_kept(
    tmp_path: Path, previous: Path, spare: Spare, most: int, there: list[str]
) -> None:
    spare.keep_files(previous, ["a/1.html", "b/3.html"])
    spare.limit(most)
    assert kept(tmp_path) == there


def test_what_makes_room_is_kept_and_a_second_name_goes(tmp_path: Path, previous: Path, spare: Spare) -> None:
    for address in ("a/1.html", "a/2.html", "a/not-there.html"):
        spare.put_away(str(previous / address), address)
        assert not (previous / address).exists()
    assert kept(tmp_path) == ["a/1.html"]
    assert (tmp_path / "of-the-new-site.html").read_text() == "a/2.html"


def test_what_cannot_be_kept_makes_room_all_the_same(tmp_path: Path, previous: Path, spare: Spare) -> None:
    (tmp_path / ".site.spare").write_text("in the way")
    spare.put_away(str(previous / "a/1.html"), "a/1.html")
    assert not (previous / "a/1.html").exists()


def test_a_folder_that_is_kept_is_taken_once(tmp_path: Path, previous: Path, spare: Spare) -> None:
    spare.keep_folder("a", previous)
    spare.keep_folder("of-no-site", previous)
    assert kept(tmp_path, "folders") == ["a/1.html", "a/2.html"]
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
    assert kept(tmp_path, "folders") == ["a/later.html"]
    spare.keep_folder("a", previous)
    assert kept(tmp_path, "folders") == ["a/later.html"], "a site without such a folder takes none away"
