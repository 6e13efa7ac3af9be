"""All numbers that can be explained: those at hand, and groups that are worked out when one of theirs is asked for."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from trivet.model.design import Design
from trivet.record import record
from trivet.solve.derived import Derived
from trivet.tables.explanation import Entry
from trivet.tables.explanation_as_cut import QUANTITIES as AS_CUT
from trivet.tables.explanation_as_cut import as_cut_entries
from trivet.tables.explanation_binding import binding_entries
from trivet.tables.explanation_card import card_entries
from trivet.tables.explanation_cut_list import cut_list_entries
from trivet.tables.explanation_entries import quick_entries
from trivet.tables.explanation_facts import Facts
from trivet.tables.explanation_features import feature_entries
from trivet.tables.explanation_sheets import sheet_entries

# What several names of the report are asked for by.
TOGETHER = {
    "height": ("height_min", "height_max"),
    "engagement": ("engagement_at_least", "engagement_at_most"),
    "face_overlap": ("face_overlap_at_least", "face_overlap_at_most"),
    "height_every_sheet": ("height_every_sheet_min", "height_every_sheet_max"),
    "bolt": ("length", "cut_to"),
    "loop": ("loop_residual", "loop_allowed"),
    "rub": ("rub_at_least", "rub_at_most"),
    "drive_torque_to_raise": ("drive_torque_to_raise_at_least", "drive_torque_to_raise_at_most"),
    "nuts": ("nuts_clamp", "nuts_tightened", "nuts_hold", "nuts_turned", "nuts_margin"),
    "stop": (
        "stop_turns", "stop_window", "stop_nut_height", "stop_washer", "stop_bolt_at_least", "stop_end_nut", "stop_past_least",
        "stop_left_least", "stop_past_most", "stop_left_most",
    ),
    "zone": ("zone_width", "zone_depth", "zone_metal_free", "zone_elsewhere_metal_free"),
    "cut": ("cut_quantity", "cut_width", "cut_height", "cut_thickness", "cut_layers"),
    "sheet_thickness": ("sheet_thickness_mean", "sheet_thickness_least", "sheet_thickness_most"),
    "as_cut": AS_CUT,
    "lies": ("lies_x", "lies_y", "lies_turn"),
    "feature": ("feature_diameter", "feature_across_flats", "feature_width", "feature_height", "feature_depth"),
    "card": ("card_expect", "card_least", "card_most"),
}  # fmt: skip

# Keys of the report that stand for the quantity of a group.
OF_KEYS = {"as_cut_overlap_mm2": "as_cut_overlap", "binding_probability": "binding"}

# Keys of numbers of the report that have no explanation. None: who adds a key explains it, or names it here and in the README.
NOT_EXPLAINED: tuple[str, ...] = ()


@record
class Group:
    """Numbers that cost something to work out: their quantities, what is asked before that, and whether listing their parts is cheap."""

    quantities: tuple[str, ...]
    make: Callable[[Facts], Iterable[Entry]]
    listed: bool = True


GROUPS = (
    Group((*TOGETHER["cut"], *TOGETHER["sheet_thickness"], "sheet_area"), cut_list_entries),
    Group((*TOGETHER["feature"], "root_as_cut"), feature_entries),
    Group(TOGETHER["card"], card_entries),
    Group(AS_CUT, as_cut_entries),
    Group(
        (
            "sheet_width", "sheet_height", "sheet_spacing", "sheet_margin", "sheet_share", "sheet_used_share", "sheet_fill",
            "cut_from_width", "cut_from_height", "lies_x", "lies_y", "lies_turn", "copy", "index_hole_x", "index_hole_y", "index_hole", "least_sheets",
        ),
        sheet_entries,
        listed=False,
    ),
    Group(
        ("binding", "draws", "seed", "binding_mesh", "binding_ring", "binding_without", "share_of_risk", "binding_with"),
        binding_entries,
        listed=False,
    ),
)  # fmt: skip


def all_entries(design: Design, derived: Derived) -> tuple[Entry, ...]:
    """Every number, the slow groups too: seconds in a large train."""
    facts = Facts(design, derived)
    return (*quick_entries(facts), *(entry for group in GROUPS for entry in group.make(facts)))


def entries_for(design: Design, derived: Derived, quantity: str) -> tuple[Entry, ...]:
    """Those at hand, and the groups that have a quantity; without one, all whose parts are cheap to list."""
    facts = Facts(design, derived)
    quantity = OF_KEYS.get(quantity, quantity)
    wanted = TOGETHER.get(quantity, (quantity,))
    chosen = [group for group in GROUPS if (group.listed if not quantity else any(name in group.quantities for name in wanted))]
    return (*quick_entries(facts), *(entry for group in chosen for entry in group.make(facts)))


def unlisted() -> tuple[str, ...]:
    """Quantities whose parts are worked out only when one is asked for."""
    return tuple(name for group in GROUPS if not group.listed for name in group.quantities)


def group_quantities() -> tuple[str, ...]:
    """Quantities of all groups."""
    return tuple(name for group in GROUPS for name in group.quantities)
