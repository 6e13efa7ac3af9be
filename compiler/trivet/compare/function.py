"""What the fixture does: lift, travel, heights, directions, play, chance of binding."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from trivet.compare.change import Change
from trivet.solve.binding import binding
from trivet.solve.binding_words import chance_words, percent_words
from trivet.units import length_text

if TYPE_CHECKING:
    from trivet.model.design import Design
    from trivet.solve.derived import Backlash, Derived, Lift

# Smaller differences come from rounding.
SAME = 1e-9


def function_changes(old: tuple[Design, Derived], new: tuple[Design, Derived], full: bool) -> tuple[Change, ...]:
    """Differences in the figures of the summary, in the new file's unit; with `full` the chance of binding too."""
    unit = new[0].units
    found = [*_lift_changes(old[1].lift, new[1].lift, unit), *_feet(old[1], new[1], unit), *_play(old[1], new[1], unit)]
    if full:
        found += _binding(old, new)
    return tuple(found)


def _lift_changes(old: Lift | None, new: Lift | None, unit: str) -> Iterator[Change]:
    if old is None or new is None:
        if old is not new:
            none = "none could be computed"
            yield Change(
                "lift", *(none if lift is None else f"{length_text(lift.per_turn_mm, unit, 4)} per turn" for lift in (old, new))
            )
        return
    if old.raises_when != new.raises_when:
        yield Change("raises when turned", old.raises_when, new.raises_when)
    yield from length_change("lift per turn", old.per_turn_mm, new.per_turn_mm, unit, 4)
    yield from length_change("travel", old.travel_mm, new.travel_mm, unit)
    yield from length_change("travel with the worst sheets", old.travel_worst_mm, new.travel_worst_mm, unit)
    yield from length_change("travel to parting", old.travel_to_parting_mm, new.travel_to_parting_mm, unit)
    yield from length_change("lowest height", old.height_min_mm, new.height_min_mm, unit)
    yield from length_change("greatest height", old.height_max_mm, new.height_max_mm, unit)
    yield from _text_change("turns for the travel", f"{old.turns_for_travel:.1f}", f"{new.turns_for_travel:.1f}")
    for end, word in (("least", "the lowest is where"), ("most", "the highest is where")):
        causes = [next((limit for limit in lift.limits if limit.end == end), None) for lift in (old, new)]
        first, second = causes
        if first is not None and second is not None and (first.cause, first.parts) != (second.cause, second.parts):
            yield Change(word, first.sentence, second.sentence)


def _feet(old: Derived, new: Derived, unit: str) -> Iterator[Change]:
    """Feet that came, went, or rise otherwise than the board as a whole does."""
    before, after = ({foot.id: foot for foot in derived.feet} for derived in (old, new))
    for name in [*before, *(name for name in after if name not in before)]:
        first, second = before.get(name), after.get(name)
        if first is None or second is None:
            yield Change(f"foot {name}", "" if first is None else "there", "" if second is None else "there")
        elif first.foot.thread.designation != second.foot.thread.designation:
            yield Change(f"thread of {name}", first.foot.thread.designation, second.foot.thread.designation)
        elif first.rise_per_turn_mm != second.rise_per_turn_mm and old.lift is not None and new.lift is not None:
            rises = [foot.rise_per_turn_mm for foot in (first, second)]
            board = [old.lift.per_turn_mm, new.lift.per_turn_mm]
            if any(rise is None or abs(abs(float(rise)) - lift) > SAME for rise, lift in zip(rises, board, strict=True)):
                yield Change(
                    f"rise of {name} per turn", *("none" if rise is None else length_text(float(rise), unit) for rise in rises)
                )


def _play(old: Derived, new: Derived, unit: str) -> Iterator[Change]:
    if not old.train.meshes or not new.train.meshes:
        return
    before, after = ([mesh.backlash for mesh in derived.train.meshes] for derived in (old, new))
    for what, pick in (("least backlash", _nominal), ("least backlash with every error at its worst", _worst)):
        yield from length_change(what, min(map(pick, before)), min(map(pick, after)), unit)
    ratios = [min(mesh.contact_ratio_min for mesh in derived.train.meshes) for derived in (old, new)]
    yield from _text_change("least contact ratio", *(f"{ratio:.2f}" for ratio in ratios))


def _nominal(backlash: Backlash) -> float:
    return backlash.nominal_mm


def _worst(backlash: Backlash) -> float:
    return backlash.min_mm


def _binding(old: tuple[Design, Derived], new: tuple[Design, Derived]) -> Iterator[Change]:
    chances = [binding(design, derived).chance for design, derived in (old, new)]
    if chances[0] != chances[1]:
        words = ["not known" if chance is None else f"{chance_words(chance)} ({percent_words(chance)})" for chance in chances]
        yield from _text_change("the train binds", *words)


def length_change(what: str, old_mm: float, new_mm: float, unit: str, decimals: int | None = None) -> Iterator[Change]:
    """One change where two lengths differ in print; less is nothing that a maker could see."""
    yield from _text_change(what, length_text(old_mm, unit, decimals), length_text(new_mm, unit, decimals))


def _text_change(what: str, old: str, new: str) -> Iterator[Change]:
    if old != new:
        yield Change(what, old, new)
