"""What a fixture does as it stands: weight, sway, sag, twist, torque at the drive, what loosens and what is off flush. Figures by hand."""

from __future__ import annotations

import math
from fractions import Fraction
from types import SimpleNamespace as Of
from typing import Any

import pytest
from tests.designs import M8, mm

from trivet.model.base import Band
from trivet.model.hardware import Thread
from trivet.model.outline import Outline
from trivet.solve import sway, torque
from trivet.solve.sag import sags
from trivet.solve.tipping import _area_and_centre, tip_edges, weight_of
from trivet.solve.twist import gap_mm, levers, residual_mm, twist_of

LEFT = Thread("M8 left", 8.0, 1.25, 1.25, "metric", hand=-1)
D2 = 8.0 - 1.25 * 0.375 * math.sqrt(3)


def named(text: str) -> Any:
    return Of(text=text)


def board(name: str, x: float, y: float, width: float, height: float, stock: str = "ply", layers: int = 1) -> Any:
    outline = Outline(shape="rectangle", width_mm=width, height_mm=height)
    return Of(name=named(name), stock=named(stock), outline=outline, layers=layers, x_mm=x, y_mm=y, grain=None, bow=None)


def sheet(name: str, material: str, mean: float = 18.0) -> Any:
    band = Band(mean, mean - 0.2, mean + 0.2)
    stated = named(material) if material else None
    return Of(name=named(name), material=stated, thickness=band, face_grain=None, layered=lambda n: Band(n * band.mean, n * band.least, n * band.most))


def foot(name: str, x: float, y: float, **facts: Any) -> Any:
    given: dict[str, Any] = {
        "thread": M8, "kind": "riding", "guide": None, "pad": Of(kind="dome", diameter=None, origin=None), "screw": None, "into": named("deck"),
        "origin": None, "insert": None, "zeroed": True, "zeroed_before_gluing": False,
    }  # fmt: skip
    state: dict[str, Any] = {
        "touches": "pad", "lead_mm": 1.25, "zero_step_mm": 1.25 / 20, "zero_clockings": 60, "engagement_at_most_mm": 10.0,
        "live_z_mm": (2.0, 13.0),
    }  # fmt: skip
    held = given | {key: value for key, value in facts.items() if key in given}
    return Of(id=f"corner.{name}", gear=name, x_mm=x, y_mm=y, foot=Of(**held), **(state | {k: v for k, v in facts.items() if k not in given}))


def corners(**facts: Any) -> tuple[Any, ...]:
    return tuple(foot(n, x, y, **facts) for n, x, y in (("sw", 0.0, 0.0), ("se", 300.0, 0.0), ("ne", 300.0, 200.0), ("nw", 0.0, 200.0)))


def load(newton: float, x: float, y: float, way: str = "down", name: str = "plank") -> Any:
    return Of(name=named(name), force=Of(value=newton), x_mm=x, y_mm=y, direction=way, origin=None)


def test_weight_of_two_boards() -> None:
    # Birch 680 kg/m³, MDF 740: 400 · 300 · 18 and 200 · 100 · 2 · 12 mm³.
    boards = (board("deck", -50.0, -50.0, 400.0, 300.0), board("top", 100.0, 200.0, 200.0, 100.0, "fibre", 2))
    found, unknown = weight_of(Of(boards=boards, sheets=(sheet("ply", "birch_plywood"), sheet("fibre", "mdf", 12.0))))
    one, two = 400 * 300 * 18 * 680e-9 * 9.80665, 200 * 100 * 24 * 740e-9 * 9.80665
    assert unknown == "" and found == pytest.approx((one + two, (one * 150 + two * 200) / (one + two), (one * 100 + two * 250) / (one + two)))


def test_weight_that_is_not_known() -> None:
    boards = (board("deck", 0.0, 0.0, 400.0, 300.0),)
    assert weight_of(Of(boards=boards, sheets=(sheet("ply", ""),))) == (None, "ply")
    assert weight_of(Of(boards=boards, sheets=(sheet("ply", "oak"),))) == (None, "ply")
    assert weight_of(Of(boards=(), sheets=())) == (None, "")


def test_area_and_centre_of_outlines() -> None:
    assert _area_and_centre([(1.0, 2.0), (7.0, 2.0), (1.0, 5.0)]) == pytest.approx((9.0, 3.0, 3.0))
    assert _area_and_centre([(1.0, 2.0), (1.0, 5.0), (7.0, 2.0)]) == (0.0, 0.0, 0.0)
    assert _area_and_centre([(0.0, 0.0), (4.0, 0.0), (0.0, 0.0)]) == (0.0, 0.0, 0.0)


