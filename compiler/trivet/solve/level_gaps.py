"""What must lie between a board and the gears of a lower level: a spacer as thick as the gears above them."""

from __future__ import annotations

from trivet.model.design import Design
from trivet.solve.corner import MEAN
from trivet.solve.derived import Train
from trivet.solve.shaft import level_drops, shafts


def level_gaps_mm(design: Design, train: Train) -> dict[str, float]:
    """For each shaft whose uppermost gear hangs below level 0, by the gear it is named for: the gap to fill, mm at mean sheets.

    Gears of riding feet hang by their screws and need nothing over them.
    """
    riding = {foot.name.text for foot in design.feet if foot.kind == "riding"}
    stacks = shafts(train)
    drops = level_drops(train, stacks, MEAN)
    found: dict[str, float] = {}
    for root, stack in stacks.items():
        rides = any(state.gear.carries is not None and state.gear.carries.text in riding for state in stack)
        gap = drops[stack[0].level]
        if gap > 0.0 and not rides:
            found[root] = gap
    return found
