"""Gears that find no place or stand too near to mesh, and openings of webs: what is said of each, by hand. Lengths mm."""

from __future__ import annotations

import itertools
import math
from types import SimpleNamespace as Of
from typing import Any

import pytest
from tests.designs import design, gear, mesh, mm, q, tooth_form

from trivet.model.base import Band, Ref
from trivet.model.shop import Sheet, Shop
from trivet.model.train import Mesh, Web
from trivet.solve import web_fit
from trivet.solve.shaft import shafts
from trivet.solve.solve import solve
from trivet.solve.speeds import solve_speeds
from trivet.solve.train import solve_train
from trivet.solve.train_graph import train_graph
from trivet.solve.unplaced import unplaced_faults
from trivet.solve.web_fit import web_faults
from trivet.solve.web_openings import WebRoom

HUB = gear("hub", 20, (0.0, 0.0), drive=True)


def said(gears: tuple[Any, ...], meshes: tuple[Any, ...], placed: set[str]) -> list[tuple[str, str]]:
    found = list(unplaced_faults(train_graph(design(gears, meshes)), frozenset(placed)))
    assert all((item.kind, item.measured_mm, item.allowed_mm) == ("no_place", None, None) for item in found)
    return [(item.gear, item.message) for item in found]


def test_one_fault_for_what_hangs_together() -> None:
    """Groups in the order of names; of each the first that a mesh joins to a gear with a place, and at most three others by name."""
    names = "abcdefg"
    gears = (HUB, *(gear(name, 20) for name in names), gear("z", 20))
    chain = tuple(mesh(one, other) for one, other in itertools.pairwise(names))
    assert said(gears, (*chain, mesh("hub", "c")), {"hub", "z"}) == [
        ("c", "`c` has no place: its mesh with `hub` gives no angle; without it neither have `a`, `b`, `d` and 3 more"),
    ]
    assert said(gears, (*chain[:3], mesh("hub", "c"), mesh("hub", "b")), {"hub", "z", "e", "f", "g"}) == [
        ("b", "`b` has no place: its mesh with `hub` gives no angle; without it neither have `a`, `c`, `d`"),
    ]
    assert said(gears, chain[:1], {"hub", "z", "d", "e", "f", "g"}) == [
        ("a", "`a` has no place: no gear that it is joined to has a place; without it neither has `b`"),
        ("c", "`c` has no place: neither `at` nor a mesh with an angle gives one"),
    ]
    assert said(gears, (), {"hub", "z", *names[:6]}) == [("g", "`g` has no place: neither `at` nor a mesh with an angle gives one")]
    # Four others: three by name, one more. All gears placed: nothing.
    five = said(gears, chain[:4], {"hub", "z", "f", "g"})
    assert [message.partition("neither ")[2] for _, message in five] == ["have `b`, `c`, `d` and 1 more"]
    assert said(gears, chain, {"hub", "z", *names}) == []


def test_groups_over_shafts() -> None:
    gears = (HUB, gear("b", 20), gear("c", 20, shaft="b"), gear("a", 20))
    assert said(gears, (), {"hub", "a"}) == [
        ("b", "`b` has no place: no gear that it is joined to has a place; without it neither has `c`"),
    ]


# Meshes that cannot work. Module 4, 20 and 20 teeth: 80 apart; base circles 80 cos 20° = 75.18.
def faults(gears: tuple[Any, ...], *meshes: Any, **facts: Any) -> list[tuple[str, str, float | None, float | None]]:
    return [(item.kind, item.gear, item.measured_mm, item.allowed_mm) for item in solve_train(design((HUB, *gears), meshes, **facts)).faults]


