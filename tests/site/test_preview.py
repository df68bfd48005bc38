"""The preview as it is served: a saved record is shown first, the whole site follows, and nothing saved meanwhile is lost."""

from __future__ import annotations

import os
import shutil
import signal
import socket
import subprocess
import sys
import threading
import time
import urllib.error
import urllib.request
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from shearpin.site import preview as preview_module
from shearpin.site.preview import Preview, Unwanted
from tests.conftest import ROOT
from tests.sound_book import SOUND_BOOK

_PATIENCE_SECONDS = 30.0


def until(what: Callable[[], bool]) -> bool:
    deadline = time.monotonic() + _PATIENCE_SECONDS
    while not what() and time.monotonic() < deadline:
        time.sleep(0.02)
    return what()


class Watching:
    """Stands for the watcher: says which files were saved, and counts how often the browser is told."""

    def __init__(self) -> None:
        self.names: set[str] = set()
        self.told = 0

    def saved(self) -> set[str]:
        names, self.names = self.names, set()
        return names

    def tell(self) -> None:
        self.told += 1


class Workshop:
    """A preview whose looks and builds are noted; a build waits until it is let go."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.watching = Watching()
        self.done: list[object] = []
        self.may_end = threading.Event()
        self.fault: BaseException | None = None
        self.preview = Preview()
        self.preview.begin(self._build, self.watching)  # type: ignore[arg-type]
        monkeypatch.setattr(preview_module, "look", self._look)
        self.preview.place(lambda: None, "first")  # type: ignore[arg-type]
        self.done.clear()

    def save(self, *names: str) -> None:
        self.watching.names |= set(names)
        self.preview.rebuild()

    def _look(self, shown: str, saved: set[str]) -> str | None:
        self.done.append(("look", sorted(saved)))
        return None if any(name.startswith("new") for name in saved) else shown

    def _build(self) -> None:
        self.done.append("begin")
        while not self.may_end.wait(0.01):
            self.preview.go_on()
        if self.fault is not None:
            raise self.fault
        self.preview.place(lambda: self.done.append("placed"), "whole")  # type: ignore[arg-type]


@pytest.fixture
def shop(monkeypatch: pytest.MonkeyPatch) -> Iterator[Workshop]:
    found = Workshop(monkeypatch)
    yield found
    found.preview.stop()


def test_a_saved_record_is_shown_before_the_whole_is_built(shop: Workshop) -> None:
    shop.save("a.yaml")
    assert until(lambda: len(shop.done) == 2)
    assert shop.done == [("look", ["a.yaml"]), "begin"]
    assert shop.watching.told == 0
    shop.may_end.set()
    assert until(lambda: shop.watching.told == 1)
    assert shop.done[2:] == ["placed", ("look", [])]


def test_what_is_saved_while_the_whole_is_built_is_shown_and_shown_again_in_the_new_site(
    shop: Workshop,
) -> None:
    shop.save("a.yaml")
    assert until(lambda: "begin" in shop.done)
    shop.save("b.yaml")
    assert shop.done[-1] == ("look", ["b.yaml"])
    shop.may_end.set()
    assert until(lambda: shop.watching.told == 2)
    assert shop.done[3:] == ["placed", ("look", ["b.yaml"]), "begin", "placed", ("look", [])]


def test_what_takes_the_whole_build_gives_up_the_one_under_way(shop: Workshop) -> None:
    shop.save("a.yaml")
    assert until(lambda: "begin" in shop.done)
    threading.Timer(0.2, shop.may_end.set).start()
    shop.save("new.yaml")
    assert shop.done[2:] == [("look", ["new.yaml"]), "begin", "placed", ("look", [])]


def test_without_a_saved_file_nothing_is_built(shop: Workshop) -> None:
    shop.save()
    assert shop.done == []


def test_a_build_that_fails_beside_leaves_the_site_and_is_tried_again(shop: Workshop) -> None:
    shop.fault = SystemExit("no such theme")
    shop.may_end.set()
    shop.save("a.yaml")
    assert until(lambda: shop.preview._thread is None)
    assert "placed" not in shop.done
    shop.fault = None
    shop.save("b.yaml")
    assert until(lambda: shop.watching.told == 1)
    assert shop.done[-2:] == ["placed", ("look", [])]


def test_only_a_build_beside_is_given_up(shop: Workshop) -> None:
    shop.preview._unwanted.set()
    shop.preview.go_on()
    raised: list[bool] = []

    def beside() -> None:
        try:
            shop.preview.go_on()
        except Unwanted:
            raised.append(True)

    thread = threading.Thread(target=beside)
    thread.start()
    thread.join()
    assert raised == [True]
    shop.preview._unwanted.clear()


class Served:
    """A preview in a process of its own."""

    def __init__(self, project: Path) -> None:
        self.project = project
        with socket.socket() as listener:
            listener.bind(("127.0.0.1", 0))
            self._root = f"http://127.0.0.1:{listener.getsockname()[1]}/"
        command = [sys.executable, "-m", "mkdocs", "serve", "-q", "-a", self._root.strip("/").split("//")[1]]
        temporary = project / "temporary"
        temporary.mkdir()
        environment = {**os.environ, "TMPDIR": str(temporary), "SHEARPIN_CACHE": str(project / "cache")}
        # A job in the background ignores interrupts, and so would whatever it starts.
        listening = None if os.name == "nt" else lambda: signal.signal(signal.SIGINT, signal.SIG_DFL)
        self.process = subprocess.Popen(command, cwd=project, env=environment, preexec_fn=listening)

    def end(self) -> int:
        """End the preview as a person does; return its exit code."""
        if os.name == "nt":
            self.process.terminate()
        else:
            self.process.send_signal(signal.SIGINT)
        return self.process.wait(_PATIENCE_SECONDS)

    def page(self, url: str) -> str:
        try:
            with urllib.request.build_opener(urllib.request.ProxyHandler({})).open(
                self._root + url
            ) as answer:
                content: bytes = answer.read()
                return content.decode()
        except (urllib.error.URLError, ConnectionError):
            return ""

    def shows(self, url: str, words: str) -> bool:
        return until(lambda: words in self.page(url))

    def change(self, path: str, old: str, new: str) -> None:
        file = self.project / "kb" / path
        content = file.read_text(encoding="utf-8")
        assert old in content
        file.write_text(content.replace(old, new, 1), encoding="utf-8")


@pytest.fixture
def served(tmp_path: Path) -> Iterator[Served]:
    shutil.copytree(SOUND_BOOK, tmp_path / "kb")
    (tmp_path / "kb" / "pages").mkdir(exist_ok=True)
    shutil.copytree(ROOT / "site_overrides", tmp_path / "site_overrides")
    settings = (ROOT / "mkdocs.yml").read_text(encoding="utf-8")
    head, _, rest = settings.partition("nav:")
    (tmp_path / "mkdocs.yml").write_text(head + rest[rest.index("markdown_extensions:") :], encoding="utf-8")
    found = Served(tmp_path)
    assert found.shows("index.html", "</html>")
    yield found
    found.process.kill()
    found.process.wait(_PATIENCE_SECONDS)


def test_a_saved_record_shows_on_its_page_and_then_in_the_whole_site(served: Served) -> None:
    page, listing = "tools/pin-punch.html", "tools/index.html"
    served.change("tools/pin-punch.yaml", "title: ", "title: Slender ")
    assert served.shows(page, "Slender")
    assert served.shows(listing, "Slender")
    served.change("tools/pin-punch.yaml", "title: ", "titel: ")
    assert served.shows(page, "FLD001")
    served.change("tools/pin-punch.yaml", "titel: Slender", "title: Stout")
    assert served.shows(page, "Stout")
    assert served.shows(listing, "Stout")
    # What only a rule on the whole book finds comes with the whole site.
    served.change("procedures/replace-auger-shear-bolt.yaml", "pin-punch", "pin-pusher")
    assert served.shows("procedures/replace-auger-shear-bolt.html", "REF001")
    served.change("procedures/replace-auger-shear-bolt.yaml", "pin-pusher", "pin-punch")
    assert until(lambda: "REF001" not in served.page("procedures/replace-auger-shear-bolt.html"))
    added = served.project / "kb" / "tools" / "new-punch.yaml"
    shutil.copy(served.project / "kb" / "tools" / "pin-punch.yaml", added)
    assert served.shows("tools/new-punch.html", "Stout")
    added.unlink()
    assert until(lambda: served.page("tools/new-punch.html") == "")
    assert served.end() == 0 or os.name == "nt"
    assert list((served.project / "temporary").glob("*mkdocs*")) == []
