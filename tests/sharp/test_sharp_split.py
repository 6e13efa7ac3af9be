"""What passes cuts from both faces of one part: whose it is, about which axis, and its room, by hand from the diameters. Lengths mm."""

from __future__ import annotations

import math
from types import SimpleNamespace as Of
from typing import Any

import pytest
from tests.designs import INSERT, M8, mm
from tests.designs_feet import CAP, JAM, LARGE_WASHER, NUT, TEE

from trivet.model.base import Band
from trivet.model.hardware import Head
from trivet.model.train import DriveNut
from trivet.record import replace
from trivet.solve.contour_shapes import rectangle
from trivet.solve.feature import Feature, Round
from trivet.solve.part_features import PartFeatures
from trivet.solve.split_faces import Split, _half_mm, split_faces

WASHER = replace(LARGE_WASHER, inside_mm=9.0, outside_mm=18.0)


def named(text: str) -> Any:
    return Of(text=text)


def cut(operation: Any, face: Any, depth: float | None, at: tuple[float, float], diameter: float) -> Feature:
    return Feature(operation, face, depth, Round(*at, diameter), f"{operation} {diameter:g}", "")


def part(name: str, *features: Feature, datum: Any = "underside", **facts: Any) -> PartFeatures:
    sheet: Any = None
    edge = rectangle(-200.0, -200.0, 400.0, 400.0)
    return PartFeatures(name, "board", sheet, Band(18.0, 18.0, 18.0), datum, edge, "", "", 6.0, features, **facts)


def holes(at: tuple[float, float], bore: float, wide: float, face: Any = "topside") -> tuple[Feature, Feature]:
    """A bore through and a counterbore from one face."""
    return cut("bore", face, None, at, bore), cut("counterbore", face, 5.0, at, wide)


def board(name: str, x: float, y: float, z: float) -> Any:
    return Of(board=Of(name=named(name), x_mm=x, y_mm=y, machine=named("router") if name == "lid" else None), z_under_mm=z)


# The lid lies over the deck that the gears hang under, the skirt below; (140, 80) in the world is (40, 30) on the deck and (50, 20) on the lid.
BOARDS = (board("skirt", 0.0, 0.0, -40.0), board("deck", 100.0, 50.0, 0.0), board("lid", 90.0, 60.0, 30.0), board("cover", 0.0, 0.0, 20.0))
ON_DECK, ON_LID = (40.0, 30.0), (50.0, 20.0)


def crank(**facts: Any) -> Any:
    given: dict[str, Any] = {
        "name": named("crank"), "bolt": Of(head=CAP), "thread": M8, "head_recessed": mm(9), "washer": None, "washer_places": (),
        "nut": DriveNut(hardware=TEE, side="above"), "jam_nut": None, "origin": "drive",
    }  # fmt: skip
    return Of(**(given | facts))


def gear(name: str, under: str = "deck") -> Any:
    return Of(id=name, gear=Of(name=named(name), under=named(under), machine=None), x_mm=140.0, y_mm=80.0)


def pinned(name: str, nut: Any) -> Any:
    return Of(id=f"pin.{name}", gear=name, pivot=Of(nut=nut, thread=Of(major_mm=6.0)))


def footed(name: str, insert: Any = None, guide: Any = None) -> Any:
    return Of(id=f"corner.{name}", x_mm=140.0, y_mm=80.0, foot=Of(insert=insert, guide=guide, into=named("deck"), thread=M8))


def splits(*parts: PartFeatures, drives: tuple[Any, ...] = (), machines: Any = (), boards: Any = BOARDS, **facts: Any) -> list[Split]:
    held: dict[str, Any] = {"pivots": (), "feet": (), "climbers": ()} | facts
    gears = tuple(gear(name) for name in ("hub", "west", "east"))
    turned = tuple(Of(id="crank.hub", gear="hub", drive=Of(name=item.name)) for item in drives[-1:])
    derived = Of(parts=parts, boards=boards, train=Of(gears=gears), drives=turned, **held)
    own = tuple(item.gear for item in gears)
    design = Of(shop=Of(hole_position_mm=0.1), machines=machines, boards=tuple(item.board for item in boards), gears=own, drives=drives)
    return list(split_faces(design, derived))


