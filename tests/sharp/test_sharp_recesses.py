"""A gear as a part, piece by piece: its recesses, bore, openings, marks and the words about its teeth. Figures by hand. Lengths mm."""

from __future__ import annotations

import math
from types import SimpleNamespace as Of
from typing import Any

import pytest
from tests.designs import gear, mm, q
from tests.designs_feet import CAP, HEX, JAM, LARGE_WASHER, NUT, PAN, captured, crank, hex_screw, pin, riding, sliding

from trivet.model.base import Band
from trivet.model.train import DriveNut, Web
from trivet.solve import gear_features
from trivet.solve.contour_shapes import circle, hexagon, rectangle
from trivet.solve.feature import Feature, Round
from trivet.solve.gear_outline import gear_outline
from trivet.solve.gear_recesses import gear_recesses, owner_of
from trivet.solve.gear_size import ToothGeometry
from trivet.solve.part_context import PartContext
from trivet.solve.web_openings import WebRoom

TEETH = ToothGeometry(20, 6.0, thinning_mm=0.5)


def state(made: Any, shaft: str = "", foot_id: str = "", **facts: Any) -> Any:
    given: dict[str, Any] = {"geometry": TEETH, "phase_rad": 0.0, "hole_mm": 8.2, "hole_because": "why"} | facts
    return Of(id=made.name.text, gear=made, shaft=shaft, foot_id=foot_id, face_width=Band(18.0, 17.8, 18.2), cutter_diameter_mm=4.0, **given)


def context(*stack: Any, holder: str = "", units: str = "mm", held: Any = None, **parts: Any) -> PartContext:
    """One shaft, its gears from the top, with what its holder names."""
    holds: Any = Of(**{"drives": {"crank": parts.get("drive")}, "pivots": {"pin": parts.get("pivot")}, "feet": {"corner": parts.get("foot")}})
    feet = {} if held is None else {holder or stack[0].id: held}
    design: Any = Of(units=units, shop=Of(depth_mm=0.2))
    made: Any = Of()
    return PartContext(design, made, holds, made, {item.id: item for item in stack}, {holder or stack[0].id: stack}, feet, {})


def cuts(found: tuple[Feature, ...]) -> list[tuple[str, str, float | None, float | None]]:
    """Operation, face, depth and diameter; a hexagon has none."""
    return [(item.operation, item.face, item.depth_mm, round(item.shape.diameter_mm, 3) if isinstance(item.shape, Round) else None) for item in found]


HUB = state(gear("hub", 16, drive=True), "hub")
UPPER, LOWER = state(gear("up", 12, shaft="hub"), "hub"), state(gear("down", 30, shaft="hub"), "hub")


def nut(side: str, depth: float | None = 6.0, wide: float | None = 24.0, hardware: Any = NUT) -> DriveNut:
    return DriveNut(hardware=hardware, side=side, recessed=None if depth is None else mm(depth), round=None if wide is None else mm(wide))


ABOVE, BELOW = ("counterbore", "topside", 6.0, 24.0), ("counterbore", "underside", 6.0, 24.0)
UNDER, OVER = ({"washer": LARGE_WASHER, "washer_places": (side,)} for side in ("below", "above"))
JAMMED = ("counterbore", "underside", 5.0, 21.0)


@pytest.mark.parametrize(
    ("facts", "upper", "middle", "lower"),
    [
        ({"nut": nut("above"), "jam_nut": None}, [ABOVE], [], []),
        ({"nut": nut("below"), "jam_nut": None}, [], [], [BELOW]),
        ({"nut": nut("above"), "jam_nut": nut("below", 5, 21)}, [ABOVE], [], [JAMMED]),
        # Of two on one side the first, which bears on the gear; where that has none, the second.
        ({"nut": nut("below"), "jam_nut": nut("below", 5, 21)}, [], [], [BELOW]),
        ({"nut": nut("below", None), "jam_nut": nut("below", 5, 21)}, [], [], [JAMMED]),
        ({"nut": nut("above", None), "jam_nut": nut("below", 5, 21)}, [], [], [JAMMED]),
        # A washer of 18 lies in the recess where it lies on that side.
        ({"nut": nut("below", wide=None), "jam_nut": None, **UNDER}, [], [], [("counterbore", "underside", 6.0, 19.0)]),
        ({"nut": nut("below", wide=None), "jam_nut": None, **OVER}, [], [], [("pocket", "underside", 6.0, None)]),
        ({"nut": nut("above", wide=None), "jam_nut": None, **OVER}, [("counterbore", "topside", 6.0, 19.0)], [], []),
    ],
)  # fmt: skip
def test_nuts_of_a_drive(facts: dict[str, Any], upper: list[Any], middle: list[Any], lower: list[Any]) -> None:
    made = context(UPPER, HUB, LOWER, holder="hub", drive=crank(**facts))
    assert [cuts(gear_recesses(made, item)) for item in (UPPER, HUB, LOWER)] == [upper, middle, lower]
    alone = context(HUB, drive=crank(**facts))
    assert cuts(gear_recesses(alone, HUB)) == upper + lower


