"""Closed rings in the chance of binding: against rings put together one gear after the other, and against figures worked out by hand."""

from __future__ import annotations

import math
import random
from typing import Any

import pytest
from tests.designs import HEX_NUT, design, drive, gear, mesh, tooth_form

from trivet.model.design import Design
from trivet.model.shop import Shop
from trivet.solve.binding import binding
from trivet.solve.binding_rings import meshed_rings
from trivet.solve.solve import solve

ALPHA = math.radians(20)
# Module 4: 20, 30, 40 and 30 teeth, 100 and 140 mm apart. Diagonals that close the ring: worked elsewhere, simulated two ways.
CLOSED = 200.059485
TEETH = (20, 30, 40, 30)


def corners(diagonal: float) -> tuple[tuple[float, float], ...]:
    """Places of the four gears, the first at the origin, the third along x."""
    x = (diagonal**2 + 100.0**2 - 140.0**2) / (2 * diagonal)
    y = math.sqrt(100.0**2 - x**2)
    return (0.0, 0.0), (x, y), (diagonal, 0.0), (x, -y)


def kite(diagonal: float, backlash: float, shop: Shop, **facts: Any) -> Design:
    a, b, d, c = corners(diagonal)
    gears = (gear("a", 20, a, drive=True), gear("b", 30, b), gear("d", 40, d), gear("c", 30, c))
    meshes = (mesh("a", "b"), mesh("b", "d"), mesh("d", "c"), mesh("c", "a"))
    return design(gears, meshes, shop=shop, tooth_forms=(tooth_form(backlash=backlash),), **facts)


def shop(hole: float) -> Shop:
    facts = {"hole_position_mm": hole, "profile_offset_mm": 0.0, "bore_clearance_mm": 0.0, "insert_tilt_deg": 0.0}
    return Shop(**facts, moisture_least=8.0, moisture_most=8.0)


def plays(places: list[tuple[float, float]], k: int, backlash: float) -> tuple[float, float, float]:
    """(teeth of both gears times the direction, in pitches; half the play, in pitches) of the mesh from gear k to the next."""
    one, two = places[k], places[(k + 1) % 4]
    z, w = TEETH[k], TEETH[(k + 1) % 4]
    distance, nominal = math.dist(one, two), 2.0 * (z + w)
    at = math.acos(min(1.0, nominal * math.cos(ALPHA) / distance))
    play = distance * (backlash / nominal + 2 * (math.tan(at) - at - math.tan(ALPHA) + ALPHA))
    # Along working circles a pitch is 2 pi A/(z + w).
    return math.atan2(two[1] - one[1], two[0] - one[0]), play / 2 / (2 * math.pi * distance / (z + w)), play


def fits(places: list[tuple[float, float]], backlash: float) -> bool:
    """One gear after the other round the ring, each turned anywhere its play leaves it, in pitches; then the last must fit the first."""
    low = high = 0.0
    for k in range(4):
        z, w = TEETH[k], TEETH[(k + 1) % 4]
        direction, half, play = plays(places, k, backlash)
        if play <= 0.0:
            return False
        # z (b - t) + w (b + pi - t') = pi: t' w, in turns, from t z; a range turns round on the way.
        whole = ((z + w) * direction + (w - 1) * math.pi) / (2 * math.pi)
        low, high = whole - high - half, whole - low + half
    return math.floor(high) >= math.ceil(low)


def disc(dice: random.Random, radius: float) -> tuple[float, float]:
    """A place evenly in a circle."""
    out, way = radius * math.sqrt(dice.random()), dice.uniform(0, 2 * math.pi)
    return out * math.cos(way), out * math.sin(way)


def by_hand(diagonal: float, backlash: float, hole: float, count: int, off: float = 0.0) -> float:
    """Share that binds; `off`: the first gear's bolt anywhere in a hole, and the gear as far off the bolt, coming round."""
    dice = random.Random(11)
    bound = 0
    for _ in range(count):
        places = [(x + e, y + n) for (x, y), (e, n) in zip(corners(diagonal), (disc(dice, hole) for _ in range(4)), strict=True)]
        bolt, reach = disc(dice, off), math.hypot(*disc(dice, off))
        x, y = places[0][0] + bolt[0], places[0][1] + bolt[1]
        turns = [2 * math.pi * k / 36 for k in range(36)] if off else [0.0]
        bound += not all(fits([(x + reach * math.cos(t), y + reach * math.sin(t)), *places[1:]], backlash) for t in turns)
    return bound / count


@pytest.mark.parametrize(
    ("diagonal", "backlash", "hole"),
    # Closed as drawn; and 0.04 mm long, where 0.142 mm of arc is left of twice the backlash.
    [(CLOSED, 0.15, 0.15), (CLOSED, 0.35, 0.3), (CLOSED + 0.04, 0.2, 0.1)],
)
def test_rings_put_together_gear_by_gear(diagonal: float, backlash: float, hole: float) -> None:
    count = 4000
    slow = by_hand(diagonal, backlash, hole, count)
    found = binding(*with_solved(kite(diagonal, backlash, shop(hole), drives=(drive(hole_mm=8.0),))))
    assert 0.02 < slow < 0.9
    assert found.chance == pytest.approx(slow, abs=4 * math.sqrt(slow * (1 - slow) / count) + 0.002)


def with_solved(sample: Design) -> tuple[Design, Any]:
    return sample, solve(sample)


def test_the_ring_adds_to_what_its_meshes_risk() -> None:
    """Where each mesh has play left and the ring is out of phase all the same; more backlash takes it up."""
    # 0.142 mm of arc is left by the centres; each mesh has 0.08 mm, half their sum is 0.16 mm.
    found = binding(*with_solved(kite(CLOSED + 0.04, 0.08, shop(0.02), drives=(drive(hole_mm=8.0),))))
    ((gears, chance),) = found.rings
    assert set(gears) == {"a", "b", "c", "d"} and 0.05 < chance < 0.95
    assert max(alone for _, alone in found.meshes) < chance <= (found.chance or 0.0)
    more = found.more_backlash_mm(0.001)
    after = binding(*with_solved(kite(CLOSED + 0.04, 0.08 + more, shop(0.02), drives=(drive(hole_mm=8.0),))))
    assert after.chance is not None and after.chance <= 0.003


def test_a_gear_off_its_centre_turns_in_a_ring() -> None:
    """The drive's gear clamped off centre by up to 0.3 mm comes round to both its mates."""
    count = 1500
    sample = kite(CLOSED, 0.35, shop(0.05), drives=(drive(nut=HEX_NUT, hole_mm=8.6),))
    # On a plain nut the gear may stand off by half of 0.6 mm, and the bolt in its hole as much.
    assert "bore clearance" in dict(binding(*with_solved(sample)).contributors)
    slow = by_hand(CLOSED, 0.35, 0.05, count, off=0.3)
    assert 0.02 < slow < 0.9
    assert binding(*with_solved(sample)).chance == pytest.approx(slow, abs=4 * math.sqrt(slow * (1 - slow) / count) + 0.01)


def test_what_drawn_centres_leave() -> None:
    """Worked elsewhere: nothing at 200.059485 mm, 1.77891 mm of arc half a millimetre further."""
    (closed,) = meshed_rings(solve(kite(CLOSED, 0.3, shop(0.1))))
    assert abs(closed.residual_mm) < 1e-4
    (off,) = meshed_rings(solve(kite(CLOSED + 0.5, 0.3, shop(0.1))))
    assert abs(off.residual_mm) == pytest.approx(1.77891, abs=2e-4)
