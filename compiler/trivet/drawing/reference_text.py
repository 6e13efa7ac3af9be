"""Reference text: lines to read under a drawing, on a layer that is never cut."""

from __future__ import annotations

from trivet.drawing.bounds import Bounds
from trivet.drawing.shapes import Text
from trivet.drawing.sheet import Layer, layer_name

HEIGHT_MM = 3.5  # of capitals: a size of ISO 3098, from memory
LINE_SPACING = 1.8  # in heights of capitals: common practice, no source
GAP_MM = 6.0  # between drawing and first line: common practice, no source

NOT_OFFSET = "outlines are the edges as they are to be cut: no cutter offset is applied"


def reference_text(bounds: Bounds, lines: tuple[str, ...], because: str) -> Layer:
    """The layer with one text per line, from the lower left corner of `bounds` downwards, outside the bounds."""
    texts = tuple(
        Text(
            bounds.x_min,
            bounds.y_min - GAP_MM - HEIGHT_MM - index * LINE_SPACING * HEIGHT_MM,
            HEIGHT_MM,
            line,
            "start",
            "note on the drawing",
            because,
        )
        for index, line in enumerate(lines)
    )
    name = layer_name("reference", "topside", None, "text")
    return Layer(name, "reference", "topside", None, "", texts, "text to read, never cut")
