"""What keeps the end nut of a stop from turning, worked out by hand on the base: thin nuts of M8 are 4 mm high."""

from __future__ import annotations

import pytest
from tests.fixture_text import check_text
from tests.quick_solve import findings_alone, solved

from trivet.checks._examples import example_text
from trivet.solve.drive_stop import stop_parts_mm
from trivet.tables.hardware_items import hardware_items

TALL = "- pad dome, drop 3 mm\n+   pad dome, drop 40 mm\n- bolt ISO 4762, head recessed 9 mm\n+   bolt ISO 4017, head recessed 6 mm\n"


def text_of(stop: str) -> str:
    return example_text(TALL + f"- play 0.2 mm\n+   play 0.2 mm\n+   {stop}\n")


@pytest.mark.parametrize(
    ("stop", "nuts", "pins"),
    [("stop", 2, 0), ("stop locked_by thread_locker", 2, 0), ("stop ISO 4035, locked_by jam_nut", 3, 0), ("stop locked_by cross_pin", 2, 1)],
)
def test_pieces_are_counted(stop: str, nuts: int, pins: int) -> None:
    """A jam nut is a third nut, 4 mm more of bolt than two nuts, a washer of 1.8 mm and a thread; a pin of a quarter of 8 mm."""
    design, derived = solved(text_of(stop))
    pieces = [item.item for item in hardware_items(design, derived)]
    assert (pieces.count("crank-stop_nut"), pieces.count("crank-stop_pin")) == (nuts, pins)
    assert stop_parts_mm(design.drives[0]) == pytest.approx(nuts * 4.0 + 1.8 + 1.25)
    assert {item.size_mm for item in hardware_items(design, derived) if item.item == "crank-stop_pin"} == ({2.0} if pins else set())


def test_the_default_is_said() -> None:
    (item,) = findings_alone(text_of("stop"), "stop-nut-may-turn")
    assert item.severity == "note" and "thread locker is assumed" in item.message
    assert findings_alone(text_of("stop locked_by jam_nut"), "stop-nut-may-turn") == []


def test_another_word_is_a_finding() -> None:
    """Where a fact may stand alone, a word that it does not know is no crash."""
    found = [item for item in check_text(text_of("stop glued")) if item.severity == "error"]
    assert len(found) == 1 and "glued" in found[0].message
