"""Gears worked out by general libraries in their own way: sympy's algebra for the identities we build on, scipy's quadrature and root
finding for the numbers. Nothing here uses the involute function; a flank is a string unwound from the base circle.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import pytest
import sympy as sp
from scipy.integrate import quad
from scipy.optimize import brentq, minimize_scalar
from tests.designs import design, drive, gear, mesh, tooth_form

from trivet.model.shop import Shop
from trivet.solve.binding import DRAWS, binding
from trivet.solve.flank_arcs import _SPIRAL
from trivet.solve.gear_measure import span_mm
from trivet.solve.gear_size import ToothGeometry
from trivet.solve.involute import inverse_involute, involute
from trivet.solve.mesh_geometry import backlash_mm, mesh_geometry, tight_centre_distance_mm
from trivet.solve.mesh_phase import mesh_residual_pitches, next_phase_rad
from trivet.solve.solve import solve

A, RB, T = sp.symbols("a r_b t", positive=True)
Curve = Callable[[float], tuple[float, float]]

# --- algebra ---


def test_the_involute_function_is_the_unwound_strings_angle() -> None:
    """A string of length rb·t, unwound by t: at radius rb/cos a with tan a = t, its end stands at the angle t − a; d inv/da = tan² a."""
    x, y = RB * (sp.cos(T) + T * sp.sin(T)), RB * (sp.sin(T) - T * sp.cos(T))
    assert sp.simplify(x**2 + y**2 - RB**2 * (1 + T**2)) == 0
    assert sp.simplify(sp.diff(sp.tan(A) - A, A) - sp.tan(A) ** 2) == 0
    turned = (sp.diff(y, T) * x - sp.diff(x, T) * y) / (x**2 + y**2)
    assert sp.simplify(turned - sp.diff(T - sp.atan(T), T)) == 0
    # Length rb t²/2 and curvature 1/(rb t), by which arcs are fitted.
    speed = sp.sqrt(sp.simplify(sp.diff(x, T) ** 2 + sp.diff(y, T) ** 2))
    assert sp.simplify(sp.integrate(speed, (T, 0, T)) - RB * T**2 / 2) == 0


def test_an_arc_through_three_points_of_a_spiral_deviates_by_root_three_over_216() -> None:
    """Largest |s (s − 1/2) (s − 1)|/6 on a unit length: the constant that encloses the search for arcs."""
    s = sp.symbols("s", real=True)
    cubic = s * (s - sp.Rational(1, 2)) * (s - 1) / 6
    most = max(sp.Abs(cubic.subs(s, root)) for root in sp.solve(sp.diff(cubic, s), s))
    assert sp.simplify(most - sp.sqrt(3) / 216) == 0
    assert pytest.approx(float(most), rel=1e-15) == _SPIRAL


def test_backlash_grows_with_the_centres_by_twice_the_tangent_and_its_own_share() -> None:
    """d jt/dA = 2 tan aw + jt/A, exactly: the first-order share of a shift of an axis. And jn = jt cos aw grows by (db1 + db2) d inv."""
    distance, z, fixed, inv0, bases = sp.symbols("A z c i_0 b", positive=True)
    aw = sp.acos(bases / distance)
    jt = 2 * distance / z * (fixed + z * (sp.tan(aw) - aw - inv0))
    assert sp.simplify(sp.diff(jt, distance) - 2 * sp.tan(aw) - jt / distance) == 0
    assert sp.simplify(sp.diff(jt * sp.cos(aw), distance) - 2 * bases * sp.diff(sp.tan(aw) - aw, distance)) == 0


def test_a_distance_along_the_normal_only_turns_an_involute() -> None:
    """q along the normal is the involute begun q/rb further round: why a profile error q changes the normal backlash by 4 q."""
    q = sp.symbols("q", positive=True)
    # The normal is the string itself: its end at length rb t + q is where the string begun q/rb earlier would end.
    angle = T + q / RB
    longer = sp.Matrix([RB * sp.cos(T) + (RB * T + q) * sp.sin(T), RB * sp.sin(T) - (RB * T + q) * sp.cos(T)])
    other = sp.Matrix([RB * (sp.cos(angle) + angle * sp.sin(angle)), RB * (sp.sin(angle) - angle * sp.cos(angle))])
    turn = sp.Matrix([[sp.cos(q / RB), sp.sin(q / RB)], [-sp.sin(q / RB), sp.cos(q / RB)]])
    assert sp.simplify(turn * other - longer) == sp.zeros(2, 1)


@pytest.mark.parametrize(("z", "mate", "share"), [(16, 20, sp.Rational(1, 7)), (17, 31, sp.Rational(3, 11)), (12, 40, sp.Rational(-2, 9))])
def test_phases_in_exact_fractions(z: int, mate: int, share: sp.Rational) -> None:
    """Turns as fractions: a tooth of one in a space of the other, and after lcm(z, z') teeth the same teeth meet again, never before."""
    towards, phase = sp.Rational(1, 5), share / z
    # z (b − t) + z' (b + 1/2 − t') = 1/2, in turns.
    exact = sp.Mod(towards + sp.Rational(1, 2) + (z * (towards - phase) - sp.Rational(1, 2)) / mate, sp.Rational(1, mate))
    found = next_phase_rad(z, 2 * math.pi * float(phase), 2 * math.pi * float(towards), mate)
    assert found == pytest.approx(2 * math.pi * float(exact), abs=1e-12)
    assert mesh_residual_pitches(z, 2 * math.pi * float(phase), 2 * math.pi * float(towards), mate, found) == pytest.approx(0.0, abs=1e-12)
    met = next(teeth for teeth in range(1, z * mate + 1) if teeth % z == 0 and teeth % mate == 0)
    assert met == sp.ilcm(z, mate) == math.lcm(z, mate)


# --- numbers ---


@pytest.mark.parametrize("value", [1e-5, 0.0014, 0.014904384, 0.0343, 0.0988, 0.3, 1.2])
def test_inverse_by_a_root_finder(value: float) -> None:
    found = brentq(lambda angle: math.tan(angle) - angle - value, 1e-6, 1.5, xtol=1e-14, rtol=1e-14)
    assert inverse_involute(value) == pytest.approx(found, abs=1e-11)


def test_involute_by_quadrature() -> None:
    """The integral of tan²."""
    for degrees in (5.0, 14.5, 20.0, 30.0, 45.0):
        area, _ = quad(lambda a: math.tan(a) ** 2, 0.0, math.radians(degrees), epsabs=1e-14)
        assert involute(math.radians(degrees)) == pytest.approx(area, abs=1e-12)


GEARS = [
    ToothGeometry(12, 10.0, profile_shift=0.3, addendum_coefficient=1.0),
    ToothGeometry(20, 5.0, thinning_mm=0.2),
    ToothGeometry(31, 3.0, math.radians(14.5), profile_shift=-0.1),
    ToothGeometry(17, 6.0, math.radians(25.0), profile_shift=0.2, thinning_mm=0.3),
]


@pytest.mark.parametrize("item", GEARS)
def test_tooth_thickness_by_quadrature(item: ToothGeometry) -> None:
    """Along a flank dθ/dr = √(r² − rb²)/(r rb): the half angle of a tooth at the reference circle, less what the flank turns till there."""
    r, rb, m = item.teeth * item.module_mm / 2, item.teeth * item.module_mm / 2 * math.cos(item.pressure_angle_rad), item.module_mm
    thick = m * (math.pi / 2 + 2 * item.profile_shift * math.tan(item.pressure_angle_rad)) - item.thinning_mm
    for radius in (r - 0.3 * m, r, r + 0.5 * m, item.tip_radius_mm):
        turned, _ = quad(lambda x: math.sqrt(x * x - rb * rb) / (x * rb), r, radius, epsabs=1e-13)
        assert item.thickness_at(radius) == pytest.approx(2 * radius * (thick / (2 * r) - turned), abs=1e-9)
    # Over the teeth: a string wound round the base circle from one flank to the other, the jaws at its ends.
    at_base = thick / (2 * r) + quad(lambda x: math.sqrt(x * x - rb * rb) / (x * rb), rb, r, epsabs=1e-13)[0]
    assert span_mm(item, 3) == pytest.approx(rb * (2 * at_base + 2 * 2 * math.pi / item.teeth), abs=1e-8)


def _flank(item: ToothGeometry, centre: tuple[float, float], tooth_at: float, side: float) -> Curve:
    """A flank of a tooth as a curve over the unwound angle."""
    rb = item.base_radius_mm
    r = item.teeth * item.module_mm / 2
    begun = item.thickness_mm / (2 * r) + quad(lambda x: math.sqrt(x * x - rb * rb) / (x * rb), rb, r, epsabs=1e-13)[0]

    def at(t: float) -> tuple[float, float]:
        x, y = rb * (math.cos(t) + t * math.sin(t)), side * (-rb * (math.sin(t) - t * math.cos(t)))
        c, s = math.cos(tooth_at + side * begun), math.sin(tooth_at + side * begun)
        return centre[0] + x * c - y * s, centre[1] + x * s + y * c

    return at


@pytest.mark.parametrize(
    ("a", "b", "opened"),
    [(GEARS[1], ToothGeometry(30, 5.0, thinning_mm=0.1), 0.25), (GEARS[1], ToothGeometry(24, 5.0, profile_shift=0.3), 0.5)],
)
def test_backlash_at_spread_centres_by_turning_curves(a: ToothGeometry, b: ToothGeometry, opened: float) -> None:
    """The second gear is turned till its flank touches: the least angle, seen from its centre, between the curves; found by minimising."""
    distance = tight_centre_distance_mm(a, b) + opened
    expected = mesh_geometry(a, b, distance)
    assert expected is not None
    # A tooth of the first along +x; one of the second half a pitch above the line of centres.
    first = _flank(a, (0.0, 0.0), 0.0, 1.0)
    second_at = math.pi - math.pi / b.teeth
    rb = b.base_radius_mm
    second = _flank(b, (0.0, 0.0), second_at, 1.0)

    def angle(t: float) -> float:
        """How far the second must turn about its centre for its flank to be at this point of the first's."""
        x, y = first(t)
        out = math.hypot(x - distance, y)
        unwound = math.sqrt(max((out / rb) ** 2 - 1.0, 0.0))
        px, py = second(unwound)
        return (math.atan2(y, x - distance) - math.atan2(py, px) + math.pi) % (2 * math.pi) - math.pi

    roll = math.tan(expected.working_angle_rad)
    near = minimize_scalar(angle, bounds=(0.4 * roll, min(1.6 * roll, a.tip_pull_mm / a.base_radius_mm)), method="bounded", options={"xatol": 1e-10})
    one_side = float(near.fun)
    # Both flanks alike: the gear stands evenly in the space.
    assert 2 * one_side * distance * b.teeth / (a.teeth + b.teeth) == pytest.approx(backlash_mm(a, b, distance, expected.working_angle_rad), abs=1e-6)


@pytest.mark.parametrize(("a", "b", "opened"), [(ToothGeometry(30, 6.0), ToothGeometry(80, 6.0), 0.0), (ToothGeometry(16, 4.0), ToothGeometry(40, 4.0), 0.8)])
def test_path_of_contact_by_root_finding(a: ToothGeometry, b: ToothGeometry, opened: float) -> None:
    """Where the common tangent of the base circles leaves each tip circle, by roots; the tangent itself by a root too."""
    distance = a.pitch_radius_mm + b.pitch_radius_mm + opened
    ra, rb = a.base_radius_mm, b.base_radius_mm
    # The line x cos p + y sin p = ra touches the first circle; it touches the second where its distance from (A, 0) is -rb.
    p = brentq(lambda p: distance * math.cos(p) - ra - rb, 0.0, math.pi / 2)

    def along(s: float) -> tuple[float, float]:
        return ra * math.cos(p) - s * -math.sin(p), ra * math.sin(p) + s * -math.cos(p)

    whole = distance * math.sin(p)
    end = brentq(lambda s: math.hypot(*along(s)) - a.tip_radius_mm, 0.0, whole)
    start = brentq(lambda s: math.hypot(along(s)[0] - distance, along(s)[1]) - b.tip_radius_mm, 0.0, whole)
    found = mesh_geometry(a, b, distance)
    assert found is not None
    assert found.path_mm == pytest.approx(end - start, abs=1e-8)
    assert found.contact_ratio == pytest.approx((end - start) / (2 * math.pi * ra / a.teeth), abs=1e-9)


def test_chance_of_binding_by_quadrature() -> None:
    """Holes of both axes somewhere in circles of 0.3 mm: how near they come along one line is the sum of two semicircle laws."""
    facts: dict[str, Any] = {"hole_position_mm": 0.3, "profile_offset_mm": 0.0, "bore_clearance_mm": 0.0, "insert_tilt_deg": 0.0}
    shop = Shop(**facts, moisture_least=8.0, moisture_most=8.0)
    gears = (gear("hub", 20, (0, 0), drive=True), gear("b", 20))
    sample = design(gears, (mesh("hub", "b", 0),), shop=shop, drives=(drive(hole_mm=8.0),), tooth_forms=(tooth_form(backlash=0.2),))
    base = 80 * math.cos(math.radians(20))
    fixed = 0.2 / 80 - 2 * (math.tan(math.radians(20)) - math.radians(20))
    touch = brentq(lambda d: fixed + 2 * (math.tan(math.acos(base / d)) - math.acos(base / d)), base + 1e-9, 80.0)
    lost = 80.0 - touch

    def density(x: float) -> float:
        return 2 / (math.pi * 0.09) * math.sqrt(max(0.09 - x * x, 0.0))

    def beyond(x: float) -> float:
        if x <= -0.3:
            return 1.0
        return quad(density, x, 0.3)[0] if x < 0.3 else 0.0

    chance, _ = quad(lambda x: density(x) * beyond(lost - x), -0.3, 0.3, epsabs=1e-7, limit=200)
    # Five standard errors of the draws, and that axes aside of the line stand a little wider: 0.6² / (2 · 80) mm of 0.6.
    allowed = 5 * math.sqrt(chance * (1 - chance) / DRAWS) + 0.002
    assert 0.03 < chance < 0.3
    assert binding(sample, solve(sample)).chance == pytest.approx(chance, abs=allowed)
