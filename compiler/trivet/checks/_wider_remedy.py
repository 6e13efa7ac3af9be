"""Changes beyond one foot set that would work, tried out: parts glued from two layers, or gears cut from another sheet of the file.

Thicker parts alone seldom give travel: the screws and the pads must follow. So each change of the parts is solved as it is, then
with the screw and the pad that its own limits ask for.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator

from trivet.checks._remedy import length_of, worst_travel_mm
from trivet.checks._train import named
from trivet.model.design import Design
from trivet.model.foot import Foot
from trivet.model.train import Drive, Pivot
from trivet.solve.bolt_length import stock_text
from trivet.solve.derived import Derived, Lift, Limit
from trivet.solve.solve import solve_heights
from trivet.solve.train import solve_train
from trivet.units import told_text

# Larger trains take too long to be solved again and again.
MOST_GEARS = 60
LAYERS = 2
# Limits that move outwards with the screw's length, millimetre for millimetre (mechanism: riding feet).
WITH_LENGTH = ("tip_through", "tip_meets_board", "blind_insert", "thread_leaves_insert", "shank_in_insert")
Meets = Callable[[Lift], bool]


def wider_change(design: Design, derived: Derived, name: str, meets: Meets) -> tuple[str, float, Lift | None]:
    """The first change after which `meets` holds: its words, the travel it leaves at the worst combination, mm, and the lift.

    Where none does: the change that leaves most travel, and None. Changes with which a foot's screw no longer fits are passed over;
    a drive's or pivot's bolt that then needs another recess is named.
    """
    best: tuple[str, float, Lift | None] = ("", 0.0, None)
    if not derived.try_changes or len(design.gears) > MOST_GEARS:
        return best
    unfit = _unfit(derived)
    for words, changed in _parts_changed(design, derived):
        for more, after in _with_feet(changed, name):
            if after.lift is None or after.train.faults or any(isinstance(of, Foot) for of in _unfit(after) if of not in unfit):
                continue
            travel = worst_travel_mm(after.lift)
            told = ", ".join((words, *more[:-1])) + f" and {more[-1]}" if more else words
            recess = dict.fromkeys(of.name.text for of in _unfit(after) if of not in unfit)
            if recess:
                told += f" (with another recess at the bolt of {named(recess)})"
            if meets(after.lift):
                return told, travel, after.lift
            if travel > best[1] + 1e-9:
                best = (told, travel, None)
    return best


def _parts_changed(design: Design, derived: Derived) -> Iterator[tuple[str, Design]]:
    """Another sheet for all gears; then two layers for one, two or all of: the gears that stay, the feet's gears, the board."""
    thick = {sheet.name.text: sheet.thickness.mean for sheet in design.sheets}
    stocks = {gear.stock.text for gear in design.gears}
    now = max(thick[stock] for stock in stocks)
    for sheet in sorted(design.sheets, key=lambda item: (item.thickness.mean, item.name.text)):
        if sheet.thickness.mean > now and sheet.name.text not in stocks:
            gears = tuple(gear.model_copy(update={"stock": sheet.name}) for gear in design.gears)
            yield f"gears cut from `{sheet.name}`", design.model_copy(update={"gears": gears})
    feet = {foot.gear for foot in derived.feet}
    all_single = {gear.name.text for gear in design.gears if gear.layers == 1}
    still, moving = tuple(name for name in sorted(all_single) if name not in feet), tuple(sorted(all_single & feet))
    boards = {state.foot.into.text for state in derived.feet}
    single = tuple(board.name.text for board in design.boards if board.name.text in boards and board.layers == 1)
    for choice in ((still,), (moving,), (single,), (still, single), (still, moving), (still, moving, single)):
        if all(choice):
            names = tuple(name for group in choice for name in group)
            yield f"`layers {LAYERS}` in {named(names)}", _layered(design, frozenset(names))


def _layered(design: Design, names: frozenset[str]) -> Design:
    gears = tuple(gear.model_copy(update={"layers": LAYERS}) if gear.name.text in names else gear for gear in design.gears)
    boards = tuple(board.model_copy(update={"layers": LAYERS}) if board.name.text in names else board for board in design.boards)
    return design.model_copy(update={"gears": gears, "boards": boards})


def _with_feet(design: Design, name: str) -> Iterator[tuple[tuple[str, ...], Derived]]:
    """As it is; then with the screw and the pad of the set `name` that the limits ask for, the two lengths sold next to it."""
    train = solve_train(design)
    first = solve_heights(design, train)
    yield (), first
    foot = next(item for item in design.feet if item.name.text == name)
    if foot.kind != "riding" or foot.screw is None or foot.length is None:
        return
    state = next((item for item in first.feet if item.foot.name.text == name), None)
    if state is None:
        return
    for length, drop in _asked_for(foot, tuple(limit for limit in state.limits if not limit.hard or limit.end == "least")):
        words: list[str] = []
        changes: dict[str, object] = {}
        if abs(length - foot.length.mm) > 1e-6:
            changes["length"] = length_of(length)
            words.append(f"a screw of {stock_text(foot.screw, length)}")
        if drop > 0.0:
            total = drop + (foot.pad.drop.mm if foot.pad.drop is not None else 0.0)
            kind = "dome" if foot.pad.kind == "head" else foot.pad.kind
            changes["pad"] = foot.pad.model_copy(update={"kind": kind, "drop": length_of(total)})
            words.append(f"a pad with a drop of {told_text(total, design.units)}")
        if words:
            words[-1] += f" for `{name}`" if len(design.feet) > 1 else ""
            feet = tuple(item.model_copy(update=changes) if item.name.text == name else item for item in design.feet)
            yield tuple(words), solve_heights(design.model_copy(update={"feet": feet}), train)


def _asked_for(foot: Foot, limits: tuple[Limit, ...]) -> Iterator[tuple[float, float]]:
    """(length of the screw, what the pad needs more, mm) with which the limits that they move do not end the travel, as far as may be."""
    assert foot.screw is not None and foot.length is not None

    def bound(end: str, with_length: bool | None) -> float | None:
        found = [
            limit.extension_worst_mm
            for limit in limits
            if limit.end == end
            and (limit.cause.startswith("bench") if with_length is None else (limit.cause in WITH_LENGTH) == with_length)
            and (with_length is None or not limit.cause.startswith("bench"))
        ]
        return None if not found else max(found) if end == "least" else min(found)

    most_moved, most_fixed = bound("most", True), bound("most", False)
    wanted = foot.length.mm + (most_fixed - most_moved if most_moved is not None and most_fixed is not None else 0.0)
    sold = foot.screw.stock_mm
    for length in (*[mm for mm in sold if mm >= wanted - 1e-6][:1], *[mm for mm in sold if mm < wanted - 1e-6][-1:]):
        moved, fixed, bench = bound("least", True), bound("least", False), bound("least", None)
        start = max(fixed or 0.0, (moved if moved is not None else 0.0) + length - foot.length.mm)
        step = 0.5 if foot.length.unit not in ("in", "thou") else 25.4 / 32
        lacking = (bench if bench is not None else 0.0) - start
        yield length, math.ceil(lacking / step - 1e-9) * step if lacking > 0.0 else 0.0


def _unfit(derived: Derived) -> tuple[Drive | Pivot | Foot, ...]:
    return tuple(bolt.of for bolt in derived.bolts if not bolt.fits or bolt.buy_mm is None)
