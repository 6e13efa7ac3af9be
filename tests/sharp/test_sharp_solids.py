"""Bodies of drives, pivots and feet: each face worked out from the stack that it belongs to. Lengths mm, z from the deck's underside.

The riser's parts: deck 18 (17 to 19), gears 10 (9 to 11), cap head of 8 let in by 9, tee nut with a flange of 1.5, jam nut of 4 let in by 6.
"""

from __future__ import annotations

from functools import cache
from typing import Any

import pytest
from tests.designs import BOLT, mm
from tests.designs_feet import JAM, LARGE_WASHER, NUT, TEE, captured, crank, pin, riding, riser, sliding

from trivet.model.base import Band, Ref
from trivet.model.foot import InsertUse, Keeper, Pad
from trivet.model.hardware import Head
from trivet.model.outline import Outline
from trivet.model.train import DriveNut
from trivet.record import replace
from trivet.solve.corner import MEAN, Corner
from trivet.solve.fixed_gear import FixedGear
from trivet.solve.foot_case import FootCase, FootSpec, World
from trivet.solve.shaft import shafts
from trivet.solve.solid import Solid
from trivet.solve.solids import climber_solids
from trivet.solve.solids_feet import foot_solids
from trivet.solve.solids_fixed import drive_solids, gear_solids, pivot_solids
from trivet.solve.solve import foot_specs
from trivet.solve.train import solve_train
from trivet.solve.world import build_world

CONE = Head(form="countersunk", diameter_mm=15.0, height_mm=4.0, height_max_mm=4.2)
ALL = ("head", "above", "below")
SHARP = 1.1547
Body = tuple[str, float, float, float]


@cache
def made(sort: str = "riding") -> Any:
    foot = {"riding": riding, "captured": captured, "sliding": sliding}[sort]
    return riser(foot(), Band(18.0, 17.0, 19.0), Band(10.0, 9.0, 11.0))


@cache
def train(sort: str = "riding") -> Any:
    return solve_train(made(sort))


@cache
def world(sort: str = "riding", corner: Corner = MEAN) -> World:
    return build_world(made(sort), train(sort), shafts(train(sort)), corner)


def spec(sort: str = "riding", **facts: Any) -> FootSpec:
    (found, *_) = foot_specs(made(sort), shafts(train(sort)))
    return replace(found, foot=found.foot.model_copy(update=facts), **({"length_mm": facts["length"].mm} if "length" in facts else {}))


def bodies(found: list[Solid]) -> list[Body]:
    """Kind, diameter, low, high."""
    return [(item.kind, round(2 * item.radius_mm, 6), round(item.low_mm, 6), round(item.high_mm, 6)) for item in found]


def rounded(*wanted: Body) -> list[Body]:
    return [(kind, round(wide, 6), round(low, 6), round(high, 6)) for kind, wide, low, high in wanted]


def of_drive(length: float | None = None, corner: Corner = MEAN, **facts: Any) -> list[Solid]:
    there = world(corner=corner)
    hub = there.states["hub"]
    return drive_solids(there, (hub,), hub, crank(**facts), length)


def test_bodies_of_a_drive() -> None:
    # Head on 18 - 9; play 0.2 and flange 1.5 over the gear of 10; jam nut 6 up its underside; the rim sinks 54 · 0.2/22 more.
    sunk = -11.7 - 54.0 * 0.2 / 22.0
    found = of_drive(25.0)
    assert bodies(found) == rounded(
        ("head", 13.27, 9.0, 17.0), ("flange", 22.0, -1.7, -0.2), ("barrel", 10.0, -11.2, -1.7), ("nut", 13 * SHARP, -9.7, -5.7),
        ("shank", 8.0, sunk, 9.0), ("bolt_end", 8.0, -16.0, sunk),
    )  # fmt: skip
    assert {(item.part, item.shaft, item.x_mm, item.y_mm, item.moves) for item in found} == {("crank.hub", "hub", 240.0, 175.0, False)}
    # A length that is not known leaves the shank alone, and so does one that ends within the gear.
    assert [item.kind for item in of_drive() if item.kind in ("shank", "bolt_end")] == ["shank"]
    assert [item.kind for item in of_drive(21.0) if item.kind in ("shank", "bolt_end")] == ["shank"]
    assert bodies(of_drive(21.5))[-1] == rounded(("bolt_end", 8.0, -12.5, sunk))[0]


