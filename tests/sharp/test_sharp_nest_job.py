"""What is nested, in which order it is tried, and how it lies on either face of its sheet. Lengths mm."""

from __future__ import annotations

import math
import sys
from fractions import Fraction
from types import SimpleNamespace
from typing import Any

import pytest
from tests.designs import design, gear, mm
from tests.designs_feet import riding, riser
from tests.part_samples import parts_of
from tests.sharp.test_sharp_nest import SQUARE, job, piece

from trivet.model.base import Ref
from trivet.model.shop import Machine
from trivet.record import replace
from trivet.solve import nest as nest_module
from trivet.solve import nest_job, nest_thorough
from trivet.solve.contour import Contour, Vertex
from trivet.solve.contour_shapes import circle, rectangle
from trivet.solve.feature import Feature, Label, Round
from trivet.solve.nest import laid_job
from trivet.solve.nest_laid import laid_part, name_place
from trivet.solve.nest_place import Laid
from trivet.solve.nest_records import Lying, NestedSheet, Stock
from trivet.solve.nest_registration import reserve_mm
from trivet.solve.part_features import PartFeatures
from trivet.solve.solve import solve
from trivet.units import Quantity

BASE = parts_of(riser(riding()))


def deck(outline: Contour = SQUARE, **facts: Any) -> PartFeatures:
    """A board of that edge."""
    return replace(BASE["deck"], outline=outline, **({"features": ()} | facts))


@pytest.mark.parametrize(
    ("hardware", "sizes"),
    [
        ("metric", [(4, 6), (6, 6), (6.35, 8), (8.1, 10), (11, 12), (13, 12)]),
        ("inch", [(3, 6.35), (6.35, 6.35), (6.4, 7.9375), (8, 9.525), (10, 12.7), (14, 12.7)]),
    ],
)
def test_thinnest_usual_dowel_that_a_cutter_bores(hardware: str, sizes: list[tuple[float, float]]) -> None:
    made = design((), hardware=hardware)
    sheet = made.sheets[0]
    assert [nest_job.dowel_mm(made, sheet, cutter) for cutter, _ in sizes] == [dowel for _, dowel in sizes]
    assert nest_job.dowel_mm(made, sheet.model_copy(update=dict(registration=mm(7))), 4.0) == 7.0


def test_sheets_as_they_lie_ready() -> None:
    sheet = design(()).sheets[0]
    assert nest_job.stocks_of(sheet) == () and nest_job.margin_mm(sheet) == 10.0 and nest_job.spacing_mm(sheet, ()) == 5.0
    full = sheet.model_copy(
        update={"width": mm(900), "height": mm(500), "count": 2, "spacing": mm(7), "edge_margin": mm(4)}
        | {"off_cuts": tuple((mm(x), mm(y)) for x, y in ((300, 90), (50, 60), (60, 50)))}
    )
    assert nest_job.stocks_of(full) == (Stock(50, 60, 1, True), Stock(60, 50, 1, True), Stock(300, 90, 1, True), Stock(900, 500, 2, False))
    assert nest_job.stocks_of(full.model_copy(update=dict(height=None)))[-1] == Stock(300, 90, 1, True)
    assert nest_job.margin_mm(full) == 4.0 and nest_job.spacing_mm(full, ()) == 7.0
    wide = [deck(cutter_diameter_mm=size) for size in (3.0, 8.0, 6.0)]
    assert nest_job.widest_cutter_mm(wide) == 8.0 and nest_job.spacing_mm(sheet, wide) == 13.0
    turns = {}
    for along in ("x", "y", None):
        grained = sheet.model_copy(update={"face_grain": along})
        turns |= {(part, along): nest_job.turns_deg(deck(grain=part, sheet=grained)) for part in ("x", "y", None)}
    assert turns["x", "x"] == turns["y", "y"] == (0, 180) and turns["x", "y"] == turns["y", "x"] == (90, 270)
    assert {turns[key] for key in turns if None in key} == {(0, 90, 180, 270)}


