"""What is cut into each part: hand-computed places and sizes, and every thing of the model drawn once."""

from __future__ import annotations

import math
from pathlib import Path

import pytest
from tests.designs import design, gear, mm, q, ring, tooth_form
from tests.designs_feet import JAM, crank, pin, riding, riser, sliding
from tests.part_samples import EXAMPLES, example, parts_of, polygon, titled

from trivet.model.base import Ref
from trivet.model.board import Board, Dowel, Hole, Pocket, Spacer
from trivet.model.foot import Guide
from trivet.model.outline import Outline, OutlineVertex, Placed
from trivet.model.shop import Cutter
from trivet.model.train import Dial, DriveNut, Web
from trivet.record import replace
from trivet.solve.contour import Contour
from trivet.solve.contour_faults import contour_faults, duplicate_contours
from trivet.solve.contour_shapes import circle
from trivet.solve.feature import Feature, Round, Stroke
from trivet.solve.train import solve_train

# Hub at (240, 175), module 6: hub 16 and idlers 20 mesh at 6 * 36 / 2 = 108 mm, idlers and feet at 6 * 40 / 2 = 120 mm.
FOOT_AT = {
    "nw": (132 + 120 * math.cos(math.radians(118)), 175 + 120 * math.sin(math.radians(118))),
    "sw": (132 + 120 * math.cos(math.radians(242)), 175 + 120 * math.sin(math.radians(242))),
    "ne": (348 + 120 * math.cos(math.radians(62)), 175 + 120 * math.sin(math.radians(62))),
    "se": (348 + 120 * math.cos(math.radians(298)), 175 + 120 * math.sin(math.radians(298))),
}
DECK = Board(
    name=Ref("deck"),
    stock=Ref("ply"),
    cutter=Ref("straight"),
    outline=Outline(shape="rectangle", width_mm=480.0, height_mm=350.0),
)


def _only(found: list[Feature]) -> Feature:
    assert len(found) == 1, [item.title for item in found]
    return found[0]


def _round(feature: Feature) -> tuple[float, float, float]:
    assert isinstance(feature.shape, Round)
    return feature.shape.x_mm, feature.shape.y_mm, feature.shape.diameter_mm


def _across(feature: Feature) -> float:
    from shapely import Point

    assert isinstance(feature.shape, Contour)
    return 2 * float(polygon(feature.shape).exterior.distance(Point(0, 0)))


def test_deck_of_the_riser() -> None:
    deck = parts_of(riser(riding()))["deck"]
    for name, (x, y) in FOOT_AT.items():
        hole = _only(titled(deck, f"hole for the insert of corner.{name}"))
        assert _round(hole) == pytest.approx((x, y, 13.5), abs=1e-6)
        assert (hole.operation, hole.face, hole.depth_mm) == ("bore", "underside", None)
    drive = _only(titled(deck, "hole for the drive bolt"))
    assert _round(drive) == pytest.approx((240, 175, 8.4)) and drive.through
    head = _only(titled(deck, "counterbore for the head of crank.hub"))
    assert _round(head) == pytest.approx((240, 175, 13.27 + 1)) and (head.face, head.depth_mm) == ("topside", 9.0)
    pilots = titled(deck, "pilot hole")
    assert [_round(item) for item in pilots] == [pytest.approx((348, 175, 5)), pytest.approx((132, 175, 5))]
    # Under the board at least: thin washers 1.4 and 1.4, a thin gear over a deep recess 17.6 - 7.2 = 10.4, play 0.3: 13.5 mm. A screw of
    # 25 mm then reaches 11.5 mm into the board.
    assert {item.depth_mm for item in pilots} == {11.5} and {item.face for item in pilots} == {"underside"}
    assert len(deck.features) == 4 + 2 + 2 and deck.faces == ("underside", "topside")
    assert polygon(deck.outline).bounds == pytest.approx((0, 0, 480, 350))


