"""Loads, tipping, torque, teeth under a jam and twist of generated and hand-written fixtures: worked out anew, estimates as they are.

Friction (threads 0.08 to 0.24, metal on wood 0.2 to 0.6, wood on wood 0.25 to 0.5), mesh efficiencies (0.85 to 0.95), densities and Lewis's
form factors are figures from memory or assumed, as the library says; the mechanics is derived. N, mm.
"""

from __future__ import annotations

import itertools
import math
from typing import Any

import numpy as np
import pytest
from shapely import MultiPoint
from shapely.affinity import translate
from shapely.geometry import Point
from tests.oracles.recompute_use import LEWIS_Y, LEWIS_Z
from tests.oracles.second_corpus import NAMES, solved
from tests.oracles.second_cuts import sharp
from tests.oracles.second_facts import facts
from tests.oracles.second_teeth import train

from trivet.solve.load_shares import shares
from trivet.solve.sag import sags
from trivet.solve.tipping import hold_down_n, tip_edges, tipped_edge, weight_of, within_feet
from trivet.solve.tooth_strength import driver_torque, strength_of
from trivet.solve.torque import drive_torque, foot_holds, lowering_nmm
from trivet.solve.twist import twist_of

BIRCH_KG_M3, G = 680.0, 9.80665


def close(value: Any) -> Any:
    return pytest.approx(value, rel=1e-6, abs=1e-9)


def places(name: str) -> dict[str, tuple[float, float]]:
    return {gear: train(name).places[gear] for gear in facts(name).feet}


def carried(feet: list[tuple[float, float]], pushes: list[tuple[float, float, float]]) -> list[float]:
    """A rigid board on equal springs: sinks by a + b x + c y so that forces and moments balance; no foot less than an even share."""
    rows = np.array([(1.0, x, y) for x, y in feet])
    force = np.array([(f, f * x, f * y) for f, x, y in pushes]).sum(axis=0)
    sunk = np.linalg.lstsq(rows.T @ rows, force, rcond=1e-12)[0]
    return [max(float(one), force[0] / len(feet)) for one in rows @ sunk]


def check_weight_and_tipping(name: str) -> None:
    f, (design, derived) = facts(name), solved(name)
    weight, unknown = weight_of(design)
    materials = {f.sheet(board).material for board in f.named["boards"].values()}
    if any(material is None or material.text not in ("birch_plywood",) for material in materials):
        assert weight is None and unknown
        return
    assert weight is not None
    total, mx, my = 0.0, 0.0, 0.0
    shapes = []
    for board, made in f.named["boards"].items():
        edge = translate(sharp(made.outline), made.x_mm + made.outline.width_mm / 2, made.y_mm + made.outline.height_mm / 2)
        shapes.append(edge)
        newton = edge.area * f.thick(board) * 1e-9 * BIRCH_KG_M3 * G
        total, mx, my = total + newton, mx + newton * edge.centroid.x, my + newton * edge.centroid.y
    assert weight == pytest.approx((total, mx / total, my / total), rel=1e-3)
    hull = MultiPoint(list(places(name).values())).convex_hull
    corners = list(hull.exterior.coords)[:-1]
    if hull.exterior.is_ccw is False:
        corners.reverse()
    by_place = {(round(x, 6), round(y, 6)): f"{f.held(gear)[1].name.text}.{gear}" for gear, (x, y) in places(name).items()}
    wanted = {}
    for a, b in itertools.pairwise([*corners, corners[0]]):
        along = np.subtract(b, a) / math.dist(a, b)
        inward = np.array([-along[1], along[0]])
        holds = weight[0] * float(inward @ np.subtract((weight[1], weight[2]), a))
        reach = max(-float(inward @ np.subtract(p, a)) for shape in shapes for p in shape.exterior.coords)
        wanted[tuple(by_place[round(x, 6), round(y, 6)] for x, y in (a, b))] = (holds, max(0.0, reach), inward, a)
    got = {edge.feet: edge for edge in tip_edges(design, derived, weight)}
    assert set(got) == set(wanted)
    for feet, edge in got.items():
        holds, reach, _, _ = wanted[feet]
        assert (edge.holds_nmm, edge.reach_mm) == pytest.approx((holds, reach), rel=1e-3, abs=0.2)
        lifts = max(0.0, edge.holds_nmm) / edge.reach_mm if edge.reach_mm > 0 else None
        assert edge.lifts_n == (None if lifts is None else close(lifts))
    # Loads and weight together, each edge tried.
    lift = derived.lift
    height = lift.height_max_mm if lift is not None else 100.0
    worst: tuple[Any, float] | None = None
    for feet, (holds, _, inward, start) in wanted.items():
        moment = holds
        for load in design.loads:
            if load.direction == "down":
                moment += load.force.value * float(inward @ np.subtract((load.x_mm, load.y_mm), start))
            else:
                moment -= abs(load.force.value * inward[0 if load.direction == "x" else 1]) * height
        if moment < 0 and (worst is None or -moment > worst[1]):
            worst = feet, -moment
    tips = tipped_edge(derived, weight, design.loads, height)
    assert (tips is None) == (worst is None)
    if tips is not None and worst is not None:
        assert tips[0] == worst[0] and tips[1] == pytest.approx(worst[1], rel=1e-3)
        far, force = hold_down_n(derived.feet, tips[0], tips[1])
        *_, inward, start = wanted[tips[0]]
        arms = {foot.id: float(inward @ np.subtract((foot.x_mm, foot.y_mm), start)) for foot in derived.feet}
        assert arms[far] == pytest.approx(max(arms.values())) and force * arms[far] == pytest.approx(tips[1])
    middle = hull.centroid
    assert within_feet(derived.feet, middle.x, middle.y) and not within_feet(derived.feet, middle.x + 5000, middle.y)


