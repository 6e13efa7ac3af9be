"""When the server checks, and what it publishes: one check for a burst of keys, none of a text that is past."""

from __future__ import annotations

import asyncio
import time
from collections.abc import Callable
from typing import Any

import pytest
from lsprotocol import types
from tests.lsp.texts import RISER

from trivet.lsp.again import Checked
from trivet.lsp.server import DEBOUNCE_S, TrivetServer, make_server
from trivet.lsp.workspace import Workspace

URI = "file:///plan/main.trivet"
WORK_S = 0.1


class Watched:
    """A server without streams; `published` are versions, `begun` and `ended` count checks."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.published: list[int | None] = []
        self.begun = self.ended = 0
        monkeypatch.setattr(TrivetServer, "encoding", property(lambda _: "utf-16"))
        original = Workspace.job

        def job(workspace: Workspace, main: str) -> Callable[..., Any]:
            work = original(workspace, main)

            def slow(pause: Callable[[], None]) -> tuple[Checked, dict[str, int | None]]:
                self.begun += 1
                time.sleep(WORK_S)
                found = work(pause)
                self.ended += 1
                return found

            return slow

        monkeypatch.setattr(Workspace, "job", job)
        self.server = make_server()
        monkeypatch.setattr(
            self.server, "text_document_publish_diagnostics", lambda params: self.published.append(params.version)
        )  # fmt: skip

    def edit(self, version: int) -> None:
        document = types.VersionedTextDocumentIdentifier(version=version, uri=URI)
        change = types.TextDocumentContentChangeWholeDocument(RISER + "\n" * version)
        self.server.edited(types.DidChangeTextDocumentParams(document, [change]))

    async def until(self, version: int) -> None:
        for _ in range(600):
            if version in self.published:
                return
            await asyncio.sleep(0.05)
        raise AssertionError(f"{version} was never published: {self.published}")


def test_a_burst_of_keys_is_one_check(monkeypatch: pytest.MonkeyPatch) -> None:
    async def run() -> Watched:
        watched = Watched(monkeypatch)
        watched.server.opened(URI, RISER, 1)
        await watched.until(1)
        for version in range(2, 12):
            watched.edit(version)
        await watched.until(11)
        return watched

    watched = asyncio.run(run())
    assert watched.begun == watched.ended == 2 and set(watched.published) == {1, 11}
    assert DEBOUNCE_S == 0.150


def test_a_check_of_a_past_text_ends_early_and_shows_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    async def run() -> Watched:
        watched = Watched(monkeypatch)
        watched.server.opened(URI, RISER, 1)
        while not watched.begun:
            await asyncio.sleep(0.005)
        watched.edit(2)
        await watched.until(2)
        return watched

    watched = asyncio.run(run())
    assert watched.begun == 2 and watched.ended == 1 and set(watched.published) == {2}


def test_a_closed_file_shows_nothing_and_a_crash_keeps_the_server(monkeypatch: pytest.MonkeyPatch) -> None:
    async def run() -> list[str]:
        watched = Watched(monkeypatch)
        told: list[str] = []
        monkeypatch.setattr(watched.server, "window_show_message", lambda params: told.append(params.message))
        monkeypatch.setattr(watched.server, "window_log_message", lambda params: told.append(params.message))
        watched.server.opened(URI, RISER, 1)
        await watched.until(1)
        with monkeypatch.context() as broken:
            broken.setattr("trivet.lsp.again.work_out", lambda *_: 1 / 0)
            watched.edit(2)
            watched.server.edited(
                types.DidChangeTextDocumentParams(
                    types.VersionedTextDocumentIdentifier(version=3, uri=URI),
                    [types.TextDocumentContentChangeWholeDocument(RISER + "require travel >= 1 mm\n")],
                )
            )
            while not told:
                await asyncio.sleep(0.01)
        watched.edit(4)
        await watched.until(4)
        watched.server.closed(URI)
        assert watched.published[-1] is None
        return told

    told = asyncio.run(run())
    assert "a fault of trivet, not of your file: ZeroDivisionError" in told[0] and "Traceback" in told[1]
