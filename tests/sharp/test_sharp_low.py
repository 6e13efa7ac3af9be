"""Extremes that low points are taken at, how nearly straight rows of feet share, words of limits, figures of panels; by hand. Lengths mm, N."""

from __future__ import annotations

from types import SimpleNamespace as Of
from typing import Any

import pytest
from tests.designs import mm
from tests.designs_feet import captured, riding, sliding
from tests.sharp.test_sharp_groups import at, solved

from trivet.model.base import Ref
from trivet.record import replace
from trivet.solve import library_figures, limit_words, low_point
from trivet.solve.corner import MEAN, Corner
from trivet.solve.foot_case import Bound, FootSpec
from trivet.solve.load_shares import shares

Point = tuple[float, float]


# Low points.
def named(text: str) -> Any:
    return Of(text=text)


def world(corner: Corner) -> Any:
    gears = {"west": Of(turns_on=named("pin"), turned_by=None), "hub": Of(turns_on=None, turned_by=named("crank"))}
    pivots, drives = ((Of(name=named("other")), Of(name=named(name))) for name in ("pin", "crank"))
    design = Of(pivots=pivots, drives=drives, shop="the shop")
    states = {name: Of(gear=gear) for name, gear in gears.items()}
    return Of(design=design, states=states, drops={0: 0.0, 1: 18.0, 2: 27.0}, boards="boards", corner=corner)


STACK: Any = (Of(id="upper", level=1), Of(id="lower", level=2))
DEEP, SHALLOW = Corner(1, -1, 1), Corner(1, -1, -1)


@pytest.mark.parametrize(("corner", "asked"), [(MEAN, [MEAN, MEAN]), (Corner(1, -1), [SHALLOW, DEEP])])
def test_pivots_with_deep_and_shallow_recesses(monkeypatch: pytest.MonkeyPatch, corner: Corner, asked: list[Corner]) -> None:
    seen: list[Any] = []

    def stack(*given: Any) -> Any:
        seen.append(given)
        # Of the two the gear hangs lower in the one and the head in the other.
        return Of(gear_low_mm=-30.0 - given[5].depth, head_low_mm=-40.0 + given[5].depth)

    monkeypatch.setattr(low_point, "pivot_stack", stack)
    made = world(corner)
    gear, head = low_point.pivot_low(made, STACK, "west")
    # At its thickest washer, under the gears over the uppermost of its own.
    assert seen == [(made.design.pivots[1], STACK, "boards", "the shop", 18.0, depth, 1) for depth in asked]
    lower = float(asked[1].depth)
    assert (gear.z_mm, head.z_mm) == (-30.0 - lower, -40.0 - lower)
    assert (gear.part, head.part) == ("the idler `lower`", "the pivot head under `lower`")


@pytest.mark.parametrize(("corner", "shallow", "deep"), [(MEAN, MEAN, MEAN), (Corner(1, -1), SHALLOW, DEEP)])
def test_drives_with_deep_and_shallow_recesses(monkeypatch: pytest.MonkeyPatch, corner: Corner, shallow: Corner, deep: Corner) -> None:
    seen: list[Any] = []

    def stack(*given: Any) -> Any:
        seen.append(given)
        return Of(gear_low_mm=-30.0 - given[5].depth, nut_low_mm=-40.0 + given[5].depth, head_z_mm=9.0 - given[5].depth)

    monkeypatch.setattr(low_point, "drive_stack", stack)
    made = world(corner)
    gear, nut, end = low_point.drive_low(made, STACK, "hub", 60.0)
    wanted = [(made.design.drives[1], STACK, "boards", "the shop", 18.0, depth, sign) for depth, sign in ((shallow, 1), (deep, 1), (deep, -1))]
    # Washers at their thickest over the gear and the nut, at their thinnest over the bolt's end.
    assert seen == wanted
    lower = float(deep.depth)
    assert (gear.z_mm, nut.z_mm, end.z_mm) == (-30.0 - lower, -40.0 - lower, 9.0 - lower - 60.0)
    assert (gear.part, nut.part, end.part) == ("the drive gear `lower`", "the nut under `lower`", "the end of the bolt of `crank`")


