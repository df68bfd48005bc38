"""Owns a small client of the Language Server Protocol: as much as an editor says while somebody writes a record."""

from __future__ import annotations

import json
import queue
import shutil
import subprocess
import threading
from pathlib import Path
from typing import Any, Self

SERVER = (
    Path(__file__).resolve().parents[1]
    / "node_modules"
    / "yaml-language-server"
    / "bin"
    / "yaml-language-server"
)
_PATIENCE = 60  # seconds; a busy machine is slow, a dead server says nothing


def missing() -> str:
    """Return what is not installed, or an empty text."""
    if shutil.which("node") is None:
        return "Node.js (Debian: nodejs)"
    return "" if SERVER.is_file() else "yaml-language-server (python3 tools/test.py installs it)"


class LanguageServer:
    """The real yaml-language-server over standard input and output, with one folder open and settings of its own."""

    def __init__(self, folder: Path, settings: dict[str, Any]) -> None:
        self._folder = folder
        self._settings = settings
        self._next = 0
        self._inbox: queue.Queue[dict[str, Any]] = queue.Queue()
        self._diagnostics: dict[str, list[dict[str, Any]]] = {}

    def __enter__(self) -> Self:
        self._process = subprocess.Popen(
            ["node", str(SERVER), "--stdio"],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
        )
        threading.Thread(target=self._read, daemon=True).start()
        root = self._folder.as_uri()
        self.ask(
            "initialize",
            {
                "processId": None,
                "rootUri": root,
                "workspaceFolders": [{"uri": root, "name": "book"}],
                "capabilities": {
                    "workspace": {"configuration": True, "workspaceFolders": True},
                    "textDocument": {
                        "completion": {
                            "completionItem": {"documentationFormat": ["markdown"], "snippetSupport": True}
                        },
                        "hover": {"contentFormat": ["markdown"]},
                    },
                },
            },
        )
        self.tell("initialized", {})
        self.tell("workspace/didChangeConfiguration", {"settings": self._settings})
        return self

    def __exit__(self, *_: object) -> None:
        self.ask("shutdown", None)
        self.tell("exit", None)
        assert self._process.stdin is not None
        self._process.stdin.close()
        self._process.wait(_PATIENCE)
        assert self._process.stdout is not None
        self._process.stdout.close()

    def open(self, path: str, text: str) -> list[dict[str, Any]]:
        """Show the server a file of the folder with this text, and return what it marks."""
        uri = (self._folder / path).as_uri()
        self._diagnostics.pop(uri, None)
        document = {"uri": uri, "languageId": "yaml", "version": 1, "text": text}
        self.tell("textDocument/didOpen", {"textDocument": document})
        while uri not in self._diagnostics:
            self._take()
        return self._diagnostics.pop(uri)

    def close(self, path: str) -> None:
        """Tell the server that the file is no longer shown."""
        self.tell("textDocument/didClose", {"textDocument": {"uri": (self._folder / path).as_uri()}})

    def at(self, method: str, path: str, line: int, character: int) -> Any:
        """Ask for completion or hover at a place that counts from 0."""
        return self.ask(
            f"textDocument/{method}",
            {
                "textDocument": {"uri": (self._folder / path).as_uri()},
                "position": {"line": line, "character": character},
            },
        )

    def ask(self, method: str, params: Any) -> Any:
        """Send a request and return its result."""
        self._next += 1
        number = self._next
        self._send({"jsonrpc": "2.0", "id": number, "method": method, "params": params})
        while True:
            message = self._take()
            if message.get("id") == number and "method" not in message:
                assert "error" not in message, message
                return message.get("result")

    def tell(self, method: str, params: Any) -> None:
        """Send a notification."""
        self._send({"jsonrpc": "2.0", "method": method, "params": params})

    def _send(self, message: dict[str, Any]) -> None:
        body = json.dumps(message).encode()
        assert self._process.stdin is not None
        self._process.stdin.write(b"Content-Length: %d\r\n\r\n%s" % (len(body), body))
        self._process.stdin.flush()

    def _take(self) -> dict[str, Any]:
        """Return the next message; the server's own questions are answered on the way."""
        message = self._inbox.get(timeout=_PATIENCE)
        if message.get("method") == "textDocument/publishDiagnostics":
            self._diagnostics[message["params"]["uri"]] = message["params"]["diagnostics"]
        elif "method" in message and "id" in message:
            self._send({"jsonrpc": "2.0", "id": message["id"], "result": self._answer(message)})
        return message

    def _answer(self, message: dict[str, Any]) -> Any:
        if message["method"] == "workspace/configuration":
            return [self._settings.get(item.get("section", "")) for item in message["params"]["items"]]
        return None

    def _read(self) -> None:
        stream = self._process.stdout
        assert stream is not None
        while True:
            length = 0
            for line in iter(stream.readline, b"\r\n"):
                if not line:
                    return
                if line.lower().startswith(b"content-length:"):
                    length = int(line.split(b":")[1])
            self._inbox.put(json.loads(stream.read(length)))