@pytest.mark.parametrize(("datum", "sign"), [("topside", -1.0), ("underside", 1.0)])
def test_pieces_of_a_gear_are_turned_back(datum: Any, sign: float) -> None:
    """Drawn with a tooth at 0.2 rad: turned back by it, seen from above; from below the mirrored one is turned on by it."""
    part = deck(polygon_at(0.2), kind="gear", datum=datum, quantity=2, belongs_to="hub", part="hub.layer1")
    one, two = nest_job._pieces(part, {"hub": 0.2})
    assert (one.copy, two.copy, one.id, two.id) == (1, 2, "hub.layer1", "hub.layer1 2") and one.outline == two.outline
    assert one.turned_deg == pytest.approx(sign * math.degrees(0.2)) and one.turns_deg == (0.0,)
    tip = max(one.outline.vertices, key=lambda v: math.hypot(v.x, v.y))
    assert (tip.x, tip.y) == ((30, 0) if datum == "topside" else (-30, 0))
    first = one.outline.vertices[0]
    assert (first.x, first.y) == min((v.x, v.y) for v in one.outline.vertices)
    (plain,) = nest_job._pieces(deck(datum=datum), {})
    assert plain.turned_deg == 0.0 and plain.turns_deg == (0, 90, 180, 270)
    assert plain.outline.bounds == ((0, 0, 80, 80) if datum == "topside" else (-80, 0, 0, 80))


def polygon_at(angle: float) -> Contour:
    return Contour((Vertex(30, 0), Vertex(0, 10), Vertex(-10, 0), Vertex(0, -10))).rotated(angle)


def test_equal_gears_begin_alike() -> None:
    shape = Contour((Vertex(5.0000001, 2.0, 0.5), Vertex(1.0004, 3.0), Vertex(1.0, 9.0, -0.25), Vertex(1.0003, 2.0)))
    plain = nest_job._plain(shape)
    # To 0.001 three have the same x; of them the lowest.
    assert plain.vertices == (Vertex(1.0003, 2.0), Vertex(5.0, 2.0, 0.5), Vertex(1.0004, 3.0), Vertex(1.0, 9.0, -0.25))


@pytest.mark.parametrize(("quantity", "starts"), [(1, 120), (4, 120), (5, 100), (100, 5), (400, 1), (600, 1)])
def test_orders_tried(quantity: int, starts: int) -> None:
    # 120, held to 2000 pieces laid: each of a board's turns counts.
    made = design(())
    found = nest_job._job(made, made.sheets[0], "topside", [deck(quantity=quantity)], {}, (Stock(9, 9, None, False),), None)
    assert found.starts == starts and len(found.pieces) == quantity and (found.machine, found.unit) == ("", made.units)
    assert found.two_faced == frozenset() and (found.margin_mm, found.spacing_mm, found.cutter_mm, found.dowel_mm) == (10, 9, 4, 6)


@pytest.mark.parametrize(("quantity", "sheets"), [(600, 1), (601, 0)])
def test_how_many_pieces_are_nested(quantity: int, sheets: int, monkeypatch: pytest.MonkeyPatch) -> None:
    made = design((gear("hub", 20, (100, 100), drive=True),))
    sheet = made.sheets[0].model_copy(update=dict(width=mm(900), height=mm(500)))
    part = deck(quantity=quantity, sheet=sheet)
    monkeypatch.setattr(nest_job, "part_features", lambda *_: (part,))
    found = nest_job.jobs_of(made.model_copy(update={"sheets": (sheet,)}), solve(made))
    assert len(found.jobs) == sheets and found.too_many == (() if sheets else ("ply",)) and found.not_sized == ()


def test_parts_go_with_the_machine_that_takes_them() -> None:
    side = [Quantity(Fraction(value), "mm") for value in (200, 100)]
    machine = Machine(name=Ref("m"), work_area_width=side[0], work_area_height=side[1])
    stocks = (Stock(900, 500, None, False),)
    own, bare = deck(part="own"), deck(part="bare")
    small, large = (deck(rectangle(0, 0, wide, 70), kind="spacer", part=f"s{wide}") for wide in (180, 181))

    def groups(*parts: PartFeatures) -> list[tuple[str, list[str]]]:
        found = nest_job._by_machine(parts, {"own": machine}, stocks)
        return [("" if by is None else by.name.text, [part.part for part in held]) for by, held in found]

    # Less 10 at either edge, 200 takes 180.
    assert groups(small, own, large) == [("m", ["own", "s180"]), ("", ["s181"])] and groups(bare, small) == [("", ["bare", "s180"])]
    assert groups(bare, own, small) == [("", ["bare", "s180"]), ("m", ["own"])] and groups(small) == [("", ["s180"])]
    assert nest_job.on_machine(stocks, None, [own]) == stocks and nest_job.on_machine(stocks, machine, []) == stocks
    assert nest_job.on_machine(stocks, machine, [own])[0].cut_from_mm == (900, 500)


