"""The plan: boards and gears seen from above, from the outlines as they are cut."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Literal

from trivet.drawing.bounds import Bounds, bounds_of
from trivet.drawing.feature_shapes import path_of, shapes_of
from trivet.drawing.shapes import Path, Shape
from trivet.model.design import Design
from trivet.record import record
from trivet.solve.derived import Derived, GearState
from trivet.solve.feature import Feature
from trivet.solve.part_features import PartFeatures
from trivet.solve.parts import part_features

# Room round everything, mm.
MARGIN_MM = 6.0


@record
class PlanCut:
    """Work on a part: `hidden` where it is not seen from above."""

    shape: Shape
    hidden: bool


@record
class PlanBoard:
    """A board in the world frame."""

    id: str
    outline: Path
    cuts: tuple[PlanCut, ...]


@record
class PlanGear:
    """A gear about its own centre, turned as drawn. `mark_mm`: where on a tooth a dot shows how it turns. Radii in mm.

    `slot`: which gear of its shaft it is, from the top; labels of one shaft stand under each other.
    """

    id: str
    kind: Literal["drive", "idler", "foot"]
    x_mm: float
    y_mm: float
    outline: Path
    cuts: tuple[PlanCut, ...]
    tip_mm: float
    pitch_mm: float
    root_mm: float
    mark_mm: tuple[float, float]
    slot: int


@record
class PlanPlace:
    """Where something else in a board lies: shown only when a finding speaks of it."""

    id: str
    x_mm: float
    y_mm: float
    radius_mm: float


@record
class PlanView:
    """The plan, in the world frame: x to the right, y away, mm."""

    bounds: Bounds
    boards: tuple[PlanBoard, ...]
    gears: tuple[PlanGear, ...]
    places: tuple[PlanPlace, ...]


def plan_view(design: Design, derived: Derived) -> PlanView:
    """Boards from the lowest up, then gears from the lowest level up."""
    parts: dict[str, list[PartFeatures]] = {}
    for part in part_features(design, derived):
        parts.setdefault(part.belongs_to or part.part, []).append(part)
    levels = sorted(derived.boards, key=lambda level: level.z_under_mm)
    boards = tuple(
        _board(level.board.name.text, parts[level.board.name.text], level.board.x_mm, level.board.y_mm)
        for level in levels
        if level.board.name.text in parts
    )
    slots = _slots(derived)
    states = sorted(derived.train.gears, key=lambda state: -state.level)
    gears = tuple(_gear(state, parts[state.id], slots[state.id]) for state in states if state.id in parts)
    return PlanView(_bounds(boards, gears), boards, gears, _places(design))


def _slots(derived: Derived) -> dict[str, int]:
    held: dict[str, int] = {}
    found = {}
    for state in sorted(derived.train.gears, key=lambda item: item.level):
        shaft = state.shaft or state.id
        found[state.id] = held.get(shaft, 0)
        held[shaft] = found[state.id] + 1
    return found


def _board(name: str, layers: Sequence[PartFeatures], x: float, y: float) -> PlanBoard:
    outline = layers[0].outline.translated(x, y)
    cuts = _cuts([item.moved(x, y) for layer in layers for item in layer.features])
    return PlanBoard(name, path_of(outline, name, ""), cuts)


def _gear(state: GearState, layers: Sequence[PartFeatures], slot: int) -> PlanGear:
    shape = state.geometry
    middle = (shape.reached_tip_radius_mm + shape.pitch_radius_mm) / 2.0
    return PlanGear(
        id=state.id,
        kind=state.kind,
        x_mm=state.x_mm,
        y_mm=state.y_mm,
        outline=path_of(layers[0].outline, state.id, ""),
        cuts=_cuts([item for layer in layers for item in layer.features]),
        tip_mm=shape.reached_tip_radius_mm,
        pitch_mm=shape.pitch_radius_mm,
        root_mm=shape.root_radius_mm,
        mark_mm=(middle * math.cos(state.phase_rad), middle * math.sin(state.phase_rad)),
        slot=slot,
    )


def _cuts(features: Sequence[Feature]) -> tuple[PlanCut, ...]:
    """Each shape once, though every layer has it; seen wherever some cut of it is."""
    seen: dict[Shape, bool] = {}
    for item in features:
        hidden = not item.through and item.face == "underside"
        for shape in shapes_of(item, None):
            seen[shape] = seen.get(shape, True) and hidden
    return tuple(PlanCut(shape, hidden) for shape, hidden in seen.items())


def _bounds(boards: Sequence[PlanBoard], gears: Sequence[PlanGear]) -> Bounds:
    boxes = [bounds_of([board.outline]) for board in boards]
    x = [value for box in boxes for value in (box.x_min, box.x_max)]
    y = [value for box in boxes for value in (box.y_min, box.y_max)]
    for gear in gears:
        x += [gear.x_mm - gear.tip_mm, gear.x_mm + gear.tip_mm]
        y += [gear.y_mm - gear.tip_mm, gear.y_mm + gear.tip_mm]
    if not x:
        return Bounds(0.0, 0.0, 100.0, 100.0)
    return Bounds(min(x) - MARGIN_MM, min(y) - MARGIN_MM, max(x) + MARGIN_MM, max(y) + MARGIN_MM)


def _places(design: Design) -> tuple[PlanPlace, ...]:
    found: list[PlanPlace] = []
    for hole in design.holes:
        wide = max(hole.diameter_mm, hole.counterbore.diameter_mm if hole.counterbore is not None else 0.0)
        found += [PlanPlace(at.id, at.x_mm, at.y_mm, wide / 2.0) for at in hole.places]
    for pocket in design.pockets:
        reach = math.hypot(pocket.outline.width_mm, pocket.outline.height_mm) / 2.0
        found += [PlanPlace(at.id, at.x_mm, at.y_mm, reach) for at in pocket.places]
    for magnet in design.magnets:
        found += [PlanPlace(at.id, at.x_mm, at.y_mm, magnet.hole_diameter_mm / 2.0) for at in magnet.places]
    for dowel in design.dowels:
        found += [PlanPlace(at.id, at.x_mm, at.y_mm, dowel.diameter_mm / 2.0) for at in dowel.places]
    for label in design.engravings:
        found += [PlanPlace(at.id, at.x_mm, at.y_mm, label.height.mm) for at in label.places]
    return tuple(found)
