"""Backlash with every error, moisture, thinning, speeds, phases and overlaps of small trains: worked out anew, by hand where it can be."""

from __future__ import annotations

import math
from fractions import Fraction
from types import SimpleNamespace as Of
from typing import Any

import pytest
from tests.designs import design, gear, mesh, tooth_form

from trivet.model.base import Ref
from trivet.solve.backlash_budget import Carrying, Cutting, backlash_budget
from trivet.solve.gear_size import ToothGeometry
from trivet.solve.mesh_geometry import (
    MeshGeometry,
    alike,
    centre_distance_for_backlash_mm,
    mesh_geometry,
    shift_sum_for_centre_distance,
)
from trivet.solve.moisture import Movement, movement_of
from trivet.solve.phases import solve_phases
from trivet.solve.speeds import solve_speeds
from trivet.solve.thinning import solve_thinning
from trivet.solve.train_graph import train_graph

A20 = math.radians(20.0)
ONE, TWO = ToothGeometry(20, 4.0, thinning_mm=0.3), ToothGeometry(30, 4.0, thinning_mm=0.1)
BASE = 100.0 * math.cos(A20)


def inv(angle: float) -> float:
    return math.tan(angle) - angle


def backlash(distance: float) -> float:
    """20 and 30 teeth of module 4: the pitch there less both teeth, each s(r) = 2 r (s/d + inv a − inv a_r)."""
    aw = math.acos(BASE / distance)
    teeth = [2 * distance * z / 50 * ((2 * math.pi - t) / (4 * z) + inv(A20) - inv(aw)) for z, t in ((20, 0.3), (30, 0.1))]
    return 2 * math.pi * distance / 50 - sum(teeth)


def meshed(distance: float) -> MeshGeometry:
    found = mesh_geometry(ONE, TWO, distance)
    assert found is not None
    return found


LEAN = Carrying((("hole position", 0.1), ("bore clearance", 0.05)), 0.01, 12.0)
HELD = Carrying((("hole position", 0.2),), 0.02, 5.0)


@pytest.mark.parametrize(("machine", "cutter", "together"), [("router", "four", True), ("table", "four", False), ("router", "six", False)])
def test_every_error_at_once(machine: str, cutter: str, together: bool) -> None:
    cutting = Cutting("four", "router", 0.05, 0.02), Cutting(cutter, machine, 0.08, 0.06)
    found = backlash_budget("a", "b", meshed(100.5), 18.0, cutting, (LEAN, HELD), (6.0, (0.01, 0.02)))
    aw = math.acos(BASE / 100.5)
    per_mm = 2 * math.tan(aw) + backlash(100.5) / 100.5
    cos = math.cos(aw)

    def tilted(angle: float) -> tuple[float, float]:
        return tuple(math.tan(t) * math.hypot(2 * reach * math.tan(angle), 18.0) for t, reach in ((0.01, 12.0), (0.02, 5.0)))

    shares = {
        "hole position of `a`": 0.1 * per_mm, "bore clearance of `a`": 0.05 * per_mm, "hole position of `b`": 0.2 * per_mm,
        "insert tilt of `a`": tilted(aw)[0], "insert tilt of `b`": tilted(aw)[1], "moisture of board and gears": 0.12 * per_mm,
    }  # fmt: skip
    if together:
        shares |= {"profile offset of both gears": 0.26 / cos, "run-out of both gears": 0.08 / cos}
    else:
        shares |= {"profile offset of `a`": 0.10 / cos, "profile offset of `b`": 0.16 / cos, "run-out of `a`": 0.02 / cos, "run-out of `b`": 0.06 / cos}
    got = found.backlash
    assert {what: low for what, low, _ in got.contributors} == pytest.approx(shares)
    assert all(low == high for _, low, high in got.contributors)
    sizes = [low for _, low, _ in got.contributors]
    assert sizes == sorted(sizes, reverse=True)
    assert got.rss_mm == pytest.approx(math.hypot(*shares.values())) and got.nominal_mm == pytest.approx(backlash(100.5))
    # All plays of 0.1 + 0.05 + 0.2 and 6 · 0.02 of moisture; two flanks of offset and half of run-out a gear.
    for sign, worst in ((-1, got.min_mm), (1, got.max_mm)):
        at = math.acos(BASE / (100.5 + sign * 0.47))
        sides = 2 * (0.05 + 0.08) + (0.02 + 0.06)
        assert worst == pytest.approx(backlash(100.5 + sign * 0.47) + sign * (sides / math.cos(at) + sum(tilted(at))))
    leans = 12 * math.tan(0.01), 5 * math.tan(0.02)
    assert found.centre_distance_least_mm == pytest.approx(100.5 - 0.47 - sum(leans))
    assert found.centre_distance_most_mm == pytest.approx(100.5 + 0.47 + sum(leans))
    assert found.centre_distance_likely_mm == pytest.approx(100.5 - math.hypot(0.12, 0.1, 0.05, 0.2, *leans))
    assert found.moisture_mm == pytest.approx(0.12)


