"""A client of the standard protocol over a child's standard streams, with nothing of the server in it.

Messages are framed and read here; what comes back is held to the protocol's own types by lsprotocol.
"""

from __future__ import annotations

import json
import os
import queue
import subprocess
import sys
import threading
import time
from pathlib import Path
from typing import Any

from lsprotocol import converters, types

ROOT = Path(__file__).resolve().parents[2]
# A busy computer is no fault: waiting ends far later than anything takes.
PATIENCE_S = 60.0

_CONVERTER = converters.get_converter()


class Client:
    """One server process. `notes` are the notifications received so far, in order."""

    def __init__(self, folder: Path, *, encodings: list[str] | None = None, arguments: tuple[str, ...] = ("serve",)) -> None:
        path = os.pathsep.join([str(ROOT / "compiler"), os.environ.get("PYTHONPATH", "")])
        environment = os.environ | {"PYTHONPATH": path, "PYTHONDONTWRITEBYTECODE": "1"}
        self.process = subprocess.Popen(
            [sys.executable, "-m", "trivet", *arguments], cwd=folder, env=environment,
            stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
        )  # fmt: skip
        self.folder = folder
        self.encodings = encodings
        self.notes: list[dict[str, Any]] = []
        self._answers: dict[int, dict[str, Any]] = {}
        self.order: list[int] = []
        self._news: queue.Queue[dict[str, Any] | None] = queue.Queue()
        self._number = 0
        self._texts: dict[str, tuple[str, int]] = {}
        threading.Thread(target=self._read, daemon=True).start()

    def __enter__(self) -> Client:
        return self

    def __exit__(self, *_: object) -> None:
        if self.process.poll() is None:
            self.process.kill()
        self.process.wait()
        for stream in (self.process.stdin, self.process.stdout, self.process.stderr):
            assert stream is not None
            stream.close()

    def begin(self) -> types.InitializeResult:
        """The handshake."""
        capabilities: dict[str, Any] = {"workspace": {"didChangeWatchedFiles": {"dynamicRegistration": True}}}
        if self.encodings is not None:
            capabilities["general"] = {"positionEncodings": self.encodings}
        root = self.folder.as_uri()
        answer = self.ask("initialize", {"processId": os.getpid(), "rootUri": root, "capabilities": capabilities})
        self.tell("initialized", {})
        return _CONVERTER.structure(answer, types.InitializeResult)

    def uri(self, name: str) -> str:
        """The address of a file in the folder."""
        return (self.folder / name).as_uri()

    def open(self, name: str, text: str) -> None:
        """Open a file with a text that need not be on disk."""
        self._texts[name] = (text, 1)
        document = {"uri": self.uri(name), "languageId": "trivet", "version": 1, "text": text}
        self.tell("textDocument/didOpen", {"textDocument": document})

    def change(self, name: str, start: tuple[int, int], end: tuple[int, int], text: str) -> int:
        """Replace a range; returns the new version."""
        version = self._texts[name][1] + 1
        self._texts[name] = (self._texts[name][0], version)
        limits = {"start": {"line": start[0], "character": start[1]}, "end": {"line": end[0], "character": end[1]}}
        document = {"uri": self.uri(name), "version": version}
        self.tell("textDocument/didChange", {"textDocument": document, "contentChanges": [{"range": limits, "text": text}]})
        return version

    def replace(self, name: str, text: str) -> int:
        """Replace the whole text; returns the new version."""
        version = self._texts[name][1] + 1
        self._texts[name] = (text, version)
        self.tell(
            "textDocument/didChange", {"textDocument": {"uri": self.uri(name), "version": version}, "contentChanges": [{"text": text}]}
        )
        return version

    def findings(self, name: str, version: int | None) -> list[types.Diagnostic]:
        """The findings published for a version of a file; waits for them."""
        uri = self.uri(name)

        def mine(note: dict[str, Any]) -> bool:
            params = note.get("params", {})
            return (
                note["method"] == "textDocument/publishDiagnostics"
                and params["uri"] == uri
                and (version is None or params.get("version") == version)
            )

        note = self.wait_for(mine)
        return _CONVERTER.structure(note["params"], types.PublishDiagnosticsParams).diagnostics

    def wait_for(self, wanted: Any) -> dict[str, Any]:
        """The last notification that is wanted, those that come included; waits for the first."""
        end = time.monotonic() + PATIENCE_S
        while True:
            held = [note for note in self.notes if wanted(note)]
            if held:
                return held[-1]
            self._take(end)

    def send(self, method: str, params: Any) -> int:
        """Send a request; its answer is fetched with `answer`."""
        self._number += 1
        self._write({"jsonrpc": "2.0", "id": self._number, "method": method, "params": params})
        return self._number

    def answer(self, number: int) -> dict[str, Any]:
        """The whole answer to a request, with `result` or `error`."""
        end = time.monotonic() + PATIENCE_S
        while number not in self._answers:
            self._take(end)
        return self._answers[number]

    def ask(self, method: str, params: Any) -> Any:
        """Send a request and wait for its result."""
        found = self.answer(self.send(method, params))
        assert "error" not in found, found
        return found["result"]

    def at(self, name: str, line: int, column: int, **more: Any) -> dict[str, Any]:
        """Parameters of a request about a place."""
        return {"textDocument": {"uri": self.uri(name)}, "position": {"line": line, "character": column}, **more}

    def tell(self, method: str, params: Any) -> None:
        """Send a notification."""
        self._write({"jsonrpc": "2.0", "method": method, "params": params})

    def end(self) -> int:
        """Shut down and leave; returns the exit code."""
        assert self.ask("shutdown", None) is None
        self.tell("exit", None)
        return self.process.wait(PATIENCE_S)

    def _write(self, message: dict[str, Any]) -> None:
        data = json.dumps(message).encode("utf-8")
        assert self.process.stdin is not None
        self.process.stdin.write(b"Content-Length: %d\r\n\r\n" % len(data) + data)
        self.process.stdin.flush()

    def _take(self, end: float) -> None:
        message = self._news.get(timeout=max(0.01, end - time.monotonic()))
        assert message is not None, f"the server ended: {self.process.poll()}"
        if "method" in message and "id" in message:
            self._write({"jsonrpc": "2.0", "id": message["id"], "result": None})
        elif "method" in message:
            self.notes.append(message)
        else:
            self._answers[message["id"]] = message
            self.order.append(message["id"])

    def _read(self) -> None:
        stream = self.process.stdout
        assert stream is not None
        try:
            while True:
                length = None
                while (line := stream.readline().strip()) or length is None:
                    if not line:
                        self._news.put(None)
                        return
                    name, _, value = line.partition(b":")
                    assert name in (b"Content-Length", b"Content-Type"), line
                    length = int(value) if name == b"Content-Length" else length
                self._news.put(json.loads(stream.read(length)))
        except ValueError:
            self._news.put(None)
