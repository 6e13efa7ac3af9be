"""Cut teeth turned against each other, place by place: gaps, contact and its ends on points given outright; figures by plane geometry. Lengths mm."""

from __future__ import annotations

import cmath
import math
from collections.abc import Callable
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from trivet.solve import as_cut_mesh as module
from trivet.solve import as_cut_proofs
from trivet.solve.as_cut_mesh import AsCutMesh, as_cut_mesh
from trivet.solve.as_cut_tooth import CutTooth, _points, cut_tooth
from trivet.solve.gear_size import ToothGeometry

PHASES = np.arange(-64, 64) / 32.0
# A place of contact is halved between two places a thousandth of a pitch apart.
FINE = 1.0 / 32.0 / 32.0


def contact(touch: Callable[[Any], Any], finer: Callable[[Any], Any] | None = None) -> tuple[float, float]:
    """Ends of contact that is seen at the coarse places, and looked at closely by the same eye or another."""
    pair: Any = SimpleNamespace(at=lambda phases: SimpleNamespace(flanks_touch=(finer or touch)(phases)))
    return module._contact(pair, PHASES, np.asarray(touch(PHASES)))


def within(*runs: tuple[float, float]) -> Callable[[Any], Any]:
    return lambda phases: sum(((phases >= low) & (phases <= high) for low, high in runs), np.zeros(phases.size)) > 0.0


@pytest.mark.parametrize(
    ("runs", "seen"),
    [
        ([(-0.7, 0.81)], (-0.7, 0.81)), ([(-0.01, 0.01)], (-0.01, 0.01)), ([(0.02, 0.025)], (0.0, 0.0)), ([], (0.0, 0.0)),
        # The longer of two, wherever it stands; of equally long ones the first; a single place is a run.
        ([(-1.5, -1.2), (-0.7, 0.81)], (-0.7, 0.81)), ([(-0.7, 0.81), (1.2, 1.5)], (-0.7, 0.81)), ([(-0.7, -0.2), (0.3, 0.8)], (-0.7, -0.2)),
        ([(-0.7, -0.7 + 0.3), (0.3, 0.31), (0.5, 1.3)], (0.5, 1.3)),
    ],
)  # fmt: skip
def test_ends_of_the_longest_run(runs: list[tuple[float, float]], seen: tuple[float, float]) -> None:
    assert contact(within(*runs)) == pytest.approx(seen, abs=0.51 * FINE)


def test_ends_that_are_not_seen() -> None:
    # Contact over the whole of what is looked at ends with it: at -2 and a 32nd before 2.
    assert contact(within((-9.0, 9.0))) == (-2.0, 2.0 - 1.0 / 32.0)
    assert contact(within((-9.0, 0.41))) == (-2.0, pytest.approx(0.41, abs=0.51 * FINE))
    assert contact(within((-0.41, 9.0))) == (pytest.approx(-0.41, abs=0.51 * FINE), 2.0 - 1.0 / 32.0)
    assert contact(within((-1.98, 0.41))) == pytest.approx((-1.98, 0.41), abs=0.51 * FINE)
    # Where a closer look sees contact all the way to the next place, it ends right before that; where it sees none, it ends where it was.
    low, high = -22.0 / 32.0, 25.0 / 32.0
    coarse = within((-0.7, 0.81))
    assert contact(coarse, lambda phases: np.full(phases.size, True)) == pytest.approx((low - 1.0 / 32.0 + FINE / 2.0, high + 1.0 / 32.0 - FINE / 2.0))
    assert contact(coarse, lambda phases: np.full(phases.size, False)) == pytest.approx((low, high))


SPACE = CutTooth(np.array([8.0, 10.0, 12.0]), np.array([0.25, 0.2, 0.1]), np.zeros((2, 1)), np.zeros(1))
HALF, MATE, DISTANCE = 0.3, 0.2, 22.0


def tooth(*points: tuple[float, float], tips: tuple[int, ...] = ()) -> CutTooth:
    at_tip = np.zeros(len(points))
    at_tip[list(tips)] = 1.0
    return CutTooth(np.array([8.0, 12.0]), np.array([0.2, 0.1]), np.array(points, dtype=float).T, at_tip)


def seen(made: CutTooth, *phases: float) -> tuple[list[float], list[bool]]:
    found = module._Pair(SPACE, made, HALF, MATE, DISTANCE).at(np.array(phases))
    return found.gap.tolist(), [bool(value) for value in found.flanks_touch]


