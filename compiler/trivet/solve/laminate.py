"""A laminated part as the layers it is glued from: each is cut from one sheet, with its share of every depth."""

from __future__ import annotations

import math

from trivet.record import replace
from trivet.solve.contour import Contour
from trivet.solve.feature import Feature, Round
from trivet.solve.part_features import PartFeatures, PartKind, from_datum, one_face
from trivet.solve.plan import inside, to_edge_mm
from trivet.units import length_text

# A cut whose rest in a layer is thinner than this takes the whole layer; one shallower than this leaves it, mm.
_THIN_MM = 0.01
# Arcs are followed by chords this close to them, mm.
_CHORD_MM = 0.01


def layers_of(part: PartFeatures, count: int, unit: str = "mm") -> tuple[PartFeatures, ...]:
    """The layers from the top, `NAME.layer1` and so on; the part itself where it is one sheet. Glue lines are neglected."""
    if count <= 1:
        return (from_datum(replace(part, features=without_covered(part.kind, part.features))),)
    found = []
    for layer in range(1, count + 1):
        mine = without_covered(
            part.kind, tuple(cut for item in part.features if (cut := _share(part, item, layer, count)) is not None)
        )
        blind = {item.face for item in mine if not item.through}
        # All layers from the same face as far as their pockets allow, so that none is turned over by mistake.
        datum = part.datum if part.kind == "board" or not blind or part.datum in blind else one_face(mine)
        found.append(
            from_datum(
                replace(
                    part,
                    part=f"{part.part}.layer{layer}",
                    belongs_to=part.part,
                    layer=layer,
                    thickness=part.sheet.thickness,
                    datum=datum,
                    features=mine,
                    notes=(*part.notes, *_to_finish(part, mine, unit)),
                )
            )
        )
    return tuple(found)


def _to_finish(part: PartFeatures, mine: tuple[Feature, ...], unit: str) -> tuple[str, ...]:
    deepest = max((item.depth_mm for item in part.features if item.drilled and item.depth_mm is not None), default=None)
    if deepest is None or deepest <= part.sheet.thickness.mean or not any(item.drilled for item in mine):
        return ()
    return (f"drilled holes go on into the next layer, to {length_text(deepest, unit)} at most: finish them after gluing",)


def _share(part: PartFeatures, item: Feature, layer: int, count: int) -> Feature | None:
    """What a cut leaves to do in one layer: through it, so deep into it, or nothing."""
    if item.depth_mm is None:
        return item
    sheet = part.sheet.thickness.mean
    before = (layer - 1 if item.face == "topside" else count - layer) * sheet
    depth = item.depth_mm - before
    # A drill goes on into the next layer when the layers are glued; a router cutter works layer by layer.
    if depth <= _THIN_MM or (item.drilled and before):
        return None
    if depth < sheet - _THIN_MM:
        return replace(item, depth_mm=depth)
    return replace(item, depth_mm=None, operation="bore" if isinstance(item.shape, Round) else "opening")


def without_covered(kind: PartKind, features: tuple[Feature, ...]) -> tuple[Feature, ...]:
    """A gear's cuts without round holes that lie wholly inside another cut through it: a bore in a socket that goes through.

    Other parts stay as they are: their holes may be many, and none is made for another.
    """
    if kind != "gear":
        return features
    through = [item for item in features if item.through]
    return tuple(
        item
        for item in features
        if not (
            item.through
            and isinstance(item.shape, Round)
            and any(other is not item and _covers(other, item.shape) for other in through)
        )
    )


def _covers(other: Feature, hole: Round) -> bool:
    shape = other.shape
    if isinstance(shape, Round):
        apart = math.hypot(shape.x_mm - hole.x_mm, shape.y_mm - hole.y_mm)
        return apart + hole.diameter_mm / 2.0 < shape.diameter_mm / 2.0
    if not isinstance(shape, Contour):
        return False
    low_x, low_y, high_x, high_y = shape.bounds
    reach = hole.diameter_mm / 2.0
    if min(hole.x_mm - low_x, high_x - hole.x_mm, hole.y_mm - low_y, high_y - hole.y_mm) <= reach:
        return False
    edge, centre = shape.points(_CHORD_MM), (hole.x_mm, hole.y_mm)
    return inside(centre, edge) and to_edge_mm(centre, edge) >= reach
