"""The cuts of a whole sheet as layers, in the order in which they are cut."""

from __future__ import annotations

from collections.abc import Sequence

from trivet.drawing.feature_shapes import shapes_of
from trivet.drawing.part_words import listed
from trivet.drawing.parts import ORDER
from trivet.drawing.shapes import Face
from trivet.drawing.sheet import Layer, Unit, layer_name, stated_depth
from trivet.record import record
from trivet.solve.feature import Feature
from trivet.solve.nest_laid import LaidPart
from trivet.units import length_text

_Key = tuple[int, float]


@record
class Cut:
    """One piece of work of a laid part; `piece` is the part's id, with a number where it is one of several."""

    piece: str
    laid: LaidPart
    feature: Feature


def nested_layers(laid: Sequence[tuple[str, LaidPart]], face: Face, unit: Unit) -> tuple[Layer, ...]:
    """One layer for each work and piece: shallow before deep, bores before openings, outer edges last, the smallest part's first.

    Where parts of a sheet want different cutters for the same work, the layer's name says which: one layer, one cutter.
    """
    by_key: dict[_Key, list[Cut]] = {}
    for piece, item in laid:
        for feature in item.part.on(face):
            by_key.setdefault(_key(feature, unit), []).append(Cut(piece, item, feature))
    found: list[Layer] = []
    for key in sorted(by_key):
        cuts = by_key[key]
        cutters = sorted({_cutter(cut.feature) for cut in cuts}, reverse=True)
        for cutter in cutters:
            suffix = f" {length_text(cutter, unit)} cutter" if len(cutters) > 1 and cutter > 0.0 else ""
            found += _layers([cut for cut in cuts if _cutter(cut.feature) == cutter], face, unit, suffix)
    return tuple(found)


def _layers(cuts: Sequence[Cut], face: Face, unit: Unit, suffix: str) -> list[Layer]:
    first = cuts[0].feature
    name = layer_name(first.operation, face, first.depth_mm, unit=unit) + suffix
    pieces = list(dict.fromkeys(cut.piece for cut in cuts))
    if first.operation == "outer_edge":
        size = {cut.piece: cut.laid.part.outline.area_mm2 for cut in cuts}
        pieces.sort(key=lambda piece: round(size[piece], 3))
    found = []
    for piece in pieces:
        mine = [cut for cut in cuts if cut.piece == piece]
        shapes = tuple(shape for cut in mine for shape in shapes_of(cut.feature, cut.laid.flip_x_mm))
        title = f"{piece}: {listed([cut.feature.title for cut in mine])}"
        found.append(Layer(name, first.operation, face, first.depth_mm, piece, shapes, title))
    return found


def _key(item: Feature, unit: Unit) -> _Key:
    # Deeper work of one kind comes later; through is deepest.
    return ORDER.index(item.operation), stated_depth(item.depth_mm, unit) if item.depth_mm is not None else float("inf")


def _cutter(item: Feature) -> float:
    return round(item.cutter_diameter_mm, 4)
