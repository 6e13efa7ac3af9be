"""Rise per drive turn, its sign, slides between gears, zeroing steps."""

from __future__ import annotations

import math
from fractions import Fraction
from itertools import pairwise

import pytest
from tests.designs import design, gear, mesh, ring
from tests.designs_feet import captured, crank, pin, riding

from trivet.model.hardware import Thread
from trivet.solve.rise import slide_per_travel, zeroing
from trivet.solve.solve import solve


def thread(major: float, pitch: float, hand: int = 1) -> Thread:
    return Thread(designation="t", major_mm=major, pitch_mm=pitch, lead_mm=pitch, hand=hand, system="metric")


def test_zeroing_published() -> None:
    # One tooth moves a foot by lead/z: M8 with 30 teeth 0.042, 3/8-16 with 24 teeth 0.066 (derived in shop notes, printed to 0.001).
    assert zeroing(30, 1.25)[0] == pytest.approx(0.042, abs=0.0005)
    assert zeroing(24, 25.4 / 16)[0] == pytest.approx(0.066, abs=0.0005)
    # lcm(6, z) clockings: 24, 30, 36 give only z; 25 gives 150; 35 gives 210.
    assert [zeroing(z, 1.25)[1] for z in (24, 30, 36, 25, 35)] == [24, 30, 36, 150, 210]


def test_lift_per_turn_published() -> None:
    # A 3/8-16 jack rises 1/16 in a turn: Popular Woodworking No. 117, October 2000 (its page not seen again here); exact by definition.
    foot = riding(thread=thread(25.4 * 3 / 8, 25.4 / 16))
    one = design(
        (gear("hub", 20, (0, 0), drive=True), gear("mid", 20), gear("foot", 20, foot=True)),
        (mesh("hub", "mid", 0.0), mesh("mid", "foot", 0.0)),
        feet=(foot,),
        pivots=(pin(),),
        drives=(crank(),),
    )
    state = solve(one).feet[0]
    assert state.rise_per_turn_mm == Fraction(254, 160)


@pytest.mark.parametrize(
    ("kind", "hand", "meshes", "sign"),
    [("riding", 1, 1, -1), ("riding", 1, 2, 1), ("riding", -1, 2, -1), ("captured", 1, 2, -1), ("captured", -1, 1, -1)],
)
def test_sign_of_rise(kind: str, hand: int, meshes: int, sign: int) -> None:
    # lead · speed · (−1)^meshes · hand · kind: a right-hand screw with its head below, turned clockwise from above, unscrews and raises.
    foot = (riding if kind == "riding" else captured)(thread=thread(8.0, 1.25, hand))
    names = ["hub", *(f"mid{i}" for i in range(1, meshes)), "foot"]
    gears = [gear(n, 16 if n == "hub" else 20, (0, 0) if n == "hub" else None, drive=n == "hub", foot=n == "foot") for n in names]
    chain = tuple(mesh(a, b, 0.0) for a, b in pairwise(names))
    found = solve(design(tuple(gears), chain, feet=(foot,), pivots=(pin(),), drives=(crank(),)))
    assert found.feet[0].rise_per_turn_mm == sign * Fraction(5, 4) * Fraction(16, 20)
    assert found.lift is not None
    assert found.lift.raises_when == ("clockwise" if sign > 0 else "anticlockwise")


def test_feet_that_rise_opposite_ways_have_no_lift() -> None:
    gears = (gear("hub", 20, (0, 0), drive=True), gear("one", 20, foot=True), gear("two", 20, foot=True))
    found = solve(design(gears, (mesh("hub", "one", 0.0), mesh("one", "two", 0.0)), feet=(riding(),), drives=(crank(),)))
    assert found.lift is None
    assert dict(found.rise_differs) == {"corner.one": Fraction(-5, 4), "corner.two": Fraction(5, 4)}


def test_slide_between_gears() -> None:
    # Shop notes: two riding gears of equal ratio and the same hand shift 2s, of opposite hands 0; against a fixed one s.
    same, left = riding(), riding(thread=thread(8.0, 1.25, -1))
    assert slide_per_travel(same, 20, same, 20) == 2.0
    assert slide_per_travel(same, 20, left, 20) == 0.0
    assert slide_per_travel(same, 20, None, 30) == 1.0
    # An idler of 40 teeth turns half as often: s (1 + 1/2).
    assert slide_per_travel(same, 20, same, 40) == 1.5


def test_rings_have_a_lift() -> None:
    gears = tuple(gear(n, 24, drive=n == "hub", foot=n.startswith("f")) for n in ("f1", "i1", "f2", "hub"))
    found = solve(
        design(gears, (), (ring("train", ("f1", "i1", "f2", "hub")),), feet=(riding(),), pivots=(pin(),), drives=(crank(),))
    )
    assert found.lift is not None and found.lift.raises_when == "anticlockwise"
    assert math.isclose(found.lift.per_turn_mm, 1.25)
