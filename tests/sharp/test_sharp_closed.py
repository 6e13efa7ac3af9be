"""Closed rings of meshes: how far drawn centres leave teeth out of phase, and what gears off their centres take of the room. Lengths mm."""

from __future__ import annotations

import math
from types import SimpleNamespace as Of
from typing import Any

import numpy as np
import pytest
from tests.sharp.test_sharp_binding import BASE, MESH, J, play, square, stand

from trivet.record import replace
from trivet.solve.binding import Binding
from trivet.solve.binding_draws import _Axis, _stand
from trivet.solve.binding_rings import ErrorMesh, MeshedRing, error_ring, meshed_rings
from trivet.solve.binding_shortage import ring_shortage_mm, shortage_mm
from trivet.solve.binding_words import chance_words, eased_words, percent_words, remedies_words
from trivet.solve.gear_size import ToothGeometry

PLACES = {"a": (0.0, 0.0), "b": (90.0, 10.0), "c": (80.0, 110.0), "d": (-20.0, 97.0)}
TEETH = {"a": 20, "b": 25, "c": 24, "d": 31}
SIDES = (("a", "b"), ("b", "c"), ("d", "c"), ("a", "d"))


def train(*loops: tuple[str, bool], places: dict[str, tuple[float, float]] = PLACES, teeth: dict[str, int] = TEETH) -> Any:
    gears = tuple(Of(id=name, x_mm=x, y_mm=y, geometry=ToothGeometry(teeth[name], 4.0)) for name, (x, y) in places.items())
    made = tuple(Of(id="".join(side), a=side[0], b=side[1]) for side in SIDES)
    return Of(train=Of(gears=gears, meshes=made, loops=tuple(Of(gears=tuple(names), odd=odd) for names, odd in loops)))


def out_of_phase(names: str) -> float:
    """Pitches by which a tooth of the first gear is off after one walk round: each mate has a space where its neighbour has a tooth."""
    at = 0.0  # Angle of a tooth of the gear, in pitches of its own.
    for one, two in zip(names, names[1:] + names[0], strict=True):
        (x0, y0), (x1, y1) = PLACES[one], PLACES[two]
        towards = math.atan2(y1 - y0, x1 - x0)
        # By so many pitches the tooth stands past the line of centres; the mate runs against it, half a pitch on.
        past = at - towards / (2.0 * math.pi) * TEETH[one]
        at = (towards + math.pi) / (2.0 * math.pi) * TEETH[two] + 0.5 - past
    return at


@pytest.mark.parametrize("names", ["abcd", "badc", "dcba", "cdab"])
def test_arc_that_drawn_centres_leave(names: str) -> None:
    (found,) = meshed_rings(train((names, False)))
    assert found.gears == tuple(names) and [frozenset(item) for item in found.meshes] == [
        frozenset(side) for side in zip(names, names[1:] + names[0], strict=True)
    ]
    off = out_of_phase(names)
    # Counted against the walk, to the nearest whole pitch of 4 pi.
    assert found.residual_mm == pytest.approx((round(off) - off) * 4.0 * math.pi, abs=1e-9) and abs(found.residual_mm) > 0.3


def test_rings_of_meshes_and_of_nothing_else() -> None:
    found = meshed_rings(train(("abc", True), ("acbd", False), ("abcd", False)))
    assert [item.gears for item in found] == [("a", "b", "c", "d")]
    # A rhombus of equal gears of 20 whose angle is 91 degrees: 20 · 1/90 of a pitch (the alternating sum), whichever way it is drawn.
    c, s = 80 * math.cos(math.radians(91)), 80 * math.sin(math.radians(91))
    rhombus = {"a": (0.0, 0.0), "b": (80.0, 0.0), "c": (80.0 + c, s), "d": (c, s)}
    (even,) = meshed_rings(train(("abcd", False), places=rhombus, teeth=dict.fromkeys("abcd", 20)))
    assert abs(even.residual_mm) == pytest.approx(2.0 / 9.0 * 4.0 * math.pi)