def check_torque(name: str) -> None:
    f, (design, derived) = facts(name), solved(name)
    pushes = [(load.force.value, load.x_mm, load.y_mm) for load in design.loads if load.direction == "down"]
    feet = places(name)
    even = [(100.0, 7.0, -3.0), (30.0, 200.0, 150.0)]
    assert shares(list(feet.values()), even) == pytest.approx(carried(list(feet.values()), even), rel=1e-6)
    found = drive_torque(design, derived)
    for foot in derived.feet:
        d2 = foot.foot.thread.pitch_diameter_mm or foot.foot.thread.major_mm - 3 * math.sqrt(3) / 8 * foot.foot.thread.pitch_mm
        assert foot_holds(foot) is (foot.lead_mm / math.pi / d2 < 0.08 / math.cos(math.radians(30)))
    if not pushes:
        assert found is None and lowering_nmm(design, derived, 0) is None
        return
    assert found is not None and found.load_n == close(sum(push[0] for push in pushes))
    share = dict(zip(feet, carried(list(feet.values()), pushes), strict=True))
    total, back = [0.0, 0.0], [0.0, 0.0]
    for state, torque in zip(derived.feet, found.feet, strict=True):
        foot, thread = state.foot, state.foot.thread
        force = share[state.gear]
        assert torque.share_n == pytest.approx(force, rel=1e-6)
        d2 = thread.pitch_diameter_mm or thread.major_mm - 3 * math.sqrt(3) / 8 * thread.pitch_mm
        # On an inclined plane wound up, with a wedge's friction; a disc rubs at two thirds of its radius.
        climb = math.atan(thread.lead_mm / math.pi / d2)
        wood = foot.kind == "captured_nut" or state.touches == "gear"
        radius = train(name).teeth[state.gear].tip if wood else thread.major_mm / 4
        if not wood and foot.pad.kind == "disc" and foot.pad.diameter is not None:
            radius = foot.pad.diameter.mm / 2
        path = derived.train.gear(state.gear).path
        meshes = sum(frozenset(step) in f.pairs for step in itertools.pairwise(path))
        speed = abs(float(f.speeds[state.gear]))
        for end, (mu, rubs, passes) in enumerate(((0.08, 0.25 if wood else 0.2, 0.95), (0.24, 0.5 if wood else 0.6, 0.85))):
            slide = math.atan(mu / math.cos(math.radians(30)))
            rub = 2 / 3 * rubs * force * radius
            up = force * d2 / 2 * math.tan(climb + slide) + rub
            assert (torque.low_nmm, torque.high_nmm)[end] == pytest.approx(up, rel=1e-6)
            total[end] += up * speed / passes**meshes
            back[end] += (force * d2 / 2 * math.tan(slide - climb) + rub) * speed / passes**meshes
    assert (found.low_nmm, found.high_nmm) == pytest.approx(tuple(total), rel=1e-6)
    assert [lowering_nmm(design, derived, end) for end in (0, 1)] == pytest.approx(back, rel=1e-6)


