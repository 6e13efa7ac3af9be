"""Schedules and cut list: counts against the model, the drawer, units, words, hostile text."""

from __future__ import annotations

import csv as standard_csv
import io
from collections import Counter

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.designs import design, gear, mesh, mm
from tests.designs_feet import INSERT, JAM, captured, crank, pin, riding, riser, sliding

from trivet.emit.csv import csv
from trivet.model.base import Ref
from trivet.model.board import Dowel, MagnetPlace
from trivet.model.design import Design
from trivet.model.hardware import Head, Magnet, Nut, Screw, Thread, ThreadLength
from trivet.model.intent import Have
from trivet.model.outline import Placed
from trivet.record import replace
from trivet.solve.solve import solve
from trivet.source import LibraryRow
from trivet.tables.cut_list import cut_list_rows, cut_parts
from trivet.tables.hardware_items import hardware_items
from trivet.tables.hardware_schedule import hardware_rows, hardware_tables, schedule
from trivet.tables.report import report
from trivet.tables.rows import Rows
from trivet.tables.summary import summary_lines
from trivet.tables.wording import inch_text, sold_length, thread_text


def read_back(rows: Rows) -> list[list[str]]:
    """The CSV through the standard reader, heading first."""
    return list(standard_csv.reader(io.StringIO(csv(rows).decode("utf-8-sig"), newline="")))


def quantities(built: Design) -> Counter[str]:
    """Quantity by item of the schedule."""
    return Counter({line.item: line.quantity for line in schedule(built, solve(built)).lines})


FEET = {"riding": riding, "captured_nut": captured, "sliding_hex": sliding}


@settings(max_examples=30, deadline=None, derandomize=True)
@given(
    feet=st.integers(1, 6), idlers=st.integers(0, 5), kind=st.sampled_from(sorted(FEET)), jam=st.booleans(),
    washers=st.sampled_from([(), ("above",), ("above", "below")]), sleeve=st.booleans(), dowels=st.integers(0, 4),
    magnets=st.integers(0, 3),
)  # fmt: skip
def test_every_piece_is_counted_from_the_model(
    feet: int, idlers: int, kind: str, jam: bool, washers: tuple[str, ...], sleeve: bool, dowels: int, magnets: int
) -> None:
    """Counted here from the numbers drawn, without the program's records."""
    names = [f"f{n}" for n in range(feet)]
    turning = [f"i{n}" for n in range(idlers)]
    gears = [gear("hub", 40, (0, 0), drive=True), *(gear(n, 12, foot=True) for n in names), *(gear(n, 12) for n in turning)]
    step = 360.0 / (feet + idlers)
    meshes = [mesh("hub", name, index * step) for index, name in enumerate((*names, *turning))]
    built = design(
        tuple(gears),
        tuple(meshes),
        feet=(FEET[kind](),),
        drives=(crank(**({} if jam else {"jam_nut": None})),),
        pivots=(pin(washer_places=washers, sleeve_outside=mm(8) if sleeve else None),),
        dowels=(Dowel(name=Ref("peg"), diameter_mm=10.0, into=(("deck", "press"),), places=_places("peg", dowels)),),
        magnets=(
            MagnetPlace(name=Ref("disc"), into=Ref("deck"), face="topside", disc=Magnet(diameter_mm=10.0, thickness_mm=3.0),
                        fit="push", hole_diameter_mm=10.1, hole_depth_mm=3.15, places=_places("disc", magnets)),
        ),
    )  # fmt: skip
    expected = {
        "crank-bolt": 1, "crank-nut": 1, "crank-jam_nut": int(jam), "pin-screw": idlers, "pin-washer": idlers * len(washers),
        "pin-sleeve": idlers * sleeve, "peg-dowel": dowels, "disc-magnet": magnets,
    }  # fmt: skip
    own = {
        "riding": {"corner-screw": feet, "corner-insert": feet, "corner-pad": feet},
        "captured_nut": {"corner-rod": feet, "corner-nut": feet, "corner-pad": feet, "corner-cross_pin": feet},
        "sliding_hex": {"corner-screw": feet, "corner-insert": feet, "corner-post": feet},
    }
    wanted = {item: count for item, count in (expected | own[kind]).items() if count}
    derived = solve(built)
    assert dict(quantities(built)) == wanted
    assert Counter(piece.item for piece in hardware_items(built, derived)) == wanted
    assert sum(part.quantity for part in cut_parts(built, derived)) == 2 + feet + idlers + (feet if kind != "riding" else 0)
    records = report(built, derived, findings=(), status="clean", version="1")["hardware"]
    assert isinstance(records, list)
    assert {record["item"]: record["quantity"] for record in records} == wanted
    assert all(len(record["where"]) in (1, record["quantity"], idlers) for record in records)


