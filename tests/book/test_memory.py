"""A process that stays reads only what was saved since, and what it says is what a new process says."""

from __future__ import annotations

import os
import shutil
import time
from pathlib import Path

import pytest

from shearpin.book import keptrecords, readfiles
from shearpin.book.memory import Memory
from shearpin.verdict import Question
from tests.sound_book import SOUND_BOOK

PUNCH = "tools/pin-punch.yaml"


@pytest.fixture
def kb(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A book whose files were all saved long ago, and are worth keeping."""
    monkeypatch.setattr(keptrecords, "WORTH_KEEPING", 1)
    folder = Path(shutil.copytree(SOUND_BOOK, tmp_path / "kb", copy_function=shutil.copyfile))
    for path in folder.rglob("*.*"):
        saved_before(path, 60)
    return folder


@pytest.fixture
def read(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The paths of the files that were read."""
    paths: list[str] = []
    real = readfiles._read

    def noting(each: readfiles.Waiting, judge: bool) -> object:
        paths.append(each.path)
        return real(each, judge)

    monkeypatch.setattr(readfiles, "_read", noting)
    return paths


def saved_before(path: Path, seconds: float) -> None:
    at = time.time() - seconds
    os.utime(path, (at, at))


def ask(kb: Path, memory: Memory | None) -> tuple[object, object, object]:
    question = Question(kb, "kb", memory)
    linked = question.load()
    links = linked.links
    to = {target: sorted(origins) for target, origins in links.to.items()}  # they come in any order
    return linked.book.files, (links.pointers, to, sorted(links.loose)), question.answer(linked)


def test_only_a_saved_file_is_read_again(kb: Path, read: list[str]) -> None:
    memory = Memory()
    ask(kb, memory)  # finds the verdict, before which nothing is remembered
    ask(kb, memory)
    before = dict(memory.files)
    read.clear()
    (kb / PUNCH).write_text("title: Pin punch\nsummary: Like {part:auger-sheer-bolt}.\n")
    assert ask(kb, memory) == ask(kb, None)
    assert set(read) == {PUNCH}
    same = [path for path, each in memory.files.items() if each is before.get(path)]
    assert len(before) - 40 < len(same) < len(before)


def test_a_file_saved_twice_within_a_tick_is_read_again(kb: Path) -> None:
    memory = Memory()
    ask(kb, memory)
    path = kb / PUNCH
    path.write_text("title: Pin punch\nsummary: Drives pins.\n")
    state = path.stat()
    ask(kb, memory)
    path.write_text("title: Pin punch\nsummary: Drives bins.\n")
    os.utime(path, ns=(state.st_atime_ns, state.st_mtime_ns))
    assert ask(kb, memory)[0] == ask(kb, None)[0]


@pytest.mark.parametrize("change", ["gone", "new", "another name"])
def test_files_that_come_and_go_are_seen(kb: Path, change: str) -> None:
    memory = Memory()
    ask(kb, memory)
    ask(kb, memory)
    if change == "gone":
        (kb / PUNCH).unlink()
    elif change == "new":
        (kb / "tools/drift.yaml").write_text("title: Drift\nsummary: Drives.\n")
    else:
        (kb / PUNCH).rename(kb / "tools/drift.yaml")
    assert ask(kb, memory) == ask(kb, None)


def test_a_copy_over_a_file_that_keeps_size_and_time_is_read(kb: Path) -> None:
    memory = Memory()
    ask(kb, memory)
    ask(kb, memory)
    path = kb / PUNCH
    state, content = path.stat(), path.read_text()
    path.write_text(content.replace("a", "e"))
    os.utime(path, ns=(state.st_atime_ns, state.st_mtime_ns))
    assert path.stat().st_size == state.st_size
    assert ask(kb, memory)[0] == ask(kb, None)[0]
