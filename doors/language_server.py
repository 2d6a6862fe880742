"""As much of the language server protocol as it takes to open a file as an editor does and hear what is marked."""

from __future__ import annotations

import json
import queue
import subprocess
import threading
from pathlib import Path
from typing import Any


class LanguageServer:
    """A running server, spoken to over its standard input and output. Requests of its own are answered with nothing."""

    def __init__(self, command: list[str], folder: Path) -> None:
        """Start it for the files of a folder."""
        self._process = subprocess.Popen(
            command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, cwd=folder
        )
        self._folder = folder
        self._heard: queue.Queue[dict[str, Any]] = queue.Queue()
        threading.Thread(target=self._listen, daemon=True).start()
        self._numbers = iter(range(1, 10_000))
        root = folder.as_uri()
        self._ask(
            "initialize",
            {
                "processId": None,
                "rootUri": root,
                "capabilities": {"textDocument": {"publishDiagnostics": {}, "hover": {}, "completion": {}}},
                "workspaceFolders": [{"uri": root, "name": "circuits"}],
            },
        )
        self._say("initialized", {})

    def __enter__(self) -> LanguageServer:
        """The server itself."""
        return self

    def __exit__(self, *_: object) -> None:
        """End it."""
        self._process.kill()
        self._process.wait()

    def opened(self, file: Path, seconds: float = 20) -> list[dict[str, Any]]:
        """What the server marks in a file when it is opened; it may take more than one message to get there."""
        self._say(
            "textDocument/didOpen",
            {
                "textDocument": {
                    "uri": file.as_uri(),
                    "languageId": "toml",
                    "version": 1,
                    "text": file.read_text("utf-8"),
                }
            },
        )
        marks: list[dict[str, Any]] = []
        try:
            while True:
                message = self._next(seconds)
                if (
                    message.get("method") == "textDocument/publishDiagnostics"
                    and message["params"]["uri"] == file.as_uri()
                ):
                    marks, seconds = message["params"]["diagnostics"], 3  # the schema's own come after the grammar's
        except queue.Empty:
            return marks

    def hover(self, file: Path, line: int, character: int) -> str:
        """What is shown about the place, counted from 0."""
        place = {"textDocument": {"uri": file.as_uri()}, "position": {"line": line, "character": character}}
        return json.dumps(self._ask("textDocument/hover", place))

    def _ask(self, method: str, params: dict[str, Any]) -> Any:
        number = next(self._numbers)
        self._send({"jsonrpc": "2.0", "id": number, "method": method, "params": params})
        while True:
            message = self._next(20)
            if message.get("id") == number and "method" not in message:
                return message.get("result")

    def _say(self, method: str, params: dict[str, Any]) -> None:
        self._send({"jsonrpc": "2.0", "method": method, "params": params})

    def _next(self, seconds: float) -> dict[str, Any]:
        message = self._heard.get(timeout=seconds)
        if "id" in message and "method" in message:
            self._send({"jsonrpc": "2.0", "id": message["id"], "result": None})
        return message

    def _send(self, message: dict[str, Any]) -> None:
        assert self._process.stdin
        data = json.dumps(message).encode()
        self._process.stdin.write(f"Content-Length: {len(data)}\r\n\r\n".encode() + data)
        self._process.stdin.flush()

    def _listen(self) -> None:
        assert self._process.stdout
        while True:
            length = 0
            while line := self._process.stdout.readline().strip():
                name, _, value = line.partition(b":")
                if name.lower() == b"content-length":
                    length = int(value)
            if not length:
                return
            self._heard.put(json.loads(self._process.stdout.read(length)))
