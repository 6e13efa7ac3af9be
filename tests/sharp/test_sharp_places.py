"""Where gears stand and how they are turned: places by hand from stated angles, both ways round, and rings closed by hand. Lengths mm."""

from __future__ import annotations

import math
from typing import Any

import pytest
from tests.designs import design, gear, mesh, ring

from trivet.solve.mesh_phase import direction_rad, mesh_residual_pitches
from trivet.solve.phases import Phases, _ring, solve_phases
from trivet.solve.placement import Placement, solve_placement
from trivet.solve.ring_circle import ring_radius_mm
from trivet.solve.train_graph import TrainGraph, train_graph

# Gears of 20 and 30 teeth, module 4: 40 and 60 to the pitch point.
SLANT = (80.0 * math.cos(math.radians(30.0)), 40.0)


def placed(gears: tuple[Any, ...], meshes: tuple[Any, ...] = (), rings: tuple[Any, ...] = (), unit: str = "mm") -> Placement:
    made = design(gears, meshes, rings)
    return solve_placement(train_graph(made), made.rings, unit)


def graph_of(gears: tuple[Any, ...], meshes: tuple[Any, ...] = (), rings: tuple[Any, ...] = ()) -> TrainGraph:
    return train_graph(design(gears, meshes, rings))


def kinds(found: Placement) -> list[tuple[str, str]]:
    return [(fault.kind, fault.gear) for fault in found.faults]


def test_a_mesh_places_either_of_its_gears() -> None:
    """Stated from the one that stands, and from the one that does not: then it stands at the opposite side."""
    there = placed((gear("a", 20, (10, 20), drive=True), gear("b", 20)), (mesh("a", "b", 30.0),))
    back = placed((gear("a", 20, (10, 20), drive=True), gear("b", 20)), (mesh("b", "a", 30.0),))
    assert there.places["b"] == pytest.approx((10 + SLANT[0], 20 + SLANT[1])) and back.places["b"] == pytest.approx((10 - SLANT[0], 20 - SLANT[1]))
    assert there.placed_by == back.placed_by == frozenset({("a", "b")}) and there.faults == back.faults == ()
    assert there.places["a"] == (10, 20)


def test_meshes_without_an_angle_are_passed_over() -> None:
    """The first of three states none: the others still place, one after another, and a shaft puts its gear on the same place."""
    found = placed(
        (gear("a", 20, (0, 0), drive=True), gear("b", 20, (80, 0)), gear("c", 30), gear("d", 20), gear("e", 20, shaft="d")),
        (mesh("a", "b"), mesh("b", "c", 90.0), mesh("c", "d", 180.0)),
    )
    assert found.faults == () and found.placed_by == frozenset({("b", "c"), ("c", "d")})
    assert [found.places[name] for name in "cde"] == [pytest.approx((80, 100)), pytest.approx((-20, 100)), pytest.approx((-20, 100))]
    assert list(found.places) == ["a", "b", "c", "d", "e"]


def test_stated_places_win_and_are_compared() -> None:
    """Three of the four angles are out, those of gears stated where they should not be; the second one is right."""
    found = placed(
        (gear("a", 20, (0, 0), drive=True), gear("b", 20, (83, 0)), gear("c", 20, (0, 80)), gear("d", 20, (0, -84)), gear("e", 20, (85, 80))),
        (mesh("a", "b", 0.0), mesh("a", "c", 90.0), mesh("d", "a", 90.0), mesh("c", "e", 0.0)),
    )
    assert found.places["b"] == (83, 0) and found.placed_by == frozenset()
    # Each mesh is compared once, from the gear that it is stated from.
    assert kinds(found) == [("two_places", "b"), ("two_places", "e"), ("two_places", "a")]
    assert found.faults[0].message == "`b` stands at (83 mm, 0 mm); its mesh with `a` puts it at (80 mm, 0 mm), 3 mm away"
    assert found.faults[2].message == "`a` stands at (0 mm, 0 mm); its mesh with `d` puts it at (0 mm, -4 mm), 4 mm away"
    assert [(fault.measured_mm, fault.allowed_mm) for fault in found.faults] == [(3, 0.01), (pytest.approx(5), 0.01), (pytest.approx(4), 0.01)]


@pytest.mark.parametrize(("off", "faults"), [(0.0099, 0), (-0.0099, 0), (0.0101, 1), (-0.0101, 1)])
def test_places_agree_to_a_hundredth(off: float, faults: int) -> None:
    assert len(placed((gear("a", 20, (0, 0), drive=True), gear("b", 20, (80 + off, 0))), (mesh("a", "b", 0.0),)).faults) == faults
    # The same on a shaft, and of a centre distance without an angle.
    assert len(placed((gear("a", 20, (0, 0), drive=True), gear("b", 20, (off, 0), shaft="a"))).faults) == faults
    stated = (mesh("a", "b", distance=80),)
    assert len(placed((gear("a", 20, (0, 0), drive=True), gear("b", 20, (0, 80 + off))), stated).faults) == faults


