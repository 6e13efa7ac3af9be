"""Another direction for a gear that stands in another's way."""

from __future__ import annotations

import math

from trivet.model.design import Design
from trivet.solve.derived import Derived, GearState

# A gear is looked at so far round, in steps of whole degrees (common practice, no source).
FURTHEST_DEG = 45


def turned_away(design: Design, derived: Derived, one: GearState, other: GearState, gap_mm: float) -> str:
    """The nearest whole angle of `other`, or of `one`, at which it is clear of every gear that it does not mesh with; or nothing.

    Only of a gear that one mesh places by an angle and on which nothing else hangs.
    """
    for moved, stays in ((other, one), (one, other)):
        hub = _placed_from(design, moved.id)
        if hub is None:
            continue
        centre = derived.train.gear(hub)
        radius = math.hypot(moved.x_mm - centre.x_mm, moved.y_mm - centre.y_mm)
        now = math.degrees(math.atan2(moved.y_mm - centre.y_mm, moved.x_mm - centre.x_mm))
        away = math.degrees(math.atan2(stays.y_mm - centre.y_mm, stays.x_mm - centre.x_mm))
        sense = 1 if (now - away) % 360.0 < 180.0 else -1
        first = math.floor(now) if sense > 0 else math.ceil(now)
        for step in range(1, FURTHEST_DEG + 1):
            angle = first + sense * step
            x = centre.x_mm + radius * math.cos(math.radians(angle))
            y = centre.y_mm + radius * math.sin(math.radians(angle))
            if all(
                item.id in (moved.id, hub) or math.hypot(item.x_mm - x, item.y_mm - y) >= item.tip_radius_mm + moved.tip_radius_mm + gap_mm
                for item in derived.train.gears
            ):
                return f"`with {moved.id} at {angle % 360} deg` in `mesh {hub}`"
    return ""


def _placed_from(design: Design, name: str) -> str | None:
    """The gear from which a mesh places this one by an angle, where it has no other mesh and shares no shaft."""
    meshes = [mesh for mesh in design.meshes if name in (mesh.a.text, mesh.b.text)]
    shafts = {word for gear in design.gears if gear.on_shaft_with is not None for word in (gear.name.text, gear.on_shaft_with.text)}
    ringed = {gear.text for ring in design.rings for gear in ring.gears}
    if len(meshes) != 1 or name in shafts | ringed:
        return None
    (mesh,) = meshes
    return mesh.a.text if mesh.angle is not None and mesh.b.text == name else None