def test_edges_of_a_board_that_reaches_beyond_two_of_them() -> None:
    boards = (board("deck", 0.0, -50.0, 340.0, 250.0),)
    found = {edge.feet: edge for edge in tip_edges(Of(boards=boards), Of(feet=corners()), (20.0, 100.0, 80.0))}
    south, east = found["corner.sw", "corner.se"], found["corner.se", "corner.ne"]
    assert (south.holds_nmm, south.reach_mm, south.lifts_n) == pytest.approx((1600.0, 50.0, 32.0))
    assert (east.holds_nmm, east.reach_mm, east.lifts_n) == pytest.approx((4000.0, 40.0, 100.0))
    north = found["corner.ne", "corner.nw"]
    assert (north.holds_nmm, north.reach_mm, north.lifts_n) == (pytest.approx(2400.0), 0.0, None)
    # Weight beyond the edge holds nothing there.
    outside = tip_edges(Of(boards=boards), Of(feet=corners()), (20.0, 100.0, -10.0))
    assert [(edge.holds_nmm, edge.lifts_n) for edge in outside if edge.feet == south.feet] == [(pytest.approx(-200.0), 0.0)]


# Sway.
def test_a_screw_as_a_beam() -> None:
    # F L³/3EI, I = π d⁴/64: 10 N on 50 of 6.466 (205 000 N/mm²); and half the play over half the length.
    assert sway.bend_mm(10.0, 50.0, 6.466) == pytest.approx(10 * 50**3 * 64 / (3 * 205_000 * math.pi * 6.466**4))
    assert sway.rock_mm(50.0, 10.0) == pytest.approx(0.75) and sway.rock_mm(50.0, 0.5) == pytest.approx(15.0)
    assert sway.rock_mm(50.0, 0.0) == 0.0


def test_the_foot_that_sways_most(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sway, "boards_at", lambda design, sheets: Of(uppermost_mm=lambda name: 18.0 if sheets == 0 else math.nan))
    lift = Of(travel_mm=20.0, height_max_mm=60.0)
    feet = (foot("a", 0.0, 0.0), foot("b", 0.0, 0.0, live_z_mm=(5.0, 16.0)), foot("c", 0.0, 0.0, guide=Of()), foot("d", 0.0, 0.0, live_z_mm=None))
    loads = (load(-40.0, 0.0, 0.0, "x"), load(900.0, 0.0, 0.0), load(80.0, 0.0, 0.0, "y"))
    found = sway.sways(Of(loads=loads), Of(lift=lift, feet=feet))
    assert [(item.load, item.foot.id) for item in found] == [(loads[0], "corner.b"), (loads[2], "corner.b")]
    # The bench lies 60 below the work at 18: from 5 down to −42 are 47; each of four feet takes a quarter.
    for item, force in zip(found, (10.0, 20.0), strict=True):
        assert (item.free_mm, item.play_mm) == pytest.approx((47.0, 0.15 * 4.7))
        assert item.bend_mm == pytest.approx(force * 47**3 * 64 / (3 * 205_000 * math.pi * (8 - 1.25 * 17 / 24 * math.sqrt(3)) ** 4), rel=1e-6)
    for none in (None, Of(travel_mm=0.0, height_max_mm=60.0)):
        assert sway.sways(Of(loads=loads), Of(lift=none, feet=feet)) == ()
    assert len(sway.sways(Of(loads=loads), Of(lift=Of(travel_mm=0.5, height_max_mm=60.0), feet=feet))) == 2
    # Equal feet: the last by name; a screw that is all in the thread has nothing to bend.
    low = Of(travel_mm=20.0, height_max_mm=13.0)
    (plain,) = sway.sways(Of(loads=loads[:1]), Of(lift=low, feet=feet[:2]))
    assert (plain.foot.id, plain.free_mm, plain.bend_mm, plain.play_mm) == ("corner.b", 0.0, 0.0, 0.0)


# Sag: what is left out, and which modulus is taken for which way.
def stiff(feet: tuple[Any, ...], loads: tuple[Any, ...], material: str = "birch_plywood", grain: str | None = None, of_sheet: str | None = None) -> Any:
    deck, ply = board("deck", -50.0, -50.0, 400.0, 300.0), sheet("ply", material)
    deck.grain, ply.face_grain = grain, of_sheet
    return sags(Of(loads=loads, boards=(deck,), sheets=(ply,)), Of(feet=feet))