def test_two_gears_on_a_shaft_are_compared_once() -> None:
    found = placed((gear("b", 20, (0, 0), drive=True), gear("a", 20, (3, 4), shaft="b"), gear("c", 20, (0, 0), shaft="b")))
    # From the first by name to the others: b stands 5 from a, c agrees with b.
    assert [fault.message for fault in found.faults] == ["`b` stands at (0 mm, 0 mm); its shaft with `a` puts it at (3 mm, 4 mm), 5 mm away"]
    assert found.faults[0].gear == "b"


def test_distances_that_places_do_not_keep() -> None:
    """Of five pairs two are out: those before them agree, state no distance, or have an angle that tells already."""
    gears = (
        gear("a", 20, (0, 0), drive=True), gear("b", 20, (80, 0)), gear("c", 20, (0, 80)), gear("d", 20, (0, -80)), gear("e", 20, (-82, 0)),
        gear("f", 20),
    )  # fmt: skip
    found = placed(
        gears,
        (mesh("a", "b"), mesh("a", "c", 90.0, distance=81), mesh("a", "d", distance=80), mesh("a", "e", distance=80), mesh("a", "f", 10.0)),
    )
    assert kinds(found) == [("two_places", "c"), ("two_places", "a")]
    assert found.faults[1].message == "`a` and `e` stand 82 mm apart; their mesh states 80 mm"
    assert (found.faults[1].measured_mm, found.faults[1].allowed_mm) == (82, 80)
    # A gear without a place has none to compare. Where the second one's place is stated, the first is to be moved, else the second.
    none = placed((gear("a", 20, (0, 0), drive=True), gear("b", 20)), (mesh("a", "b", distance=80),))
    assert kinds(none) == [("no_place", "b")]
    none = placed((gear("b", 20, (0, 0), drive=True), gear("a", 20)), (mesh("a", "b", distance=80),))
    assert kinds(none) == [("no_place", "a")]
    both = (gear("a", 20, (90, 0)), gear("b", 20), gear("c", 20, (0, 0), drive=True))
    derived = placed(both, (mesh("c", "b", 0.0), mesh("a", "b", distance=11)))
    assert kinds(derived) == [("two_places", "b")]
    inches = placed((gear("a", 20, (0, 0), drive=True), gear("b", 20, (82, 0))), (mesh("a", "b", distance=80),), unit="in")
    assert inches.faults[0].message == "`a` and `b` stand 3.228 in apart; their mesh states 3.15 in"


def test_gears_of_a_ring() -> None:
    """Four equal gears on a square of sides 80: 80/√2 from the middle, anticlockwise from 90°."""
    four = tuple(gear(name, 20, drive=name == "a") for name in "abcd")
    found = placed(four, rings=(ring("r", ("a", "b", "c", "d"), (5, 7), 90.0),))
    reach = 80 / math.sqrt(2)
    wanted = {"a": (5, 7 + reach), "b": (5 - reach, 7), "c": (5, 7 - reach), "d": (5 + reach, 7)}
    assert found.faults == () and found.placed_by == frozenset({("a", "b"), ("b", "c"), ("c", "d"), ("a", "d")})
    for name, at in wanted.items():
        assert found.places[name] == pytest.approx(at)
    # One that stands elsewhere: it is told, and the next ones stand where they should.
    odd = tuple(gear(name, 20, (50, 50) if name == "b" else None, drive=name == "a") for name in "abcd")
    found = placed(odd, rings=(ring("r", ("a", "b", "c", "d"), (5, 7), 90.0),))
    assert kinds(found)[0] == ("two_places", "b") and "ring `r` puts it at (-51.569 mm, 7 mm)" in found.faults[0].message
    assert found.places["b"] == (50, 50) and found.places["c"] == pytest.approx(wanted["c"]) and found.places["d"] == pytest.approx(wanted["d"])
    assert found.placed_by == frozenset({("a", "b"), ("c", "d"), ("a", "d")})


def test_a_ring_that_cannot_stand_hides_no_other() -> None:
    """Two gears make no circle; the ring after it, by name, is placed all the same."""
    gears = tuple(gear(name, 20, drive=name == "a") for name in "abcdef")
    found = placed(gears, rings=(ring("z", ("c", "d", "e", "f")), ring("b", ("a", "b"))))
    assert kinds(found)[0] == ("no_place", "a") and "ring `b` cannot stand on one circle" in found.faults[0].message
    assert {"c", "d", "e", "f"} == set(found.places)
    # Rings in the order of their names: the first one places a gear that both hold.
    both = (ring("z", ("a", "b", "c"), (0, 0)), ring("m", ("a", "d", "e"), (500, 0)))
    found = placed(tuple(gear(name, 20, drive=name == "a") for name in "abcde"), rings=both)
    assert found.places["a"] == pytest.approx((500 + 80 / math.sqrt(3), 0)) and ("two_places", "a") in kinds(found)


