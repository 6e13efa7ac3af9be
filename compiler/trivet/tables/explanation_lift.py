"""The lift, explained: rise per turn, travel, heights, limits, and the worst combination of sheets for each."""

from __future__ import annotations

from trivet.solve.corner import MEAN, Corner, corners
from trivet.solve.derived import Lift, Limit
from trivet.solve.foot_case import Bound
from trivet.solve.stroke import Stroke
from trivet.tables.explanation import DERIVED, Number, computed, given
from trivet.tables.explanation_bounds import extension, height, same_bound
from trivet.tables.explanation_facts import Facts
from trivet.tables.explanation_feet import RISE, lead
from trivet.tables.explanation_teeth import teeth

# Extensions that differ by less are one, mm.
SAME_MM = 1e-9
_WAYS = {"least": "least", "most": "greatest"}


def words_of(corner: Corner) -> str:
    """A combination of extremes in words."""
    if not corner.worst:
        return "at mean sheets"
    thick = {-1: "thin", 1: "thick"}
    deep, tall = ("deep" if corner.depth > 0 else "shallow"), ("tall" if corner.head > 0 else "low")
    return f"with {thick[corner.board]} boards, {thick[corner.gear]} gears, {deep} pockets and {tall} heads"


def rise(facts: Facts, foot: str, speeds: dict[str, Number]) -> Number:
    """Rise of a foot for a turn of the drive, unsigned."""
    pitch, turns = lead(facts, foot), speeds[facts.stroked.specs[foot].gear.id]
    return computed(
        f"rise_{foot}", f"rise of `{foot}` for a turn of the drive", f"{pitch.symbol} · abs({turns.symbol})", RISE, pitch, turns
    )


def stroke(facts: Facts, corner: Corner) -> Stroke:
    """The stroke at a combination, which a fixture with a lift has."""
    held = facts.stroked.strokes[corner]
    assert held is not None
    return held


def lowest(facts: Facts, corner: Corner = MEAN, hard: bool = False) -> Number:
    """Lowest height, or that of parting."""
    held = stroke(facts, corner)
    end = held.hard_low if hard else held.low
    symbol, what = ("P_min", "lowest height before something parts or jams") if hard else ("H_min", "lowest height")
    return facts.once((symbol, corner), lambda: height(facts, corner, end.foot, end.bound, symbol, f"{what} {words_of(corner)}"))


def highest(facts: Facts, corner: Corner = MEAN, hard: bool = False) -> Number:
    """Greatest height, or that of parting."""
    held = stroke(facts, corner)
    end = held.hard_high if hard else held.high
    symbol, what = ("P_max", "greatest height before something parts or jams") if hard else ("H_max", "greatest height")
    return facts.once((symbol, corner), lambda: height(facts, corner, end.foot, end.bound, symbol, f"{what} {words_of(corner)}"))


def travel(facts: Facts, corner: Corner = MEAN, hard: bool = False) -> Number:
    """How far the board rises."""
    low, high = lowest(facts, corner, hard), highest(facts, corner, hard)
    words = f"travel {'to parting ' if hard else ''}{words_of(corner)}"
    return computed("travel", words, f"max(0, {high.symbol} − {low.symbol})", DERIVED, high, low)


def highest_reported(facts: Facts) -> Number:
    """The report's greatest height: the lowest where the ends cross."""
    low, way = lowest(facts), travel(facts)
    high = highest(facts)
    if high.value >= low.value:
        return high
    return computed("H_top", "greatest height; no travel is left", f"{low.symbol} + {way.symbol}", DERIVED, low, way)


def travel_worst(facts: Facts) -> Number:
    """The travel at the combination that leaves least."""
    return travel(facts, min(corners(), key=lambda corner: max(0.0, stroke(facts, corner).travel_mm)))


def every_sheet(facts: Facts, end: str) -> Number:
    """The highest of all lowest heights, or the lowest of all greatest ones: what every combination reaches."""
    if end == "min":
        return lowest(facts, max(corners(), key=lambda corner: stroke(facts, corner).low.height_mm))
    return highest(facts, min(corners(), key=lambda corner: stroke(facts, corner).high.height_mm))


