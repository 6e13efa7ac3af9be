"""The drive's stop, its countersunk bolt, what touches the bench and what holds a board down: generated, each against a sum of its own.

The base: M8 x 1.25 feet under gears of 20 teeth, hub 16, so 1 mm of rise a turn; sheets 17.8 +/- 0.2 mm.
"""

from __future__ import annotations

import math

import pytest
from tests.edited_base import PAD, PLAY, SHEET, plain, solved
from tests.fixture_text import compiled, findings_of

from trivet.checks._examples import example_text
from trivet.solve.beyond import beyond_of
from trivet.solve.drive_stop import stop_plan
from trivet.solve.solve import solve
from trivet.tables.explanation import reported
from trivet.tables.explanation_entries import entries
from trivet.tables.hardware_items import hardware_items
from trivet.tables.report import report
from trivet.tables.summary import summary_lines

# --- a stop ---

TALL = PAD + "+   pad dome, drop {drop} mm\n"
# A bolt threaded throughout, let in as deep as its head is high.
THROUGH = "- bolt ISO 4762, head recessed 9 mm\n+   bolt ISO 4017, head recessed 6 mm\n"


@pytest.mark.parametrize("drop", [3, 6, 9, 12, 15, 18, 20, 21, 22, 23, 24, 26, 28, 30, 35, 40])
@pytest.mark.parametrize("nut", ["", " ISO 4032"])
def test_stop_against_the_feet(drop: int, nut: str) -> None:
    """Above ground or not: with the bolt for all turns hanging lower than the drive without it, the feet lose what they do not stand out."""
    _, free = solved(THROUGH + TALL.format(drop=drop))
    found = plain(THROUGH + TALL.format(drop=drop) + PLAY + f"+   stop{nut}\n", "stop-takes-travel")
    design, stopped = solved(THROUGH + TALL.format(drop=drop) + PLAY + f"+   stop{nut}\n")
    assert free.lift is not None
    left = stopped.lift.travel_mm if stopped.lift is not None else 0.0
    assert bool(found) is (free.lift.travel_mm - left > 0.05)
    assert not plain(THROUGH + TALL.format(drop=drop), "stop-takes-travel")
    plan = stop_plan(stopped, stopped.drives[0])
    if plan is None:
        assert left == 0.0 and found
        return
    assert stopped.lift is not None
    # It stops after the travel, a quarter of a turn past it at most, and before what comes next.
    assert stopped.lift.turns_for_travel <= plan.turns <= stopped.lift.turns_for_travel + 0.5 + 1e-9
    for end, past, over in (("least", plan.past_least_turns, plan.left_least_turns), ("most", plan.past_most_turns, plan.left_most_turns)):
        first = next(item for item in beyond_of(stopped) if item.end == end)
        assert 0.0 <= past <= max(first.turns, 0.0) and over == pytest.approx(first.turns - past)
    # Nut and washer run between the jam nut and the end nut; the bolt is long enough for them, at the thickest sheets too.
    height = 6.8 if nut else 4.0
    assert plan.nut_mm == height and plan.window_mm == pytest.approx(plan.turns * 1.25)
    bolt = next(item for item in stopped.bolts if item.part == plan.drive)
    fitted = bolt.stated_mm or bolt.cut_to_mm or bolt.buy_mm
    assert bolt.fits and fitted is not None and fitted >= plan.end_nut_mm + height + 1.25 - 1e-6
    # Raised clockwise: a nut that cannot turn climbs a right-hand bolt and meets the jam nut at the top.
    assert (plan.least_meets, plan.most_meets) == ("end nut", "jam nut")
    pieces = [item.item for item in hardware_items(design, stopped)]
    assert pieces.count("crank-stop_nut") == 2 and pieces.count("crank-stop_washer") == 1
    assert any(line.startswith("stop: ") for line in summary_lines(design, stopped))
    low = min(item.z_low_mm for item in stopped.drives)
    # Topside 17.8, the head let in by 6: the end of the bolt hangs no higher than a length below that.
    assert low <= 17.8 - 6.0 - fitted + 1e-9


def test_stop_without_a_hexagon_nut() -> None:
    text = example_text("- jam_nut ISO 4035, below gear, recessed 6 mm, round 24 mm\n+   stop\n")
    (item,) = findings_of(text, "incomplete-fact")
    assert item.remedy == "write `stop ISO 4032`"


def test_a_stated_bolt_too_short_for_its_stop() -> None:
    edits = "- bolt ISO 4762, head recessed 9 mm\n+   bolt ISO 4017, head recessed 6 mm, length 30 mm\n" + TALL.format(drop=30)
    assert plain(edits + PLAY + "+   stop\n", "bolt-too-short")


# --- the drive's countersunk bolt ---

LENGTHS = """
+ 
+ table mine is length_range
+   source "a shop's list"
+   standard {standard}
+   columns thread, length_min mm, length_max mm, series, threaded
+   row M8, 16, 80, stock_lengths_iso, throughout
"""


