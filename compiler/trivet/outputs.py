"""All files of a compiled fixture as bytes, by their path in the output folder."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING

from trivet import __version__
from trivet.diagnostics import Diagnostic
from trivet.record import record, replace

if TYPE_CHECKING:
    from trivet.model.design import Design
    from trivet.solve.derived import Derived
    from trivet.tables.outputs_index import Output
    from trivet.tables.rows import Rows

Files = dict[str, bytes]


@record
class Wanted:
    """What to write: `plain` adds copies without reference layers, `draft` marks every file, findings or not.

    `polyline`: outlines as chords, for readers that know no arcs.
    """

    plain: bool = False
    draft: bool = False
    polyline: bool = False


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
    from trivet.solve.binding import binding
    from trivet.solve.mesh_overlaps import mesh_overlaps
    from trivet.tables.manifest import manifest
    from trivet.tables.outputs_index import outputs_index
    from trivet.tables.report import report

    mark = "DRAFT-" if wanted.draft else ""
    files, listed = _drawings(design, derived, mark, wanted)
    for kind, name, data in _schedules(design, derived, wanted.draft):
        files[f"{mark}{name}"] = data
        listed.append((f"{mark}{name}", kind, None, None, ()))
    listed.append((f"{mark}report.json", "report", None, None, ()))
    facts = report(
        design,
        derived,
        findings=finding_rows(findings),
        status=status(findings),
        version=__version__,
        outputs=outputs_index(listed),
        as_cut_overlap_mm2=mesh_overlaps(derived),
        binding=binding(design, derived),
    )
    files[f"{mark}report.json"] = json({"draft": True, **facts} if wanted.draft else facts)
    parameters = {parameter.name.text: parameter.text for parameter in design.parameters} | dict(settings)
    files["manifest.json"] = json(manifest(files, inputs=inputs, parameters=parameters, version=__version__))
    return files


def _drawings(design: Design, derived: Derived, mark: str, wanted: Wanted) -> tuple[Files, list[Output]]:
    from trivet.drawing.chords import without_arcs
    from trivet.drawing.draft import as_draft
    from trivet.drawing.parts import part_sheets
    from trivet.emit.dxf import dxf
    from trivet.emit.svg import svg
    from trivet.tables.file_names import file_names

    sheets = part_sheets(design, derived)
    names = file_names(sheet.part for sheet in sheets)
    files: Files = {}
    listed: list[Output] = []
    for drawn in sheets:
        found = without_arcs(drawn) if wanted.polyline else drawn
        sheet = as_draft(found) if mark else found
        stem = f"cut/{mark}{names[sheet.part]}.{sheet.face}"
        for form, write in (("svg", svg), ("dxf", dxf)):
            for variant in (False, True) if wanted.plain else (False,):
                path = f"{stem}.plain.{form}" if variant else f"{stem}.{form}"
                files[path] = write(sheet, plain=variant)
                layers = [layer.name for layer in sheet.layers if not (variant and layer.reference)]
                listed.append((path, "cut drawing", sheet.part, sheet.face, layers))
    return files, listed


def _schedules(design: Design, derived: Derived, draft: bool) -> Iterator[tuple[str, str, bytes]]:
    """(kind, file name, bytes) of the schedule and the cut list, as a table for a spreadsheet and as a page."""
    from trivet.emit.csv import csv
    from trivet.emit.markdown import markdown
    from trivet.tables.cut_list import cut_list_rows
    from trivet.tables.hardware_schedule import hardware_rows, hardware_tables

    def marked(rows: Rows) -> Rows:
        return replace(rows, title=f"DRAFT, not for cutting: {rows.title}") if draft else rows

    cuts = marked(cut_list_rows(design, derived))
    yield "hardware schedule", "hardware.csv", csv(marked(hardware_rows(design, derived)))
    yield (
        "hardware schedule",
        "hardware.md",
        b"\n".join(markdown(marked(rows), level=1) for rows in hardware_tables(design, derived)),
    )
    yield "cut list", "cut_list.csv", csv(cuts)
    yield "cut list", "cut_list.md", markdown(cuts, level=1)
