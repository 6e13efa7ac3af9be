"""The numbers of the report that are quickly explained, by quantity and part; `explanation_all` has the others too."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import cached_property, partial

import trivet.tables.explanation_backlash as backlash
import trivet.tables.explanation_faces as faces
import trivet.tables.explanation_feet as feet
import trivet.tables.explanation_hardware as hardware
import trivet.tables.explanation_lift as lifts
import trivet.tables.explanation_mesh as meshes
import trivet.tables.explanation_teeth as teeth
from trivet.model.design import Design
from trivet.solve.derived import Derived, Lift, MeshState
from trivet.tables.explanation import Entry, Number
from trivet.tables.explanation_bore import bore
from trivet.tables.explanation_facts import Facts
from trivet.tables.explanation_gear import direction, phase_reported, speed_reported, step_of_a_tooth
from trivet.tables.explanation_keepers import joint_entries, keeper_entries
from trivet.tables.explanation_loops import loop_entries
from trivet.tables.explanation_schedule import schedule_entries
from trivet.tables.explanation_shown import shown_entries
from trivet.tables.explanation_stops import climber_entries, stop_entries
from trivet.tables.explanation_train import phases, places, speeds
from trivet.tables.explanation_use import entries_of_use
from trivet.tables.raise_table import raise_steps, rise_text


class Chains:
    """The numbers that run along the train, worked out when one of them is asked for."""

    def __init__(self, facts: Facts) -> None:
        self.facts = facts

    @cached_property
    def places(self) -> dict[str, tuple[Number, Number]]:
        """x and y of each gear."""
        return places(self.facts)

    @cached_property
    def speeds(self) -> dict[str, Number]:
        """Signed turns of each gear."""
        return speeds(self.facts)

    @cached_property
    def phases(self) -> dict[str, Number]:
        """Direction of a tooth of each gear."""
        return phases(self.facts)

    @cached_property
    def per_turn(self) -> Number:
        """Rise for a turn of the drive: that of the first foot."""
        return lifts.rise(self.facts, self.facts.derived.feet[0].id, self.speeds)

    def place(self, gear: str, axis: int) -> Number:
        """x (0) or y (1) of a gear."""
        held = self.places.get(gear)
        return held[axis] if held is not None else meshes.spot(self.facts, gear, "xy"[axis])

    def rise(self, foot: str) -> Number:
        """Rise of a foot for a turn of the drive."""
        return lifts.rise(self.facts, foot, self.speeds)

    def end(self, foot: str, end: str) -> Number:
        """Thread of a foot that is engaged at an end of the travel."""
        return feet.engagement(self.facts, foot, faces.end_extension(self.facts, foot, end))

    def step(self, foot: str, gear: str) -> Number:
        """Height of a step by one tooth."""
        return step_of_a_tooth(feet.lead(self.facts, foot), teeth.teeth(self.facts, gear))

    def table(self, rise_mm: float, column: int) -> Number:
        """A cell of the table of rises: the rise (0) or its turns (1)."""
        return lifts.raise_turns(self.per_turn, rise_mm, lifts.travel(self.facts))[column]

    def widest_contact(self, state: MeshState) -> Number:
        """Contact ratio at the widest centres."""
        return meshes.contact_ratio(self.facts, state, backlash.widest(self.facts, state))


def entries(design: Design, derived: Derived) -> tuple[Entry, ...]:
    """Of a fixture, in the order of the report; holes last, which the report does not have."""
    return quick_entries(Facts(design, derived))


def quick_entries(facts: Facts) -> tuple[Entry, ...]:
    """Those that an editor may ask for at every move: none turns outlines, draws trains or lays sheets."""
    chains = Chains(facts)
    return (
        *_gears(facts, chains),
        *_meshes(facts, chains),
        *_lift(facts, chains),
        *_feet(facts, chains),
        *loop_entries(facts, lambda: chains.phases),
        *schedule_entries(facts),
        *keeper_entries(facts),
        *joint_entries(facts),
        *entries_of_use(facts, lambda: chains.per_turn, lambda: chains.speeds),
        *stop_entries(facts, lambda: chains.per_turn),
        *climber_entries(facts, lambda: chains.speeds),
        *_holes(facts),
        *shown_entries(facts, lambda: chains.speeds),
    )


def _gears(facts: Facts, chains: Chains) -> Iterator[Entry]:
    for index, state in enumerate(facts.derived.train.gears):
        name = state.id
        made: list[tuple[str, str, Callable[[str], Number]]] = [
            ("teeth", "teeth", lambda g: teeth.teeth(facts, g)),
            ("module", "module_mm", lambda g: teeth.module(facts, g)),
            ("pressure_angle", "pressure_angle_deg", lambda g: teeth.angle(facts, g)),
            ("profile_shift", "profile_shift", lambda g: teeth.shift(facts, g)),
            ("thinning", "thinning_mm", lambda g: meshes.thinning(facts, g)),
            ("face_width", "face_width_mm", lambda g: facts.gear_width(g)),
            ("x", "x_mm", lambda g: chains.place(g, 0)),
            ("y", "y_mm", lambda g: chains.place(g, 1)),
            ("phase", "phase_deg", lambda g: phase_reported(facts, g, chains.phases[g])),
            ("pitch_diameter", "pitch_diameter_mm", lambda g: teeth.pitch_diameter(facts, g)),
            ("base_diameter", "base_diameter_mm", lambda g: teeth.base_diameter(facts, g)),
            ("tip_diameter", "tip_diameter_mm", lambda g: meshes.tip(facts, g)),
            ("root_diameter", "root_diameter_mm", lambda g: teeth.root_diameter(facts, g)),
            ("tooth_thickness", "tooth_thickness_mm", lambda g: meshes.tooth_thickness(facts, g)),
            ("tip_land", "tip_land_mm", lambda g: teeth.tip_land(facts, g, meshes.thinning(facts, g))),
            ("span_teeth", "span_teeth", lambda g: teeth.span_count(facts, g)),
            ("span", "span_mm", lambda g: teeth.span(facts, g, meshes.thinning(facts, g))),
            ("cutter_diameter", "cutter_diameter_mm", lambda g: teeth.cutter_diameter(facts, g)),
            ("largest_cutter", "largest_cutter_mm", lambda g: _largest_cutter(facts, g)),
            ("z_top", "z_top_mm_at_least", lambda g: faces.top_at(facts, g, "least")),
            ("z_bottom", "z_bottom_mm_at_least", lambda g: faces.bottom_at(facts, g, "least")),
        ]
        if state.speed is not None:
            made.append(("speed", "turns_per_drive_turn", lambda g: speed_reported(chains.speeds[g])))
            made.append(("direction", "direction", lambda g: direction(chains.speeds[g])))
        for quantity, key, explain in made:
            yield Entry(quantity, (name,), ("gears", index, key), partial(explain, name))


def _largest_cutter(facts: Facts, gear: str) -> Number:
    mates = tuple(
        (other, meshes.distance(facts, gear, other), meshes.tip(facts, other))
        for other in facts.graph.meshed[gear]
        if (gear, other) in facts.meshes
    )
    return teeth.cutter_limit(facts, gear, mates, meshes.thinning(facts, gear))


def _meshes(facts: Facts, chains: Chains) -> Iterator[Entry]:
    for index, state in enumerate(facts.derived.train.meshes):
        a, b = state.a, state.b
        made: list[tuple[str, tuple[str, ...], Callable[[], Number]]] = [
            ("centre_distance", ("centre_distance_mm",), partial(meshes.distance, facts, a, b)),
            ("standard_centre_distance", ("standard_centre_distance_mm",), partial(meshes.standard_distance, facts, a, b)),
            ("working_pressure_angle", ("working_pressure_angle_deg",), partial(meshes.working_angle, facts, a, b)),
            ("contact_ratio", ("contact_ratio",), partial(meshes.contact_ratio, facts, state)),
            ("contact_ratio_min", ("contact_ratio_min",), partial(chains.widest_contact, state)),
            ("backlash", ("backlash_mm", "nominal"), partial(meshes.nominal_backlash, facts, state)),
            ("tip_clearance", ("tip_clearance_mm",), partial(meshes.tip_clearance, facts, state)),
        ]
        for which in ("min", "max", "rss"):
            explain = partial(backlash.backlash_with_errors, facts, state, which)
            made.append((f"backlash_{which}", ("backlash_mm", which), explain))
        if state.overlap_at_least_mm is not None:
            for end in ("least", "most"):
                made.append(
                    (f"face_overlap_at_{end}", ("face_overlap_mm", f"at_{end}"), partial(faces.face_overlap, facts, state, end))
                )
        for quantity, keys, work_out in made:
            yield Entry(quantity, (a, b), ("meshes", index, *keys), work_out)


def _lift(facts: Facts, chains: Chains) -> Iterator[Entry]:
    lift = facts.derived.lift
    if lift is None:
        return
    plain: list[tuple[str, tuple[str, ...], Callable[[], Number]]] = [
        ("lift", ("per_turn_mm",), lambda: chains.per_turn),
        ("turns_for_travel", ("turns_for_travel",), lambda: lifts.turns(facts, chains.per_turn)),
        ("travel", ("travel_mm",), partial(lifts.travel, facts)),
        ("travel_worst", ("travel_worst_mm",), partial(lifts.travel_worst, facts)),
        ("travel_to_parting", ("travel_to_parting_mm",), partial(lifts.travel, facts, hard=True)),
        ("height_min", ("height_min_mm",), partial(lifts.lowest, facts)),
        ("height_max", ("height_max_mm",), partial(lifts.highest_reported, facts)),
        ("height_every_sheet_min", ("height_every_sheet_mm", "min"), partial(lifts.every_sheet, facts, "min")),
        ("height_every_sheet_max", ("height_every_sheet_mm", "max"), partial(lifts.every_sheet, facts, "max")),
        ("lift_per_eighth_turn", ("per_eighth_turn_mm",), lambda: lifts.eighth(chains.per_turn)),
        ("lift_per_drive_tooth", ("per_drive_tooth_mm",), lambda: lifts.per_tooth(facts, chains.per_turn)),
    ]
    for quantity, keys, explain in plain:
        yield Entry(quantity, (), ("lift", *keys), explain)
    for index, limit in enumerate(lift.limits):
        parts = (limit.end, limit.cause, *(("hard",) if limit.hard else ()))
        for quantity, key, worst in (("limit", "extension_mm", False), ("limit_worst", "extension_worst_mm", True)):
            yield Entry(quantity, parts, ("lift", "limits", index, key), partial(lifts.limit, facts, limit, worst))
    yield from _raises(facts, chains, lift)
    for index, (name, low, high, _) in enumerate(lift.workpieces):
        for end, value in (("from", low), ("to", high)):
            if value:
                path = ("lift", "workpieces", index, f"flush_{end}_mm")
                yield Entry(f"flush_{end}", (name,), path, partial(lifts.workpiece, facts, index, end))


def _raises(facts: Facts, chains: Chains, lift: Lift) -> Iterator[Entry]:
    """The table of rises in the fixture's unit, as the report has it; the page has one in the other unit too."""
    own = facts.design.units
    for unit in (own, "mm" if own == "in" else "in"):
        steps = raise_steps(lift, unit)
        for index, (rise, _) in enumerate(steps):
            whole = index + 1 == len(steps)
            if whole and unit != own:
                continue
            part = "travel" if whole else rise_text(rise, unit).rpartition(" ")[0]
            parts = (part,) if unit == own else (part, unit)
            for column, (quantity, key) in enumerate((("raise", "raise_mm"), ("turns", "turns"))):
                path: tuple[str | int, ...] = ("lift", "raise_table", index, key) if unit == own else ()
                yield Entry(quantity, parts, path, partial(chains.table, rise, column), elsewhere="index.html: to raise")


