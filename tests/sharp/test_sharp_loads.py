"""Loads, torques, teeth under a jam and what tips: each function alone, figures by hand. N, mm, N·mm, N/mm²; frictions are the library's."""

from __future__ import annotations

import math
from types import SimpleNamespace as Of
from typing import Any

import pytest
from tests.designs import M8, q

from trivet.model.base import Band
from trivet.model.hardware import Thread
from trivet.solve.load_shares import pushes_down, shares
from trivet.solve.power_screw import (
    disc_friction_torque,
    efficiency,
    holds_by_itself,
    lead_angle_rad,
    pitch_diameter_mm,
    ring_friction_torque,
    root_diameter_mm,
    torque_to_lower,
    torque_to_raise,
)
from trivet.solve.tipping import hold_down_n, support, tipped_edge, within_feet
from trivet.solve.tooth_strength import (
    ToothLoad,
    carrying_face_mm,
    clutch_words,
    driver_torque,
    lewis_bending,
    lewis_form_factor,
    strength_of,
)

# Y of 20° full-depth teeth: Shigley, Mechanical Engineering Design, table 14-2 (from memory).
SHIGLEY = """12 .245  13 .261  14 .277  15 .290  16 .296  17 .303  18 .309  19 .314  20 .322  21 .328  22 .331  24 .337  26 .346  28 .353
30 .359  34 .371  38 .384  43 .397  50 .409  60 .422  75 .435  100 .447  150 .460  300 .472  400 .480"""


def test_lewis_table() -> None:
    words = SHIGLEY.split()
    for teeth, factor in zip(words[::2], words[1::2], strict=True):
        assert lewis_form_factor(int(teeth), 20.0) == float(factor), teeth


@pytest.mark.parametrize(
    ("teeth", "angle", "factor"),
    [
        # Half-way in 1/z: 120 is the harmonic mean of 100 and 150, 200 that of 150 and 300, 40 and 48 lie at 0.570 and 0.744 of their steps.
        (120, 20.0, (0.447 + 0.460) / 2),
        (200, 20.0, (0.460 + 0.472) / 2),
        (40, 20.0, 0.384 + (1 / 38 - 1 / 40) / (1 / 38 - 1 / 43) * 0.013),
        (48, 25.0, 0.397 + (1 / 43 - 1 / 48) / (1 / 43 - 1 / 50) * 0.012),
        (401, 20.0, 0.480),
        (5000, 20.0, 0.480),
        # The closed forms of 20° and 14.5°, π(0.154 − 0.912/z) and π(0.124 − 0.684/z).
        (8, 20.0, math.pi * 0.04),
        (11, 20.0, math.pi * (0.154 - 0.912 / 11)),
        (8, 14.5, math.pi * 0.0385),
        (20, 14.5, math.pi * 0.0898),
        (20, 19.999, math.pi * 0.0898),
        (20, 20.0 - 1e-12, 0.322),
    ],
)
def test_lewis_between_and_beyond(teeth: int, angle: float, factor: float) -> None:
    assert lewis_form_factor(teeth, angle) == pytest.approx(factor, rel=1e-12)


def test_too_few_teeth() -> None:
    assert lewis_form_factor(7, 20.0) is None and lewis_form_factor(7, 14.5) is None


def test_bending_at_the_root() -> None:
    assert lewis_bending(300.0, 12.0, 5.0, 0.25) == pytest.approx(20.0)


def tooth(**facts: float) -> ToothLoad:
    given: dict[str, Any] = {"bending": 2.0, "shear": 1.0, "bending_allowed": 10.0, "shear_allowed": 4.0}
    return ToothLoad(gear="a", mate="b", mesh="a-b", force_n=1.0, face_mm=1.0, form_factor=0.3, material="mdf", **(given | facts))


def test_the_worse_stress_counts() -> None:
    assert tooth().share == 0.25 and tooth(bending=5.0).share == 0.5


@pytest.mark.parametrize(
    ("least", "most", "face"), [(5.0, 3.0, 3.0), (3.0, 5.0, 3.0), (None, 4.0, 4.0), (4.0, None, 4.0), (-1.0, 5.0, 0.0), (0.5, 5.0, 0.5), (None, None, 12.0)]
)
def test_face_that_carries(least: float | None, most: float | None, face: float) -> None:
    made: Any = Of(overlap_at_least_mm=least, overlap_at_most_mm=most)
    thin: Any = Of(face_width=Band(12.0, 11.0, 13.0))
    thick: Any = Of(face_width=Band(18.0, 17.0, 19.0))
    assert carrying_face_mm(made, thin, thick) == carrying_face_mm(made, thick, thin) == face