@pytest.mark.parametrize(("standard", "head"), [("ISO 10642", 4.96), ("DIN 7991", 4.4)])
def test_countersunk_length_is_overall(standard: str, head: float) -> None:
    """ISO 225 and ISO 10642, DIN 7991 (from memory): l of a countersunk screw counts from the top of its head. So the same stack takes a
    screw longer by the head, its end lies where a cheese-headed one's lies, and nothing else moves. Head heights: the library's rows.
    """
    recess = "- bolt ISO 4762, head recessed 9 mm\n+   bolt {screw}, head recessed 9 mm\n"
    _, plain_head = solved(recess.format(screw="ISO 4017"))
    design, sunk = solved(LENGTHS.format(standard=standard) + recess.format(screw=standard))
    straight, countersunk = (next(b for b in d.bolts if b.part == "crank.hub") for d in (plain_head, sunk))
    assert countersunk.least_mm == pytest.approx(straight.least_mm + head)
    assert countersunk.most_mm == pytest.approx(straight.most_mm + head)
    # Topside 17.8, recess 9: the top of the head lies at 17.8 - 9 + head, the end a length below it.
    fitted = countersunk.cut_to_mm or countersunk.buy_mm
    assert fitted is not None
    end = 17.8 - 9 + head - fitted
    assert sunk.drives[0].z_low_mm <= end + 1e-9
    # A long one is the lowest point of the drive, to the tenth of a millimetre where its own length puts it.
    _, long = solved(LENGTHS.format(standard=standard) + recess.format(screw=standard).rstrip() + ", length 50 mm\n")
    assert long.drives[0].z_low_mm == pytest.approx(17.8 - 9 + head - 50)
    # By hand, thickest sheets and shallow recesses: 18 - 8.8 wood, 0.2 play, 1.5 flange, 18 - 5.8 gear, 4 nut.
    assert countersunk.least_mm == pytest.approx(head + 9.2 + 0.2 + 1.5 + 12.2 + 4.0)
    assert solve(design).bolts == sunk.bolts


def test_explanations_of_a_stop_hold() -> None:
    """The bolt's length is explained with its stop; each number equals the report's."""
    result = compiled(example_text(THROUGH + TALL.format(drop=30) + PLAY + "+   stop\n"))
    assert result.design is not None and result.derived is not None
    whole = report(result.design, result.derived, findings=(), status="clean", version="0")
    told = [entry for entry in entries(result.design, result.derived) if entry.path and entry.path[0] == "hardware"]
    assert told
    for entry in told:
        assert entry.explain().value == pytest.approx(reported(whole, entry.path))


# --- what touches the bench, and what holds a board down ---


@pytest.mark.parametrize("pocket", [5.8, 6.2, 7.0, 8.0])
@pytest.mark.parametrize("drop", [0.0, 0.3, 0.5, 0.8, 1.5, 3.0])
def test_gear_on_the_bench(pocket: float, drop: float) -> None:
    """An M8 head is 5.3 high: with its pad it stands out of its pocket, or the gear (R 66, inserts at 0.5 deg) rubs."""
    edits = f"- screw ISO 4017, length 30 mm, pocket 5.8 mm\n+   screw ISO 4017, length 30 mm, pocket {pocket} mm\n{PAD}"
    edits += f"+   pad dome, drop {drop} mm\n" if drop else ""
    found = plain(edits, "gear-rubs-bench")
    assert bool(found) is (5.3 + drop <= pocket)
    if found:
        # 2 R tan 0.5 deg; 2/3 mu R a newton with mu 0.25 to 0.5, against a disc of half the screw's 8 mm with 0.2 to 0.6.
        assert "up to 1.15 mm in a turn" in found[0].related[0].message
        assert "11 to 22 Nmm" in found[0].related[1].message and "0.3 to 0.8 on a dome" in found[0].related[1].message
        assert "`pad dome, drop" in (found[0].remedy or "")


def test_bench_in_the_report() -> None:
    rows = report(*solved(PAD), findings=(), status="clean", version="1")["bench"]
    assert isinstance(rows, list) and len(rows) == 4
    assert all(row["touches"] == "gear" and row["flat_radius_mm"] == pytest.approx(66.0) for row in rows)
    assert rows[0]["rub_nmm_per_n"] == pytest.approx({"at_least": 11.0, "at_most": 22.0})
    domes = report(*solved(""), findings=(), status="clean", version="1")["bench"]
    assert isinstance(domes, list) and all(row["rock_once_a_turn_mm"] == 0.0 for row in domes)


@pytest.mark.parametrize("force", [60, 100, 150, 200, 250, 300])
@pytest.mark.parametrize("x", [440, 455, 470, 479])
def test_hold_down_just_holds(force: int, x: int) -> None:
    """The hold-down that is named, put there as a load a little larger, keeps the board down; a little smaller, it does not."""
    edits = SHEET + "+   material birch_plywood\n+ \n+ load hand\n" + f"+   force {force} N at ({x}, 175) mm, down\n"
    found = plain(edits, "load-tips-board")
    if not found:
        return
    words = (found[0].remedy or "").split("hold-down of more than ")[1]
    hold, foot = float(words.split(" N")[0]), words.split("`")[1]
    _, derived = solved(edits)
    at = next(item for item in derived.feet if item.id == foot)
    moments = []
    for extra in (hold + 1.0, hold - 1.0):
        more = f"+ \n+ load clamp\n+   force {extra:.2f} N at ({at.x_mm:.4f}, {at.y_mm:.4f}) mm, down\n"
        _, held = solved(edits + more)
        # About the tipped edge, the line x = x of the right-hand feet: weight in the middle, the load beyond, the clamp behind.
        right = max(item.x_mm for item in held.feet)
        weight = 9.80665 * 0.68e-6 * 17.8 * (480 * 350 - (4 - math.pi) * 12**2)
        moments.append(weight * (right - 240) + extra * (right - at.x_mm) - force * (x - right))
    assert moments[0] > 0 > moments[1]
