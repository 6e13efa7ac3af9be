"""What reaches too far: sheets laid within a machine's work area, gears past edges, and cuts made from two faces. Sums by hand beside each."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from tests.edited_base import SHEET, of_rule, only, plain, solved

from trivet.drawing.nested_sheets import nested_sheets
from trivet.model.base import Ref
from trivet.model.shop import Machine
from trivet.solve.nest import nest
from trivet.solve.nest_job import jobs_of
from trivet.solve.nest_kept import NotKept, kept_nest, kept_record
from trivet.solve.nest_records import Nest, Stock
from trivet.solve.segment import Segment
from trivet.solve.work_area import cut_down, whole_sheets
from trivet.tables.report_sheets import nest_lines, sheet_records
from trivet.units import Quantity

FORM = "- backlash 0.5 mm\n+   backlash 0.5 mm\n+ \n"
OUTLINE = "- outline rectangle 480 by 350 mm, corner_radius 12 mm\n"
BOARD = OUTLINE + "+   outline rectangle 480 by 350 mm, corner_radius 12 mm\n"
ONE = FORM + "+ machine bench\n+   work_area 520 by 400 mm\n" + BOARD + "+   machine bench\n"


def _machines(*areas: str) -> str:
    """The board on the first machine, the hub on the last."""
    blocks = "".join(f"+ machine {name}\n+   work_area {area} mm\n+ \n" for name, area in zip(("bench", "small"), areas, strict=False))
    last = ("bench", "small")[len(areas) - 1]
    return FORM + blocks.removesuffix("+ \n") + BOARD + "+   machine bench\n" + "- teeth 16\n" + f"+   teeth 16\n+   machine {last}\n"


def _nested(edits: str) -> tuple[Nest, dict[str, str]]:
    design, derived = solved(edits)
    return nest(design, derived), {job.machine: job.sheet for job in jobs_of(design, derived).jobs}


def _sizes(found: Nest) -> dict[str, set[tuple[float, float]]]:
    sizes: dict[str, set[tuple[float, float]]] = {}
    for sheet in found.sheets:
        sizes.setdefault(sheet.machine, set()).add((sheet.width_mm, sheet.height_mm))
    return sizes


def test_every_panel_lies_within_its_machines_area() -> None:
    """A sheet of 1220 by 610 mm gives three panels of 400 by 520 mm with a saw cut between two: 3 x 400 + 2 x 4 = 1208 mm."""
    found, jobs = _nested(_machines("520 by 400", "320 by 160"))
    assert set(jobs) == {"bench", "small", ""}
    sizes = _sizes(found)
    assert sizes == {"bench": {(400.0, 520.0)}, "small": {(320.0, 160.0)}, "": {(1220.0, 610.0)}}
    assert {sheet.per_sheet for sheet in found.sheets if sheet.machine == "bench"} == {3}
    laid = sorted(lying.part for sheet in found.sheets for lying in sheet.lying)
    assert laid == sorted(["deck", "hub", "west", "east", "nw", "sw", "ne", "se"])
    parts = {part.part: part for part in found.parts}
    for sheet in found.sheets:
        for lying in sheet.lying:
            x0, y0, x1, y1 = parts[lying.part].outline.rotated(math.radians(lying.turn_deg)).bounds
            reach = max(x1 - x0, y1 - y0) / 2
            assert reach <= max(sheet.width_mm, sheet.height_mm)


def test_a_large_machine_changes_nothing() -> None:
    """An area as large as the sheet, along or across, leaves the sheet whole; so does a machine without one."""
    for area in ("1220 by 610", "610 by 1220", "3000 by 2000"):
        found, _ = _nested(FORM + f"+ machine bench\n+   work_area {area} mm\n" + BOARD + "+   machine bench\n")
        assert {size for sizes in _sizes(found).values() for size in sizes} == {(1220.0, 610.0)}
        assert all(sheet.cut_from_mm is None for sheet in found.sheets)


@pytest.mark.parametrize(
    ("sheet", "area", "size", "per"),
    [
        ((1220.0, 610.0), (600.0, 400.0), (400.0, 600.0), 3),
        ((1220.0, 610.0), (610.0, 610.0), (610.0, 610.0), 1),
        ((1224.0, 610.0), (610.0, 610.0), (610.0, 610.0), 2),
        ((2440.0, 1220.0), (600.0, 400.0), (600.0, 400.0), 12),
        ((500.0, 300.0), (600.0, 400.0), (500.0, 300.0), 1),
        ((500.0, 300.0), (300.0, 600.0), (500.0, 300.0), 1),
    ],
)
def test_panels_of_a_sheet(sheet: tuple[float, float], area: tuple[float, float], size: tuple[float, float], per: int) -> None:
    """n panels of w take n w + (n - 1) 4 mm of the sheet: 2440 mm take four of 600 mm (2412 mm), 1220 mm three of 400 mm (1208 mm)."""
    sides = [Quantity(Fraction(value), "mm") for value in area]
    machine = Machine(name=Ref("m"), work_area_width=sides[0], work_area_height=sides[1])
    found = cut_down(Stock(*sheet, None, False), machine, [], 10.0)
    assert ((found.width_mm, found.height_mm), found.per_sheet) == (size, per)
    assert (found.cut_from_mm is None) == (size == sheet)


def test_whole_sheets_are_counted_by_what_they_give() -> None:
    panels = [Stock(400.0, 600.0, None, False, 3, (1220.0, 610.0))] * 4
    assert whole_sheets(panels) == 2
    assert whole_sheets([*panels, Stock(1220.0, 610.0, None, False), Stock(300.0, 200.0, 1, True)]) == 3


def test_words_say_what_is_sawn_first() -> None:
    design, derived = solved(ONE)
    found = nest(design, derived)
    (line,) = nest_lines(found)
    assert "cut down to 1 panel for the work area of bench" in line and line.startswith("sheets: 2 of ply18")
    words = repr(nested_sheets(design, found))
    assert "saw a sheet of 1220 mm by 610 mm into panels, 3 of this size, first" in words
    records = {record["machine"]: record for record in sheet_records(found)}
    assert records["bench"]["cut_from_mm"] == [1220.0, 610.0] and records[None]["cut_from_mm"] is None


def test_a_placement_is_kept_for_its_machine() -> None:
    """What was kept is used again; with another work area it is not."""
    design, derived = solved(_machines("520 by 400", "320 by 160"))
    jobs = jobs_of(design, derived)
    record = kept_record(jobs, nest(design, derived))
    again = kept_nest(jobs, record)
    assert [(sheet.machine, sheet.lying) for sheet in again.sheets] == [(s.machine, s.lying) for s in nest(design, derived).sheets]
    other = jobs_of(*solved(_machines("520 by 410", "320 by 160")))
    with pytest.raises(NotKept):
        kept_nest(other, record)


def test_few_sheets_are_counted_as_sheets() -> None:
    """Seven gears of 132 mm, one to a panel of 160 by 160 mm: a sheet gives 7 x 3 panels, so one sheet is enough with the board's."""
    edits = SHEET.replace("+   size", "+   sheets 2\n+   size") + ONE
    assert not of_rule("too-few-sheets", edits)
    assert of_rule("too-few-sheets", edits.replace("sheets 2", "sheets 1"))