def test_gears_stated_too_near_to_mesh() -> None:
    base = 80.0 * math.cos(math.radians(20.0))
    (found,) = faults((gear("b", 20, (75.0, 0.0)),), mesh("hub", "b"))
    assert found == ("mesh_distance", "b", pytest.approx(75.0), pytest.approx(base))
    (fault,) = solve_train(design((HUB, gear("b", 20, (75.0, 0.0))), (mesh("hub", "b"),))).faults
    assert fault.message.startswith("`b` and `hub` stand 75 mm apart, too close to mesh: their base circles alone need 75.18")
    assert faults((gear("b", 20, (75.2, 0.0)),), mesh("hub", "b")) == []
    # A stated distance too short is named; an angle or a distance that the places do not have is named as that alone.
    assert [item[0] for item in faults((gear("b", 20),), mesh("hub", "b", 0.0, distance=75))] == ["mesh_distance"]
    for asked in (mesh("hub", "b", 0.0), mesh("hub", "b", distance=80)):
        assert [item[0] for item in faults((gear("b", 20, (75.0, 0.0)),), asked)] == ["two_places"]
    # Two of them, the first unlike in its teeth: each has its own fault, and a sound mesh after them is still one.
    forms = (tooth_form(), tooth_form("fine", 2.0))
    gears = (gear("b", 20, (60.0, 0.0), tooth_form=Ref("fine")), gear("c", 20, (0.0, 75.0)), gear("d", 20, (-80.0, 0.0)))
    meshes = (mesh("hub", "b"), mesh("hub", "c"), mesh("hub", "d"))
    assert [item[:2] for item in faults(gears, *meshes, tooth_forms=forms)] == [("unlike_teeth", "b"), ("mesh_distance", "c")]
    assert [item.id for item in solve_train(design((HUB, *gears), meshes, tooth_forms=forms)).meshes] == ["hub-d"]
    # A mesh that asks for another place does not hide one that stands too near after it.
    crowd = (gear("b", 20, (75.0, 0.0)), gear("c", 20, (0.0, 75.0)))
    assert [item[:2] for item in faults(crowd, mesh("hub", "b", 0.0), mesh("hub", "c"))] == [("two_places", "b"), ("mesh_distance", "c")]


def test_a_derived_distance_is_the_one_that_placed_the_gear() -> None:
    """Sums of coordinates do not come back as they went in; 1e-9 is nothing, 0.001 counts."""
    train = solve_train(design((gear("hub", 20, (123.4, 56.7), drive=True), gear("b", 21)), (mesh("hub", "b", 33.3),)))
    assert train.meshes[0].centre_distance_mm == 82.0
    placed = solve_train(design((HUB, gear("b", 20, (80.001, 0.0))), (mesh("hub", "b"),)))
    assert placed.meshes[0].centre_distance_mm == 80.001


def test_figures_of_a_mesh_of_unequal_gears() -> None:
    """12 and 60 teeth of module 4 at 145: the lesser clearance at the tips, and what overlaps when the thinner gear is 17.8 of 35.6."""
    gears = (gear("hub", 12, (0.0, 0.0), drive=True, layers=2), gear("b", 60))
    (found,) = solve_train(design(gears, (mesh("hub", "b", 0.0, distance=145),))).meshes
    # Tips at 28 and 124, roots at 19 and 115.
    assert found.tip_clearance_mm == pytest.approx(min(145.0 - 28.0 - 115.0, 145.0 - 124.0 - 19.0))
    assert found.centre_distance_mm == 145.0 and found.standard_centre_distance_mm == 144.0 and found.tight_centre_distance_mm == 144.0
    assert found.placed_by_it and not found.in_loop and found.id == "hub-b"
    assert found.interference_a_mm == found.geometry.interference_mm[0] != found.interference_b_mm == found.geometry.interference_mm[1]
    # Farther apart the teeth share less.
    assert found.contact_ratio_min < found.contact_ratio and found.working_depth_min_mm < 28.0 + 124.0 - 145.0


def test_what_each_gear_of_a_train_is() -> None:
    gears = (HUB, gear("b", 40), gear("c", 40, foot=True), gear("d", 20, shaft="b"), gear("far", 20, (900.0, 0.0)))
    train = solve_train(design(gears, (mesh("hub", "b", 0.0), mesh("b", "c", 0.0))))
    kinds = {item.id: (item.kind, item.direction, item.speed) for item in train.gears}
    assert kinds == {
        "hub": ("drive", 1, 1), "b": ("idler", -1, q("0.5").number), "c": ("foot", 1, q("0.5").number), "d": ("idler", -1, q("0.5").number),
        "far": ("idler", 0, None),
    }  # fmt: skip
    by_name = {item.id: item for item in train.gears}
    assert [by_name[name].path for name in ("hub", "d", "far")] == [("hub",), ("hub", "b", "d"), ()]
    assert [by_name[name].foot_id for name in ("b", "c", "d")] == ["", "corner.c", ""] and by_name["d"].shaft == "b"
    assert [item.quantity for item in by_name["b"].because] == ["speed", "tooth thickness"]
    assert [item.quantity for item in by_name["far"].because] == ["tooth thickness"]


def test_left_for_the_heights_and_why_a_hole_is_as_wide() -> None:
    by_name = {item.id: item for item in solve_train(design((HUB, gear("b", 40)), (mesh("hub", "b", 0.0),))).gears}
    assert {item.z_top for item in by_name.values()} == {Band(0.0, 0.0, 0.0)}
    # A sleeve of 8 and the shop's 0.2 of clearance.
    assert by_name["b"].hole_mm == pytest.approx(8.2) and "8 mm" in by_name["b"].hole_because and "0.2 mm" in by_name["b"].hole_because