def test_room_that_a_gear_off_its_centre_takes() -> None:
    """In a square of sides 80 with gears of 20: off along the diagonal it nears both mates, and stands aside of both: sqrt(2) (1 ± tan 20°)."""
    alike = ToothGeometry(20, 4.0)
    sides = {"ab": ((80.0, 0.0), (5, 6)), "bc": ((0.0, 80.0), (6, 7)), "cd": ((-80.0, 0.0), (7, 8)), "da": ((0.0, -80.0), (8, 5))}
    meshes = [ErrorMesh(name, alike, alike, along, axes, (0, 0), (0.0, 0.0), 18.0) for name, (along, axes) in sides.items()]
    stranger = ErrorMesh("xy", alike, alike, (80.0, 0.0), (0, 1), (0, 0), (0.0, 0.0), 18.0)
    found = error_ring(MeshedRing(("a", "b", "c", "d"), ("ab", "bc", "cd", "da"), 0.25), [stranger, *meshes])
    assert (found.gears, found.meshes, found.signs, found.residual_mm) == (("a", "b", "c", "d"), (1, 2, 3, 4), (1, -1, 1, -1), 0.25)
    less, more = (pytest.approx(math.sqrt(2.0) * (1.0 + sign * math.tan(math.radians(20.0)))) for sign in (-1.0, 1.0))
    assert found.off_centre == ((5, less, more), (6, more, less), (7, less, more), (8, more, less))


def test_room_taken_where_gears_stand_in_a_row() -> None:
    """On a line a gear between two is as much nearer to one mate as it is farther from the other, and counts aside twice, or not at all."""
    alike = ToothGeometry(20, 4.0)
    slope = math.tan(math.acos(80.0 * math.cos(math.radians(20.0)) / 81.0))
    meshes = [ErrorMesh(name, alike, alike, (0.0, 81.0), axes, (0, 0), (0.0, 0.0), 18.0) for name, axes in (("ab", (0, 1)), ("bc", (1, 2)))]
    found = error_ring(MeshedRing(("a", "b"), ("ab", "bc"), 0.0), meshes)
    ends, middle = pytest.approx(math.hypot(slope, 1.0)), pytest.approx(2.0)
    # At working angles whose tangent is `slope`: the middle gear's shares along the line cancel.
    assert found.off_centre == ((0, ends, ends), (1, middle, middle), (2, ends, ends))


def test_a_mesh_of_a_ring_as_it_stands_alone() -> None:
    alike = ToothGeometry(20, 4.0)
    assert ErrorMesh("ab", alike, alike, (80.0, 0.0), (0, 1), (0, 0), (0.0, 0.0), 18.0).closer_mm == (0.0, 0.0)


@pytest.mark.parametrize(
    ("facts", "left"),
    [
        # The far end is the nearer one, then the near end; gears off centre take of both.
        ({"apart": -0.1, "opening": -3.0, "off": 0.6}, play(99.3)), ({"apart": 0.3, "opening": 0.95, "off": 0.3}, play(99.05)),
        ({"apart": -0.1, "opening": -3.0, "off": 0.6, "sides": 0.01}, play(99.3) + 2.0 / BASE), ({"apart": 5.0, "opening": 5.7, "off": 0.1}, play(99.2)),
    ],
)  # fmt: skip
def test_either_end_of_the_face_can_bind(facts: dict[str, float], left: float) -> None:
    assert float(shortage_mm(MESH, stand(**facts))[0]) == pytest.approx(-left) and left < 0.0


@pytest.mark.parametrize("at", range(4))
@pytest.mark.parametrize("side", [1.0, -1.0])
@pytest.mark.parametrize(
    ("facts", "limit"),
    [
        ({"apart": -0.4, "opening": -0.8}, play(99.6)), ({"apart": 0.4, "opening": 0.8}, play(99.6)), ({"apart": -0.4}, play(99.6)),
        ({"apart": -0.4, "opening": -0.8, "sides": 0.1}, play(99.6) + 20.0 / BASE),
    ],
)  # fmt: skip
def test_either_end_of_a_face_can_lack_room_in_a_ring(at: int, side: float, facts: dict[str, float], limit: float) -> None:
    """Three meshes give half of J either way, one less: what lacks of 0.2 more is spread over half of each of four."""
    ring, errors = square(side * (2.0 * J + 0.2))
    stands = [stand(**(facts if index == at else {})) for index in range(4)]
    found = float(ring_shortage_mm(ring, errors, stands, [np.zeros(1)])[0])
    assert found == pytest.approx((0.2 + (J - limit) / 2.0) / 2.0)


@pytest.mark.parametrize(("at", "side"), [(0, 1.0), (1, -1.0), (2, 1.0), (3, -1.0)])
def test_axes_aside_at_either_end_of_a_face(at: int, side: float) -> None:
    """Aside by 0.4 at the far end and by 0.1 at the near, or the other way round: the one that is more out of phase counts."""
    for facts in ({"sideways": 0.4, "skew": 0.3}, {"sideways": 0.1, "skew": -0.3}):
        ring, errors = square(side * (2.0 * J + 0.2))
        stands = [stand(**(facts if index == at else {})) for index in range(4)]
        assert float(ring_shortage_mm(ring, errors, stands, [np.zeros(1)])[0]) == pytest.approx((0.2 + 0.4) / 2.0, abs=6e-4)


