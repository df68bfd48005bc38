"""Watches records for the preview: the system tells of changes at once, and a slow look round finds what it does not tell.

MkDocs alone looks round twice a second, which shows a change late and keeps a processor busy over a large book.
"""

from __future__ import annotations

import os
import threading
import time
from contextlib import suppress
from typing import Any, Final

from watchdog.events import (
    FileCreatedEvent,
    FileDeletedEvent,
    FileModifiedEvent,
    FileMovedEvent,
    FileSystemEvent,
    FileSystemEventHandler,
)
from watchdog.observers import Observer
from watchdog.observers.polling import PollingObserver

_LOOK_ROUND_SECONDS: Final = 5.0
"""Some network drives tell nobody of a change."""

# A build reads the records: files that are opened or closed must not begin another.
_CHANGES: Final[list[type[FileSystemEvent]]] = [
    FileCreatedEvent,
    FileModifiedEvent,
    FileMovedEvent,
    FileDeletedEvent,
]


class _Saved:
    """Names of the files that were saved since somebody asked; several threads add to it."""

    def __init__(self) -> None:
        self._names: set[str] = set()
        self._lock = threading.Lock()

    def add(self, event: FileSystemEvent) -> None:
        """Add the files of an event; what is told of a folder is told of a file in it too."""
        if not event.is_directory:
            with self._lock:
                self._names |= {os.fsdecode(path) for path in (event.src_path, event.dest_path) if path}

    def taken(self) -> set[str]:
        """Return the names, and begin anew."""
        with self._lock:
            names, self._names = self._names, set()
        return names


class _Told(FileSystemEventHandler):
    """Passes changes on that the system tells of, and remembers of which files."""

    def __init__(self, handler: FileSystemEventHandler, told: dict[str, float], saved: _Saved) -> None:
        self._handler, self._told, self._saved = handler, told, saved

    def on_any_event(self, event: FileSystemEvent) -> None:
        """Pass a change on."""
        for path in (event.src_path, event.dest_path):
            self._told[os.fsdecode(path)] = time.monotonic()
        self._saved.add(event)
        self._handler.dispatch(event)


class _Found(FileSystemEventHandler):
    """Passes changes on that were found and not told."""

    def __init__(self, handler: FileSystemEventHandler, told: dict[str, float], saved: _Saved) -> None:
        self._handler, self._told, self._saved = handler, told, saved

    def on_any_event(self, event: FileSystemEvent) -> None:
        """Pass a change on, unless it is the one that began the last build."""
        before = self._told.get(os.fsdecode(event.src_path))
        if before is None or time.monotonic() - before > 2 * _LOOK_ROUND_SECONDS:
            self._saved.add(event)
            self._handler.dispatch(event)


class Watcher:
    """Has the part of a watchdog observer that MkDocs uses."""

    def __init__(self) -> None:
        self._told = Observer()
        self._looking = PollingObserver(timeout=_LOOK_ROUND_SECONDS)
        self._told_at: dict[str, float] = {}
        self._saved = _Saved()
        self._handler: FileSystemEventHandler | None = None

    def schedule(self, handler: FileSystemEventHandler, path: str, *, recursive: bool = False) -> Any:
        """Watch a path; returns what `unschedule` takes."""
        self._handler = handler
        found = _Found(handler, self._told_at, self._saved)
        told = _Told(handler, self._told_at, self._saved)
        looking = self._looking.schedule(found, path, recursive=recursive, event_filter=_CHANGES)
        telling = None
        with suppress(OSError):  # the system watches no more paths
            telling = self._told.schedule(told, path, recursive=recursive, event_filter=_CHANGES)
        return telling, looking

    def unschedule(self, watch: Any) -> None:
        """Watch a path no more."""
        telling, looking = watch
        self._looking.unschedule(looking)
        if telling is not None:
            self._told.unschedule(telling)

    def saved(self) -> set[str]:
        """Return the files that were saved, made, moved or removed since this was asked last."""
        return self._saved.taken()

    def tell(self) -> None:
        """Have the server show anew what it serves, though no file was saved."""
        if self._handler is not None:
            self._handler.dispatch(FileModifiedEvent(""))

    def start(self) -> None:
        """Begin to watch."""
        self._looking.start()
        with suppress(OSError):
            self._told.start()

    def stop(self) -> None:
        """End watching."""
        self._looking.stop()
        self._told.stop()

    def join(self, timeout: float | None = None) -> None:
        """Wait until watching has ended."""
        for observer in (self._looking, self._told):
            if observer.is_alive():
                observer.join(timeout)


def watch_with(server: Any, paths: list[str]) -> Watcher:
    """Give a preview's server this watcher; `paths` are those that it watches already."""
    for path in paths:
        server.unwatch(path)
    watcher = server.observer = Watcher()
    for path in paths:
        server.watch(path)
    return watcher
