"""How far apart two cuts are: the greatest distance of a point of one from the other."""

from __future__ import annotations

import math

from trivet.solve.contour import Contour
from trivet.solve.feature import Cut, Label, Round, Stroke

# Outlines are compared as chords this close to their arcs, with points at most this far apart: far below what is cut.
CHORD_MM = 0.002
SPACING_MM = 0.5


def outline_deviation_mm(old: Contour, new: Contour) -> float:
    """The Hausdorff distance of two closed outlines, mm, to about 0.01 mm; exact where only corners moved by one step.

    Source of the measure: F. Hausdorff, Grundzüge der Mengenlehre, 1914; from memory.
    """
    if old == new:
        return 0.0
    if _same_pieces(old, new):
        moved = [math.hypot(v.x - w.x, v.y - w.y) for v, w in zip(old.vertices, new.vertices, strict=True)]
        if max(moved) < CHORD_MM and max(abs(v.bulge - w.bulge) for v, w in zip(old.vertices, new.vertices, strict=True)) < 1e-6:
            return max(moved)
    from shapely import LinearRing

    first, second = (LinearRing(item.points(CHORD_MM)).segmentize(SPACING_MM) for item in (old, new))
    return float(first.hausdorff_distance(second))


def cut_deviation_mm(old: Cut, new: Cut) -> float | None:
    """The same for any two cuts; None where they are of different kinds, or where a label says something else."""
    if isinstance(old, Contour) and isinstance(new, Contour):
        return outline_deviation_mm(old, new)
    if isinstance(old, Round) and isinstance(new, Round):
        apart = math.hypot(new.x_mm - old.x_mm, new.y_mm - old.y_mm)
        return apart + abs(new.diameter_mm - old.diameter_mm) / 2.0
    if isinstance(old, Stroke) and isinstance(new, Stroke):
        a = math.hypot(new.x1_mm - old.x1_mm, new.y1_mm - old.y1_mm), math.hypot(new.x2_mm - old.x2_mm, new.y2_mm - old.y2_mm)
        b = math.hypot(new.x2_mm - old.x1_mm, new.y2_mm - old.y1_mm), math.hypot(new.x1_mm - old.x2_mm, new.y1_mm - old.y2_mm)
        return min(max(a), max(b))
    if isinstance(old, Label) and isinstance(new, Label) and old.text == new.text and old.height_mm == new.height_mm:
        # The far end of the words moves by the turn too; a label is at most some 100 mm long.
        turn = abs(math.remainder(math.radians(new.turn_deg - old.turn_deg), 2.0 * math.pi))
        return math.hypot(new.x_mm - old.x_mm, new.y_mm - old.y_mm) + turn * old.height_mm * len(old.text) / 2.0
    return None


def _same_pieces(old: Contour, new: Contour) -> bool:
    return len(old.vertices) == len(new.vertices)
