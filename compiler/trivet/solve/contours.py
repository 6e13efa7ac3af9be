"""Every closed contour that is cut, with the part it belongs to."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from trivet.solve.contour import Contour
from trivet.solve.contour_shapes import circle
from trivet.solve.feature import Feature, Round
from trivet.solve.part_features import PartFeatures


@dataclass(frozen=True, slots=True)
class CutContour:
    """A contour in its part's frame, and the work it stands for."""

    part: str
    feature: Feature
    contour: Contour


def cut_contours(parts: Sequence[PartFeatures]) -> Iterator[CutContour]:
    """Part by part, the work in drawing order, circles as two half turns; strokes and labels, which are open, left out."""
    for part in parts:
        for feature in (*part.features, part.edge):
            shape = feature.shape
            if isinstance(shape, Round):
                yield CutContour(part.part, feature, circle(shape.x_mm, shape.y_mm, shape.diameter_mm / 2.0))
            elif isinstance(shape, Contour):
                yield CutContour(part.part, feature, shape)
