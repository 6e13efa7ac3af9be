"""At which level gears hang, what lies between, what they may touch when they lean, metal under a saw: each alone, figures by hand. Lengths mm."""

from __future__ import annotations

import math
from types import SimpleNamespace as Of
from typing import Any

import pytest
from tests.designs import design, gear, mesh, mm

from trivet.model.base import Band, Ref
from trivet.model.outline import Outline
from trivet.record import replace
from trivet.solve import leaning_gears, mesh_overlap, metal
from trivet.solve.board_levels import BoardZ
from trivet.solve.level_gaps import level_gaps_mm
from trivet.solve.levels import solve_levels
from trivet.solve.solid import Solid, SolidSet
from trivet.solve.train_graph import train_graph
from trivet.source import SourceFile, Span

FILE = SourceFile("f.trivet", "x" * 100)


def named(text: str) -> Any:
    return Of(text=text)


def at(start: int) -> Span:
    return Span(FILE, start, start + 1)


# Levels.
def levels(gears: tuple[Any, ...], *meshes: Any) -> tuple[dict[str, int], list[tuple[str, str, str]]]:
    found, faults = solve_levels(train_graph(design(gears, meshes)))
    return found, [(item.kind, item.gear, item.message) for item in faults]


DRIVE = gear("hub", 16, (0, 0), drive=True)


def test_levels_from_the_highest_down() -> None:
    # The drive's gear hangs under one on its shaft, whose mate hangs under another: 0 is the highest of all that are joined.
    joined = (DRIVE, gear("over", 20, shaft="hub", side="above"), gear("west", 20), gear("top", 20, shaft="west", side="above"))
    apart = (gear("x", 20, (900, 0)), gear("y", 20, shaft="x"), gear("z", 20, shaft="y"), gear("a", 20, (1900, 0)), gear("b", 20, shaft="a", side="above"))
    found, faults = levels((*joined, *apart), mesh("over", "west", 0.0))
    assert found == {"hub": 2, "over": 1, "west": 1, "top": 0, "x": 0, "y": 1, "z": 2, "a": 1, "b": 0} and faults == []
    assert levels((DRIVE, gear("west", 20)), mesh("hub", "west", 0.0))[0] == {"hub": 0, "west": 0}


def test_two_levels_at_once() -> None:
    """One below another on its shaft, and in mesh with it through a third; what is in mesh is followed before what is on the shaft."""
    ring = (DRIVE, gear("low", 20, shaft="hub"), gear("west", 20))
    meshes = (mesh("hub", "west", 0.0), mesh("low", "west", 0.0).model_copy(update={"origin": at(7)}))
    found, faults = levels(ring, *meshes)
    assert found == {"hub": 0, "west": 0, "low": 1}
    assert faults == [("two_levels", "low", "`west` and `low` are in mesh, but the shafts between them put them at different levels")]
    # The mesh is met first, the shaft contradicts it; said once.
    both = (DRIVE, gear("low", 20, shaft="hub").model_copy(update={"name": Ref("low", at(3))}))
    _, again = levels(both, mesh("hub", "low", 0.0))
    assert again == [("two_levels", "low", "`low` would hang at two levels: on its shaft with `hub`, and by the meshes that join them")]
    places = [solve_levels(train_graph(design(*made)))[1][0].origin for made in ((ring, meshes), (both, (mesh("hub", "low", 0.0),)))]
    assert places == [at(7), at(3)]


# Gaps.
def stack(*gears: tuple[str, int, float], on: str = "", carries: str = "") -> list[Any]:
    """(name, level, thickness) from the top; `carries` by the last."""
    found = []
    for index, (name, level, thick) in enumerate(gears):
        held = Of(on_shaft_with=named(gears[0][0]) if index else None, carries=named(carries) if carries and index == len(gears) - 1 else None)
        found.append(Of(id=name, gear=held, level=level, face_width=Band(thick, thick - 1.0, thick + 1.0)))
    return found