def test_the_messages_of_machines_name_both_sizes() -> None:
    note = only("sheet-larger-than-machine", ONE)
    assert "1220 mm by 610 mm" in note.message and "520 mm by 400 mm" in note.message and "3 panels of 400 mm by 520 mm" in note.remedy
    small = only("part-larger-than-machine", ONE.replace("520 by 400", "490 by 400"))
    assert "480 mm by 350 mm" in small.message or "350 mm by 480 mm" in small.message
    assert "490 mm by 400 mm less an edge margin of 10 mm" in small.message and "`edge_margin 0 mm`" in small.remedy
    # Another rule says that a part is larger than its sheet, and once is enough.
    large = ONE.replace("+   outline rectangle 480 by 350", "+   outline rectangle 900 by 700")
    assert of_rule("part-larger-than-sheet", large) and not of_rule("part-larger-than-machine", large)
    assert not plain(ONE, "statement-not-yet-used")


def test_a_gear_past_an_edge_says_where() -> None:
    """A round board of 500 mm: the feet stand 195.535 mm from its middle, 66 mm over the tips: 11.53 mm past it, straight outwards."""
    item = only("gear-past-edge", OUTLINE + "+   outline circle 500 mm\n")
    assert "66 mm from its middle, 11.53 mm past the edge of `deck`" in item.message and "54.47 mm or less" in item.message
    assert "11.54 mm farther out" in item.remedy
    turn = math.degrees(math.atan2(120 * math.sin(math.radians(62)), 108 + 120 * math.cos(math.radians(62))))
    assert f"at {turn:.0f} deg" in item.message and set(item.parts) == {"nw", "sw", "ne", "se", "deck"}


def test_another_board_may_cover_a_gear() -> None:
    """Gears under a lower board of 300 mm that stand out of it and not out of the upper one."""
    edits = "- gear hub\n+ board lower\n+   stock ply18\n+   cutter straight6\n+   outline rectangle 300 by 350 mm\n+   under deck, centred\n+ \n"
    edits += "+ default foot\n+   into lower\n+ \n+ gear hub\n+   under lower\n- at deck.centre\n+   at deck (240, 175) mm\n"
    edits += "".join(f"- gear {name}\n+ gear {name}\n+   under lower\n" for name in ("west, east", "nw, sw, ne, se"))
    assert not of_rule("gear-past-edge", edits)
    assert of_rule("gear-past-edge", edits + OUTLINE + "+   outline rectangle 440 by 350 mm\n")


def test_the_nearest_point_of_a_piece() -> None:
    """A half circle of radius 5 about (0, 0) from (5, 0) to (-5, 0), anticlockwise, and a line."""
    half = Segment(5.0, 0.0, -5.0, 0.0, 1.0)
    assert half.nearest(0.0, 9.0) == pytest.approx((0.0, 5.0))
    assert half.nearest(3.0, 4.0) == pytest.approx((3.0, 4.0))
    assert half.nearest(4.0, -1.0) == pytest.approx((5.0, 0.0)) and half.nearest(-4.0, -9.0) == pytest.approx((-5.0, 0.0))
    assert Segment(5.0, 0.0, -5.0, 0.0, -1.0).nearest(0.0, -9.0) == pytest.approx((0.0, -5.0))
    assert Segment(0.0, 0.0, 10.0, 0.0, 0.0).nearest(4.0, 3.0) == (4.0, 0.0)
    assert Segment(0.0, 0.0, 10.0, 0.0, 0.0).nearest(14.0, 3.0) == (10.0, 0.0)
