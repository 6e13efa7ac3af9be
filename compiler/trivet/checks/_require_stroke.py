"""Requirements on the stroke: travel and heights, each judged at the worst combination of sheets."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from trivet.checks._overlap_remedy import less_overlap
from trivet.checks._remedy import LEAST_GAIN_MM, WORST, every_height_mm, first_that, most_travel, worst_travel_mm
from trivet.checks._require import MEAN, SAME, ending_labels, ending_sets, label, side_of, too_great, too_small, unit_of, unmet
from trivet.checks._round import up_told
from trivet.checks._stroke import ends
from trivet.checks._wider_remedy import wider_change
from trivet.diagnostics import Diagnostic
from trivet.model.design import Design
from trivet.model.intent import Require
from trivet.solve.derived import Derived, Lift
from trivet.units import length_text

NOTHING = "nothing tried on the feet, the layers of gears and board, and the file's sheets reaches it"


def unmet_travel(require: Require, design: Design, derived: Derived, lift: Lift) -> Iterator[Diagnostic]:
    """`travel >= …` against the least travel of all combinations, `travel <= …` against that at mean thickness."""
    sets = ending_sets(derived)
    great = too_great(require, lift.travel_mm)
    if not great and not too_small(require, worst_travel_mm(lift)):
        return

    def meets(after: Lift) -> bool:
        return not too_small(require, worst_travel_mm(after)) and not too_great(require, after.travel_mm)

    tried = [most_travel(design, derived, name, meets) for name in sets]
    remedy = next((words for words, enough, _ in tried if enough), "")
    if not remedy and not great:
        remedy = less_overlap(design, derived, side_of(require, False) - worst_travel_mm(lift), meets)
    if not remedy:
        remedy = _wider(design, derived, sets, meets, max((mm, words) for words, _, mm in tried), great)
    value = lift.travel_mm if great else worst_travel_mm(lift)
    where = MEAN if great else WORST
    yield unmet(require, design, "travel", value, side_of(require, great), ending_labels(derived), remedy, sets, where=where, upper=great)


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
    sets = ending_sets(derived)
    remedy = _changed(design, derived, meets, gives)
    if low > wanted[0] + SAME:
        other = f"a riser of {up_told(low - wanted[0], unit)} under the workpiece brings its least height up to the lowest"
        yield unmet(
            require, design, "the lowest height", low, wanted[0], label(found[0]), remedy or other, sets, where=WORST, upper=True
        )
    if high < wanted[1] - SAME:
        other = (
            f"foot blocks of {up_told(wanted[1] - high, unit)} under every foot raise the greatest height to it, and the lowest too"
        )
        yield unmet(require, design, "the greatest height", high, wanted[1], label(found[1]), remedy or other, sets, where=WORST)


def _changed(design: Design, derived: Derived, meets: Callable[[Lift], bool], gives: Callable[[Lift], str]) -> str:
    """The easiest change of a foot set, else of other parts, after which the requirement is met, in words; empty where none does."""
    for name in ending_sets(derived):
        found = first_that(design, derived, name, meets)
        if found is not None:
            return f"{found[0]} would give {gives(found[1])} {WORST}"
    for name in ending_sets(derived):
        words, _, after = wider_change(design, derived, name, meets)
        if after is not None:
            return f"{words} would give {gives(after)} {WORST}"
    return ""


def _wider(
    design: Design, derived: Derived, sets: tuple[str, ...], meets: Callable[[Lift], bool], of_feet: tuple[float, str], great: bool
) -> str:
    """A change of other parts than the feet that reaches the travel; else that nothing does, and what comes nearest.

    `of_feet`: the most travel that a change of the feet gives, mm, and its words.
    """
    best, nearest = of_feet
    for name in sets:
        words, travel, after = wider_change(design, derived, name, meets)
        told = f"{words} would give {length_text(travel, design.units)} of travel {WORST}"
        if after is not None:
            return told
        if travel > best + LEAST_GAIN_MM:
            best, nearest = travel, told
    return NOTHING + (f"; {nearest}" if nearest and not great else "")
