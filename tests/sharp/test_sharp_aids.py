"""Shop aids: guide blocks, shims and bars; which are made, for what, and how large. Sizes by hand. Lengths mm."""

from __future__ import annotations

import math
from types import SimpleNamespace as Of
from typing import Any

import pytest
from tests.designs_feet import INSERT, TEE

from trivet.model.base import Band
from trivet.model.foot import InsertUse
from trivet.record import replace
from trivet.solve.feature import Feature, Round, Stroke
from trivet.solve.helper_parts import helper_parts
from trivet.solve.part_context import PartContext
from trivet.solve.part_features import PartFeatures


def named(text: str) -> Any:
    return Of(text=text)


def insert(least: float, most: float, **facts: Any) -> Any:
    return replace(INSERT, outside=Band((least + most) / 2.0, least, most), **facts)


def foot(name: str, hardware: Any, into: str = "deck") -> Any:
    use = None if hardware is None else InsertUse(hardware=hardware, driven_from="topside", flush="topside")
    return Of(name=named(name), insert=use, into=named(into))


PLY, THICK = (Of(name=named(name), thickness=Band(mean, mean - 0.2, mean + 0.2)) for name, mean in (("ply", 18.0), ("thick", 24.0)))


def board(x: float, y: float, cutter: str, stock: str = "ply") -> Any:
    return Of(x_mm=x, y_mm=y, cutter=named(cutter), stock=named(stock))


def context(*kinds: str, units: str = "mm", feet: Any = (), standing: Any = (), gears: Any = (), meshes: Any = (), height: float = 24.0) -> PartContext:
    boards = {"deck": board(5.0, 7.0, "fine"), "base": board(15.0, -13.0, "fat", "thick")}
    cutters = {name: Of(diameter=None if mm is None else Of(mm=mm)) for name, mm in (("fine", 4.0), ("fat", 9.0))}
    parts: Any = Of(boards=boards, sheets={"ply": PLY, "thick": THICK}, cutters=cutters)
    design: Any = Of(units=units, feet=feet, helpers=tuple(Of(kind=kind, origin=f"{kind} {k}") for k, kind in enumerate(kinds)))
    # The board's topside 18 over its underside and 1 over the least height: the shims are 1 higher than that, so the height asked for.
    lift = Of(travel_mm=20.0, height_every_sheet=(17.0 + height, 60.0 + height), height_min_mm=0.0, height_max_mm=0.0)
    derived: Any = Of(
        feet=tuple(Of(foot=item) for item in standing), lift=lift, train=Of(meshes=meshes), boards=(Of(z_under_mm=0.0, thickness=PLY.thickness),)
    )
    return PartContext(design, derived, parts, Of(), {item.id: item for item in gears}, {}, {}, {})


def bored(part: str, *holes: tuple[float, float, float], **facts: Any) -> Any:
    features = tuple(Of(operation="bore", shape=Round(x, y, diameter)) for x, y, diameter in holes)
    return Of(kind="board", part=part, belongs_to="", features=features, **facts)


def size(part: PartFeatures) -> tuple[float, ...]:
    return tuple(round(mm, 4) for mm in part.outline.bounds)


def bore(part: PartFeatures) -> Feature:
    (found,) = part.features
    return found