def test_gears_of_the_riser() -> None:
    parts = parts_of(riser(riding()))
    foot = parts["nw"]
    bore, pocket = foot.features
    assert _round(bore) == pytest.approx((0, 0, 8.2), abs=1e-9) and bore.title == "bore for corner.nw, 8.20 mm"
    # Cutter 4 mm, head 13 mm taken sharp: 13 + 0.268 * 2 and 0.1 of room.
    assert _across(pocket) == pytest.approx(13 + 0.268 * 2 + 0.1, abs=2e-3)
    assert (pocket.operation, pocket.face, pocket.depth_mm) == ("pocket", "underside", 5.8)
    assert foot.datum == "underside" and foot.faces == ("underside",)
    hub = parts["hub"]
    assert _round(hub.features[0]) == pytest.approx((0, 0, 10.0)), "the tee nut's barrel"
    assert _round(hub.features[1]) == pytest.approx((0, 0, 24.0)) and hub.features[1].depth_mm == 6.0
    head = parts["west"].features[1]
    assert _round(head) == pytest.approx((0, 0, 18.0 + 1)) and (head.face, head.depth_mm) == ("underside", 7.0)
    assert parts["west"].features[1].operation == "counterbore"


def test_hexagonal_nut_and_tee_nut_flange_recesses() -> None:
    hexagonal = crank(jam_nut=DriveNut(hardware=JAM, side="below", recessed=mm(4)))
    recess = _only(titled(parts_of(riser(riding(), drives=(hexagonal,)))["hub"], "hex recess"))
    assert _across(recess) == pytest.approx(13 + 0.268 * 2 + 0.1, abs=2e-3) and recess.depth_mm == 4.0
    sunk = crank(nut=crank().nut.model_copy(update={"recessed": mm(2)}))
    flange = _only(titled(parts_of(riser(riding(), drives=(sunk,)))["hub"], "recess for the tee nut's flange"))
    assert _round(flange) == pytest.approx((0, 0, 22 + 1)) and (flange.face, flange.depth_mm) == ("topside", 2.0)


def test_dial_marks_are_an_equal_turn_apart_on_the_topside() -> None:
    dial = crank(dial=Dial(marks=q(8), diameter=mm(40)))
    marks = titled(parts_of(riser(riding(), drives=(dial,)))["deck"], "dial mark")
    angles = []
    for mark in marks:
        assert isinstance(mark.shape, Stroke) and mark.face == "topside" and mark.operation == "engrave"
        assert math.hypot(mark.shape.x2_mm - 240, mark.shape.y2_mm - 175) == pytest.approx(20)
        angles.append(math.degrees(math.atan2(mark.shape.y2_mm - 175, mark.shape.x2_mm - 240)) % 360)
    assert angles == pytest.approx([90, 45, 0, 315, 270, 225, 180, 135])


def test_topside_datum_drills_pivots_through() -> None:
    boards = (DECK.model_copy(update={"datum": "topside"}),)
    deck = parts_of(riser(riding(), boards=boards))["deck"]
    assert all(item.through and item.face == "topside" for item in titled(deck, "pilot hole"))
    assert deck.faces == ("topside",)
    bolted = pin(bolt=True, nut=DriveNut(hardware=JAM, side="above", recessed=mm(4), round=mm(20)), drill=None)
    holes = parts_of(riser(riding(), pivots=(bolted,)))["deck"]
    # ST6.3 is 6.25 mm; the shop's bore clearance is 0.2 mm.
    assert [_round(item)[2] for item in titled(holes, "hole for pin.")] == [pytest.approx(6.45)] * 2
    assert len(titled(holes, "round recess for the nut of pin.")) == 2