def test_washers_of_a_drive() -> None:
    # From above: washer 1.6 under the head on 9; play 0.2; washer 1.6; flange 1.5; gear 10 whose nut lies 6 deep; washer; nut 4.
    found = bodies(of_drive(washer=LARGE_WASHER, washer_places=ALL))
    assert [item for item in found if item[0] == "washer"] == rounded(("washer", 18, 9.0, 10.6), ("washer", 18, -1.6, 0.0), ("washer", 18, -8.9, -7.3))
    assert [item for item in found if item[0] == "nut"] == rounded(("nut", 13 * SHARP, -12.9, -8.9))
    for place, left in (("head", 1), ("above", 1), ("below", 1)):
        assert sum(item.kind == "washer" for item in of_drive(washer=LARGE_WASHER, washer_places=(place,))) == left
    # Without a nut below there is none for a washer to lie on.
    assert [item.kind for item in of_drive(washer=LARGE_WASHER, washer_places=("below",), jam_nut=None)].count("washer") == 0


def test_two_nuts_on_one_side_of_a_drives_gear() -> None:
    one, other = DriveNut(hardware=NUT, side="above", recessed=mm(5)), DriveNut(hardware=JAM, side="above", recessed=mm(6))
    # Only the first is let in: 6.8 + 4 - 5 stand out over the gear, under a play of 0.2.
    assert [item for item in bodies(of_drive(nut=one, jam_nut=other)) if item[0] == "nut"] == rounded(
        ("nut", 13 * SHARP, -11.0, -4.2), ("nut", 13 * SHARP, -4.2, -0.2)
    )
    # Below, the second is the lowest: the gear ends at -10.2; its washer lies on the first.
    low = of_drive(
        nut=DriveNut(hardware=NUT, side="below"), jam_nut=DriveNut(hardware=JAM, side="below"), washer=LARGE_WASHER, washer_places=("below",)
    )
    assert [item for item in bodies(low) if item[0] in ("nut", "washer")] == rounded(
        ("nut", 13 * SHARP, -22.6, -18.6), ("nut", 13 * SHARP, -18.6, -11.8), ("washer", 18.0, -11.8, -10.2)
    )


def test_countersunk_head_of_a_drive() -> None:
    # Its length counts from the top, 4 over the foot of the cone at 9; at extremes the recess is 0.2 less and the head 4.2 high.
    assert bodies(of_drive(bolt=replace(BOLT, head=CONE)))[0] == ("head", 15.0, 9.0, 13.0)
    assert bodies(of_drive(bolt=replace(BOLT, head=CONE), corner=Corner(1, 1)))[0] == ("head", 15.0, 10.0, 14.2)


def of_pivot(length: float | None = None, corner: Corner = MEAN, drop: bool = False, **facts: Any) -> list[Solid]:
    there = world(corner=corner)
    if drop:
        there = replace(there, drops={0: 2.0})
    west = there.states["west"]
    return pivot_solids(there, (west,), west, pin(**facts), length)