def test_a_guide_for_each_kind_of_insert() -> None:
    """Those that stand: two sets of one kind share a block, and either limit alone makes another kind."""
    feet = (
        foot("spare", insert(9.0, 9.2)), foot("a", insert(15.9, 16.1)), foot("rod", None), foot("b", insert(15.9, 16.1), "base"),
        foot("c", insert(15.9, 17.2), "base"), foot("d", insert(15.8, 17.2)), foot("e", TEE), foot("f", insert(11.5, 12.0)),
    )  # fmt: skip
    made = helper_parts(context("guide_block", feet=feet, standing=feet[1:]), ())
    assert [part.part for part in made] == [f"helper.guide_block.{name}" for name in "acdef"]
    # 0.1 of room; 22 of wood all round, to whole millimetres, and 60 at least: 60.2, 61.3, 61.3, 66.1 and 56.1.
    assert [bore(part).shape for part in made] == [Round(0.0, 0.0, pytest.approx(wide + 0.1)) for wide in (16.1, 17.2, 17.2, 22.0, 12.0)]
    sides = (61.0, 62.0, 62.0, 67.0, 60.0)
    assert [size(part) for part in made] == [(-side / 2, -side / 2, side / 2, side / 2) for side in sides]
    first, second = made[:2]
    assert (first.sheet, second.sheet, first.cutter_diameter_mm, second.cutter_diameter_mm) == (PLY, THICK, 4.0, 9.0)
    # Two sheets of 18: 0.3 in 36. Of 24: 1.4 in 48.
    leans = (math.degrees(math.atan(0.3 / 36.0)), math.degrees(math.atan(1.4 / 48.0)))
    assert [part.notes for part in made[:2]] == [
        (f"glue 2 on one another over the insert or a pin; holds the insert within {lean:.2g} deg of square",) for lean in leans
    ]
    assert {part.quantity for part in made} == {2} and {part.kind for part in made} == {"helper"} and first.datum == "topside"
    hole, tee = bore(first), bore(made[3])
    assert (hole.operation, hole.face, hole.depth_mm, hole.origin, hole.cutter_diameter_mm) == ("bore", "topside", None, "guide_block 0", 4.0)
    assert hole.title == "bore that guides the insert, 16.20 mm" and tee.title == "bore that guides the tee nut, 22.10 mm"
    assert hole.because.startswith("largest outside of the insert, 16.1 mm, plus 0.1 mm in which it turns")
    assert first.outline_title == "edge of the guide block, rectangle 61 mm by 61 mm" and "`helper guide_block`" in first.outline_because
    (alone,) = helper_parts(context("guide_block", feet=feet[1:4], standing=feet[1:4]), ())
    assert alone.part == "helper.guide_block"
    assert helper_parts(context("guide_block", feet=feet, standing=()), ()) == ()


@pytest.mark.parametrize(
    ("units", "height", "wide", "words"),
    [("mm", 24.0, 80.0, "24 mm"), ("mm", 66.0, 80.0, "66 mm"), ("mm", 67.0, 81.0, "67 mm"), ("in", 25.4, 3.25 * 25.4, "1 in")],
)
def test_shims_stand_on_edge(units: str, height: float, wide: float, words: str) -> None:
    """80 wide, and a fifth wider than high: 79.2 and 80.4; to an eighth of an inch 80 is 3.25 in."""
    standing = (foot("a", TEE, "base"), foot("b", TEE, "deck"))
    (shim,) = helper_parts(context("shims", standing=standing, units=units, height=height), ())
    assert (shim.part, shim.quantity, shim.features, shim.sheet) == ("helper.shim", 4, (), THICK)
    assert size(shim) == (round(-wide / 2, 4), -height / 2, round(wide / 2, 4), height / 2)
    assert shim.notes == (f"stands on edge, {words} high; all 4 alike matters more than the figure",)
    assert shim.outline_title.startswith("edge of the shim, rectangle ")


def test_no_shims_without_a_stroke() -> None:
    made = context("shims", standing=(foot("a", TEE),))
    for travel, count in ((0.5, 1), (0.0, 0)):
        made.derived.lift.travel_mm = travel
        assert len(helper_parts(made, ())) == count


@pytest.mark.parametrize(("least", "most", "height"), [(17.2, 17.8, None), (17.7, 18.3, None), (17.9, 18.3, 0.1), (38.4, 60.0, 22.0)])
def test_height_of_low_shims(least: float, most: float, height: float | None) -> None:
    """The middle of heights that are too near for a whole millimetre with 1 to spare, from the underside 18 below; none at the bench."""
    made = context("shims", standing=(foot("a", TEE),))
    made.derived.lift.height_every_sheet = (least, most)
    found = helper_parts(made, ())
    assert [part.outline.bounds[3] * 2.0 for part in found] == ([] if height is None else [pytest.approx(height)])


