"""Text from a file in every output: it stays text. Markup, formulas, table bars and controls do nothing where it ends up."""

from __future__ import annotations

import csv
import io
import json
import xml.etree.ElementTree as ElementTree

import pytest
from tests.hard_use import SHARED, example, run

from trivet.files import MemoryFiles
from trivet.outputs import Wanted, outputs
from trivet.pipeline import check
from trivet.report.annotations import annotation_lines
from trivet.report.json import json_report
from trivet.report.sarif import sarif
from trivet.report.terminal import terminal
from trivet.rules import all_rules
from trivet.source import SourceFile

NASTY = "<script>alert(1)</script> & ]]> =1+1 | `b` ${x} %n {{y}} \u00e9\U0001f60b {\\H2;big}"
DRAWING = {
    "svg",
    "pattern",
    "g",
    "path",
    "circle",
    "text",
    "title",
    "desc",
    "line",
    "polyline",
    "polygon",
    "rect",
    "defs",
    "metadata",
    "tspan",
    "style",
}
STARTS = ("=1+1", "+1", "-1", "@sum")


def compiled(text: str) -> dict[str, bytes]:
    """All outputs of a fixture as a draft, so that no finding stops them."""
    result = check(SourceFile("fixture.trivet", text), MemoryFiles(SHARED))
    assert result.design is not None and result.derived is not None, [item.message for item in result.findings]
    return outputs(result.design, result.derived, result.findings, {"fixture.trivet": text}, {}, Wanted(plain=True, draft=True))


@pytest.fixture(scope="module")
def files() -> dict[str, bytes]:
    """The riser with hostile text in each place that takes text."""
    text = example("outfeed_riser").replace('"Outfeed riser"', f'"{NASTY}"').replace('revision "A"', f'revision "{NASTY[:40]}"')
    text = text.replace("measured: five of a box of fifty", f"=1+1 {NASTY}")
    text = text.replace("turned a few times a day", NASTY)
    return compiled(text)


def test_the_text_arrives(files: dict[str, bytes]) -> None:
    """Guards the tests below: without it nothing would be hostile."""
    assert json.loads(files["DRAFT-report.json"])["fixture"]["title"] == NASTY
    assert any(b"alert" in data for path, data in files.items() if path.endswith(".svg"))


def test_svg_holds_no_element_but_drawing(files: dict[str, bytes]) -> None:
    for path, data in files.items():
        if path.endswith(".svg"):
            tags = {element.tag.rpartition("}")[2] for element in ElementTree.fromstring(data).iter()}
            assert tags <= DRAWING, (path, tags)
            assert b"<script" not in data


def test_dxf_is_read_back(files: dict[str, bytes]) -> None:
    """Each file is a sound drawing, so no text has become a group code or a section of its own."""
    import ezdxf

    for path, data in files.items():
        if path.endswith(".dxf"):
            document = ezdxf.read(io.StringIO(data.decode("utf-8")))
            assert not document.audit().has_errors, path


def test_csv_cells_are_no_formulas(files: dict[str, bytes]) -> None:
    for path, data in files.items():
        if path.endswith(".csv"):
            for row in csv.reader(io.StringIO(data.decode("utf-8-sig"))):
                assert not any(cell.startswith(("=", "@", "\t", "\r")) for cell in row), (path, row)
                assert not any(cell.startswith(("+", "-")) and not _is_number(cell) for cell in row), (path, row)


def test_markdown_tables_keep_their_columns(files: dict[str, bytes]) -> None:
    for path, data in files.items():
        if path.endswith(".md"):
            text = data.decode("utf-8")
            assert "<script" not in text, path
            for block in text.split("\n\n"):
                lines = [line for line in block.splitlines() if line.startswith("|")]
                assert len({_bars(line) for line in lines}) <= 1, (path, block)


@pytest.mark.parametrize("start", STARTS)
def test_a_source_that_begins_like_a_formula(start: str) -> None:
    text = example("outfeed_riser").replace("measured: five of a box of fifty", start)
    for path, data in compiled(text).items():
        if path.endswith(".csv"):
            cells = [cell for row in csv.reader(io.StringIO(data.decode("utf-8-sig"))) for cell in row]
            assert start not in cells, path


def test_reports_of_findings() -> None:
    """Names that cannot be, in messages: no control reaches a terminal, no line becomes a command, and what is parsed parses."""
    name = "x\x1b[31m\u202e\n::error::y\r%0A"
    text = example("outfeed_riser").replace("teeth 16", 'teeth "<script>|`%0A::warning::"').replace("gear hub", "gear h\x1bub")
    result = check(SourceFile(name, text), MemoryFiles(SHARED))
    assert result.findings
    shown, lines = terminal(result.findings), annotation_lines(result.findings)
    assert "\x1b" not in shown and "\u202e" not in shown and "\r" not in shown
    assert all(line.startswith(("::error file=", "::warning file=", "::notice file=")) for line in lines.splitlines())
    assert "\x1b" not in lines and len(lines.splitlines()) == len(result.findings)
    json.loads(json_report(result.findings, fixture=name, version="0", title=name))
    json.loads(sarif(result.findings, version="0", rules=tuple(all_rules().values())))
    run(text)


def _bars(line: str) -> int:
    return line.replace("\\\\", "").replace("\\|", "").count("|")


def _is_number(cell: str) -> bool:
    try:
        float(cell)
    except ValueError:
        return False
    return True