def test_draws_are_those_of_the_published_generator() -> None:
    """Knuth's MMIX: x · 6364136223846793005 + 1442695040888963407 modulo 2^64 (from memory), the upper 31 bits; begun with 20."""
    state = 20
    for count in (7, 3, 12, 600):
        wanted = (state * 6364136223846793005 + 1442695040888963407) & (2**64 - 1)
        state, drawn = nest_module._draw(state, count)
        assert (state, drawn) == (wanted, wanted // 2**33 % count)
    assert nest_module.SEED == 20 and nest_module._size(piece(outline=rectangle(5, 6, 30, 20))) == (30, 20)


@pytest.mark.parametrize(("room_first", "left_then", "wanted"), [(True, 0, 0), (False, 0, 1), (False, 1, 0)])
def test_all_is_laid_again_where_no_room_is_for_dowels(
    room_first: bool, left_then: int, wanted: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    made = job(piece(), two_faced=frozenset({"a"}), stocks=(Stock(400, 300, None, False),))
    free, full = Stock(400, 300, None, False), Stock(82, 82, None, False)
    first = Laid((free if room_first else full,), ((0, 0, 1, 1, 0.0),), (), ())
    again = Laid((free,), ((0, 0, 50, 50, 0.0),), (0,) * left_then, ())
    asked: list[float] = []

    def search(_: Any, reserved: float, progress: Any) -> Laid:
        asked.append(reserved)
        return again if reserved else first

    monkeypatch.setattr(nest_module, "_search", search)
    assert laid_job(made) is (first, again)[wanted]
    assert asked == ([0.0] if room_first else [0.0, reserve_mm(made)])


@pytest.mark.parametrize("datum", ["topside", "underside"])
@pytest.mark.parametrize("face", ["topside", "underside"])
def test_a_part_on_either_face_of_its_sheet(datum: Any, face: Any) -> None:
    """Seen from the face cut first a part is turned by 30 deg and shifted to (100, 50), its underside mirrored; turned over, x is 300 − x."""
    hole, edge = Round(20, 5, 8), rectangle(0, 0, 60, 30)
    part = deck(edge, datum=datum, features=(Feature("bore", datum, None, hole, "t", "b"),))
    sheet = NestedSheet("ply", 1, datum, 300, 200, False, (), (0, 0, 1, 1), 1.0, True, 10, 10, 8)
    found = laid_part(part, Lying("deck", 1, 100, 50, 30.0), sheet, face)

    def there(x: float, y: float) -> tuple[float, float]:
        u, c, s = (-x if datum == "underside" else x), math.cos(math.pi / 6), 0.5
        u, v = 100 + u * c - y * s, 50 + u * s + y * c
        return (u if face == datum else 300 - u), v

    spot = found.placed(hole)
    assert (spot.x_mm, spot.y_mm, spot.diameter_mm) == pytest.approx((*there(20, 5), 8))

    def flipped(x: float, y: float) -> tuple[float, float]:
        return (x if found.flip_x_mm is None else 2 * found.flip_x_mm - x), y

    cut = found.part.features[0].shape
    assert isinstance(cut, Round) and flipped(cut.x_mm, cut.y_mm) == pytest.approx(there(20, 5))
    for v, (x, y) in zip(found.part.outline.vertices, ((0, 0), (60, 0), (60, 30), (0, 30)), strict=True):
        assert flipped(v.x, v.y) == pytest.approx(there(x, y))


@pytest.mark.parametrize(
    ("shape", "radius"),
    [
        (Round(50, 50, 40), 20.0), (circle(50, 50, 20), 20.0),
        (Label(50, 50, "ABC", 8, 0), math.hypot(0.6 * 8 * 3, 8)), (Label(50, 50, "", 15, 0), math.hypot(9, 15)),
    ],
)
def test_name_stands_in_the_largest_free_corner(shape: Any, radius: float) -> None:
    """Round a middle of radius R in a square of 100, a circle in the corner: √2 (50 − r) = R + r. Found to half a millimetre."""
    part = deck(rectangle(0, 0, 100, 100), features=(Feature("pocket", "topside", 2.0, shape, "t", "b"),))
    r = (50 * math.sqrt(2) - radius) / (1 + math.sqrt(2))
    x, y, found = name_place(part)
    assert found == pytest.approx(r, abs=0.6) and math.hypot(abs(x - 50), abs(y - 50)) >= radius + found - 0.3
    assert min(x, y, 100 - x, 100 - y) >= found - 0.02
    whole = replace(part, features=(Feature("pocket", "topside", 2.0, rectangle(-1, -1, 102, 102), "t", "b"),))
    assert name_place(whole) == (50, 50, 1.0) and name_place(replace(part, features=())) == pytest.approx((50, 50, 50), abs=0.5)


def test_thorough_search_asks_and_reads_its_engine(monkeypatch: pytest.MonkeyPatch) -> None:
    """A strip as high as the sheet less margins, half a spacing back on either side; what comes back is shifted by as much."""
    asked: dict[str, Any] = {}

    def instance(name: str, height: float, items: list[Any]) -> Any:
        asked.update(name=name, height=height, items=items)
        placed = [SimpleNamespace(id="1", translation=(95.2, 5.2), rotation=360.0), SimpleNamespace(id="0", translation=(5.1, 5.1), rotation=0.0)]
        return SimpleNamespace(solve=lambda config: asked.update(config=config) or SimpleNamespace(placed_items=placed[: asked.get("most", 2)]))

    fake = SimpleNamespace(
        Item=lambda *facts: facts, StripPackingInstance=instance, StripPackingConfig=lambda **facts: facts
    )
    monkeypatch.setitem(sys.modules, "spyrrow", fake)
    made = job(piece(), piece("b"), stocks=(Stock(300, 100, None, False),))
    # Laid there the second would stand over the edge.
    assert nest_thorough._on_one_sheet(made, 7) is None
    assert asked["height"] == 90.0 and asked["name"] == "ply" and [item[0] for item in asked["items"]] == ["0", "1"]
    assert asked["config"] == {"total_computation_time": 7, "num_workers": 1, "seed": 20} and asked["items"][0][2:] == (1, [0.0])
    high = job(piece(), piece("b"), stocks=(Stock(300, 101, None, False),))
    found = nest_thorough._on_one_sheet(high, 7)
    assert found is not None and found.spots == ((0, 0, 10.1, 10.1, 0.0), (0, 1, 100.2, 10.2, 0.0)) and asked["height"] == 91.0
    assert nest_thorough._cost(found, high) == (1, pytest.approx(180.2 - 0.01))
    asked["most"] = 1
    assert nest_thorough._on_one_sheet(high, 7) is None and nest_thorough._on_one_sheet(job(piece()), 7) is None
    assert nest_thorough._on_one_sheet(replace(high, stocks=(Stock(9, 9, 1, True), *high.stocks)), 7) is None


def test_parts_without_blind_cuts_go_with_the_most() -> None:
    """A gear cut through lies on whichever face the most is cut from; a board keeps its own, and so does what has a pocket."""
    pocket = (Feature("pocket", "topside", 2.0, Round(9, 9, 5), "t", "b"),)
    free = deck(part="free", kind="gear", datum="underside")
    bound = deck(part="bound", kind="gear", datum="topside", features=pocket)
    board = deck(rectangle(0, 0, 81, 80), part="board", datum="underside")

    def faces(*parts: PartFeatures) -> list[tuple[str, list[str]]]:
        return [(face, [part.part for part in held]) for face, held in nest_job._by_first_face(parts)]

    assert faces(free, bound) == [("topside", ["free", "bound"])] and faces(free) == [("topside", ["free"])]
    assert faces(bound, board, free) == [("underside", ["board", "free"]), ("topside", ["bound"])]
    # As large on either face: the underside first.
    assert faces(bound, replace(board, outline=SQUARE)) == [("underside", ["board"]), ("topside", ["bound"])]
    assert all(part.datum == "topside" for part in next(nest_job._by_first_face([free, bound]))[1])