def test_bodies_of_a_pivot() -> None:
    # Under the board washer 1.6, play 0.3, gear 10 less 7 of recess, washer 1.6: 6.5; the pan head 4.6 under that.
    found = of_pivot(20.0)
    assert bodies(found) == rounded(
        ("head", 12, -11.1, -6.5), ("washer", 18, -6.5, -4.9), ("washer", 18, -1.6, 0.0), ("shank", 6.25, -6.5, 13.5)
    )  # fmt: skip
    west = world().states["west"]
    assert {(item.part, item.shaft, item.x_mm, item.y_mm, item.moves) for item in found} == {("pin.west", "west", west.x_mm, west.y_mm, False)}
    # No length known, or too short a screw: the shank reaches the board's underside.
    assert bodies(of_pivot())[-1] == bodies(of_pivot(5.0))[-1] == rounded(("shank", 6.25, -6.5, 0.0))[0]
    # Under gears of a higher level, 2 thick, all of it hangs so much lower; a sleeve reaches the board.
    deep = bodies(of_pivot(20.0, drop=True, sleeve_outside=mm(8), washer_places=("above",)))
    # Sleeve as long as the thickest gear over its recess, 11 - 7 + 0.2, and 0.3 of play.
    assert deep == rounded(
        ("head", 12, -12.7, -8.1), ("washer", 18, -3.6, -2.0), ("sleeve", 8, -8.1, 0.0), ("shank", 6.25, -8.1, 11.9)
    )  # fmt: skip
    assert bodies(of_pivot(shoulder=mm(9)))[-2][:2] == ("sleeve", 9.0)
    assert not [item for item in of_pivot(washer=None, washer_places=()) if item.kind in ("washer", "sleeve")]


def test_nut_over_a_pivot() -> None:
    # Let in by 5 in 18 of wood; a tee nut's flange on the topside, its barrel in the wood.
    assert bodies(of_pivot(nut=DriveNut(hardware=NUT, side="above", recessed=mm(5))))[-1] == rounded(("nut", 13 * SHARP, 13.0, 19.8))[0]
    tee = bodies(of_pivot(nut=DriveNut(hardware=TEE, side="above")))
    assert tee[-2:] == rounded(("flange", 22, 18.0, 19.5), ("barrel", 10, 8.5, 18.0))


def test_extremes_hang_lowest() -> None:
    # Washers 1.8, gear 11, recess 0.2 shallower, head as high as it may be.
    head, below, above, _ = bodies(of_pivot(20.0, Corner(-1, 1)))
    reach = 1.8 + 0.3 + (11.0 - 6.8) + 1.8
    assert (head, below, above) == tuple(rounded(("head", 12, -reach - 4.6, -reach), ("washer", 18, -reach, 1.8 - reach), ("washer", 18, -1.8, 0.0)))


def test_two_gears_under_those_of_a_higher_level() -> None:
    """The upper of 10 hangs 2 under the board, the lower of 6 under it: what lies above counts from the upper, what lies below from the lower."""
    there = replace(world(), drops={0: 2.0, 1: 30.0})
    hub, west = there.states["hub"], there.states["west"]
    low = replace(west, level=1, face_width=Band(6.0, 6.0, 6.0))
    drive = drive_solids(there, (hub, low), hub, crank(washer=LARGE_WASHER, washer_places=("above",)), None)
    # 2, washer 1.6, play 0.2, flange 1.5: gears from -5.3 to -21.3, the jam nut 6 up from there.
    assert [item for item in bodies(drive) if item[0] not in ("head", "shank")] == rounded(
        ("washer", 18.0, -3.6, -2.0), ("flange", 22.0, -5.3, -3.8), ("barrel", 10.0, -14.8, -5.3), ("nut", 13 * SHARP, -19.3, -15.3)
    )
    pivot = pivot_solids(there, (west, low), west, pin(), None)
    # Washer 1.6, 16 less 7 of recess, play 0.3, washer 1.6 and 2.
    assert bodies(pivot)[:3] == rounded(("head", 12, -19.1, -14.5), ("washer", 18, -14.5, -12.9), ("washer", 18, -3.6, -2.0))


@pytest.mark.parametrize(
    ("fixed", "worst", "low", "high"),
    [
        (FixedGear(-12.0, -2.0, -10.5, -3.5), False, -12.0, -2.0),
        (FixedGear(-12.0, -2.0, -10.5, -3.5), True, -13.5, -0.5),
        (FixedGear(-12.0, -2.0, -13.0, -1.0), True, -12.0, -2.0),
    ],
)
def test_a_fixed_gear_over_all_its_play(fixed: FixedGear, worst: bool, low: float, high: float) -> None:
    there = replace(world(corner=Corner(1, 1) if worst else MEAN), fixed={"west": fixed})
    states = there.states
    (found,) = gear_solids(there, (states["nw"], states["west"]), "nw")
    assert (found.kind, found.part, found.shaft, found.moves) == ("gear", "west", "nw", False)
    assert (found.low_mm, found.high_mm, found.radius_mm) == pytest.approx((low, high, 66.0))