def _places(name: str, count: int) -> tuple[Placed, ...]:
    return tuple(Placed(id=f"{name}.{n + 1}", x_mm=10.0 * n, y_mm=0.0) for n in range(count))


def test_layers_of_a_gear_get_two_dowels_each_and_glue() -> None:
    """Two dowels line up the layers of each laminated gear."""
    built = riser(riding())
    thick = tuple(item.model_copy(update={"layers": 2}) if item.name.text in ("west", "east") else item for item in built.gears)
    laminated = built.model_copy(update={"gears": thick})
    assert quantities(laminated)["gear-layers-dowel"] == 4
    assert quantities(built)["gear-layers-dowel"] == 0
    west = next(part for part in cut_parts(laminated, solve(laminated)) if "west" in part.ids)
    assert (west.quantity, west.layers, west.pieces) == (2, 2, 4)
    assert any(row[1] == "wood glue" for row in hardware_tables(laminated, solve(laminated))[1].rows)


def have(quantity: int, standard: str, thread: str, length_mm: float | None = None) -> Have:
    """A line of the drawer."""
    return Have(quantity=quantity, standard=standard, thread=thread, length_mm=length_mm)


@pytest.mark.parametrize(
    ("drawer", "item", "to_buy", "left"),
    [
        (have(3, "ISO 4017", "M8", 30.0), "corner-screw", 1, 0),
        (have(9, "ISO 4017", "M8x1.25", 30.0), "corner-screw", 0, 5),
        (have(9, "ISO 4017", "M8", 35.0), "corner-screw", 4, 9),
        (have(9, "ISO 4017", "M8"), "corner-screw", 4, 9),
        (have(9, "ISO 4017", "M8-LH", 30.0), "corner-screw", 4, 9),
        (have(9, "ISO 4014", "M8", 30.0), "corner-screw", 4, 9),
        (have(3, "ISO 7093-1", "M6"), "pin-washer", 1, 0),
        (have(1, "ISO 4035", "M8"), "crank-jam_nut", 0, 0),
    ],
)
def test_what_lies_in_the_drawer_is_not_bought(drawer: Have, item: str, to_buy: int, left: int) -> None:
    """Four feet of ISO 4017 M8 x 30 and four washers are needed; only the same standard, thread and length serve."""
    built = riser(riding(), have=(drawer,))
    counted = schedule(built, solve(built))
    line = next(line for line in counted.lines if line.item == item)
    assert (line.to_buy, line.quantity) == (to_buy, 1 if item == "crank-jam_nut" else 4)
    assert sum(rest for _, rest in counted.left_over) == left
    notes = " ".join(hardware_rows(built, solve(built)).notes)
    assert (f"{left} are not used" in notes) == bool(left)


def test_a_drawer_serves_lines_in_order_and_never_twice() -> None:
    """Two sets that want the same nut share three nuts of the drawer."""
    built = riser(captured(nut=JAM), have=(have(3, "ISO 4035", "M8"),))
    lines = {line.item: line for line in schedule(built, solve(built)).lines}
    assert (lines["crank-jam_nut"].to_buy, lines["corner-nut"].to_buy) == (0, 2)


def test_a_bolt_that_must_be_cut_says_what_to_buy_and_how() -> None:
    """Between 25 and 30 mm no length is sold, so the choice of the solver is cut from 30; the words name both."""
    built = riser(riding())
    derived = solve(built)
    choice = next(bolt for bolt in derived.bolts if bolt.part == "crank.hub")
    assert choice.buy_mm == 30.0 and choice.cut_to_mm is not None and 25.0 < choice.cut_to_mm < 30.0
    row = _row(hardware_rows(built, derived), "crank-bolt")
    assert row["cutting and remarks"].startswith(
        f"buy 30 mm, cut to {choice.cut_to_mm:g} mm, file a chamfer with a nut run on first"
    )
    assert row["description"] == "socket head cap screw ISO 4762 M8 x 30 mm"
    assert row["length under head"] == "30 mm"
    assert any(f"cut to {choice.cut_to_mm:g} mm" in line for line in summary_lines(built, derived))