@pytest.mark.parametrize(
    ("nmm", "words"),
    [(4567.0, "4.5 Nm"), (4600.0, "4.6 Nm"), (1000.0, "1.0 Nm"), (999.0, "0.99 Nm"), (290.0, "0.29 Nm"), (299.9, "0.29 Nm"), (12_340.0, "12.3 Nm")],
)
def test_clutch_is_rounded_down(nmm: float, words: str) -> None:
    assert clutch_words(nmm) == words


def test_what_turns_the_drive() -> None:
    assert driver_torque(None)[0] == 20_000.0 and driver_torque(None)[1].startswith("a small cordless driver")
    unstated: Any = Of(driver_torque=None)
    assert driver_torque(unstated) == driver_torque(None)
    stated: Any = Of(driver_torque=Of(base=q("4.5").number, origin="here"))
    assert driver_torque(stated) == (4500.0, "stated", "here")


def jammed(material: str, teeth: int = 20, speed: float | None = 0.8) -> Any:
    """A hub of 16 teeth that turns a foot of 20 over an idler of `teeth`, module 6: 12 mm of face, teeth 9 thick; torque 4.8 Nm."""

    def state(z: int, speed: float | None, path: tuple[str, ...]) -> Any:
        geometry = Of(teeth=z, module_mm=6.0, pressure_angle_rad=math.radians(20.0), thickness_mm=9.0, pitch_radius_mm=3.0 * z)
        return Of(geometry=geometry, speed=speed, path=path, face_width=Band(12.0, 12.0, 12.0))

    gears = {
        "hub": state(16, 1.0, ("hub",)), "west": state(teeth, speed, ("hub", "west")), "nw": state(20, 0.8, ("hub", "west", "nw")),
    }  # fmt: skip
    meshes = tuple(Of(id=f"{a}-{b}", a=a, b=b, overlap_at_least_mm=None, overlap_at_most_mm=None) for a, b in (("west", "hub"), ("west", "nw")))
    drive = Of(driver_torque=Of(base=q("4.8").number, origin=None))
    derived = Of(drives=(Of(drive=drive),), feet=(Of(gear="nw"),), train=Of(meshes=meshes, gear=gears.__getitem__))
    stock = Of(name=Of(text="ply"), material=Of(text=material) if material else None)
    design = Of(sheets=(stock,), gears=tuple(Of(name=Of(text=name), stock=Of(text="ply")) for name in gears))
    return strength_of(design, derived)


@pytest.mark.parametrize(
    ("material", "bending", "shear", "row"),
    [
        # 10.7 and 5.5 birch, 3.1 and 1.5 MDF, 3.0 and 1.61 what is not known: the library's assumptions.
        ("birch_plywood", 10.7, 5.5, "birch_plywood"),
        ("mdf", 3.1, 1.5, "mdf"),
        ("", 3.0, 1.61, "unknown_plywood"),
        ("odd_plywood", 3.0, 1.61, "unknown_plywood"),
    ],
)
def test_teeth_under_a_jam(material: str, bending: float, shear: float, row: str) -> None:
    # 4800/48 = 100 at the hub; at west 4800/0.8 = 6000 over a radius of 60: 100 again. Bending 100/(12 · 6 · Y), shear 1.5 · 100/(12 · 9).
    found = jammed(material)
    assert (found.torque_nmm, found.torque_source, found.not_judged) == (4800.0, "stated", ())
    assert {(load.gear, load.mate, load.mesh) for load in found.teeth} == {
        ("hub", "west", "west-hub"), ("west", "hub", "west-hub"), ("west", "nw", "west-nw"), ("nw", "west", "west-nw"),
    }  # fmt: skip
    for load in found.teeth:
        factor = 0.296 if load.gear == "hub" else 0.322
        assert (load.force_n, load.face_mm, load.form_factor, load.material) == (pytest.approx(100.0), 12.0, factor, row)
        assert (load.bending, load.shear) == pytest.approx((100 / (72 * factor), 150 / 108))
        assert (load.bending_allowed, load.shear_allowed) == (bending, shear)
    # The hub's tooth bends most; of equal shares the first by name.
    assert [load.gear for load in found.teeth] == ["hub", "nw", "west", "west"]
    assert [load.mate for load in found.teeth] == ["west", "west", "hub", "nw"]
    assert found.clutch_nmm == pytest.approx(4800.0 * bending * 72 * 0.296 / 100)


def test_what_is_not_judged() -> None:
    few = jammed("mdf", teeth=7)
    assert few.not_judged == ("west",) and {load.gear for load in few.teeth} == {"hub", "nw"}
    assert jammed("oak") is None
    still = jammed("mdf", speed=None)
    assert still.not_judged == ("nw", "west") and {load.mesh for load in still.teeth} == {"west-hub"}


