"""Gears on one shaft: who stands on whose, how deep each level hangs, what joins them and where its dowels go. Lengths mm, figures by hand."""

from __future__ import annotations

import itertools
import math
from types import SimpleNamespace as Of
from typing import Any

import pytest
from tests.designs import HEX_NUT, TEE_NUT, design, drive, gear, mesh, mm, tooth_form
from tests.part_samples import titled

from trivet.model.base import Band
from trivet.model.train import DriveNut, JoinedBy, Web
from trivet.solve import shaft_joints as joints
from trivet.solve.corner import MEAN, Corner
from trivet.solve.feature import Round
from trivet.solve.part_context import part_context
from trivet.solve.parts import part_features
from trivet.solve.shaft import level_drops, shafts
from trivet.solve.shaft_joints import JOINS, ShaftJoint, joint_features, shaft_joints
from trivet.solve.solve import solve
from trivet.units import Quantity

TURN = 2.0 * math.pi


def state(name: str, level: int = 0, on: str = "", width: Band | None = None) -> Any:
    made = Of(on_shaft_with=Of(text=on) if on else None)
    return Of(id=name, gear=made, level=level, face_width=width or Band(10.0, 9.0, 12.0))


def names(found: dict[str, tuple[Any, ...]]) -> dict[str, list[str]]:
    return {root: [item.id for item in stack] for root, stack in found.items()}


def test_gears_of_each_shaft_by_level() -> None:
    """However they are written, and along chains; a mate that is not there, or that stands on this one in turn, ends the chain."""
    gears = (state("d", 3, "c"), state("c", 1, "a"), state("a", 2), state("b", 0, "a"), state("e", 0), state("f", 1, "gone"))
    for order in itertools.permutations(gears):
        train: Any = Of(gears=order)
        assert names(shafts(train)) == {"a": ["b", "c", "a", "d"], "e": ["e"], "f": ["f"]}
    ring: Any = Of(gears=(state("x", 1, "y"), state("y", 0, "x"), state("z", 0, "z")))
    found = names(shafts(ring))
    assert sorted(map(sorted, found.values())) == [["x", "y"], ["z"]]


@pytest.mark.parametrize(
    ("corner", "drops"),
    [(MEAN, (0.0, 20.0, 25.0, 25.0)), (Corner(1, 1), (0.0, 24.0, 30.0, 30.0)), (Corner(1, -1), (0.0, 18.0, 22.0, 22.0))],
)
def test_each_level_hangs_under_the_thickest_of_the_one_above(corner: Corner, drops: tuple[float, ...]) -> None:
    """Of those alone that have a mate below them: neither a lone gear of 40 nor the last of a shaft counts."""
    thick, thin = Band(20.0, 18.0, 24.0), Band(5.0, 4.0, 6.0)
    stacks = {
        "a": (state("a", 0, "", thin), state("a1", 1, "a", thin), state("a2", 2, "a", Band(40.0, 39.0, 41.0))),
        "b": (state("b", 0, "", thick), state("b1", 1, "b", Band(40.0, 39.0, 41.0))),
        "c": (state("c", 0, "", Band(40.0, 39.0, 41.0)),),
        "d": (state("d", 3, "", thin),),
    }
    train: Any = Of(gears=tuple(item for stack in stacks.values() for item in stack))
    assert level_drops(train, stacks, corner) == {level: drop for level, drop in enumerate(drops)}
    nothing: Any = Of(gears=())
    assert level_drops(nothing, {}, corner) == {0: 0.0}


def joined(*gears: Any, **facts: Any) -> ShaftJoint:
    made = design(gears, (mesh("hub", "wheel", 0.0),), **facts)
    found = shaft_joints(made, solve(made))
    assert len(found) == 1
    return found[0]


# Module 4: the roots of 40 teeth are 75 from the axis and of 30 teeth 55; less two modules of rim 67 and 47. A sleeve of 8 has a bore of 8.2.
HUB, WHEEL = gear("hub", 20, (0.0, 0.0), drive=True), gear("wheel", 40)


def low(**facts: Any) -> Any:
    return gear("low", 30, shaft="wheel", **facts)


