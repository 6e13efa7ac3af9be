"""Phases and closed rings of gears against constructed, simulated cases and a published assembly rule."""

from __future__ import annotations

import math
import random

import pytest
from tests.oracles.polygon_sweep import mesh_sweep

from trivet.solve.gear_size import ToothGeometry
from trivet.solve.mesh_phase import direction_rad, mesh_residual_pitches, next_phase_rad, ring_closure

Point = tuple[float, float]


def kite(across: float) -> tuple[Point, ...]:
    """A, B, D, C with AB = AC = 100, BD = CD = 140 and AD = across."""
    x = (100.0**2 - 140.0**2 + across**2) / (2.0 * across)
    y = math.sqrt(100.0**2 - x**2)
    return (0.0, 0.0), (x, y), (across, 0.0), (x, -y)


KITE_TEETH = (20, 30, 40, 30)


@pytest.mark.parametrize("across", [200.059485, 196.444754, 192.686568])
def test_rings_that_close(across: float) -> None:
    # m 4, 20-30-40-30 kite; constructed and simulated elsewhere, no published example. The centre distance is given to
    # 1e-6 mm, which 3.5 mm of residual per mm (trap noted there) turns into 2e-6 mm of arc.
    ring = ring_closure(KITE_TEETH, kite(across), 4.0)
    assert not ring.locked
    assert ring.residual_arc_mm == pytest.approx(0.0, abs=4e-6)


@pytest.mark.parametrize(("across", "pitches", "arc"), [(180.0, 0.134376, 1.68862), (200.559485, 0.141561, 1.77891)])
def test_rings_that_do_not_close(across: float, pitches: float, arc: float) -> None:
    # Same kite; simulated elsewhere, printed digits.
    ring = ring_closure(KITE_TEETH, kite(across), 4.0)
    assert abs(ring.residual_pitches) == pytest.approx(pitches, abs=6e-7)
    assert ring.residual_arc_mm == pytest.approx(arc, abs=6e-6)


@pytest.mark.parametrize(("by", "fits"), [(0.04, True), (0.05, True), (0.06, False), (0.09, False)])
def test_slack_that_lets_a_ring_assemble(by: float, fits: bool) -> None:
    # Outlines with 0.1 mm in each of four meshes, tried elsewhere: + 0.04 and + 0.05 assemble, + 0.06 and + 0.09 do not.
    assert ring_closure(KITE_TEETH, kite(200.059485 + by), 4.0).assembles((0.1,) * 4) is fits


def test_odd_ring_is_locked() -> None:
    ring = ring_closure((20, 20, 20), ((0.0, 0.0), (80.0, 0.0), (40.0, 69.282)), 4.0)
    assert ring.locked
    assert not ring.assembles((10.0, 10.0, 10.0))


@pytest.mark.parametrize(("corner", "idlers"), [(24, (30, 22)), (25, (31, 23)), (24, (31, 22))])
def test_rectangle_with_idlers(corner: int, idlers: tuple[int, int]) -> None:
    # Corner gears with one idler on each straight side: closes when the four idlers' teeth are even in sum; opposite ones
    # are equal, so always. Simulated elsewhere.
    m = 3.0
    width, depth = (m * (corner + z) for z in idlers)
    centres = (
        (0.0, 0.0),
        (width / 2, 0.0),
        (width, 0.0),
        (width, depth / 2),
        (width, depth),
        (width / 2, depth),
        (0.0, depth),
        (0.0, depth / 2),
    )
    ring = ring_closure((corner, idlers[0], corner, idlers[1]) * 2, centres, m)
    assert ring.residual_arc_mm == pytest.approx(0.0, abs=1e-9)


def test_law_against_walking_round() -> None:
    # Random rings: turn each gear to its neighbour mesh by mesh and read what is left at the last; a second calculation
    # that shares only the single-mesh condition, written out here.
    rng = random.Random(4)
    for _ in range(300):
        count = rng.choice((4, 6, 8))
        teeth = [rng.randint(9, 60) for _ in range(count)]
        angles = sorted(rng.uniform(0.0, 2.0 * math.pi) for _ in range(count))
        centres = [(r * math.cos(t), r * math.sin(t)) for t in angles for r in (rng.uniform(50.0, 200.0),)]
        phase = first = rng.uniform(0.0, 1.0)
        for k in range(count - 1):
            b = math.atan2(centres[k + 1][1] - centres[k][1], centres[k + 1][0] - centres[k][0])
            phase = b + math.pi + (teeth[k] * (b - phase) - math.pi) / teeth[k + 1]
        b = math.atan2(centres[0][1] - centres[-1][1], centres[0][0] - centres[-1][0])
        left = (teeth[-1] * (b - phase) + teeth[0] * (b + math.pi - first) - math.pi) / (2.0 * math.pi)
        left = abs(left - round(left))
        assert abs(ring_closure(teeth, centres, 1.0).residual_pitches) == pytest.approx(left, abs=1e-9)
        assert abs(mesh_residual_pitches(teeth[-1], phase, b, teeth[0], first)) == pytest.approx(left, abs=1e-9)


def test_a_tooth_faces_a_space() -> None:
    # 20 teeth with one tooth at +x meeting 30 teeth on its right: there the mate's space looks at -x.
    phase = next_phase_rad(20, 0.0, 0.0, 30)
    pitch = 2.0 * math.pi / 30
    assert (math.pi - phase) % pitch == pytest.approx(pitch / 2.0)
    assert mesh_residual_pitches(20, 0.0, 0.0, 30, phase) == pytest.approx(0.0, abs=1e-12)
    assert abs(mesh_residual_pitches(20, 0.0, 0.0, 30, phase + pitch / 4.0)) == pytest.approx(0.25)


@pytest.mark.parametrize(("planets", "clear"), [(3, True), (4, True), (5, False), (6, False)])
def test_neighbours_that_must_not_touch(planets: int, clear: bool) -> None:
    # SDP/SI, p. T-116, eq. 13-9 and 13-10 (seen): zb + 2 < (za + zb) sin(180 deg/N), za 20, zb 30: 43.301, 35.355,
    # 29.389, 25.000 against 32.
    sun, planet = ToothGeometry(20, 4.0), ToothGeometry(30, 4.0)
    reach = sun.pitch_radius_mm + planet.pitch_radius_mm
    places = [(reach * math.cos(2 * math.pi * k / planets), reach * math.sin(2 * math.pi * k / planets)) for k in range(2)]
    assert (math.dist(*places) > 2.0 * planet.tip_radius_mm) is clear


def test_outlines_in_phase_do_not_overlap() -> None:
    # The kite that closes, thinned 0.02 each: no mesh may overlap; drawn in phase and cut apart here.
    from shapely import Polygon

    from trivet.solve.gear_outline import gear_outline

    centres = kite(200.059485)
    gears = [ToothGeometry(z, 4.0, thinning_mm=0.02) for z in KITE_TEETH]
    phases = [0.1]
    for k in range(3):
        b = direction_rad(centres[k], centres[k + 1])
        phases.append(next_phase_rad(KITE_TEETH[k], phases[-1], b, KITE_TEETH[k + 1]))
    shapes = [
        Polygon(gear_outline(g, 1.5, p).contour.translated(*c).points(0.0005))
        for g, p, c in zip(gears, phases, centres, strict=True)
    ]
    for k in range(4):
        assert shapes[k].intersection(shapes[(k + 1) % 4]).area == 0.0
    assert mesh_sweep(gears[0], gears[1], 100.0, 1.5).overlap_mm2 == 0.0
