"""What keeps a setting, and what ends it: flush, over-travel, strength of teeth, nuts that loosen, for report.json."""

from __future__ import annotations

from trivet.model.design import Design
from trivet.solve.beyond import beyond_of
from trivet.solve.derived import Derived
from trivet.solve.drive_stop import stop_plan
from trivet.solve.flush import contact_radius_mm, flush_of, rock_once_a_turn_mm, sideways_mm
from trivet.solve.library_figures import TOOTH_SOURCE
from trivet.solve.locking import TIGHTENED_SOURCE, nut_hold, pivot_turn
from trivet.solve.power_screw import disc_friction_torque
from trivet.solve.tooth_strength import LEWIS_SOURCE, strength_of
from trivet.solve.torque import rub

Record = dict[str, object]


def flush_record(design: Design, derived: Derived) -> Record | None:
    """How far the board may stand off flush, in parts, the largest first: an estimate. Null without a stroke.

    `required_mm` is the tightest `require flush`; `sideways_mm` how far play lets the board shift along the bench at the greatest height.
    """
    flush = flush_of(design, derived)
    if flush is None or derived.lift is None:
        return None
    stated = [item.high for item in design.requires if item.kind == "flush_within" and item.high is not None]
    lift = derived.lift
    return {
        "worst_mm": flush.worst_mm,
        "rss_mm": flush.rss_mm,
        "required_mm": min(stated, default=None),
        "parts": [
            {"part": part.key, "mm": part.mm, "words": part.words, "where": list(part.where), "source": part.source}
            for part in flush.parts
        ],
        "left_out": list(flush.left_out),
        "sideways_mm": max(sideways_mm(design, lift, foot) for foot in derived.feet),
    }


def climber_records(derived: Derived) -> list[Record]:
    """Idlers that ride a thread: where each is set at the lowest height, how far it climbs in a turn of the drive, and its thread at both ends."""
    found: list[Record] = []
    for state in derived.climbers:
        start, rise = state.foot.climbs_from, state.rise_per_turn_mm
        found.append(
            {
                "id": state.id,
                "gear": state.gear,
                "thread": state.foot.thread.designation,
                "hangs_at_lowest_mm": start.mm if start is not None else None,
                "moves_per_drive_turn_mm": None if rise is None else abs(float(rise)),
                "goes_down_when": None if not rise else "clockwise" if rise > 0 else "anticlockwise",
                "engagement_mm": {"at_least": state.engagement_at_least_mm, "at_most": state.engagement_at_most_mm},
            }
        )
    return found


def bench_records(design: Design, derived: Derived) -> list[Record]:
    """What of each foot touches the bench: its radius, the torque to rub it round for each newton on it, and its rocking once a turn."""
    found: list[Record] = []
    for foot in derived.feet:
        ends = [rub(derived, foot, end) for end in (0, 1)]
        low, high = (disc_friction_torque(1.0, friction, radius) for friction, radius in ends)
        turns = foot.foot.kind != "captured_nut"
        found.append(
            {
                "foot": foot.id,
                "touches": foot.touches,
                "turns_on_bench": turns,
                "flat_radius_mm": contact_radius_mm(derived, foot),
                "rub_nmm_per_n": {"at_least": low, "at_most": high},
                "rock_once_a_turn_mm": rock_once_a_turn_mm(design, derived, foot),
            }
        )
    return found


def beyond_records(derived: Derived) -> list[Record]:
    """What lies past each end of the travel, the nearest first: turns of the drive and mm left, what happens, what restores it."""
    return [
        {
            "end": item.end,
            "cause": item.cause,
            "turns": item.turns,
            "mm": item.left_mm,
            "sentence": item.sentence,
            "happens": item.happens,
            "restores": item.restores,
            "parts": list(item.parts),
        }
        for item in beyond_of(derived)
    ]


def strength_record(design: Design, derived: Derived) -> Record | None:
    """What a jam does to the teeth: an estimate. Null where the drive turns no foot through a mesh of a known material."""
    found = strength_of(design, derived)
    if found is None:
        return None
    return {
        "drive_torque_nmm": found.torque_nmm,
        "drive_torque_from": found.torque_source,
        "clutch_nmm": found.clutch_nmm,
        "teeth": [
            {
                "gear": tooth.gear,
                "mate": tooth.mate,
                "force_n": tooth.force_n,
                "face_mm": tooth.face_mm,
                "form_factor": tooth.form_factor,
                "bending_n_per_mm2": tooth.bending,
                "bending_allowed_n_per_mm2": tooth.bending_allowed,
                "shear_n_per_mm2": tooth.shear,
                "shear_allowed_n_per_mm2": tooth.shear_allowed,
                "material": tooth.material,
            }
            for tooth in found.teeth
        ],
        "not_judged": list(found.not_judged),
        "estimate_from": [LEWIS_SOURCE, TOOTH_SOURCE],
    }


def stop_records(derived: Derived) -> list[Record]:
    """The stops on drives: turns they allow, where the end nut is locked, what meets at each end and how many turns past the travel."""
    plans = [(state, plan) for state in derived.drives if (plan := stop_plan(derived, state)) is not None]
    return [
        {
            "id": plan.drive,
            "turns": plan.turns,
            "window_mm": plan.window_mm,
            "nut_height_mm": plan.nut_mm,
            "washer_mm": plan.washer_mm,
            "bolt_at_least_mm": plan.needed_mm,
            "end_nut_at_mm": plan.end_nut_mm,
            "locked_by": state.drive.stop_locked_by or "thread_locker",
            "locked_by_assumed": state.drive.stop_locked_by is None,
            "least": {"meets": plan.least_meets, "turns_past_travel": plan.past_least_turns, "turns_left": plan.left_least_turns},
            "most": {"meets": plan.most_meets, "turns_past_travel": plan.past_most_turns, "turns_left": plan.left_most_turns},
        }
        for state, plan in plans
    ]


def locking_record(design: Design, derived: Derived) -> Record:
    """Which way of turning, seen from above, parts a drive's nuts or drags an idler's screw loose; what the nuts hold is an estimate."""
    drives = [nut_hold(design, derived, state) for state in derived.drives]
    pivots = [pivot_turn(design, derived, state) for state in derived.pivots]
    return {
        "drives": [
            {
                "id": item.drive,
                "loosens_when": item.loosens,
                "loosens_while": item.loosens_while,
                "tightened_nmm": item.tightened_nmm,
                "clamp_n": item.clamp_n,
                "holds_nmm": item.holds_nmm,
                "turns_nmm": item.turns_nmm,
                "margin": item.margin,
            }
            for item in drives
        ],
        "pivots": [
            {"id": item.pivot, "gear": item.gear, "loosens_when": item.loosens, "loosens_while": item.loosens_while, "clamped": item.clamped}
            for item in pivots
        ],
        "estimate_from": [TIGHTENED_SOURCE, "middling friction of the library table `friction_pairs`"],
    }
