"""Files that nobody saved are known by their stamps, in the next process too; all others are read."""

from __future__ import annotations

import os
import shutil
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from shearpin.book import stamps
from shearpin.book.contents import contents_of
from shearpin.book.entries import entries_below
from shearpin.book.stamps import digests_kept, keep_digests, stamps_below
from shearpin.model.usercache import cache_of
from tests.sound_book import SOUND_BOOK

PUNCH = "tools/pin-punch.yaml"


@pytest.fixture
def kb(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A book whose files have been as they are for longer than any clock's tick."""
    monkeypatch.setattr(stamps, "_SETTLED_NS", 0)
    folder = Path(shutil.copytree(SOUND_BOOK, tmp_path / "kb", copy_function=shutil.copyfile))
    page = folder / "translations/es/tools/pin-punch.yaml"
    page.parent.mkdir(parents=True)
    page.write_text("texts: []\n")
    time.sleep(0.02)
    return folder


def kept(kb: Path) -> dict[str, bytes]:
    return digests_kept(kb, stamps_below(kb))


def keep(kb: Path) -> dict[str, bytes]:
    now = stamps_below(kb)
    files = dict(contents_of(kb, entries_below(kb)).files)
    keep_digests(kb, now, files)
    return files


def test_what_nobody_saved_is_known_however_deep_it_lies(kb: Path) -> None:
    assert kept(kb) == {}
    files = keep(kb)
    assert "translations/es/tools/pin-punch.yaml" in files
    assert kept(kb) == files


CHANGES: dict[str, Callable[[Path], object]] = {
    "saved": lambda path: path.write_text("title: Pin punch\n"),
    "as long, and of the same time": lambda path: _as_long(path),
    "replaced by a copy that kept size and time": lambda path: _replaced(path),
    "gone": lambda path: path.unlink(),
}


def _as_long(path: Path) -> None:
    state = path.stat()
    path.write_text(path.read_text().replace("a", "e"))
    os.utime(path, ns=(state.st_atime_ns, state.st_mtime_ns))


def _replaced(path: Path) -> None:
    state, beside = path.stat(), path.with_name("beside.yaml")
    beside.write_text(path.read_text().replace("a", "e"))
    os.utime(beside, ns=(state.st_atime_ns, state.st_mtime_ns))
    beside.replace(path)


@pytest.mark.parametrize("change", CHANGES.values(), ids=CHANGES)
def test_what_was_saved_is_not_known(kb: Path, change: Callable[[Path], object]) -> None:
    files = keep(kb)
    change(kb / PUNCH)
    del files[PUNCH]
    assert kept(kb) == files


def test_what_was_saved_just_before_it_was_read_is_not_believed(
    kb: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(stamps, "_SETTLED_NS", 60_000_000_000)
    keep(kb)
    assert kept(kb) == {}


@pytest.mark.parametrize("damage", [b"", b"x" * 200])
def test_what_is_damaged_is_of_no_use(kb: Path, damage: bytes) -> None:
    keep(kb)
    (cache_of(kb) / "stamps.bin").write_bytes(damage)
    assert kept(kb) == {}