@pytest.mark.parametrize(("closer", "swing"), [((0.03, 0.01), 0.18), ((-0.03, 0.01), 0.06), ((-0.03, -0.01), 0.0)])
def test_only_what_closes_the_mesh_swings(closer: tuple[float, float], swing: float) -> None:
    none, sharp = Carrying(()), Cutting("four", "router", 0.0, 0.0)
    found = backlash_budget("a", "b", meshed(100.5), 18.0, (sharp, sharp), (none, none), (6.0, closer))
    assert found.moisture_mm == pytest.approx(swing) and len(found.backlash.contributors) == (1 if swing else 0)
    dry = backlash_budget("a", "b", meshed(100.5), 18.0, (sharp, sharp), (none, none))
    assert dry.moisture_mm == 0.0 and dry.backlash.contributors == () and dry.centre_distance_likely_mm == 100.5


def test_equal_errors_stand_in_the_order_of_their_words() -> None:
    sharp, held = Cutting("four", "router", 0.0, 0.0), Carrying((("hole position", 0.1),))
    found = backlash_budget("b", "a", meshed(100.5), 18.0, (sharp, sharp), (held, held))
    assert [what for what, _, _ in found.backlash.contributors] == ["hole position of `a`", "hole position of `b`"]


def test_moisture_by_hand() -> None:
    # Radii 40 and 60: gears grow by 0.40 · 0.1 … 0.40 · 0.3 + 0.6 · 0.2 … 0.6 · 0.5, the board by 0.02 … 0.05 over 100.
    made = Movement((0.02, 0.05), (0.1, 0.3), (0.2, 0.5))
    assert made.closer_mm((40.0, 60.0)) == pytest.approx((0.12 + 0.30 - 0.02, 0.05 - (0.04 + 0.12)))


@pytest.mark.parametrize(
    ("board", "of_sheet", "angle", "along"),
    [("x", None, 0.0, 1.0), ("x", None, 30.0, 0.75), ("y", None, 30.0, 0.25), ("y", "x", 90.0, 1.0), (None, "x", 60.0, 0.25), (None, "y", 0.0, 0.0)],
)
def test_movement_along_a_line(board: str | None, of_sheet: str | None, angle: float, along: float) -> None:
    # White ash 0.274 across and 0.005 along; plywood 0.0138 and 0.0208; MDF 0.05 either way (the library's).
    def stock(material: str | None) -> Any:
        return Of(material=None if material is None else Of(text=material), face_grain=of_sheet)

    sheets = {"ash": stock("white_ash"), "mdf": stock("mdf"), "ply": stock(None)}
    parts: Any = Of(boards={"deck": Of(stock=Of(text="ash"), grain=board)}, sheets=sheets)
    one, two = (Of(stock=Of(text=name), under=Of(text="deck")) for name in ("mdf", "ply"))
    found = movement_of(one, two, two, math.radians(angle), parts)
    assert found.board == pytest.approx((0.005 * along + 0.274 * (1 - along),) * 2)
    assert (found.first, found.second) == ((0.05, 0.05), (0.0138, 0.0208))
    parts.boards["deck"].grain = sheets["ash"].face_grain = None
    assert movement_of(one, two, one, 0.0, parts).board == (0.005, 0.274)


def test_thinning_asked_by_meshes() -> None:
    forms = (tooth_form(backlash="0.4"), tooth_form("wide", backlash="0.8"))
    gears = gear("a", 20, drive=True), gear("b", 30, tooth_form=Ref("wide")), gear("c", 20), gear("d", 20)
    made = design(gears, (mesh("a", "b"), mesh("b", "c")), tooth_forms=forms)
    graph = train_graph(made)
    # Mean of 0.4 and 0.8 on standard centres: 0.3 each; nearer centres ask for 2 tan a more a mm, to first order.
    found = solve_thinning(graph, {("a", "b"): 100.0, ("b", "c"): 99.9})
    more = (0.1 * 2 * math.tan(A20) + 0.6) / 2
    assert (found["a"], found["d"]) == pytest.approx((0.3, 0.2)) and found["b"] == found["c"] == pytest.approx(more, abs=3e-4)
    # Centres spread by more than the backlash leave the teeth as thick as they are.
    assert solve_thinning(graph, {("a", "b"): 103.0})["a"] == 0.0


