"""Files that were replaced are written into anew, and no other file ever is."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from shearpin.model.spare import keep_replaced, spare_of, write_over

ADDRESS = "tools/pin-punch.html"


@pytest.fixture
def replaced(tmp_path: Path) -> Path:
    """The file that was replaced at an address."""
    file = Path(spare_of(tmp_path / "site")) / ADDRESS
    file.parent.mkdir(parents=True)
    file.write_bytes(b"what stood there before, and much of it")
    return file


def write(tmp_path: Path, content: bytes) -> tuple[bool, Path]:
    path = tmp_path / "new.html"
    return write_over(spare_of(tmp_path / "site"), ADDRESS, str(path), content), path


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


class TestKeeping:
    def previous(self, tmp_path: Path) -> Path:
        folder = tmp_path / "previous"
        for name in ("a/1.html", "a/2.html", "b/3.html"):
            (folder / name).parent.mkdir(parents=True, exist_ok=True)
            (folder / name).write_text(name)
        os.link(folder / "a/2.html", tmp_path / "of-the-new-site.html")
        return folder

    def kept(self, tmp_path: Path) -> list[str]:
        folder = Path(spare_of(tmp_path / "site"))
        return sorted(path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file())

    def test_only_what_no_other_site_has_is_put_aside(self, tmp_path: Path) -> None:
        addresses = ["a/1.html", "a/2.html", "b/3.html", "b/of-a-new-page.html"]
        keep_replaced(self.previous(tmp_path), spare_of(tmp_path / "site"), addresses, 2)
        assert self.kept(tmp_path) == ["a/1.html", "b/3.html"]

    def test_where_it_would_be_too_much_all_that_was_kept_before_goes(
        self, tmp_path: Path, replaced: Path
    ) -> None:
        keep_replaced(self.previous(tmp_path), spare_of(tmp_path / "site"), ["a/1.html", "b/3.html"], 2)
        assert self.kept(tmp_path) == ["a/1.html", "b/3.html"]
        keep_replaced(tmp_path / "previous", spare_of(tmp_path / "site"), [], 1)
        assert self.kept(tmp_path) == []

    def test_what_is_too_much_by_itself_is_not_kept(self, tmp_path: Path, replaced: Path) -> None:
        keep_replaced(self.previous(tmp_path), spare_of(tmp_path / "site"), ["a/1.html", "b/3.html"], 1)
        assert self.kept(tmp_path) == []
