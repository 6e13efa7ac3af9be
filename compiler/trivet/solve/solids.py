"""All solids of a fixture at each combination of sheets. Cost linear in gears."""

from __future__ import annotations

from collections.abc import Mapping

from trivet.record import replace
from trivet.solve.derived import GearState
from trivet.solve.foot_case import FootCase, FootSpec, World
from trivet.solve.foot_riding import riding_case
from trivet.solve.solid import Solid, SolidSet
from trivet.solve.solids_feet import foot_solids
from trivet.solve.solids_fixed import drive_solids, gear_solids, pivot_solids
from trivet.solve.stroke import Stroke, stroke_of

Worlds = Mapping[tuple[int, int], World]
# A climbing idler that strays less than this from the feet over the travel climbs with them, mm.
SAME_RATE_MM = 0.01


def solids_of(
    specs: tuple[FootSpec, ...],
    worlds: Worlds,
    cases: Mapping[tuple[int, int], Mapping[str, FootCase]],
    stacks: Mapping[str, tuple[GearState, ...]],
    lengths: Mapping[str, float],
    whole: bool,
    climbed: Mapping[tuple[int, int], Mapping[str, tuple[float, float]]] | None = None,
) -> tuple[SolidSet, ...]:
    """One set for each combination of sheets, the mean first.

    `cases`: every foot at the same combinations; `lengths`: fitted bolts by the gear they carry; `whole`: whether the train turns
    every foot, so that the stroke means something; `climbed`: extensions of climbing idlers at both ends of the stroke.
    """
    found = []
    feet = {spec.gear.id: spec for spec in specs}
    for key, world in sorted(worlds.items(), key=lambda item: item[0] != (0, 0)):
        here = cases[key]
        stroke = stroke_of(here) if whole else None
        solids: list[Solid] = []
        drives = {item.name.text: item for item in world.design.drives}
        pivots = {item.name.text: item for item in world.design.pivots}
        for root, stack in stacks.items():
            state = world.states[root]
            solids += gear_solids(world, stack, root)
            if state.gear.turned_by is not None:
                solids += drive_solids(world, stack, state, drives[state.gear.turned_by.text], lengths.get(root))
            elif state.gear.turns_on is not None:
                solids += pivot_solids(world, stack, state, pivots[state.gear.turns_on.text], lengths.get(root))
            elif root in feet:
                case = here[feet[root].id]
                least = stroke.low.height_mm - case.height_at_zero_mm if stroke is not None else 0.0
                solids += foot_solids(feet[root], case, world, least)
            else:
                for climber in (item for item in world.climbers if item.gear.id == root):
                    ends = (climbed or {}).get(key, {}).get(climber.id, (0.0, 0.0))
                    solids += climber_solids(climber, world, ends, stroke)
        travel = max(0.0, stroke.travel_mm) if stroke is not None else 0.0
        found.append(SolidSet(*key, tuple(solids), travel, stroke is not None or not specs))
    return tuple(found)


def climber_solids(climber: FootSpec, world: World, ends: tuple[float, float], stroke: Stroke | None) -> list[Solid]:
    """An idler that climbs as the board does moves like a foot; one at another rate is taken wherever it comes over the travel."""
    case = riding_case(climber, world, world.corner)
    low, high = (foot_solids(climber, case, world, end) for end in ends)
    travel = max(0.0, stroke.travel_mm) if stroke is not None else 0.0
    if abs(ends[1] - ends[0] - travel) < SAME_RATE_MM:
        return low
    return [
        replace(one, low_mm=min(one.low_mm, other.low_mm), high_mm=max(one.high_mm, other.high_mm), moves=False)
        for one, other in zip(low, high, strict=True)
    ]


def lifted(solids: SolidSet) -> SolidSet:
    """The same with every foot at its greatest extension."""
    moved = (
        replace(item, low_mm=item.low_mm - solids.travel_mm, high_mm=item.high_mm - solids.travel_mm) if item.moves else item
        for item in solids.solids
    )
    return replace(solids, solids=tuple(moved), travel_mm=0.0)