# Load shares: by hand, a rigid board on equal springs.
SQUARE = ((0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0))


@pytest.mark.parametrize(
    ("feet", "push", "wanted"),
    [
        (SQUARE, (400.0, 50.0, 50.0), (100.0, 100.0, 100.0, 100.0)),
        # 10 aside along x: ± 400 · 10 · 50/10000 = 20, and none under the even share.
        (SQUARE, (400.0, 60.0, 50.0), (100.0, 120.0, 120.0, 100.0)),
        (SQUARE, (400.0, 50.0, 40.0), (120.0, 120.0, 100.0, 100.0)),
        (SQUARE, (400.0, 60.0, 70.0), (100.0, 100.0, 160.0, 120.0)),
        # Three feet: plain statics; over the corner of (30, 60) all of it.
        (((0.0, 0.0), (90.0, 0.0), (30.0, 60.0)), (300.0, 30.0, 60.0), (100.0, 100.0, 300.0)),
        (((0.0, 0.0), (90.0, 0.0), (30.0, 60.0)), (300.0, 50.0, 10.0), (100.0, 300 * 0.5, 100.0)),
        # In one line the part of the way along it counts: levers.
        (((0.0, 0.0), (100.0, 0.0)), (100.0, 75.0, 30.0), (50.0, 75.0)),
        (((0.0, 0.0), (0.0, 100.0)), (100.0, 30.0, 75.0), (50.0, 75.0)),
        (((0.0, 0.0), (30.0, 40.0)), (100.0, 30.0, 40.0), (50.0, 100.0)),
        # Square to the line from the first foot: all of it is there.
        (((0.0, 0.0), (30.0, 40.0)), (100.0, 40.0, -30.0), (100.0, 50.0)),
        (((7.0, 7.0),), (100.0, 40.0, 0.0), (100.0,)),
        (((0.0, 0.0), (0.6, 0.0)), (100.0, 0.6, 0.0), (50.0, 100.0)),
    ],
)
def test_shares_by_hand(feet: tuple[Any, ...], push: Any, wanted: tuple[float, ...]) -> None:
    assert shares(feet, [push]) == pytest.approx(wanted)


def test_no_feet_and_no_loads() -> None:
    assert shares((), [(1.0, 0.0, 0.0)]) == ()
    loads = tuple(Of(force=Of(value=f), x_mm=f + 1, y_mm=f + 2, direction=way) for f, way in ((10.0, "down"), (20.0, "along x"), (30.0, "down")))
    assert pushes_down(Of(loads=loads)) == ((10.0, 11.0, 12.0), (30.0, 31.0, 32.0))


def test_diameters_of_a_thread() -> None:
    # ISO 724 for M8: pitch diameter 7.188, minor of the screw by ISO 68-1 6.466 (from memory).
    assert pitch_diameter_mm(M8) == pytest.approx(7.188, abs=5e-4) and root_diameter_mm(M8) == pytest.approx(6.466, abs=5e-4)
    # Exactly 3/8 √3 and 17/24 √3 of a pitch.
    assert (8 - pitch_diameter_mm(M8)) / 1.25 == pytest.approx(0.375 * math.sqrt(3), abs=1e-6)
    assert (8 - root_diameter_mm(M8)) / 1.25 == pytest.approx(17 / 24 * math.sqrt(3), abs=1e-6)
    assert pitch_diameter_mm(Thread("odd", 8.0, 1.25, 1.25, "metric", pitch_diameter_mm=7.0)) == 7.0


@pytest.mark.parametrize(("lead", "mu", "half"), [(1.25, 0.08, 30.0), (4.0, 0.24, 30.0), (8.0, 0.15, 0.0), (3.0, 0.1, 14.5)])
def test_torque_as_on_an_inclined_plane(lead: float, mu: float, half: float) -> None:
    """F d2/2 tan(ρ ± λ), ρ = atan(f/cos half), λ = atan(l/π d2): any textbook of machine elements."""
    rho, climb = math.atan(mu / math.cos(math.radians(half))), math.atan(lead / (math.pi * 7.0))
    assert lead_angle_rad(lead, 7.0) == pytest.approx(climb)
    assert torque_to_raise(200.0, 7.0, lead, mu, math.radians(half)) == pytest.approx(700.0 * math.tan(rho + climb))
    assert torque_to_lower(200.0, 7.0, lead, mu, math.radians(half)) == pytest.approx(700.0 * math.tan(rho - climb))
    assert holds_by_itself(lead, 7.0, mu, math.radians(half)) is (climb < rho)
    if half == 30.0:
        assert torque_to_raise(200.0, 7.0, lead, mu) == torque_to_raise(200.0, 7.0, lead, mu, math.radians(30.0))
        assert torque_to_lower(200.0, 7.0, lead, mu) == torque_to_lower(200.0, 7.0, lead, mu, math.radians(30.0))
        assert holds_by_itself(lead, 7.0, mu) is (climb < rho)