def check_teeth_when_a_foot_jams(name: str) -> None:
    f, (design, derived) = facts(name), solved(name)
    drive = f.held(f.drive_gear)[1]
    torque = drive.driver_torque.value * 1000 if drive.driver_torque is not None else 20_000.0
    assert driver_torque(drive)[0] == close(torque)
    strength = strength_of(design, derived)
    if strength is None:
        return
    assert strength.torque_nmm == close(torque)
    worst = 0.0
    for load in strength.teeth:
        mesh = next(item for item in derived.train.meshes if {item.a, item.b} == {load.gear, load.mate})
        teeth = train(name).teeth[load.gear]
        # What the drive turns in, the mesh passes on at its pitch line: by power.
        rim = math.pi * teeth.m * teeth.z * abs(float(f.speeds[load.gear]))
        assert load.force_n == pytest.approx(2 * math.pi * torque / rim, rel=1e-6)
        faces = [mesh.overlap_at_least_mm, mesh.overlap_at_most_mm]
        assert None not in faces and load.face_mm == close(max(0.0, min(faces)))
        if teeth.z >= 16:
            assert load.form_factor == pytest.approx(float(np.interp(teeth.z, LEWIS_Z, LEWIS_Y)), abs=0.004)
        assert load.bending == pytest.approx(load.force_n / load.face_mm / teeth.m / load.form_factor)
        assert load.shear == pytest.approx(1.5 * load.force_n / load.face_mm / teeth.s, rel=1e-6)
        sheet = f.sheet(f.gears[load.gear]).material
        known = sheet is not None and sheet.text == "birch_plywood"
        assert (load.bending_allowed, load.shear_allowed) == ((10.7, 5.5) if known else (3.0, 1.61))
        worst = max(worst, load.bending / load.bending_allowed, load.shear / load.shear_allowed)
    assert strength.clutch_nmm == pytest.approx(torque / worst)
    used = [load.share for load in strength.teeth]
    assert used == sorted(used, reverse=True)
    # Each mesh on the way to a foot, both ways, but those that share no face.
    ways = {frozenset(step) for foot in derived.feet for step in itertools.pairwise(derived.train.gear(foot.gear).path)} & set(f.pairs)
    assert {frozenset((load.gear, load.mate)) for load in strength.teeth} <= ways
    assert len(strength.teeth) + sum(gear in strength.not_judged for pair in ways for gear in pair) >= 2 * len(ways)


def off_plane(three: list[tuple[float, float, float]], one: tuple[float, float, float]) -> float:
    """How far a point stands off the plane of three, along z."""
    rows = [(1.0, x, y) for x, y, _ in three]
    a, b, c = np.linalg.solve(rows, [z for _, _, z in three])
    return abs(float(one[2] - a - b * one[0] - c * one[1]))


def check_twist_left_by_steps(name: str) -> None:
    """Each foot is moved on by its step on a flat bench: half the least gap that this makes anywhere may be left."""
    derived = solved(name)[1]
    twist = twist_of(derived.feet)
    if len(derived.feet) < 4:
        assert twist is None
        return
    assert twist is not None
    steps = [(foot.lead_mm / foot_teeth, foot.lead_mm / foot.zero_clockings) for foot in derived.feet for foot_teeth in [derived.train.gear(foot.gear).gear.z]]
    for index, said in enumerate((twist.residual_mm, twist.before_gluing_mm)):
        if len(derived.feet) > 4:
            assert said == close(max(step[index] for step in steps) / 2)
            continue
        gaps = []
        for moved in range(4):
            stands = [(foot.x_mm, foot.y_mm, steps[k][index] if k == moved else 0.0) for k, foot in enumerate(derived.feet)]
            gaps.append(max(off_plane(stands[:k] + stands[k + 1 :], stands[k]) for k in range(4)))
        assert said == pytest.approx(min(gaps) / 2, rel=1e-6)
    assert [item[1:] for item in twist.steps] == [close(pair) for pair in steps]