def said(found: list[Split]) -> list[tuple[str, str, str, float]]:
    return [(item.part.part, item.owner, item.what, round(item.room_mm, 9)) for item in found]


@pytest.mark.parametrize(
    ("facts", "wide", "room"),
    [
        # A bore of 9 round 8, 0.5 to either side; 15 round 13.27.
        ({}, 15.0, 0.5 + 0.865),
        ({"washer": WASHER, "washer_places": ("above",)}, 15.0, 0.5 + 0.865),
        ({"washer": replace(WASHER, outside_mm=13.27), "washer_places": ("head",)}, 15.0, 0.5 + 0.865),
        # The washer of 18 lies loose by 1 on the bolt: that much more across.
        ({"washer": WASHER, "washer_places": ("head",)}, 19.0, 1.0 + 0.5),
        ({"washer": WASHER, "washer_places": ("head",)}, 15.0, None),
        ({"head_recessed": None}, 15.0, None),
        ({"bolt": Of(head=Head(form="countersunk", diameter_mm=13.27, height_mm=4.0, height_max_mm=4.2))}, 15.0, None),
    ],
)
def test_head_of_a_drive_in_the_uppermost_board(facts: dict[str, Any], wide: float, room: float | None) -> None:
    lid = part("lid", *holes(ON_LID, 9.0, wide))
    found = splits(lid, part("deck", *holes(ON_DECK, 9.0, wide)), part("cover", *holes(ON_DECK, 9.0, wide)), drives=(crank(**facts),))
    assert said(found) == ([] if room is None else [("lid", "crank.hub", "the head", round(room, 9))])
    assert all((item.hole, item.recess, item.guide, item.origin) == (*lid.features, False, "drive") for item in found)


def test_head_of_a_drive_under_no_other_board() -> None:
    """Its gear's own board has it, not the skirt half a millimetre below that."""
    low = (board("skirt", 0.0, 0.0, -0.5), BOARDS[1])
    deck = part("deck", *holes(ON_DECK, 9.0, 15.0))
    for boards in (low, low[::-1]):
        found = splits(deck, part("skirt", *holes((140.0, 80.0), 9.0, 15.0)), drives=(crank(),), boards=boards)
        assert said(found) == [("deck", "crank.hub", "the head", 1.365)]


def test_nuts_of_a_drive_in_its_gear() -> None:
    """About the gear's own axis: a tee nut's barrel of 10 and flange of 22 from the topside, a jam nut's corners of 14.38 from below."""
    tee = DriveNut(hardware=TEE, side="above", recessed=mm(2))
    jam = DriveNut(hardware=JAM, side="below", recessed=mm(6), round=mm(16))
    both = (cut("bore", "underside", None, (0.0, 0.0), 10.4), cut("counterbore", "topside", 2.0, (0.0, 0.0), 23.0),
            cut("counterbore", "underside", 6.0, (0.0, 0.0), 16.0))  # fmt: skip
    drive = crank(nut=tee, jam_nut=jam)
    assert said(splits(part("hub", *both), drives=(crank(nut=tee),))) == [("hub", "crank.hub", "the nut", 0.2 + 0.5)]
    # From the topside the bore of 10.4 round the bolt of 8 and 16 round 14.38.
    turned = part("hub", *both, datum="topside")
    assert said(splits(turned, drives=(drive,))) == [("hub", "crank.hub", "the nut", round(1.2 + 0.81, 9))]
    # A nut whose corners no table has: 2/√3 of its flats.
    bare = DriveNut(hardware=replace(JAM, across_corners_mm=None), side="below", recessed=mm(6), round=mm(16))
    ((*_, room),) = said(splits(turned, drives=(crank(jam_nut=bare),)))
    assert room == pytest.approx(1.2 + 8.0 - 13.0 / math.sqrt(3.0))
    # Not let in: none of it is said, whichever of the two it is.
    assert splits(turned, drives=(crank(nut=tee, jam_nut=DriveNut(hardware=JAM, side="below")),)) == []
    loose = crank(nut=DriveNut(hardware=TEE, side="above"), jam_nut=jam)
    assert len(splits(turned, drives=(loose,))) == 1 and splits(turned, drives=(crank(nut=tee),)) == []
    # A gear of two layers: the layer with cuts from both faces, under the whole gear's name.
    layers = (part("hub.layer1", both[0], belongs_to="hub"), part("hub.layer2", *both, belongs_to="hub", datum="topside"))
    assert [item.part.part for item in splits(*layers, drives=(drive,))] == ["hub.layer2"]


