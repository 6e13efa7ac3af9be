"""Which step of the assembly has a figure, and which."""

from __future__ import annotations

from trivet.drawing.figure import Figure
from trivet.drawing.figure_gear_screw import gear_screw_figure
from trivet.drawing.figure_insert import insert_figure
from trivet.drawing.figure_stack import drive_figure, pivot_figure
from trivet.drawing.figure_zero import zero_figure
from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.solve.helper_parts import shim_height_mm
from trivet.solve.part_context import part_context


def step_figure(design: Design, derived: Derived, kind: str, parts: tuple[str, ...]) -> Figure | None:
    """The figure of a step of that kind, drawn for the first of its parts; None where words are enough."""
    first = parts[0] if parts else ""
    foot = next((state for state in (*derived.feet, *derived.climbers) if state.id == first), None)
    if kind == "drive_insert" and foot is not None and foot.insert_z_mm is not None:
        return insert_figure(design, derived, foot)
    if kind == "glue_screw_in_gear" and foot is not None and foot.foot.screw is not None:
        return gear_screw_figure(design, derived, foot)
    if kind == "zero":
        height = shim_height_mm(part_context(design, derived))
        return zero_figure(design, derived, height) if height is not None else None
    if kind == "fit_drive":
        drive = next((state for state in derived.drives if state.id == first), None)
        return drive_figure(design, derived, drive) if drive is not None else None
    if kind == "hang_idler":
        pivot = next((state for state in derived.pivots if state.id == first), None)
        return pivot_figure(design, derived, pivot) if pivot is not None else None
    return None
