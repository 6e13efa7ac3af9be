"""The server as a process, with a client that shares no code with it: whole runs over standard input and output."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from lsprotocol import types
from tests.lsp.stdio_client import Client
from tests.lsp.texts import RISER

from trivet.diagnostics import Diagnostic
from trivet.files import MemoryFiles
from trivet.pipeline import check
from trivet.source import LineStarts, SourceFile

NAME = "main.trivet"


def utf16(text: str, offset: int) -> tuple[int, int]:
    """Line and column by a way of its own: the bytes of the line in UTF-16."""
    line, column = LineStarts(text).line_and_column(offset)
    return line - 1, len(text[offset - column + 1 : offset].encode("utf-16-le")) // 2


def wanted(text: str) -> list[tuple[Any, ...]]:
    """The findings of a fresh check as the protocol shows them."""

    def shown(item: Diagnostic) -> tuple[Any, ...]:
        assert item.span is not None
        severity = 4 if item.accepted else {"error": 1, "warning": 2, "note": 3}[item.severity]
        return item.rule, severity, utf16(text, item.span.start), utf16(text, item.span.end)

    return sorted(shown(item) for item in check(SourceFile("a", text), MemoryFiles({})).findings)


def got(found: list[types.Diagnostic]) -> list[tuple[Any, ...]]:
    return sorted(
        (item.code, int(item.severity or 0), (item.range.start.line, item.range.start.character), (item.range.end.line, item.range.end.character))
        for item in found
    )


def test_a_session_from_start_to_end(tmp_path: Path) -> None:
    """Open, break, mend by the server's own edit, ask, format, close, leave; no file appears."""
    text = RISER.replace('title "Outfeed riser"', 'title "😋 Outfeed"  riser')
    with Client(tmp_path) as client:
        offers = client.begin().capabilities
        assert offers.position_encoding == "utf-16" and offers.rename_provider and offers.inlay_hint_provider
        client.open(NAME, text)
        found = client.findings(NAME, 1)
        assert got(found) == wanted(text)
        assert found[0].range.start.character == 22, "two units for the emoji"
        assert "riser" in found[0].message
        client.replace(NAME, RISER.replace("pocket 5.8 mm", "pocket 5,8 mm"))
        (fault,) = client.findings(NAME, 2)
        assert fault.code == "number-form" and "remedy: write `screw ISO 4017" in fault.message
        place = {"start": {"line": fault.range.start.line, "character": 0}, "end": {"line": fault.range.end.line, "character": 80}}
        document = {"textDocument": {"uri": client.uri(NAME)}}
        (action,) = client.ask("textDocument/codeAction", {**document, "range": place, "context": {"diagnostics": []}})
        (edit,) = action["edit"]["changes"][client.uri(NAME)]
        start, end = edit["range"]["start"], edit["range"]["end"]
        version = client.change(NAME, (start["line"], start["character"]), (end["line"], end["character"]), edit["newText"])
        assert got(client.findings(NAME, version)) == wanted(RISER)
        line = RISER[: RISER.index("  with west at 180 deg\n")].count("\n")
        hover = client.ask("textDocument/hover", client.at(NAME, line, 9))
        assert "centre distance `hub` `west`: 108 mm" in hover["contents"]["value"]
        client.change(NAME, (line, 0), (line, 2), "     ")
        tidied = client.ask("textDocument/formatting", {**document, "options": {"tabSize": 2, "insertSpaces": True}})
        assert [item["newText"] for item in tidied] == ["  "]
        client.notes.clear()
        client.tell("textDocument/didClose", document)
        client.wait_for(lambda note: note["method"] == "textDocument/publishDiagnostics" and not note["params"]["diagnostics"])
        assert client.end() == 0
    assert list(tmp_path.iterdir()) == []


def test_typing_is_answered_by_the_last_version_alone(tmp_path: Path) -> None:
    """Twenty keys in a row: findings come for the last text, never for one that is past."""
    with Client(tmp_path) as client:
        client.begin()
        client.open(NAME, RISER)
        client.findings(NAME, 1)
        line = RISER[: RISER.index("  teeth 16")].count("\n")
        version = 1
        for _ in range(10):
            client.change(NAME, (line, 10), (line, 10), "0")
            version = client.change(NAME, (line, 10), (line, 11), "")
        assert got(client.findings(NAME, version)) == wanted(RISER)
        shown = [note["params"]["version"] for note in client.notes if note["method"] == "textDocument/publishDiagnostics"]
        assert shown == sorted(shown) and version in shown and len(set(shown)) < 10
        assert client.end() == 0