def test_ring_for_two_dowels() -> None:
    found = joined(HUB, WHEEL, low())
    assert (found.root, found.gears, found.form, found.holds, found.stated, found.webbed) == ("wheel", ("wheel", "low"), "dowels", True, False, "")
    # 3 of wood round the bore: from 7.1 to 47; dowels of 6 and 0.05, 2 apart.
    assert (found.room_mm, found.needs_mm, found.dowel_mm) == pytest.approx((39.9, 8.05, 6.0))
    middle = (7.1 + 47.0) / 2.0
    assert found.places[0] == pytest.approx((middle - 1.0, 0.0))
    assert found.places[1] == pytest.approx(((middle + 1.0) * math.cos(0.4 * TURN), (middle + 1.0) * math.sin(0.4 * TURN)))
    # With nothing of a shaft there is nothing to join.
    alone = design((HUB, WHEEL), (mesh("hub", "wheel", 0.0),))
    assert shaft_joints(alone, solve(alone)) == ()


def test_dowels_as_stated_on_any_gear_of_the_shaft() -> None:
    for first, second in ((WHEEL, low(joined_by=JoinedBy(form="dowels", diameter=mm(10)))),
                          (WHEEL.model_copy(update={"joined_by": JoinedBy(form="dowels", diameter=mm(10))}), low())):  # fmt: skip
        found = joined(HUB, first, second)
        assert (found.dowel_mm, found.stated, found.needs_mm) == pytest.approx((10.0, True, 12.05))
    usual = joined(HUB, WHEEL, low(joined_by=JoinedBy(form="dowels")), hardware="inch")
    assert (usual.dowel_mm, usual.stated) == (6.35, True)
    # 37.85 and 0.05 and 2 just find the 39.9; a tenth more does not.
    for dowel, holds in (("37.8", True), ("37.9", False)):
        assert joined(HUB, WHEEL, low(joined_by=JoinedBy(form="dowels", diameter=mm(dowel)))).holds is holds


def test_a_rim_of_six_on_fine_teeth_and_no_ring_at_all() -> None:
    # 12 teeth of module 4 on the shaft: roots at 19, less 8 of rim 11; from 7.1 there are 3.9.
    small = joined(HUB, WHEEL, gear("low", 12, shaft="wheel"))
    assert (small.room_mm, small.places, small.holds) == (pytest.approx(3.9), (), False)
    # Of module 2 the roots of 30 are 27.5 from the axis, and two modules would be less than 6.
    fine = joined(HUB, WHEEL, low(), tooth_forms=(tooth_form(module=2.0, backlash="0.2"),))
    assert fine.room_mm == pytest.approx(27.5 - 6.0 - 7.1)
    bored = joined(HUB, WHEEL, gear("low", 12, shaft="wheel", bore=mm(30)))
    assert bored.room_mm == 0.0 and not bored.holds


def test_webs_leave_no_wood_for_dowels() -> None:
    web = Web(form="spokes", count=Quantity(5, ""), size=mm(16))
    found = joined(HUB, WHEEL, low(web=web))
    assert (found.webbed, found.places, found.holds) == ("low", (), False) and found.room_mm == pytest.approx(39.9)


@pytest.mark.parametrize(
    ("nut", "jam", "holds"),
    [
        (DriveNut(hardware=TEE_NUT, side="above"), DriveNut(hardware=HEX_NUT, side="below"), True),
        (DriveNut(hardware=HEX_NUT, side="below"), DriveNut(hardware=HEX_NUT, side="above"), True),
        (DriveNut(hardware=TEE_NUT, side="above"), DriveNut(hardware=HEX_NUT, side="above"), False),
        (DriveNut(hardware=TEE_NUT, side="above"), None, False),
    ],
)
def test_nuts_on_both_sides_clamp(nut: DriveNut, jam: DriveNut | None, holds: bool) -> None:
    gears = (HUB, WHEEL, gear("low", 30, shaft="hub", joined_by=JoinedBy(form="clamped")))
    held = drive().model_copy(update={"nut": nut, "jam_nut": jam})
    found = joined(*gears, drives=(held,))
    assert (found.form, found.holds, found.stated, found.places) == ("clamped", holds, True, ())
    assert (found.room_mm, found.needs_mm, found.webbed) == (0.0, 0.0, "")


def test_a_pivot_clamps_nothing() -> None:
    assert not joined(HUB, WHEEL, low(joined_by=JoinedBy(form="clamped"))).holds


