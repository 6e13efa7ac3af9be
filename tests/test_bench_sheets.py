"""The assembly sheet, its figures, shop aids, the front page and the card before cutting: counts, words, and what must not be missing."""

from __future__ import annotations

import csv as standard
import io
import math
import re
from fractions import Fraction
from xml.etree import ElementTree

import pytest
from tests.bench_fixture import solved, solved_text

from trivet.drawing.figures import step_figure
from trivet.emit.csv import csv
from trivet.emit.figure_svg import figure_svg
from trivet.emit.markdown_page import markdown_page
from trivet.record import replace
from trivet.solve.assembly import assembly
from trivet.solve.assembly_step import Captive
from trivet.solve.feature import Round
from trivet.solve.inspection import readings
from trivet.solve.part_features import PartFeatures
from trivet.tables.assembly import assembly_page, bench_steps
from trivet.tables.assembly_trying import every_pair_turns, pair_turns
from trivet.tables.before_you_cut import before_you_cut
from trivet.tables.bench_step import bench
from trivet.tables.bench_words import bench_length
from trivet.tables.cut_list import cut_list_rows, cut_parts
from trivet.tables.front_page import front_page
from trivet.tables.inspection import inspection_rows
from trivet.tables.prose_page import Item, Page, Section
from trivet.tables.wording import near_fraction

NAMES = ("dog_table", "fine_lift", "inch_table", "outfeed_riser", "small_riser", "tripod")
AIDS = "\n\nhelper guide_block\n\nhelper shims\n\nhelper centring_bar\n"


def sheet(name: str, more: str = "") -> str:
    design, derived = solved(name, more)
    order = assembly(design, derived)
    return markdown_page(assembly_page(design, derived, order, bench_steps(design, derived, order), {})).decode()


def kinds(name: str) -> list[str]:
    return [step.kind for step in bench_steps(*solved(name))]


def aids(name: str) -> dict[str, PartFeatures]:
    return {part.part: part for part in solved(name, AIDS)[1].parts if part.kind == "helper"}


@pytest.mark.parametrize("name", NAMES)
def test_steps_name_every_gear_and_every_foot(name: str) -> None:
    design, derived = solved(name)
    steps = bench_steps(design, derived)
    said = " ".join(step.text for step in steps)
    for state in derived.train.gears:
        assert f"`{state.id}`" in said
    named = {part for step in steps for part in step.parts}
    assert {state.id for state in derived.feet} <= named
    assert {state.id for state in (*derived.pivots, *derived.drives)} <= named


def test_steps_of_two_examples_counted_by_hand() -> None:
    """Riser: inserts, tee nut, glue, pads, feet, zero, idlers, drive. Inch table: the same without idlers."""
    assert kinds("outfeed_riser") == [
        "drive_insert", "press_tee_nut", "glue_screw_in_gear", "fit_pad", "thread_feet", "zero", "hang_idler", "fit_drive",
    ]  # fmt: skip
    assert kinds("inch_table") == [
        "drive_insert",
        "press_tee_nut",
        "glue_screw_in_gear",
        "fit_pad",
        "thread_feet",
        "zero",
        "fit_drive",
    ]


@pytest.mark.parametrize("name", NAMES)
def test_feet_are_level_before_anything_couples_them(name: str) -> None:
    """Once the last foot is in, and before the last gear that comes into mesh; cures stand before what is turned."""
    found = kinds(name)
    zero = found.index("zero")
    assert found.count("zero") == 1
    assert all(
        kind not in found[zero:] for kind in ("thread_feet", "turn_in_screw", "thread_rod", "drive_insert", "glue_screw_in_gear")
    )
    assert any(kind in ("hang_idler", "fit_drive", "place_gear") for kind in found[zero:])


def test_which_way_round_and_how_deep() -> None:
    """A 15 mm insert flush with the underside of 17.8 mm lies 2.8 mm under the topside; the other way gives less travel."""
    text = sheet("outfeed_riser")
    assert "Drive the inserts of `corner.ne`, `corner.nw`, `corner.se` and `corner.sw` into `deck` from the topside." in text
    assert "2.8 mm under the topside and the far end flush with the underside" in text
    assert "raising the board tightens it, and driven from the other face the travel would be only 5.3 mm instead of 9.3 mm" in text