def test_cancelled_requests_and_answers_out_of_order(tmp_path: Path) -> None:
    with Client(tmp_path) as client:
        client.begin()
        client.open(NAME, RISER)
        client.findings(NAME, 1)
        slow = [client.send("textDocument/rename", client.at(NAME, 42, 6, newName=f"middle{number}")) for number in range(4)]
        quick = client.send("textDocument/documentSymbol", {"textDocument": {"uri": client.uri(NAME)}})
        for number in slow[1:]:
            client.tell("$/cancelRequest", {"id": number})
        assert client.answer(quick)["result"]
        assert "changes" in client.answer(slow[0])["result"]
        for number in slow[1:]:
            assert client.answer(number)["error"]["code"] == -32800
        assert client.order.index(quick) < client.order.index(slow[0]), "the quick request does not wait for the slow one"
        client.tell("$/cancelRequest", {"id": 999})
        assert client.ask("textDocument/foldingRange", {"textDocument": {"uri": client.uri(NAME)}})
        refused = client.answer(client.send("textDocument/rename", client.at(NAME, 42, 6, newName="deck")))
        assert "declared already" in refused["error"]["message"]
        assert client.answer(client.send("textDocument/unheard", {}))["error"]["code"] == -32601
        assert client.end() == 0


def test_other_encodings_files_from_buffers_and_files_that_change_on_disk(tmp_path: Path) -> None:
    main, _, parts = RISER.partition("drive crank")
    cut = parts.index("require travel")
    main, parts = main + parts[cut:] + 'read "parts.trivet"\n', "# 😋 é\ndrive crank" + parts[:cut]
    (tmp_path / "parts.trivet").write_text(parts, encoding="utf-8")
    with Client(tmp_path, encodings=["utf-8", "utf-16"]) as client:
        assert client.begin().capabilities.position_encoding == "utf-8"
        client.open(NAME, main)
        assert {item.code for item in client.findings("parts.trivet", None)} <= {item.rule for item in _whole(main, parts)}
        at = client.at(NAME, main[: main.index("  carries corner")].count("\n"), 12)
        assert client.ask("textDocument/definition", at)["uri"] == client.uri("parts.trivet")
        client.open("parts.trivet", parts.replace("thread ST6.3", "thred ST6.3"))
        client.wait_for(_has("unknown-fact"))
        client.tell("textDocument/didClose", {"textDocument": {"uri": client.uri("parts.trivet")}})
        client.notes.clear()
        (tmp_path / "parts.trivet").write_text(parts.replace("😋", "😋😋").replace("  kind riding", "  kind flying"), encoding="utf-8")
        client.tell("workspace/didChangeWatchedFiles", {"changes": [{"uri": client.uri("parts.trivet"), "type": 2}]})
        client.wait_for(_has("unexpected-item"))
        assert client.end() == 0


def _whole(main: str, parts: str) -> tuple[Diagnostic, ...]:
    return check(SourceFile("main.trivet", main), MemoryFiles({"parts.trivet": parts})).findings


def _has(rule: str) -> Any:
    return lambda note: rule in [item["code"] for item in note.get("params", {}).get("diagnostics", [])]


def test_killed_or_left_it_leaves_nothing_behind(tmp_path: Path) -> None:
    with Client(tmp_path) as client:
        client.begin()
        client.open(NAME, RISER)
        client.replace(NAME, RISER + "\n")
        client.process.kill()
        assert client.process.wait(30) != 0
    with Client(tmp_path) as client:
        client.begin()
        client.open(NAME, RISER)
        client.tell("exit", None)
        assert client.process.wait(30) == 1, "left without asking for the end"
    with Client(tmp_path) as client:
        client.begin()
        assert client.process.stdin is not None
        client.process.stdin.close()
        assert client.process.wait(30) == 1
    assert list(tmp_path.iterdir()) == []


def test_rubbish_does_not_end_the_server(tmp_path: Path) -> None:
    with Client(tmp_path) as client:
        client.begin()
        client.open(NAME, "\x00\ufeff\ud7ff fixture \r gear (((\n" * 50)
        assert client.findings(NAME, 1)
        client.tell("textDocument/didChange", {"textDocument": {"uri": client.uri("other.trivet"), "version": 4}, "contentChanges": []})
        client.change(NAME, (900, 0), (3, 5000), "x")
        assert client.answer(client.send("textDocument/hover", client.at("never.trivet", 0, 0)))["result"] is None
        assert client.answer(client.send("textDocument/hover", client.at(NAME, 10_000, 10_000)))["result"] is None
        client.send("textDocument/hover", {"wrong": 1})
        client.wait_for(lambda note: note["method"] == "window/showMessage")
        client.replace(NAME, RISER)
        assert got(client.findings(NAME, 3)) == wanted(RISER)
        assert client.end() == 0