def case(bearing: float, plane: float) -> FootCase:
    return FootCase(bearing, plane, None, (), 18.0)


def of_foot(sort: str, at: FootCase, least: float = 0.0, corner: Corner = MEAN, drop: float | None = None, **facts: Any) -> list[Solid]:
    found = spec(sort, **facts)
    return foot_solids(found if drop is None else replace(found, drop_mm=drop), at, world(sort, corner), least)


def test_bodies_of_a_riding_foot() -> None:
    # Gear 0 to -10; pocket 5.8 deep, so the head bears at -4.2 and stands 5.3 - 5.8 + 3 = 2.5 out, all of it the dome.
    found = of_foot("riding", case(-4.2, -12.5))
    insert = [("insert", 16.1, 0.0, 15.0)]
    assert bodies(found) == rounded(("gear", 132.0, -10.0, 0.0), ("pad", 13 * SHARP, -12.5, -10.0), ("shank", 8.0, 0.0, 25.8), *insert)
    assert [item.moves for item in found] == [True, True, True, False]
    # 2 further out everything but the insert is 2 lower.
    down = of_foot("riding", case(-4.2, -12.5), 2.0)
    assert bodies(down) == rounded(("gear", 132.0, -12.0, -2.0), ("pad", 13 * SHARP, -14.5, -12.0), ("shank", 8.0, -2.0, 23.8), *insert)
    # A shallow pocket: the head stands out 2 above a pad of 3, which is wide.
    proud = of_foot("riding", case(-4.2, -15.0), drop=3.0, pad=Pad(kind="disc", drop=mm(3), diameter=mm(30)))
    assert bodies(proud)[1:3] == rounded(("pad", 30.0, -15.0, -12.0), ("head", 13 * SHARP, -12.0, -10.0))
    # Half a millimetre of dome is a body too.
    assert bodies(of_foot("riding", case(-4.2, -10.5)))[1] == rounded(("pad", 13 * SHARP, -10.5, -10.0))[0]
    ids = {(item.part, item.shaft) for item in found}
    first = spec()
    assert ids == {(first.gear.id, first.gear.id), (f"corner.{first.gear.id}", first.gear.id)}
    assert {(item.x_mm, item.y_mm) for item in found} == {(first.gear.x_mm, first.gear.y_mm)}


def test_two_gears_on_a_riding_foot() -> None:
    # The lower gear's face is where the pad begins, the upper gear's top where the shank does.
    base = spec()
    low = replace(world().states["west"], face_width=Band(6.0, 6.0, 6.0))
    both = replace(base, stack=(base.gear, low))
    found = foot_solids(both, case(-10.0, -18.0), world(), 1.0)
    assert bodies(found)[:4] == rounded(("gear", 132, -11.0, -1.0), ("gear", 132, -17.0, -11.0), ("pad", 13 * SHARP, -19.0, -17.0), ("shank", 8, -1.0, 19.0))


def test_bodies_of_a_sliding_foot() -> None:
    # The post of 25 under the head, which bears where it bears.
    found = of_foot("sliding", case(-20.0, -50.0), 2.0)
    assert bodies(found)[:3] == rounded(("pad", 13 * SHARP, -52.0, -27.0), ("head", 13 * SHARP, -27.0, -22.0), ("shank", 8.0, -22.0, 8.0))


