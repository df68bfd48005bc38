"""What is kept in the cache is whole and the user's own, or of no use; a cache that cannot be written does no harm."""

from __future__ import annotations

import errno
import os
from collections.abc import Iterator
from pathlib import Path

import pytest

from shearpin.model.usercache import read_kept, write_kept, write_kept_parts


def test_what_is_kept_under_a_key_is_read_under_no_other(tmp_path: Path) -> None:
    write_kept(tmp_path / "folder" / "a.bin", "key", b"content")
    assert read_kept(tmp_path / "folder" / "a.bin", "key") == b"content"
    assert read_kept(tmp_path / "folder" / "a.bin", "other") is None


@pytest.mark.skipif(not hasattr(os, "geteuid"), reason="files have no owner here")
def test_what_another_user_has_written_is_not_believed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    write_kept(tmp_path / "a.bin", "key", b"content")
    other = os.geteuid() + 1
    monkeypatch.setattr(os, "geteuid", lambda: other)
    assert read_kept(tmp_path / "a.bin", "key") is None


def test_a_full_disk_leaves_what_was_kept_before_and_nothing_else(tmp_path: Path) -> None:
    write_kept(tmp_path / "a.bin", "key", b"before")

    def until_it_is_full() -> Iterator[bytes]:
        yield b"a longer content, "
        raise OSError(errno.ENOSPC, "no space left on device")

    write_kept_parts(tmp_path / "a.bin", "key", until_it_is_full())
    assert read_kept(tmp_path / "a.bin", "key") == b"before"
    assert os.listdir(tmp_path) == ["a.bin"]


def test_parts_are_kept_as_one_content(tmp_path: Path) -> None:
    write_kept_parts(tmp_path / "a.bin", "key", iter((b"con", b"", b"tent")))
    assert read_kept(tmp_path / "a.bin", "key") == b"content"


def test_a_folder_that_cannot_be_made_is_no_fault(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    write_kept(tmp_path / "file" / "a.bin", "key", b"content")
    assert read_kept(tmp_path / "file" / "a.bin", "key") is None
