"""What three fixtures written at the bench brought up: each against what a maker counts or measures by hand."""

from __future__ import annotations

import pytest
from tests.bench_fixture import solved
from tests.edited_base import only
from tests.fixture_text import compiled
from tests.test_tabs import parts

from trivet.checks._examples import example_text
from trivet.tables.assembly import bench_steps
from trivet.tables.hardware_schedule import schedule


def test_a_lower_level_gets_its_spacers() -> None:
    # `wheel`, 17.8 mm thick, turns on the level above: idlers `sun`, `west` and `east`, and two feet of either hand hang under it.
    design, derived = solved("fine_lift")
    rings = {line.item: line for line in schedule(design, derived).lines if line.piece.kind == "spacer"}
    assert {name: line.quantity for name, line in rings.items()} == {"pin-spacer": 3, "left-spacer": 2, "right-spacer": 2}
    assert all(line.piece.height_mm == pytest.approx(17.8) and line.to_buy == 0 for line in rings.values())
    said = " ".join(detail for step in bench_steps(design, derived) for detail in step.details)
    assert "washer above the gear, spacer of 17.8 mm, then the board" in said
    # With one level there is nothing to fill.
    assert not [line for line in schedule(*solved("outfeed_riser")).lines if line.piece.kind == "spacer"]


def test_tabs_of_the_usual_width_find_every_tip_alike() -> None:
    # All tips of a gear are as wide: what one holds, three hold.
    assert len(parts(("gear hub\n", "gear hub\n  tabs 3\n"))["hub"].tabs) == 3


def test_meshes_that_bind_alike_are_one_finding() -> None:
    text = example_text("- backlash 0.5 mm\n+   backlash 0.2 mm\n")
    binds = [item for item in compiled(text).findings if item.rule == "mesh-binds"]
    shown = [item.message.partition(" mesh with ")[2].partition(", the largest")[0] for item in binds]
    assert shown and len(set(shown)) == len(shown)


def test_how_a_screw_is_threaded_is_one_of_two_words() -> None:
    table = (
        '+ table sold is length_range\n+   standard ISO 4762\n+   source "the dealer\'s list"\n'
        "+   columns thread, length_min mm, length_max mm, series, threaded\n+   row M8, 16, 60, stock_lengths_iso, {}\n"
    )
    wrong = [item for item in compiled(example_text(table.format("full"))).findings if item.severity == "error"]
    assert [(item.rule, item.remedy) for item in wrong] == [("no-such-hardware", "write `throughout` or `partly`")]
    assert not [item for item in compiled(example_text(table.format("throughout"))).findings if item.severity == "error"]


def test_a_play_to_state_is_the_least_that_allows_for_swelling() -> None:
    # 0.063 mm a percent on 18 mm: 17.8 mm swell by 0.37 mm from 6 to 12 percent; with 0.2 mm to run in 0.57, in steps of 0.05.
    found = only("swelling-takes-play", "- play 0.3 mm\n")
    assert found.remedy.startswith("`play 0.6 mm`")


def test_a_sheet_that_would_hold_the_part() -> None:
    # 480 mm and twice the margin of 10 mm.
    found = only("part-larger-than-sheet", "- size 1220 by 610 mm\n+   size 450 by 400 mm\n")
    assert found.remedy.startswith("a sheet of at least 500 mm by 370 mm, or a smaller part")
