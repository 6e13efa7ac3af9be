"""Two gears at an actual centre distance: pressure angle, contact, clearances, backlash."""

from __future__ import annotations

import math

from trivet.record import record
from trivet.solve.gear_size import ToothGeometry
from trivet.solve.involute import inverse_involute, involute

# Modules and angles that agree to five digits: over 100 mm that is a thousandth of a millimetre.
SAME = 1e-5


@record
class MeshGeometry:
    """Derived values of one external mesh. Pairs are (first gear, second gear). Lengths mm, angles radians.

    `interference_mm` is how far a gear's tip passes the point where the line of action touches the other's base circle:
    positive interferes. `start_pull_mm` is, for each gear, the distance along the line of action from its base circle
    to where the mate's tip begins to touch it; negative when the mate interferes.
    """

    centre_distance_mm: float
    standard_centre_distance_mm: float
    working_angle_rad: float
    working_radii_mm: tuple[float, float]
    path_mm: float
    contact_ratio: float
    start_pull_mm: tuple[float, float]
    start_radius_mm: tuple[float, float]
    tip_limit_mm: tuple[float, float]
    interference_mm: tuple[float, float]
    tip_clearance_mm: tuple[float, float]
    working_depth_mm: float
    backlash_mm: float
    normal_backlash_mm: float
    angular_backlash_rad: tuple[float, float]


def alike(a: ToothGeometry, b: ToothGeometry) -> bool:
    """Whether two gears have one module and one pressure angle, without which they cannot mesh.

    A module written in inches may be that of its mate in mm but for the last digit that was written down.
    """
    pairs = ((a.module_mm, b.module_mm), (a.pressure_angle_rad, b.pressure_angle_rad))
    return all(math.isclose(one, other, rel_tol=SAME) for one, other in pairs)


def standard_centre_distance_mm(a: ToothGeometry, b: ToothGeometry) -> float:
    """m (z1 + z2)/2, whatever the shifts."""
    return a.pitch_radius_mm + b.pitch_radius_mm


def tight_centre_distance_mm(a: ToothGeometry, b: ToothGeometry) -> float:
    """Centre distance without backlash before thinning: inv aw = inv a + 2 tan a (x1 + x2)/(z1 + z2).

    SDP/SI, Table 4-3 (from memory). Shifts so negative that no such distance exists give the one where aw = 0.
    """
    angle, shifts, teeth = a.pressure_angle_rad, a.profile_shift + b.profile_shift, a.teeth + b.teeth
    working = inverse_involute(involute(angle) + 2.0 * math.tan(angle) * shifts / teeth)
    return standard_centre_distance_mm(a, b) * math.cos(angle) / math.cos(working)


def shift_sum_for_centre_distance(a: ToothGeometry, b: ToothGeometry, centre_distance_mm: float) -> float | None:
    """x1 + x2 that leaves no backlash at a centre distance; None when it is below the sum of the base radii."""
    working = working_angle_rad(a, b, centre_distance_mm)
    if working is None:
        return None
    angle = a.pressure_angle_rad
    return (a.teeth + b.teeth) * (involute(working) - involute(angle)) / (2.0 * math.tan(angle))


def working_angle_rad(a: ToothGeometry, b: ToothGeometry, centre_distance_mm: float) -> float | None:
    """cos aw = a0 cos a/A; None when the centre distance is below the sum of the base radii."""
    ratio = (a.base_radius_mm + b.base_radius_mm) / centre_distance_mm if centre_distance_mm > 0.0 else math.inf
    return math.acos(ratio) if ratio <= 1.0 else None