def test_left_hand_screws_pull_the_other_way() -> None:
    steps = {step.parts[0]: " ".join(step.details) for step in bench_steps(*solved("fine_lift")) if step.kind == "drive_insert"}
    assert "raising the board tends to loosen it" in steps["right.far_e"]
    assert "raising the board tightens it" in steps["left.near_n"]


def test_an_insert_that_stands_out_asks_for_spacers() -> None:
    """Proud of the underside by 3 mm: spacers of 5 mm under the board."""
    text = (solved("outfeed_riser")[0].origin.file.text).replace("flush underside", "flush underside, proud 3 mm")
    steps = bench_steps(*solved_text(text))
    assert any("lay the board on spacers of 5 mm or more" in detail for step in steps for detail in step.details), [
        s.details for s in steps
    ]


def test_marks_are_spoken_of_on_closed_rings_only() -> None:
    for name in ("outfeed_riser", "tripod", "inch_table"):
        assert "point at each other" not in sheet(name)


def test_zeroing_has_the_real_step() -> None:
    """M8, 20 teeth: 1.25/20; half of it is left. A hexagon in 20 teeth has lcm(6, 20) = 60 places, 1.25/60 apart."""
    text = sheet("outfeed_riser")
    assert "one tooth is 0.0625 mm of height, so at most 0.0312 mm is left" in text
    assert "60 places in a turn, 0.0208 mm apart" in text
    assert "0.0026 in (0.066 mm)" in sheet("inch_table")  # 25.4/16/24


def test_turns_until_teeth_meet_again() -> None:
    """16 on 20: 5 turns of the 16. 20 on 20 at 16/20 of the drive: 1.25 turns. Both together: 5. 24 on 36 from the 36: 2."""
    held = bench(*solved("outfeed_riser"))
    turns = {mesh.id: pair_turns(held, mesh) for mesh in held.derived.train.meshes}
    assert turns["hub-west"] == 5 and turns["west-nw"] == Fraction(5, 4)
    assert every_pair_turns(held) == 5
    assert every_pair_turns(bench(*solved("tripod"))) == 2
    lift = bench(*solved("fine_lift"))
    # Counting teeth: 18 on 36 is 2 turns of the drive; the pinion of 18 at half speed on 48: lcm 144 teeth, 16 turns.
    assert {mesh.id: pair_turns(lift, mesh) for mesh in lift.derived.train.meshes}["sun-pinion"] == 16
    assert every_pair_turns(lift) == math.lcm(16, 2, 80)


@pytest.mark.parametrize("name", NAMES)
def test_first_binding_names_each_gear_once_by_its_turns(name: str) -> None:
    design, derived = solved(name)
    page = assembly_page(design, derived, assembly(design, derived), bench_steps(design, derived), {})
    rows = next(section.rows for section in page.sections if section.heading.startswith("If it binds"))
    assert rows is not None
    run_out = [str(row[2]) for row in rows.rows if row[1] == "one of these gears runs out of true"]
    named = [name for cell in run_out for name in re.split(r", | and ", cell)]
    assert sorted(named) == sorted(state.id for state in derived.train.gears)
    assert any(str(row[0]).startswith("overnight") for row in rows.rows)
    assert all(len(row) == 5 and all(row) for row in rows.rows)
    rides = any(state.foot.kind == "riding" for state in derived.feet)
    assert any(str(row[0]).startswith("more, the higher") for row in rows.rows) == rides


@pytest.mark.parametrize("name", NAMES)
def test_figures_are_whole_svg_without_strangers(name: str) -> None:
    design, derived = solved(name, AIDS if "helper" not in solved(name)[0].origin.file.text else "")
    drawn = 0
    for step in bench_steps(design, derived):
        figure = step_figure(design, derived, step.kind, step.parts)
        if figure is not None:
            root = ElementTree.fromstring(figure_svg(figure))
            assert root.tag.endswith("svg") and len(list(root.iter())) > 10
            box = [float(part) for part in root.attrib["viewBox"].split()]
            for text in root.iter("{http://www.w3.org/2000/svg}text"):
                assert 0 <= float(text.attrib["x"]) <= box[2] and 0 <= float(text.attrib["y"]) <= box[3]
            drawn += 1
    assert drawn >= 2


