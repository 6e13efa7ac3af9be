"""All files of a compiled fixture as bytes, by their path in the output folder."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from trivet import __version__
from trivet.diagnostics import Diagnostic

if TYPE_CHECKING:
    from trivet.drawing.sheet import Sheet
    from trivet.model.design import Design
    from trivet.solve.derived import Derived
    from trivet.tables.rows import Rows

Files = dict[str, bytes]


@dataclass(frozen=True, slots=True)
class Wanted:
    """What to write: `plain` adds copies without reference layers, `draft` marks every file, findings or not."""

    plain: bool = False
    draft: bool = False


def outputs(
    design: Design,
    derived: Derived,
    findings: tuple[Diagnostic, ...],
    inputs: Mapping[str, str],
    settings: Mapping[str, str],
    wanted: Wanted,
) -> Files:
    """The files: cut drawings, schedule, cut list, report and manifest. Same arguments, same bytes."""
    from trivet.emit.json import json
    from trivet.report.json import finding_rows, status
    from trivet.tables.cut_list import cut_list_rows
    from trivet.tables.hardware_schedule import hardware_rows
    from trivet.tables.manifest import manifest
    from trivet.tables.report import report

    mark = "DRAFT-" if wanted.draft else ""
    files, listed = _drawings(design, derived, mark, wanted.plain)
    for name, rows in (("hardware", hardware_rows(design, derived)), ("cut_list", cut_list_rows(design, derived))):
        shown = replace(rows, title=f"DRAFT, not for cutting: {rows.title}") if wanted.draft else rows
        files |= _tables(f"{mark}{name}", shown)
        listed += [
            {"path": f"{mark}{name}.{form}", "kind": name, "part": None, "face": None, "layers": []} for form in ("csv", "md")
        ]
    index = [*listed, {"path": f"{mark}report.json", "kind": "report", "part": None, "face": None, "layers": []}]
    data = report(design, derived, finding_rows(findings), status(findings), __version__, sorted(index, key=_path), {})
    if wanted.draft:
        data = {"draft": True, **data}
    files[f"{mark}report.json"] = json(data)
    parameters = {parameter.name.text: parameter.text for parameter in design.parameters} | dict(settings)
    files["manifest.json"] = json(manifest(files, inputs=inputs, parameters=parameters, version=__version__))
    return files


def _path(item: dict[str, Any]) -> str:
    return str(item["path"])


def _drawings(design: Design, derived: Derived, mark: str, plain: bool) -> tuple[Files, list[dict[str, Any]]]:
    from trivet.drawing.parts import part_sheets
    from trivet.emit.dxf import dxf
    from trivet.emit.svg import svg
    from trivet.tables.file_names import file_names

    sheets = part_sheets(design, derived)
    names = file_names(sheet.part for sheet in sheets)
    files: Files = {}
    listed: list[dict[str, Any]] = []
    for sheet in sheets:
        drawn = _as_draft(sheet) if mark else sheet
        stem = f"cut/{mark}{names[sheet.part]}.{sheet.face}"
        for form, write in (("svg", svg), ("dxf", dxf)):
            for variant in (False, True) if plain else (False,):
                path = f"{stem}.plain.{form}" if variant else f"{stem}.{form}"
                files[path] = write(drawn, plain=variant)
                layers = [layer.name for layer in drawn.layers if not (variant and layer.reference)]
                listed.append({"path": path, "kind": "cut drawing", "part": sheet.part, "face": sheet.face, "layers": layers})
    return files, listed


def _as_draft(sheet: Sheet) -> Sheet:
    return replace(sheet, title=f"DRAFT, not for cutting: {sheet.title}")


def _tables(name: str, rows: Rows) -> Files:
    from trivet.emit.csv import csv
    from trivet.emit.markdown import markdown

    return {f"{name}.csv": csv(rows), f"{name}.md": markdown(rows, level=1)}