def test_shims_reach_the_uppermost_board() -> None:
    """One of 6 from 30 to 36, one of 18 from 20 to 38: 60 less 38, and 1."""
    made = context("shims", standing=(foot("a", TEE),))
    thin, thick = (Of(z_under_mm=z, thickness=Band(mean, mean, mean)) for z, mean in ((30.0, 6.0), (20.0, 18.0)))
    made.derived.lift.height_every_sheet = (60.0, 90.0)
    for boards in ((thin, thick), (thick, thin)):
        made.derived.boards = boards
        (shim,) = helper_parts(made, ())
        assert shim.outline.bounds[3] * 2.0 == pytest.approx(23.0)


def gear(name: str, x: float, y: float) -> Any:
    return Of(id=name, x_mm=x + 5.0, y_mm=y + 7.0)


GEARS = (gear("a", 0, 0), gear("b", 60, 80), gear("c", 120, 0), gear("d", 220, 0), gear("e", 220, 100), gear("f", 400, 0), gear("g", 480, 60))


def mesh(a: str, b: str) -> Any:
    return Of(id=f"{a}-{b}", a=a, b=b)


def test_bars_hold_two_centres_apart() -> None:
    """One for each distance and pair of holes, whichever is first; in the first board that has both."""
    deck = bored("deck", (0, 0, 10), (60, 80, 8), (120, 0, 10), (220, 0, 10), (400, 0, 3))
    # 10 right and 20 nearer: its holes lie there in the world.
    base = bored("base", (-10, 20, 10), (50, 100, 30), (210, 20, 8), (210, 120, 12), (390, 20, 9), (470, 80, 11))
    meshes = (mesh("a", "f"), mesh("a", "b"), mesh("b", "c"), mesh("c", "d"), mesh("d", "e"), mesh("f", "g"), mesh("e", "d"), mesh("a", "g"))
    made = helper_parts(context("centring_bar", gears=GEARS, meshes=meshes), (Of(kind="gear"), deck, base))
    # a–b 100 with 10 and 8; b–c the same; c–d 100 with 10 and 10; d–e only below, 8 and 12; f–g 100 with 9 and 11; a–g 483.73 below.
    wanted = {"a-f": (400, 10, 3), "a-b": (100, 10, 8), "c-d": (100, 10, 10), "d-e": (100, 8, 12), "f-g": (100, 9, 11), "a-g": (math.hypot(480, 60), 10, 11)}
    assert [part.part for part in made] == [f"helper.centring_bar.{name}" for name in wanted]
    for part, (apart, one, two) in zip(made, wanted.values(), strict=True):
        assert [item.shape for item in part.features] == [Round(pytest.approx(-apart / 2), 0.0, one), Round(pytest.approx(apart / 2), 0.0, two)]
        # 12 of wood round the wider hole.
        half = max(one, two) / 2 + 12
        assert part.outline.bounds == pytest.approx((-apart / 2 - half, -half, apart / 2 + half, half)) and part.quantity == 1
    first = made[0]
    assert [item.title for item in first.features] == ["hole over that of a, 10.00 mm", "hole over that of f, 3.00 mm, drilled"]
    assert [item.title for item in made[3].features] == ["hole over that of d, 8.00 mm, drilled", "hole over that of e, 12.00 mm"]
    # One as wide as the cutter is plunged.
    assert made[4].features[0].title == "hole over that of f, 9.00 mm"
    assert first.notes == ("holds the centres of a and f 400 mm apart",) and first.outline_title == "edge of the centring bar, slot 434 mm by 34 mm"
    assert (first.sheet, made[3].sheet, first.cutter_diameter_mm, made[3].cutter_diameter_mm) == (PLY, THICK, 4.0, 9.0)
    assert {(item.operation, item.face, item.depth_mm, item.origin) for part in made for item in part.features} == {("bore", "topside", None, "centring_bar 0")}


def test_each_kind_once_in_the_order_asked() -> None:
    feet = (foot("a", TEE),)
    deck = bored("deck", (0, 0, 10), (60, 80, 8))
    deck.features = (Of(operation="engrave", shape=Stroke(0, 0, 1, 1)), *deck.features)
    asked = context("shims", "centring_bar", "guide_block", "shims", feet=feet, standing=feet, gears=GEARS, meshes=(mesh("a", "b"),))
    assert [part.part for part in helper_parts(asked, (deck,))] == ["helper.shim", "helper.centring_bar.a-b", "helper.guide_block"]
