"""Where tabs are left: marks along the outer edge, on a layer that is never cut, since the cutter follows the edge and is lifted there."""

from __future__ import annotations

from collections.abc import Sequence

from trivet.drawing.part_reference import reference_layer
from trivet.drawing.shapes import Path
from trivet.drawing.sheet import Layer, Unit, depth_text
from trivet.solve.part_features import PartFeatures
from trivet.solve.tab_place import TabPlace
from trivet.units import length_text

# How far a mark stands out from the edge: common practice, no source.
BRACKET_MM = 3.0


def tab_layer(part: PartFeatures, flip_x_mm: float | None, owner: str, unit: Unit) -> Layer:
    """The marks of a part's tabs; `owner` is what the layer's shapes belong to."""
    height = depth_text(part.tabs[0].height_mm, unit)
    title = f"tab of {owner}, {height} left"
    because = "as stated, moved to the nearest run of the edge that nothing bears or meshes on"
    shapes = tuple(_mark(tab if flip_x_mm is None else tab.mirrored_x(flip_x_mm), title, because) for tab in part.tabs)
    words = f"the cutter is lifted here so that {height} of wood are left; never cut as drawn"
    return reference_layer(f"tab {height} left", part.datum, owner, shapes, words)


def _mark(tab: TabPlace, title: str, because: str) -> Path:
    """A bracket over the run, outside the part: the edge's own line would hide a mark on it."""
    run = tab.run
    ux, uy = (run.x1 - run.x0) / run.chord_mm, (run.y1 - run.y0) / run.chord_mm
    out_x, out_y = uy * BRACKET_MM, -ux * BRACKET_MM
    far = ((run.x0 + out_x, run.y0 + out_y, 0.0), (run.x1 + out_x, run.y1 + out_y, 0.0))
    return Path(((run.x0, run.y0, 0.0), *far, (run.x1, run.y1, 0.0)), False, title, because)


def tab_words(tabs: Sequence[TabPlace], cutter_mm: float, unit: str) -> str:
    """How to leave them, for the reference text."""
    wide = length_text(tabs[0].run.length_mm, unit)
    cutter = length_text(cutter_mm, unit)
    return (
        f"{len(tabs)} tabs {wide} wide are marked on the edge: lift the cutter over each width and its own {cutter} so that"
        f" {length_text(tabs[0].height_mm, unit)} of wood are left, then saw them and trim flush"
    )
