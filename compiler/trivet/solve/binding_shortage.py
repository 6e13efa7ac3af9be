"""What a mesh, and a closed ring of them, lacks of backlash in many trains at once."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING

from trivet.record import record
from trivet.solve.binding_errors import TrainErrors
from trivet.solve.binding_rings import ErrorMesh, ErrorRing
from trivet.solve.involute import involute

if TYPE_CHECKING:
    from numpy import float64, intp
    from numpy.typing import NDArray

    Floats = NDArray[float64]


@record(eq=False)
class Stand:
    """How the axes of a mesh stand in each train, mm.

    `apart`, `sideways`: how far the second gear's axis is off against the first's, at the far end of the face. `opening`, `skew`: the same
    from the near end to the far. `off_centre`: what both gears are off their axes, `sides`: the errors of their flanks.
    """

    apart: Floats
    sideways: Floats
    opening: Floats
    skew: Floats
    off_centre: Floats
    sides: Floats


def shortage_mm(mesh: ErrorMesh, stand: Stand) -> Floats:
    """Exact, but only where a quick lower bound does not show that backlash is left; -inf there.

    Gears off centre come nearest to their mates once in a turn, both at once sooner or later: the distance less both. A lean moves
    the gears together and sideways by w between the two ends of the face; each flank has half the backlash of its end less or plus w
    there, so the play is min(j0, j1, (j0 + j1)/2 - |w|), j0 and j1 the backlash at the far and the near end.
    """
    import numpy

    nominal = math.hypot(*mesh.along_mm)
    closer = stand.off_centre
    rough = _least(
        _bound(mesh, stand.apart - closer, stand.sides), _bound(mesh, stand.apart - stand.opening - closer, stand.sides), stand.skew
    )
    maybe = numpy.flatnonzero(rough <= 0.0)
    apart, sideways = stand.apart[maybe] + nominal, stand.sideways[maybe]
    opening, skew, closer, sides = stand.opening[maybe], stand.skew[maybe], closer[maybe], stand.sides[maybe]
    far = nominal * _backlash(mesh, numpy.hypot(apart, sideways) - closer, sides)
    near = nominal * _backlash(mesh, numpy.hypot(apart - opening, sideways - skew) - closer, sides)
    exact = -_least(far, near, skew)
    found = numpy.full(rough.size, -math.inf)
    found[maybe] = numpy.where(exact >= 0.0, exact, -math.inf)
    return found


def ring_shortage_mm(ring: ErrorRing, errors: TrainErrors, stands: Sequence[Stand], off_centre: Sequence[Floats]) -> Floats:
    """By how much, at each mesh, the meshes' play together does not take up what the ring is out of phase; -inf where it does.

    A mesh whose axes stand aside by w is w out of phase, and has half its backlash either way at both ends of the face. Round the ring
    phases count with alternating signs; what drawn centres leave must lie between the sums of all lower and of all upper bounds.
    """
    import numpy

    def left(chosen: NDArray[intp] | None) -> Floats:
        """The lesser of the rooms on both sides; bounds on the backlash where nothing is chosen, else the exact one there."""
        high = low = numpy.zeros(())
        for index, sign in zip(ring.meshes, ring.signs, strict=True):
            mesh, stand = errors.meshes[index], stands[index]
            nominal = math.hypot(*mesh.along_mm)
            pick = slice(None) if chosen is None else chosen
            apart, aside, sides = stand.apart[pick], stand.sideways[pick], stand.sides[pick]
            apart_near, aside_near = apart - stand.opening[pick], aside - stand.skew[pick]
            if chosen is None:
                far, near = _bound(mesh, apart, sides), _bound(mesh, apart_near, sides)
            else:
                far = nominal * _backlash(mesh, numpy.hypot(nominal + apart, aside), sides)
                near = nominal * _backlash(mesh, numpy.hypot(nominal + apart_near, aside_near), sides)
            lower = numpy.minimum(far / 2.0 + aside, near / 2.0 + aside_near)
            upper = numpy.minimum(far / 2.0 - aside, near / 2.0 - aside_near)
            high = high + (upper if sign > 0 else lower)
            low = low + (lower if sign > 0 else upper)
        for axis, takes_high, takes_low in ring.off_centre:
            off = off_centre[axis][slice(None) if chosen is None else chosen]
            high, low = high - takes_high * off, low - takes_low * off
        room: Floats = numpy.minimum(high - ring.residual_mm, low + ring.residual_mm)
        return room

    rough = left(None)
    maybe = numpy.flatnonzero(rough <= 0.0)
    found = numpy.full(rough.size, -math.inf)
    if maybe.size:
        # More backlash gives half of itself at each mesh.
        exact = -left(maybe) * (2.0 / len(ring.meshes))
        found[maybe] = numpy.where(exact >= 0.0, exact, -math.inf)
    return found


def _least(far: Floats, near: Floats, skew: Floats) -> Floats:
    import numpy

    found: Floats = numpy.minimum(numpy.minimum(far, near), (far + near) / 2.0 - numpy.abs(skew))
    return found


def _bound(mesh: ErrorMesh, apart_mm: Floats, sides_mm: Floats) -> Floats:
    """At least so much backlash, mm: over the distance it is convex, so it lies above its tangent at the nominal one."""
    import numpy

    nominal = math.hypot(*mesh.along_mm)
    base = mesh.first.base_radius_mm + mesh.second.base_radius_mm
    slope = 2.0 * math.sqrt(max(0.0, 1.0 / base**2 - 1.0 / nominal**2))
    start = float(_backlash(mesh, numpy.array([nominal]), numpy.zeros(1))[0])
    found: Floats = nominal * (start + slope * apart_mm + (2.0 / base) * sides_mm)
    return found


def _backlash(mesh: ErrorMesh, distance_mm: Floats, sides_mm: Floats) -> Floats:
    """Exact backlash over the centre distance: 2 (pi − (s1 + s2)/m)/(z1 + z2) + 2 (inv aw − inv a), and 2 q/cos aw for each gear's q.

    `backlash_mm` of `mesh_geometry`, with tan aw from the base circles; a distance below these leaves no play.
    """
    import numpy

    a, b = mesh.first, mesh.second
    base = a.base_radius_mm + b.base_radius_mm
    tangent = numpy.sqrt(numpy.maximum((distance_mm / base) ** 2 - 1.0, 0.0))
    thick = (a.thickness_mm + b.thickness_mm) / a.module_mm
    fixed = 2.0 * (math.pi - thick) / (a.teeth + b.teeth) - 2.0 * involute(a.pressure_angle_rad)
    found: Floats = fixed + 2.0 * (tangent - numpy.arctan(tangent)) + sides_mm * (2.0 / base)
    return found