def test_gaps_over_lower_levels() -> None:
    made: Any = Of(feet=(Of(name=named("side"), kind="captured_nut"), Of(name=named("corner"), kind="riding")))
    gears = [
        *stack(("a", 0, 18.0), ("b", 1, 9.0), ("c", 2, 6.0)), *stack(("d", 1, 12.0), ("e", 2, 6.0)), *stack(("f", 1, 9.0), ("g", 2, 30.0), carries="corner"),
        *stack(("h", 2, 6.0), carries="side"), *stack(("i", 2, 6.0), carries="corner"), *stack(("j", 0, 40.0)),
    ]  # fmt: skip
    # Under 18 of level 0 and 12, the thickest of level 1 that has a mate below; nothing over what rides.
    train: Any = Of(gears=gears)
    assert level_gaps_mm(made, train) == {"d": 18.0, "h": 30.0}
    thin: Any = Of(gears=[*stack(("a", 0, 0.8), ("b", 1, 9.0)), *stack(("c", 1, 9.0))])
    assert level_gaps_mm(made, thin) == {"c": 0.8}


# Leaning.
def state(name: str, tip: float, level: int = 0, shaft: str = "") -> Any:
    return Of(id=name, level=level, shaft=shaft, tip_radius_mm=tip)


def solid(kind: Any, part: str, shaft: str, x: float, radius: float, low: float, high: float, **facts: Any) -> Solid:
    return Solid(kind, part, shaft, x, 0.0, radius, low, high, **facts)


WEST = solid("gear", "west", "west", 0.0, 50.0, -20.0, -2.0)


def derived_of(*sets: Any, **facts: Any) -> Any:
    given = {
        "train": Of(gears=(state("low", 30.0, 1, "west"), state("west", 50.0, 0, "west"), state("hub", 40.0, 0, "hub"), state("deep", 20.0, 1, "deep"))),
        "solids": sets, "pivots": (Of(gear="west", droop_mm=1.0),), "drives": (Of(gear="hub", droop_mm=0.8),), "feet": (), "climbers": (),
    }  # fmt: skip
    return Of(**(given | facts))


