"""Owns timing the live preview: from the moment a record is saved to the moment its page shows the change."""

from __future__ import annotations

import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request

from _bench.project import MeasuringFault, NotHere, Project

_PATIENCE_SECONDS = 600.0
_PAUSE_SECONDS = 0.01


def seconds_to_show(project: Project) -> float:
    """Start a preview, edit a record, and return the seconds until its page shows the change; ends the preview.

    Raises `NotHere` when the preview does not start.
    """
    port = _free_port()
    command = [sys.executable, "-m", "mkdocs", "serve", "--dev-addr", f"127.0.0.1:{port}"]
    address = f"http://127.0.0.1:{port}/{project.book.edited_page}"
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
            _wait_for(address, words, server)
            return time.perf_counter() - began
        finally:
            server.terminate()
            server.wait()


def _free_port() -> int:
    with socket.socket() as listener:
        listener.bind(("127.0.0.1", 0))
        port: int = listener.getsockname()[1]
        return port


def _wait_for(address: str, words: str, server: subprocess.Popen[bytes]) -> None:
    direct = urllib.request.build_opener(urllib.request.ProxyHandler({}))  # a proxy cannot reach our loopback
    deadline = time.monotonic() + _PATIENCE_SECONDS
    while time.monotonic() < deadline:
        if server.poll() is not None:
            raise NotHere(f"`mkdocs serve` ended with exit code {server.returncode}")
        try:
            with direct.open(address, timeout=_PATIENCE_SECONDS) as answer:
                if words.encode() in answer.read():
                    return
        except (urllib.error.URLError, ConnectionError):
            pass  # it does not listen yet
        time.sleep(_PAUSE_SECONDS)
    raise MeasuringFault(f"the preview did not show `{words}` within {_PATIENCE_SECONDS:.0f} s")
