"""Stops on drives and climbing idlers, explained."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from functools import partial

import trivet.tables.explanation_lift as lifts
from trivet.solve.beyond import first_beyond
from trivet.solve.bolts import STOP_ITEM
from trivet.solve.corner import MEAN
from trivet.solve.derived import DriveState, FootState
from trivet.solve.drive_stop import SPARE_TURNS, StopPlan, stop_plan
from trivet.solve.foot_case import FootSpec
from trivet.solve.foot_riding import riding_case
from trivet.tables.explanation import DERIVED, PRACTICE, Entry, Number, computed, found, given
from trivet.tables.explanation_faces import hangs
from trivet.tables.explanation_facts import Facts
from trivet.tables.explanation_stack import stack_limits

Made = Callable[[], Number]
Speeds = Callable[[], Mapping[str, Number]]


def stop_entries(facts: Facts, per_turn: Made) -> Iterator[Entry]:
    """Of each drive with a stop that is set."""
    plans = [(state, plan) for state in facts.derived.drives if (plan := stop_plan(facts.derived, state)) is not None]
    for index, (state, plan) in enumerate(plans):
        stop = _Stop(facts, state, plan, per_turn)
        made: list[tuple[str, tuple[str, ...], Made]] = [
            ("stop_turns", ("turns",), stop.turns),
            ("stop_window", ("window_mm",), stop.window),
            ("stop_nut_height", ("nut_height_mm",), stop.nut),
            ("stop_washer", ("washer_mm",), stop.washer),
            ("stop_bolt_at_least", ("bolt_at_least_mm",), stop.bolt),
            ("stop_end_nut", ("end_nut_at_mm",), stop.end_nut),
        ]
        for end in ("least", "most"):
            made.append((f"stop_past_{end}", (end, "turns_past_travel"), partial(stop.past, end)))
            if (plan.left_least_turns if end == "least" else plan.left_most_turns) is not None:
                made.append((f"stop_left_{end}", (end, "turns_left"), partial(stop.left, end)))
        for quantity, keys, explain in made:
            yield Entry(quantity, (plan.drive,), ("stops", index, *keys), explain, (state.drive.name.text,))


class _Stop:
    """The numbers of one stop, each made once."""

    def __init__(self, facts: Facts, state: DriveState, plan: StopPlan, per_turn: Made) -> None:
        self.facts, self.state, self.plan, self.per_turn = facts, state, plan, per_turn

    def past(self, end: str) -> Number:
        """Turns past an end of the travel at which the stop meets."""
        return self.facts.once(("stop past", self.plan.drive, end), lambda: self._past(end))

    def _past(self, end: str) -> Number:
        words = f"turns past the {'lowest' if end == 'least' else 'greatest'} height at which the stop meets"
        spare = given("spare", "turns past an end, at most", SPARE_TURNS, "", source=PRACTICE)
        next_one = self._next(end)
        if next_one is None:
            return computed(f"past_{end}", words, "spare", PRACTICE, spare, unit="")
        formula = f"min(spare, {next_one.symbol} / 2)"
        return computed(f"past_{end}", words, formula, f"half of what is left to what goes wrong next; {PRACTICE}", spare, next_one, unit="")

    def _next(self, end: str) -> Number | None:
        beyond = first_beyond(self.facts.derived, "least" if end == "least" else "most")
        if beyond is None:
            return None
        source = f"`trivet explain beyond_turns {beyond.end} {beyond.cause}` says why"
        return given(f"next_{end}", f"turns left to what goes wrong next ({beyond.cause.replace('_', ' ')})", beyond.turns, "", source=source)

    def left(self, end: str) -> Number:
        """Turns left to what goes wrong next where the stop meets."""
        past, next_one = self.past(end), self._next(end)
        assert next_one is not None
        words = "turns left, where the stop meets, to what goes wrong next"
        return computed(f"left_{end}", words, f"{next_one.symbol} − {past.symbol}", DERIVED, next_one, past, unit="")

    def turns(self) -> Number:
        """Turns that the stop allows."""
        whole = lifts.turns(self.facts, self.per_turn())
        ends = self.past("least"), self.past("most")
        formula = " + ".join(item.symbol for item in (whole, *ends))
        return computed("turns_stop", "turns that the stop allows", formula, DERIVED, whole, *ends, unit="")

    def window(self) -> Number:
        """Height in which the nut moves."""
        turns, thread = self.turns(), self.state.drive.thread
        lead = given("l_bolt", f"lead of {thread.designation}", thread.lead_mm, origin=thread.origin)
        return computed("window", "height in which the nut travels", f"{turns.symbol} · {lead.symbol}", DERIVED, turns, lead)

    def nut(self) -> Number:
        """Height of a stop's nut."""
        nut = self.state.drive.stop_nut
        return given("m_stop", "height of the stop's nut", self.plan.nut_mm, origin=nut.origin if nut is not None else None)

    def washer(self) -> Number:
        """Thickness of its washer, at its thickest."""
        washer = self.state.drive.stop_washer
        return given("w_stop", "its washer, at its thickest", self.plan.washer_mm, origin=washer.origin if washer is not None else None,
                     source="" if washer is not None else "none")  # fmt: skip

    def bolt(self) -> Number:
        """Length that the bolt must have."""
        choice = next(item for item in self.facts.derived.bolts if item.part == self.plan.drive)
        return stack_limits(self.facts, choice)[0]

    def end_nut(self) -> Number:
        """Where the end nut's upper face is locked, from under the bolt's head."""
        choice = next(item for item in self.facts.derived.bolts if item.part == self.plan.drive)
        items = [
            given(f"h{index}", name, band.mean, source="as it lies under the head, at mean sheets")
            for index, (name, band) in enumerate(choice.stack, start=1)
            if name != STOP_ITEM
        ]
        terms = [*items, self.window(), self.nut(), self.washer()]
        words = "from under the bolt's head to the end nut's upper face"
        return computed("end_nut", words, " + ".join(item.symbol for item in terms), DERIVED, *terms)


