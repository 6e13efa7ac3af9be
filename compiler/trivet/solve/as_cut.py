"""General contours as a round cutter leaves them: every inside corner rounded, arcs kept."""

from __future__ import annotations

import math

from trivet.record import record
from trivet.solve.contour import Contour, Vertex
from trivet.solve.corner_fillet import Fillet, corner_fillet, turn_rad
from trivet.solve.segment import Segment

# A turn below this is a smooth join written with rounded coordinates, not a corner.
_SMOOTH_RAD = 1e-4
# Shorter arcs and remnants are left out: readers join points nearer than 0.001 mm.
_SHORTEST_MM = 0.002


@record
class UnreachedCorner:
    """An inside corner (mm) that the cutter does not fit into; it is left in the contour as it was drawn."""

    x_mm: float
    y_mm: float
    words: str


@record
class AsCut:
    """The contour a cutter can leave, and the corners for which no such contour was found."""

    contour: Contour
    unreached: tuple[UnreachedCorner, ...]


def as_cut_outer(contour: Contour, cutter_radius_mm: float) -> AsCut:
    """Material inside the contour, cutter outside.

    Equal to growing by r and shrinking again where nothing is unreached and no neck is narrower than the cutter.
    """
    return _rounded(contour.anticlockwise(), cutter_radius_mm)


def as_cut_inner(contour: Contour, cutter_radius_mm: float) -> AsCut:
    """Pocket or opening, cutter inside.

    Equal to shrinking by r and growing again where nothing is unreached and no neck is narrower than the cutter.
    """
    result = _rounded(contour.anticlockwise().reversed(), cutter_radius_mm)
    return AsCut(result.contour.anticlockwise(), result.unreached)


def narrow_area_mm2(contour: Contour, cutter_radius_mm: float, inside: bool) -> float:
    """Area, mm², by which the rounded contour differs from what the cutter really leaves: necks and unreached corners.

    Worked with chords of 0.001 mm, so a clean contour gives a little above 0, by about its length times 0.001 mm.
    """
    from shapely import Polygon

    result = as_cut_inner(contour, cutter_radius_mm) if inside else as_cut_outer(contour, cutter_radius_mm)
    drawn, left = (Polygon(c.points(0.001)) for c in (contour, result.contour))
    r = cutter_radius_mm * (-1.0 if inside else 1.0)
    # 256 chords in a quarter keep the sagitta of a 10 mm radius under 0.0001 mm.
    true = drawn.buffer(r, quad_segs=256).buffer(-r, quad_segs=256)
    return float(left.symmetric_difference(true).area)


def _rounded(contour: Contour, r: float) -> AsCut:
    """Material on the left of the sense of travel, cutter on the right: right turns are the inside corners."""
    pieces = tuple(contour.segments())
    if r <= 0.0 or not pieces:
        return AsCut(contour, ())
    tight = {k for k, s in enumerate(pieces) if s.bulge < 0.0 and s.is_arc and s.radius_mm < r - 1e-9}
    kept = [k for k in range(len(pieces)) if k not in tight]
    if len(kept) < 2:
        wide = "the cutter is wider than this round"
        return AsCut(contour, tuple(_unreached(pieces[k], wide) for k in sorted(tight)))
    fillets: dict[int, Fillet] = {}
    failed: set[int] = set()
    for place, k in enumerate(kept):
        before = kept[place - 1]
        skipped = (k - before) % len(pieces) != 1
        if not skipped and turn_rad(pieces[before], pieces[k]) > -_SMOOTH_RAD:
            continue
        fillet = corner_fillet(pieces[before], pieces[k], r)
        if fillet is None:
            failed.add(k)
        elif skipped or math.dist(fillet.from_point, fillet.to_point) > _SHORTEST_MM:
            fillets[k] = fillet
    for place, k in enumerate(kept):
        after = kept[(place + 1) % len(kept)]
        if k in fillets and after in fillets and fillets[k].along_after > fillets[after].along_before + 1e-9:
            failed |= {k, after}
    vertices: list[Vertex] = []
    unreached: list[UnreachedCorner] = []
    for place, k in enumerate(kept):
        before, after = kept[place - 1], kept[(place + 1) % len(kept)]
        if k in failed:
            unreached.append(_unreached(pieces[k], "the cutter does not fit into this corner"))
            vertices.extend(_plain(pieces, before, k))
        start = end = None
        if k in fillets and k not in failed:
            start = fillets[k]
            vertices.append(Vertex(*start.from_point, start.bulge))
        if after in fillets and after not in failed:
            end = fillets[after]
        vertices.extend(_trimmed(pieces[k], start, end))
    return AsCut(Contour(tuple(vertices)), tuple(unreached))


def _plain(pieces: tuple[Segment, ...], before: int, after: int) -> list[Vertex]:
    """The pieces strictly between two kept ones, as drawn."""
    count = (after - before) % len(pieces)
    between = [pieces[(before + i) % len(pieces)] for i in range(1, count)]
    return [Vertex(s.x0, s.y0, s.bulge) for s in between]


def _trimmed(piece: Segment, start: Fillet | None, end: Fillet | None) -> list[Vertex]:
    first = start.along_after if start else 0.0
    last = end.along_before if end else 1.0
    if (last - first) * piece.length_mm < _SHORTEST_MM:
        return []
    x, y = start.to_point if start else (piece.x0, piece.y0)
    bulge = math.tan(piece.sweep_rad * (last - first) / 4.0) if piece.is_arc else 0.0
    return [Vertex(x, y, bulge)]


def _unreached(piece: Segment, words: str) -> UnreachedCorner:
    return UnreachedCorner(piece.x0, piece.y0, words)