def test_nut_over_a_pivot() -> None:
    """Its hexagon's flats of 13 in 14, the thread of 6 in 6.5; a tee nut is not let in from above, and one pivot has none."""
    deck = part("deck", *holes(ON_DECK, 6.5, 14.0))
    nut = DriveNut(hardware=NUT, side="above", recessed=mm(5))
    pivots = (pinned("hub", None), pinned("west", DriveNut(hardware=TEE, side="above")), pinned("east", nut))
    assert said(splits(deck, pivots=pivots)) == [("deck", "pin.east", "the nut", 0.25 + 0.5)]


def test_inserts_with_flanges_and_guides() -> None:
    """A flange of 22 in 23; a guide of 8.4 for M8, whose thread has 0.15 of play; feet first, then climbers."""
    flanged = Of(hardware=replace(INSERT, flange_diameter_mm=19.0, flange_thickness_mm=1.0), origin="insert")
    plain, tee = Of(hardware=INSERT, origin="plain"), Of(hardware=TEE, origin="tee")
    feet = (footed("none"), footed("plain", plain), footed("tee", tee), footed("flanged", flanged))
    climbers = (footed("guided", plain, Of()), footed("flanged_guided", flanged, Of()))
    deck = part("deck", *holes(ON_DECK, 10.0, 23.0), cut("counterbore", "topside", 9.0, ON_DECK, 13.5))
    found = splits(deck, feet=feet, climbers=())
    # The hole lets the tee nut's body of 10 in, and 23 takes the flange of 22; the insert's body of 13.5 has no bore.
    assert said(found) == [("deck", "corner.tee", "the tee nut's flange", 0.5)] and found[0].origin == "tee"
    wider = part("deck", *holes(ON_DECK, 13.7, 23.0))
    assert said(splits(wider, feet=feet)) == [
        ("deck", "corner.tee", "the tee nut's flange", round(1.85 + 0.5, 9)), ("deck", "corner.flanged", "the insert's flange", round(0.1 + 2.0, 9)),
    ]  # fmt: skip
    bored = part("deck", *holes(ON_DECK, 8.4, 13.5))
    guided = splits(bored, feet=feet[:1], climbers=climbers)
    assert said(guided) == [("deck", name, "the screw", round(0.2 + 0.075, 9)) for name in ("corner.guided", "corner.flanged_guided")]
    assert [item.guide for item in guided] == [True, True] and not any(item.guide for item in found)


def test_parts_cut_from_one_face_have_none() -> None:
    bore, _ = holes(ON_LID, 9.0, 15.0)
    same = part("lid", bore, cut("counterbore", "underside", 5.0, ON_LID, 15.0))
    assert splits(same, drives=(crank(),)) == [] and splits(drives=(crank(),)) == []
    # Only what lies about the bolt's axis counts.
    assert splits(part("lid", *holes((50.001, 20.0), 9.0, 15.0)), drives=(crank(),)) == []


def test_how_far_the_second_face_lies_off() -> None:
    """Twice what the part's own machine is off, else the shop's, and half of 0.1 of slide."""
    lid, hub = part("lid", *holes(ON_LID, 9.0, 15.0)), part("hub", *holes((0.0, 0.0), 10.4, 23.0))
    drive = crank(nut=DriveNut(hardware=TEE, side="above", recessed=mm(2)))

    def wander(*machines: Any) -> list[float]:
        return [round(item.wander_mm, 9) for item in splits(lid, hub, drives=(crank(name=named("other")), drive), machines=machines)]

    assert wander() == [0.25, 0.25]
    assert wander(Of(name=named("router"), hole_position=mm("0.3"))) == [0.65, 0.25]
    assert wander(Of(name=named("router"), hole_position=None)) == [0.25, 0.25]


def test_nearest_side_of_a_pocket() -> None:
    pocket = Feature("pocket", "topside", 5.0, rectangle(20.0, 0.0, 20.0, 10.0), "pocket", "")
    assert [_half_mm(pocket, at) for at in ((30.0, 5.0), (22.0, 5.0), (30.0, 9.0))] == [5.0, 2.0, 1.0]