def gap(radius: float, angle: float, phase: float) -> float:
    """By complex numbers: the point turned about (22, 0), seen from (0, 0), against the wood of the space there."""
    z = DISTANCE + radius * cmath.exp(1j * (math.pi - 2.0 * MATE * phase + angle))
    out = abs(z)
    if out > 12.0:
        return math.inf
    wood = 0.25 - (out - 8.0) * 0.025 if out <= 10.0 else 0.2 - (out - 10.0) * 0.05
    return (0.0 if out < 8.0 else HALF - wood) - (cmath.phase(z) - 2.0 * HALF * phase)


def test_room_that_each_point_leaves() -> None:
    # On the line of centres 11 from the first gear its wood takes 0.15 of 0.3; 9 from it 0.225; 7 from it all.
    assert seen(tooth((11.0, 0.0)), 0.0)[0] == pytest.approx([0.15]) and seen(tooth((13.0, 0.0)), 0.0)[0] == pytest.approx([0.075])
    assert seen(tooth((15.0, 0.0)), 0.0)[0] == pytest.approx([0.0]) and seen(tooth((9.9, 0.0)), 0.0)[0] == [math.inf]
    # Exactly at the tip and exactly at the root there is the wood of the tooth.
    assert seen(tooth((10.0, 0.0)), 0.0)[0] == pytest.approx([0.2]) and seen(tooth((14.0, 0.0)), 0.0)[0] == pytest.approx([0.05])
    for radius, angle in ((11.0, 0.05), (12.5, -0.08), (14.5, 0.1)):
        for phase in (-0.6, -0.1, 0.0, 0.3):
            assert seen(tooth((radius, angle)), phase)[0] == pytest.approx([gap(radius, angle, phase)], abs=1e-12)
    points = ((10.5, -0.02), (11.0, 0.01), (11.5, 0.03), (12.0, 0.02))
    phases = (-0.4, 0.0, 0.2, 1.9)
    wanted = [min(gap(*point, phase) for point in points) for phase in phases]
    assert seen(tooth(*points), *phases)[0] == pytest.approx(wanted, abs=1e-12) and wanted[-1] == math.inf


def test_where_flank_touches_flank() -> None:
    # Room 0.175, 0.15, 0.125 and so on along the line of centres; a point turned by -0.09 about 0.09 less.
    row = [(10.5, 0.0), (11.0, -0.09), (11.5, 0.0), (12.0, 0.0)]
    assert [gap(*point, 0.0) == min(gap(*each, 0.0) for each in row) for point in row] == [False, True, False, False]
    assert seen(tooth(*row), 0.0)[1] == [True]
    # On the tip; at either end of what there is; beside a point that is out of reach.
    assert seen(tooth(*row, tips=(1,)), 0.0)[1] == [False] and seen(tooth(*row, tips=(0, 2, 3)), 0.0)[1] == [True]
    assert seen(tooth(*row[1:]), 0.0)[1] == [False] and seen(tooth(*row[:2]), 0.0)[1] == [False]
    assert seen(tooth((9.9, 0.0), *row[1:]), 0.0)[1] == [False] and seen(tooth(*row[:2], (9.9, 0.0)), 0.0)[1] == [False]
    # Only the two next to it count: what lies beyond them may be in reach, or there may be nothing.
    assert seen(tooth(row[0], row[1], (9.9, 0.0), row[3]), 0.0)[1] == [False] and seen(tooth(row[0], (9.9, 0.0), row[1], row[2]), 0.0)[1] == [False]
    assert seen(tooth(*row[:3]), 0.0)[1] == [True] and seen(tooth((9.9, 0.0), *row), 0.0)[1] == [True]
    assert seen(tooth((9.9, 0.0), (9.8, 0.0), (9.7, 0.0)), 0.0) == ([math.inf], [False])
    # In two phases at once, each by itself.
    assert seen(tooth(*row), 0.0, 1.9)[1] == [True, False]


@pytest.mark.parametrize("bulge", [0.0, 1e-13, 0.3, -0.5, 1.0])
def test_points_of_a_piece(bulge: float) -> None:
    """From (1, 2) to (4, 6): 5 apart. An arc whose bulge is b rises by 2.5 b, to the right of its way where b is positive."""
    found = _points(1.0, 2.0, bulge, 4.0, 6.0)
    assert found.shape == (2, 101) and found[:, 0].tolist() == pytest.approx([1.0, 2.0]) and found[:, -1].tolist() == pytest.approx([4.0, 6.0])
    rise = 2.5 * (bulge if abs(bulge) > 1e-12 else 0.0)
    assert found[:, 50].tolist() == pytest.approx([2.5 + 0.8 * rise, 4.0 - 0.6 * rise])
    steps = np.hypot(*np.diff(found, axis=1))
    assert steps.max() - steps.min() < 1e-9
    assert [_points(0.0, 0.0, 0.0, length, 0.0).shape[1] for length in (0.0, 0.01, 0.05, 0.051, 0.1, 0.11)] == [2, 2, 2, 3, 3, 4]