def test_guide_block_holds_the_insert_as_square_as_the_plan_asks() -> None:
    """Bore 16.1 + 0.1; two sheets of 17.8: the thinnest insert, 15.9, leans by atan(0.3/35.6) = 0.48 deg."""
    block = aids("outfeed_riser")["helper.guide_block"]
    bore = block.features[0].shape
    assert isinstance(bore, Round) and bore.diameter_mm == pytest.approx(16.2)
    assert block.quantity == 2 and "0.48 deg" in block.notes[0]


def test_four_equal_shims_within_the_stroke() -> None:
    """23 mm with a board of 17.8 stands at 40.8 mm: inside 38.8 to 48.1 mm, with every sheet too."""
    shim = aids("outfeed_riser")["helper.shim"]
    bounds = shim.outline.bounds
    height = bounds[3] - bounds[1]
    assert shim.quantity == 4 and height == pytest.approx(23.0)
    lift = solved("outfeed_riser")[1].lift
    assert lift is not None and lift.height_every_sheet[0] + 0.9 < height + 17.8 < lift.height_every_sheet[1]
    inch = aids("inch_table")["helper.shim"].outline.bounds
    assert (inch[3] - inch[1]) / 25.4 * 16 == pytest.approx(round((inch[3] - inch[1]) / 25.4 * 16))


def test_bars_hold_the_real_centres() -> None:
    """(16 + 20)/2 · 6 and 20 · 6: one bar for each, with the holes of the board."""
    bars = {name: part for name, part in aids("outfeed_riser").items() if "bar" in name}
    distances = {}
    for name, part in bars.items():
        one, two = (item.shape for item in part.features)
        assert isinstance(one, Round) and isinstance(two, Round)
        distances[name] = round(two.x_mm - one.x_mm, 6), {one.diameter_mm, two.diameter_mm}
    bounds = bars["helper.centring_bar.east-ne"].outline.bounds
    assert (bounds[2] - bounds[0], bounds[3] - bounds[1]) == pytest.approx((120.0 + 37.5, 37.5))  # 12 mm of wood round 13.5 mm
    assert distances == {
        "helper.centring_bar.hub-east": (108.0, {8.4, 5.0}),
        "helper.centring_bar.east-ne": (120.0, {5.0, 13.5}),
    }


def test_aids_are_in_the_cut_list_counted_by_hand() -> None:
    """Riser: 1 board, 7 gears, 2 halves of a block, 4 shims, 2 bars: 16 pieces. Inch table: 1 + 5 + 2 + 4 + 1 = 13."""
    for name, pieces in (("outfeed_riser", 16), ("inch_table", 13)):
        assert sum(part.pieces for part in cut_parts(*solved(name, AIDS))) == pieces
        assert sum(part.pieces for part in cut_parts(*solved(name))) == pieces - (8 if pieces == 16 else 7)
    rows = cut_list_rows(*solved("outfeed_riser", AIDS))
    assert {str(row[0]) for row in rows.rows if str(row[0]).startswith("helper.")} == set(aids("outfeed_riser"))


@pytest.mark.parametrize("name", NAMES)
def test_the_card_opens_cleanly(name: str) -> None:
    data = csv(inspection_rows(*solved(name)))
    assert data.startswith(b"\xef\xbb\xbf") and b"\n" not in data.replace(b"\r\n", b"")
    lines = list(standard.reader(io.StringIO(data.decode("utf-8-sig"), newline="")))
    assert len({len(line) for line in lines}) == 1
    assert not [cell for line in lines for cell in line if cell[:1] in "=+-@\t\r" and cell]
    assert {line[lines[0].index("measured")] for line in lines[1:]} == {""}


