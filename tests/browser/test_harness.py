"""Proves the browser harness on a small site of its own, before anything relies on its silence."""

from __future__ import annotations

import os
import shutil
import sys
from collections.abc import Callable
from pathlib import Path
from statistics import median
from urllib.parse import unquote

import pytest
from playwright.sync_api import Page

from tests.browser.harness import PHONE, Firefox, PageLog, find_browser, is_remote

INDEX = """<!doctype html>
<html lang="en"><head><meta charset="utf-8"><title>Before</title>
<link rel="stylesheet" href="sub folder/look.css"></head>
<body><main><h1>Bench</h1><input id="words" aria-label="Words"><button id="go">Find the value</button>
<p id="out"></p><p><a href="next.html">Next page</a></p></main>
<script src="sub folder/act.js"></script></body></html>
"""
NEXT = "<!doctype html><html lang='en'><head><title>Next</title></head><body></body></html>"
LOOK = "h1 { color: rgb(1, 2, 3) }"
ACT = """document.title = 'Script ran';
document.getElementById('go').addEventListener('click', function () {
  document.getElementById('out').textContent = document.getElementById('words').value + ' ≤ 24 N·m';
});
"""


@pytest.fixture(scope="module")
def small_site(awkward_folder: Path) -> Path:
    """Two linked pages with a script and a style sheet, below an awkward path."""
    folder = awkward_folder / "small"
    (folder / "sub folder").mkdir(parents=True)
    for name, text in (
        ("index.html", INDEX),
        ("next.html", NEXT),
        ("sub folder/look.css", LOOK),
        ("sub folder/act.js", ACT),
    ):
        (folder / name).write_text(text, encoding="utf-8")
    return folder


def with_script(folder: Path, name: str, script: str) -> str:
    """Write a page that runs this script; return its address."""
    path = folder / name
    path.write_text(INDEX.replace("</body>", f"<script>{script}</script></body>"), encoding="utf-8")
    return path.as_uri()


