"""`trivet serve`: the standard protocol over standard input and output. Wiring, debounce, versions; nothing is ever written to disk."""

from __future__ import annotations

import asyncio
import logging
import posixpath
import traceback
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from typing import BinaryIO, TypeVar

from lsprotocol import types
from pygls import uris
from pygls.exceptions import JsonRpcException
from pygls.lsp.server import LanguageServer

from trivet import __version__
from trivet.lsp.features.tokens import TYPES
from trivet.lsp.handlers import register
from trivet.lsp.positions import changed
from trivet.lsp.protocol import Door
from trivet.lsp.view import View
from trivet.lsp.workspace import Workspace

# After the last keystroke, before a check begins.
DEBOUNCE_S = 0.150
# The protocol's code for a request that is right in form and cannot be done.
REQUEST_FAILED = -32803

T = TypeVar("T")


class _Stale(Exception):
    """The text changed while it was checked."""


class TrivetServer(LanguageServer):
    """One publisher of findings: each check carries a number, and the result of an older one is dropped."""

    def __init__(self) -> None:
        super().__init__("trivet", __version__, text_document_sync_kind=types.TextDocumentSyncKind.Incremental)
        self.state = Workspace()
        self._uris: dict[str, str] = {}
        self._numbers: dict[str, int] = {}
        self._timers: dict[str, asyncio.TimerHandle] = {}
        self._tasks: set[asyncio.Task[None]] = set()
        self._shown: set[str] = set()
        self.stopped = False
        # One thread checks, one tries what would help, one answers what takes longer than a keystroke: none waits for another.
        self._checker = ThreadPoolExecutor(1, "check")
        self._trier = ThreadPoolExecutor(1, "try")
        self._answerer = ThreadPoolExecutor(1, "answer")

    @property
    def door(self) -> Door:
        """Conversions in the agreed encoding."""
        return Door(self.encoding, self.uri_of)

    @property
    def encoding(self) -> str:
        """The encoding of columns: UTF-16 unless the editor asked for another."""
        agreed = self.workspace.position_encoding
        return str(getattr(agreed, "value", agreed) or "utf-16")

    @staticmethod
    def path_of(uri: str) -> str:
        """The path of a file's address; of what is no file the address itself."""
        path = uris.to_fs_path(uri) if uri.startswith("file:") else None
        return posixpath.normpath(path.replace("\\", "/")) if path else uri

    def uri_of(self, path: str) -> str:
        """A path's address, as the editor wrote it where it opened the file."""
        return self._uris.get(path) or uris.from_fs_path(path) or path

    def view(self, uri: str) -> View | None:
        """What features see of an open file; None for one that is not open."""
        path = self.path_of(uri)
        return self.state.view(path) if path in self.state.buffers else None

    async def answer(self, work: Callable[[], T]) -> T:
        """Work out an answer beside the loop, so that it can be cancelled and typing goes on."""
        return await asyncio.get_running_loop().run_in_executor(self._answerer, work)

    @staticmethod
    def refusal(words: str) -> Exception:
        """What to raise for a request that cannot be done."""
        return JsonRpcException(words, REQUEST_FAILED)

    def opened(self, uri: str, text: str, version: int) -> None:
        """A file was opened: it is checked at once."""
        path = self.path_of(uri)
        self._uris[path] = uri
        self.state.put(path, text, version)
        self._check_soon(path, 0.0)

    def edited(self, params: types.DidChangeTextDocumentParams) -> None:
        """A file was changed: it is checked when the keyboard rests."""
        path = self.path_of(params.text_document.uri)
        held = self.state.buffers.get(path)
        if held is None:
            return
        text = held.file.text
        for change in params.content_changes:
            if isinstance(change, types.TextDocumentContentChangePartial):
                start, end = change.range.start, change.range.end
                text = changed(text, (start.line, start.character), (end.line, end.character), change.text, self.encoding)
            else:
                text = change.text
        self.state.put(path, text, params.text_document.version)
        self._check_soon(path, DEBOUNCE_S)

    def closed(self, uri: str) -> None:
        """A file was closed: its own findings go, and those who read it see the disk again."""
        path = self.path_of(uri)
        shown = sorted(self._shown)
        self._numbers[path] = self._numbers.get(path, 0) + 1
        self.state.close(path)
        self._uris.pop(path, None)
        self._check_soon(path, 0.0)
        self._publish(shown)

    def changed_on_disk(self, uri: str) -> None:
        """A file was changed by another program."""
        self._check_soon(self.path_of(uri), DEBOUNCE_S)

    def stop(self) -> None:
        """Forget all work that waits: the editor is about to leave."""
        self.stopped = True
        for timer in self._timers.values():
            timer.cancel()
        self._timers.clear()
        for main in self._numbers:
            self._numbers[main] += 1

    def _check_soon(self, path: str, delay: float) -> None:
        for main in self.state.concerned(path):
            self._numbers[main] = self._numbers.get(main, 0) + 1
            timer = self._timers.pop(main, None)
            if timer is not None:
                timer.cancel()
            self._timers[main] = asyncio.get_running_loop().call_later(delay, self._begin, main)

    def _begin(self, main: str) -> None:
        self._timers.pop(main, None)
        if main in self.state.buffers:
            task = asyncio.ensure_future(self._check(main, self._numbers[main]))
            self._tasks.add(task)
            task.add_done_callback(self._tasks.discard)

    async def _check(self, main: str, number: int) -> None:
        def pause() -> None:
            if self._numbers[main] != number:
                raise _Stale

        loop = asyncio.get_running_loop()
        try:
            checked, versions = await loop.run_in_executor(self._checker, self.state.job(main), pause)
            pause()
            self._publish(self.state.accept(main, checked, versions))
            if self.state.behind(main):
                self._check_soon(main, 0.0)
            rest = self.state.rest(main)
            if rest is not None:
                # What would help with a finding is tried in a thread of its own: the next keystroke does not wait for it.
                findings = checked.compilation.findings
                checked = await loop.run_in_executor(self._trier, rest, pause)
                pause()
                changed = self.state.accept(main, checked, versions)
                if checked.compilation.findings != findings:
                    self._publish(changed)
        except _Stale:
            return
        except Exception as error:
            words = f"a fault of trivet, not of your file: {type(error).__name__}: {error}"
            self.window_show_message(types.ShowMessageParams(types.MessageType.Error, words))
            self.window_log_message(types.LogMessageParams(types.MessageType.Error, traceback.format_exc()))

    def _publish(self, paths: list[str] | tuple[str, ...]) -> None:
        """The only place that shows findings."""
        door = self.door
        for path in paths:
            held = self.state.buffers.get(path)
            version = self.state.version(path)
            findings = self.state.findings(path)
            if held is not None and version is not None and version != held.version:
                continue  # Its text is newer than the findings: a check of it waits.
            if findings or path in self._shown or held is not None:
                diagnostics = [door.diagnostic(item) for item in findings]
                self.text_document_publish_diagnostics(
                    types.PublishDiagnosticsParams(self.uri_of(path), diagnostics, held.version if held is not None else None)
                )
            (self._shown.add if findings else self._shown.discard)(path)


def make_server() -> TrivetServer:
    """A server with every feature."""
    server = TrivetServer()
    register(server, TYPES)
    return server


def serve(incoming: BinaryIO, outgoing: BinaryIO) -> bool:
    """Serve until the editor ends it; whether it asked for that, as the protocol wants, before it left."""
    # What these say is of the transport: a request that was cancelled, an editor that went away.
    for name in ("pygls", "asyncio", "concurrent.futures"):
        logging.getLogger(name).setLevel(logging.CRITICAL)
    server = make_server()
    server.start_io(incoming, outgoing)
    return server.stopped
