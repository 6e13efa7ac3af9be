"""Boards under others: their cuts as rooms, what strikes them, what packs dust, and what passes; figures by hand. Lengths mm."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest
from tests.designs import design, gear, mm

from trivet.model.base import Band, Ref
from trivet.model.board import Board, Hole
from trivet.model.outline import Outline, Placed
from trivet.solve import board_rooms
from trivet.solve.board_holes import BoardPlan, board_plan
from trivet.solve.board_levels import BoardZ, board_levels, board_thickness, boards_at, ceiling, chain_above, reference_board
from trivet.solve.contour_shapes import rectangle
from trivet.solve.feature import Cut, Feature, Round, Stroke
from trivet.solve.solid import Solid, SolidSet

PLATE = Outline(shape="rectangle", width_mm=200.0, height_mm=100.0)


def named(**values: Any) -> Any:
    return SimpleNamespace(**values)


def board(name: str, under: str = "", **facts: Any) -> Board:
    given = {"name": Ref(name), "stock": Ref("ply"), "cutter": Ref("straight"), "outline": PLATE, "under": Ref(under) if under else None}
    return Board(**(given | facts))


# Sheets of 17.8 (17.6 to 18): the deck's underside is 0, so the base lies from -57.8 to -40 and the foot of the stack right under it.
DECK, BASE, LOW = board("deck"), board("base", "deck", clear=mm(40), x_mm=10.0, y_mm=20.0), board("low", "base", x_mm=-5.0, y_mm=7.0)
STACK = (LOW, DECK, BASE)


def cut(shape: Cut, depth: float | None = None, face: Any = "topside") -> Feature:
    return Feature("bore", face, depth, shape, "", "")


def part(name: str, *features: Feature, whole: str = "") -> Any:
    return named(part=name, belongs_to=whole, features=features, thickness=Band(6.0, 5.0, 7.0))


def state(name: str, under: str, shaft: str | None = "") -> Any:
    return named(id=name, shaft=shaft, gear=named(under=Ref(under)))


def derived(*parts: Any, solids: tuple[Any, ...] = (), gears: tuple[Any, ...] = (state("hub", "deck"), state("own", "low"))) -> Any:
    return named(parts=parts or (part("none"),), solids=solids, train=named(gears=gears))


def hung(name: str = "hub", **facts: Any) -> Solid:
    """A disc of radius 20 about (45, 57), 50 into the lower board along x and y; it ends 0.2 over the board at mean sheets."""
    given: dict[str, Any] = {"kind": "gear", "part": name, "shaft": "hub", "x_mm": 45.0, "y_mm": 57.0, "radius_mm": 20.0, "low_mm": -57.6, "high_mm": -30.0}
    return Solid(**(given | facts))


def test_cuts_of_a_lower_board_in_its_place() -> None:
    made = design((gear("hub", 20),), boards=STACK)
    mark, under = cut(Stroke(0.0, 0.0, 9.0, 9.0)), cut(Round(50.0, 50.0, 8.0), 4.0, "underside")
    hole, well, slot = cut(Round(30.0, 40.0, 8.0), face="underside"), cut(Round(60.0, 40.0, 12.0), 9.0), cut(rectangle(100.0, 10.0, 20.0, 30.0), 5.0)
    found = board_rooms._cutouts(made, derived(part("deck", well), part("low", mark, under, hole, well, slot)), LOW)
    assert [(item.feature, item.depth_mm, item.closed) for item in found] == [(hole, None, False), (well, 9.0, True), (slot, 5.0, True)]
    assert found[0].shape == Round(25.0, 47.0, 8.0) and found[1].shape == Round(55.0, 47.0, 12.0)
    assert not isinstance(found[2].shape, Round) and found[2].shape.bounds == pytest.approx((95.0, 17.0, 115.0, 47.0))
    assert board_rooms._cutouts(made, derived(part("deck", well)), LOW) == []


def test_cuts_through_the_first_layers() -> None:
    made = design((gear("hub", 20),), boards=STACK)
    a, b, c, d = (Round(20.0 + 30.0 * k, 40.0, 8.0 + k) for k in range(4))
    layers = (
        part("low.1", cut(a), cut(b), cut(c), cut(d), whole="low"), part("low.2", cut(a), cut(b, 2.5), cut(c), whole="low"),
        part("low.3", cut(a), cut(d, 1.0), whole="low"),
    )  # fmt: skip
    found = board_rooms._cutouts(made, derived(*layers), LOW)
    # Through all; a layer of 6 and 2.5 of the next; two layers; one layer, with nothing in the next.
    assert [item.depth_mm for item in found] == [None, 8.5, 12.0, 6.0]


def test_shafts_that_hang_over_a_board() -> None:
    lost = board("lost", "gone")
    made = design((gear("hub", 20),), boards=(*STACK, lost))
    gears = (state("hub", "deck"), state("second", "deck", "hub"), state("mid", "base"), state("own", "low"), state("stray", "gone"))
    found = {item[0].name.text: (item[3], item[2].bounds) for item in board_rooms._lower_boards(made, derived(gears=gears))}
    assert found == {
        "low": ({"hub", "mid"}, pytest.approx((-5.0, 7.0, 195.0, 107.0))), "base": ({"hub"}, pytest.approx((10.0, 20.0, 210.0, 120.0)))
    }  # fmt: skip


Told = tuple[str, str, str, float | None, float | None, float]


def struck(*sets: tuple[int, tuple[Solid, ...]], stroke: bool = True, features: tuple[Feature, ...] = ()) -> list[Told]:
    made = design((gear("hub", 20),), boards=STACK)
    solids = tuple(SolidSet(sign, 0, items, 4.0, stroke) for sign, items in sets)
    found = board_rooms.strikes(made, derived(part("base", cut(Round(35.0, 37.0, 90.0))), part("low", *features), solids=solids))
    return [(item.solid.part, item.solid.kind, item.board, item.radial_mm, item.axial_mm, item.solid.x_mm) for item in found]


def near(value: float) -> Any:
    return pytest.approx(value, abs=1e-9)


def test_the_worst_strike_over_the_sheets() -> None:
    # The hole in the base lets the disc pass. Its top is -57.6 with thin sheets, -57.8 at the mean, -58 with thick ones.
    assert struck((0, (hung(),))) == [("hub", "gear", "low", None, near(0.2), 45.0)]
    assert struck((-1, (hung(),))) == [("hub", "gear", "low", None, near(0.0), 45.0)]
    assert struck((1, (hung(),))) == [("hub", "gear", "low", None, near(0.4), 45.0)]
    worst = ((0, (hung(low_mm=-57.9),)), (0, (hung(low_mm=-58.4),)), (0, (hung(low_mm=-58.1),)))
    assert struck(*worst) == [("hub", "gear", "low", None, near(-0.6), 45.0)]
    # Of equally bad ones the first is told.
    assert struck((0, (hung(),)), (0, (hung(x_mm=46.0),))) == [("hub", "gear", "low", None, near(0.2), 45.0)]
    assert struck((0, (hung(),)), stroke=False) == []


def test_what_is_looked_at_one_by_one() -> None:
    skipped = (hung("x", kind="washer"), hung("own", shaft="own"), hung("far", x_mm=900.0), hung("high", low_mm=-50.0))
    told = (hung("hub"), hung("hub", kind="nut", low_mm=-57.9), hung("mate", low_mm=-57.7), hung("low", low_mm=-54.0, moves=True))
    assert struck((0, (*skipped, *told))) == [
        ("hub", "gear", "low", None, near(0.2), 45.0), ("hub", "nut", "low", None, near(-0.1), 45.0), ("mate", "gear", "low", None, near(0.1), 45.0),
        ("low", "gear", "low", None, near(-0.2), 45.0),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("x", "wide", "depth", "radial", "axial"),
    [
        # The disc's axis is at (50, 50) in the board: 0.5 within the wall the cut is its own, and 19.5 short; 0.5 outside it is not.
        (69.5, 40.0, None, -19.5, None), (70.5, 40.0, None, None, 0.2),
        # Wide enough but only 0.2 deep; deep, and 0.5 beside the wall.
        (50.0, 42.0, 0.2, None, 0.4), (50.0, 41.0, 9.0, 0.5, None),
    ],
)  # fmt: skip
def test_a_cut_must_lie_about_the_axis(x: float, wide: float, depth: float | None, radial: float | None, axial: float | None) -> None:
    (found,) = struck((0, (hung(),)), features=(cut(Round(x, 50.0, wide), depth),))
    assert found[3:5] == tuple(None if value is None else near(value) for value in (radial, axial))
    assert struck((0, (hung(),)), features=(cut(Round(50.0, 50.0, 42.0), 9.0),)) == []


def test_of_equally_narrow_cuts_the_first_is_told() -> None:
    walls = tuple(board_rooms.Cutout(cut(Round(45.0, 57.0, wide), 9.0), Round(45.0, 57.0, wide), 9.0, False) for wide in (40.2, 41.0, 41.0))
    found = board_rooms._strike(hung(), "low", BoardZ(-75.6, -57.0), 0.0, list(walls), rectangle(-5.0, 7.0, 200.0, 100.0))
    assert found is not None and found.cutout is walls[1] and found.radial_mm == near(0.5)


def closed(*solids: Solid, features: tuple[Feature, ...]) -> list[tuple[str, str, float]]:
    made = design((gear("hub", 20),), boards=STACK)
    sets = (SolidSet(0, 0, solids, 4.0, True), SolidSet(0, 0, (hung("later", low_mm=-60.0),), 4.0, True))
    found = board_rooms.closed_pockets(made, derived(part("low", *features), solids=sets))
    return [(item.gear.part, item.board, getattr(item.cutout.shape, "diameter_mm", 0.0)) for item in found]


def test_gears_in_pockets_without_a_way_out() -> None:
    well, wider = cut(Round(50.0, 50.0, 40.0), 9.0), cut(Round(50.0, 50.0, 60.0), 3.0)
    deep = hung(low_mm=-57.81)
    skipped = (hung("n", kind="nut", low_mm=-60.0), hung("own", shaft="own", low_mm=-60.0), hung("high", low_mm=-57.8), hung("off", x_mm=60.0, low_mm=-60.0),
               hung("rub", x_mm=45.5, low_mm=-60.0))  # fmt: skip
    assert closed(*skipped, deep, hung("down", low_mm=-54.0, moves=True), features=(well,)) == [("hub", "low", 40.0), ("down", "low", 40.0)]
    assert closed(deep, features=(well, wider)) == [("hub", "low", 40.0)] and closed(deep, features=(wider, well)) == [("hub", "low", 60.0)]
    # A hole through the floor of both; an opening at the edge of one of them.
    assert closed(deep, features=(well, wider, cut(Round(52.0, 50.0, 4.0)))) == []
    assert closed(deep, features=(well, cut(Round(50.0, 50.0, 101.0), 3.0))) == []
    assert closed(deep, features=()) == []
    # A hole is in the floor where its middle is: half a millimetre inside the wall, and half a millimetre outside.
    assert closed(deep, features=(well, cut(Round(69.5, 50.0, 4.0)))) == [] and closed(deep, features=(well, cut(Round(70.5, 50.0, 4.0)))) != []


def test_a_board_seen_from_above() -> None:
    made = design((gear("hub", 20),), boards=STACK)
    level: Any = named(board=LOW, z_under_mm=-75.6, thickness=Band(17.8, 17.6, 18.0))
    a, b, square = Round(30.0, 40.0, 8.0), Round(60.0, 40.0, 12.0), rectangle(100.0, 10.0, 20.0, 30.0)
    one = part("low", cut(a), cut(b, 9.0), cut(square), cut(Stroke(0.0, 0.0, 1.0, 1.0)))
    outline = rectangle(-5.0, 7.0, 200.0, 100.0)
    plan = board_plan(made, derived(part("deck", cut(b)), one), level)
    assert plan == BoardPlan("low", -75.6, pytest.approx(-57.8), plan.outline, (Round(25.0, 47.0, 8.0),), plan.openings)
    assert plan.outline.bounds == pytest.approx(outline.bounds) and [item.bounds for item in plan.openings] == [pytest.approx((95.0, 17.0, 115.0, 47.0))]
    c, d = Round(90.0, 40.0, 6.0), Round(120.0, 40.0, 6.0)
    cuts = ((cut(a), cut(b), cut(square), cut(d)), (cut(a), cut(b), cut(c)), (cut(b, 2.0), cut(a), cut(c), cut(d)))
    layers = (part(f"low.{index}", *each, whole="low") for index, each in enumerate(cuts, 1))
    found = board_plan(made, derived(*layers), level)
    assert (found.rounds, found.openings) == ((Round(25.0, 47.0, 8.0),), ())
    # Beside the board, touching its edge, and a little over it.
    assert [plan.stops(hung(x_mm=195.0 + aside)) for aside in (20.5, 20.0, 19.9)] == [False, False, True]
    none = board_plan(made, derived(part("deck", cut(b))), level)
    assert (none.rounds, none.openings) == ((), ())


def test_heights_of_boards() -> None:
    made = design((gear("hub", 20),), boards=(*STACK, board("lost", "gone"), board("thick", layers=2)))
    for sign, thick in ((-1, 17.6), (0, 17.8), (1, 18.0)):
        found = boards_at(made, sign)
        assert {name: (z.under_mm, z.top_mm) for name, z in found.z.items()} == {
            "deck": (0.0, thick), "base": (near(-40.0 - thick), near(-40.0)), "low": (near(-40.0 - 2 * thick), near(-40.0 - thick)),
            "lost": (0.0, thick), "thick": (0.0, 2 * thick),
        }  # fmt: skip
        assert found.above == {"low": "base", "base": "deck"} and found.uppermost_mm("low") == thick and found.chain("base") == ("base", "deck")
    # From below upwards where the lowest board is the first gear's, and where the file has no gears.
    for stands in (design((gear("hub", 20, under=Ref("low")),), boards=(DECK, BASE, LOW)), design((), boards=(LOW, DECK, BASE))):
        up = boards_at(stands, 0)
        assert up.z == {"low": BoardZ(0.0, 17.8), "base": BoardZ(17.8, 35.6), "deck": BoardZ(near(75.6), near(93.4))}
        assert [(item.board.name.text, item.z_under_mm, item.thickness.most) for item in board_levels(stands)] == [
            (item.name.text, up.z[item.name.text].under_mm, 18.0) for item in stands.boards
        ]
    assert chain_above({"a": "b", "b": "c", "c": "a"}, "a") == ("a", "b", "c") and chain_above({}, "a") == ("a",)
    assert board_thickness(made, board("x", stock=Ref("none"))) == Band(0.0, 0.0, 0.0)
    assert board_thickness(made, board("x", layers=3)) == Band(near(53.4), near(52.8), near(54.0))


def test_board_that_heights_count_from() -> None:
    gears = (gear("own", 20, under=Ref("low")), gear("nw", 20, foot=True))
    foot = design((), boards=STACK).feet[0]
    other = foot.model_copy(update={"name": Ref("other"), "into": Ref("low")})
    on_base = foot.model_copy(update={"into": Ref("base")})
    assert reference_board(design(gears, boards=STACK, feet=(other, on_base))) == "base"
    assert reference_board(design(gears, boards=STACK, feet=(other,))) == "low" == reference_board(design(gears[:1], boards=STACK))
    assert reference_board(design(gears[1:], boards=STACK, feet=())) == "deck"
    assert reference_board(design((), boards=STACK)) == "low" and reference_board(design((), boards=())) is None


def test_how_high_a_tip_may_reach() -> None:
    def over(*holes: Hole, start: str = "low") -> tuple[float, str, str]:
        made = design((gear("hub", 20),), boards=STACK, holes=holes)
        z, face, name = ceiling(made, boards_at(made, 0), start, 50.0, 50.0, 8.0)
        return round(z, 6), face, name

    def hole(into: str, *places: tuple[float, float], wide: float = 12.0, **facts: Any) -> Hole:
        stood = tuple(Placed("h", *place) for place in places or ((50.0, 50.0),))
        return Hole(name=Ref("h"), into=Ref(into), diameter_mm=wide, because="", places=stood, **facts)

    assert over() == (-57.8, "underside", "base") and over(start="base") == (0.0, "underside", "deck") and over(start="deck") == (17.8, "topside", "deck")
    # A hole of another board, a blind one and one that is too narrow stand before the one that counts.
    beside = (hole("low"), hole("base", depth=mm(4)), hole("base", wide=7.9), hole("base", (90.0, 50.0), (51.2, 51.5)))
    assert over(*beside) == (0.0, "underside", "deck") and over(*beside[:3]) == (-57.8, "underside", "base")
    assert over(*beside, hole("deck")) == (17.8, "topside", "deck")
    # 2 of room all round, and exactly as much aside: the flank would meet the wood.
    assert over(hole("base", (52.0, 50.0))) == over(hole("base", (50.0, 48.0))) == (-57.8, "underside", "base")
    assert over(hole("base", (51.9, 50.0)))[2] == over(hole("base", (50.0, 48.1)))[2] == "deck"
