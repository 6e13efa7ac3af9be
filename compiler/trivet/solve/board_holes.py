"""Boards seen from above: where one stops a solid, and where a hole lets it pass."""

from __future__ import annotations

import math

from trivet.model.design import Design
from trivet.record import record
from trivet.solve.contour import Contour
from trivet.solve.derived import BoardLevel, Derived
from trivet.solve.feature import Round
from trivet.solve.outline_contour import drawn
from trivet.solve.part_features import PartFeatures
from trivet.solve.parts import part_features
from trivet.solve.plan import CHORD_MM, disc_gap_mm, inside, to_edge_mm
from trivet.solve.solid import Solid


@record
class BoardPlan:
    """A board's outline and its holes in the world frame; z of its faces at mean sheets, mm."""

    name: str
    under_mm: float
    top_mm: float
    outline: Contour
    rounds: tuple[Round, ...]
    openings: tuple[Contour, ...]

    def stops(self, solid: Solid) -> bool:
        """Whether a solid that goes straight up or down meets wood. A plate is taken as the disc round it."""
        point, radius = (solid.x_mm, solid.y_mm), solid.radius_mm
        if disc_gap_mm(point, radius, self.outline) >= -1e-6:
            return False
        for hole in self.rounds:
            if math.hypot(hole.x_mm - point[0], hole.y_mm - point[1]) + radius <= hole.diameter_mm / 2.0 + 1e-6:
                return False
        for opening in self.openings:
            edge = opening.points(CHORD_MM)
            if inside(point, edge) and to_edge_mm(point, edge) >= radius - CHORD_MM:
                return False
        return True


def board_plan(design: Design, derived: Derived, level: BoardLevel) -> BoardPlan:
    """The plan of one board. In layers a hole counts where it goes through the first layer and no pocket ends in another."""
    board = level.board
    name, x, y = board.name.text, board.x_mm, board.y_mm
    parts: list[PartFeatures] = [p for p in part_features(design, derived) if (p.belongs_to or p.part) == name]
    shapes = [item.shape for item in parts[0].features if item.through] if parts else []
    later = [[item.shape for item in part.features if item.through] for part in parts[1:]]
    shapes = [shape for shape in shapes if all(shape in other for other in later)]
    return BoardPlan(
        name,
        level.z_under_mm,
        level.z_under_mm + level.thickness.mean,
        drawn(board.outline).translated(x, y),
        tuple(shape.moved(x, y) for shape in shapes if isinstance(shape, Round)),
        tuple(shape.translated(x, y) for shape in shapes if isinstance(shape, Contour)),
    )
