"""How loads that act down are shared over the feet."""

from __future__ import annotations

from collections.abc import Sequence

from trivet.model.design import Design

# Force and its place: N, mm, mm.
Push = tuple[float, float, float]
Point = tuple[float, float]


def pushes_down(design: Design) -> tuple[Push, ...]:
    """The stated loads that act down."""
    return tuple((load.force.value, load.x_mm, load.y_mm) for load in design.loads if load.direction == "down")


def shares(feet: Sequence[Point], pushes: Sequence[Push]) -> tuple[float, ...]:
    """N on each foot: a rigid board on equal springs, which for three feet is plain statics.

    No foot is given less than an even share: a bench is not flat, so a foot that should bear little may bear more.
    """
    if not feet:
        return ()
    total = sum(force for force, _, _ in pushes)
    n = len(feet)
    even = total / n
    x0, y0 = sum(x for x, _ in feet) / n, sum(y for _, y in feet) / n
    arms = [(x - x0, y - y0) for x, y in feet]
    xx = sum(u**2 for u, _ in arms)
    yy = sum(v**2 for _, v in arms)
    xy = sum(u * v for u, v in arms)
    mx = sum(force * (x - x0) for force, x, _ in pushes)
    my = sum(force * (y - y0) for force, _, y in pushes)
    det = xx * yy - xy * xy
    if det > 1e-9 * (xx + yy) ** 2:
        a, b = (mx * yy - my * xy) / det, (my * xx - mx * xy) / det
    elif xx + yy > 0.0:
        # Feet in one line resist along it only.
        square = (xx + yy) ** 2
        a, b = (xx * mx + xy * my) / square, (xy * mx + yy * my) / square
    else:
        return (even,) * n
    return tuple(max(even, even + a * u + b * v) for u, v in arms)
