"""Chances from many trains: each change drawn once more by hand on the same draws, and the errors of a small train by hand sums. Lengths mm."""

from __future__ import annotations

import math
from types import SimpleNamespace as Of
from typing import Any

import numpy as np
import pytest
from tests.designs import HEX_NUT, design, drive, gear, mm, pivot
from tests.designs_feet import riding

from trivet.model.base import Band, Ref
from trivet.model.shop import Cutter, Machine, Shop
from trivet.solve import binding as run
from trivet.solve.binding import Binding
from trivet.solve.binding_draws import blocks
from trivet.solve.binding_errors import Axis, Cut, Shift, TrainErrors, train_errors
from trivet.solve.binding_rings import ErrorMesh, ErrorRing
from trivet.solve.gear_size import ToothGeometry

A20 = math.radians(20.0)
ONE, TWO = ToothGeometry(20, 4.0, thinning_mm=0.15), ToothGeometry(30, 4.0, thinning_mm=0.05)
BASE = 100.0 * math.cos(A20)
DRAWS = 12_000
AXES = (
    Axis((Shift("hole position", 0.08, False), Shift("bore clearance", 0.05, True)), 0.01), Axis((Shift("hole position", 0.2, False),), 0.0),
    Axis((Shift("clearance of the socket", 0.15, True),), 0.0),
)  # fmt: skip
CUTS = (Cut(0.03, 0.02), Cut(0.01, 0.0))
FIRST = ErrorMesh("first", ONE, TWO, (60.0, 80.0), (0, 1), (0, 1), (12.0, 0.0), 18.0, (0.01, 0.02))
SECOND = ErrorMesh("second", ONE, TWO, (-100.0, 0.0), (1, 2), (1, 0), (0.0, 0.0), 18.0)
ERRORS = TrainErrors(AXES, CUTS, (FIRST, SECOND), 2.0)


def play(distance: Any) -> Any:
    """Backlash as an angle of the line of centres times 100: 2 (π − (s1 + s2)/m)/(z1 + z2) + 2 (inv aw − inv a)."""
    tangent = np.sqrt((distance / BASE) ** 2 - 1.0)
    return 100.0 * (2 * 0.05 / 50 + 2 * (tangent - np.arctan(tangent) - math.tan(A20) + A20))


def lacking(
    without: str = "", lean: float = math.inf, halved: tuple[str, ...] = (), apart: float = 0.0, draws: int = DRAWS, seed: int = 3
) -> tuple[np.ndarray[Any, Any], ...]:
    """What both meshes lack in every train, from the draws alone: the lean counts at both ends of the first mesh, on its first gear."""

    def left(what: str) -> float:
        return 0.0 if what == without else 0.5 if what in halved else 1.0

    found: list[list[Any]] = [[], []]
    for drawn in blocks(ERRORS, draws, seed):
        hole = left("hole position")
        (x0, y0), (x1, y1) = ([0.08 * hole * value for value in drawn.shifts[0][0]], [0.2 * hole * value for value in drawn.shifts[1][0]])
        off0, off2 = 0.05 * left("bore clearance") * drawn.shifts[0][1][0], 0.15 * left("clearance of the socket") * drawn.shifts[2][0][0]
        share, cosine, sine = drawn.tilts[0]
        slope = np.tan(min(0.01 * left("insert tilt"), lean) * share)
        sides = sum(
            flank[0] * cut.offset_mm * left("profile offset") + flank[1] * cut.run_out_mm * left("run-out")
            for flank, cut in zip(drawn.flanks, CUTS, strict=True)
        )
        moist = 2.0 * left("moisture")
        drier = drawn.made_at * moist
        nearer = np.maximum(0.02 * drier, 0.01 * (moist - drier))
        towards, aside = slope * (0.6 * cosine + 0.8 * sine), slope * (0.6 * sine - 0.8 * cosine)
        along, across = 0.6 * (x1 - x0) + 0.8 * (y1 - y0) + apart - nearer - 12.0 * towards, 0.6 * (y1 - y0) - 0.8 * (x1 - x0) - 12.0 * aside
        ends = [play(np.hypot(100.0 + along + back * towards, across + back * aside) - off0) + 200.0 / BASE * sides for back in (0.0, 18.0)]
        found[0].append(-np.minimum(np.minimum(*ends), sum(ends) / 2.0 - 18.0 * np.abs(aside)))
        found[1].append(-(play(np.hypot(100.0 + x1 + apart, y1) - off2) + 200.0 / BASE * sides))
    return tuple(np.concatenate(item) for item in found)