# Feet in one row.
def row_of(wobble: float, along: Point, aside: Point, scale: float = 1.0) -> tuple[Point, ...]:
    """Four feet at -150, -50, 50 and 150 along a direction, every other one a hair aside."""
    return tuple(
        (scale * (s * along[0] + wobble * k * aside[0]), scale * (s * along[1] + wobble * k * aside[1]))
        for s, k in ((-150.0, 1.0), (-50.0, -1.0), (50.0, -1.0), (150.0, 1.0))
    )


SLANT = 0.5**0.5


@pytest.mark.parametrize(
    ("along", "aside"), [((1.0, 0.0), (0.0, 1.0)), ((0.0, 1.0), (1.0, 0.0)), ((0.6, 0.8), (-0.8, 0.6)), ((SLANT, SLANT), (SLANT, -SLANT))]
)
def test_feet_in_one_row_resist_along_it_only(along: Point, aside: Point) -> None:
    """100 N at 50 along and 30 aside: 25 each, and 100 · 50 · s/50,000 more at s; none less than an even share."""
    place = (50.0 * along[0] + 30.0 * aside[0], 50.0 * along[1] + 30.0 * aside[1])
    for wobble in (0.0, 1e-3):
        for scale in (1.0, 1e-3, 1e3):
            feet = row_of(wobble, along, aside, scale)
            found = shares(feet, ((100.0, scale * place[0], scale * place[1]),))
            assert found == pytest.approx((25.0, 25.0, 30.0, 40.0), abs=1e-3), (wobble, scale)


def test_shares_do_not_depend_on_the_unit() -> None:
    feet, push = ((0.0, 0.0), (400.0, 0.0), (30.0, 300.0)), (90.0, 250.0, 60.0)
    # Plain statics: y gives the third foot 90 · 60/300, then moments about the first the second.
    third = 18.0
    second = (90.0 * 250.0 - third * 30.0) / 400.0
    wanted = [max(30.0, force) for force in (90.0 - second - third, second, third)]
    for scale in (1.0, 1e-4, 1e4):
        assert shares([(scale * x, scale * y) for x, y in feet], ((push[0], scale * push[1], scale * push[2]),)) == pytest.approx(wanted)
    assert shares(((5.0, 6.0), (5.0, 6.0)), ((10.0, 9.0, 9.0),)) == (5.0, 5.0)


# Words.
def spec(foot: Any) -> FootSpec:
    nw = solved()[1].train.gear("nw")
    return FootSpec("corner.nw", foot, replace(nw, gear=nw.gear.model_copy(update={"name": Ref("nw", at(4))})), (nw,), 30.0, 5.8, 3.0)


def said(cause: str, amount: float = 2.0, hard: bool = False, party: str = "deck", gear: str = "") -> str:
    bound: Any = Bound("most", cause, 9.0, hard, party, amount)
    return limit_words.sentence_of(replace(bound, gear=gear) if gear else bound, spec(riding()), "mm")


def test_words_of_limits() -> None:
    ends = "the teeth of `nw` and `west` share 2 mm of face at 9 mm extension"
    assert said("teeth_part", hard=True, party="west") == f"{ends}, with every play against them"
    assert said("teeth_part", party="west") == f"{ends}, the least wanted"
    for cause, what in (("shank_in_insert", "the live thread of its insert"), ("shank_in_nut", "its nut")):
        assert said(cause, 0.5) == f"the plain shank of `corner.nw`, 0.5 mm long, reaches {what} at 9 mm extension"
        assert said(cause, 0.0) == "the head of `corner.nw`, threaded up to it, reaches the thread it runs in at 9 mm extension"


