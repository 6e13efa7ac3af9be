"""Palette: how each operation looks. Colour, line width and dash all differ, so that colour alone carries nothing.

Colours: the palette of Okabe and Ito, Color Universal Design, 2008. Line widths and dashes in line widths: ISO 128-2,
from memory. Which operation has which is our own choice and follows no machine.
"""

from __future__ import annotations

from typing import Literal, assert_never

from trivet.drawing.shapes import Operation
from trivet.record import record

Dash = Literal["continuous", "dashed", "long-dashed dotted"]


@record
class Style:
    """The look of a layer: `rgb` from 0 to 255, line width in mm, and the dash by name."""

    colour: str
    rgb: tuple[int, int, int]
    width_mm: float
    dash: Dash

    @property
    def hex(self) -> str:
        """The colour as #RRGGBB."""
        red, green, blue = self.rgb
        return f"#{red:02X}{green:02X}{blue:02X}"

    def dash_mm(self) -> tuple[float, ...]:
        """Lengths of dash, gap, dash, gap… in mm; empty for a continuous line."""
        return tuple(count * self.width_mm for count in dash_widths(self.dash))


def style_of(operation: Operation) -> Style:
    """The look of every layer with this operation."""
    match operation:
        case "outer_edge":
            return Style("bluish green", (0, 158, 115), 0.5, "continuous")
        case "opening":
            return Style("orange", (230, 159, 0), 0.35, "continuous")
        case "bore":
            return Style("reddish purple", (204, 121, 167), 0.25, "continuous")
        case "pocket":
            return Style("sky blue", (86, 180, 233), 0.35, "dashed")
        case "counterbore":
            return Style("blue", (0, 114, 178), 0.35, "long-dashed dotted")
        case "engrave":
            return Style("vermilion", (213, 94, 0), 0.18, "continuous")
        case "reference":
            return Style("black", (0, 0, 0), 0.18, "dashed")
    assert_never(operation)


def dash_widths(dash: Dash) -> tuple[float, ...]:
    """Dash, gap, dash, gap… in line widths; types 01, 02 and 04 of ISO 128-2, from memory."""
    match dash:
        case "continuous":
            return ()
        case "dashed":
            return (12.0, 3.0)
        case "long-dashed dotted":
            return (24.0, 3.0, 0.5, 3.0)
    assert_never(dash)