ONE, TWO = ToothGeometry(20, 4.0, thinning_mm=0.2), ToothGeometry(30, 4.0, thinning_mm=0.2)


def test_points_of_a_tooth() -> None:
    made = cut_tooth(ONE, 1.5)
    assert all(np.diff(made.radii) > 0.0) and made.half_angles[0] <= math.pi / 20 + 1e-12 and made.tip_radius_mm == pytest.approx(44.0)
    # Along the tip no farther apart than four steps of 0.05, and as few as that needs.
    tip = 2.0 * made.half_angles[-1] * 44.0
    over = made.around[1][made.at_tip == 1.0]
    assert over.size == max(2, math.ceil(tip / 0.2)) + 1 and np.diff(over) == pytest.approx(np.full(over.size - 1, tip / 44.0 / (over.size - 1)))
    assert made.around.shape[1] == made.radii.size - 1 + over.size and not made.at_tip[: made.radii.size - 1].any()
    # The clockwise flank, outwards.
    flank = made.around[:, : made.radii.size - 1]
    assert flank[0] == pytest.approx(made.radii[:-1]) and flank[1] == pytest.approx(-made.half_angles[:-1])
    # Points of the flank are close together: two of them are no farther apart than the step, which is a chord of the piece.
    x, y = made.radii * np.cos(made.half_angles), made.radii * np.sin(made.half_angles)
    assert np.hypot(np.diff(x), np.diff(y)).max() < 0.056
    # A tip that is nearly a point still has a middle.
    sharp = ToothGeometry(20, 4.0, profile_shift=0.9)
    pointed = cut_tooth(ToothGeometry(20, 4.0, profile_shift=0.9, thinning_mm=sharp.tip_land_mm), 1.0)
    assert np.count_nonzero(pointed.at_tip == 1.0) == 3


def test_no_point_of_a_tooth_lies_beyond_the_middle_of_its_space() -> None:
    """Roots in one round from flank to flank, whose points do not fall into the middle of the space."""
    for shift, thin in ((0.2173614078352869, 1.5516261813748058), (0.0, 0.4), (0.1, 0.9)):
        made = ToothGeometry(66, 6.0, profile_shift=shift, thinning_mm=thin, addendum_coefficient=0.8, dedendum_coefficient=1.4)
        tooth_ = cut_tooth(made, 3.6)
        assert tooth_.half_angles[0] <= math.pi / 66 + 1e-12 and all(np.diff(tooth_.half_angles) < 0.0)


def test_each_gear_of_a_proof_has_its_own_cutter(monkeypatch: pytest.MonkeyPatch) -> None:
    told: list[tuple[Any, ...]] = []
    monkeypatch.setattr(as_cut_proofs, "as_cut_mesh", lambda *given: told.append(given))
    gears = tuple(SimpleNamespace(id=name, geometry=name.upper(), cutter_diameter_mm=wide) for name, wide in (("b", 6.0), ("a", 4.0)))
    distances = {f"centre_distance_{which}mm": at for which, at in (("", 100.0), ("likely_", 99.9), ("least_", 99.5), ("most_", 100.5))}
    meshes = tuple(SimpleNamespace(id=name, a=name[0], b=name[1], **distances) for name in ("ab", "ba"))
    derived: Any = SimpleNamespace(train=SimpleNamespace(gears=gears, meshes=meshes))
    assert list(as_cut_proofs.as_cut_proofs(derived)) == ["ab", "ba"]
    ends = (("A", "B", (2.0, 3.0)), ("B", "A", (3.0, 2.0)))
    assert told == [(one, two, at, radii) for one, two, radii in ends for at in (100.0, 99.9, 99.5, 100.5)]
    assert list(as_cut_proofs.as_cut_proofs(derived, meshes[1:])) == ["ba"] and len(told) == 12


