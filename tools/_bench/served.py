"""Owns a web server on this computer for a finished site: the theme's own search works from no folder."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path


class _Quiet(SimpleHTTPRequestHandler):
    protocol_version = "HTTP/1.1"

    def log_message(self, format: str, *args: object) -> None:
        """Say nothing: the table is all that is shown."""


@contextmanager
def served(site: Path) -> Iterator[str]:
    """Serve a folder, nothing compressed, and yield its address without a slash at the end."""
    with ThreadingHTTPServer(("127.0.0.1", 0), partial(_Quiet, directory=str(site))) as server:
        server.daemon_threads = True
        thread = threading.Thread(target=server.serve_forever, daemon=True)
        thread.start()
        try:
            yield f"http://127.0.0.1:{server.server_address[1]}"
        finally:
            server.shutdown()
            thread.join()
