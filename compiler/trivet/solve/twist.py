"""What is left of the twist of four or more feet after each is set to the nearest of its steps. Lengths in mm."""

from __future__ import annotations

from collections.abc import Sequence

from trivet.record import record
from trivet.solve.derived import FootState

Point = tuple[float, float]
# A foot that matters less than this for the twist stands (nearly) on the line of two others: nothing rocks about it.
NO_LEVER = 1e-6


@record
class Twist:
    """`residual_mm`: gap under one foot when the others stand, after zeroing tooth by tooth, at worst; `before_gluing_mm`: when the
    hexagons are turned in their gears too. `steps`: (foot, step, step before gluing).
    """

    residual_mm: float
    before_gluing_mm: float
    steps: tuple[tuple[str, float, float], ...]


def levers(feet: Sequence[Point]) -> tuple[float, float, float, float]:
    """How much each of four feet counts in the twist c1 h1 + c2 h2 + c3 h3 + c4 h4, which is zero for feet in a plane.

    Each is twice the signed area of the other three's triangle. In ring order a parallelogram has c, −c, c, −c: h1 + h3 − h2 − h4.
    """
    p, q, r, s = feet

    def area(a: Point, b: Point, c: Point) -> float:
        return (b[0] - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (b[1] - a[1])

    return area(q, r, s), -area(p, r, s), area(p, q, s), -area(p, q, r)


def gap_mm(feet: Sequence[Point], heights: Sequence[float]) -> float:
    """Greatest vertical distance of one of four feet from the plane of the other three."""
    counts = levers(feet)
    twist = abs(sum(count * height for count, height in zip(counts, heights, strict=True)))
    scale = max(abs(count) for count in counts)
    useful = [abs(count) for count in counts if abs(count) > NO_LEVER * scale]
    return twist / min(useful) if useful else 0.0


def residual_mm(feet: Sequence[Point], steps: Sequence[float]) -> float:
    """Gap that may be left when any of the feet may be moved on by its steps.

    The twist moves by count·step, so half the smallest of these may be left. With more than four feet each beyond the first three is
    set to their plane: half the largest step.
    """
    if len(feet) < 4:
        return 0.0
    if len(feet) > 4:
        return max(steps) / 2.0
    counts = levers(feet)
    scale = max(abs(count) for count in counts)
    useful = [(abs(count), step) for count, step in zip(counts, steps, strict=True) if abs(count) > NO_LEVER * scale]
    return min(count * step for count, step in useful) / 2.0 / min(count for count, _ in useful) if useful else 0.0


def twist_of(feet: Sequence[FootState]) -> Twist | None:
    """None with fewer than four feet: three always stand."""
    if len(feet) < 4:
        return None
    places = [(foot.x_mm, foot.y_mm) for foot in feet]
    coarse = [foot.zero_step_mm for foot in feet]
    fine = [foot.lead_mm / foot.zero_clockings for foot in feet]
    return Twist(
        residual_mm(places, coarse),
        residual_mm(places, fine),
        tuple(zip((foot.id for foot in feet), coarse, fine, strict=True)),
    )
