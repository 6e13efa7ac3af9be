"""A part as it is cut: its outline and all work on it, in its own frame."""

from __future__ import annotations

from typing import Literal

from trivet.model.base import Band
from trivet.model.board import Face
from trivet.model.shop import Sheet
from trivet.record import record, replace
from trivet.solve.contour import Contour
from trivet.solve.feature import Feature
from trivet.solve.tab_place import TabPlace

PartKind = Literal["board", "gear", "keeper", "spacer", "helper"]


@record
class PartFeatures:
    """Nominal geometry as the cutter leaves it; the cutter's offset is not applied. Seen from above, mm.

    Frames: a board's (0, 0) is the lower left of its outline's box; gears, keepers, spacers and shop aids have it in their middle, a gear
    turned by its phase. `datum` is the face that everything that goes through is cut from; the other face's drawing is turned over
    about the line x = `flip_x_mm`. `layer` counts the layers of a laminated part from the top, 0 where the part is one sheet;
    `belongs_to` is then the whole part's id. `quantity`: how many are cut alike. `notes`: what could not be drawn, and why.
    `tabs`: bridges that hold it in the sheet, where they are stated and found a place.
    """

    part: str
    kind: PartKind
    sheet: Sheet
    thickness: Band
    datum: Face
    outline: Contour
    outline_title: str
    outline_because: str
    cutter_diameter_mm: float
    features: tuple[Feature, ...]
    flip_x_mm: float = 0.0
    quantity: int = 1
    layer: int = 0
    belongs_to: str = ""
    grain: Literal["x", "y"] | None = None
    notes: tuple[str, ...] = ()
    tabs: tuple[TabPlace, ...] = ()

    @property
    def edge(self) -> Feature:
        """The outline as a cut from the datum face."""
        return Feature(
            "outer_edge", self.datum, None, self.outline, self.outline_title, self.outline_because, self.cutter_diameter_mm
        )

    def on(self, face: Face) -> tuple[Feature, ...]:
        """The work of one face's drawing, the outer edge last: it frees the part."""
        found = tuple(item for item in self.features if (self.datum if item.through else item.face) == face)
        return (*found, self.edge) if face == self.datum else found

    @property
    def faces(self) -> tuple[Face, ...]:
        """The faces that have work, the datum face first."""
        other: Face = "topside" if self.datum == "underside" else "underside"
        return (self.datum, other) if self.on(other) else (self.datum,)


def from_datum(part: PartFeatures) -> PartFeatures:
    """The same part with every cut through it taken from its datum face."""
    return replace(part, features=tuple(replace(f, face=part.datum) if f.through else f for f in part.features))


def one_face(features: tuple[Feature, ...]) -> Face:
    """The datum of a part that may be cut from either face: that of its pockets, the underside where both have some."""
    faces = {item.face for item in features if not item.through}
    return "topside" if faces <= {"topside"} else "underside"