def chance(*short: Any) -> float:
    return round(int(np.count_nonzero(np.maximum.reduce(short) >= 0.0)) / DRAWS, 4)


KINDS = ("bore clearance", "clearance of the socket", "hole position", "insert tilt", "moisture", "profile offset", "run-out")


def test_chances_of_a_train_and_of_every_change() -> None:
    found = run._run(ERRORS, DRAWS, 3, "mm")
    first, second = lacking()
    assert found.chance == chance(first, second) and 0.05 < found.chance < 0.6 and (found.draws, found.seed) == (DRAWS, 3)
    assert found.meshes == (("first", chance(first)), ("second", chance(second))) and found.rings == ()
    assert 0.01 < found.meshes[1][1] < found.meshes[0][1] < found.chance
    left = sorted(((kind, chance(*lacking(kind))) for kind in KINDS), key=lambda item: (item[1], item[0]))
    assert found.contributors == tuple(left) and len({item[1] for item in left}) == 7
    # So much more backlash, step by step, to the first step at which none lacks any, and one more.
    worst = np.maximum(first, second)
    steps = [round(int(np.count_nonzero(worst >= step * 0.01)) / DRAWS, 4) for step in range(len(found.with_more))]
    assert list(found.with_more) == steps and len(steps) == math.ceil(float(worst.max()) / 0.01) + 2
    bore, half = math.atan(0.005), ("bore clearance", "clearance of the socket")
    cures = [
        (chance(*lacking(lean=bore)), ("insert tilt",)), (chance(*lacking(lean=math.radians(0.5))), ("insert tilt",)), (chance(*lacking(halved=half)), half),
        (chance(*lacking(apart=0.14)), ()), (steps[10] if len(steps) > 10 else 0.0, ()),
    ]  # fmt: skip
    assert [item[1:] for item in found.remedies] == cures
    assert found.remedies[-1][0] == "both gears of every mesh 0.05 mm thinner in the tooth (0.1 mm more backlash)"


@pytest.mark.parametrize("seed", [1, 2, 3, 4])
def test_backlash_that_the_worst_of_few_trains_wants(seed: int) -> None:
    found = run._run(ERRORS, 60, seed, "mm")
    *_, second, worst = sorted(np.maximum(*lacking(draws=60, seed=seed)))
    assert len(found.with_more) == math.ceil(worst / 0.01) + 2 and (seed != 1 or math.ceil(second / 0.01) < math.ceil(worst / 0.01))


def ring_of(residual: float) -> TrainErrors:
    """Four meshes in a square whose gears are right, but for one cutter that is off by up to 0.02 a flank; play 0.05 · 2 less at each."""
    sides = ((80.0, 0.0), (0.0, 80.0), (-80.0, 0.0), (0.0, -80.0))
    alike = ToothGeometry(20, 4.0, thinning_mm=0.05)
    meshes = tuple(ErrorMesh(f"m{k}", alike, alike, side, (k, (k + 1) % 4), (0, 0), (0.0, 0.0), 18.0) for k, side in enumerate(sides))
    ring = ErrorRing(("a", "b", "c", "d"), (0, 1, 2, 3), (1, -1, 1, -1), residual, ())
    return TrainErrors((Axis((), 0.0),) * 4, (Cut(0.02, 0.0),), meshes, 0.0, (ring,))


