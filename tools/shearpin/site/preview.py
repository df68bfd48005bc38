"""How a preview builds: what was saved is shown at once where its own page will do, and the whole site follows beside it."""

from __future__ import annotations

import threading
from collections.abc import Callable
from pathlib import Path

from mkdocs.plugins import get_plugin_logger

from shearpin.site.firstlook import Shown, look
from shearpin.site.watcher import Watcher

log = get_plugin_logger(__name__)


class Unwanted(Exception):
    """A build was given up, for another is to begin or the preview ends."""


class Preview:
    """Builds a site that is served. MkDocs calls `rebuild` when a file was saved, in one thread."""

    def __init__(self) -> None:
        self._watcher: Watcher | None = None
        self._build: Callable[[], None] = lambda: None
        self._lock = threading.RLock()  # of the site's folder, and of what follows
        self._shown: Shown | None = None
        self._saved: set[str] = set()  # since the last build began
        self._thread: threading.Thread | None = None
        self._unwanted = threading.Event()

    @property
    def has_shown(self) -> bool:
        """Whether a site was shown already."""
        return self._shown is not None

    def begin(self, build: Callable[[], None], watcher: Watcher) -> None:
        """Take what builds the whole site, and what knows which files were saved."""
        self._build, self._watcher = build, watcher

    def rebuild(self) -> None:
        """Show what was saved. Where that takes the whole site it is built now, else beside whatever else goes on."""
        saved = self._watcher.saved() if self._watcher is not None else set()
        if not saved:
            return  # told by ourselves: the browser is to show what was built
        with self._lock:
            self._saved |= saved
            seen = self._look(saved)
        if seen:
            self._follow()
        else:
            self.stop()
            self._build_whole()

    def place(self, take_place: Callable[[], Path | None], shown: Shown) -> Path | None:
        """Let a site that is built take its place, and show again what was saved since its records were read.

        Returns what `take_place` does: where the previous one lies, which is to be removed.
        """
        with self._lock:
            previous = take_place()
            self._shown = shown
            self._look(self._saved)
        return previous

    def stop(self) -> None:
        """Give up what is being built beside, and wait until nothing is written any more."""
        thread, self._thread = self._thread, None
        if thread is not None:
            self._unwanted.set()
            thread.join()
            self._unwanted.clear()

    def go_on(self) -> None:
        """Raise `Unwanted` where the build that asks is to be given up."""
        if self._unwanted.is_set() and threading.current_thread() is not threading.main_thread():
            raise Unwanted

    def _look(self, saved: set[str]) -> bool:
        now = look(self._shown, saved) if self._shown is not None else None
        if now is not None:
            self._shown = now
        return now is not None

    def _build_whole(self) -> None:
        with self._lock:
            saved, self._saved = self._saved, set()
        try:
            self._build()
        except BaseException:
            with self._lock:
                self._saved |= saved  # not shown in full yet
            raise

    def _follow(self) -> None:
        """Build the whole site beside; a build that is on its way already is followed by another."""
        if self._thread is None:
            self._thread = threading.Thread(target=self._build_beside, daemon=True)
            self._thread.start()

    def _build_beside(self) -> None:
        while True:
            try:
                self._build_whole()
            except Unwanted:
                return
            except (Exception, SystemExit) as error:
                log.error(f"the site could not be built, and stays as it is: {error}")
                with self._lock:
                    self._thread = None
                return
            if self._watcher is not None:
                self._watcher.tell()
            with self._lock:
                if not self._saved:
                    self._thread = None
                    return