def test_modules_alike_to_five_digits() -> None:
    for module, angle, same in ((4.00002, 20.0, True), (4.0001, 20.0, False), (4.0, 20.001, False), (4.0, 20.0001, True)):
        assert alike(ONE, ToothGeometry(30, module, math.radians(angle))) is same


@pytest.mark.parametrize("distance", [99.0, 100.5])
def test_mesh_anew(distance: float) -> None:
    """Tips on the line of action: rb tan aw from the pitch point to the base circle, √(ra² − rb²) from there to the tip."""
    aw = math.acos(BASE / distance)
    (rb1, ra1, rf1), (rb2, ra2, rf2) = ((r * math.cos(A20), r + 4, r - 5) for r in (40.0, 60.0))
    line, up, down = BASE * math.tan(aw), math.sqrt(ra1**2 - rb1**2), math.sqrt(ra2**2 - rb2**2)
    found = meshed(distance)
    assert (found.standard_centre_distance_mm, found.working_angle_rad) == pytest.approx((100.0, aw))
    assert found.working_radii_mm == pytest.approx((distance * 0.4, distance * 0.6)) and found.path_mm == pytest.approx(up + down - line)
    assert found.contact_ratio == pytest.approx((up + down - line) / (4 * math.pi * math.cos(A20)))
    starts = (line - down, line - up)
    assert found.start_pull_mm == pytest.approx(starts)
    assert found.start_radius_mm == pytest.approx((math.hypot(rb1, max(starts[0], 0)), math.hypot(rb2, max(starts[1], 0))))
    limits = math.hypot(rb1, line), math.hypot(rb2, line)
    assert found.tip_limit_mm == pytest.approx(limits) and found.interference_mm == pytest.approx((ra1 - limits[0], ra2 - limits[1]))
    assert found.tip_clearance_mm == pytest.approx((distance - ra1 - rf2, distance - ra2 - rf1))
    assert found.working_depth_mm == pytest.approx(ra1 + ra2 - distance)
    j = backlash(distance)
    assert (found.backlash_mm, found.normal_backlash_mm) == pytest.approx((j, j * math.cos(aw)))
    assert found.angular_backlash_rad == pytest.approx((j / distance / 0.4, j / distance / 0.6))


def test_distances_and_shifts_at_their_limits() -> None:
    for distance in (BASE - 1e-6, 0.0, -1.0):
        assert mesh_geometry(ONE, TWO, distance) is None and shift_sum_for_centre_distance(ONE, TWO, distance) is None
    assert mesh_geometry(ONE, TWO, BASE + 1e-6) is not None
    assert shift_sum_for_centre_distance(ONE, TWO, 102.0) == pytest.approx(50 * (inv(math.acos(BASE / 102)) - inv(A20)) / 2 / math.tan(A20))
    for wanted in (0.0, 0.1, 1.0):
        found = centre_distance_for_backlash_mm(ONE, TWO, wanted)
        assert found is not None and backlash(found) == pytest.approx(wanted, abs=2e-9)
    thin = ToothGeometry(30, 4.0, thinning_mm=4.0)
    assert centre_distance_for_backlash_mm(ONE, thin, 0.1) is None


def test_speeds_paths_and_conflicts() -> None:
    # 1 → −1/2 → 1/3 over the meshes, but the shaft asks for 1.
    made = design((gear("hub", 20, drive=True), gear("b", 40), gear("c", 60, shaft="hub"), gear("far", 20)), (mesh("hub", "b"), mesh("b", "c")))
    found = solve_speeds(train_graph(made))
    assert found.signed == {"hub": 1, "b": Fraction(-1, 2), "c": 1} and found.unreached == ("far",)
    assert found.paths == {"hub": ("hub",), "b": ("hub", "b"), "c": ("hub", "c")}
    (clash,) = found.conflicts
    assert clash.gear == "c" and (clash.speed_one, clash.speed_two) == (1, Fraction(1, 3))
    assert (clash.path_one, clash.path_two) == (("hub", "c"), ("hub", "b", "c"))
    assert solve_speeds(train_graph(design((gear("b", 20), gear("a", 20))))).unreached == ("a", "b")
    agrees = design((gear("hub", 20, drive=True), gear("b", 40), gear("c", 20, shaft="hub")), (mesh("hub", "b"), mesh("b", "c")))
    assert solve_speeds(train_graph(agrees)).conflicts == ()