class TestChromium:
    def test_opens_files_below_an_awkward_path(self, page: Page, small_site: Path) -> None:
        page.goto((small_site / "index.html").as_uri())
        assert page.title() == "Script ran"
        assert page.evaluate("getComputedStyle(document.querySelector('h1')).color") == "rgb(1, 2, 3)"
        page.fill("#words", "head bolt")
        page.click("#go")
        assert page.inner_text("#out") == "head bolt ≤ 24 N·m"
        page.click("text=Next page")
        page.wait_for_url("**/next.html")
        assert unquote(page.url).endswith(f"{small_site.as_posix()}/next.html")

    @pytest.mark.parametrize(
        ("script", "address"),
        [
            ("new Image().src = 'http://shop.invalid/a.png'", "http://shop.invalid/a.png"),
            ("new WebSocket('ws://shop.invalid/live')", "ws://shop.invalid/live"),
            ("fetch('https://shop.invalid/data').catch(function () {})", "https://shop.invalid/data"),
            ("navigator.sendBeacon('https://shop.invalid/seen')", "https://shop.invalid/seen"),
            (
                "new Worker(URL.createObjectURL(new Blob(["
                "\"fetch('https://shop.invalid/worker').catch(function () {})\"])))",
                "https://shop.invalid/worker",
            ),
            (
                "document.body.insertAdjacentHTML('beforeend', '<iframe src=\"http://shop.invalid/\"></iframe>')",
                "http://shop.invalid/",
            ),
        ],
        ids=["image", "websocket", "fetch", "beacon", "worker", "frame"],
    )
    def test_catches_a_page_that_asks_the_network(
        self, page: Page, page_log: PageLog, small_site: Path, script: str, address: str
    ) -> None:
        page.goto(with_script(small_site, "asks.html", script))
        page.wait_for_timeout(300)
        assert page_log.take_requests() == [address]
        page_log.take_errors()

    def test_catches_a_failing_script(self, page: Page, page_log: PageLog, small_site: Path) -> None:
        page.goto(with_script(small_site, "fails.html", "throw new Error('slipped belt')"))
        assert page_log.take_errors() == ["slipped belt"]

    def test_reads_no_file_by_script_as_a_user_s_browser_would_not(
        self, page: Page, page_log: PageLog, small_site: Path
    ) -> None:
        page.goto((small_site / "index.html").as_uri())
        assert page.evaluate("fetch('next.html').then(() => 'read', () => 'refused')") == "refused"
        assert page_log.take_errors() != []

    def test_pages_have_the_size_asked_for(
        self, page: Page, phone_page: Page, open_page: Callable[..., Page]
    ) -> None:
        size = "[innerWidth, innerHeight]"
        assert page.evaluate(size) == [1366, 768]
        assert phone_page.evaluate(size) == [390, 844]
        assert open_page(size=(1024, 768)).evaluate(size) == [1024, 768]

    def test_a_slowed_page_takes_longer(self, open_page: Callable[..., Page]) -> None:
        # Chromium slows a page by pausing it some thousand times a second, from a thread of its own. On a busy
        # computer a whole page may slip through between two pauses: the median of several pages counts. Of the
        # page at full speed the shortest run counts, as the one that a busy computer disturbed least.
        runs = """runs => { const all = [];
            for (let run = 0; run < runs; run++) {
                const began = performance.now();
                for (let sum = 0, i = 0; i < 1e8; i++) sum += i % 7;
                all.push(performance.now() - began);
            }
            return all; }"""
        usual = min(open_page().evaluate(runs, 6))
        slowed = [took for _ in range(3) for took in open_page(slowdown=6).evaluate(runs, 3)]
        assert median(slowed) > 2 * usual

    def test_a_page_without_javascript_runs_no_script(
        self, open_page: Callable[..., Page], small_site: Path
    ) -> None:
        page = open_page(javascript=False)
        page.goto((small_site / "index.html").as_uri())
        assert page.title() == "Before"

    def test_axe_finds_what_is_wrong_and_nothing_else(
        self, page: Page, violations: Callable[[Page], dict[str, list[str]]], small_site: Path
    ) -> None:
        page.goto((small_site / "index.html").as_uri())
        assert violations(page) == {}
        page.evaluate(
            """document.querySelector('main').insertAdjacentHTML('beforeend',
               '<img src="data:,"><button style="width:9px;height:9px;padding:0" aria-label="a"></button>'
               + '<button style="width:9px;height:9px;padding:0" aria-label="b"></button>')"""
        )
        assert set(violations(page)) == {"image-alt", "target-size"}


class TestFirefox:
    def test_opens_files_below_an_awkward_path(self, firefox: Firefox, small_site: Path) -> None:
        address = (small_site / "index.html").as_uri()
        results = firefox.play(
            {"goto": address},
            {"type": {"into": "#words", "text": "head bolt"}},
            {"click": "#go"},
            {"evaluate": "[document.title, document.getElementById('out').textContent, innerWidth]"},
            {"evaluate": "getComputedStyle(document.querySelector('h1')).color"},
            {"click": "a"},
            {"waitFor": "body:empty"},
            {"evaluate": "location.href"},
            size=PHONE,
        )
        assert results[3] == ["Script ran", "head bolt ≤ 24 N·m", 390]
        assert results[4] == "rgb(1, 2, 3)"
        assert unquote(results[7]).endswith(f"{small_site.as_posix()}/next.html")

    def test_catches_a_page_that_asks_the_network(
        self, firefox: Firefox, page_log: PageLog, small_site: Path
    ) -> None:
        address = with_script(small_site, "asks.html", "new Image().src = 'https://shop.invalid/a.png'")
        firefox.play({"goto": address}, {"evaluate": "new Promise(done => setTimeout(done, 300))"})
        assert page_log.take_requests() == ["https://shop.invalid/a.png"]

    def test_catches_a_failing_script(self, firefox: Firefox, page_log: PageLog, small_site: Path) -> None:
        firefox.play({"goto": with_script(small_site, "fails.html", "throw new Error('slipped belt')")})
        assert [error for error in page_log.take_errors() if "slipped belt" in error]

    def test_takes_a_screenshot(self, firefox: Firefox, small_site: Path, tmp_path: Path) -> None:
        picture = tmp_path / "page.png"
        firefox.play({"goto": (small_site / "index.html").as_uri()}, {"screenshot": str(picture)})
        assert picture.read_bytes().startswith(b"\x89PNG\r\n")

    @pytest.mark.parametrize(
        ("action", "message"),
        [
            ({"fly": "home"}, "action 0: expected one of goto, .*; found fly"),
            ({"evaluate": "nothing.here"}, "action 0, .*nothing is not defined"),
        ],
    )
    def test_fails_the_test_when_an_action_fails(
        self, firefox: Firefox, action: dict[str, str], message: str
    ) -> None:
        with pytest.raises(pytest.fail.Exception, match=message):
            firefox.play(action)