def test_how_steep_rims_lean(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(leaning_gears, "tilt_deg", lambda made, foot: foot.tilt)
    feet = tuple(Of(gear=name, foot=Of(kind=kind), tilt=tilt) for name, kind, tilt in (("k", "captured_nut", 9.0), ("r", "riding", 0.5), ("s", "riding", 1.0)))
    climbers = (Of(gear="c", foot=Of(kind="riding"), tilt=2.0),)
    gears = (*derived_of().train.gears, state("none", 0.0), state("tiny", 0.8), state("small", 0.5, 0, "hub"))
    pivots = (Of(gear="none", droop_mm=1.0), Of(gear="west", droop_mm=1.0), Of(gear="tiny", droop_mm=0.4))
    drives = (Of(gear="none", droop_mm=1.0), Of(gear="tiny", droop_mm=0.2), Of(gear="hub", droop_mm=0.8))
    made = derived_of(train=Of(gears=gears), pivots=pivots, feet=feet, climbers=climbers)
    any_design: Any = None
    # A shaft's widest gear: 1 in 50, 0.8 in 40.
    rest = {"r": math.tan(math.radians(0.5)), "s": math.tan(math.radians(1.0)), "c": math.tan(math.radians(2.0))}
    assert leaning_gears._slopes(any_design, made) == pytest.approx({"west": 0.02, "tiny": 0.5, "hub": 0.02} | rest)
    made.drives, made.pivots = drives, ()
    assert leaning_gears._slopes(any_design, made) == pytest.approx({"tiny": 0.25, "hub": 0.02} | rest)


def found_in(*sets: Any, **facts: Any) -> list[tuple[str, str, float]]:
    any_design: Any = None
    return [(item.gear.part, item.other.part, round(item.clear_mm, 9)) for item in leaning_gears.leaning_gears(any_design, derived_of(*sets, **facts))]


def sets(*others: Solid, stroke: bool = True, travel: float = 0.0) -> SolidSet:
    return SolidSet(0, 0, (WEST, *others), travel, stroke)


def below(gap: float, part: str = "crank.hub", **facts: Any) -> Solid:
    return replace(solid("nut", part, "hub", 52.0, 7.0, -30.0, -20.0 - gap), **facts)


def test_what_a_leaning_gear_may_touch() -> None:
    # It reaches 50 from its axis: 50 · (1/50) and 50 · 2/150 of warp, 1.667 together.
    assert found_in(sets(below(1.6))) == [("west", "crank.hub", 1.6)] and found_in(sets(below(1.7))) == []
    assert found_in(sets(below(0.9))) == [("west", "crank.hub", 0.9)] and found_in(sets(below(2.3))) == []
    # Up to a tenth of shared height is none; more is a collision.
    assert found_in(sets(below(-0.05))) == [("west", "crank.hub", 0.0)] and found_in(sets(below(-0.11))) == []
    assert found_in(sets(below(0.5), stroke=False)) == []


def test_what_a_leaning_gear_is_not_compared_with() -> None:
    beyond = below(0.5, "beyond", x_mm=57.5)
    own = below(0.5, "own", shaft="west")
    lower = below(0.5, "lower", shaft="deep")
    plate = below(0.5, "plate", plate=Of())
    wood = replace(solid("gear", "hub", "hub", 52.0, 7.0, -40.0, -20.5))
    for other in (beyond, own, lower, plate):
        assert found_in(sets(other)) == [] and found_in(sets(other, below(0.5))) == [("west", "crank.hub", 0.5)]
    assert ("west", "hub", 0.5) not in found_in(sets(wood))
    assert found_in(sets(below(0.5), below(0.6, "more"))) == [("west", "crank.hub", 0.5), ("west", "more", 0.6)]


def test_the_rim_alone_may_touch() -> None:
    # 57 between the axes: half a millimetre of overlap is enough; on a slant as much beside it is none.
    assert found_in(sets(below(0.5, x_mm=56.5))) == [("west", "crank.hub", 0.5)]
    assert found_in(sets(below(0.5, x_mm=41.0, y_mm=41.0))) == [] and found_in(sets(below(0.5, x_mm=40.0, y_mm=40.0))) != []
    # What moves with the feet and leans by nothing adds nothing.
    assert leaning_gears._leaning(WEST, below(0.5, moves=True), 0.5, {"west": 0.02}).leans_mm == pytest.approx(1.0)


def test_what_hangs_in_one_level_by_its_shaft() -> None:
    """A gear in level 1 and the nut of a drive whose own second gear hangs there too."""
    low = solid("gear", "low", "west", 0.0, 30.0, -40.0, -20.0)
    nut = replace(below(0.5), x_mm=30.0, low_mm=-60.0, high_mm=-40.5)
    gears = derived_of().train.gears
    for more, found in (((), []), ((state("hub_low", 9.0, 1, "hub"),), [("low", "crank.hub", 0.5)])):
        assert found_in(SolidSet(0, 0, (low, nut), 0.0, True), train=Of(gears=(*gears, *more))) == found


def test_the_worst_of_all_sheets_counts() -> None:
    assert found_in(sets(below(0.5)), sets(below(0.3)), sets(below(0.4))) == [("west", "crank.hub", 0.3)]
    # What moves with the feet comes nearer by the travel.
    down = solid("pad", "corner.nw", "nw", 52.0, 7.0, 0.0, 5.0, moves=True)
    gears = (*derived_of().train.gears, state("nw", 50.0, 0, "nw"))
    assert found_in(sets(down, travel=1.5), train=Of(gears=gears)) == [("west", "corner.nw", 0.5)]


# Metal.
BOUNDS = (100.0, 50.0, 580.0, 400.0)


@pytest.mark.parametrize(
    ("edge", "x", "y", "inside"),
    [
        # Ten wide from each edge: an axis 4 off the inner border inwards, and 4 beyond it; 3 of radius.
        ("left", 114.0, 200.0, -1.0), ("left", 106.0, 200.0, 7.0), ("right", 566.0, 200.0, -1.0), ("right", 574.0, 200.0, 7.0),
        ("near", 300.0, 64.0, -1.0), ("near", 300.0, 56.0, 7.0), ("far", 300.0, 386.0, -1.0), ("far", 300.0, 394.0, 7.0),
    ],
)  # fmt: skip
def test_reach_into_a_zone(edge: str, x: float, y: float, inside: float) -> None:
    zone: Any = Of(edge=edge, width=mm(10))
    assert metal._inside_mm(zone, BOUNDS, Solid("head", "p", "", x, y, 3.0, 0.0, 1.0)) == pytest.approx(inside)


@pytest.mark.parametrize(
    ("face", "error", "low"),
    [("topside", 0.0, 14.85), ("topside", 0.2, 15.05), ("underside", 0.0, 0.15), ("underside", 0.2, 0.35)],
)
def test_where_a_magnet_lies(face: str, error: float, low: float) -> None:
    # 3 thick in a hole of 3.15, in a board from 0 to 18.
    places = (Of(id="m.1", x_mm=20.0, y_mm=30.0), Of(id="m.2", x_mm=40.0, y_mm=50.0))
    magnet: Any = Of(disc=Of(thickness_mm=3.0, diameter_mm=10.0), hole_depth_mm=3.15, face=face, places=places, origin=None)
    one, two = metal._magnets(magnet, BoardZ(0.0, 18.0), error)
    assert (one.low_mm, one.high_mm, one.radius_mm, one.x_mm, one.y_mm, one.part, one.kind) == (
        pytest.approx(low), pytest.approx(low + 3.0), 5.0, 20.0, 30.0, "m.1", "magnet",
    )  # fmt: skip
    assert (two.part, two.x_mm, two.y_mm) == ("m.2", 40.0, 50.0)


def zones(*sets_: SolidSet, edge: str = "left", into: str = "deck", magnets: tuple[Any, ...] = (), depth: float = 8.0) -> Any:
    zone = Of(name=named("kerf"), into=named(into), edge=edge, width=mm(10), depth=mm(str(depth)))
    outline = Outline("rectangle", 480.0, 350.0)
    boards = (Of(name=named("lid"), outline=Outline("circle", 9.0, 9.0), x_mm=0.0, y_mm=0.0), Of(name=named("deck"), outline=outline, x_mm=100.0, y_mm=50.0))
    made: Any = Of(cut_zones=(zone,), boards=boards, magnets=magnets, shop=Of(depth_mm=0.2))
    derived: Any = Of(solids=sets_)
    (found,) = metal.metal_in_zones(made, derived)
    return found


def one(part: str, x: float, high: float, radius: float = 3.0, kind: Any = "head", **facts: Any) -> Solid:
    return Solid(kind, part, "s", x, 200.0, radius, high - 5.0, high, **facts)


def told(items: Any) -> list[tuple[str, float, float]]:
    return [(item.solid.part, round(item.cover_mm, 9), round(item.inside_mm, 9)) for item in items]


def test_metal_in_a_zone_and_elsewhere(monkeypatch: pytest.MonkeyPatch) -> None:
    """A deck 18 thick at its mean, 17 and 19 at its extremes; the zone ends at x = 110."""
    place = {sign: Of(z={"deck": BoardZ(0.0, 18.0 + sign), "lid": BoardZ(30.0, 40.0)}) for sign in (-1, 0, 1)}
    monkeypatch.setattr(metal, "boards_at", lambda made, sign: place[sign])
    screws = (one("b", 106.0, 14.0), one("a", 300.0, 12.0), one("c", 112.5, 14.0), one("d", 113.0, 3.0), one("gear", 106.0, 18.0, kind="gear"))
    found = zones(SolidSet(0, 0, screws, 0.0, True))
    # Least cover first, then by name; a rim exactly on the border is outside.
    assert told(found.inside) == [("b", 4.0, 7.0), ("c", 4.0, 0.5)] and told(found.outside) == [("a", 6.0, -187.0), ("d", 15.0, 0.0)]
    # The thinnest board counts, whichever comes first.
    sets_ = [SolidSet(sign, 0, screws[:2], 0.0, True) for sign in (0, -1, 1)]
    for order in (sets_, sets_[::-1]):
        assert told(zones(*order).inside) == [("b", 3.0, 7.0)] and told(zones(*order).outside) == [("a", 5.0, -187.0)]
    # Of one part the piece with the least cover, and how far any of it that is less deep than the zone reaches in.
    wide, deep = one("b", 106.0, 11.0, 5.0), one("b", 106.0, 5.0, 9.0)
    for order in ((screws[0], wide, deep), (deep, wide, screws[0])):
        assert told(zones(SolidSet(0, 0, order, 0.0, True)).inside) == [("b", 4.0, 9.0)]
    assert told(zones(SolidSet(0, 0, (deep,), 0.0, True)).inside) == [("b", 13.0, 13.0)]
    exactly = one("b", 106.0, 10.0, 9.0)
    assert told(zones(SolidSet(0, 0, (screws[0], exactly), 0.0, True)).inside) == [("b", 4.0, 7.0)], "as deep as the zone is deep enough"
    # Of equals the first.
    for kinds in (("head", "insert"), ("insert", "head")):
        equal = zones(SolidSet(0, 0, tuple(one("b", 106.0, 14.0, kind=kind) for kind in kinds), 0.0, True))
        assert [item.solid.kind for item in equal.inside] == [kinds[0]]
    # A part just in the zone, just beside it or on its border stands in both lists with its other piece.
    for (x, cover), (other, over) in (((112.5, 4.0), (300.0, 2.0)), ((106.0, 4.0), (113.5, 2.0)), ((106.0, 4.0), (113.0, 2.0))):
        pair = zones(SolidSet(0, 0, (one("b", x, 18.0 - cover), one("b", other, 18.0 - over)), 0.0, True))
        assert [[item.cover_mm for item in items] for items in (pair.inside, pair.outside)] == [[cover], [over]]
    # A part in the zone and beside it stands in both lists.
    both = zones(SolidSet(0, 0, (screws[0], one("b", 300.0, 16.0)), 0.0, True))
    assert told(both.inside) == [("b", 4.0, 7.0)] and told(both.outside) == [("b", 2.0, -187.0)]


def test_metal_that_counts(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(metal, "boards_at", lambda made, sign: Of(z={"deck": BoardZ(0.0, 18.0)}))
    moving, still = one("foot", 106.0, 14.0, moves=True), one("pin", 106.0, 12.0)
    names = [[item.solid.part for item in zones(SolidSet(0, 0, (moving, still), 0.0, stroke)).inside] for stroke in (True, False)]
    assert names == [["foot", "pin"], ["pin"]], "feet count only where their stroke is known"
    disc = {"disc": Of(thickness_mm=3.0, diameter_mm=10.0), "hole_depth_mm": 3.15, "face": "topside", "origin": None}
    magnets = tuple(Of(into=named(board), places=(Of(id=f"m.{board}", x_mm=106.0, y_mm=200.0),), **disc) for board in ("lid", "deck"))
    for sign, cover in ((0, 0.15), (1, -0.05), (-1, -0.05)):
        found = zones(SolidSet(sign, 0, (still,), 0.0, True), magnets=magnets)
        assert told(found.inside)[0] == ("m.deck", pytest.approx(cover), 9.0) and len(found.inside) == 2


def test_name_of_a_zone() -> None:
    zones_: list[Any] = [Of(name=named(name)) for name in ("cut_zone", "kerf")]
    assert [metal.zone_name(zone) for zone in zones_] == ["", " kerf"]


# Overlap of faces.
def test_either_end_of_the_travel_may_be_the_worst(monkeypatch: pytest.MonkeyPatch) -> None:
    """A gear that rides from 1 to 7 below a mate at -30 to -12 shares 7 at first and 13 in the end; one at -20 to -2 17 and 13."""
    monkeypatch.setattr(mesh_overlap, "gear_interval_mm", lambda rider, world, name, e: (-18.0 - e, -e))
    monkeypatch.setattr(mesh_overlap, "replace", lambda item, **facts: Of(**(vars(item) | facts)))
    keys = [(0, 0), *((c.board, c.gear) for c in mesh_overlap.sheet_corners())]
    riders: Any = {"a": Of(id="corner")}
    for low, overlaps in ((-30.0, (7.0, 13.0, 7.0)), (-20.0, (17.0, 13.0, 13.0))):
        fixed = Of(bottom_mm=low, top_mm=low + 18.0, lowest_top_mm=low + 18.0, highest_bottom_mm=low)
        worlds: Any = {key: Of(corner=mesh_overlap.MEAN, fixed={"b": fixed}) for key in keys}
        meshes: Any = (Of(a="a", b="b"),)
        (found,) = mesh_overlap.with_overlaps(meshes, riders, worlds, {key: {"corner": (1.0, 7.0)} for key in keys})
        assert (found.overlap_at_least_mm, found.overlap_at_most_mm, found.overlap_worst_mm) == overlaps