def test_guide_bore_takes_the_wood_the_insert_leaves() -> None:
    guided = {"guide": Guide(clearance=mm("0.2"), length=mm(9))}
    short = replace(riding().insert.hardware, length_mm=8.0, live_to_mm=8.0)
    deck = parts_of(riser(riding(short, driven_from="underside", **guided)))["deck"]
    assert [_round(item)[2] for item in titled(deck, "guide bore")] == [pytest.approx(8.2)] * 4
    assert {item.depth_mm for item in titled(deck, "hole for the insert")} == {8.0}
    through = parts_of(riser(riding(**guided)))["deck"]
    assert not titled(through, "guide bore") and "no wood left for the guide bore of corner.nw" in " ".join(through.notes)


def test_flanged_insert_is_let_in() -> None:
    flanged = replace(riding().insert.hardware, flange_diameter_mm=20.0, flange_thickness_mm=1.5)
    deck = parts_of(riser(riding(flanged, driven_from="underside")))["deck"]
    recess = titled(deck, "recess for the flange")
    assert {(item.face, item.depth_mm, _round(item)[2]) for item in recess} == {("underside", 1.5, 21.0)} and len(recess) == 4
    # Driven from the topside to lie flush below, its flange lies 17.8 - 15 = 2.8 mm deep.
    deep = titled(parts_of(riser(riding(flanged)))["deck"], "recess for the flange")
    assert [(item.face, item.depth_mm) for item in deep] == [("topside", pytest.approx(2.8 + 1.5))] * 4


def test_layers_share_a_deep_socket() -> None:
    feet = {"layers": 2, "carries": Ref("corner"), "turns_on": None}
    base = riser(sliding(socket_depth=mm(20)))
    gears = tuple(item.model_copy(update=feet) if item.carries else item for item in base.gears)
    parts = parts_of(base.model_copy(update={"gears": gears}))
    upper, lower = parts["nw.layer1"], parts["nw.layer2"]
    pocket = _only(titled(upper, "hex socket"))
    assert pocket.depth_mm == pytest.approx(20 - 17.8) and pocket.operation == "pocket"
    assert _only(titled(upper, "bore for corner.nw")).through
    hexagon = _only(titled(lower, "hex socket"))
    assert hexagon.through and hexagon.operation == "opening" and not titled(lower, "bore for corner.nw")
    # Free to slide: 0.2 mm of room where a glued head has 0.1.
    assert _across(hexagon) == pytest.approx(13 + 0.268 * 2 + 0.2, abs=2e-3)
    for layer in (upper, lower):
        dowels = [_round(item) for item in titled(layer, "dowel that lines up")]
        reach = sorted(math.hypot(x, y) for x, y, _ in dowels)
        assert len(dowels) == 2 and reach[1] - reach[0] == pytest.approx(2.0)
        assert layer.thickness.mean == 17.8 and layer.belongs_to == "nw"


def test_keepers_let_rod_or_head_pass() -> None:
    keeper = parts_of(riser(sliding()))["corner.nw.keeper"]
    # 13 mm across flats is 13 * 2 / sqrt 3 = 15.01 mm over sharp corners; 14.38 mm is the tables' least.
    assert _round(keeper.features[0]) == pytest.approx((0, 0, 13 * 2 / math.sqrt(3) + 1), abs=1e-3)
    assert polygon(keeper.outline).bounds == pytest.approx((-60, -30, 60, 30)) and keeper.notes