# Of birch plywood near 18 mm: bending along and across the face grain, and shear (from memory, as the library says), N/mm².
ALONG, ACROSS, SHEAR = 10_048.0, 7_452.0, 620.0


def bent(size: tuple[float, float], modulus: tuple[float, float], thick: float, feet: Any, load: tuple[float, float, float]) -> float:
    """Sag under a force by least energy on a grid of heights: curvatures by differences, the feet as stiff springs."""
    nx, ny = 34, 26
    hx, hy = size[0] / (nx - 1), size[1] / (ny - 1)
    unit = np.eye(nx * ny).reshape(nx * ny, nx, ny)
    wxx = (unit[:, 2:, :] - 2 * unit[:, 1:-1, :] + unit[:, :-2, :]) / hx**2
    wyy = (unit[:, :, 2:] - 2 * unit[:, :, 1:-1] + unit[:, :, :-2]) / hy**2
    wxy = (unit[:, 1:, 1:] - unit[:, 1:, :-1] - unit[:, :-1, 1:] + unit[:, :-1, :-1]) / hx / hy
    # Half a cell of wood at the edges that run along a curvature.
    side_y, side_x = np.ones(ny), np.ones(nx)
    side_y[[0, -1]] = side_x[[0, -1]] = 0.5
    cube = thick**3 / 12
    matrix = np.zeros((nx * ny, nx * ny))
    for curve, whole, weight in (
        (wxx * side_y[None, None, :], wxx, modulus[0]), (wyy * side_x[None, :, None], wyy, modulus[1]), (wxy, wxy, 4 * SHEAR)
    ):  # fmt: skip
        matrix += weight * cube * hx * hy * curve.reshape(nx * ny, -1) @ whole.reshape(nx * ny, -1).T

    def at_place(x: float, y: float) -> Any:
        i, j = min(int(x / hx), nx - 2), min(int(y / hy), ny - 2)
        u, v = x / hx - i, y / hy - j
        found = np.zeros((nx, ny))
        found[i : i + 2, j : j + 2] = np.outer((1 - u, u), (1 - v, v))
        return found.ravel()

    stiff = 1e3 * float(matrix.diagonal().max())
    for x, y in feet:
        row = at_place(x, y)
        matrix += stiff * np.outer(row, row)
    row = at_place(load[1], load[2])
    return float(row @ np.linalg.solve(matrix, load[0] * row))


def check_sag(name: str) -> None:
    """Within a twelfth: the grid is coarse at the point of the force."""
    f, (design, derived) = facts(name), solved(name)
    found = sags(design, derived)
    for sag in found:
        made = sag.board
        board = made.name.text
        grain = made.grain or f.sheet(made).face_grain
        modulus = (ACROSS, ACROSS) if grain is None else (ALONG, ACROSS) if grain == "x" else (ACROSS, ALONG)
        assert (sag.modulus_x, sag.modulus_y) == modulus
        feet = [(x - made.x_mm, y - made.y_mm) for x, y in places(name).values()]
        load = (sag.load.force.value, sag.load.x_mm - made.x_mm, sag.load.y_mm - made.y_mm)
        size = made.outline.width_mm, made.outline.height_mm
        assert sag.sag_mm == pytest.approx(bent(size, modulus, f.thick(board, -1), feet, load), rel=1 / 12)
    down = [load for load in design.loads if load.direction == "down"]
    sheet = f.sheet(f.named["boards"][f.first_board()]).material
    hull = MultiPoint(list(places(name).values())).convex_hull
    known = sheet is not None and sheet.text == "birch_plywood"
    assert len(found) == (sum(hull.contains(Point(load.x_mm, load.y_mm)) for load in down) if known else 0)


@pytest.mark.parametrize("name", NAMES)
def test_loads(name: str) -> None:
    check_weight_and_tipping(name)
    check_torque(name)
    check_teeth_when_a_foot_jams(name)
    check_twist_left_by_steps(name)
    check_sag(name)
