"""Teeth under a jam, torque, twist and tipping at the edges of what is judged. N, mm, N·mm; by hand."""

from __future__ import annotations

import itertools
import math
from fractions import Fraction
from types import SimpleNamespace as Of
from typing import Any

import pytest
from tests.designs import M8

from trivet.model.base import Band
from trivet.model.outline import Outline, OutlineVertex
from trivet.solve import sway, torque
from trivet.solve.tipping import hold_down_n, support, tip_edges, tipped_edge, weight_of, within_feet
from trivet.solve.tooth_strength import ToothLoad, _load, _materials, _meshes_to_feet, strength_of
from trivet.solve.twist import gap_mm, residual_mm


def tooth(teeth: int = 20, speed: Any = 1, thickness: float = 9.0, path: tuple[str, ...] = ()) -> Any:
    geometry = Of(teeth=teeth, module_mm=6.0, pressure_angle_rad=math.radians(20.0), thickness_mm=thickness, pitch_radius_mm=60.0)
    return Of(geometry=geometry, speed=speed, path=path, face_width=Band(12.0, 12.0, 12.0))


def meshed(a: str, b: str, shared: float | None = None) -> Any:
    return Of(id=f"{a}-{b}", a=a, b=b, overlap_at_least_mm=shared, overlap_at_most_mm=shared)


def load(shared: float | None = None, material: str = "mdf", driver: Any = None, **facts: Any) -> ToothLoad | None:
    gears = {"hub": driver or tooth(), "b": tooth(**facts)}
    derived: Any = Of(train=Of(gear=gears.__getitem__))
    return _load(derived, meshed("hub", "b", shared), "hub", "b", "hub", 6000.0, material)


def test_a_tooth_that_is_judged() -> None:
    """6000 at half a turn over a radius of 60: 200. Half a millimetre of shared face or of tooth still counts, none does not."""
    found = load(driver=tooth(speed=Fraction(1, 2)))
    assert found is not None and (found.gear, found.mate, found.mesh, found.force_n, found.material) == ("b", "hub", "hub-b", 200.0, "mdf")
    thin = load(0.5)
    assert thin is not None and (thin.face_mm, thin.bending, thin.shear) == pytest.approx((0.5, 100.0 / (0.5 * 6.0 * 0.322), 150.0 / 4.5))
    slim = load(thickness=0.5)
    assert slim is not None and slim.shear == pytest.approx(150.0 / 6.0)
    none: list[ToothLoad | None] = [load(0.0), load(-3.0), load(thickness=0.0), load(teeth=7), load(material="oak")]
    none += [load(driver=tooth(speed=None)), load(driver=tooth(speed=Fraction(0)))]
    assert none == [None] * 7


def test_meshes_on_the_way_to_any_foot() -> None:
    """Each once, with the gear nearer to the drive, in the order that feet ask for them; a step on a shaft is no mesh."""
    paths = {"nw": ("hub", "west", "nw"), "sw": ("hub", "west", "low", "sw"), "gone": ()}
    gears = {name: tooth(path=path) for name, path in paths.items()}
    meshes = (meshed("west", "hub"), meshed("nw", "west"), meshed("low", "sw"), meshed("idle", "hub"))
    derived: Any = Of(train=Of(meshes=meshes, gear=gears.__getitem__), feet=tuple(Of(gear=name) for name in ("gone", "nw", "sw")))
    assert [(mesh.id, first) for mesh, first in _meshes_to_feet(derived)] == [("west-hub", "hub"), ("nw-west", "west"), ("low-sw", "low")]