@pytest.mark.parametrize(
    ("cause", "words"),
    [
        ("teeth_part", "the teeth of the climbing gear `idler` and of `east` share 2 mm of face"),
        ("thread_leaves_insert", "the insert of the climbing gear `idler` keeps 2 mm of live thread"),
        ("bench", "the climbing gear `idler` or its head reaches the bench"),
        ("tip_through", "the tip of the screw of the climbing gear `idler` is 2 mm below the face over it"),
        ("tip_meets_board", "the tip of the screw of the climbing gear `idler` is 2 mm below the face over it"),
        ("shank_in_insert", "the plain shank of the screw of the climbing gear `idler` reaches the live thread of its insert"),
        ("gear_meets_board", "the climbing gear `idler` meets its board or what stands out of it"),
        ("insert_proud", "the climbing gear `idler` meets its board or what stands out of it"),
    ],
)  # fmt: skip
def test_words_of_a_climbing_gear(cause: str, words: str) -> None:
    assert said(f"climber_{cause}", party="east", gear="idler") == f"{words} at 9 mm extension of `corner.nw`"


def test_a_limit_points_at_its_own_fact_alone() -> None:
    """A foot that states a socket and a cross pin: other limits point at the foot or its gear."""
    stated = {"length": mm(30).at(at(1)), "origin": at(0)}
    both = sliding(**stated, socket_depth=mm(14).at(at(2)), rod_stop_diameter=mm(3).at(at(3)))

    def points(foot: Any, cause: str) -> Any:
        return limit_words.origin_of(Bound("most", cause, 1.0, True), spec(foot))

    assert [points(both, cause) for cause in ("bench", "keeper", "insert_proud")] == [at(0)] * 3
    assert [points(both, cause) for cause in ("teeth_part", "gear_meets_board", "tilted_rim")] == [at(4)] * 3
    assert points(captured(**stated, rod_stop_diameter=None), "stop_leaves_slot") == at(0) == points(riding(**stated, socket_depth=None), "hex_leaves_socket")


def test_where_the_inputs_of_a_limit_point() -> None:
    bound = Bound("most", "thread_leaves_insert", 9.0, False, "corner", 8.0)
    stated = riding(origin=at(0), length=mm(30).at(at(1)), pocket=mm("5.8").at(at(2)))
    width = solved()[1].train.gear("nw").face_width.origin
    assert [place for _, _, place in limit_words._inputs(bound, spec(stated), "mm")] == [at(1), width, at(2), None]
    unstated = riding(origin=at(0), length=None, pocket=None)
    assert [place for _, _, place in limit_words._inputs(bound, spec(unstated), "mm")] == [at(0), width, at(0), None]


# Panels.
def test_which_figures_a_material_has() -> None:
    """Birch by the row nearest in thickness, either side of half-way between 12.0 and 14.8; MDF alike both ways, whatever its thickness."""
    rows = {row[0]: row[1:] for row in library_figures.BIRCH_BENDING}
    nearest = ((1.0, 3.6), (13.3, 12.0), (13.5, 14.8), (14.8, 14.8), (90.0, 28.8))
    assert [library_figures.bending_modulus("birch_plywood", thick) for thick, _ in nearest] == [rows[row] for _, row in nearest]
    assert library_figures.bending_modulus("mdf", 3.0) == (library_figures.MDF_BENDING,) * 2 and library_figures.bending_modulus("hdpe", 3.0) is None
    # Alike every way, without the strain across that is not known: G is half of E.
    shear = [library_figures.shear_modulus(name) for name in ("birch_plywood", "mdf", "hdpe")]
    assert shear == [library_figures.BIRCH_SHEAR, library_figures.MDF_BENDING / 2.0, None]
    moved = [library_figures.movement_percent(name) for name in ("mdf", "acrylic_cast", "white_ash", "birch_plywood", "unheard_of", None)]
    plywood = library_figures.MOVEMENT_PLYWOOD
    solid = (library_figures.MOVEMENT_ALONG_WOOD, library_figures.MOVEMENT_ACROSS_WOOD["white_ash"])
    assert moved == [library_figures.MOVEMENT_MDF, (0.0, 0.0), solid, plywood, plywood, plywood]
