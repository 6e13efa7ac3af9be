"""Numbers that the page, the assembly sheet and figures print and the report has not, explained."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from functools import partial

import trivet.tables.explanation_lift as lifts
import trivet.tables.explanation_teeth as teeth
from trivet.model.hardware import Insert
from trivet.solve.derived import FootState, MeshState
from trivet.tables.assembly_prepare import LOOKED_AT_IN_MM, LOOKED_AT_MM
from trivet.tables.explanation import DERIVED, PRACTICE, Entry, Number, computed, given
from trivet.tables.explanation_backlash import tilt_number
from trivet.tables.explanation_facts import Facts

Speeds = Callable[[], Mapping[str, Number]]
ASSEMBLY = "assembly.md"


def shown_entries(facts: Facts, speeds: Speeds) -> Iterator[Entry]:
    """When gears and pairs of teeth come round, how deep inserts lie, how square they stand, and the height that the plan is drawn at."""
    for gear in facts.derived.train.gears:
        if gear.speed:
            yield Entry("comes_round", (gear.id,), (), partial(_round, speeds, gear.id), elsewhere=f"{ASSEMBLY}: if it binds")
    for mesh in facts.derived.train.meshes:
        if facts.states[mesh.a].speed:
            explain = partial(_again, facts, speeds, mesh)
            yield Entry("meets_again", (mesh.a, mesh.b), (), explain, elsewhere=f"{ASSEMBLY}: try it, and if it binds")
    for foot in facts.derived.feet:
        use = foot.foot.insert
        if use is not None:
            yield Entry("off_square", (foot.id,), (), partial(_square, facts, foot), elsewhere=f"{ASSEMBLY}: inserts")
            if isinstance(use.hardware, Insert):
                yield Entry("insert_depth", (foot.id,), (), partial(_sunk, facts, foot), elsewhere=f"{ASSEMBLY}: inserts")
        yield Entry("zero_left", (foot.id,), (), partial(_left, facts, foot), elsewhere=f"{ASSEMBLY}: setting the feet level")
    lift = facts.derived.lift
    if lift is not None and lift.travel_mm > 0.0:
        yield Entry("plan_height", (), (), partial(_plan_height, facts), elsewhere="index.html: the figures of the plan")


def _round(speeds: Speeds, gear: str) -> Number:
    turns = speeds()[gear]
    words = f"turns of the drive for one turn of `{gear}`"
    return computed("comes_round", words, f"1 / abs({turns.symbol})", DERIVED, turns, unit="")


def _again(facts: Facts, speeds: Speeds, mesh: MeshState) -> Number:
    one, two, turns = teeth.teeth(facts, mesh.a), teeth.teeth(facts, mesh.b), speeds()[mesh.a]
    common = given("gcd", f"greatest common divisor of {one.symbol} and {two.symbol}", math.gcd(int(one.value), int(two.value)), "",
                   source="derived: a number that divides both")  # fmt: skip
    words = f"turns of the drive until the same two teeth of `{mesh.a}` and `{mesh.b}` meet again"
    return computed("again", words, f"{two.symbol} / gcd / abs({turns.symbol})", DERIVED, one, two, common, turns, unit="")


def _square(facts: Facts, foot: FootState) -> Number:
    tilt = tilt_number(facts, facts.design.shop.insert_tilt_deg, foot.id)
    at = LOOKED_AT_IN_MM if facts.design.units == "in" else LOOKED_AT_MM
    long = given("reach", "how far along a straight bolt it is looked at", at, source=PRACTICE)
    words = f"how far a bolt in the insert of `{foot.id}` may stand off square there"
    return computed("off", words, f"reach · tan({tilt.symbol})", DERIVED, long, tilt)


def _sunk(facts: Facts, foot: FootState) -> Number:
    """From the face that it is driven into to its driving end: 0 where they are one, else the board less its length."""
    use = foot.foot.insert
    assert use is not None and isinstance(use.hardware, Insert)
    words = f"how deep the driving end of the insert of `{foot.id}` lies under the {use.driven_from}"
    inputs, text = [], "0"
    if use.driven_from != use.flush:
        board = facts.board_thickness(foot.foot.into.text)
        length = given("l", "length of the insert", use.hardware.length_mm, origin=use.hardware.origin)
        inputs, text = [board, length], f"{board.symbol} − {length.symbol}"
    if use.proud is not None:
        proud = given("proud", "how far the insert stands out", use.proud.mm, origin=use.proud.origin)
        inputs.append(proud)
        text += f" {'+' if use.driven_from != use.flush else '−'} proud"
    if not inputs:
        return given("deep", words, 0.0, origin=use.origin, source="it is driven flush")
    return computed("deep", words, text, DERIVED, *inputs)


def _left(facts: Facts, foot: FootState) -> Number:
    step = given("zero_step", "height of one step of zeroing", foot.zero_step_mm, source=f"`trivet explain zero_step {foot.id}` says why")
    return computed("left", f"height that is at most left at `{foot.id}`", "zero_step / 2", "derived: to the nearest step", step)


def _plan_height(facts: Facts) -> Number:
    low, high = lifts.lowest(facts), lifts.highest_reported(facts)
    return computed("middle", "height that the plan is drawn at", f"({low.symbol} + {high.symbol}) / 2", "the middle of the travel", low, high)
