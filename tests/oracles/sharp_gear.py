"""A gear outline with sharp inside corners as a fine polygon, worked without the compiler's code."""

from __future__ import annotations

import math
from typing import Any


def sharp_gear(
    teeth: int,
    module: float,
    angle_deg: float = 20.0,
    shift: float = 0.0,
    thinning: float = 0.0,
    tip_radius: float | None = None,
    root_radius: float | None = None,
    steps: int = 300,
) -> Any:
    """Shapely polygon, one tooth centred on +x; radial line below the base circle; pointed teeth end in a point."""
    from shapely import Polygon

    a = math.radians(angle_deg)
    pitch = module * teeth / 2.0
    base, tip, root = pitch * math.cos(a), pitch + module * (1.0 + shift), pitch - module * (1.25 - shift)
    tip, root = tip if tip_radius is None else tip_radius, root if root_radius is None else root_radius
    thickness = module * (math.pi / 2.0 + 2.0 * shift * math.tan(a)) - thinning
    at_base = thickness / (2.0 * pitch) + math.tan(a) - a

    def half(radius: float) -> float:
        at = math.acos(min(1.0, base / radius))
        return at_base - math.tan(at) + at

    if half(tip) < 0.0:
        low, high = base, tip
        for _ in range(100):
            low, high = ((low + high) / 2, high) if half((low + high) / 2) > 0 else (low, (low + high) / 2)
        tip = low
    start = max(base, root)
    flank = [(root, at_base)] if root < base else []
    flank += [(r, half(r)) for r in (start + (tip - start) * (k / steps) ** 2 for k in range(steps + 1))]
    points: list[tuple[float, float]] = []
    for tooth in range(teeth):
        centre = 2.0 * math.pi * tooth / teeth
        polar = [(r, -h) for r, h in flank]
        polar += [(tip, half(tip) * (2.0 * k / 40 - 1.0)) for k in range(1, 40)]
        polar += [(r, h) for r, h in reversed(flank)]
        ends = flank[0][1], 2.0 * math.pi / teeth - flank[0][1]
        polar += [(root, ends[0] + (ends[1] - ends[0]) * k / 80) for k in range(1, 80)]
        points += [(r * math.cos(centre + t), r * math.sin(centre + t)) for r, t in polar]
    return Polygon(points)
