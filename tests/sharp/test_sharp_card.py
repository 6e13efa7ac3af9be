"""The inspection card's rows and what a filled card changes: each function alone, figures by hand. Lengths mm."""

from __future__ import annotations

import math
from types import SimpleNamespace as Of
from typing import Any

import pytest
from tests.designs import gear, mm
from tests.designs_feet import captured, crank, riding

from trivet.model.base import Band, Ref
from trivet.solve import inspection
from trivet.solve.contour import Contour, Vertex
from trivet.solve.feature import Feature, Round
from trivet.solve.gear_size import ToothGeometry
from trivet.solve.inspection import _alike, _feature, _lengths, _part, _profile_mm, _sheets, _words
from trivet.solve.inspection_aids import aid_readings
from trivet.solve.inspection_gears import across_flats_mm, over_tips_mm, teeth_readings
from trivet.solve.inspection_holes import BoardHoles, boards_of, spacing_readings
from trivet.solve.inspection_reading import Reading, printed, printed_mm, reading_id


def named(text: str) -> Any:
    return Of(text=text)


def row(kind: Any, row_id: str = "r", of: tuple[str, ...] = ("x",), title: str = "", nominal: float = 10.0, **facts: float) -> Reading:
    return Reading(row_id, "p", "", kind, nominal, facts.get("least", nominal - 0.5), facts.get("most", nominal + 0.3), "", of, title=title)


def limits(item: Reading) -> tuple[float, float, float]:
    return item.nominal_mm, item.nominal_mm - item.least_mm, item.most_mm - item.nominal_mm


def test_printed_figures() -> None:
    assert (printed(12.345, "mm"), printed(25.4, "in"), printed(1.0, "in")) == ("12.35", "1.0000", "0.0394")
    assert printed_mm(12.3449, "mm") == 12.34 and printed_mm(1.0, "in") == pytest.approx(0.0394 * 25.4)
    assert reading_id("deck", "Hole for M8 x 30, corner!") == "deck.hole-for-m8-x-30-corner"
    assert row("tip").renamed("other") == row("tip", "other")


# Gears.
def shaped(shape: ToothGeometry, offset: float = 0.05, run_out: float = 0.0) -> list[Reading]:
    machine = Of(profile_offset=mm(offset), run_out=mm(run_out), name=named("router"))
    parts = Of(machines={"router": machine}, shop=Of(profile_offset_mm=9.0, run_out_mm=9.0))
    context: Any = Of(states={"g": Of(geometry=shape, gear=gear("g", shape.teeth, machine=Ref("router")))}, parts=parts)
    part: Any = Of(part="g.layer1", belongs_to="g")
    return list(teeth_readings(context, part))


def test_span_and_tips() -> None:
    span, tips = shaped(ToothGeometry(20, 4.0, thinning_mm=0.2))
    # W over 3 of 20: m cos a (2.5 π + 20 inv a) − thinning cos a (any book of gear measurement).
    inv = math.tan(math.radians(20)) - math.radians(20)
    assert limits(span) == pytest.approx((math.cos(math.radians(20)) * (4 * (2.5 * math.pi + 20 * inv) - 0.2), 0.1, 0.1))
    assert (span.row, span.part, span.kind, span.of) == ("g.layer1.span", "g.layer1", "span", ("g",)) and "over 3 teeth" in span.measure
    assert limits(tips) == pytest.approx((88.0, 0.1, 0.1)) and (tips.row, tips.kind, tips.of, tips.measure) == ("g.layer1.tips", "tip", ("g",), "over the tips")
    assert (span.why, tips.why) == ("profile_offset on two flanks", "profile_offset on two sides")
    odd = shaped(ToothGeometry(21, 4.0), 0.05, 0.04)
    # Offsets of 0.05 and half of 0.04 on both.
    assert limits(odd[0])[1:] == pytest.approx((0.14, 0.14)) and odd[0].why == "profile_offset and run_out on two flanks"
    assert odd[1].measure.endswith("the other on two")
    # Stub teeth end below the jaws: √(15.04² + 9.1²) = 17.6 over tips of 16.8; on those of 17.8 they rest.
    assert [item.kind for item in shaped(ToothGeometry(8, 4.0, addendum_coefficient=0.2))] == ["tip"]
    assert [item.kind for item in shaped(ToothGeometry(8, 4.0, addendum_coefficient=0.45))] == ["span", "tip"]


def test_over_odd_tips() -> None:
    shape = ToothGeometry(21, 4.0)
    # Corners of the two far tips, seen from the axis: π/21 less half of what a tip spans.
    half = shape.thickness_at(46.0) / 2 / 46.0
    assert over_tips_mm(shape) == pytest.approx(46.0 + 46.0 * math.cos(math.pi / 21 - half)) and over_tips_mm(ToothGeometry(22, 4.0)) == 96.0


