"""The lift and the feet of report.json."""

from __future__ import annotations

import math

from trivet.model.design import Design
from trivet.solve.derived import Derived, FootState
from trivet.solve.torque import SOURCES, DriveTorque, FootTorque, foot_holds
from trivet.tables.raise_table import EIGHTHS, per_tooth_mm, raise_steps
from trivet.tables.report_steady import beyond_records

Record = dict[str, object]


def lift_record(design: Design, derived: Derived) -> Record | None:
    """The stroke: comfortable, at mean sheets, unless the key says otherwise. Null where none can be computed."""
    lift = derived.lift
    if lift is None:
        return None
    return {
        "per_turn_mm": lift.per_turn_mm,
        "turns_for_travel": lift.turns_for_travel,
        "travel_mm": lift.travel_mm,
        "travel_worst_mm": lift.travel_worst_mm,
        "travel_to_parting_mm": lift.travel_to_parting_mm,
        "height_min_mm": lift.height_min_mm,
        "height_max_mm": lift.height_max_mm,
        "height_every_sheet_mm": {"min": lift.height_every_sheet[0], "max": lift.height_every_sheet[1]},
        "raises_when": lift.raises_when,
        "limits": [
            {
                "end": limit.end,
                "cause": limit.cause,
                "extension_mm": limit.extension_mm,
                "parts": list(limit.parts),
                "extension_worst_mm": limit.extension_worst_mm,
                "hard": limit.hard,
                "sentence": limit.sentence,
                "then": limit.then,
            }
            for limit in lift.limits
        ],
        "per_eighth_turn_mm": lift.per_turn_mm / EIGHTHS,
        "per_drive_tooth_mm": per_tooth_mm(derived),
        "beyond_least": lift.beyond_least,
        "beyond_most": lift.beyond_most,
        "beyond": beyond_records(derived),
        "raise_table": [{"raise_mm": rise, "turns": turns} for rise, turns in raise_steps(lift, design.units)],
        "workpieces": [
            {"name": name, "flush_from_mm": low or None, "flush_to_mm": high or None, "sentence": sentence}
            for name, low, high, sentence in lift.workpieces
        ],
    }


def load_record(torque: DriveTorque | None) -> Record | None:
    """Torque at the drive to raise the stated loads, N·mm, over the range of friction: an estimate with its sources. Null without a load."""
    if torque is None:
        return None
    low, high = torque.low_nmm, torque.high_nmm
    known = low is not None and high is not None and math.isfinite(low) and math.isfinite(high)
    drive = {"at_least": low, "at_most": high} if known else None
    return {"down_n": torque.load_n, "drive_torque_to_raise_nmm": drive, "estimate_from": list(SOURCES)}


def foot_record(state: FootState, torque: FootTorque | None = None) -> Record:
    """One foot. `lift_per_drive_turn_mm` is unsigned, `raises_when` says which way. `torque_to_raise_nmm`: at its own gear, for its share
    of the stated loads at the high end of friction; null without a load. `holds_by_itself`: its thread alone, at the low end.
    """
    rise = state.rise_per_turn_mm
    return {
        "id": state.id,
        "gear": state.gear,
        "kind": state.foot.kind,
        "thread": state.foot.thread.designation,
        "lead_mm": state.lead_mm,
        "lift_per_drive_turn_mm": None if rise is None else abs(float(rise)),
        "x_mm": state.x_mm,
        "y_mm": state.y_mm,
        "engagement_mm": {"at_least": state.engagement_at_least_mm, "at_most": state.engagement_at_most_mm},
        "zero_step_mm": state.zero_step_mm,
        "torque_to_raise_nmm": torque.high_nmm if torque is not None and math.isfinite(torque.high_nmm) else None,
        "holds_by_itself": foot_holds(state),
        "load_share_n": torque.share_n if torque is not None else None,
        "raises_when": None if not rise else "clockwise" if rise > 0 else "anticlockwise",
    }
