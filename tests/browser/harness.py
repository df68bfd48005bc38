"""Owns what the browser tests drive: pages cut off from the network, and a log of what they must not do."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, NoReturn
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import BrowserContext, ConsoleMessage, Page, Request

LOCAL_SCHEMES = frozenset({"about", "blob", "data", "file"})
DESKTOP = (1366, 768)  # an old shop PC
PHONE = (390, 844)
ENDING_SECONDS = 30
UNPACK = """const fs = require('fs'), zlib = require('zlib'), [from, to] = process.argv.slice(1);
require('stream').pipeline(fs.createReadStream(from), zlib.createBrotliDecompress(), fs.createWriteStream(to),
    error => { if (error) throw error; });"""

# One thing for Firefox to do; firefox.mjs lists them.
Action = Mapping[str, Any]


@dataclass  # no slots: Playwright keeps notes of its own on the object whose method it calls back
class PageLog:
    """What pages did that they must not: addresses they asked the network for, and errors of their scripts.

    Checked when the test ends. A test that expects entries takes them out first.
    """

    requests: list[str] = field(default_factory=list)
    errors: list[str] = field(default_factory=list)

    def take_requests(self) -> list[str]:
        """Return the addresses asked for so far, and forget them."""
        taken, self.requests = self.requests, []
        return taken

    def take_errors(self) -> list[str]:
        """Return the script errors so far, and forget them."""
        taken, self.errors = self.errors, []
        return taken

    def watch(self, context: BrowserContext) -> None:
        """Note what the pages of this context do, and take the network from them.

        Requests are watched, not held up: a handler for each would slow the pages that tests time.
        """
        context.set_offline(True)
        context.on("request", self._note_request)
        context.on("page", self._watch_page)

    def _watch_page(self, page: Page) -> None:
        page.on("websocket", lambda socket: self.requests.append(socket.url))
        page.on("pageerror", lambda error: self.errors.append(error.message))
        page.on("console", self._note_message)

    def _note_request(self, request: Request) -> None:
        if is_remote(request.url):
            self.requests.append(request.url)

    def _note_message(self, message: ConsoleMessage) -> None:
        if message.type == "error":
            self.errors.append(message.text)


@dataclass(frozen=True, slots=True)
class Firefox:
    """A running Firefox: give it actions, get one result for each."""

    process: subprocess.Popen[str]
    log: PageLog

    def play(self, *actions: Action, size: tuple[int, int] = DESKTOP) -> list[Any]:
        """Play the actions in a page of its own. Fails the test when an action fails."""
        assert self.process.stdin is not None
        assert self.process.stdout is not None
        request = {"width": size[0], "height": size[1], "actions": actions}
        self.process.stdin.write(json.dumps(request) + "\n")
        self.process.stdin.flush()
        answer = self.process.stdout.readline()
        if not answer:
            pytest.fail(f"Firefox ended with exit code {self.process.wait()}", pytrace=False)
        report = json.loads(answer)
        self.log.requests.extend(report["requests"])
        self.log.errors.extend(report["errors"])
        if "failed" in report:
            pytest.fail(report["failed"])
        results: list[Any] = report["results"]
        return results


def start_firefox(node: str, driver: Path, executable: str) -> subprocess.Popen[str]:
    """Start Firefox below Node.js, to be told what to do by `Firefox.play`."""
    command = [node, str(driver), executable]
    return subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, encoding="utf-8")


def end_firefox(process: subprocess.Popen[str]) -> None:
    """Let Firefox close; force it when it does not."""
    assert process.stdin is not None
    assert process.stdout is not None
    process.stdin.close()
    try:
        process.wait(ENDING_SECONDS)
    except subprocess.TimeoutExpired:
        process.kill()
        process.wait()
    process.stdout.close()


def is_remote(url: str) -> bool:
    """Tell whether an address leads off this computer's files."""
    return urlsplit(url).scheme not in LOCAL_SCHEMES


def find_browser(setting: str, commands: Sequence[str]) -> str:
    """Return the path of a browser: the one the setting names, or the first command found."""
    found = os.environ.get(setting) or next(filter(None, map(shutil.which, commands)), None)
    if found is None:
        missing(f"no {' or '.join(commands)} on this computer, and {setting} is not set")
    return found


def old_chromium(node_modules: Path) -> Path:
    """Return Chromium 109, unpacked beside its npm package when first asked for."""
    packed = node_modules / "@sparticuz" / "chromium" / "bin" / "chromium.br"
    node = shutil.which("node")
    if sys.platform != "linux" or node is None or not packed.is_file():
        missing("Chromium 109 comes with @sparticuz/chromium for Linux: run tools/test.py, which installs it")
    browser = node_modules / ".chromium-109"
    if not browser.is_file():
        unfinished = browser.with_name(f"{browser.name}.{os.getpid()}")
        subprocess.run([node, "-e", UNPACK, str(packed), str(unfinished)], check=True)
        unfinished.chmod(0o755)
        unfinished.replace(browser)
    return browser


def missing(reason: str) -> NoReturn:
    """End a test for lack of something it drives: as skipped at a desk, as failed where CI is `true`."""
    if os.environ.get("CI") == "true":
        pytest.fail(reason, pytrace=False)
    pytest.skip(reason)
