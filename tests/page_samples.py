"""Pages of the examples, of broken fixtures and of texts made up for a test."""

from __future__ import annotations

import json
import re
from functools import cache
from pathlib import Path
from typing import Any

from tests.hard_use import ROOT

from trivet import __version__
from trivet.emit.json import json as json_bytes
from trivet.files import DiskFiles
from trivet.pipeline import check
from trivet.products.page import page
from trivet.products.product import Context, Wanted
from trivet.report.json import finding_rows, status
from trivet.source import SourceFile
from trivet.tables.report import report

EXAMPLES = ROOT / "examples"
NAMES = tuple(path.stem for path in sorted(EXAMPLES.glob("*.trivet")))
# Both kinds of foot whose gears stay in mesh, and the riding one in both systems.
CHOSEN = ("outfeed_riser", "inch_table", "tripod", "fine_lift", "dog_table")


@cache
def files_of(path: str, draft: bool = False) -> dict[str, bytes]:
    """The page, its picture and the report of a fixture on disk, by path; `path` counts from the examples."""
    return _files(str(EXAMPLES / path), draft)


def _files(path: str, draft: bool = False) -> dict[str, bytes]:
    """As a compilation writes them, without what takes long: no trains are drawn, no outlines turned, no sheets filled."""
    source = DiskFiles().read(path)
    assert isinstance(source, SourceFile), source
    result = check(source, DiskFiles())
    design, derived = result.design, result.derived
    assert design is not None and derived is not None, result.findings
    findings = finding_rows(result.findings)
    facts = report(design, derived, findings=findings, status=status(result.findings), version=__version__)
    context = Context(design, derived, result.findings, {}, Wanted(draft=draft), facts)
    return {product.path: product.data for product in page(context)} | {"report.json": json_bytes(facts)}


def page_of(name: str) -> str:
    """The page of an example."""
    return files_of(f"{name}.trivet")["index.html"].decode("utf-8")


def report_of(name: str) -> dict[str, Any]:
    """The report of an example."""
    found: dict[str, Any] = json.loads(files_of(f"{name}.trivet")["report.json"])
    return found


def facts_in(page: str) -> Any:
    """The data in a page that its script reads."""
    match = re.search('<script type="application/json" id="facts">(.*?)</script>', page, re.DOTALL)
    assert match
    return json.loads(match[1])


def edited(name: str, folder: Path, *changes: tuple[str, str]) -> dict[str, bytes]:
    """The outputs of an example with words of its text replaced, from a folder of its own."""
    text = (EXAMPLES / f"{name}.trivet").read_text(encoding="utf-8")
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new)
    (folder / "shared").mkdir(exist_ok=True)
    (folder / "shared" / "shop.trivet").write_bytes((EXAMPLES / "shared" / "shop.trivet").read_bytes())
    path = folder / "edited.trivet"
    path.write_text(text, encoding="utf-8")
    return _files(str(path))