def mesh_geometry(a: ToothGeometry, b: ToothGeometry, centre_distance_mm: float) -> MeshGeometry | None:
    """All derived values; None when the centre distance is too small for any working angle.

    Both gears must have one module and one pressure angle. Tips are where the teeth really end, pointed ones included.
    """
    assert alike(a, b)
    working = working_angle_rad(a, b, centre_distance_mm)
    if working is None:
        return None
    distance, teeth = centre_distance_mm, a.teeth + b.teeth
    whole_line = distance * math.sin(working)
    radii = (distance * a.teeth / teeth, distance * b.teeth / teeth)
    path = a.tip_pull_mm + b.tip_pull_mm - whole_line
    starts = (whole_line - b.tip_pull_mm, whole_line - a.tip_pull_mm)
    limits = (math.hypot(a.base_radius_mm, whole_line), math.hypot(b.base_radius_mm, whole_line))
    tips = (a.reached_tip_radius_mm, b.reached_tip_radius_mm)
    backlash = backlash_mm(a, b, distance, working)
    return MeshGeometry(
        centre_distance_mm=distance,
        standard_centre_distance_mm=standard_centre_distance_mm(a, b),
        working_angle_rad=working,
        working_radii_mm=radii,
        path_mm=path,
        contact_ratio=path / a.base_pitch_mm,
        start_pull_mm=starts,
        start_radius_mm=(math.hypot(a.base_radius_mm, max(starts[0], 0.0)), math.hypot(b.base_radius_mm, max(starts[1], 0.0))),
        tip_limit_mm=limits,
        interference_mm=(tips[0] - limits[0], tips[1] - limits[1]),
        tip_clearance_mm=(distance - tips[0] - b.root_radius_mm, distance - tips[1] - a.root_radius_mm),
        working_depth_mm=tips[0] + tips[1] - distance,
        backlash_mm=backlash,
        normal_backlash_mm=backlash * math.cos(working),
        angular_backlash_rad=(backlash / radii[0], backlash / radii[1]),
    )


def backlash_mm(a: ToothGeometry, b: ToothGeometry, centre_distance_mm: float, working_rad: float) -> float:
    """Backlash on the working circles, exact; negative when the teeth do not fit.

    (2A/(z1 + z2)) [pi − (s1 + s2)/m + (z1 + z2)(inv aw − inv a)]: each gear's angular pitch at its working circle less
    both teeth there, each s(rw) = 2 rw (s/d + inv a − inv aw).
    """
    teeth = a.teeth + b.teeth
    opened = teeth * (involute(working_rad) - involute(a.pressure_angle_rad))
    thick = (a.thickness_mm + b.thickness_mm) / a.module_mm
    return 2.0 * centre_distance_mm / teeth * (math.pi - thick + opened)


def thinning_for_backlash_mm(a: ToothGeometry, b: ToothGeometry, centre_distance_mm: float, wanted_mm: float) -> float | None:
    """Sum of both gears' thinning that gives a wanted backlash at a centre distance, whatever thinning they have now.

    t1 + t2 = j A0/A − (z1 + z2) m (inv aw − inv a) + 2 m (x1 + x2) tan a: `backlash_mm` solved for the thickness.
    Negative when the spread alone gives more than is wanted; None when there is no working angle.
    """
    working = working_angle_rad(a, b, centre_distance_mm)
    if working is None:
        return None
    m, angle = a.module_mm, a.pressure_angle_rad
    opened = (a.teeth + b.teeth) * m * (involute(working) - involute(angle))
    shifted = 2.0 * m * (a.profile_shift + b.profile_shift) * math.tan(angle)
    return wanted_mm * standard_centre_distance_mm(a, b) / centre_distance_mm - opened + shifted


def centre_distance_for_backlash_mm(a: ToothGeometry, b: ToothGeometry, wanted_mm: float) -> float | None:
    """Centre distance at which the pair, thinned as it is, has a wanted backlash >= 0; None when none exists.

    Backlash rises with the centre distance, so it is bracketed and halved. Exact to 1e-9 mm.
    """
    low = a.base_radius_mm + b.base_radius_mm
    if backlash_mm(a, b, low, 0.0) > wanted_mm:
        return None
    high = low
    while (at_high := working_angle_rad(a, b, high)) is None or backlash_mm(a, b, high, at_high) < wanted_mm:
        high *= 1.05
    while high - low > 1e-9:
        middle = (low + high) / 2.0
        angle = working_angle_rad(a, b, middle)
        if angle is None or backlash_mm(a, b, middle, angle) < wanted_mm:
            low = middle
        else:
            high = middle
    return (low + high) / 2.0
