"""What every part needs to know of the whole fixture."""

from __future__ import annotations

from collections.abc import Mapping

from trivet.model.design import Design
from trivet.model.outline import Outline
from trivet.record import record
from trivet.solve.board_levels import Boards, boards_at
from trivet.solve.derived import BoltChoice, Derived, FootState, GearState
from trivet.solve.shaft import shafts
from trivet.solve.train_parts import TrainParts, train_parts
from trivet.units import length_text

MM_PER_INCH = 25.4  # exact: international yard and pound agreement of 1959
# Room round heads, nuts, flanges and posts that are let in or pass, diametral, mm (common practice, no source).
HEAD_ROOM_MM = 1.0
# Depth of ticks and marks, mm (common practice, no source).
MARK_DEPTH_MM = 0.5


@record
class PartContext:
    """A design with what was derived, and the parts of both by name. `stacks`: gears of each shaft from the top, by its holder."""

    design: Design
    derived: Derived
    parts: TrainParts
    boards: Boards
    states: Mapping[str, GearState]
    stacks: Mapping[str, tuple[GearState, ...]]
    feet: Mapping[str, FootState]
    bolts: Mapping[str, BoltChoice]

    def cutter_mm(self, name: str) -> float:
        """Diameter of a cutter; 0 for a vee."""
        diameter = self.parts.cutters[name].diameter
        return diameter.mm if diameter is not None else 0.0

    def size(self, mm: float) -> str:
        """A size for a title, with all its decimals: `8.20 mm`, `0.323 in`."""
        return f"{mm / MM_PER_INCH:.3f} in" if self.design.units == "in" else f"{mm:.2f} mm"

    def length(self, mm: float) -> str:
        """A length in the fixture's unit, without idle zeros: `8.2 mm`, `0.323 in`."""
        return length_text(mm, self.design.units)

    def overall(self, outline: Outline) -> str:
        """The size of an outline: `circle 50 mm`, `slot 90 mm by 8 mm`, `polygon 3.5 in by 2 in`."""
        if outline.shape == "circle":
            return f"circle {self.length(outline.width_mm)}"
        return f"{outline.shape} {self.length(outline.width_mm)} by {self.length(outline.height_mm)}"


def part_context(design: Design, derived: Derived) -> PartContext:
    """The context of a design."""
    return PartContext(
        design=design,
        derived=derived,
        parts=train_parts(design),
        boards=boards_at(design, 0),
        states={state.id: state for state in derived.train.gears},
        stacks=shafts(derived.train),
        feet={foot.gear: foot for foot in (*derived.feet, *derived.climbers)},
        bolts={bolt.part: bolt for bolt in derived.bolts},
    )