def test_across_flats_wherever_it_lies() -> None:
    corners = [(5.0 + 8 * math.cos(math.radians(a)), 2.0 + 8 * math.sin(math.radians(a))) for a in range(10, 370, 60)]
    assert across_flats_mm(Contour(tuple(Vertex(*at) for at in corners))) == pytest.approx(8 * math.sqrt(3))
    # The least distance counts; rounded corners do not, nor pieces of no length.
    half = [(2.0, -6.7), (8.0, -6.7, 0.4), (10.0, -4.7), (10.0, 4.7, 0.4), (8.0, 6.7)]
    box = [*half, (-8.0, 6.7, 0.4), (-10.0, 4.7), (-10.0, -4.7, 0.4), (-8.0, -6.7), (2.0, -6.7)]
    assert across_flats_mm(Contour(tuple(Vertex(*at) for at in box))) == pytest.approx(13.4)


# Aids and holes.
def aid(*rounds: Round, quantity: int = 3) -> list[Reading]:
    features = tuple(Feature("bore", "topside", None, item, f"hole {k}, 9 mm", "") for k, item in enumerate(rounds))
    outline = Contour((Vertex(0.0, 2.0), Vertex(80.0, 2.0), Vertex(80.0, 14.5), Vertex(0.0, 14.5)))
    context: Any = Of(design=Of(shop=Of(profile_offset_mm=0.05, hole_position_mm=0.15)))
    return list(aid_readings(context, Of(part="aid", features=features, quantity=quantity, outline=outline)))


def test_shop_aids() -> None:
    (height,) = aid()
    assert (height.row, height.kind, height.alike) == ("aid.height", "aid", 3) and limits(height) == pytest.approx((12.5, 0.1, 0.1))
    (bore,) = aid(Round(0.0, 0.0, 9.0))
    assert (bore.row, bore.measure, bore.alike) == ("aid.bore", "hole 0: diameter", 3) and limits(bore) == pytest.approx((9.0, 0.1, 0.1))
    one, two, over = aid(Round(-30.0, 0.0, 9.0), Round(40.0, 0.0, 6.0))
    assert (one.row, two.row, over.row, two.measure) == ("aid.hole.1", "aid.hole.2", "aid.centres", "hole 1: diameter")
    # 70 + (9 + 6)/2; two holes out of place by 0.15 each, and 0.1 round both.
    assert limits(over) == pytest.approx((77.5, 0.4, 0.4)) and over.alike == 1
    assert [item.row for item in aid(*(Round(10.0 * k, 0.0, 5.0) for k in range(3)))] == ["aid.hole.1", "aid.hole.2", "aid.hole.3"]


def drilled(*holes: tuple[float, float, float], operation: Any = "bore") -> Any:
    features = tuple(Feature(operation, "topside", None, Round(x, y, d), f"hole {x:g}", "") for x, y, d in holes)
    return Of(part="deck", belongs_to="", kind="board", features=features)


def test_narrowest_hole_about_a_place() -> None:
    place: Any = Of(x_mm=100.0, y_mm=50.0)
    found = BoardHoles(drilled((10.0, 20.0, 9.0), (10.0, 20.0, 6.0), (30.0, 40.0, 5.0)), place)
    for x, y in ((110.0, 70.0), (109.9992, 70.0), (110.0, 70.0009), (110.0, 69.9992)):
        hole = found.at(x, y)
        assert hole is not None and isinstance(hole.shape, Round) and hole.shape.diameter_mm == 6.0
    assert found.at(110.0011, 70.0) is None and found.at(10.0, 20.0) is None
    assert BoardHoles(drilled((10.0, 20.0, 9.0), operation="pocket"), place).at(110.0, 70.0) is None


