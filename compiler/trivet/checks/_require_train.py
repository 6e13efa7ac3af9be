"""Requirements on the train: lift per turn and turns for the travel; and the teeth that would meet them."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from fractions import Fraction

from trivet.checks._check import place, related
from trivet.checks._leads import thread_that
from trivet.checks._remedy import WORST, worst_travel_mm
from trivet.checks._require import MEAN, SLUG, ending_sets, met, required, side_of, too_great, too_small, unit_of, unmet
from trivet.checks._round import down_fine, up_fine
from trivet.checks._train import named
from trivet.diagnostics import Diagnostic
from trivet.model.design import Design
from trivet.model.intent import Require
from trivet.solve.derived import Derived, Lift
from trivet.solve.solve import solve
from trivet.units import Quantity, length_text

# The fewest teeth proposed, and how many counts are tried: common practice, no source.
FEWEST_TEETH = 8
TRIES = 6


def unmet_lift(require: Require, design: Design, derived: Derived, lift: Lift) -> Iterator[Diagnostic]:
    """`lift_per_turn …`: exact, the same for every sheet."""
    value, unit = lift.per_turn_mm, unit_of(require, design)
    if met(require, value):
        return
    remedy = _teeth(
        design,
        derived,
        lambda after: met(require, after.per_turn_mm),
        lambda after: f"{length_text(after.per_turn_mm, unit)} per turn",
    )
    upper = too_great(require, value)
    bound, foot = side_of(require, upper), derived.feet[0]
    labels = related((f"the thread of `{foot.foot.name.text}` has a lead of {length_text(foot.lead_mm, unit)}", foot.foot.origin))
    remedy = ", or ".join(part for part in (remedy, _thread(require, derived, unit)) if part)
    fine = down_fine if upper else up_fine
    remedy = remedy or f"a lead of {fine(foot.lead_mm * bound / value, unit)}, other things equal, would do"
    sets = tuple(dict.fromkeys(item.foot.name.text for item in derived.feet))
    yield unmet(require, design, "lift per turn", value, bound, labels, remedy, sets, where="", upper=upper)


def _thread(require: Require, derived: Derived, unit: str) -> str:
    """A coarse thread for the feet that would do, where all have one lead: of their own system, else of the other."""
    feet = [foot.foot for foot in derived.feet]
    leads = {foot.lead_mm for foot in derived.feet}
    if len(leads) != 1 or derived.lift is None or not derived.try_changes:
        return ""
    lead = leads.pop()
    turns = derived.lift.per_turn_mm / lead
    own = feet[0].thread.system
    for system in (own, "metric" if own == "unified" else "unified"):
        found = thread_that((system,), lead, lambda mm: met(require, mm * turns))
        if found is not None:
            names = named(dict.fromkeys(foot.name.text for foot in feet))
            return f"`thread {found[0]}` for {names} would give {length_text(found[1] * turns, unit)} per turn"
    return ""


def unmet_turns(require: Require, design: Design, derived: Derived, lift: Lift) -> Iterator[Diagnostic]:
    """`turns_for_travel …`: the upper side at mean thickness, the lower at the least travel."""
    most, least = lift.turns_for_travel, worst_travel_mm(lift) / lift.per_turn_mm
    upper = too_great(require, most)
    if not upper and not too_small(require, least):
        return

    def meets(after: Lift) -> bool:
        return not too_great(require, after.turns_for_travel) and not too_small(require, worst_travel_mm(after) / after.per_turn_mm)

    remedy = _teeth(design, derived, meets, lambda after: f"{after.turns_for_travel:.2f} turns")
    value, bound = most if upper else least, side_of(require, upper)
    if not remedy and bound:
        lead = (up_fine if upper else down_fine)(derived.feet[0].lead_mm * value / bound, design.units)
        remedy = f"no count of teeth that was tried does; a lead of {lead}, other things equal, would"
    measured, allowed = _two_numbers(value, bound)
    message = f"the travel takes {measured} turns {MEAN if upper else WORST}; {required(require, allowed, upper)}"
    labels = related((f"lift per turn is {length_text(lift.per_turn_mm, design.units)}", derived.feet[0].foot.origin))
    yield Diagnostic(
        SLUG, "error", message, place(require.origin), labels, remedy, parts=("turns_for_travel", *ending_sets(derived))
    )


def _teeth(design: Design, derived: Derived, meets: Callable[[Lift], bool], gives: Callable[[Lift], str]) -> str:
    """Another count of teeth for the drive gear, else for the feet's gears, that would do; solved anew. Empty where none tried does."""
    if not derived.try_changes:
        return ""
    feet = {foot.gear for foot in derived.feet}
    for names, words in (({derived.train.drive_gear}, "a drive gear"), (feet, "foot gears")):
        gears = [gear for gear in design.gears if gear.name.text in names]
        counts = {gear.z for gear in gears}
        if len(counts) != 1:
            continue
        now = counts.pop()
        for teeth in sorted(range(FEWEST_TEETH, 3 * now), key=lambda z: (abs(z - now), z))[1 : 1 + TRIES * 4]:
            count = Quantity(Fraction(teeth), "")
            changed = tuple(gear.model_copy(update={"teeth": count}) if gear.name.text in names else gear for gear in design.gears)
            after = solve(design.model_copy(update={"gears": changed}))
            if after.lift is not None and not after.train.unreached and meets(after.lift):
                return f"{words} of {teeth} teeth would give {gives(after.lift)}"
    return ""


def _two_numbers(left: float, right: float) -> tuple[str, str]:
    for decimals in range(2, 7):
        texts = [f"{value:.{decimals}f}".rstrip("0").rstrip(".") for value in (left, right)]
        if texts[0] != texts[1]:
            break
    return texts[0], texts[1]