def test_the_thread_wanted_reaches_from_the_tip_into_the_first_nut() -> None:
    """Board 17.8 mm less a recess of 9 mm (at its deepest 9.2, board at its thinnest 17.6) and the play of 0.2 mm lie before the thread."""
    built = riser(riding())
    derived = solve(built)
    piece = next(piece for piece in hardware_items(built, derived) if piece.item == "crank-bolt")
    assert piece.cut_to_mm is not None and piece.thread_wanted_mm is not None
    assert piece.thread_wanted_mm == pytest.approx(piece.cut_to_mm - (17.6 - 9.2 + 0.2), abs=1e-6)


def _row(rows: Rows, item: str) -> dict[str, str]:
    names = [column.name for column in rows.columns]
    found = next(row for row in rows.rows if item in row)
    return {name: "" if cell is None else str(cell) for name, cell in zip(names, found, strict=True)}


def test_substitutes_never_cross_from_metric_to_inch() -> None:
    """Every line with a thread warns of the other system."""
    built = riser(riding())
    for line in schedule(built, solve(built)).lines:
        row = _row(hardware_rows(built, solve(built)), line.item)
        if line.piece.thread is not None and line.piece.thread.system == "metric":
            assert "never an inch thread" in row["substitutes"], line.item
        assert row["source of the data"], line.item


def test_csv_reads_back_and_runs_no_formula() -> None:
    """A user's table whose source and name begin like formulas stays text."""
    origin = LibraryRow("my_insert", "M8", '=HYPERLINK("http://x")', "measured")
    hostile = replace(INSERT, origin=origin)
    built = riser(riding(insert=hostile))
    rows = hardware_rows(built, solve(built))
    heading, *lines = read_back(rows)
    assert heading == [column.heading for column in rows.columns]
    assert len(lines) == len(rows.rows)
    assert any(cell.startswith("'=HYPERLINK") for line in lines for cell in line)
    assert not any(cell[:1] in ("=", "+", "-", "@") for line in lines for cell in line)
    quantity, kind = heading.index("quantity"), heading.index("kind")
    counted = sum(int(line[quantity]) for line in lines if line[kind] == "hardware")
    assert counted == len(hardware_items(built, solve(built)))


@pytest.mark.parametrize(
    ("mm_value", "text"),
    [(31.75, "1-1/4 in"), (57.15, "2-1/4 in"), (25.4, "1 in"), (0.396875, "1/64 in"), (13.49375, "17/32 in"), (25.0, "0.984 in"),
     (30.0, "1.181 in"), (14.2748, "9/16 in"), (0.0, "0 in")],
)  # fmt: skip
def test_inches_are_fractions_only_where_they_are(mm_value: float, text: str) -> None:
    """1 in is 25.4 mm exactly (international yard, 1959); 0.562 in is how tables print 9/16."""
    assert inch_text(mm_value) == text


def test_inch_fixtures_print_inch_first_and_metric_ones_no_inch() -> None:
    """A screw of 1-1/4 in (31.75 mm)."""
    thread = Thread(designation="5/16-18", major_mm=7.9375, pitch_mm=25.4 / 18, lead_mm=25.4 / 18, system="unified")
    head = Head(form="hexagon", diameter_mm=14.6, height_mm=5.4, height_max_mm=5.4, across_flats_mm=12.7)
    screw = Screw(standard="ASME B18.2.1 hex_cap_screw", thread=thread, head=head, threaded=ThreadLength(full=True),
                  stock_mm=(31.75,))  # fmt: skip
    built = riser(riding(thread=thread, screw=screw, length=mm("31.75")), units="in", hardware="inch")
    derived = solve(built)
    row = _row(hardware_rows(built, derived), "corner-screw")
    assert row["description"] == "hex cap screw ASME B18.2.1 5/16-18 x 1-1/4 in (31.75 mm)"
    assert row["thread"].startswith("5/16-18, 18 threads per inch")
    assert row["head and key"] == "hexagon head, 1/2 in (12.7 mm) across flats"
    assert "never a metric thread" in row["substitutes"]
    cut = cut_list_rows(built, derived)
    names = [column.heading for column in cut.columns]
    deck = next(row for row in cut.rows if row[0] == "deck")
    assert deck[names.index("width (in)")] == pytest.approx(480 / 25.4, abs=5e-4)
    assert names.index("width (in)") < names.index("width (mm)")
    metric = riser(riding())
    text = csv(hardware_rows(metric, solve(metric))).decode("utf-8") + csv(cut_list_rows(metric, solve(metric))).decode("utf-8")
    assert " in (" not in text and "(in)" not in text
    assert sold_length(60.0, "mm") == "60 mm"