@pytest.mark.parametrize(
    ("machine", "either"),
    [(None, 0.4), (Of(hole_position=mm("0.3"), profile_offset=None), 0.7), (Of(hole_position=None, profile_offset=mm("0.2")), 0.7)],
)
def test_spacing_over_pins(machine: Any, either: float) -> None:
    board = Of(x_mm=100.0, y_mm=50.0, machine=None if machine is None else named("router"))
    states = {"a": Of(x_mm=110.0, y_mm=70.0), "b": Of(x_mm=140.0, y_mm=110.0), "c": Of(x_mm=0.0, y_mm=0.0)}
    meshes = tuple(Of(id=f"{a}-{b}", a=a, b=b) for a, b in ("ab", "bc", "ca"))
    context: Any = Of(
        design=Of(shop=Of(hole_position_mm=0.15, profile_offset_mm=0.05), units="mm"), derived=Of(train=Of(meshes=meshes)), states=states,
        parts=Of(machines={"router": machine}, boards={"deck": board}),
    )  # fmt: skip
    part = drilled((10.0, 20.0, 9.0), (40.0, 60.0, 6.0))
    (found,) = spacing_readings(context, (Of(kind="gear", part="g"), part, part))
    # 30 and 40 aside: 50, and half of 9 and 6.
    assert limits(found) == pytest.approx((57.5, either, either))
    assert (found.row, found.part, found.kind, found.of) == ("a-b.centres", "deck", "spacing", ("a-b", "hole 10", "hole 40"))
    assert "(9 mm and 6 mm)" in found.measure and len(boards_of(context, (part, part))) == 2


# Features.
def told(feature: Feature, kind: str = "board", count: int = 1, bore_clearance: float = 0.2, offset: float = 0.05) -> list[Reading]:
    shop = Of(profile_offset_mm=offset, bore_clearance_mm=bore_clearance, depth_mm=0.2)
    context: Any = Of(parts=Of(boards={"deck": Of(machine=None)}, machines={}), states={}, design=Of(shop=shop))
    return list(_feature(context, Of(part="deck", belongs_to="", kind=kind), feature, count))


def bore(diameter: float = 8.0, depth: float | None = None, cutter: float = 6.0, title: str = "hole for corner.nw, 8 mm") -> Feature:
    return Feature("bore", "topside", depth, Round(0.0, 0.0, diameter), title, "", cutter)


def test_readings_of_holes() -> None:
    (hole,) = told(bore(), count=2)
    assert (hole.row, hole.kind, hole.alike, hole.title, hole.of) == ("deck.hole-for-corner", "hole", 2, "hole for corner.nw, 8 mm", ("deck",))
    assert hole.measure == "hole for corner: diameter, 2 alike: measure each" and limits(hole) == pytest.approx((8.0, 0.1, 0.1))
    assert told(bore())[0].measure == "hole for corner: diameter"
    # A twist drill: 0.05 under and 0.2 over (common practice, no source).
    assert limits(told(bore(5.0))[0]) == pytest.approx((5.0, 0.05, 0.2))
    # A gear's bore may use up its clearance at most.
    own = told(bore(title="bore for pin of west, 8 mm"), "gear", bore_clearance=0.08)[0]
    assert own.kind == "bore" and own.row == "deck.bore" and limits(own) == pytest.approx((8.0, 0.08, 0.1))
    for clearance in (0.1, 0.2):
        assert limits(told(bore(), "gear", bore_clearance=clearance)[0]) == pytest.approx((8.0, 0.1, 0.1))
    assert limits(told(bore(), bore_clearance=0.08)[0]) == pytest.approx((8.0, 0.1, 0.1))
    blind = told(bore(depth=12.0), count=3)
    assert [item.row for item in blind] == ["deck.hole-for-corner", "deck.hole-for-corner.depth"] and limits(blind[1]) == pytest.approx((12.0, 0.2, 0.2))
    assert (blind[1].kind, blind[1].of, blind[1].alike) == ("depth", ("deck", "topside"), 3)
    hexagon = Contour(tuple(Vertex(8 * math.cos(a * math.pi / 3), 8 * math.sin(a * math.pi / 3)) for a in range(6)))
    flats, depth = told(Feature("pocket", "underside", 5.8, hexagon, "hex pocket, 13.86 mm across flats", ""))
    assert (flats.row, flats.kind) == ("deck.hex-pocket.flats", "flats") and limits(flats) == pytest.approx((8 * math.sqrt(3), 0.1, 0.1))
    assert depth.row == "deck.hex-pocket.depth" and depth.of == ("deck", "underside")
    assert told(Feature("opening", "topside", None, hexagon, "opening", "")) == []
    assert [item.kind for item in told(Feature("counterbore", "topside", 6.0, Round(0, 0, 20.0), "recess", ""))] == ["depth"]