def rhombus(angle: float, shaft: bool = False) -> Any:
    """Four gears of 20 teeth, sides of 80, at the corners of a rhombus."""
    c, s = 80 * math.cos(math.radians(angle)), 80 * math.sin(math.radians(angle))
    places = {"a": (0.0, 0.0), "b": (80.0, 0.0), "c": (80.0 + c, s), "d": (c, s)}
    names = tuple(places)
    gears = tuple(gear(n, 20, drive=n == "a", shaft="a" if shaft and n == "d" else "") for n in names)
    pairs = [("a", "b"), ("b", "c"), ("c", "d"), *(() if shaft else (("a", "d"),))]
    graph = train_graph(design(gears, tuple(mesh(*sides) for sides in pairs)))
    return solve_phases(graph, places, {(x, y): 0.1 * k for k, (x, y) in enumerate(sorted(pairs), start=1)})


@pytest.mark.parametrize(("angle", "residual"), [(90.0, 0.0), (91.0, 2 / 9), (93.0, 1 / 3), (88.0, 4 / 9)])
def test_rings_that_nearly_close(angle: float, residual: float) -> None:
    """Alternating sum of 20/360 of the angles at the gears: 20 (θ − 90)/90 pitches, to the nearest whole one."""
    found = rhombus(angle)
    (loop,) = found.loops
    assert loop.residual_mm == pytest.approx(residual * math.pi * 4, abs=1e-9) and loop.in_half_pitch == pytest.approx(2 * residual, abs=1e-9)
    assert loop.allowed_mm == pytest.approx(0.5 * (0.1 + 0.2 + 0.3 + 0.4)) and not loop.odd and set(loop.gears) == set("abcd")
    assert found.in_loop == {("a", "b"), ("b", "c"), ("c", "d"), ("a", "d")}
    # The drive's tooth points along +x, to b: there b has a space, so its teeth stand 9° beside 180°.
    assert found.phase_rad["a"] == 0.0 and math.degrees(found.phase_rad["b"]) == pytest.approx(9.0)


def test_a_ring_that_a_shaft_closes() -> None:
    found = rhombus(91.0, shaft=True)
    (loop,) = found.loops
    assert (loop.residual_mm, loop.in_half_pitch, loop.odd) == (0.0, 0.0, True)
    assert loop.allowed_mm == pytest.approx(0.3) and found.in_loop == {("a", "b"), ("b", "c"), ("c", "d")}


def test_negative_backlash_allows_nothing_and_clocked_shafts() -> None:
    places = {"a": (0.0, 0.0), "b": (80.0, 0.0), "c": (40.0, 69.3), "d": (0.0, 0.0)}
    made = design((gear("a", 20, drive=True), gear("b", 20), gear("c", 20), gear("d", 7, shaft="a")), (mesh("a", "b"), mesh("b", "c"), mesh("c", "a")))
    found = solve_phases(train_graph(made), places, {("a", "b"): 0.1, ("b", "c"): 0.1, ("a", "c"): -1.0})
    assert [(loop.odd, loop.allowed_mm) for loop in found.loops] == [(True, 0.0)] and found.phase_rad["d"] == 0.0
    # Without the third mesh there is no ring; without a place there is no phase.
    open_ = solve_phases(train_graph(made), {n: places[n] for n in "abc"}, {("a", "b"): 0.1, ("b", "c"): 0.1})
    assert open_.loops == () and set(open_.phase_rad) == set("abc") and open_.in_loop == frozenset()
    # On the shaft of a gear whose tooth points along 9°, 50 teeth of 7.2° have one along 1.8°.
    made = design((gear("a", 20, drive=True), gear("b", 20), gear("d", 50, shaft="b")), (mesh("a", "b"),))
    clocked = solve_phases(train_graph(made), {"a": (0.0, 0.0), "b": (80.0, 0.0), "d": (80.0, 0.0)}, {("a", "b"): 0.1})
    assert math.degrees(clocked.phase_rad["d"]) == pytest.approx(1.8)