def climber_entries(facts: Facts, speeds: Speeds) -> Iterator[Entry]:
    """Of each idler that rides a thread."""
    climbing = {spec.id: spec for spec in facts.stroked.world(MEAN).climbers} if facts.derived.climbers else {}
    for index, state in enumerate(facts.derived.climbers):
        path: tuple[str | int, ...] = ("climbers", index)
        start = state.foot.climbs_from
        if start is not None:
            words = f"how far `{state.gear}` is set to hang when the board is lowest"
            explain = partial(given, "start", words, start.mm, origin=start.origin)
            yield Entry("hangs_at_lowest", (state.id,), (*path, "hangs_at_lowest_mm"), explain)
        if state.rise_per_turn_mm is not None:
            yield Entry("climb", (state.id,), (*path, "moves_per_drive_turn_mm"), partial(_climb, state, speeds))
        for end in ("least", "most"):
            explain = partial(_engaged, facts, state, climbing.get(state.id), end)
            yield Entry(f"engagement_at_{end}", (state.id,), (*path, "engagement_mm", f"at_{end}"), explain)


def _climb(state: FootState, speeds: Speeds) -> Number:
    thread, turns = state.foot.thread, speeds()[state.gear]
    lead = given("lead", f"lead of {thread.designation}", state.lead_mm, origin=thread.origin)
    words = f"how far `{state.gear}` climbs for a turn of the drive"
    return computed("climb", words, f"{lead.symbol} · abs({turns.symbol})", "derived: a screw moves by its lead for a turn", lead, turns)


def _engaged(facts: Facts, state: FootState, spec: FootSpec | None, end: str) -> Number:
    """Thread engaged at an end of the travel, from where the climber then hangs."""
    value = state.engagement_at_least_mm if end == "least" else state.engagement_at_most_mm
    words = f"thread of `{state.id}` engaged at the {'lowest' if end == 'least' else 'greatest'} height"
    if spec is None or (case := riding_case(spec, facts.stroked.world(MEAN), MEAN)).zone is None:
        return given("E", words, value, source="nothing holds its thread, or nothing is lifted")
    out = hangs(facts, spec, end)
    length = given("L", f"length of the screw of `{state.id}`", spec.length_mm, origin=spec.foot.length.origin if spec.foot.length else spec.foot.origin)
    thread = given("b", "its threaded length", spec.threaded_mm, origin=spec.foot.screw.origin if spec.foot.screw else spec.foot.origin)
    how = "as of a riding foot: from the board's underside, its gears and its pocket"
    face = found("u", "where its head bears, at no extension", case.bearing_mm, how, DERIVED)
    zone = case.zone
    lower = found("low", "low end of the live thread of its insert", zone.low_mm, "as it is driven into the board", DERIVED)
    upper = found("high", "high end of the live thread of its insert", zone.high_mm, "as it is driven into the board", DERIVED)
    tip = computed("tip", "the screw's tip", f"u + L − {out.symbol}", DERIVED, face, length, out)
    return computed("E", words, "max(0, min(tip, high) − max(tip − b, low))", DERIVED, tip, upper, thread, lower)