def _feet(facts: Facts, chains: Chains) -> Iterator[Entry]:
    for index, state in enumerate(facts.derived.feet):
        foot, gear = state.id, state.gear
        made: list[tuple[str, tuple[str, ...], Callable[[], Number]]] = [
            ("lead", ("lead_mm",), partial(feet.lead, facts, foot)),
            ("x", ("x_mm",), partial(chains.place, gear, 0)),
            ("y", ("y_mm",), partial(chains.place, gear, 1)),
            ("zero_step", ("zero_step_mm",), partial(chains.step, foot, gear)),
        ]
        if state.rise_per_turn_mm is not None:
            made.append(("foot_lift", ("lift_per_drive_turn_mm",), partial(chains.rise, foot)))
        for end in ("least", "most"):
            made.append((f"engagement_at_{end}", ("engagement_mm", f"at_{end}"), partial(chains.end, foot, end)))
        for quantity, keys, explain in made:
            yield Entry(quantity, (foot,), ("feet", index, *keys), explain)


def _holes(facts: Facts) -> Iterator[Entry]:
    for state in facts.derived.train.gears:
        yield Entry("bore", (state.id,), (), partial(bore, facts, state.id))
    for hole in facts.design.holes:
        name = hole.name.text
        yield Entry("hole", (name,), (), partial(hardware.hole, facts, name), (f"{hole.into}.{name}",))