@pytest.mark.parametrize(("form", "count", "size"), [("spokes", 5, 10), ("spokes", 4, 20), ("spokes", 6, 9), ("holes", 6, 15)])
def test_web_openings_leave_rim_hub_and_spokes(form: str, count: int, size: int) -> None:
    from shapely import Point

    web = Web(form=form, count=q(count), size=mm(size))
    forms = (tooth_form(module=6.0),)
    part = parts_of(design((gear("big", 40, (100, 100), web=web),), pivots=(pin(),), tooth_forms=forms))["big"]
    openings = titled(part, "opening")
    shapes = [
        polygon(item.shape) if isinstance(item.shape, Contour) else Point(*_round(item)[:2]).buffer(size / 2, quad_segs=200)
        for item in openings
    ]
    assert len(shapes) == count
    # Module 6, 40 teeth: root circle 120 - 7.5 = 112.5, rim 2 modules; hub: counterbore 19 mm and 6 mm of wood.
    for shape in shapes:
        assert max(math.hypot(x, y) for x, y in shape.exterior.coords) <= 112.5 - 12 + 1e-3
        assert shape.distance(Point(0, 0)) >= 9.5 + 6 - 1e-3
        assert shape.buffer(-2).buffer(2, quad_segs=64).area == pytest.approx(shape.area, rel=1e-4), "the 4 mm cutter cuts it"
    gap = min(a.distance(b) for i, a in enumerate(shapes) for b in shapes[i + 1 :])
    assert gap == pytest.approx(size, abs=1e-2) if form == "spokes" else gap >= 6


def test_ring_marks_point_at_one_another() -> None:
    gears = (gear("a", 24, drive=True), gear("b", 24), gear("c", 24), gear("d", 24))
    made = design(gears, rings=(ring("train", ("a", "b", "c", "d"), (200, 200), 17.0),))
    parts = parts_of(made)
    places = {state.id: state for state in solve_train(made).gears}
    for name, mate in (("a", "b"), ("b", "c"), ("c", "d"), ("d", "a")):
        for one, other in ((name, mate), (mate, name)):
            # The face towards the maker while gears go under a board that lies on its back.
            mark = _only(titled(parts[one], f"assembly mark towards {other}"))
            assert isinstance(mark.shape, Stroke) and mark.face == "underside"
            dx, dy = places[other].x_mm - places[one].x_mm, places[other].y_mm - places[one].y_mm
            for x, y in ((mark.shape.x1_mm, mark.shape.y1_mm), (mark.shape.x2_mm, mark.shape.y2_mm)):
                assert x * dy - y * dx == pytest.approx(0, abs=1e-6) and x * dx + y * dy > 0
    riding_ring = design((gear("a", 24, drive=True), gear("b", 24, foot=True), gear("c", 24), gear("d", 24)), rings=made.rings)
    assert not titled(parts_of(riding_ring)["b"], "assembly mark") and titled(parts_of(riding_ring)["c"], "assembly mark")


def test_stated_features_stand_in_the_boards_own_frame() -> None:
    base = DECK.model_copy(update={"name": Ref("base"), "x_mm": -20.0, "y_mm": 30.0, "under": Ref("deck")})
    places = (Placed(id="peg", x_mm=100.0, y_mm=120.0),)
    made = riser(
        riding(),
        boards=(DECK, base),
        dowels=(Dowel(name=Ref("peg"), diameter_mm=10.0, into=(("deck", "slide"), ("base", "press")), places=places),),
        holes=(Hole(name=Ref("eye"), into=Ref("base"), diameter_mm=6.6, because="", depth=mm(5), face="topside", places=places),),
        spacers=(
            Spacer(name=Ref("ring"), stock=Ref("ply"), cutter=Ref("straight"), outline=DECK.outline, bore_mm=8.5, quantity=4),
        ),
    )
    parts = parts_of(made)
    assert _round(_only(titled(parts["deck"], "hole for the dowel peg"))) == pytest.approx((100, 120, 10.2))
    assert _round(_only(titled(parts["base"], "hole for the dowel peg"))) == pytest.approx((120, 90, 9.9))
    eye = _only(titled(parts["base"], "hole peg"))
    assert (eye.face, eye.depth_mm, _round(eye)) == ("topside", 5.0, pytest.approx((120, 90, 6.6)))
    assert parts["ring"].quantity == 4 and _round(parts["ring"].features[0]) == pytest.approx((0, 0, 8.5))