@pytest.mark.parametrize(
    ("grain", "of_sheet", "x", "y"),
    [
        # The row nearest to 18 mm is that of 17.6: 10048 along, 7452 across.
        ("x", None, 10048.0, 7452.0),
        ("y", None, 7452.0, 10048.0),
        (None, "x", 10048.0, 7452.0),
        (None, "y", 7452.0, 10048.0),
        ("y", "x", 7452.0, 10048.0),
        (None, None, 7452.0, 7452.0),
    ],
)
def test_modulus_each_way(grain: str | None, of_sheet: str | None, x: float, y: float) -> None:
    (found,) = stiff(corners(), (load(100.0, 150.0, 100.0),), grain=grain, of_sheet=of_sheet)
    assert (found.modulus_x, found.modulus_y) == (x, y) and found.sag_mm > 0.0


def test_what_does_not_sag() -> None:
    middle = load(100.0, 150.0, 100.0)
    assert stiff(corners(), (load(100.0, 150.0, 100.0, "x"), load(100.0, -20.0, 100.0))) == ()
    assert stiff(corners(), (middle,), material="oak") == () and stiff(corners(), (middle,), material="") == ()
    assert stiff((*corners()[:3], foot("nw", 0.0, 200.0, into=named("skirt"))), (middle,)) == ()
    for x, y in ((-51.0, 200.0), (0.0, 251.0)):
        assert stiff((*corners()[:3], foot("nw", x, y)), (middle,)) == ()
    assert stiff((foot("sw", 0.0, -51.0), *corners()[1:]), (middle,)) == ()
    assert stiff((*corners()[:2], foot("ne", 351.0, 200.0), corners()[3]), (middle,)) == ()
    assert stiff(corners()[:2], (middle,)) == ()
    found = stiff(corners(), (load(100.0, -20.0, 0.0), load(50.0, 150.0, 100.0, name="half"), middle))
    assert [item.load.name.text for item in found] == ["half", "plank"]
    assert found[1].sag_mm == pytest.approx(2 * found[0].sag_mm)


# Twist.
SQUARE = ((0.0, 0.0), (300.0, 0.0), (300.0, 200.0), (0.0, 200.0))
# A kite: twice the areas of the triangles without each foot, with the signs of the ring.
KITE = ((0.0, 0.0), (100.0, -60.0), (300.0, 0.0), (100.0, 60.0))


def test_levers_by_areas() -> None:
    assert levers(SQUARE) == pytest.approx((60_000.0, -60_000.0, 60_000.0, -60_000.0))
    assert levers(KITE) == pytest.approx((24_000.0, -18_000.0, 12_000.0, -18_000.0))
    for feet in (SQUARE, KITE):
        assert gap_mm(feet, [0.01 * x - 0.03 * y + 2.0 for x, y in feet]) == pytest.approx(0.0, abs=1e-12)
    assert gap_mm(SQUARE, (0.3, 0.0, 0.0, 0.0)) == pytest.approx(0.3) and gap_mm(SQUARE, (0.0, 0.3, 0.0, 0.0)) == pytest.approx(0.3)
    # The foot that matters least is the farthest off: 0.3 · 24/12.
    assert gap_mm(KITE, (0.3, 0.0, 0.0, 0.0)) == pytest.approx(0.6)
    # One foot midway between two others and the fourth in their line: nothing rocks about it.
    assert gap_mm(((0.0, 0.0), (50.0, 0.0), (100.0, 0.0), (0.0, 50.0)), (0.1, 0.0, 0.0, 9.0)) == pytest.approx(0.1 * 50 / 50)


@pytest.mark.parametrize(
    ("feet", "steps", "left"),
    [
        (SQUARE[:3], (0.1, 0.1, 0.1), 0.0),
        (SQUARE, (0.1, 0.2, 0.3, 0.4), 0.05),
        (SQUARE, (0.4, 0.3, 0.1, 0.2), 0.05),
        # Smallest count · step: 12 · 0.3 = 3.6 of 24 · 0.2, 18 · 0.25, 18 · 0.4; half of it over the smallest count.
        (KITE, (0.2, 0.25, 0.3, 0.4), 0.15),
        (KITE, (0.1, 0.25, 0.3, 0.4), 0.1),
        ((*SQUARE, (150.0, 300.0)), (0.1, 0.1, 0.3, 0.2, 0.1), 0.15),
        # Three in a line: the fourth does not count, whatever its steps.
        (((0.0, 0.0), (50.0, 0.0), (100.0, 0.0), (0.0, 50.0)), (0.4, 0.4, 0.4, 0.001), 0.2),
    ],
)
def test_what_zeroing_leaves(feet: Any, steps: tuple[float, ...], left: float) -> None:
    assert residual_mm(feet, steps) == pytest.approx(left)


