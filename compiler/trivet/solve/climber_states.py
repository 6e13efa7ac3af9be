"""Records of climbing idlers: where they are at both ends of the travel, what holds them there, and the screw to buy. Lengths mm."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from trivet.record import replace
from trivet.solve.board_levels import ceiling
from trivet.solve.climber import climbed_mm, rate
from trivet.solve.corner import corners
from trivet.solve.derived import BoltChoice, FootState
from trivet.solve.foot_case import FootSpec, World
from trivet.solve.foot_length import foot_bolt
from trivet.solve.foot_riding import riding_case
from trivet.solve.foot_states import foot_state
from trivet.solve.stroke import cases_at, stroke_of
from trivet.solve.thread_zone import engagement_mm

Worlds = Mapping[tuple[int, int], World]
Ends = dict[tuple[int, int], dict[str, tuple[float, float]]]


def climbing_rates(specs: Sequence[FootSpec], climbers: Sequence[FootSpec]) -> dict[str, float]:
    """mm that each climbing gear moves per mm of travel, down as the board rises positive."""
    found: dict[str, float] = {}
    for climber in climbers:
        r = rate(climber, specs[0]) if specs else None
        if r is not None:
            found |= {state.id: r for state in climber.stack}
    return found


def with_climber_ends(specs: Sequence[FootSpec], worlds: Worlds, ends: Ends) -> Ends:
    """Each combination's ends of the stroke, with the climbers' extensions there."""
    found: Ends = {}
    for key, held in ends.items():
        world = worlds[key]
        more: dict[str, tuple[float, float]] = {}
        if world.climbers:
            first = specs[0]
            cases = cases_at(specs, replace(world, climbers=()), world.corner)
            alone = stroke_of(cases)
            for climber in world.climbers if alone is not None else ():
                assert alone is not None
                e0 = alone.low.height_mm - cases[first.id].height_at_zero_mm
                at = [mm for e in held[first.id] if (mm := climbed_mm(climber, first, e, e0)) is not None]
                if at:
                    more[climber.id] = (at[0], at[-1])
        found[key] = held | more
    return found


def climber_states(specs: Sequence[FootSpec], worlds: Worlds, ends: Ends, unit: str) -> tuple[FootState, ...]:
    """One record for each climbing idler, as of a riding foot; no pad, and engaged as at the ends of the board's travel."""
    world = worlds[0, 0]
    found = []
    for climber in world.climbers:
        case = riding_case(climber, world, world.corner)
        state = foot_state(climber, world, case, [], None, {}, None, unit)
        at = ends.get((0, 0), {}).get(climber.id)
        if at is not None and case.zone is not None:
            tips = [case.bearing_mm + climber.length_mm - e for e in at]
            engaged = [engagement_mm(case.zone, tip - climber.threaded_mm, tip) for tip in tips]
            state = replace(state, engagement_at_least_mm=engaged[0], engagement_at_most_mm=engaged[1])
        found.append(state)
    return tuple(found)


def climber_bolt(state: FootState, climber: FootSpec, worlds: Worlds, ends: Ends, unit: str) -> BoltChoice:
    """What to buy for one: its tip stays below the topside at its least extension of the travel."""
    cases, tops, least = [], [], []
    for corner in corners():
        world = worlds[corner.board, corner.gear]
        cases.append(riding_case(climber, world, corner))
        into = climber.foot.into.text
        tops.append(ceiling(world.design, world.boards, into, state.x_mm, state.y_mm, climber.foot.thread.major_mm)[0])
        least.append(min(ends.get((corner.board, corner.gear), {}).get(climber.id, (0.0,))))
    return foot_bolt(climber, cases, tops, least, unit)
