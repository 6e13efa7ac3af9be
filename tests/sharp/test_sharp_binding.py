"""Many trains at once: what is drawn, how axes stand, and what a mesh or a ring then lacks; each function alone, figures by hand. Lengths mm."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest

from trivet.solve import binding_draws
from trivet.solve.binding import _remedies
from trivet.solve.binding_draws import Changed, Draws, _Axis, _axis, _stand, blocks, shortages_mm
from trivet.solve.binding_errors import Axis, Cut, Shift, TrainErrors
from trivet.solve.binding_rings import ErrorMesh, ErrorRing
from trivet.solve.binding_shortage import Stand, _bound, ring_shortage_mm, shortage_mm
from trivet.solve.gear_size import ToothGeometry

A20 = math.radians(20.0)
ONE, TWO = ToothGeometry(20, 4.0, thinning_mm=0.3), ToothGeometry(30, 4.0, thinning_mm=0.1)
BASE = 100.0 * math.cos(A20)
MESH = ErrorMesh("ab", ONE, TWO, (60.0, 80.0), (0, 1), (0, 1), (10.0, 20.0), 18.0, (0.01, 0.02))


def play(distance: float) -> float:
    """Backlash as an angle of the line of centres times 100: 2 (π − (s1 + s2)/m)/(z1 + z2) + 2 (inv aw − inv a)."""
    aw = math.acos(BASE / distance)
    return 100.0 * (2 * 0.1 / 50 + 2 * (math.tan(aw) - aw - math.tan(A20) + A20))


def stand(apart: Any = 0.0, sideways: Any = 0.0, opening: Any = 0.0, skew: Any = 0.0, off: Any = 0.0, sides: Any = 0.0) -> Stand:
    given = np.broadcast_arrays(*(np.atleast_1d(np.asarray(value, dtype=float)) for value in (apart, sideways, opening, skew, off, sides)))
    return Stand(*(np.array(value) for value in given))


@pytest.mark.parametrize(
    ("facts", "left"),
    [
        ({"apart": -0.6}, play(99.4)),
        ({"apart": -0.1, "off": 0.6}, play(99.3)),
        ({"apart": 0.2, "off": 0.9}, play(99.3)),
        # The near end: less by the opening.
        ({"apart": 0.3, "opening": 0.95}, play(99.35)),
        ({"apart": -0.7, "opening": -3.0}, play(99.3)),
        # Aside by 3 the axes are farther apart; at the near end only by 1.
        ({"apart": -0.6, "sideways": 3.0, "skew": 3.0}, min(play(99.4), (play(99.4) + play(math.hypot(99.4, 3.0))) / 2 - 3.0)),
        ({"apart": -0.7, "sideways": 1.0, "opening": 0.1, "skew": 0.02}, play(math.hypot(99.2, 0.98))),
        # Half of both ends less the skew.
        ({"skew": 0.7}, (play(100.0) + play(math.hypot(100.0, 0.7))) / 2 - 0.7),
        ({"skew": -0.7}, (play(100.0) + play(math.hypot(100.0, 0.7))) / 2 - 0.7),
        # Thicker flanks: 2 q/cos aw at the nominal working circle.
        ({"sides": -0.25}, play(100.0) - 0.25 * 2 * 100 / BASE),
        ({"apart": -0.2}, None),
        ({"apart": 1.0, "sides": 0.1}, None),
    ],
)
def test_what_a_mesh_lacks(facts: dict[str, float], left: float | None) -> None:
    found = float(shortage_mm(MESH, stand(**facts))[0])
    assert found == (-math.inf if left is None else pytest.approx(-left, rel=1e-9)) and (left is None or left < 0.0)


def test_each_train_by_itself_and_a_bound_below_it() -> None:
    apart = np.linspace(-5.0, 5.0, 201)
    found = shortage_mm(MESH, stand(apart=apart))
    wanted = [-play(100 + d) if play(100 + d) <= 0 else -math.inf for d in apart]
    assert found.tolist() == pytest.approx(wanted) and {math.isinf(value) for value in wanted} == {True, False}
    low = _bound(MESH, apart, np.full(201, 0.01))
    exact = [play(100 + d) + 0.02 * 100 / BASE for d in apart]
    assert all(one <= other + 1e-12 for one, other in zip(low, exact, strict=True)) and low[100] == pytest.approx(exact[100])
    # The tangent: 2 tan a a mm.
    assert low[101] - low[100] == pytest.approx(0.05 * 2 * math.tan(A20) * 100 / 100)


def square(residual: float = 0.0, off: tuple[tuple[int, float, float], ...] = ()) -> tuple[ErrorRing, TrainErrors]:
    ring = ErrorRing(("a", "b", "c", "d"), (0, 1, 2, 3), (1, -1, 1, -1), residual, off)
    return ring, TrainErrors((), (), (MESH,) * 4, 0.0, (ring,))


J = play(100.0)


@pytest.mark.parametrize(
    ("residual", "facts", "at", "off", "left"),
    [
        # Each mesh gives half its backlash either way: 2 j for the ring; what lacks is spread over half of each of four.
        (2 * J - 0.01, {}, 0, (), None),
        (2 * J + 0.1, {}, 0, (), -0.1),
        (-2 * J - 0.1, {}, 0, (), -0.1),
        # Aside by w a mesh is w out of phase, with the sign of its place; the other way round the room grows.
        (2 * J - 0.2, {"sideways": 0.3}, 0, (), -0.1),
        (2 * J - 0.2, {"sideways": 0.3}, 1, (), None),
        (2 * J - 0.2, {"sideways": -0.3}, 3, (), -0.1),
        (0.2 - 2 * J, {"sideways": 0.3}, 1, (), -0.1),
        (0.2 - 2 * J, {"sideways": 0.3}, 2, (), None),
        # Nearer axes, at one end or both; flanks.
        (2 * J, {"apart": -0.4}, 2, (), (play(99.6) - J) / 2),
        (2 * J, {"opening": 0.4}, 1, (), (play(99.6) - J) / 2),
        (2 * J, {"opening": -0.4}, 1, (), 0.0),
        # Aside by −0.4 at the near end, or by 0.4: then the far end has as much room as it had.
        (2 * J, {"skew": 0.4}, 1, (), -0.4),
        (2 * J, {"skew": -0.4}, 1, (), 0.0),
        (2 * J, {"sides": -0.1}, 3, (), -0.1 * 100 / BASE),
        # A gear off centre by 0.5 takes 0.4 of a mm for each on one bound, 0.6 on the other.
        (2 * J, {}, 0, ((1, 0.4, 0.6),), -0.2),
        (-2 * J, {}, 0, ((1, 0.4, 0.6),), -0.3),
        (2 * J, {}, 0, ((0, 0.4, 0.6),), 0.0),
    ],
)
def test_what_a_ring_lacks(residual: float, facts: dict[str, float], at: int, off: Any, left: float | None) -> None:
    ring, errors = square(residual + (1e-9 if residual > 0 and left == 0.0 else 0.0), off)
    stands = [stand(**(facts if index == at else {})) for index in range(4)]
    found = float(ring_shortage_mm(ring, errors, stands, [np.zeros(1), np.array([0.5])])[0])
    if left is None:
        assert found == -math.inf
    else:
        # Axes aside are farther apart by w²/200: less than 0.001 of backlash.
        assert found == pytest.approx(-left / 2, abs=6e-4)


# Draws.
ERRORS = TrainErrors(
    (Axis((Shift("hole position", 0.2, False), Shift("bore clearance", 0.1, True)), 0.02), Axis((), 0.0)), (Cut(0.05, 0.02), Cut(0.01, 0.0)), (), 6.0
)


def test_evenly_over_every_band(monkeypatch: pytest.MonkeyPatch) -> None:
    made = list(blocks(ERRORS, 25_000, 7))
    assert [item.made_at.size for item in made] == [10_000, 10_000, 5_000] and binding_draws.BLOCK == 10_000
    drawn = made[0]
    (x, y), (length,) = drawn.shifts[0]
    assert drawn.shifts[1] == () and drawn.tilts[1] == () and len(drawn.flanks) == 2
    # Points spread evenly over a circle: a quarter of them within half of it, mean squares 1/4 each way.
    radius = np.hypot(x, y)
    for values, share in ((radius, 0.25), (length, 0.25)):
        assert np.all((values >= 0.0) & (values <= 1.0)) and np.mean(values < 0.5) == pytest.approx(share, abs=0.02)
    assert np.mean(x**2) == pytest.approx(0.25, abs=0.01) == np.mean(y**2) and abs(np.mean(x * y)) < 0.01
    share, cosine, sine = drawn.tilts[0]
    assert np.allclose(cosine**2 + sine**2, 1.0) and abs(np.mean(cosine)) < 0.03 and abs(np.mean(sine)) < 0.03
    for even in (share, drawn.made_at):
        assert np.mean(even) == pytest.approx(0.5, abs=0.015) and np.mean(even < 0.25) == pytest.approx(0.25, abs=0.02)
    for flank in (value for both in drawn.flanks for value in both):
        assert abs(np.mean(flank)) < 0.03 and np.mean(flank**2) == pytest.approx(1 / 3, abs=0.02) and np.max(np.abs(flank)) <= 1.0
    assert np.array_equal(next(blocks(ERRORS, 10_000, 7)).made_at, drawn.made_at) and not np.array_equal(next(blocks(ERRORS, 10_000, 8)).made_at, drawn.made_at)


def one(*values: float) -> Any:
    return np.array(values)


DRAWN = Draws(
    (((one(0.5), one(-0.25)), (one(0.8),)), ()), ((one(0.5), one(0.6), one(0.8)), ()), ((one(1.0), one(-1.0)), (one(-1.0), one(1.0))), one(0.25)
)  # fmt: skip


@pytest.mark.parametrize(
    ("changed", "x", "off", "slope"),
    [
        (Changed(), 0.1, 0.08, math.tan(0.01)),
        (Changed(factors=(("hole position", 0.5),)), 0.05, 0.08, math.tan(0.01)),
        (Changed(factors=(("bore clearance", 0.0),)), 0.1, 0.0, math.tan(0.01)),
        (Changed(factors=(("insert tilt", 0.5),)), 0.1, 0.08, math.tan(0.005)),
        (Changed(tilt_at_most_rad=0.01), 0.1, 0.08, math.tan(0.005)),
        (Changed(tilt_at_most_rad=0.03), 0.1, 0.08, math.tan(0.01)),
        (Changed(factors=(("insert tilt", 0.0),)), 0.1, 0.08, None),
    ],
)
def test_an_axis_in_one_train(changed: Changed, x: float, off: float, slope: float | None) -> None:
    found = _axis(ERRORS, DRAWN, changed, 0)
    assert (found.at[0][0], found.at[1][0], found.off_centre[0]) == pytest.approx((x, -x / 2, off))
    assert (found.lean is None) is (slope is None)
    if found.lean is not None and slope is not None:
        assert (found.lean[0][0], found.lean[1][0]) == pytest.approx((0.6 * slope, 0.8 * slope))
    assert _axis(ERRORS, DRAWN, changed, 1).lean is None


@pytest.mark.parametrize(
    ("drier", "moist", "apart_mm", "nearer"),
    [
        # Drier by 1.5 percent or wetter by 4.5: the worse of 0.02 · 1.5 and 0.01 · 4.5; never farther apart.
        (1.5, 6.0, 0.0, 0.045),
        (4.5, 6.0, 0.0, 0.09),
        (0.0, 0.0, 0.14, -0.14),
        (6.0, 6.0, 0.2, 0.12 - 0.2),
    ],
)
def test_moisture_and_centres_further_apart(drier: float, moist: float, apart_mm: float, nearer: float) -> None:
    plain, off = _Axis((one(0.0), one(0.0)), one(0.1), None), _Axis((one(0.3), one(0.5)), one(0.2), None)
    found = _stand(MESH, (plain, off), (one(0.01), one(0.02)), one(drier), apart_mm, moist)
    # Along (0.6, 0.8): 0.18 + 0.4, and across 0.6 · 0.5 − 0.8 · 0.3.
    assert (found.apart[0], found.sideways[0]) == pytest.approx((0.58 - nearer, 0.06))
    assert (found.off_centre[0], found.sides[0], found.opening[0], found.skew[0]) == pytest.approx((0.3, 0.03, 0.0, 0.0))
    swapped = _stand(MESH, (off, plain), (one(0.01), one(0.02)), one(drier), apart_mm, moist)
    assert (swapped.apart[0], swapped.sideways[0]) == pytest.approx((-0.58 - nearer, -0.06))


def test_errors_of_cuts_and_what_is_taken_away() -> None:
    errors = TrainErrors(ERRORS.axes, (Cut(0.1, 0.05), Cut(0.2, 0.1)), (MESH,), 6.0)
    still = Draws(DRAWN.shifts, DRAWN.tilts, ((one(-1.0), one(-1.0)), (one(-1.0), one(-0.5))), one(0.25))
    none = Changed(factors=tuple((what, 0.0) for what in ("hole position", "bore clearance", "insert tilt", "moisture")))
    (found,) = shortages_mm(errors, still, none)
    # 0.1 + 0.05 + 0.2 + 0.05 of flanks.
    assert found[0] == pytest.approx(0.4 * 2 * 100 / BASE - J)
    for what, sides in (("profile offset", 0.1), ("run-out", 0.3)):
        (left,) = shortages_mm(errors, still, Changed(factors=(*none.factors, (what, 0.0)), apart_mm=-0.5))
        assert left[0] == pytest.approx(sides * 2 * 100 / BASE - play(99.5))


def test_cures_that_change_something() -> None:
    def cures(tilt_deg: float, *shifts: Shift) -> list[tuple[str, Changed, tuple[str, ...]]]:
        return list(_remedies(TrainErrors((Axis(shifts, math.radians(tilt_deg)),), (), (MESH,), 0.0), "mm"))

    bore, block, half, apart = cures(1.0, Shift("bore clearance", 0.1, True), Shift("hole position", 0.1, False))
    # A bore 20 long and 0.1 wider: atan 0.005; a block: 0.5° (assumed).
    assert "20 mm long, 0.1 mm wider" in bore[0] and bore[1:] == (Changed(tilt_at_most_rad=math.atan(0.005)), ("insert tilt",))
    assert "(0.5°, assumed)" in block[0] and block[1:] == (Changed(tilt_at_most_rad=math.radians(0.5)), ("insert tilt",))
    assert half[1:] == (Changed(factors=(("bore clearance", 0.5),)), ("bore clearance",))
    # 0.1/(2 tan 20°) = 0.137, to hundredths.
    assert apart[0] == "all centres 0.14 mm further apart" and apart[1].apart_mm == pytest.approx(0.14) and apart[2] == ()
    assert [len(cures(tilt)) for tilt in (0.0, 0.28, 0.29, 0.5, 0.51)] == [1, 1, 2, 2, 3]
    assert cures(0.0, Shift("clearance of the socket", 0.1, True))[0][2] == ("clearance of the socket",)