LEAST = {"ab": 0.1, "bc": 0.2, "cd": 0.3, "ad": 0.4, "ce": 0.5, "xy": 0.6}
LEAST_MM = {(name[0], name[1]): value for name, value in LEAST.items()}
RHOMBUS = {"a": (0.0, 0.0), "b": (80.0, 0.0), "c": (80.0 + 80.0 * math.cos(1.6), 80.0 * math.sin(1.6)), "d": (80.0 * math.cos(1.6), 80.0 * math.sin(1.6))}


def in_phase(graph: TrainGraph, found: Phases, places: dict[str, tuple[float, float]], a: str, b: str) -> float:
    """How far two gears are from meshing evenly, pitches."""
    towards = direction_rad(places[a], places[b])
    return abs(mesh_residual_pitches(graph.teeth[a].teeth, found.phase_rad[a], towards, graph.teeth[b].teeth, found.phase_rad[b]))


def test_a_rhombus_closes_with_its_last_mesh() -> None:
    graph = graph_of(
        (*(gear(name, 20, drive=name == "a") for name in "abcd"), gear("e", 30), gear("x", 20), gear("y", 25)),
        (mesh("a", "b"), mesh("b", "c"), mesh("c", "d"), mesh("d", "a"), mesh("c", "e"), mesh("x", "y")),
    )
    places = RHOMBUS | {"e": (80.0 + 80.0 * math.cos(1.6), 180.0), "x": (900.0, 0.0), "y": (900.0, 90.0)}
    found = solve_phases(graph, places, LEAST_MM)
    assert found.phase_rad["a"] == 0.0 and found.phase_rad["x"] == 0.0 and set(found.phase_rad) == set("abcdexy")
    out = [in_phase(graph, found, places, a, b) for a, b in ("ab", "ad", "bc", "ce", "xy")]
    assert out == pytest.approx([0.0] * 5, abs=1e-9)
    # An angle of 1.6 instead of a right one: 20 teeth turn by 2 (1.6 − π/2) in all, as gears roll on one another.
    (loop,) = found.loops
    residual = in_phase(graph, found, places, "c", "d")
    away = 20 * 2.0 * (1.6 - math.pi / 2.0) / math.pi
    assert residual == pytest.approx(abs(away - round(away))) and residual > 0.05
    assert sorted(loop.gears) == ["a", "b", "c", "d"] and {loop.gears[0], loop.gears[-1]} == {"c", "d"}
    assert (loop.odd, loop.residual_mm, loop.in_half_pitch) == (False, pytest.approx(residual * math.pi * 4.0), pytest.approx(2.0 * residual))
    assert loop.allowed_mm == pytest.approx(0.5) and found.in_loop == frozenset({("a", "b"), ("b", "c"), ("c", "d"), ("a", "d")})
    # Without a mesh that works nothing closes; without a place a gear has no phase.
    fewer = {key: value for key, value in LEAST_MM.items() if key != ("c", "d")}
    open_ = solve_phases(graph, places, fewer)
    assert open_.loops == () and open_.in_loop == frozenset() and set(open_.phase_rad) == set("abcdexy")
    some = solve_phases(graph, {name: at for name, at in places.items() if name != "a"}, {("b", "c"): 0.2, ("x", "y"): 0.6})
    assert set(some.phase_rad) == set("bcdexy")
    negative = solve_phases(graph, places, {**LEAST_MM, ("a", "b"): -5.0})
    assert negative.loops[0].allowed_mm == 0.0


