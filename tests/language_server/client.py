"""A small client of the Language Server Protocol 3.17 (base protocol: header, JSON-RPC 2.0)."""

from __future__ import annotations

import json
import subprocess
from pathlib import Path
from typing import Any


class Client:
    """One server process; its own questions to the client are answered with nothing."""

    def __init__(self, command: list[str], root: Path) -> None:
        self.server = subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE)
        self.asked = 0
        self.diagnostics: dict[str, list[dict[str, Any]]] = {}
        self.ask("initialize", {"processId": None, "rootUri": root.as_uri(), "capabilities": {}})
        self.tell("initialized", {})
        settings = {"yaml": {"validate": True, "completion": True, "schemaStore": {"enable": False}}}
        self.tell("workspace/didChangeConfiguration", {"settings": settings})

    def __enter__(self) -> Client:
        return self

    def __exit__(self, *_: object) -> None:
        self.server.kill()
        self.server.communicate()

    def tell(self, method: str, params: object) -> None:
        """A notification."""
        self._send({"jsonrpc": "2.0", "method": method, "params": params})

    def ask(self, method: str, params: object) -> Any:
        """A request; its result."""
        self.asked += 1
        self._send({"jsonrpc": "2.0", "id": self.asked, "method": method, "params": params})
        while True:
            message = self._receive()
            if message.get("id") == self.asked and "method" not in message:
                return message["result"]

    def findings(self, uri: str) -> list[dict[str, Any]]:
        """What the server says of a document that has just been opened."""
        while uri not in self.diagnostics:
            self._receive()
        return self.diagnostics.pop(uri)

    def open(self, path: Path, text: str) -> str:
        """Open a document with this text in place of the file's; its URI."""
        uri = path.as_uri()
        document = {"uri": uri, "languageId": "yaml", "version": 1, "text": text}
        self.tell("textDocument/didOpen", {"textDocument": document})
        return uri

    def _send(self, message: object) -> None:
        body = json.dumps(message).encode("utf-8")
        if self.server.stdin is None:
            raise RuntimeError("the server has no input")
        self.server.stdin.write(f"Content-Length: {len(body)}\r\n\r\n".encode("ascii") + body)
        self.server.stdin.flush()

    def _receive(self) -> dict[str, Any]:
        if self.server.stdout is None:
            raise RuntimeError("the server has no output")
        length = 0
        while line := self.server.stdout.readline().strip():
            name, _, value = line.partition(b":")
            if name.lower() == b"content-length":
                length = int(value)
        if not length:
            raise RuntimeError("the server has gone")
        message: dict[str, Any] = json.loads(self.server.stdout.read(length))
        if message.get("method") == "textDocument/publishDiagnostics":
            self.diagnostics[message["params"]["uri"]] = message["params"]["diagnostics"]
        elif "method" in message and "id" in message:
            asked = message["params"].get("items") if isinstance(message.get("params"), dict) else None
            self._send(
                {"jsonrpc": "2.0", "id": message["id"], "result": [None] * len(asked) if asked else None}
            )
        return message