def turns(facts: Facts, per_turn: Number) -> Number:
    """Turns of the drive for the travel."""
    way = travel(facts)
    return computed("N", "turns of the drive for the travel", f"{way.symbol} / {per_turn.symbol}", DERIVED, way, per_turn, unit="")


def per_tooth(facts: Facts, per_turn: Number) -> Number:
    """Rise for one tooth of the drive gear."""
    name = facts.derived.train.drive_gear
    assert name is not None
    z = teeth(facts, name)
    return computed("rise_tooth", "rise for a tooth of the drive gear", f"{per_turn.symbol} / {z.symbol}", DERIVED, per_turn, z)


def eighth(per_turn: Number) -> Number:
    """Rise for an eighth of a turn."""
    return computed("rise_eighth", "rise for an eighth of a turn", f"{per_turn.symbol} / 8", DERIVED, per_turn)


def raise_turns(per_turn: Number, rise_mm: float, whole: Number) -> tuple[Number, Number]:
    """(rise, turns) of a row of the table: a round step, or the whole travel."""
    last = abs(rise_mm - whole.value) < 1e-9
    step = whole if last else given("step", "rise wanted: a round step", rise_mm, source="common practice, no source")
    return step, computed("turns", "turns for it", f"{step.symbol} / {per_turn.symbol}", DERIVED, step, per_turn, unit="")


def workpiece(facts: Facts, index: int, end: str) -> Number:
    """The thinnest or thickest of a workpiece that is matched flush."""
    made = facts.design.workpieces[index]
    name = made.name.text
    riser = given(f"riser_{name}", f"riser under `{name}`", made.riser_mm, origin=made.origin)
    stated = given(
        f"{end}_{name}",
        f"{_WAYS['least' if end == 'from' else 'most']} thickness of `{name}`",
        made.least_mm if end == "from" else made.most_mm,
        origin=made.origin,
    )
    board = lowest(facts) if end == "from" else highest_reported(facts)
    pick = "max" if end == "from" else "min"
    return computed(
        f"flush_{end}",
        f"`{name}` is matched flush {end} here",
        f"{pick}({stated.symbol}, {board.symbol} − {riser.symbol})",
        DERIVED,
        stated,
        board,
        riser,
    )


def limit(facts: Facts, which: Limit, worst: bool) -> Number:
    """The extension at a limit, at mean sheets or at the worst of all combinations."""
    foot = which.parts[0]
    at_mean = _bound(facts, which, foot)
    if not worst:
        return extension(facts, MEAN, foot, at_mean)
    pick = max if which.end == "least" else min
    held = [
        (corner, bound)
        for corner in (MEAN, *corners())
        for bound in facts.stroked.cases[corner][foot].bounds
        if same_bound(bound, at_mean)
    ]
    corner, bound = pick(held, key=lambda item: item[1].at_mm)
    made = extension(facts, corner, foot, bound)
    # Combinations that end at one place are one number; the one that ends first is worked out, the others stand beside it.
    others: dict[float, tuple[Corner, Bound]] = {}
    for at, item in held:
        if abs(item.at_mm - made.value) > SAME_MM:
            others.setdefault(round(item.at_mm, 9), (at, item))
    beside = [
        given(f"e_other_{number}", f"the same limit {words_of(at)}", item.at_mm, source="worked out in the same way")
        for number, (at, item) in enumerate(others.values(), start=1)
    ]
    formula = f"{'max' if which.end == 'least' else 'min'}({', '.join(item.symbol for item in (made, *beside))})" if beside else made.symbol
    source = f"{DERIVED}: the tightest of all combinations of sheets, depths and heads"
    return computed(made.symbol + "_worst", f"{made.words} {words_of(corner)}", formula, source, made, *beside)


def _bound(facts: Facts, which: Limit, foot: str) -> Bound:
    bench = which.cause.startswith("bench")
    return next(
        bound
        for bound in facts.stroked.cases[MEAN][foot].bounds
        if bound.end == which.end and bound.hard == which.hard and abs(bound.at_mm - which.extension_mm) < 1e-9
        and (bound.cause == which.cause or (bench and bound.cause == "bench"))
    )  # fmt: skip


def lift_of(facts: Facts) -> Lift:
    """The lift of a fixture that has one."""
    lift = facts.derived.lift
    assert lift is not None
    return lift