def test_heads_of_pivots() -> None:
    idler = state(gear("west", 20))
    low = state(gear("low", 20, shaft="west"), "west")
    made = context(idler, low, holder="west", pivot=pin())
    # A washer of 18 lies under the head of 12.
    assert (gear_recesses(made, idler), cuts(gear_recesses(made, low))) == ((), [("counterbore", "underside", 7.0, 19.0)])
    assert gear_recesses(made, low)[0].title == "counterbore for head and washer of pin.west, 19.00 mm"
    upper = context(idler, pivot=pin(washer_places=("above",)))
    assert cuts(gear_recesses(upper, idler)) == [("counterbore", "underside", 7.0, PAN.diameter_mm + 1.0)]
    assert gear_recesses(context(idler, pivot=pin(head_recessed=None)), idler) == ()


CARRIER = state(gear("nw", 20, foot=True), "nw", "corner.nw")
RIDER = state(gear("on", 12, shaft="nw"), "nw")


@pytest.mark.parametrize(
    ("foot", "pocket", "found"),
    [
        (riding(), None, [("pocket", "underside", 5.8, None)]), (riding(), 7.0, [("pocket", "underside", 7.0, None)]),
        (riding(pocket=None), None, []), (riding(screw=None), 7.0, []), (riding(), 0.0, []),
        # A round head with 0.1 of room where it is glued and 0.4 where it slides.
        (riding(screw=hex_screw(head=CAP)), 7.0, [("counterbore", "underside", 7.0, 13.37)]),
        (sliding(screw=hex_screw(head=CAP)), 7.0, [("counterbore", "underside", 14.0, 13.67)]),
        (sliding(), 7.0, [("pocket", "underside", 14.0, None)]), (sliding(socket_depth=None), 7.0, []), (sliding(screw=None), 7.0, []),
        (captured(), None, [("pocket", "underside", 6.8, None)]), (captured(), 9.0, [("pocket", "underside", 9.0, None)]),
        (captured(nut_pocket="topside"), None, [("pocket", "topside", 6.8, None)]), (captured(pocket=mm(8)), None, [("pocket", "underside", 8.0, None)]),
        (captured(nut_pocket=None), None, [("pocket", "underside", 6.8, None)]), (captured(nut=None), 9.0, []),
    ],
)  # fmt: skip
def test_what_a_foot_lets_in(foot: Any, pocket: float | None, found: list[Any]) -> None:
    from trivet.solve.hex_pocket import GLUED_ROOM_MM, SLIDING_ROOM_MM

    wide = {13.37: 13.27 + GLUED_ROOM_MM, 13.67: 13.27 + SLIDING_ROOM_MM}
    wanted = [(*row[:3], None if row[3] is None else round(wide[row[3]], 3)) for row in found]
    made = context(CARRIER, holder="nw", foot=foot, held=None if pocket is None else Of(pocket_mm=pocket))
    assert cuts(gear_recesses(made, CARRIER)) == wanted
    unknown = context(CARRIER, holder="nw", foot=foot, held=Of(pocket_mm=None))
    assert pocket is not None or cuts(gear_recesses(unknown, CARRIER)) == wanted


def test_hexagons_and_their_words() -> None:
    """Glued they have less room than where they slide; the nut's is named by the nut."""
    found = [gear_recesses(context(CARRIER, holder="nw", foot=foot), CARRIER)[0] for foot in (riding(), sliding(), captured())]
    assert [item.title.partition(",")[0] for item in found] == [
        "hex pocket for the head of corner.nw", "hex socket for the head of corner.nw", "hex pocket for the nut of corner.nw"
    ]  # fmt: skip
    glued, slides, round_ = (item.shape for item in found)
    # They lie about the axis.
    for item in (glued, slides, round_):
        x0, y0, x1, y1 = item.bounds
        assert (x0, y0) == (pytest.approx(-x1), pytest.approx(-y1))
    assert slides.bounds[2] > glued.bounds[2] == pytest.approx(round_.bounds[2])


def test_heads_lie_in_the_lowest_gear_and_nuts_in_their_own() -> None:
    for kind, held in ((riding(), [False, True]), (sliding(), [True, False]), (captured(), [True, False])):
        made = context(CARRIER, RIDER, holder="nw", foot=kind)
        assert [bool(gear_recesses(made, item)) for item in (CARRIER, RIDER)] == held
    made = context(RIDER, CARRIER, holder="nw", foot=captured())
    assert [bool(gear_recesses(made, item)) for item in (RIDER, CARRIER)] == [False, True]