def test_no_strength_without_feet_and_teeth_of_equal_shares_by_name() -> None:
    gears = {name: tooth(path=("hub", name)) for name in ("a", "b")} | {"hub": tooth()}
    meshes = (meshed("hub", "b"), meshed("hub", "a"))
    stock = Of(name=Of(text="ply"), material=Of(text="mdf"))
    design: Any = Of(sheets=(stock,), gears=tuple(Of(name=Of(text=name), stock=Of(text="ply")) for name in gears))
    derived: Any = Of(drives=(), feet=(Of(gear="b"), Of(gear="a")), train=Of(meshes=meshes, gear=gears.__getitem__))
    found = strength_of(design, derived)
    assert found is not None and [(item.gear, item.mate) for item in found.teeth] == [("a", "hub"), ("b", "hub"), ("hub", "a"), ("hub", "b")]
    assert found.torque_nmm == 20_000.0 and found.clutch_nmm == pytest.approx(20_000.0 / found.teeth[0].share)
    derived.feet = ()
    assert strength_of(design, derived) is None


def test_plywood_that_is_not_known_is_the_weakest() -> None:
    names = {"a": "birch_plywood", "b": "odd_plywood", "c": "oak", "d": "", "e": "mdf"}
    sheets = tuple(Of(name=Of(text=name), material=Of(text=text) if text else None) for name, text in names.items())
    design: Any = Of(sheets=sheets, gears=tuple(Of(name=Of(text=f"gear {name}"), stock=Of(text=name)) for name in names))
    assert list(_materials(design).values()) == ["birch_plywood", "unknown_plywood", "oak", "unknown_plywood", "mdf"]


# Torque.
def feet(*places: tuple[float, float], **facts: Any) -> tuple[Any, ...]:
    pad = Of(kind="dome", diameter=None)
    given = {"touches": "pad", "lead_mm": 1.25} | facts
    return tuple(
        Of(id=f"corner.{n}", gear=f"g{n}", x_mm=x, y_mm=y, foot=Of(thread=M8, kind="riding", pad=pad), **given) for n, (x, y) in enumerate(places)
    )


def pressed(*newtons: float) -> Any:
    return Of(loads=tuple(Of(force=Of(value=force), x_mm=0.0, y_mm=0.0, direction="down") for force in newtons))


def test_half_a_newton_is_a_load() -> None:
    state = Of(speed=Fraction(1), path=("hub",), tip_radius_mm=66.0)
    derived: Any = Of(feet=feet((0.0, 0.0)), train=Of(gear=lambda name: state, meshes=()))
    one, many = torque.drive_torque(pressed(0.5), derived), torque.drive_torque(pressed(50.0, 70.0), derived)
    assert one is not None and many is not None and (one.load_n, many.load_n) == (0.5, 120.0)
    assert one.low_nmm is not None and many.low_nmm == pytest.approx(240.0 * one.low_nmm)
    for end in (0, 1):
        half, whole = (torque.lowering_nmm(pressed(force), derived, end) for force in (0.5, 50.0))
        assert half is not None and whole == pytest.approx(100.0 * half)
    # The second of two feet is not turned: nothing can be said of the drive, all of the feet.
    gears = {"g0": state, "g1": Of(speed=None, path=(), tip_radius_mm=66.0)}
    both: Any = Of(feet=feet((0.0, 0.0), (9.0, 0.0)), train=Of(gear=gears.__getitem__, meshes=()))
    found = torque.drive_torque(pressed(30.0, 10.0), both)
    assert found is not None and (found.load_n, found.low_nmm, found.high_nmm, len(found.feet)) == (40.0, None, None, 2)


# Sway: feet that are left out come first, and a screw that is all in its thread.
def test_feet_with_guides_are_left_out_wherever_they_stand(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sway, "boards_at", lambda made, sheets: Of(uppermost_mm=lambda name: 18.0))

    def held(name: str, guide: Any = None, live: Any = (2.0, 13.0)) -> Any:
        return Of(id=name, live_z_mm=live, engagement_at_most_mm=10.0, foot=Of(thread=M8, guide=guide, into=Of(text="deck")))

    pushes = tuple(Of(force=Of(value=40.0), direction=way) for way in ("down", "x"))
    every = (held("a", Of()), held("b", live=None), held("c"), held("d", Of()))
    (found,) = sway.sways(Of(loads=pushes), Of(lift=Of(travel_mm=9.0, height_max_mm=60.0), feet=every))
    assert (found.foot.id, found.free_mm) == ("c", 44.0)
    assert sway.sways(Of(loads=pushes), Of(lift=Of(travel_mm=9.0, height_max_mm=60.0), feet=every[:2])) == ()
    assert sway._free_mm(18.0, 13.5, held("c")) == 0.0 and sway._free_mm(18.0, 17.0, held("c")) == 1.0


