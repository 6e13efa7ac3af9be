"""What holds the keepers and joins the gears of a shaft, and what was assumed for that, for report.json."""

from __future__ import annotations

from trivet.solve.derived import Derived
from trivet.solve.keeper_state import KeeperState

Record = dict[str, object]


def keeper_records(derived: Derived) -> list[Record]:
    """One object a keeper; places are in the frame of the first board, seen from above, and empty where none was found."""
    return [_record(held) for held in derived.keepers]


def shaft_records(derived: Derived) -> list[Record]:
    """What joins the gears of each shaft, from the top; dowels by their place from the axis, seen from above."""
    return [
        {
            "gears": list(joint.gears),
            "joined_by": joint.form,
            "dowel_diameter_mm": joint.dowel_mm if joint.places else None,
            "dowels": [{"from_axis_x_mm": x, "from_axis_y_mm": y} for x, y in joint.places],
            "holds": joint.holds,
            "assumed": not joint.stated,
        }
        for joint in derived.joints
    ]


def _record(held: KeeperState) -> Record:
    return {
        "id": held.id,
        "foot": held.foot,
        "gear": held.gear,
        "board": held.board,
        "screw": {
            "standard": held.screw.standard,
            "thread": held.screw.thread.designation,
            "length_mm": held.length_mm,
            "length_at_least_mm": held.least_mm,
            "length_at_most_mm": held.most_mm,
            "head_recessed_mm": held.recess_mm,
            "in_wood_mm": held.in_wood_mm if held.length_mm is not None else None,
            "pilot_diameter_mm": held.pilot_mm,
            "pilot_depth_mm": held.pilot_depth_mm,
            "clearance_diameter_mm": held.clearance_mm,
        },
        "stand_off": {
            "form": held.stand_off.form,
            "diameter_mm": held.stand_off.diameter.mm,
            "height_mm": held.height_mm,
        },
        "places": [{"x_mm": x, "y_mm": y} for x, y in held.places],
        "assumed": list(held.assumed),
    }