def test_chance_of_a_ring_beside_that_of_its_meshes() -> None:
    """Play 0.1 + 4 q/cos a, q even from -0.02 to 0.02, of which the ring takes up twice: it is out by 0.15, so binds where q < -0.025 cos a / 4."""
    found = run._run(ring_of(0.15), 20_000, 5, "mm")
    q = 0.025 * math.cos(A20) / 4.0
    assert found.rings == ((("a", "b", "c", "d"), found.chance),) and found.chance == pytest.approx((0.02 - q) / 0.04, abs=0.012)
    assert found.meshes == tuple((f"m{k}", 0.0) for k in range(4)) and found.contributors == (("profile offset", 0.0),)
    assert [item[0].partition(" ")[0] for item in found.remedies] == ["all", "both"]
    # More backlash by d lets the ring take up 2 d more: none is left where 2 · 0.1 − 0.15 − 8 · 0.02/cos a + 2 d > 0.
    need = (0.15 - 0.2 + 8 * 0.02 / math.cos(A20)) / 2.0
    assert len(found.with_more) == math.ceil(need / 0.01) + 2
    assert found.remedies[-1][1] == 0.0
    still = run._run(ring_of(0.0), 20_000, 5, "mm")
    assert still == Binding(0.0, 20_000, 5, tuple((f"m{k}", 0.0) for k in range(4)), rings=((("a", "b", "c", "d"), 0.0),))


def test_figures_of_a_chance() -> None:
    made = Binding(0.2, 100, 1, (), with_more=(0.2, 0.11, 0.05, 0.0))
    assert [made.share(left) for left in (0.0, 0.05, 0.2, 0.3)] == pytest.approx([1.0, 0.75, 0.0, 0.0])
    assert [made.more_backlash_mm(limit) for limit in (0.2, 0.11, 0.1, 0.05, 0.0)] == pytest.approx([0.0, 0.01, 0.02, 0.02, 0.03])
    assert Binding(0.2, 100, 1, (), with_more=(0.2, 0.1)).more_backlash_mm(0.05) == pytest.approx(0.02)
    plain = Binding(0.0, 100, 1, ())
    assert (plain.share(0.0), plain.more_backlash_mm(0.0), plain.contributors, plain.remedies, plain.rings) == (0.0, 0.0, (), (), ())
    assert Binding(None, 100, 1, ()).share(0.1) == 0.0 and plain.with_more == (0.0,)


def test_meshes_that_cannot_bind_are_told_too(monkeypatch: pytest.MonkeyPatch) -> None:
    def told(errors: TrainErrors, *names: str) -> Binding:
        monkeypatch.setattr(run, "train_errors", lambda *_: errors)
        derived: Any = Of(train=Of(meshes=tuple(Of(id=name) for name in names)))
        return run.binding(design(()), derived, DRAWS, 3)

    found = told(ERRORS, "zero", "second", "a", "first")
    chances = dict(run._run(ERRORS, DRAWS, 3, "mm").meshes)
    assert found.meshes == (("first", chances["first"]), ("second", chances["second"]), ("a", 0.0), ("zero", 0.0))
    none = TrainErrors((), (), (), 0.0)
    assert told(none, "b", "a") == Binding(0.0, DRAWS, 3, (("a", 0.0), ("b", 0.0))) and told(none) == Binding(None, DRAWS, 3, ())
    # As many trains as the reports name.
    unsaid = run.binding(design(()), Of(train=Of(meshes=())))
    assert (unsaid.draws, unsaid.seed) == (100_000, 20)


# A train of six on boards of 17.8: hub, west, nw in a row leftwards, `low` under west on its shaft with `end` beside it, `far` to the right.
GEARS = (
    gear("far", 20), gear("nw", 20, foot=True, cutter=Ref("fine")), gear("low", 30, shaft="west", machine=Ref("router")), gear("hub", 20, drive=True),
    gear("west", 30, stock=Ref("thick")), gear("end", 20, cutter=Ref("fine")),
)  # fmt: skip
PLACES = {
    "far": (380.0, 100.0, 0), "hub": (300.0, 100.0, 0), "west": (200.0, 100.0, 0), "nw": (100.0, 100.0, 0), "low": (200.0, 100.0, 1), "end": (200.0, 200.0, 1),
}  # fmt: skip


def state(made: Any, deeper: tuple[str, ...]) -> Any:
    name = made.name.text
    x, y, level = PLACES[name]
    thick = {"west": 24.0, "end": 10.0}.get(name, 17.8)
    return Of(
        id=name, gear=made, shaft="west" if name == "low" else name, level=level + (name in deeper), x_mm=x, y_mm=y, hole_mm=8.4,
        face_width=Band(thick, thick - 1.0, thick + 1.0), geometry=ToothGeometry(int(made.teeth.number), 4.0),
    )  # fmt: skip


