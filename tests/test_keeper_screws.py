"""What holds a keeper: worked out by hand on the base with sliding feet.

Gears of 20 teeth of module 6 mm with tips 66 mm from their axes; board, gears and keepers of 17.8 +/- 0.2 mm; recesses +/- 0.2 mm deep.
"""

from __future__ import annotations

import math

import pytest
from tests.quick_solve import solved

from trivet.checks._examples import example_text
from trivet.checks.keeper_overlaps import KEPT
from trivet.solve.clearances import near_gears
from trivet.solve.keeper_state import KeeperState
from trivet.tables.cut_list import cut_parts
from trivet.tables.hardware_schedule import schedule


def text_of(outline: str, *more: str) -> str:
    """The base with such keepers, and more facts about what holds them, each of which ends in mm."""
    return example_text(KEPT.format("\n+   ".join((f"{outline} mm", *more)).removesuffix(" mm")))


def held_of(outline: str, *more: str) -> tuple[KeeperState, ...]:
    return solved(text_of(outline, *more))[1].keepers


def test_what_is_assumed() -> None:
    """Four ST4.2 at the corners of 170 by 70 mm. A stand-off is 18 + 0.3 mm high whatever the sheets. From 18 - 3.8 + 18.3 + 1.5 · 4.22 =
    38.83 mm to 17.6 - 4.2 + 18.3 + 17.6 - 1 = 48.3 mm; of 45 mm, 45 - 32.5 = 12.5 mm are in the wood, nearly three diameters."""
    held = held_of("170 by 70")[0]
    assert (held.screw.thread.designation, len(held.places), held.length_mm) == ("ST4.2", 4, 45.0)
    assert held.height_mm == pytest.approx(18.3)
    assert (held.least_mm, held.most_mm) == (pytest.approx(38.83), pytest.approx(48.3))
    assert held.in_wood_mm == pytest.approx(12.5)
    # The deepest reach is 45 - (17.6 - 4.2 + 18.3) = 13.3 mm, up to the next half.
    assert held.pilot_depth_mm == pytest.approx(13.5)
    assert len(held.assumed) == 3


def test_places_are_symmetrical_and_clear() -> None:
    """1 mm between stand-offs of 8 mm and the teeth, 2 mm of wood round recesses of 9 mm, mirrored about the axis."""
    _, derived = solved(text_of("170 by 70"))
    for held in derived.keepers:
        gear = derived.train.gear(held.gear)
        steps = sorted((round(x - gear.x_mm, 6), round(y - gear.y_mm, 6)) for x, y in held.places)
        assert steps == sorted((round(sx * abs(steps[0][0]), 6), round(sy * abs(steps[0][1]), 6)) for sx in (-1, 1) for sy in (-1, 1))
        for x, y in steps:
            assert math.hypot(x, y) >= 66 + 1 + 4 - 1e-6
            assert abs(x) <= 85 - 6.5 + 1e-6 and abs(y) <= 35 - 6.5 + 1e-6


@pytest.mark.parametrize(("outline", "count"), [("170 by 70", 4), ("170 by 14", 2)])
def test_as_many_as_find_room(outline: str, count: int) -> None:
    """A strip has room for one at either end."""
    assert {len(held.places) for held in held_of(outline)} == {count}


def test_stated_places_are_steps_from_the_axis() -> None:
    _, derived = solved(text_of("170 by 70", "stand_off_at (76, 5) mm", "stand_off_at (-74, 0) mm"))
    for held in derived.keepers:
        gear = derived.train.gear(held.gear)
        assert [(round(x - gear.x_mm, 6), round(y - gear.y_mm, 6)) for x, y in held.places] == [(76, 5), (-74, 0)]


def test_screws_and_sleeves_are_counted() -> None:
    """Four keepers with four screws each; a sleeve for each."""
    lines = {line.item: line for line in schedule(*solved(text_of("170 by 70"))).lines}
    assert lines["corner-keeper_screw"].quantity == 16 and lines["corner-keeper_screw"].piece.length_mm == 45
    assert lines["corner-stand_off"].quantity == 16 and lines["corner-stand_off"].piece.cut_to_mm == pytest.approx(18.3)


def test_wooden_stand_offs_are_parts() -> None:
    """One disc a screw, from the gears' sheet: they stand in the cut list and not among what is bought."""
    design, derived = solved(text_of("180 by 80", "stand_offs wood 16 mm"))
    found = [part for part in cut_parts(design, derived) if part.kind == "stand_off"]
    assert [(part.quantity, part.width_mm) for part in found] == [(4, 16.0)] * 4
    assert "corner-stand_off" not in {line.item for line in schedule(design, derived).lines}


def test_pilots_stand_over_the_keepers_holes() -> None:
    """In the board's frame and the keeper's, the same places."""
    _, derived = solved(text_of("170 by 70"))
    board = next(part for part in derived.parts if part.part == "deck")
    pilots = {(round(f.shape.x_mm, 6), round(f.shape.y_mm, 6)) for f in board.features if f.title.startswith("pilot hole for the screw")}
    wanted = set()
    for held in derived.keepers:
        gear = derived.train.gear(held.gear)
        part = next(item for item in derived.parts if item.part == held.id)
        holes = [f.shape for f in part.features if f.title.startswith("hole for the screw")]
        assert part.faces == ("underside",) and len(holes) == 4
        wanted |= {(round(hole.x_mm + gear.x_mm, 6), round(hole.y_mm + gear.y_mm, 6)) for hole in holes}
    assert pilots == wanted and len(pilots) == 16


def test_the_teeth_of_a_neighbour_at_a_stated_place() -> None:
    """`west` stands (56.3, -106) mm from `nw`, its tips 66 mm from its axis."""
    places = ("stand_off_at (40, -75) mm", "stand_off_at (-40, 75) mm")
    near = near_gears(solved(text_of("170 by 170", *places))[1])
    (found,) = (item for item in near if item.other.kind == "stand_off" and item.other.part == "corner.nw.keeper")
    # hypot(56.34 - 40, 105.95 - 75) = 35 mm between the axes; the stand-off is 8 mm wide.
    assert found.one.part == "west" and found.gap_mm == pytest.approx(35.0 - 66 - 4, abs=0.02)


def test_stand_offs_are_solids_at_every_combination() -> None:
    """From the keeper's upper face to the board, and the screw from its seat to its tip."""
    _, derived = solved(text_of("170 by 70"))
    for solids in derived.solids:
        stands = [item for item in solids.solids if item.kind == "stand_off"]
        assert len(stands) == 16 and {round(item.high_mm - item.low_mm, 6) for item in stands} == {18.3}
        screws = [item for item in solids.solids if item.kind == "keeper_screw"]
        assert {round(item.high_mm - item.low_mm, 6) for item in screws} == {45.0} and max(item.high_mm for item in screws) < 17.6 - 1 + 0.21