def test_pockets_turn_mirror_and_relieve() -> None:
    corner = Outline(shape="rectangle", width_mm=60.0, height_mm=20.0)
    places = (Placed(id="p", x_mm=100.0, y_mm=50.0, turn_deg=90.0),)
    pocket = Pocket(name=Ref("p"), into=Ref("deck"), face="topside", outline=corner, depth=mm(6), places=places)
    eased = pocket.model_copy(update={"name": Ref("r"), "outline": replace(corner, relieved=True), "depth": None})
    deck = parts_of(riser(riding(), pockets=(pocket, eased)))["deck"]
    plain, relieved = (item.shape for item in titled(deck, "pocket p") + titled(deck, "opening p"))
    assert isinstance(plain, Contour) and isinstance(relieved, Contour)
    assert plain.bounds == pytest.approx((90, 20, 110, 80))
    # Four corners of a 4 mm cutter: each leaves (1 - pi/4) r² of the square corner.
    assert plain.area_mm2 == pytest.approx(1200 - 4 * (1 - math.pi / 4) * 4, abs=1e-6)
    from shapely import box

    assert polygon(relieved).buffer(1e-6).contains(box(90, 20, 110, 80)), "a square part seats"


def test_a_mirrored_place_is_the_mirror_image() -> None:
    """Left and right exchanged about the board's middle x = 240: a place turned 30 deg comes back turned 180 - 30 deg and mirrored."""
    corners = ((0, 0), (40, 0), (40, 10), (10, 10), (10, 60), (0, 60))
    ell = Outline(shape="polygon", width_mm=40, height_mm=60, vertices=tuple(OutlineVertex(x=x, y=y) for x, y in corners))
    for turn, turned, x, y in ((30.0, 150.0, 380.0, 60.0), (30.0, -30.0, 100.0, 290.0)):
        places = (
            Placed(id="p", x_mm=100.0, y_mm=60.0, turn_deg=turn),
            Placed(id="p.m", x_mm=x, y_mm=y, turn_deg=turned, mirrored=True),
        )
        pocket = Pocket(name=Ref("p"), into=Ref("deck"), face="topside", outline=ell, depth=mm(6), places=places)
        first, second = (item.shape for item in titled(parts_of(riser(riding(), pockets=(pocket,)))["deck"], "pocket p"))
        assert isinstance(first, Contour) and isinstance(second, Contour)
        image = first.mirrored_x(240.0) if x == 380.0 else first.mirrored_y(175.0)
        assert polygon(second).symmetric_difference(polygon(image)).area < 1e-2


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_contours_of_the_examples_have_no_faults(path: Path) -> None:
    _, _, parts = example(path)
    for part in parts:
        by_work: dict[tuple[str, str, float | None], list[Contour]] = {}
        for feature in (*part.features, part.edge):
            shape = feature.shape
            contour = circle(shape.x_mm, shape.y_mm, shape.diameter_mm / 2) if isinstance(shape, Round) else shape
            if isinstance(contour, Contour):
                assert contour_faults(contour) == (), (part.part, feature.title)
                by_work.setdefault((feature.operation, feature.face, feature.depth_mm), []).append(contour)
        for contours in by_work.values():
            assert duplicate_contours(contours) == (), part.part


def test_drilled_holes_are_finished_after_the_layers_are_glued() -> None:
    """A pilot of 5 mm and a cutter of 6 mm: the outer layer is drilled through, the next one after gluing."""
    wide = (Cutter(name=Ref("straight"), diameter=mm(6), reach=mm(25)),)
    thick = DECK.model_copy(update={"layers": 2})
    long = pin(length=mm(38))
    parts = parts_of(riser(riding(), boards=(thick,), cutters=wide, pivots=(long,)))
    assert all(item.through for item in titled(parts["deck.layer2"], "pilot hole"))
    assert not titled(parts["deck.layer1"], "pilot hole")
    # 38 mm less 13.5 mm of stack: 24.5 mm into 35.6 mm of board.
    assert "to 24.5 mm at most: finish them after gluing" in " ".join(parts["deck.layer2"].notes)