def test_a_thread_too_steep_jams() -> None:
    # Without a flank angle the limit lies at l = π d2/f: 100 where π d2 = 10 and f = 0.1.
    assert torque_to_raise(1.0, 10.0 / math.pi, 101.0, 0.1, 0.0) == math.inf
    assert torque_to_raise(1.0, 10.0 / math.pi, 99.0, 0.1, 0.0) == pytest.approx(10 / math.pi / 2 * (99 + 1) / (10 - 9.9))


def test_rubbing_and_efficiency() -> None:
    assert ring_friction_torque(100.0, 0.2, 3.0) == pytest.approx(60.0)
    assert disc_friction_torque(100.0, 0.3, 3.0) == pytest.approx(60.0)
    # Without friction all work lifts: T = F l / 2π.
    assert efficiency(100.0, 2.0, torque_to_raise(100.0, 7.0, 2.0, 0.0)) == pytest.approx(1.0)
    assert efficiency(100.0, 2.0, 200.0 / math.pi) == pytest.approx(0.5)


# Tipping: feet at the corners of 300 by 200, a birch board of 400 by 300 laid 50 beyond them.
FEET: Any = tuple(Of(id=name, x_mm=x, y_mm=y) for name, x, y in (("sw", 0.0, 0.0), ("se", 300.0, 0.0), ("ne", 300.0, 200.0), ("nw", 0.0, 200.0)))


def load(newton: float, x: float, y: float, way: str = "down") -> Any:
    return Of(force=Of(value=newton), x_mm=x, y_mm=y, direction=way)


def test_corners_anticlockwise() -> None:
    inner = Of(id="mid", x_mm=150.0, y_mm=100.0)
    side = Of(id="side", x_mm=150.0, y_mm=0.0)
    assert [foot.id for foot in support((FEET[2], inner, FEET[0], side, FEET[3], FEET[1]))] == ["sw", "se", "ne", "nw"]
    assert len(support((FEET[0], side, FEET[1]))) < 3
    assert not within_feet((FEET[0], FEET[1]), 150.0, 0.0) and not within_feet((FEET[0], side, FEET[1]), 150.0, 0.0)


OUTSIDE = ((0.0, 100.0), (-1.0, 100.0), (150.0, 201.0), (301.0, 1.0), (150.0, -1.0))


@pytest.mark.parametrize(("x", "y", "inside"), [(1.0, 1.0, True), (299.0, 199.0, True), *((*place, False) for place in OUTSIDE)])
def test_places_within_the_feet(x: float, y: float, inside: bool) -> None:
    assert within_feet(FEET, x, y) is inside


@pytest.mark.parametrize(
    ("loads", "edge", "over"),
    [
        ((), None, 0.0),
        # 20 N of weight in the middle: 2000 about the long edges, 3000 about the short ones.
        ((load(100.0, 150.0, -20.0),), None, 0.0),
        ((load(100.0, 150.0, -21.0),), ("sw", "se"), 100.0),
        ((load(100.0, 331.0, 100.0),), ("se", "ne"), 100.0),
        ((load(40.0, 500.0, 100.0), load(100.0, 100.0, 100.0)), None, 0.0),
        # At 50 above the bench: 41 · 50 − 2000, 61 · 50 − 3000; either way.
        ((load(40.0, 0.0, 0.0, "y"),), None, 0.0),
        ((load(41.0, 0.0, 0.0, "y"),), ("sw", "se"), 50.0),
        ((load(-61.0, 0.0, 0.0, "x"),), ("se", "ne"), 50.0),
        # The worst of two edges: at the corner 100 · 40 − 3000 and 100 · 50 − 2000.
        ((load(100.0, 340.0, 250.0),), ("ne", "nw"), 3000.0),
        ((load(100.0, 360.0, 230.0),), ("se", "ne"), 3000.0),
    ],
)
def test_what_tips(loads: tuple[Any, ...], edge: tuple[str, str] | None, over: float) -> None:
    found = tipped_edge(Of(feet=FEET), (20.0, 150.0, 100.0), loads, 50.0)
    assert found == (None if edge is None else (edge, pytest.approx(over)))


def test_held_down_by_the_foot_farthest_behind() -> None:
    assert hold_down_n(FEET, ("sw", "se"), 500.0) == ("ne", pytest.approx(2.5))
    assert hold_down_n((*FEET, Of(id="far", x_mm=0.0, y_mm=250.0)), ("sw", "se"), 500.0) == ("far", pytest.approx(2.0))