def mesh(a: str, b: str, least: float = -0.1, distance: float = 100.0, closer: tuple[float, float] = (0.01, 0.02)) -> Any:
    return Of(id=f"{a}-{b}", a=a, b=b, backlash=Of(min_mm=least), centre_distance_mm=distance, closer_mm=closer)


def errors(*meshes: Any, deeper: tuple[str, ...] = (), **shop: float) -> TrainErrors:
    cutters = tuple(Cutter(name=Ref(name), diameter=mm(4), reach=mm(25)) for name in ("straight", "fine"))
    given = {"profile_offset_mm": 0.05, "run_out_mm": 0.06, "hole_position_mm": 0.07, "insert_tilt_deg": 0.5, "moisture_least": 7.0, "moisture_most": 11.0}
    machines = (Machine(name=Ref("router"), profile_offset=mm("0.01"), run_out=mm("0.02")),)
    made = design(GEARS, drives=(drive(nut=HEX_NUT),), pivots=(pivot(),), feet=(riding(),), cutters=cutters, machines=machines, shop=Shop(**(given | shop)))
    derived: Any = Of(train=Of(gears=tuple(state(item, deeper) for item in GEARS), meshes=meshes, loops=()))
    return train_errors(made, derived)


def test_errors_of_a_train_in_the_order_of_the_plan() -> None:
    found = errors(mesh("hub", "far", 0.2, 80.0), mesh("end", "low"), mesh("hub", "west"), mesh("west", "nw", 1e-7, closer=(0.03, 0.0)))
    assert [item.id for item in found.meshes] == ["west-nw", "hub-west", "end-low"] and found.moisture_percent == 4.0 and found.rings == ()
    hole = Shift("hole position", 0.07, False)
    near = pytest.approx(0.2, abs=1e-12)
    # nw on its insert, west loose on its pivot, hub clamped off centre by its own clearance, end loose on its own pivot.
    assert found.axes == (
        Axis((hole,), math.radians(0.5)), Axis((hole, Shift("bore clearance", near, False)), 0.0),
        Axis((hole, Shift("clearance of the bolt's hole", near, False), Shift("bore clearance", near, True)), 0.0),
        Axis((hole, Shift("bore clearance", near, False)), 0.0),
    )  # fmt: skip
    assert found.cuts == (Cut(0.05, 0.03), Cut(0.05, 0.03), Cut(0.01, 0.01))
    first, second, third = found.meshes
    assert (first.axes, second.axes, third.axes) == ((0, 1), (1, 2), (1, 3)) and (first.cuts, second.cuts, third.cuts) == ((0, 1), (1, 1), (2, 0))
    # From the insert's middle, 7.5 above the board's underside, to the far end of what is shared.
    assert first.reaches_mm == pytest.approx((17.8 + 7.5, 0.0)) and (first.overlap_mm, third.overlap_mm) == (17.8, 10.0)
    assert first.along_mm == pytest.approx((100.0, 0.0)) and third.along_mm == pytest.approx((0.0, 100.0)) and first.closer_mm == (0.03, 0.0)
    assert (first.first.teeth, first.second.teeth, third.first.teeth) == (20, 30, 30)


def test_meshes_that_can_bind() -> None:
    assert [item.id for item in errors(mesh("hub", "west", 2e-6), mesh("west", "nw", 0.9e-6)).meshes] == ["west-nw"]
    assert errors(mesh("hub", "west"), moisture_least=9.0, moisture_most=8.0).moisture_percent == 0.0
    assert errors(mesh("hub", "far", 0.2)) == TrainErrors((), (), (), 4.0)
    # A foot that shares a lower level reaches as much deeper: under the thicker gear above.
    (only,) = errors(mesh("nw", "low"), deeper=("nw",)).meshes
    assert only.reaches_mm == pytest.approx((24.0 + 17.8 + 7.5, 0.0))


def test_kinds_of_a_train() -> None:
    assert ERRORS.kinds() == KINDS
    assert TrainErrors((), (), (SECOND, FIRST), 0.5).kinds() == ("moisture",) and TrainErrors((), (), (SECOND,), 0.5).kinds() == ()
    assert TrainErrors((), (), (FIRST,)).kinds() == () and TrainErrors((), (Cut(0.0, 0.01),), (), 3.0).kinds() == ("run-out",)