def test_play_free_turn_and_overlap_of_a_mesh() -> None:
    """Thinned by 0.2 each: the gear of 20 turns by 0.4 over 40, half of it to either side of where flanks have even play."""
    found = as_cut_mesh(TWO, ONE, 100.0, (1.0, 1.0))
    assert found.free_rad == pytest.approx(0.01, abs=2e-4) and found.backlash_mm == pytest.approx(found.free_rad * 100.0 * 20 / 50)
    assert found.free_teeth == 20 and found.free_at * 32 == round(found.free_at * 32) and 0.0 <= found.free_at < 1.0
    # Whichever gear is named first, and whatever has been turned before.
    assert as_cut_mesh(ONE, TWO, 100.0 + 1e-11, (1.0, 1.0)) is found and as_cut_mesh(ONE, TWO, 100.001, (1.0, 1.0)) is not found
    unlike = as_cut_mesh(ONE, TWO, 100.0, (1.0, 1.2)), as_cut_mesh(TWO, ONE, 100.0, (1.2, 1.0)), as_cut_mesh(ONE, TWO, 100.0, (1.2, 1.0))
    assert unlike[0] is unlike[1] and unlike[0] is not unlike[2]
    alike = as_cut_mesh(ONE, ONE, 80.5, (1.0, 1.2))
    assert alike is as_cut_mesh(ONE, ONE, 80.5, (1.2, 1.0)) and alike is not as_cut_mesh(ONE, ONE, 80.5, (1.2, 1.2))
    for facts in ({"profile_shift": 0.1}, {"thinning_mm": 0.3}, {"tip_shortening_mm": 0.1}, {"dedendum_coefficient": 1.3}):
        other = ToothGeometry(20, 4.0, **({"thinning_mm": 0.2} | facts))
        assert as_cut_mesh(ONE, other, 85.0, (1.0, 1.0)) is as_cut_mesh(other, ONE, 85.0, (1.0, 1.0))


@pytest.mark.parametrize(
    ("least", "turn", "at", "laid"),
    [
        # 0.01 everywhere but at one place: the other flank is the mirror image, and has 0.01 there.
        ({8: 0.002}, 0.012, 8, False), ({40: 0.002}, 0.012, 8, False), ({127: 0.003}, 0.013, 1, False), ({64: 0.004}, 0.008, 0, False),
        # Both flanks tight at one place; one that is over, though the other gives way; both that are over.
        ({8: 0.004, 24: 0.001}, 0.005, 8, False), ({8: -0.002}, 0.008, 8, True), ({8: -0.004, 24: -0.001}, -0.005, 8, True), ({16: 0.0}, 0.0, 16, True),
    ],
)  # fmt: skip
def test_turn_that_both_flanks_leave(monkeypatch: pytest.MonkeyPatch, least: dict[int, float], turn: float, at: int, laid: bool) -> None:
    free = np.full(128, 0.01)
    free[list(least)] = list(least.values())
    pair = SimpleNamespace(at=lambda phases: SimpleNamespace(gap=free, flanks_touch=(phases > -0.5) & (phases < 0.7)))
    monkeypatch.setattr(module, "_Pair", lambda *given: pair)
    monkeypatch.setattr(module, "outline_overlap_mm2", lambda *given: 7.0)
    found = module._measured.__wrapped__(ONE, TWO, 101.0, 1.0, 1.5)
    assert (found.free_rad, found.free_at, found.free_teeth) == (pytest.approx(turn, abs=1e-12), at / 32.0, 20)
    assert found.backlash_mm == pytest.approx(max(turn, 0.0) * 101.0 * 20 / 50) and (found.laid_over, found.overlap_mm2) == (laid, 7.0 if laid else 0.0)
    assert found.touch == pytest.approx((-0.5, 0.7), abs=0.51 * FINE) and found.contact_ratio == found.touch[1] - found.touch[0]


@pytest.mark.parametrize(("by", "laid"), [(0.0, False), (-0.5, False), (-0.56, True), (-1.0, True)])
def test_outlines_are_laid_over_where_something_leaves_no_room(by: float, laid: bool) -> None:
    # Without play at 0.4/(2 tan 20 deg) = 0.549 nearer; the points see it a little sooner.
    found = as_cut_mesh(ONE, TWO, 100.0 + by, (1.0, 1.0))
    assert found.laid_over is laid and (found.overlap_mm2 > 0.0) is laid and (found.free_rad <= 0.0) is laid
    assert found.backlash_mm == max(0.0, found.free_rad * (100.0 + by) * 20 / 50)


def test_a_mesh_as_it_stands_alone() -> None:
    plain = AsCutMesh(100.0, 0.0, 0.4, 1.6)
    assert (plain.free_rad, plain.free_teeth, plain.free_at, plain.touch, plain.laid_over) == (0.0, 0, 0.0, (0.0, 0.0), False)