# Twist.
def test_feet_that_span_nothing_cannot_rock() -> None:
    line = tuple((float(x), 0.0) for x in (0, 10, 20, 30))
    assert gap_mm(line, (0.0, 5.0, 0.0, 0.0)) == 0.0 and residual_mm(line, (0.1, 0.2, 0.3, 0.4)) == 0.0


# Tipping.
def stands(*places: tuple[float, float]) -> Any:
    return tuple(Of(id=str(n), x_mm=x, y_mm=y) for n, (x, y) in enumerate(places))


def board(x: float, y: float, width: float, height: float, stock: str = "ply") -> Any:
    outline = Outline(shape="rectangle", width_mm=width, height_mm=height)
    return Of(stock=Of(text=stock), outline=outline, layers=1, x_mm=x, y_mm=y)


SQUARE = ((0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0))


def test_two_feet_hold_nothing() -> None:
    """Nor do any in one line: no edge, nothing tips, nothing lies within."""
    down: Any = (Of(force=Of(value=900.0), x_mm=50.0, y_mm=80.0, direction="down"),)
    for places in (SQUARE[:2], ((0.0, 0.0), (50.0, 50.0), (100.0, 100.0)), SQUARE[:1]):
        derived: Any = Of(feet=stands(*places))
        boards: Any = Of(boards=(board(0.0, 0.0, 100.0, 100.0),))
        assert tip_edges(boards, derived, (20.0, 50.0, 10.0)) == () and tipped_edge(derived, (20.0, 50.0, -10.0), down, 50.0) is None
        assert not within_feet(derived.feet, 50.0, 50.0)
    assert len(support(stands(*SQUARE[:2]))) == 2


@pytest.mark.parametrize(("beyond", "reach", "lifts"), [(0.5, 0.5, 20.0 * 50.0 / 0.5), (0.0, 0.0, None), (-9.0, 0.0, None), (40.0, 40.0, 25.0)])
def test_load_that_lifts_the_far_feet(beyond: float, reach: float, lifts: float | None) -> None:
    within = (board(0.0, 0.0, 100.0, 100.0),) if beyond > 0.0 else ()
    boards: Any = Of(boards=(*within, board(0.0, 0.0, 100.0 + beyond, 100.0)))
    found = {edge.feet: edge for edge in tip_edges(boards, Of(feet=stands(*SQUARE)), (20.0, 50.0, 50.0))}
    east = found["1", "2"]
    assert (east.holds_nmm, east.reach_mm, east.lifts_n) == (pytest.approx(1000.0), pytest.approx(reach), None if lifts is None else pytest.approx(lifts))


def test_support_of_feet_anyhow() -> None:
    """Of all orders the same polygon, anticlockwise; what lies on an edge or within it is no corner."""
    places = (*SQUARE, (50.0, 0.0), (50.0, 50.0))
    for order in itertools.permutations(range(len(places))):
        found = support(tuple(Of(id=str(n), x_mm=places[n][0], y_mm=places[n][1]) for n in order))
        assert [foot.id for foot in found] == ["0", "1", "2", "3"]


def test_support_of_many_feet_and_of_one_barely_off_a_line() -> None:
    """A ring of ten with dents between them; 0.004 beside a line of 200 is a corner too."""
    outer = [(100.0 * math.cos(0.2 * math.pi * n), 100.0 * math.sin(0.2 * math.pi * n)) for n in range(10)]
    dents = [(80.0 * math.cos(0.2 * math.pi * n + 0.3), 80.0 * math.sin(0.2 * math.pi * n + 0.3)) for n in range(10)]
    found = [int(foot.id) for foot in support(stands(*outer, *dents))]
    assert found[0] == 5 and found == [(5 + n) % 10 for n in range(10)]
    assert [foot.id for foot in support(stands((0.0, 0.0), (100.0, -0.004), (200.0, 0.0), (100.0, 90.0)))] == ["0", "1", "2", "3"]