def test_metric_hardware_is_asked_for_in_mm_whatever_is_printed() -> None:
    """A shop sells M8 x 30, not M8 x 1.181 in."""
    built = riser(riding(), units="in")
    row = _row(hardware_rows(built, solve(built)), "corner-screw")
    assert row["description"] == "hexagon head screw ISO 4017 M8 x 30 mm"
    assert row["length under head"] == "1.181 in (30 mm)"


def test_tools_name_every_cutter_drill_and_key() -> None:
    """A 4 mm cutter with 25 mm of reach; a pilot of 5 mm is stated; the 8.4 mm hole of the drive needs a drill once the cutter is 10 mm."""
    built = riser(riding())
    said = [row[1] for row in hardware_tables(built, solve(built))[1].rows if row[0] == "tool"]
    assert said[:2] == ["straight cutter, diameter 4 mm, reach 25 mm", "drill 5 mm"] and "spanner 13 mm" in said
    wide = built.model_copy(update={"cutters": (built.cutters[0].model_copy(update={"diameter": mm(10)}),)})
    drills = {row[1]: str(row[2]) for row in hardware_tables(wide, solve(wide))[1].rows if str(row[1]).startswith("drill")}
    assert "hole of crank.hub" in drills["drill 8.4 mm"] and set(drills["drill 5 mm"].split(", ")) == {
        "pilot of pin.east", "pilot of pin.west"
    }  # fmt: skip
    assert not any("insert" in where for where in drills.values()), "13.5 mm is wider than the cutter"


def test_left_hand_threads_say_so() -> None:
    """Designation, pitch and hand."""
    left = Thread(designation="M10-LH", major_mm=10.0, pitch_mm=1.5, lead_mm=1.5, hand=-1, system="metric")
    assert thread_text(left) == "M10-LH, pitch 1.5 mm, left hand"


def test_boxes_of_gears_are_their_tip_circles() -> None:
    """ISO 53 proportions: tip diameter m (z + 2); equal gears stand together."""
    built = riser(riding())
    found = {part.ids: part for part in cut_parts(built, solve(built))}
    assert set(found) == {("deck",), ("hub",), ("east", "west"), ("ne", "nw", "se", "sw")}
    assert found[("hub",)].width_mm == pytest.approx(6.0 * 18)
    assert found[("ne", "nw", "se", "sw")].height_mm == pytest.approx(6.0 * 22)
    assert found[("deck",)].area_mm2 == 480.0 * 350.0


def test_gears_that_differ_in_one_thing_are_not_grouped() -> None:
    """Another cutter's gear is another part."""
    built = riser(riding())
    other = tuple(item.model_copy(update={"layers": 2}) if item.name.text == "ne" else item for item in built.gears)
    changed = built.model_copy(update={"gears": other})
    assert ("nw", "se", "sw") in {part.ids for part in cut_parts(changed, solve(changed))}


def test_nut_of_a_left_hand_foot_is_asked_for_as_left_hand() -> None:
    """The foot's thread, not the row's."""
    left = Thread(designation="M8-LH", major_mm=8.0, pitch_mm=1.25, lead_mm=1.25, hand=-1, system="metric")
    plain = Nut(standard="ISO 4032", thread=replace(left, designation="M8"), across_flats_mm=13.0,
                across_corners_mm=14.38, height_mm=6.8)  # fmt: skip
    built = riser(captured(thread=left, nut=plain))
    row = _row(hardware_rows(built, solve(built)), "corner-nut")
    assert row["description"] == "hexagon nut ISO 4032 M8-LH" and row["thread"].endswith("left hand")