def test_bodies_of_a_captured_nuts_foot() -> None:
    # A rod of 60 with a pin of 3, 1.5 of its diameters from its end to the far side: as wide as four pins and the rod.
    found = of_foot("captured", case(-40.0, -43.0), 2.0)
    assert bodies(found)[:3] == rounded(("pad", 8.0, -45.0, -42.0), ("rod", 8.0, -42.0, 18.0), ("rod", 20.0, 13.5, 16.5))
    assert len([item for item in of_foot("captured", case(-40.0, -43.0), rod_stop_diameter=None) if item.kind == "rod"]) == 1
    # A keeper that is left out, or one of a foot that needs none, is no body.
    plate = Keeper(stock=Ref("ply"), outline=Outline(shape="circle", width_mm=80.0, height_mm=80.0))
    for sort, facts in (("captured", {"keeper": None}), ("riding", {"keeper": plate})):
        assert not [item for item in of_foot(sort, case(-40.0, -43.0), **facts) if item.kind == "keeper"]


@pytest.mark.parametrize(("driven", "low"), [("underside", 0.0), ("topside", 9.5)])
def test_flange_of_a_tee_nut_in_a_board(driven: Any, low: float) -> None:
    # 11 high, flush with the underside; its flange of 1.5 on the side that it is driven from.
    use = InsertUse(hardware=TEE, driven_from=driven, flush="underside")
    made = of_foot("riding", case(-4.2, -12.5), insert=use)
    found = bodies(made)
    assert not any(item.moves for item in made[-2:])
    assert found[-2:] == rounded(("insert", 10.0, 0.0, 11.0), ("flange", 22.0, low, low + 1.5))


@pytest.mark.parametrize(
    ("outline", "reach"),
    [
        (Outline(shape="rectangle", width_mm=120.0, height_mm=50.0), 65.0),
        (Outline(shape="circle", width_mm=80.0, height_mm=80.0), 40.0),
        (Outline(shape="slot", width_mm=90.0, height_mm=30.0), 45.0),
    ],
)
def test_keepers_plate(outline: Outline, reach: float) -> None:
    # Under the thickest gear of 11 and 0.3 of play hangs a plate of 18.
    first = spec("captured", keeper=Keeper(stock=Ref("ply"), outline=outline))
    there = world("captured")
    plate = foot_solids(first, case(-40.0, -43.0), there, 2.0)[-1]
    assert (plate.kind, plate.part, plate.shaft, plate.moves) == ("keeper", f"{first.id}.keeper", first.gear.id, False)
    assert (plate.low_mm, plate.high_mm, plate.radius_mm) == pytest.approx((-29.3, -11.3, reach))
    assert plate.plate is not None
    x0, y0, x1, y1 = plate.plate.bounds
    assert (x1 - x0, y1 - y0) == pytest.approx((outline.width_mm, outline.height_mm))
    assert ((x0 + x1) / 2, (y0 + y1) / 2) == pytest.approx((first.gear.x_mm, first.gear.y_mm))
    thin = foot_solids(first, case(-40.0, -43.0), world("captured", Corner(1, -1)), 2.0)[-1]
    assert thin.high_mm - thin.low_mm == pytest.approx(17.0)


def test_an_idler_that_climbs_at_its_own_rate() -> None:
    climber = spec()
    there = world()
    stroke: Any = type("Stroke", (), {"travel_mm": 10.0})
    moving = climber_solids(climber, there, (1.0, 11.005), stroke)
    assert [item.moves for item in moving] == [True, True, True, False]
    assert bodies(moving)[0] == rounded(("gear", 132.0, -11.0, -1.0))[0]
    for last in (6.0, 10.98, 11.02):
        swept = climber_solids(climber, there, (1.0, last), stroke)
        assert not any(item.moves for item in swept) and bodies(swept)[0] == rounded(("gear", 132.0, -10.0 - last, -1.0))[0]
    # With half a millimetre of travel, or with ends that cross, it keeps to the feet's rate too.
    for travel, last in ((0.5, 1.5), (-5.0, 1.0)):
        short: Any = type("Stroke", (), {"travel_mm": travel})
        assert [item.moves for item in climber_solids(climber, there, (1.0, last), short)] == [True, True, True, False]
    # Without a stroke it stays where it is.
    assert bodies(climber_solids(climber, there, (1.0, 1.0), None)) == bodies(climber_solids(climber, there, (1.0, 11.0), stroke))
    assert climber_solids(climber, there, (1.0, 1.0), None)[0].moves
