"""The outline of a gear as a round cutter leaves it, in arcs and lines."""

from __future__ import annotations

import math
from functools import lru_cache

from trivet.record import record
from trivet.solve.contour import Contour, Vertex
from trivet.solve.flank_arcs import flank_arcs
from trivet.solve.gear_size import ToothGeometry
from trivet.solve.root_form import RootForm, root_form

# Shorter pieces (a sharp corner's fillet, a tip that is just pointed) are left out: readers join nearer points.
_SHORTEST_MM = 0.002

_Node = tuple[float, float, float]


@record
class GearOutline:
    """Anticlockwise contour centred on the origin, and what the cutter did. Lengths mm.

    `flank_start_radius_mm`: the involute or radial flank is as designed from there outwards. `bottom_radius_mm`: where
    the root ends up. `flank_deviation_mm`: the largest distance measured between involute and arcs.
    """

    contour: Contour
    full_round: bool
    bottom_radius_mm: float
    flank_start_radius_mm: float
    flank_deviation_mm: float


def gear_outline(gear: ToothGeometry, cutter_radius_mm: float, phase_rad: float = 0.0) -> GearOutline:
    """What is left of the gear when a cutter of that radius (0: sharp) has gone round it; one tooth at `phase_rad`.

    Equal to the designed outline (tip arc, involutes, radial lines below the base circle, root arc) grown and shrunk
    again by the cutter's radius. One tooth is computed and turned, so the cost is linear in teeth.
    """
    root, deviation, nodes = _one_tooth(gear, cutter_radius_mm)
    vertices: list[Vertex] = []
    for k in range(gear.teeth):
        angle = phase_rad + 2.0 * math.pi * k / gear.teeth
        c, s = math.cos(angle), math.sin(angle)
        vertices.extend(Vertex(x * c - y * s, x * s + y * c, bulge) for x, y, bulge in nodes)
    contour = Contour(tuple(vertices))
    return GearOutline(contour, root.full_round, root.bottom_radius_mm, root.contact_radius_mm, deviation)


@lru_cache(maxsize=256)
def _one_tooth(gear: ToothGeometry, cutter_radius_mm: float) -> tuple[RootForm, float, tuple[_Node, ...]]:
    """(root form, flank deviation, nodes anticlockwise from the start of the tooth's own half of the root)."""
    root = root_form(gear, cutter_radius_mm)
    half, deviation = _half_tooth(gear, root, cutter_radius_mm)
    mirrored: list[_Node] = []
    for (x, y, _), (_, _, bulge) in zip(reversed(half[1:]), reversed(half[:-1]), strict=True):
        mirrored.append((x, -y, bulge))
    tip_x, tip_y, _ = half[0]
    tip_angle = math.atan2(tip_y, tip_x)
    if 2.0 * tip_y > _SHORTEST_MM:
        mirrored.append((tip_x, -tip_y, math.tan(tip_angle / 2.0)))
    else:
        half[0] = (gear.reached_tip_radius_mm, 0.0, half[0][2])
    last_x, last_y, _ = half[-1]
    rest = 2.0 * (gear.half_pitch_angle_rad - math.atan2(last_y, last_x))
    closing = -math.tan(_sweep(root, (last_x, last_y)) / 4.0) if root.full_round else math.tan(rest / 4.0)
    if rest * math.hypot(last_x, last_y) > _SHORTEST_MM:
        half[-1] = (last_x, last_y, closing)
    else:
        half.pop()
    return root, deviation, tuple(mirrored + half)


def _half_tooth(gear: ToothGeometry, root: RootForm, cutter_radius_mm: float) -> tuple[list[_Node], float]:
    """Nodes from the tip corner down the anticlockwise side: flank, radial line, and the fillet where there is one."""
    start = gear.base_half_angle_rad
    flank = flank_arcs(gear.base_radius_mm, start, gear.tip_pull_mm, root.contact_pull_mm)
    nodes, deviation = list(flank.nodes), flank.deviation_mm
    if root.contact == "tip":
        nodes, deviation = [(nodes[0][0], nodes[0][1], 0.0)], 0.0
    if root.contact == "radial" and gear.base_radius_mm - root.contact_radius_mm > _SHORTEST_MM:
        nodes.append((root.contact_radius_mm * math.cos(start), root.contact_radius_mm * math.sin(start), 0.0))
    if not root.full_round:
        x, y, _ = nodes[-1]
        bottom = (root.bottom_radius_mm * math.cos(root.centre_angle_rad), root.bottom_radius_mm * math.sin(root.centre_angle_rad))
        if cutter_radius_mm > 0.0 and math.dist((x, y), bottom) > _SHORTEST_MM:
            nodes[-1] = (x, y, -math.tan(_sweep(root, (x, y)) / 4.0))
            nodes.append((*bottom, 0.0))
    return nodes, deviation


def _sweep(root: RootForm, contact: tuple[float, float]) -> float:
    """Angle of the cutter's arc, >= 0: from the contact to the root circle; a full round: to the other contact."""
    angle = root.centre_angle_rad
    cx, cy = root.centre_radius_mm * math.cos(angle), root.centre_radius_mm * math.sin(angle)
    ux, uy, vx, vy = contact[0] - cx, contact[1] - cy, -cx, -cy
    turned = abs(math.atan2(ux * vy - uy * vx, ux * vx + uy * vy))
    return 2.0 * turned if root.full_round else turned
