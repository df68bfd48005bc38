"""Writing files: never through a link, never in the place of another, never half."""

from __future__ import annotations

import os
import sys
from pathlib import Path

import pytest

from shearpin.authoring import files
from shearpin.authoring.files import WriteRefused, create_file, read_plain_file, record_path, replace_file
from shearpin.model.kinds import KINDS


def test_what_is_gone_a_link_or_a_folder_is_not_read(tmp_path: Path) -> None:
    (tmp_path / "file").write_bytes(b"x")
    os.symlink(tmp_path / "file", tmp_path / "link")
    for name in ("gone", "link", "."):
        with pytest.raises(WriteRefused):
            read_plain_file(tmp_path / name)


def test_a_file_that_is_too_large_is_refused_and_not_cut(tmp_path: Path) -> None:
    (tmp_path / "file").write_bytes(b"12345")
    assert read_plain_file(tmp_path / "file", 5) == b"12345"
    with pytest.raises(WriteRefused, match="larger than 4 bytes"):
        read_plain_file(tmp_path / "file", 4)


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no named pipes")
def test_a_pipe_is_not_waited_for(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe")
    with pytest.raises(WriteRefused, match="no file"):
        read_plain_file(tmp_path / "pipe")


def test_a_file_that_cannot_be_finished_is_not_left_half_written(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "a.yaml"
    path.write_bytes(b"old")

    def full(descriptor: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(files.os, "fsync", full)
    with pytest.raises(WriteRefused, match="No space left"):
        replace_file(path, b"new")
    assert path.read_bytes() == b"old"
    assert [entry.name for entry in tmp_path.iterdir()] == ["a.yaml"]


def test_a_file_is_replaced_whole_with_its_rights_and_nothing_is_left_beside_it(tmp_path: Path) -> None:
    path = tmp_path / "a.yaml"
    path.write_bytes(b"old")
    path.chmod(0o640)
    replace_file(path, b"new")
    assert path.read_bytes() == b"new"
    assert [entry.name for entry in tmp_path.iterdir()] == ["a.yaml"]
    if sys.platform != "win32":
        assert path.stat().st_mode & 0o777 == 0o640


@pytest.mark.parametrize("ending", [OSError(28, "No space left on device"), KeyboardInterrupt()])
def test_a_file_that_cannot_be_replaced_stays_as_it_was(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, ending: BaseException
) -> None:
    path = tmp_path / "a.yaml"
    path.write_bytes(b"old")

    def refuse(*_: object) -> None:
        raise ending

    monkeypatch.setattr(files.os, "replace", refuse)
    with pytest.raises((WriteRefused, KeyboardInterrupt)):
        replace_file(path, b"new")
    assert path.read_bytes() == b"old"
    assert [entry.name for entry in tmp_path.iterdir()] == ["a.yaml"]


def test_a_new_file_never_takes_the_place_of_another(tmp_path: Path) -> None:
    path = tmp_path / "a.yaml"
    path.write_bytes(b"old")
    with pytest.raises(WriteRefused, match="exists already"):
        create_file(path, b"new")
    assert path.read_bytes() == b"old"


def test_an_id_that_is_a_way_out_of_its_folder_is_refused(tmp_path: Path) -> None:
    with pytest.raises(WriteRefused, match="outside"):
        record_path(tmp_path, KINDS["tool"], "../x")


def test_a_new_file_that_a_full_disk_refuses_at_its_end_is_not_left_empty(tmp_path: Path) -> None:
    resource = pytest.importorskip("resource")
    before = resource.getrlimit(resource.RLIMIT_FSIZE)
    path = tmp_path / "a.yaml"
    # No byte may be written: what is small enough for the buffer is only refused when the file is closed.
    resource.setrlimit(resource.RLIMIT_FSIZE, (0, before[1]))
    try:
        with pytest.raises(WriteRefused, match="cannot write"):
            create_file(path, b"new")
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, before)
    assert list(tmp_path.iterdir()) == []