def test_trains_of_a_ring_each_by_itself() -> None:
    """Five trains at once: a gear off its centre by so much takes 0.4 of it on one bound; the last is right but for its own mesh."""
    ring, errors = square(2.0 * J, ((1, 0.4, 0.6),))
    stands = [stand(apart=[0.0, 0.0, 0.0, 0.0, -0.4 if index == 2 else 0.0]) for index in range(4)]
    found = ring_shortage_mm(ring, errors, stands, [np.zeros(5), np.array([0.1, 0.0, 0.5, -1.0, 0.0])])
    # The second just closes, but for rounding.
    assert [float(found[k]) for k in (0, 2, 3, 4)] == pytest.approx([0.02, 0.1, -math.inf, (J - play(99.6)) / 4.0], abs=1e-9)


def test_play_that_only_the_exact_sum_finds() -> None:
    """Nearer by 1.5 the play is more than along the tangent: between the two the ring, and the mesh, are left alone."""
    along = J - 1.5 * 2.0 * math.tan(math.radians(20.0))
    assert along < play(98.5) - 0.02 and -along < 3.0 * J
    for side in (1.0, -1.0):
        ring, errors = square(side * (3.0 * J + (along + play(98.5)) / 2.0) / 2.0)
        stands = [stand(apart=-1.5 if index == 1 else 0.0) for index in range(4)]
        assert float(ring_shortage_mm(ring, errors, stands, [np.zeros(1)])[0]) == -math.inf
    more = -play(98.5) * BASE / 200.0 + 0.01
    assert float(shortage_mm(MESH, stand(apart=-1.5, sides=more))[0]) == -math.inf and along + more * 200.0 / BASE < 0.0
    # Nearer than the base circles allow, they touch.
    apart = 100.0 * (2 * 0.1 / 50 - 2 * (math.tan(math.radians(20.0)) - math.radians(20.0)))
    assert float(shortage_mm(MESH, stand(apart=-10.0))[0]) == pytest.approx(-apart) and apart < 0.0


def test_axes_that_lean_or_move_with_the_moisture() -> None:
    """Along (0.6, 0.8) a lean of (0.01, 0.02) is 0.022 towards the mate and 0.004 across; 10 and 20 deep, over 18 of face."""
    none, still, flanks = np.zeros(1), np.zeros(1), (np.zeros(1), np.zeros(1))
    upright, leaning = _Axis((none, none), none, None), _Axis((none, none), none, (np.array([0.01]), np.array([0.02])))
    for axes, deep in (((leaning, upright), -10.0), ((upright, leaning), 20.0), ((leaning, leaning), 10.0)):
        found = _stand(MESH, axes, flanks, still, 0.0, 0.0)
        assert (found.apart[0], found.sideways[0]) == pytest.approx((deep * 0.022, deep * 0.004))
        shared = {-10.0: -18.0, 20.0: 18.0}.get(deep, 0.0)
        assert (found.opening[0], found.skew[0]) == pytest.approx((shared * 0.022, shared * 0.004), abs=1e-12)
    # Gears that come apart whichever way the moisture goes are nearest as they were made; half a percent counts like more.
    for closer, moist, nearer in (((-0.03, -0.01), 6.0, 0.0), ((0.03, -0.01), 0.5, 0.012), ((-0.03, 0.02), 0.5, 0.002)):
        moved = _stand(replace(MESH, closer_mm=closer), (upright, upright), flanks, np.array([0.1]), 0.0, moist)
        assert moved.apart[0] == pytest.approx(-nearer, abs=1e-12)


def test_cures_that_leave_nothing_to_tell() -> None:
    made = Binding(0.2, 100, 1, (), (("tilt", 0.0), ("play", 0.19)), (("a bore", 0.0, ("tilt",)), ("none", 0.2, ()), ("a block", 0.1, ("play",))))
    assert remedies_words(made) == ("a bore would leave less than 1 in 10000", "a block would leave about 1 in 10")
    assert remedies_words(made, ("block", "none")) == ("a bore would leave less than 1 in 10000",)
    assert eased_words(made) == "nearly all would be gone without tilt; a bore would leave less than 1 in 10000"
    assert remedies_words(Binding(None, 100, 1, (), (), (("a bore", 0.1, ()),))) == () and percent_words(0.0827) == "8.27 percent"
    assert [chance_words(value) for value in (0.0001, 0.00009, 0.3, 0.29, 0.949, 0.951)] == [
        "about 1 in 10000", "less than 1 in 10000", "about 3 in 10", "about 1 in 3", "about 9 in 10", "nearly every one"
    ]  # fmt: skip
