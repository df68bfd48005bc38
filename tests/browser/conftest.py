"""Owns the browser fixtures: Debian's Chromium by Playwright, stock Firefox by Puppeteer, axe-core."""

from __future__ import annotations

import os
import shutil
import subprocess
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, sync_playwright

from tests.browser.harness import (
    DESKTOP,
    PHONE,
    Firefox,
    PageLog,
    end_firefox,
    find_browser,
    missing,
    old_chromium,
    start_firefox,
)

BROWSER_TESTS = Path(__file__).resolve().parent
NODE_MODULES = BROWSER_TESTS.parent / "node_modules"

# Never --allow-file-access-from-files: the manual must open where nobody can set flags.
CHROMIUM_FLAGS = (
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--host-resolver-rules=MAP * ~NOTFOUND",  # no name or address leads anywhere, were a page to ask for one
)

OLD = "chromium-109"

# preload: axe-core would fetch the style sheets again, which no browser allows from file://
AXE_RUN = """() => axe.run({
    runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'],
    rules: {'target-size': {enabled: true}},
    preload: false,
}).then(report => report.violations.map(v => [v.id, v.nodes.map(n => n.target.join(' '))]))"""


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    for item in items:
        if BROWSER_TESTS in item.path.parents:
            item.add_marker(pytest.mark.browser)


def pytest_generate_tests(metafunc: pytest.Metafunc) -> None:
    """Run the tests of a module twice where it says `OLD_BROWSER_TOO = True`."""
    if "chromium" in metafunc.fixturenames and getattr(metafunc.module, "OLD_BROWSER_TOO", False):
        metafunc.parametrize("chromium", ["current", OLD], indirect=True, scope="session")


@pytest.fixture(scope="session")
def chromium(request: pytest.FixtureRequest) -> Iterator[Browser]:
    """Debian's Chromium, or another one that SHEARPIN_CHROMIUM names, without a window.

    Where the test asks for it, Chromium 109: the last one for Windows 7 and 8.1, which old shop computers run.
    """
    if getattr(request, "param", "current") == OLD:
        executable = str(old_chromium(NODE_MODULES))
    else:
        executable = find_browser("SHEARPIN_CHROMIUM", ("chromium", "chromium-browser", "google-chrome"))
    is_root = hasattr(os, "geteuid") and os.geteuid() == 0
    flags = [*CHROMIUM_FLAGS, *(["--no-sandbox"] if is_root else [])]  # its sandbox refuses root
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=executable, args=flags)
        yield browser
        browser.close()


@pytest.fixture
def page_log() -> Iterator[PageLog]:
    """What the pages of this test asked of the network, and their script errors: none may be left over."""
    log = PageLog()
    yield log
    assert log.requests == [], "pages asked the network for these"
    assert log.errors == [], "scripts of pages failed"


@pytest.fixture
def open_page(chromium: Browser, page_log: PageLog) -> Iterator[Callable[..., Page]]:
    """Makes Chromium pages that share nothing: `open_page(size=PHONE, slowdown=4, javascript=False)`.

    `slowdown` divides the processor's speed; other keywords go to Playwright's `new_context`.
    """
    contexts: list[BrowserContext] = []

    def new_page(
        size: tuple[int, int] = DESKTOP, slowdown: float = 1, javascript: bool = True, **settings: Any
    ) -> Page:
        context = chromium.new_context(
            viewport={"width": size[0], "height": size[1]}, java_script_enabled=javascript, **settings
        )
        contexts.append(context)
        page_log.watch(context)
        page = context.new_page()
        if slowdown != 1:
            context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": slowdown})
        return page

    yield new_page
    for context in contexts:
        context.close()


@pytest.fixture
def page(open_page: Callable[..., Page]) -> Page:
    """A Chromium page of an old shop PC's size."""
    return open_page()


@pytest.fixture
def phone_page(open_page: Callable[..., Page]) -> Page:
    """A Chromium page of a phone's size, with touch."""
    return open_page(size=PHONE, has_touch=True)


@pytest.fixture(scope="session")
def firefox_process() -> Iterator[subprocess.Popen[str]]:
    """Stock Firefox, or another one that SHEARPIN_FIREFOX names, without a window; started once."""
    executable = find_browser("SHEARPIN_FIREFOX", ("firefox-esr", "firefox"))
    node = shutil.which("node")
    if node is None or not (NODE_MODULES / "puppeteer-core").is_dir():
        missing("Firefox is driven by Node.js and puppeteer-core: run tools/test.py, which installs them")
    process = start_firefox(node, BROWSER_TESTS / "firefox.mjs", executable)
    yield process
    end_firefox(process)


@pytest.fixture
def firefox(firefox_process: subprocess.Popen[str], page_log: PageLog) -> Firefox:
    """Firefox; what its pages must not do goes to this test's page log."""
    return Firefox(firefox_process, page_log)


@pytest.fixture(scope="session")
def axe_source() -> str:
    """The script of axe-core, the accessibility checker."""
    source = NODE_MODULES / "axe-core" / "axe.min.js"
    if not source.is_file():
        missing("axe-core is not installed: run tools/test.py, which installs it")
    return source.read_text(encoding="utf-8")


@pytest.fixture
def violations(axe_source: str) -> Callable[[Page], dict[str, list[str]]]:
    """Returns what breaks WCAG 2.2 A and AA on a page: rule id to the selectors of the elements.

    axe-core leaves `target-size`, a rule of WCAG 2.2, off unless asked for.
    """

    def check(page: Page) -> dict[str, list[str]]:
        page.evaluate(axe_source)
        return dict(page.evaluate(AXE_RUN))

    return check