def test_the_worst_edge_of_several() -> None:
    """Pushed 100 outwards at 30 above the bench against 20 N in the middle of a square of 100: 3000 − 1000 at each edge along that way."""
    derived: Any = Of(feet=stands(*SQUARE))

    def push(newton: float, way: str, x: float = 0.0, y: float = 0.0) -> Any:
        return Of(force=Of(value=newton), x_mm=x, y_mm=y, direction=way)

    middle = (20.0, 50.0, 50.0)
    assert tipped_edge(derived, middle, (push(100.0, "x"),), 30.0) == (("1", "2"), pytest.approx(2000.0))
    assert tipped_edge(derived, middle, (push(-100.0, "y"),), 30.0) == (("0", "1"), pytest.approx(2000.0))
    # Off its middle the nearer edge gives way first; a load that presses within holds it down.
    assert tipped_edge(derived, (20.0, 10.0, 50.0), (push(100.0, "x"),), 30.0) == (("3", "0"), pytest.approx(2800.0))
    assert tipped_edge(derived, middle, (push(100.0, "x"), push(30.0, "down", 50.0, 50.0)), 30.0) == (("1", "2"), pytest.approx(500.0))
    # Two loads beyond one edge add up.
    down = (push(15.0, "down", 150.0, 50.0), push(6.0, "down", 150.0, 50.0))
    assert tipped_edge(derived, middle, down[:1], 30.0) is None and tipped_edge(derived, middle, down, 30.0) == (("1", "2"), pytest.approx(50.0))
    # Half a moment over is over.
    assert tipped_edge(derived, middle, (push(20.01, "down", 150.0, 50.0),), 30.0) == (("1", "2"), pytest.approx(0.5))


def test_of_feet_equally_far_behind_the_first_by_name() -> None:
    placed = tuple(Of(id=name, x_mm=x, y_mm=y) for name, (x, y) in zip(("c", "d", "b", "a"), SQUARE, strict=True))
    assert hold_down_n(placed, ("c", "d"), 500.0) == ("a", pytest.approx(5.0))


def test_weight_of_a_round_board() -> None:
    """π r² within a hundredth, by chords of a tenth of a millimetre; its centre in its middle."""
    thick = Of(name=Of(text="ply"), material=Of(text="mdf"), layered=lambda n: Band(10.0, 10.0, 10.0))
    disc = board(5.0, 9.0, 40.0, 40.0)
    disc.outline = Outline(shape="circle", width_mm=40.0, height_mm=40.0)
    (weight, x, y), _ = weight_of(Of(boards=(disc,), sheets=(thick,)))
    assert weight == pytest.approx(math.pi * 400 * 10 * 740e-9 * 9.80665, rel=0.01) and (x, y) == pytest.approx((25.0, 29.0))


def test_outlines_that_enclose_nothing_weigh_nothing() -> None:
    """The crossed outline is left out, what follows it counts; half a gram is a weight too."""
    crossed = board(0.0, 0.0, 10.0, 10.0)
    turned = tuple(OutlineVertex(x, y) for x, y in ((0.0, 0.0), (10.0, 10.0), (10.0, 0.0), (0.0, 10.0)))
    crossed.outline = Outline(shape="polygon", width_mm=10.0, height_mm=10.0, vertices=turned)
    thick = Of(name=Of(text="ply"), material=Of(text="mdf"), layered=lambda n: Band(10.0, 10.0, 10.0))
    small = board(20.0, 40.0, 10.0, 6.0)
    found, unknown = weight_of(Of(boards=(crossed, small), sheets=(thick,)))
    assert unknown == "" and found == pytest.approx((10 * 6 * 10 * 740e-9 * 9.80665, 25.0, 43.0))
    assert weight_of(Of(boards=(crossed,), sheets=(thick,))) == (None, "")