@pytest.mark.parametrize("name", NAMES)
def test_the_card_counts_what_the_model_has(name: str) -> None:
    """A span for each layer of each gear, centres for each mesh over round holes, a hole for each insert."""
    design, derived = solved(name)
    rows = readings(design, derived)
    assert sum(row.kind == "span" for row in rows) == sum(state.gear.layers for state in derived.train.gears)
    assert {row.of[0] for row in rows if row.kind == "spacing"} <= {mesh.id for mesh in derived.train.meshes}
    holes = sum(row.alike for row in rows if row.kind == "hole" and row.title.startswith("hole for the insert"))
    layers = max(board.layers for board in design.boards)
    assert holes in (count := sum(state.foot.insert is not None for state in derived.feet), count * layers)


def test_cards_of_two_examples_counted_by_hand() -> None:
    """Riser: 1 sheet, 7 of the deck, 4 each of two idlers and the hub, 5 each of four feet's gears, 6 meshes, 1 cut bolt.

    Inch table: 1 sheet, 5 of the top, 4 of the hub, 5 each of four feet's gears, 4 meshes.
    """
    assert len(readings(*solved("outfeed_riser"))) == 1 + 7 + 3 * 4 + 4 * 5 + 6 + 1
    assert len(readings(*solved("inch_table"))) == 1 + 5 + 4 + 4 * 5 + 4


def test_what_cannot_be_put_together_is_said_before_the_steps() -> None:
    design, derived = solved("outfeed_riser")
    order = replace(
        assembly(design, derived),
        blocked=(Captive("hang_idler", "pin.west", ("corner.nw",), ("one would have to pass the other",)),),
    )
    page = assembly_page(design, derived, order, bench_steps(design, derived, order), {})
    steps = next(section for section in page.sections if section.heading == "Steps")
    assert steps.paragraphs[0] == "Not possible as planned: `pin.west` is held by `corner.nw`: one would have to pass the other."


def test_inch_first_everywhere() -> None:
    """Fractions to 1/64 with the decimal and mm beside them; no length without an inch in the steps of an inch fixture."""
    assert bench_length(25.4 * 29 / 32, "in") == "29/32 in (0.906 in, 23.02 mm)"
    assert bench_length(18.0, "in") == "about 45/64 in (0.709 in, 18 mm)"
    assert bench_length(0.066, "in") == "0.003 in (0.066 mm)"
    assert near_fraction(25.4 * 1.5) == "1-1/2" and near_fraction(25.4) == "1" and near_fraction(0.1) == "about 0"
    text = "\n".join(line for line in sheet("inch_table").splitlines() if re.match(r"\d+\.|   - ", line))
    assert not re.search(r"(?<![\d., (])\b[\d.]+ mm(?![)])", re.sub(r"\([^()]*\)", "", text))


def test_hostile_names_and_notes_stay_text() -> None:
    page = Page("<script>*x*", ("a `b c` d `e|f` <b>",), (Section("# h", (), (Item("1. `ok.name` [l](x)", ("- d",)),), 1),))
    text = markdown_page(page).decode()
    assert "<script>" not in text and "&lt;script&gt;" in text
    assert "`ok.name`" in text and "\\[l\\](x)" in text and "\\`e\\|f\\`" in text


def test_front_page_and_card() -> None:
    design, derived = solved("dog_table")
    text = markdown_page(front_page(design, derived, (), "1", plan="plan/dog_table.trivet")).decode()
    assert "![Plan and section of Dog table](preview.svg)" in text and "Licence: CC0 1.0." in text
    assert "cut both boards from one sheet" in text and "magnets are an emergency" in text
    assert "8 of 24 teeth" in text and "never feed them by hand" in text
    assert "No licence is stated" in markdown_page(front_page(*solved("tripod"), (), "1")).decode()
    card = markdown_page(before_you_cut(design, derived, "plan/dog_table.trivet")).decode()
    assert "trivet check plan/dog_table.trivet --shop mine.trivet" in card
    assert "17.6 to 18 mm" in card and "outside 11.9 to 12.1 mm" in card and "18 mm to 20 mm" in card
    assert "What the author says" not in markdown_page(before_you_cut(*solved("small_riser"))).decode()
