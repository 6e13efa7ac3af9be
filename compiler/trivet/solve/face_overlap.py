"""How much face a gear that moves with its foot shares with one that does not, and where that bounds the stroke.

overlap(e) = min(top − e, top of the other) − max(bottom − e, bottom of the other): concave in e, so both ends of the stroke count.
"""

from __future__ import annotations

from trivet.model.design import Design
from trivet.model.train import Gear
from trivet.solve.corner import pick
from trivet.solve.foot_case import Bound, FootSpec, World

# Comfortable: at least 6 mm or half the thinner gear. Hard: 1 mm with every play against us. Common practice, no source.
LEAST_OVERLAP_MM = 6.0
PARTING_OVERLAP_MM = 1.0


def stated_overlap_mm(design: Design, *gears: Gear) -> float | None:
    """The greatest `face_overlap` that the gears' tooth forms state, mm; None where none does."""
    names = {gear.tooth_form.text for gear in gears}
    stated = [form.face_overlap.mm for form in design.tooth_forms if form.name.text in names and form.face_overlap is not None]
    return max(stated, default=None)


def wanted_overlap_mm(one_mm: float, other_mm: float, stated_mm: float | None) -> float:
    """Comfortable overlap of two face widths: as stated, else max(6 mm, half the thinner), never more than the thinner has."""
    thinner = min(one_mm, other_mm)
    return min(stated_mm if stated_mm is not None else max(LEAST_OVERLAP_MM, thinner / 2), thinner)


def overlap_bounds(spec: FootSpec, world: World) -> tuple[Bound, ...]:
    """Bounds of a riding foot from every axially fixed neighbour, comfortable and hard, at both ends."""
    found: list[Bound] = []
    top = world.boards.z[spec.foot.into.text].under_mm
    for state in spec.stack:
        width = pick(state.face_width, world.corner.gear)
        for _, other in world.neighbours.get(state.id, ()):
            fixed = world.fixed.get(other)
            if fixed is None:
                continue
            mate = world.states[other]
            stated = stated_overlap_mm(world.design, state.gear, mate.gear)
            want = wanted_overlap_mm(width, pick(mate.face_width, world.corner.gear), stated)
            least = min(PARTING_OVERLAP_MM, want)
            low, high = fixed.bottom_mm, fixed.top_mm
            if world.corner.worst:
                low, high = fixed.highest_bottom_mm, fixed.lowest_top_mm
            found += [
                Bound("least", "teeth_part", top - width - high + want, False, other, want),
                Bound("most", "teeth_part", top - low - want, False, other, want),
                Bound("least", "teeth_part", top - width - fixed.lowest_top_mm + least, True, other, least),
                Bound("most", "teeth_part", top - fixed.highest_bottom_mm - least, True, other, least),
            ]
        top -= width
    return tuple(found)


def overlap_mm(one: tuple[float, float], other: tuple[float, float]) -> float:
    """Shared length of two (bottom, top) intervals, mm; negative when apart."""
    return min(one[1], other[1]) - max(one[0], other[0])