def test_twist_before_and_after_gluing() -> None:
    found = twist_of(corners())
    assert found is not None and twist_of(corners()[:3]) is None
    # Steps of 1.25/20 and 1.25/60, half of them.
    assert (found.residual_mm, found.before_gluing_mm) == pytest.approx((1.25 / 40, 1.25 / 120))
    assert found.steps[1] == ("corner.se", pytest.approx(0.0625), pytest.approx(1.25 / 60))


# Torque: four feet with a quarter of 400 N each, the gears at 0.8 turns over two meshes, or over one mesh and a shaft.
def raised(speed: float | None = 0.8, shaft: bool = False, **facts: Any) -> tuple[Any, Any]:
    feet = corners(**facts)
    state = Of(speed=None if speed is None else Fraction(4, 5), path=("hub", "west", "foot"), tip_radius_mm=66.0)
    meshes = (Of(a="west", b="hub"), *(() if shaft else (Of(a="west", b="foot"),)))
    return Of(loads=(load(400.0, 150.0, 100.0), load(70.0, 0.0, 0.0, "x"))), Of(feet=feet, train=Of(gear=lambda name: state, meshes=meshes))


def expected(end: int, lower: bool, friction: float, radius: float, meshes: int) -> float:
    climb, rho = math.atan(1.25 / (math.pi * D2)), math.atan((0.08, 0.24)[end] / math.cos(math.radians(30.0)))
    thread = 100.0 * D2 / 2 * math.tan(rho - climb if lower else rho + climb)
    return 4 * 0.8 * (thread + 2 / 3 * friction * 100.0 * radius) / (0.95, 0.85)[end] ** meshes


@pytest.mark.parametrize("shaft", [False, True])
@pytest.mark.parametrize(
    ("facts", "frictions", "radius"),
    [
        ({}, (0.2, 0.6), 2.0),
        ({"pad": Of(kind="disc", diameter=mm(30))}, (0.2, 0.6), 15.0),
        ({"pad": Of(kind="swivel", diameter=mm(30))}, (0.2, 0.6), 2.0),
        ({"kind": "captured_nut"}, (0.25, 0.5), 66.0),
        ({"touches": "gear"}, (0.25, 0.5), 66.0),
    ],
)
def test_torque_at_the_drive(shaft: bool, facts: dict[str, Any], frictions: tuple[float, float], radius: float) -> None:
    design, derived = raised(shaft=shaft, **facts)
    found = torque.drive_torque(design, derived)
    assert found is not None and found.load_n == 400.0 and [item.share_n for item in found.feet] == pytest.approx([100.0] * 4)
    meshes = 1 if shaft else 2
    ends = (found.low_nmm, found.high_nmm)
    assert ends == pytest.approx(tuple(expected(end, False, frictions[end], radius, meshes) for end in (0, 1)))
    assert [torque.lowering_nmm(design, derived, end) for end in (0, 1)] == pytest.approx(
        [expected(end, True, frictions[end], radius, meshes) for end in (0, 1)]
    )
    one = found.feet[2]
    assert one.foot == "corner.ne" and one.low_nmm < one.high_nmm
    assert one.low_nmm * 4 * 0.8 / 0.95**meshes == pytest.approx(found.low_nmm)


def test_no_torque_without_load_feet_or_a_train() -> None:
    design, derived = raised(speed=None)
    found = torque.drive_torque(design, derived)
    assert found is not None and (found.load_n, len(found.feet), found.low_nmm, found.high_nmm) == (400.0, 4, None, None)
    assert torque.lowering_nmm(design, derived, 0) is None
    _, turned = raised()
    for loads in ((), (load(0.0, 1.0, 1.0),), (load(9.0, 1.0, 1.0, "y"),)):
        assert torque.drive_torque(Of(loads=loads), turned) is None and torque.lowering_nmm(Of(loads=loads), turned, 1) is None
    turned.feet = ()
    assert torque.drive_torque(design, turned) is None and torque.lowering_nmm(design, turned, 1) is None
    # M8 holds at f = 0.08; a lead of 4 does not.
    assert torque.foot_holds(foot("a", 0.0, 0.0)) and not torque.foot_holds(foot("a", 0.0, 0.0, lead_mm=4.0))
