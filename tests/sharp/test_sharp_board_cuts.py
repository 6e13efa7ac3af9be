"""Holes that drives, pivots and feet need in boards, cut by cut with what is said of each: figures by hand. Lengths mm."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest
from tests.designs import design, gear, mm, q
from tests.designs_feet import INSERT, JAM, LARGE_WASHER, NUT, ST6, TEE, captured, crank, pin, riding

from trivet.model.base import Band, Ref
from trivet.model.board import Board
from trivet.model.foot import Foot, Guide, InsertUse
from trivet.model.outline import Outline
from trivet.model.shop import Cutter, Sheet
from trivet.model.train import Dial, DriveNut
from trivet.record import replace
from trivet.solve.board_fasteners import fastener_cuts
from trivet.solve.board_features import LINED_UP, board_parts
from trivet.solve.board_feet import foot_cuts
from trivet.solve.board_levels import boards_at
from trivet.solve.contour import Contour
from trivet.solve.feature import Feature, Round, Stroke
from trivet.solve.part_context import PartContext
from trivet.solve.train_parts import train_parts

CUTTERS = tuple(Cutter(name=Ref(name), diameter=mm(size), reach=mm(25)) for name, size in (("straight", 4), ("five", 5), ("thick", 6)))
SHEET = Sheet(name=Ref("ply"), thickness=Band(18.0, 17.0, 19.0))


def named(**values: Any) -> Any:
    return SimpleNamespace(**values)


def board(name: str, under: str = "", **facts: Any) -> Board:
    outline = Outline(shape="rectangle", width_mm=480.0, height_mm=350.0)
    given = {"name": Ref(name), "stock": Ref("ply"), "cutter": Ref("straight"), "outline": outline, "under": Ref(under) if under else None}
    return Board(**(given | facts))


# The lid lies from 0 to 18, the deck 20 lower from -38 to -20, the base right under the deck.
LID, DECK, BASE = board("lid", datum="topside"), board("deck", "lid", clear=mm(20)), board("base", "deck")


def state(name: str, made: Any, x: float = 30.0, y: float = 40.0, foot_id: str = "") -> Any:
    return named(id=name, gear=made, x_mm=x, y_mm=y, foot_id=foot_id)


def context(stacks: dict[str, tuple[Any, ...]], units: str = "mm", boards: tuple[Board, ...] = (LID, DECK, BASE), **facts: Any) -> PartContext:
    first = gear("first", 20, under=Ref("lid"), drive=True)
    made = design((first,), boards=boards, cutters=CUTTERS, sheets=(SHEET,), units=units, **facts)
    bolts: dict[str, Any] = {"pin.west": named(stated_mm=25.0, cut_to_mm=None, buy_mm=25.0, stack=(("gear", Band(13.0, 12.4, 13.0)),))}
    derived: Any = None
    return PartContext(made, derived, train_parts(made), boards_at(made, 0), {}, stacks, {}, bolts)


FREE = (state("free", gear("free", 20, shaft="hub")),)
# The drive's gear hangs under its mate, which is said to hang under the deck; what its own statement says of a board does not count.
TURNED = (state("mate", gear("mate", 30, shaft="hub")), state("hub", gear("hub", 20, drive=True, under=Ref("lid")), 100.0, 50.0))
BORE = "clearance hole for M8, fine (ISO 273)"


def fasteners(of: Board, units: str = "mm", stacks: dict[str, tuple[Any, ...]] | None = None, **facts: Any) -> tuple[Feature, ...]:
    return fastener_cuts(context(stacks or {"free": FREE, "hub": TURNED}, units, **facts), of)


def test_holes_of_a_drive_from_its_board_upwards() -> None:
    drives = (crank(dial=Dial(marks=q(2), diameter=mm(10))),)
    through = Feature("bore", "underside", None, Round(100.0, 50.0, 8.4), "hole for the drive bolt crank.hub, 8.40 mm", BORE, 4.0)
    head = "largest diameter of the head plus 1 mm of room (common practice, no source)"
    assert fasteners(DECK, drives=drives) == (through,) and fasteners(BASE, drives=drives) == ()
    # Ticks of 8 and 4 on a circle of 10: the first is cut off at the middle.
    assert fasteners(LID, drives=drives) == (
        replace(through, face="topside"),
        Feature("counterbore", "topside", 9.0, Round(100.0, 50.0, 14.27), "counterbore for the head of crank.hub, 14.27 mm", head, 4.0),
        Feature("engrave", "topside", 0.5, Stroke(100.0, 50.0, 100.0, 55.0), "dial mark 0 of 2 round crank.hub", "1/2 of a turn apart, on 10 mm"),
        Feature("engrave", "topside", 0.5, Stroke(100.0, 49.0, 100.0, 45.0), "dial mark 1 of 2 round crank.hub", "1/2 of a turn apart, on 10 mm"),
    )
    assert [item.title for item in fasteners(LID, drives=(crank(head_recessed=None),))] == [through.title]
    # Exactly as deep as the sheet at its mean, and a hundredth less than that.
    for deep, depth in (("17.98", 17.98), ("17.995", None)):
        assert fasteners(LID, drives=(crank(head_recessed=mm(deep)),))[1].depth_mm == depth
    washers = (crank(washer=LARGE_WASHER, washer_places=("head",)), crank(washer=LARGE_WASHER, washer_places=("above",)))
    titles = [fasteners(LID, "in", drives=(drive,))[1].title for drive in washers]
    assert titles == ["counterbore for head and washer of crank.hub, 0.748 in", "counterbore for the head of crank.hub, 0.562 in"]


# The idler's own board counts, not its mate's below it.
TURNS = {"west": (state("west", gear("west", 20), 60.0, 70.0), state("low", gear("low", 20, shaft="west", under=Ref("base"))))}
DRILLED = "stated as `drill`"


def pivots(of: Board, boards: tuple[Board, ...] = (LID, DECK, BASE), name: str = "west", **facts: Any) -> list[tuple[str, float | None, float, str, str]]:
    stacks = {"free": FREE, **({"west": TURNS["west"]} if name == "west" else {name: (state(name, gear(name, 20), 60.0, 70.0),)})}
    found = fastener_cuts(context(stacks, boards=boards, pivots=(pin(**facts),)), of)
    assert all(item.face == ("topside" if "nut" in item.title else of.datum) for item in found)
    shapes = [(item.shape.x_mm, item.shape.y_mm, item.shape.diameter_mm) for item in found if isinstance(item.shape, Round)]
    assert all(shape[:2] == (60.0, 70.0) for shape in shapes)
    return [(item.title, item.depth_mm, shape[2], item.because, item.operation) for item, shape in zip(found, shapes, strict=True)]


def test_pilot_holes_of_idlers() -> None:
    # 25 less 12.4 at least: 12.6, to the next half millimetre.
    assert pivots(DECK) == [("pilot hole for pin.west, 5.00 mm", 13.0, 5.0, f"{DRILLED}; as deep as the screw can reach", "bore")]
    assert pivots(LID) == pivots(BASE) == []
    # Without a length known, half a millimetre is left.
    assert pivots(DECK, name="east") == [("pilot hole for pin.east, 5.00 mm", 17.5, 5.0, f"{DRILLED}; as deep as the screw can reach", "bore")]
    for cutter, drilled in (("five", ""), ("thick", ", drilled")):
        other = board("deck", "lid", cutter=Ref(cutter))
        assert [item[0] for item in pivots(other, (LID, other, BASE))] == [f"pilot hole for pin.west, 5.00 mm{drilled}"]
    over = board("deck", "lid", datum="topside")
    assert pivots(over, (LID, over, BASE)) == [
        ("pilot hole for pin.west, 5.00 mm", None, 5.0, f"{DRILLED}; through, since the topside is the datum face", "bore")
    ]
    cored = pin(drill=None, thread=replace(ST6, minor_mm=4.88)).thread
    for thread, size, words in ((ST6, 4.6875, "0.75 of the diameter of ST6.3 (common practice, no source)"), (cored, 4.88, "core diameter of ST6.3")):
        ((_, _, diameter, because, _),) = pivots(DECK, drill=None, thread=thread)
        assert diameter == pytest.approx(size) and because == f"{words}; as deep as the screw can reach"


def test_holes_of_bolted_idlers() -> None:
    bolted = ("hole for pin.west, 6.45 mm", None, 6.45, "ST6.3 thread plus 0.2 mm bore clearance", "bore")
    assert pivots(DECK, bolt=True, drill=None) == [bolted]
    assert pivots(DECK, bolt=True) == [("hole for pin.west, 5.00 mm", None, 5.0, DRILLED, "bore")]
    assert pivots(DECK, drill=None, nut=DriveNut(hardware=NUT, side="above")) == [bolted]
    nut = DriveNut(hardware=JAM, side="above", recessed=mm(4), round=mm(20))
    assert pivots(DECK, drill=None, nut=nut) == [bolted, ("round recess for the nut of pin.west, 20.00 mm", 4.0, 20.0, "stated as `round`", "counterbore")]
    tee = DriveNut(hardware=TEE, side="above")
    assert pivots(DECK, nut=tee) == [("hole for pin.west, 10.00 mm", None, 10.0, "hole for the tee nut's ST6.3 barrel", "bore")]


def feet(foot: Foot, of: Board, stack: tuple[Any, ...] | None = None, units: str = "mm") -> tuple[tuple[Feature, ...], tuple[str, ...]]:
    """Of a foot named `corner`, after a gear that carries nothing and one whose foot is another."""
    other = foot.model_copy(update={"name": Ref("other"), "into": Ref("lost")})
    carried = (state("nw", gear("nw", 20, foot=True), 30.0, 40.0, "corner.nw"),)
    stacks = {"free": FREE, "ne": (state("ne", gear("ne", 20, carries=Ref("other"))),), "nw": stack or carried}
    return foot_cuts(context(stacks, units, feet=(other, foot)), of)


def test_holes_of_feet_in_every_board_that_they_pass() -> None:
    # The uppermost gear's board counts: its mate's statement says another.
    stack = (state("top", gear("top", 20, shaft="nw", under=Ref("base")), 1.0, 2.0), state("nw", gear("nw", 20, foot=True), 30.0, 40.0))
    foot = riding(into=Ref("lid"))
    passage = Feature(
        "bore", "underside", None, Round(30.0, 40.0, 9.0), "passage for corner.nw, 9.00 mm", "M8 passes with 1 mm of room (common practice, no source)", 4.0
    )
    assert feet(foot, BASE, stack) == feet(foot, DECK, stack) == ((passage,), ())
    words = "hole of the insert as its table gives it, driven from the topside"
    hole = Feature("bore", "topside", None, Round(30.0, 40.0, 13.5), "hole for the insert of corner.nw, 13.50 mm", words, 4.0)
    assert feet(foot, LID, stack) == ((hole,), ())
    # Acting on a board that does not lie over the gear it passes none.
    assert feet(riding(into=Ref("base")), DECK) == ((), ())
    assert [item.title for item in feet(foot, DECK, units="in")[0]] == ["passage for corner.nw, 0.354 in"]


def inserted(of: Board = DECK, insert: Any = INSERT, face: Any = "underside", flush: Any = "underside", proud: float = 0.0, **facts: Any) -> Any:
    use = InsertUse(hardware=insert, driven_from=face, flush=flush, proud=mm(str(proud)) if proud else None)
    cuts, notes = feet(riding(**({"into": of.name} | facts)).model_copy(update={"insert": use}), of)
    return [(item.title, item.face, item.depth_mm, item.shape.diameter_mm if isinstance(item.shape, Round) else 0.0) for item in cuts], notes


def guide(clearance: str, length: str) -> dict[str, Guide]:
    return {"guide": Guide(clearance=mm(clearance), length=mm(length))}


HOLE, GUIDE, FLANGE = "hole for the insert of corner.nw, 13.50 mm", "guide bore for corner.nw, 8.10 mm", "recess for the flange of corner.nw, 21.00 mm"


@pytest.mark.parametrize(
    ("face", "flush", "proud", "length", "far", "note"),
    [
        # The insert takes 15 of 18, and more or less where it stands proud or lies at the other face.
        ("underside", "underside", 0.0, "3", 15.0, ""), ("underside", "underside", 0.0, "3.02", 15.0, "3 mm long, not 3.02 mm"),
        ("underside", "underside", 0.0, "3.009", 15.0, ""), ("underside", "underside", 2.0, "9", 13.0, "5 mm long, not 9 mm"),
        ("topside", "topside", 1.0, "9", 14.0, "4 mm long, not 9 mm"), ("topside", "topside", 0.0, "2", 15.0, ""),
    ],
)  # fmt: skip
def test_guide_bores(face: Any, flush: Any, proud: float, length: str, far: float, note: str) -> None:
    words = (f"the guide bore of corner.nw is {note}: no more wood is left past its insert",) if note else ()
    found = inserted(face=face, flush=flush, proud=proud, **guide("0.1", length))
    assert found == ([(GUIDE, "underside", None, pytest.approx(8.1)), (HOLE, face, pytest.approx(far), 13.5)], words)


def test_guide_bores_that_find_no_wood() -> None:
    for insert in (replace(INSERT, length_mm=18.0), replace(INSERT, length_mm=19.0)):
        told = ("no wood left for the guide bore of corner.nw: its insert's hole goes through deck",)
        assert inserted(insert=insert, **guide("0.1", "1")) == ([(HOLE, "underside", None, 13.5)], told)
    # A tenth of a millimetre is left.
    found, notes = inserted(insert=replace(INSERT, length_mm=17.9), **guide("0.1", "1"))
    told = ("the guide bore of corner.nw is 0.1 mm long, not 1 mm: no more wood is left past its insert",)
    assert [item[0] for item in found] == [GUIDE, HOLE] and notes == told
    guided = riding(into=Ref("lid"), **guide("0.1", "1"))
    use = InsertUse(hardware=INSERT, driven_from="underside", flush="underside")
    cuts, _ = feet(guided.model_copy(update={"insert": use}), LID)
    assert (cuts[0].face, cuts[0].because, cuts[0].depth_mm) == ("topside", "M8 plus 0.1 mm of clearance, as stated", None)


@pytest.mark.parametrize(
    ("face", "flush", "proud", "depth"),
    [
        ("underside", "underside", 0.0, 1.5), ("underside", "topside", 0.0, 4.5), ("topside", "underside", 0.0, 4.5), ("topside", "topside", 0.0, 1.5),
        ("topside", "underside", 1.0, 5.5), ("underside", "topside", 1.0, 5.5), ("underside", "underside", 2.0, None),
    ],
)  # fmt: skip
def test_flanges_are_let_in_as_deep_as_the_insert_is_sunk(face: Any, flush: Any, proud: float, depth: float | None) -> None:
    flanged = replace(INSERT, flange_diameter_mm=20.0, flange_thickness_mm=1.5)
    found, _ = inserted(insert=flanged, face=face, flush=flush, proud=proud)
    assert found == [(HOLE, "underside", None, 13.5), *([(FLANGE, face, pytest.approx(depth), 21.0)] if depth else [])]
    # A flange of unknown thickness, let in with its insert alone.
    thin, _ = inserted(insert=replace(flanged, flange_thickness_mm=None), face="topside", flush="underside")
    assert thin[1] == (FLANGE, "topside", pytest.approx(3.0), 21.0)


def test_tee_nuts_of_feet() -> None:
    found, notes = inserted(insert=TEE)
    tee = "recess for the flange of corner.nw, 23.00 mm"
    assert found == [("hole for the tee nut of corner.nw, 10.00 mm", "underside", None, 10.0), (tee, "underside", pytest.approx(1.5), 23.0)] and notes == ()
    (cuts, _) = feet(riding().model_copy(update={"insert": InsertUse(hardware=TEE, driven_from="underside", flush="underside")}), DECK)
    assert [item.because for item in cuts] == [
        "hole of the tee nut as its table gives it, driven from the underside", "largest diameter of the flange plus 1 mm of room (common practice, no source)"
    ]  # fmt: skip


def test_rods_with_and_without_a_pin() -> None:
    words = "rod M8 plus 0.2 mm bore clearance"
    plain = Feature("bore", "underside", None, Round(30.0, 40.0, 8.2), "hole for the rod of corner.nw, 8.20 mm", words, 4.0)
    assert feet(captured(rod_stop_diameter=None), DECK) == ((plain,), ())
    # Pin of 3: 3.5 is narrower than the cutter of 4; 8 and twice two pins and a half. Then a pin of 5 in a hole of 8.2.
    for pin_mm, wide, long in ((3, 4.0, 20.5), (5, 5.5, 28.5)):
        ((found,), notes) = feet(captured(rod_stop_diameter=mm(pin_mm)), DECK)
        assert (found.operation, found.face, found.depth_mm, notes) == ("opening", "underside", None, ())
        assert found.title == f"hole for the rod of corner.nw, 8.20 mm, with a slot {long:.2f} mm by {wide:.2f} mm for its pin"
        assert found.because == (
            f"{words}; pin {pin_mm} mm standing out by 2 of its diameters either side, slot 0.5 mm wider and no narrower than the 4 mm cutter"
            " (common practice, no source)"
        )
        assert isinstance(found.shape, Contour) and found.shape.bounds == pytest.approx((30 - long / 2, 35.9, 30 + long / 2, 44.1), abs=1e-6)


@pytest.mark.parametrize(("layers", "grain", "relieved"), [(1, None, False), (2, "y", True), (3, None, False)])
def test_a_board_as_a_part(layers: int, grain: Any, relieved: bool) -> None:
    outline = Outline(shape="rectangle", width_mm=480.0, height_mm=350.0, relieved=relieved)
    made = board("deck", "lid", outline=outline, x_mm=10.0, y_mm=20.0, layers=layers, grain=grain)
    held = context({"hub": TURNED, "nw": (state("nw", gear("nw", 20, foot=True), foot_id="c.nw"),)}, boards=(LID, made), feet=(riding(**guide("0.1", "9")),))
    derived: Any = named(keepers=())
    sheet = SHEET.model_copy(update={"face_grain": "x"})
    found = board_parts(replace(held, derived=derived, parts=replace(held.parts, sheets={"ply": sheet})), made)
    assert [item.part for item in found] == (["deck"] if layers == 1 else [f"deck.layer{k}" for k in range(1, layers + 1)])
    first = found[0]
    # In the board's own frame; turned over about its middle.
    assert next(item.shape for item in first.features if "drive bolt" in item.title) == Round(90.0, 30.0, 8.4)
    assert (first.flip_x_mm, first.grain, first.outline_title) == (240.0, grain or "x", "edge of deck, rectangle 480 mm by 350 mm")
    cut = "each inward corner opened by the cutter" if relieved else "inward corners have the cutter's radius"
    assert first.outline_because == f"rectangle as stated; {cut}" and first.outline.bounds == pytest.approx((0.0, 0.0, 480.0, 350.0))
    assert (LINED_UP in first.notes) is (layers > 1) and len([note for note in first.notes if "guide bore" in note]) == 1