# Where dowels of the shaft stand beside those between a gear's layers.
def places(taken: list[tuple[float, float, float]], dowel: float, monkeypatch: pytest.MonkeyPatch, layers: tuple[int, ...] = (2,)) -> Any:
    monkeypatch.setattr(joints, "_layer_dowels", lambda context, item: taken)
    stack: Any = [Of(gear=Of(layers=count)) for count in layers]
    context: Any = None
    return joints._places(context, stack, 20.0, dowel)


def pair(turn: int) -> list[tuple[float, float]]:
    """Tens of degrees: 1 in and 1 out of a ring of 20, two fifths of a turn apart."""
    return [(r * math.cos(math.radians(a)), r * math.sin(math.radians(a))) for r, a in ((19.0, 10.0 * turn), (21.0, 10.0 * turn + 144.0))]


@pytest.mark.parametrize("spots", [[(20.0, 0.0, 3.0)], [(18.0, 6.0, 3.0), (-7.0, 19.0, 3.0)], [(0.0, 20.0, 1.0), (20.0, 0.0, 9.0)], [(-19.0, 1.0, 3.0)]])
def test_dowels_stand_farthest_from_those_between_layers(spots: list[tuple[float, float, float]], monkeypatch: pytest.MonkeyPatch) -> None:
    def clear(turn: int) -> float:
        return min(math.hypot(x - a, y - b) - r for x, y in pair(turn) for a, b, r in spots)

    best = max(clear(turn) for turn in range(36))
    found = places(spots, 6.0, monkeypatch)
    (turn,) = (turn for turn in range(36) if all(math.dist(one, other) < 1e-6 for one, other in zip(pair(turn), found, strict=True)))
    assert clear(turn) == pytest.approx(best)
    # Gears of one layer have no dowels of their own.
    assert places(spots, 6.0, monkeypatch, (1, 1))[0] == pytest.approx((19.0, 0.0))
    assert places(spots, 6.0, monkeypatch, (1, 2)) == found


def test_wood_left_beside_dowels_between_layers(monkeypatch: pytest.MonkeyPatch) -> None:
    """Something round the axis is 19 less its radius away in every direction: half a dowel of 6 and 3 of wood. The first of equals is taken."""
    for radius, finds in ((13.0, True), (13.01, False)):
        found = places([(0.0, 0.0, radius)], 6.0, monkeypatch)
        assert found == (tuple(map(pytest.approx, pair(0))) if finds else ())


def test_dowels_between_layers_as_they_are_drawn() -> None:
    made = design((HUB, WHEEL, low(layers=2)), (mesh("hub", "wheel", 17.0),))
    derived = solve(made)
    context = part_context(made, derived)
    lower = next(item for item in derived.train.gears if item.id == "low")
    part = next(item for item in part_features(made, derived) if item.part == "low.layer1")
    drawn = [item.shape for item in titled(part, "dowel that lines up")]
    wanted = [(item.x_mm, item.y_mm, item.diameter_mm / 2.0) for item in drawn if isinstance(item, Round)]
    assert len(wanted) == 2 and joints._layer_dowels(context, lower) == [pytest.approx(item) for item in wanted]


def test_holes_for_dowels_are_numbered_and_drilled_where_the_cutter_is_wider() -> None:
    def joint(root: str, *gears: str) -> ShaftJoint:
        return ShaftJoint(root, gears, "dowels", 6.0, ((1.0, 2.0), (3.0, 4.0)), 9.0, 8.0, True, "", True, None)

    context: Any = Of(derived=Of(joints=(joint("a", "a", "b"), joint("c", "c", "d"))), length=lambda mm: f"{mm:g}", size=lambda mm: f"{mm:.2f}")
    held: Any = Of(id="d", cutter_diameter_mm=6.05)
    found = joint_features(context, held)
    assert [item.title for item in found] == [f"{JOINS} c.1, 6.05", f"{JOINS} c.2, 6.05"]
    assert [item.shape for item in found] == [Round(1.0, 2.0, 6.05), Round(3.0, 4.0, 6.05)]
    assert all((item.operation, item.face, item.depth_mm, item.by_hand, item.cutter_diameter_mm) == ("bore", "underside", None, True, 6.05) for item in found)
    held.cutter_diameter_mm = 6.1
    assert [item.title for item in joint_features(context, held)] == [f"{JOINS} c.1, 6.05, drilled", f"{JOINS} c.2, 6.05, drilled"]
    held.id = "e"
    assert joint_features(context, held) == ()
