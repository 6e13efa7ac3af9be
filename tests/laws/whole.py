"""A fixture's text taken through everything: findings, all files as bytes, and the report as data."""

from __future__ import annotations

import json
from dataclasses import dataclass
from functools import cache, lru_cache
from typing import Any
from unittest.mock import patch

from trivet import pipeline
from trivet.diagnostics import Diagnostic
from trivet.files import MemoryFiles
from trivet.inputs import load_library
from trivet.model.design import Design
from trivet.outputs import Wanted, outputs
from trivet.solve.derived import Derived
from trivet.source import SourceFile

NAME = "law.trivet"

# The library is the same for each text of a run, and reading it is most of a small fixture's time.
_library = cache(load_library)


@dataclass(frozen=True)
class Whole:
    """What came of a text that holds together."""

    design: Design
    derived: Derived
    findings: tuple[Diagnostic, ...]
    files: dict[str, bytes]

    @property
    def errors(self) -> list[Diagnostic]:
        return [item for item in self.findings if item.severity == "error"]

    @property
    def report(self) -> dict[str, Any]:
        found: dict[str, Any] = json.loads(self.files["report.json"])
        return found

    @property
    def said(self) -> list[tuple[str, str, str]]:
        """Findings without their places or their order, which follows the places."""
        return sorted((item.rule, item.severity, item.message) for item in self.findings)

    @property
    def facts(self) -> dict[str, Any]:
        """The report without findings."""
        return {key: value for key, value in self.report.items() if key != "findings"}

    @property
    def products(self) -> dict[str, bytes]:
        """All files but the report and the page, which say where findings stand, and the manifest that holds their digests."""
        return {path: data for path, data in self.files.items() if path not in ("report.json", "index.html", "manifest.json")}


@lru_cache(maxsize=64)
def checked(text: str) -> pipeline.Compilation:
    """As the pipeline checks it, the library read once."""
    with patch.object(pipeline, "load_library", _library):
        return pipeline.check(SourceFile(NAME, text), MemoryFiles({NAME: text}))


@lru_cache(maxsize=64)
def whole(text: str) -> Whole:
    """Everything; the text must be one whose design can be solved, findings or not."""
    result = checked(text)
    assert result.design is not None and result.derived is not None, result.findings
    files = outputs(result.design, result.derived, result.findings, {NAME: "the same for every text"}, {}, Wanted())
    return Whole(result.design, result.derived, result.findings, files)