def test_whose_a_gear_is() -> None:
    made = context(UPPER, HUB, LOWER, holder="hub", drive=crank())
    assert [owner_of(made, item) for item in (UPPER, HUB, LOWER)] == ["crank.hub"] * 3
    idler, loose = state(gear("west", 20)), state(Of(name=Of(text="free"), turned_by=None, turns_on=None, carries=None))
    assert owner_of(context(idler, pivot=pin()), idler) == "pin.west"
    assert owner_of(context(CARRIER, RIDER, holder="nw", foot=riding()), RIDER) == "corner.nw"
    assert owner_of(context(loose), loose) == "free" and gear_recesses(context(loose), loose) == ()
    unnamed = state(gear("sw", 20, foot=True))
    assert owner_of(context(unnamed, foot=riding()), unnamed) == "corner.sw"


def feature(shape: Any) -> Feature:
    return Feature("pocket", "underside", 5.0, shape, "", "")


def test_reach_of_what_is_let_in() -> None:
    """A relief passes through its corner, so it reaches no further than the sharp one; beside the axis the far side counts."""
    corner = 26.0 / math.sqrt(3.0)
    for turn in (0.0, 10.0, 40.0):
        made = (hexagon(0.0, 0.0, 26.0, math.radians(turn)), hexagon(0.0, 0.0, 26.0, math.radians(turn), 2.0))
        assert [gear_features._reach_mm(feature(shape)) for shape in made] == pytest.approx([corner, corner])
    assert gear_features._reach_mm(feature(Round(0.0, 0.0, 24.0))) == 12.0
    assert gear_features._reach_mm(feature(rectangle(-4.0, -2.0, 7.0, 5.0))) == pytest.approx(5.0)
    assert gear_features._reach_mm(feature(circle(0.0, 3.0, 5.0))) == pytest.approx(8.0)


def test_bore_of_a_gear() -> None:
    (found,) = gear_features._bore(context(HUB, drive=crank()), HUB)
    assert (found.operation, found.face, found.depth_mm, found.shape, found.because, found.cutter_diameter_mm) == (
        "bore", "underside", None, Round(0.0, 0.0, 8.2), "why", 4.0
    )  # fmt: skip
    assert found.title == "bore for crank.hub, 8.20 mm"
    narrow, none = (state(HUB.gear, "hub", hole_mm=hole) for hole in (0.5, 0.0))
    assert len(gear_features._bore(context(HUB, drive=crank()), narrow)) == 1 and gear_features._bore(context(HUB, drive=crank()), none) == ()


def test_openings_say_what_they_are() -> None:
    webbed = state(gear("hub", 16, drive=True, web=Web(form="holes", count=q(5), size=mm(20), origin=None)), "hub")
    shapes = (Round(20.0, 0.0, 18.0), circle(20.0, 0.0, 9.0))
    found = [gear_features._opening(context(webbed), webbed, shape, WebRoom(12.0, 40.5)) for shape in shapes]
    assert [item.title for item in found] == ["opening in the web of hub, 18.00 mm", "opening between spokes of hub"]
    assert all(item.because.endswith(": 28.5 mm between them") and "rim of at least 6 mm and" in item.because for item in found)
    assert [(item.operation, item.face, item.depth_mm) for item in found] == [("opening", "underside", None)] * 2
    crossed = gear_features._opening(context(webbed), webbed, shapes[0], WebRoom(40.0, 12.0))
    assert crossed.because.endswith(": 0 mm between them")


@pytest.mark.parametrize(
    ("units", "title"),
    [
        # 20 teeth of module 6: 120 and 12 over the tips, a dedendum of 7.5 twice less; 25.4/6 teeth to the inch.
        ("mm", "teeth of nw: 20, module 6 mm, 132 mm over the tips, 105 mm over the roots"),
        ("in", "teeth of nw: 20, diametral pitch 4.233 per in, 5.197 in over the tips, 4.134 in over the roots"),
    ],
)
def test_title_of_a_gears_teeth(units: str, title: str) -> None:
    outline = gear_outline(TEETH, 1.0)
    assert gear_features._teeth_title(context(CARRIER, units=units), CARRIER, outline) == title


@pytest.mark.parametrize(
    ("phase", "shift", "at"), [(0.0, 0.0, "0.000"), (20.0, 0.0, "2.000"), (-1.0, 0.25, "17.000"), (18.0, 0.0, "0.000")]
)
def test_words_about_a_gears_teeth(phase: float, shift: float, at: str) -> None:
    """20 teeth stand 18 degrees apart."""
    words = f"one tooth at {at} deg"
    teeth = ToothGeometry(20, 6.0, profile_shift=shift, thinning_mm=0.5)
    item = state(gear("nw", 20, foot=True), "nw", geometry=teeth, phase_rad=math.radians(phase))
    said = [gear_features._teeth(context(item), item, gear_outline(teeth, radius)) for radius in (1.0, 6.0)]
    assert all(words in one and "pressure angle 20 deg" in one and "thinned 0.5 mm" in one and "the 4 mm cutter leaves" in one for one in said)
    assert all((", profile shift 0.25," in one) is (shift > 0.0) for one in said)
    assert "a round in each corner of the root" in said[0] and "one round in each space" in said[1]


def test_a_hexagon_head_has_flats() -> None:
    assert HEX.across_flats_mm == JAM.across_flats_mm == 13.0 and CAP.across_flats_mm is None
