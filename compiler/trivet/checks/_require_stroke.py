"""Requirements on the stroke: travel and heights, each judged at the worst combination of sheets."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from trivet.checks._overlap_remedy import less_overlap
from trivet.checks._remedy import WORST, every_height_mm, first_that, most_travel, worst_travel_mm
from trivet.checks._require import MEAN, SAME, ending_labels, ending_sets, label, too_great, too_small, unit_of, unmet
from trivet.checks._round import up_text
from trivet.checks._stroke import ends
from trivet.diagnostics import Diagnostic
from trivet.model.design import Design
from trivet.model.intent import Require
from trivet.solve.derived import Derived, Lift
from trivet.units import length_text


def unmet_travel(require: Require, design: Design, derived: Derived, lift: Lift) -> Iterator[Diagnostic]:
    """`travel >= …` against the least travel of all combinations, `travel <= …` against that at mean thickness."""
    sets = ending_sets(derived)
    great = too_great(require, lift.travel_mm)
    if not great and not too_small(require, worst_travel_mm(lift)):
        return

    def meets(after: Lift) -> bool:
        return not too_small(require, worst_travel_mm(after)) and not too_great(require, after.travel_mm)

    tried = [most_travel(design, derived, name, meets) for name in sets]
    remedy = next((words for words, enough in tried if enough), "")
    if not remedy and not great:
        remedy = less_overlap(design, derived, (require.low or 0.0) - worst_travel_mm(lift), meets)
    if not remedy:
        best = next((words for words, _ in tried if words and not great), "")
        remedy = "no change tried on the feet reaches it" + (f"; {best}" if best else "")
    value, bound = (lift.travel_mm, require.high) if great else (worst_travel_mm(lift), require.low)
    where = MEAN if great else WORST
    yield unmet(require, design, "travel", value, bound, ending_labels(derived), remedy, sets, where=where, upper=great)


def unmet_height(require: Require, design: Design, derived: Derived, lift: Lift) -> Iterator[Diagnostic]:
    """`height covers …`: the heights that every combination reaches must hold the range. One finding for each end that does not."""
    unit, found, (low, high) = unit_of(require, design), ends(derived), every_height_mm(lift)
    if require.low is None or require.high is None or found is None:
        return
    wanted = require.low, require.high

    def meets(after: Lift) -> bool:
        lowest, greatest = every_height_mm(after)
        return lowest <= wanted[0] + SAME and greatest >= wanted[1] - SAME

    def gives(after: Lift) -> str:
        lowest, greatest = every_height_mm(after)
        return f"heights from {length_text(lowest, unit)} to {length_text(greatest, unit)}"

    if meets(lift):
        return
    remedy, sets = _changed(design, derived, meets, gives), ending_sets(derived)
    if low > wanted[0] + SAME:
        other = f"a riser of {up_text(low - wanted[0], unit)} under the workpiece brings its least height up to the lowest"
        yield unmet(
            require, design, "the lowest height", low, wanted[0], label(found[0]), remedy or other, sets, where=WORST, upper=True
        )
    if high < wanted[1] - SAME:
        other = (
            f"foot blocks of {up_text(wanted[1] - high, unit)} under every foot raise the greatest height to it, and the lowest too"
        )
        yield unmet(require, design, "the greatest height", high, wanted[1], label(found[1]), remedy or other, sets, where=WORST)


def _changed(design: Design, derived: Derived, meets: Callable[[Lift], bool], gives: Callable[[Lift], str]) -> str:
    """The easiest change of a foot set after which the requirement is met, in words; empty where none does."""
    for name in ending_sets(derived):
        found = first_that(design, derived, name, meets)
        if found is not None:
            return f"{found[0]} would give {gives(found[1])} {WORST}"
    return ""
