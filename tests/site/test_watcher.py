"""The preview's watcher tells of each change once, and never because a build has read a file."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from watchdog.events import (
    DirModifiedEvent,
    FileModifiedEvent,
    FileMovedEvent,
    FileSystemEvent,
    FileSystemEventHandler,
)

from shearpin.site import watcher
from shearpin.site.watcher import Watcher, _Found, _Saved, _Told

_PATIENCE_SECONDS = 20.0


class Noting(FileSystemEventHandler):
    """Notes the files of the events that it gets."""

    def __init__(self) -> None:
        self.names: list[str] = []

    def on_any_event(self, event: FileSystemEvent) -> None:
        if not event.is_directory:
            self.names.append(Path(str(event.src_path)).name)


@pytest.fixture
def running(monkeypatch: pytest.MonkeyPatch) -> Iterator[Watcher]:
    monkeypatch.setattr(watcher, "_LOOK_ROUND_SECONDS", 0.2)
    found = Watcher()
    yield found
    found.stop()
    found.join()


def _until(what: Callable[[], bool]) -> bool:
    deadline = time.monotonic() + _PATIENCE_SECONDS
    while not what() and time.monotonic() < deadline:
        time.sleep(0.02)
    return what()


def test_a_saved_file_is_told_and_a_read_one_is_not(running: Watcher, tmp_path: Path) -> None:
    (tmp_path / "read.yaml").write_text("title: A\n")
    noting = Noting()
    running.schedule(noting, str(tmp_path), recursive=True)
    running.start()
    (tmp_path / "read.yaml").read_text()
    (tmp_path / "saved.yaml").write_text("title: B\n")
    assert _until(lambda: "saved.yaml" in noting.names)
    assert set(noting.names) == {"saved.yaml"}


def test_where_the_system_tells_nothing_the_change_is_found(
    running: Watcher, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*arguments: object, **options: object) -> None:
        raise OSError("no more paths")

    monkeypatch.setattr(running._told, "schedule", refuse)
    noting = Noting()
    watch = running.schedule(noting, str(tmp_path), recursive=True)
    running.start()
    (tmp_path / "saved.yaml").write_text("title: B\n")
    assert _until(lambda: "saved.yaml" in noting.names)
    running.unschedule(watch)


def test_what_was_told_is_not_found_again() -> None:
    told: dict[str, float] = {}
    noting, saved = Noting(), _Saved()
    event = FileModifiedEvent("kb/tools/drift.yaml")
    _Told(noting, told, saved).on_any_event(event)
    assert saved.taken() == {"kb/tools/drift.yaml"}
    _Found(noting, told, saved).on_any_event(event)
    assert saved.taken() == set()
    _Found(noting, told, saved).on_any_event(FileModifiedEvent("kb/tools/punch.yaml"))
    assert noting.names == ["drift.yaml", "punch.yaml"]
    assert saved.taken() == {"kb/tools/punch.yaml"}


def test_a_moved_file_counts_under_both_names_and_a_folder_not_at_all(tmp_path: Path) -> None:
    saved = _Saved()
    saved.add(FileMovedEvent("kb/tools/4913", "kb/tools/punch.yaml"))
    saved.add(DirModifiedEvent("kb/tools"))
    assert saved.taken() == {"kb/tools/4913", "kb/tools/punch.yaml"}


def test_a_server_can_be_told_though_nothing_was_saved(running: Watcher, tmp_path: Path) -> None:
    noting = Noting()
    running.schedule(noting, str(tmp_path), recursive=True)
    running.tell()
    assert len(noting.names) == 1
    assert running.saved() == set()