def test_features_that_share_a_row() -> None:
    board: Any = Of(part="deck", belongs_to="", kind="board")
    same = bore(), bore(title="hole for corner.se, 8 mm"), Feature("bore", "underside", None, Round(9, 9, 8.0), "hole for corner.x, 8 mm", "")
    assert len({_alike(board, item) for item in same}) == 1
    assert len({_alike(board, item) for item in (bore(), bore(8.00001), bore(depth=5.0), bore(title="hole for pin, 8 mm"))}) == 4
    assert _alike(board, bore()) == _alike(board, bore(8.0 + 1e-8))
    assert _words(board, bore()) == "hole for corner" and _words(Of(kind="gear"), bore()) == "hole for corner.nw"
    shop = Of(profile_offset_mm=0.05, bore_clearance_mm=0.2, depth_mm=0.2)
    context: Any = Of(parts=Of(boards={"deck": Of(machine=None)}, machines={}), states={}, design=Of(shop=shop))
    letters = Feature("engrave", "topside", 0.3, Round(0, 0, 1.0), "letters", "")
    board.features = (*same, letters, bore(9.0))
    assert [(item.nominal_mm, item.alike) for item in _part(context, board)] == [(8.0, 3), (9.0, 1)]
    # A row has the title of the first of its features.
    assert [item.title for item in _part(context, board)] == ["hole for corner.nw, 8 mm"] * 2


def test_rows_of_one_id_are_numbered(monkeypatch: pytest.MonkeyPatch) -> None:
    for name, made in (
        ("part_context", lambda *given: None), ("part_features", lambda *given: ("part",)), ("_sheets", lambda *given: [row("tip", "a"), row("tip", "b")]),
        ("_part", lambda *given: [row("tip", "a")]), ("spacing_readings", lambda *given: [row("tip", "a")]), ("_lengths", lambda *given: [row("tip", "c")]),
    ):  # fmt: skip
        monkeypatch.setattr(inspection, name, made)
    assert [item.row for item in inspection.readings(None, None)] == ["a", "b", "a.2", "a.3", "c"]


def test_profile_errors_of_machines() -> None:
    router, bare = Of(profile_offset=mm("0.2")), Of(profile_offset=None)
    context: Any = Of(
        parts=Of(boards={"deck": Of(machine=named("router")), "lid": Of(machine=named("bare"))}, machines={"router": router, "bare": bare}),
        states={"g": Of(gear=Of(machine=named("router")))}, design=Of(shop=Of(profile_offset_mm=0.05)),
    )  # fmt: skip
    wanted = {("deck", ""): 0.2, ("lid", ""): 0.05, ("g", ""): 0.2, ("g.layer2", "g"): 0.2, ("keeper", ""): 0.05}
    for (part, whole), offset in wanted.items():
        assert _profile_mm(context, Of(part=part, belongs_to=whole)) == offset


def test_sheets_and_lengths() -> None:
    sheets = tuple(Of(name=named(name), thickness=Band(18.0, 17.6, 18.3)) for name in ("ply", "spare"))
    (found,) = _sheets(Of(sheets=sheets, units="mm"), (Of(sheet=sheets[0]),))
    assert (found.row, found.kind, found.of) == ("ply.thickness", "thickness", ("ply",)) and limits(found) == pytest.approx((18.0, 0.4, 0.3))
    assert " 50 mm from" in found.measure and "2 in (50 mm)" in next(_sheets(Of(sheets=sheets, units="in"), (Of(sheet=sheets[0]),))).measure

    def bolt(of: Any, cut: float | None, least: float, most: float, fits: bool = True) -> Any:
        return Of(part="b", of=of, cut_to_mm=cut, least_mm=least, most_mm=most, fits=fits, room_ends_at="")

    sleeve = (Of(id="pin.a", sleeve_length_mm=17.8), Of(id="pin.b", sleeve_length_mm=None))
    bolts = (
        bolt(crank(), 43.0, 42.0, 44.0), bolt(crank(), 43.0, 43.5, 42.5), bolt(crank(), 43.0, 42.0, math.inf), bolt(crank(), None, 1.0, 2.0),
        bolt(crank(), 43.0, 1.0, 2.0, False), bolt(riding(), 29.0, 20.0, 29.25), bolt(captured(), 60.0, 50.0, 62.0),
    )  # fmt: skip
    lengths = list(_lengths(Of(bolts=bolts, pivots=sleeve)))
    # Sawn ± 0.5, a sleeve ± 0.1 (common practice, no source).
    wanted = ((43, 1, 1), (43, 0, 0.0), (43, 1, 0.5), (29, 0.5, 0.25), (60, 0.5, 2), (17.8, 0.1, 0.1))
    for item, limit in zip(lengths, wanted, strict=True):
        assert limits(item) == pytest.approx(limit)
    assert [item.measure for item in lengths[2:5]] == ["length under the head, as cut"] * 2 + ["length overall, as cut"]
    assert [item.row for item in lengths[4:]] == ["b.length", "pin.a.sleeve"]
    assert [item.why.split(";")[0] for item in lengths[2:4]] == ["longest stack", "below, it takes travel"]