class TestMissingBrowser:
    def test_skips_at_a_desk(self, monkeypatch: pytest.MonkeyPatch) -> None:
        monkeypatch.delenv("CI", raising=False)
        monkeypatch.delenv("SHEARPIN_CHROMIUM", raising=False)
        with pytest.raises(pytest.skip.Exception, match="no such-browser on this computer"):
            find_browser("SHEARPIN_CHROMIUM", ("such-browser",))

    def test_fails_where_ci_is_true(self, monkeypatch: pytest.MonkeyPatch) -> None:
        monkeypatch.setenv("CI", "true")
        monkeypatch.delenv("SHEARPIN_CHROMIUM", raising=False)
        with pytest.raises(pytest.fail.Exception, match="no such-browser on this computer"):
            find_browser("SHEARPIN_CHROMIUM", ("such-browser",))

    def test_takes_the_one_that_is_named(self, monkeypatch: pytest.MonkeyPatch) -> None:
        monkeypatch.setenv("SHEARPIN_CHROMIUM", "/opt/browser")
        assert find_browser("SHEARPIN_CHROMIUM", ("such-browser",)) == "/opt/browser"

    def test_takes_the_first_on_the_path(self, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
        name = "browser.exe" if os.name == "nt" else "browser"
        shutil.copy(shutil.which("git") or sys.executable, tmp_path / name)
        monkeypatch.delenv("SHEARPIN_CHROMIUM", raising=False)
        monkeypatch.setenv("PATH", str(tmp_path))
        assert Path(find_browser("SHEARPIN_CHROMIUM", ("absent", "browser"))) == tmp_path / name


@pytest.mark.parametrize(
    ("address", "remote"),
    [
        ("file:///C:/manual/index.html", False),
        ("file://server/share/index.html", False),
        ("data:,x", False),
        ("blob:null/1", False),
        ("about:blank", False),
        ("http://shop.invalid/", True),
        ("https://shop.invalid/", True),
        ("ws://shop.invalid/", True),
        ("//shop.invalid/", True),
    ],
)
def test_remote_is_what_leaves_the_files(address: str, remote: bool) -> None:
    assert is_remote(address) is remote


class TestBuiltSite:
    """The project's own front page, from an awkward path: what other browser tests build upon."""

    def test_opens_in_chromium(self, page: Page, awkward_site: Path) -> None:
        page.goto((awkward_site / "index.html").as_uri())
        page.wait_for_load_state("load")
        assert page.locator("h1").count() >= 1

    def test_opens_in_firefox(self, firefox: Firefox, awkward_site: Path) -> None:
        address = (awkward_site / "index.html").as_uri()
        headings = firefox.play({"goto": address}, {"evaluate": "document.querySelectorAll('h1').length"})[1]
        assert headings >= 1