def test_a_shaft_closes_free_of_residual() -> None:
    """Two pairs of gears, one above the other, on two shafts: by the second shaft the ring assembles whatever the clocking."""
    graph = graph_of(
        (gear("a", 20, drive=True), gear("b", 30), gear("c", 25, shaft="b"), gear("d", 25, shaft="a")),
        (mesh("a", "b"), mesh("c", "d")),
    )
    places = {"a": (0.0, 0.0), "b": (100.0, 0.0), "c": (100.0, 0.0), "d": (0.0, 0.0)}
    found = solve_phases(graph, places, {("a", "b"): 0.1, ("c", "d"): 0.3})
    (loop,) = found.loops
    assert sorted(loop.gears) == ["a", "b", "c", "d"] and (loop.odd, loop.residual_mm, loop.in_half_pitch) == (False, 0.0, 0.0)
    assert loop.allowed_mm == pytest.approx(0.2) and found.in_loop == frozenset({("a", "b"), ("c", "d")})
    # Across the first shaft a tooth lies on the ray of the other's first tooth.
    step = 2.0 * math.pi / 25.0
    assert found.phase_rad["c"] == pytest.approx(found.phase_rad["b"] % step) or found.phase_rad["d"] == pytest.approx(0.0)
    assert in_phase(graph, found, places, "a", "b") == pytest.approx(0.0, abs=1e-9)
    # A pair that a shaft joins is no mesh of a ring, whatever is stated of it besides.
    places |= {"b": (80.0, 0.0), "c": (40.0, 40.0 * math.sqrt(3.0))}
    both = graph_of((gear("a", 20, drive=True), gear("b", 20, shaft="a"), gear("c", 20)), (mesh("a", "b"), mesh("b", "c"), mesh("c", "a")))
    found = solve_phases(both, places, {("a", "b"): 0.1, ("b", "c"): 0.2, ("a", "c"): 0.4})
    assert [(item.odd, item.allowed_mm) for item in found.loops] == [(False, pytest.approx(0.3))]
    # Three on one shaft, of which the middle one holds: no ring.
    three = graph_of((gear("a", 20, drive=True), gear("b", 20, shaft="a"), gear("c", 20, shaft="a")))
    assert solve_phases(three, {name: (0.0, 0.0) for name in "abc"}, {}).loops == ()


def test_a_tooth_lies_over_a_tooth_across_a_shaft() -> None:
    """Two shafts: the first one closes nothing, the second holds a finer gear, a tooth of which lies on the ray of a tooth of its mate."""
    graph = graph_of(
        (gear("a", 20, drive=True), gear("b", 20, shaft="a"), gear("d", 12), gear("c", 60, shaft="d")), (mesh("b", "d"),)
    )
    places = {"a": (0.0, 0.0), "b": (0.0, 0.0), "c": (64.0, 0.0), "d": (64.0, 0.0)}
    found = solve_phases(graph, places, {("b", "d"): 0.2})
    # A tooth of b points at d, a space of d at b: its teeth stand at 15° and every 30°, those of c every 6°, the first at 3°.
    assert [math.degrees(found.phase_rad[name]) for name in "abdc"] == pytest.approx([0.0, 0.0, 15.0, 3.0]) and found.loops == ()


def test_three_gears_in_a_ring_are_odd() -> None:
    graph = graph_of((gear("a", 20, drive=True), gear("b", 20), gear("c", 20)), (mesh("a", "b"), mesh("b", "c"), mesh("c", "a")))
    places = {"a": (0.0, 0.0), "b": (80.0, 0.0), "c": (40.0, 40.0 * math.sqrt(3.0))}
    found = solve_phases(graph, places, {("a", "b"): 0.1, ("b", "c"): 0.1, ("a", "c"): 0.1})
    assert [(loop.odd, loop.allowed_mm) for loop in found.loops] == [(True, pytest.approx(0.15))]
    assert set(found.loops[0].gears) == {"a", "b", "c"}


def test_gears_along_a_tree() -> None:
    """A trunk t, a branch b with leaves x and y, a long branch c, d: the ring through the nearest gear that both hang from."""
    parent = {"t": None, "b": "t", "x": "b", "y": "b", "c": "t", "d": "c", "e": "d"}
    depth = {"t": 0, "b": 1, "x": 2, "y": 2, "c": 1, "d": 2, "e": 3}
    assert _ring("x", "y", parent, depth) == ("x", "b", "y") and _ring("x", "d", parent, depth) == ("x", "b", "t", "c", "d")
    assert _ring("b", "e", parent, depth) == ("b", "t", "c", "d", "e") and _ring("e", "x", parent, depth) == ("e", "d", "c", "t", "b", "x")
    assert _ring("t", "d", parent, depth) == ("t", "c", "d")


def test_circle_of_a_nearly_right_triangle() -> None:
    """R = abc / 4A with Heron's area: nearly half the longest side, a fifth of the sum and more; and of equal sides of 1."""
    a, b, c = 5.0, 4.02, 3.02
    half = (a + b + c) / 2.0
    radius = a * b * c / 4.0 / math.sqrt(half * (half - a) * (half - b) * (half - c))
    assert radius > (a + b + c) / 5.0 and ring_radius_mm((a, b, c)) == pytest.approx(radius, abs=1e-9)
    assert ring_radius_mm((1.0,) * 3) == pytest.approx(1.0 / math.sqrt(3.0)) and ring_radius_mm((0.5,) * 6) == pytest.approx(0.5)


def test_angles_and_distances_of_two_statements() -> None:
    """A second statement of a pair, with a distance and no angle, gives the first its distance."""
    found = placed((gear("a", 20, (0, 0), drive=True), gear("b", 20)), (mesh("a", "b", 90.0), mesh("b", "a", distance=81)))
    assert found.places["b"] == pytest.approx((0, 81)) and found.placed_by == frozenset({("a", "b")}) and found.faults == ()
