"""Scale square: 100 mm by 100 mm beside the part, so that a wrong scale shows before anything is cut."""

from __future__ import annotations

from trivet.drawing.bounds import Bounds
from trivet.drawing.shapes import Path, Shape, Text
from trivet.drawing.sheet import MM_PER_INCH, Layer, Unit, layer_name
from trivet.record import record

SIDE_MM = 100.0
GAP_MM = 15.0  # between part and square: common practice, no source
LINE_SPACING = 1.8  # in heights of capitals: common practice, no source

_BECAUSE = "a size that a ruler and a caliper both read"


@record
class ScaleSlip:
    """A mistaken scale: the factor by which the drawing comes out wrong, and what causes it."""

    factor: float
    cause: str

    @property
    def reading_mm(self) -> float:
        """What a side of the square then measures, in mm."""
        return SIDE_MM * self.factor


def scale_slips() -> tuple[ScaleSlip, ...]:
    """The usual mistakes, each in both directions, largest factor first in each pair.

    The factors follow from 25.4 mm to the inch and from 96, 90 or 72 drawing units to the inch.
    """
    pairs = (
        (MM_PER_INCH, "millimetres read as inches", "inches read as millimetres"),
        (96 / MM_PER_INCH, "1/96 inch units read as millimetres", "millimetres read as 1/96 inch units"),
        (90 / MM_PER_INCH, "1/90 inch units read as millimetres", "millimetres read as 1/90 inch units"),
        (72 / MM_PER_INCH, "1/72 inch units read as millimetres", "millimetres read as 1/72 inch units"),
        (96 / 72, "1/96 inch units read as 1/72 inch units", "1/72 inch units read as 1/96 inch units"),
        (96 / 90, "1/96 inch units read as 1/90 inch units", "1/90 inch units read as 1/96 inch units"),
    )
    return tuple(
        ScaleSlip(factor, cause)
        for factor_up, cause_up, cause_down in pairs
        for factor, cause in ((factor_up, cause_up), (1 / factor_up, cause_down))
    )


def reading(unit: Unit = "mm") -> str:
    """What one side must measure, the unit of the file first: `100 mm = 3.937 in`."""
    metric, imperial = f"{SIDE_MM:.0f} mm", f"{SIDE_MM / MM_PER_INCH:.3f} in"
    return f"{metric} = {imperial}" if unit == "mm" else f"{imperial} = {metric}"


def scale_square(bounds: Bounds, unit: Unit = "mm") -> Layer:
    """The reference layer with the square, to the right of `bounds` and level with its lower edge, never over it."""
    left, bottom = bounds.x_max + GAP_MM, bounds.y_min
    right, top = left + SIDE_MM, bottom + SIDE_MM
    corners = ((left, bottom), (right, bottom), (right, top), (left, top))
    title = f"scale square, {reading(unit)} along each side"
    square = Path(tuple((x, y, 0.0) for x, y in corners), True, title, _BECAUSE)
    lines = (
        ("reference, never cut", 3.5),
        (reading(unit), 5.0),
        ("measure both sides:", 3.5),
        ("if they differ from this,", 3.5),
        ("the file was scaled", 3.5),
        ("on import", 3.5),
    )
    shapes: list[Shape] = [square]
    y, height_before_mm = top - 22.0, 0.0
    for text, height_mm in lines:
        y -= LINE_SPACING * max(height_mm, height_before_mm)
        height_before_mm = height_mm
        shapes.append(Text((left + right) / 2, y, height_mm, text, "middle", title, _BECAUSE))
    name = layer_name("reference", "topside", None, "scale square")
    return Layer(name, "reference", "topside", None, "", tuple(shapes), "scale square: measure it, do not cut it")
