"""What joins gears on one shaft: worked out by hand on the base with a gear of 25 teeth under `west`.

Module 6 mm: roots of 20 teeth 60 - 7.5 = 52.5 mm from the axis, less a rim of two modules 40.5 mm. The head
lies in a recess for its washer, 18 + 1 mm wide, and wants 3 mm of wood: 12.5 mm.
"""

from __future__ import annotations

import math

import pytest
from tests.quick_solve import solved

from trivet.checks._examples import example_text
from trivet.solve.shaft_joints import JOINS
from trivet.tables.hardware_schedule import schedule
from trivet.tables.report import report


def text_of(*more: str) -> str:
    facts = "".join(f"+   {line}\n" for line in more)
    return example_text(f"- gear west, east\n+ gear low_w\n+   teeth 25\n+   on_shaft_with west, below\n{facts}+ \n+ gear west, east\n")


def test_two_dowels_where_nothing_is_stated() -> None:
    """In the middle of the ring, 26.5 mm from the axis, 1 mm in and 1 mm out, two fifths of a turn apart."""
    design, derived = solved(text_of())
    (joint,) = derived.joints
    assert (joint.gears, joint.dowel_mm, joint.stated, joint.holds) == (("west", "low_w"), 6.0, False, True)
    assert joint.room_mm == pytest.approx(28.0)
    assert [math.hypot(x, y) for x, y in joint.places] == pytest.approx([25.5, 27.5])
    turned = [math.degrees(math.atan2(y, x)) for x, y in joint.places]
    assert (turned[1] - turned[0]) % 360 == pytest.approx(144.0)
    (line,) = (item for item in schedule(design, derived).lines if item.item == "shaft-dowel")
    assert line.quantity == 2 and line.piece.size_mm == 6.0
    made = report(design, derived, findings=[], status="clean", version="0")
    assert made["shafts"] == [
        {
            "gears": ["west", "low_w"], "joined_by": "dowels", "dowel_diameter_mm": 6.0, "holds": True, "assumed": True,
            "dowels": [{"from_axis_x_mm": x, "from_axis_y_mm": y} for x, y in joint.places],
        }
    ]  # fmt: skip


def test_the_holes_lie_over_each_other() -> None:
    """Whatever the phases of the two gears: parts are drawn as they stand."""
    _, derived = solved(text_of("joined_by dowels 8 mm"))
    holes = [
        [(f.shape.x_mm, f.shape.y_mm, f.shape.diameter_mm) for f in part.features if f.title.startswith(JOINS)]
        for part in derived.parts
        if part.part in ("west", "low_w")
    ]
    assert len(holes) == 2 and len(holes[0]) == 2
    for one, other in zip(*holes, strict=True):
        assert one == pytest.approx(other) and one[2] == pytest.approx(8.05)


def test_clamped_gears_have_no_dowels() -> None:
    """The drive's tee nut lies above and its jam nut below what hangs on its bolt."""
    text = example_text("- gear west, east\n+ gear low\n+   teeth 12\n+   on_shaft_with hub, below\n+   joined_by clamped\n+ \n+ gear west, east\n")
    (joint,) = solved(text)[1].joints
    assert joint.holds and joint.places == () and joint.form == "clamped"