def moist(at: tuple[float, float], angle: float, least: float, most: float) -> Any:
    """A board with its grain along x, which moves more across."""
    sheet = Sheet(name=Ref("ply"), thickness=Band(17.8, 17.6, 18.0), material=Ref("birch_plywood"), face_grain="x")
    made = design(
        (gear("hub", 20, at, drive=True), gear("b", 30)), (mesh("hub", "b", angle),), sheets=(sheet,),
        shop=Shop(moisture_least=least, moisture_most=most),
    )  # fmt: skip
    (found,) = solve_train(made).meshes
    return found


def test_moisture_works_by_direction_and_range_alone() -> None:
    """The same train elsewhere on its board, or over as many percent from another level, is off by the same; twice the range by twice."""
    first, turned = moist((0.0, 0.0), 30.0, 6.0, 9.0), moist((0.0, 0.0), 75.0, 6.0, 9.0)
    assert first.closer_mm != pytest.approx(turned.closer_mm, rel=1e-3) and first.moisture_mm > 0.0
    for other in (moist((310.0, -170.0), 30.0, 6.0, 9.0), moist((0.0, 0.0), 30.0, 9.0, 12.0)):
        assert other.closer_mm == pytest.approx(first.closer_mm) and other.moisture_mm == pytest.approx(first.moisture_mm)
        assert other.backlash.min_mm == pytest.approx(first.backlash.min_mm)
    assert moist((0.0, 0.0), 30.0, 6.0, 12.0).moisture_mm == pytest.approx(2.0 * first.moisture_mm)


def test_where_a_clash_of_speeds_was_stated() -> None:
    """Of a mesh its own line, of a shaft the gear that was put on it."""
    meshed, shafted, plain = "mesh", "shaft", mesh("hub", "b")
    clash = Mesh(a=Ref("b"), b=Ref("c"), origin=meshed)
    gears = (HUB, gear("b", 40), gear("c", 60, shaft="hub"))
    (found,) = solve_speeds(train_graph(design(gears, (plain, clash)))).conflicts
    assert (found.gear, found.origin) == ("c", meshed)
    # The mesh is reached first here: d is 40 teeth from b by two meshes and on its shaft.
    ring = (HUB, gear("b", 40), gear("c", 40), gear("d", 30, shaft="b").model_copy(update={"name": Ref("d", shafted)}))
    found_two = solve_speeds(train_graph(design(ring, (plain, mesh("hub", "d"))))).conflicts
    assert {(item.gear, item.origin) for item in found_two} <= {("d", shafted), ("b", None)} and len(found_two) == 1


# Webs.
def test_gears_whose_webs_find_no_room(monkeypatch: pytest.MonkeyPatch) -> None:
    """The first has none, the second finds room, of the last two each is named with what would do."""
    holes = Web(form="holes", count=q(6), size=mm(10))
    webs = {"a": None, "b": holes, "c": Web(form="holes", count=q(6), size=mm(30)), "d": Web(form="spokes", count=q(4), size=mm(300))}
    states = tuple(Of(id=name, gear=Of(web=web), cutter_diameter_mm=4.0) for name, web in webs.items())
    made: list[int] = []
    monkeypatch.setattr(web_fit, "part_context", lambda design_, derived: made.append(1) or "context")
    monkeypatch.setattr(web_fit, "web_room_of", lambda context, state: WebRoom(10.0, 30.0))
    derived: Any = Of(train=Of(gears=states))
    nothing: Any = None
    found = list(web_faults(nothing, derived))
    # Six of 14 find room on a circle of 20; four spokes of 42 (60 / √2) at the most meet at the rim.
    assert [(item.gear, item.room_mm, item.count, item.size_mm) for item in found[:1]] == [("c", 20.0, 6, 14.0)]
    assert [item.gear for item in found] == ["c", "d"] and len(made) == 1
    assert found[1].count == 4 and found[1].size_mm is not None and 6.0 <= found[1].size_mm <= 42.0


def test_a_web_in_a_real_gear() -> None:
    wheel = gear("wheel", 60, web=Web(form="holes", count=q(6), size=mm(95)))
    made = design((HUB, wheel), (mesh("hub", "wheel", 0.0),))
    (found,) = web_faults(made, solve(made))
    # Roots at 115 less 8 of rim; a hub of 1.5 bores of 8.2, or 6 round the bore: 12.3.
    assert found.gear == "wheel" and found.room_mm == pytest.approx(115.0 - 8.0 - 12.3, abs=0.2)
    assert len(shafts(solve_train(made))) == 2
