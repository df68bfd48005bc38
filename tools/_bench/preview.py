"""Owns timing the live preview: from the moment a record is saved to its page, and to the whole site."""

from __future__ import annotations

import re
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request

from _bench.project import MeasuringFault, NotHere, Project

_PATIENCE_SECONDS = 600.0
_PAUSE_SECONDS = 0.01


def seconds_to_show(project: Project) -> tuple[float, float]:
    """Start a preview, edit a record, and return the seconds until its page shows the change and until the whole site does.

    Ends the preview. The whole site is there when the browser is told to load once more. Raises `NotHere` when the preview does not start.
    """
    port = _free_port()
    command = [sys.executable, "-m", "mkdocs", "serve", "--dev-addr", f"127.0.0.1:{port}"]
    root = f"http://127.0.0.1:{port}/"
    address = root + project.book.edited_page
    with (project.root / "preview.txt").open("wb") as stream:
        server = subprocess.Popen(
            command,
            cwd=project.root,
            env=project.environment(),
            stdin=subprocess.DEVNULL,
            stdout=stream,
            stderr=stream,
        )
        try:
            _wait_for(address, "</html>", server)
            words = project.edit()
            began = time.perf_counter()
            page = _wait_for(address, words, server)
            shown = time.perf_counter() - began
            _wait_for_next(root, page)
            return shown, time.perf_counter() - began
        finally:
            server.terminate()
            server.wait()


def _free_port() -> int:
    with socket.socket() as listener:
        listener.bind(("127.0.0.1", 0))
        port: int = listener.getsockname()[1]
        return port


# A proxy cannot reach our loopback.
_DIRECT = urllib.request.build_opener(urllib.request.ProxyHandler({}))
_VERSION = re.compile(rb"livereload\(([0-9]+),")


def _wait_for_next(root: str, page: bytes) -> None:
    """Wait until the preview tells of a newer site than the one that a page of it is of."""
    found = _VERSION.search(page)
    if found is None:
        raise MeasuringFault("a page of the preview does not say of which site it is")
    version = int(found[1])
    with _DIRECT.open(f"{root}livereload/{version}/1", timeout=_PATIENCE_SECONDS) as answer:
        if int(answer.read()) <= version:
            raise NotHere("the preview told of no whole site within a minute")


def _wait_for(address: str, words: str, server: subprocess.Popen[bytes]) -> bytes:
    """Return the page at an address once it shows these words."""
    deadline = time.monotonic() + _PATIENCE_SECONDS
    while time.monotonic() < deadline:
        if server.poll() is not None:
            raise NotHere(f"`mkdocs serve` ended with exit code {server.returncode}")
        try:
            with _DIRECT.open(address, timeout=_PATIENCE_SECONDS) as answer:
                page: bytes = answer.read()
                if words.encode() in page:
                    return page
        except (urllib.error.URLError, ConnectionError):
            pass  # it does not listen yet
        time.sleep(_PAUSE_SECONDS)
    raise MeasuringFault(f"the preview did not show `{words}` within {_PATIENCE_SECONDS:.0f} s")
