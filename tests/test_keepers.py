"""Where a keeper's stand-offs find room: beside the teeth and under the board."""

from __future__ import annotations

from tests.quick_solve import findings_alone, solved

from trivet.checks._examples import example_text
from trivet.checks.keeper_overlaps import KEPT
from trivet.solve.keeper_room import stand_offs

SLUG = "keeper-hangs-free"


def text_of(size: str, board: str = "620 by 500") -> str:
    return example_text(KEPT.format(size).replace("620 by 500", board))


def test_a_keeper_that_runs_past_the_edge() -> None:
    """The western feet stand 164.3 mm left of the middle: of a board 480 mm wide, 75.7 mm from its edge, where half of 170 mm is 85."""
    (item,) = findings_alone(text_of("170 by 10", "480 by 500"), SLUG)
    assert "on one side only" in item.message and "the edge of `deck`" in item.message
    assert set(item.parts) == {"corner.ne", "corner.nw", "corner.se", "corner.sw"}
    assert findings_alone(text_of("170 by 10", "500 by 500"), SLUG) == []


def test_two_sides_at_a_right_angle_are_enough() -> None:
    """Wide and tall by 170 mm at a corner of the board: two of its four sides lie under it."""
    assert findings_alone(text_of("170 by 170", "480 by 350"), SLUG) == []


def test_room_beside_the_teeth() -> None:
    """66 mm of tip radius: a plate 170 mm long reaches 19 mm past it, a round one of 150 mm 9 mm."""
    design, derived = solved(text_of("170 by 10"))
    held = list(stand_offs(design, derived))
    assert [round(item.room_mm, 3) for item in held] == [19.0] * 4 and all(item.opposite for item in held)
    round_one = text_of("170 by 10").replace("rectangle 170 by 10 mm", "circle 150 mm")
    (item,) = findings_alone(round_one, SLUG)
    assert "reaches 9 mm past the teeth" in item.message and "152 mm or more" in item.remedy
