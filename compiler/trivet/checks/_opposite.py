"""Blind cuts of one part that lie over one another, from opposite faces, with little wood left between them."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product

from trivet.checks._cuts import Cut, cuts_of
from trivet.checks._walls import far_apart, wall_mm
from trivet.model.design import Design
from trivet.solve.contour import Contour
from trivet.solve.derived import Derived
from trivet.solve.feature import Round


def opposite_pairs(design: Design, derived: Derived, least_mm: float) -> Iterator[tuple[Cut, Cut, float]]:
    """(cut from the topside, cut from the underside, wood between at the thinnest) where less than `least_mm` stays.

    Gears are left out: their recesses are round one bore. Cuts that meet at the thickest too are meant to: a stepped opening.
    """
    faces: dict[str, tuple[list[tuple[Cut, float]], list[tuple[Cut, float]]]] = {}
    for cut in cuts_of(design, derived):
        depth = cut.feature.depth_mm
        meant = cut.feature.operation != "engrave" and cut.part.kind != "gear"
        if depth is not None and meant and isinstance(cut.feature.shape, (Round, Contour)):
            faces.setdefault(cut.part.part, ([], []))[cut.feature.face != "topside"].append((cut, depth))
    for upper, lower in faces.values():
        for (one, above), (other, below) in product(upper, lower):
            wood, deep = one.part.thickness, above + below
            if wood.least - deep < least_mm - 1e-9 and wood.most > deep and _overlap(one, other):
                yield one, other, wood.least - deep


def _overlap(one: Cut, other: Cut) -> bool:
    first, second = one.feature.shape, other.feature.shape
    assert isinstance(first, (Round, Contour)) and isinstance(second, (Round, Contour))
    if far_apart(first, second, 0.0):
        return False
    wall = wall_mm(first, second)
    return wall is None or wall < 0.0
