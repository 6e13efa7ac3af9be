"""Words for what is put to the board: gears with their feet, keepers, idlers, the drive, another board."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.model.hardware import TeeNut
from trivet.solve.assembly_step import AssemblyStep
from trivet.solve.bolt_length import stock_text
from trivet.solve.derived import PivotState
from trivet.solve.drive_stop import stop_plan
from trivet.solve.keeper_state import KeeperState
from trivet.tables.bench_step import Bench, BenchStep
from trivet.tables.bench_words import bench_step, names

# Items of a stack that are no pieces to lay on.
NOT_LAID = (
    "thread in the wood", "play", "board under the nut", "nut in the board", "board under the barrel", "thread in the tee nut",
    "head within the length",
)  # fmt: skip
LEVELS = "gears of higher levels"
# How the end nut of a stop is locked.
_LOCKING = {
    "thread_locker": "locked with thread locker (a drop on the clean thread, none near the nut that travels; no skin, aired room; let it cure)",
    "jam_nut": "locked by the third nut: hold the one and tighten the other against it",
    "cross_pin": "pinned: drill nut and bolt together once it is set, clamped, eyes guarded, and file the burrs",
}
WASHER_PLACES = {"head": "under the bolt's head", "above": "between board and gear", "below": "under the nut below the gear"}


def thread_feet(bench: Bench, step: AssemblyStep) -> Iterator[BenchStep]:
    """Riding feet, from below."""
    lift = bench.derived.lift
    details = [
        "By hand, from below: the screw must run freely through its insert. One that binds is not square or has glue in its thread."
    ]
    if lift is not None:
        details.append(
            f"In use the gap between gear and board is never less than {bench.length(max(lift.least_mm, 0.0))} and never more than "
            f"{bench.length(lift.most_mm)}: leave it between the two."
        )
    details.append("These gears have no marks: which tooth stands where is settled when the feet are set level.")
    yield BenchStep(
        step.kind,
        step.parts,
        f"Turn {names(step.gears)} with their screws into the inserts of {names(step.boards)}.",
        tuple(details),
    )


def place_gear(bench: Bench, step: AssemblyStep) -> Iterator[BenchStep]:
    """Gears that a keeper will hold."""
    details = ["With the board on its back (topside down) they lie in place; the keepers hold them afterwards."]
    details += [
        f"Between the board and {names(group)} lies a spacer ring of {gap}, fixed to the board: the gear turns under it, not in the air."
        for gap, group in bench.gaps(step.gears)
    ]
    if step.exact:
        details.append(_in_mesh(bench, step))
    yield BenchStep(step.kind, step.parts, f"Lay {names(step.gears)} on their places under {names(step.boards)}.", tuple(details))


def fit_keeper(bench: Bench, step: AssemblyStep) -> Iterator[BenchStep]:
    """Keepers with their stand-offs and screws."""
    held = {item.id: item for item in bench.derived.keepers if item.places}
    details: list[str] = []
    groups: dict[str, list[str]] = {}
    for name in step.parts:
        if name in held:
            groups.setdefault(_keeper_words(bench, held[name]), []).append(name)
    for words, parts in groups.items():
        details.append(f"{words} ({names(parts)})." if len(groups) > 1 else f"{words}.")
    loose = [name for name in step.parts if name not in held]
    if loose:
        details.append(
            f"No place is known for the screws and stand-offs of {names(loose)}: choose them so that the gear turns freely and cannot "
            "drop, clear of every tooth."
        )
    if groups:
        details.append(
            "Drive the screws by hand, crosswise, until the keeper bears on every stand-off and no further: one turned on strips its wood, "
            "and a keeper that bends clamps the gear."
        )
    details.append("Turn each gear a whole turn before the next is fixed.")
    many = "s" if len(step.parts) > 1 else ""
    yield BenchStep(step.kind, step.parts, f"Fix the keeper{many} {names(step.parts)} under {names(step.gears)}.", tuple(details))


def _keeper_words(bench: Bench, held: KeeperState) -> str:
    """Such as: four screws ISO 7049 ST4.2 x 50 mm, each through a stand-off of 18.3 mm, into pilot holes."""
    count = len(held.places)
    long = f" x {stock_text(held.screw, held.length_mm)}" if held.length_mm is not None else ""
    screws = f"{count} screws {held.screw.standard} {held.screw.thread.designation}{long}"
    high = bench.length(held.height_mm)
    stand = "sleeve" if held.stand_off.form == "sleeve" else "stack of wooden discs and shims"
    sunk = "their heads in the recesses of its underside" if held.screw.head.form == "pan" else "their heads countersunk"
    return (
        f"From below: {screws}, {sunk}, each through a {stand} {high} high, into pilot holes {bench.length(held.pilot_mm)} wide and "
        f"{bench.length(held.pilot_depth_mm)} deep; drill no deeper"
    )


def turn_in_screw(bench: Bench, step: AssemblyStep) -> Iterator[BenchStep]:
    """Sliding hexagons."""
    depth = next((bench.feet[n].foot.socket_depth for n in step.parts if bench.feet[n].foot.socket_depth is not None), None)
    hands = sorted({bench.feet[name].foot.thread.hand for name in step.parts})
    details = ["From below through keeper and gear, thread first, into the insert above; then the head slides up into its socket."]
    if depth is not None:
        details.append(f"The socket is {bench.length(depth.mm)} deep: the head must slide all the way without sticking. Wax it.")
    if len(hands) > 1:
        left = [name for name in step.parts if bench.feet[name].foot.thread.hand < 0]
        details.append(f"{names(left)} have left-hand threads: they go in anticlockwise.")
    yield BenchStep(step.kind, step.parts, f"Turn in the screws of {names(step.parts)}.", tuple(details))


def thread_rod(bench: Bench, step: AssemblyStep) -> Iterator[BenchStep]:
    """Rods through captured nuts, from above."""
    pin = next((bench.feet[n].foot.rod_stop_diameter for n in step.parts if bench.feet[n].foot.rod_stop_diameter is not None), None)
    details = ["Stand the board on an edge. The rod comes from above; turn the gear, not the rod: the rod only moves."]
    if pin is not None:
        details.append(
            f"The {bench.length(pin.mm)} cross pin sits in the rod and slides in its slot in the board, without play to spare; "
            "wax the slot."
        )
    yield BenchStep(
        step.kind,
        step.parts,
        f"Thread the rods of {names(step.parts)} down through {names(step.boards)} into their nuts.",
        tuple(details),
    )


def lay_board(bench: Bench, step: AssemblyStep) -> Iterator[BenchStep]:
    """Another board of the stack."""
    where = "onto" if step.side == "above" else "under"
    held = any(any(board in step.parts for board, _ in dowel.into) for dowel in bench.design.dowels)
    how = "It goes on over its dowels, one way only." if held else "Line it up by the bolt's hole."
    details = (how, "Clamp the boards together until the drive's bolt holds them: they are turned over on the way.")
    yield BenchStep(step.kind, step.parts, f"Lay {names(step.parts)} {where} the rest.", details)


def hang_idler(bench: Bench, step: AssemblyStep) -> Iterator[BenchStep]:
    """Idlers, each set in one step."""
    sets: dict[str, list[PivotState]] = {}
    for name in step.parts:
        sets.setdefault(bench.pivots[name].pivot.name.text, []).append(bench.pivots[name])
    for states in sets.values():
        yield _idlers(bench, step, states)


def _idlers(bench: Bench, step: AssemblyStep, states: list[PivotState]) -> BenchStep:
    pivot, first = states[0].pivot, states[0]
    stack = next((bolt.stack for bolt in bench.derived.bolts if bolt.part == first.id), ())
    shafts = {state.gear for state in states}
    gears = tuple(gear for gear in step.gears if bench.gears[gear].shaft in shafts)
    details = []
    if stack:
        from_head = [name for name, _ in stack if name not in NOT_LAID]
        gap = bench.gap(first.gear)
        named = [
            f"spacer of {gap}" if name == LEVELS else
            "gear" if name.startswith("gear above") else "sleeve with the gear on it" if name == "sleeve" else name
            for name in from_head
        ]
        last = "" if pivot.nut is None else ", and on it the tee nut" if isinstance(pivot.nut.hardware, TeeNut) else ", and on it the nut"
        if last and pivot.nut is not None and pivot.nut.recessed is not None:
            last += " in its recess"
        details.append(f"From the head upwards: {', '.join(named)}, then the board{last}.")
    play = bench.length(first.play.mean)
    range_ = (
        f" ({bench.length(first.play.least)} to {bench.length(first.play.most)} over the sheets and washers)"
        if first.play.spread > 0.01
        else ""
    )
    if pivot.sleeve_outside is not None or pivot.shoulder is not None:
        details.append(
            f"Tighten it against the sleeve: the gear keeps {play} of play along its axis{range_}. Push it up and down to feel it."
        )
    else:
        details.append(
            f"There is no sleeve to stop the screw: loose, then tight, then back by so much that a feeler of {play} goes "
            "between washer and gear."
        )
    if pivot.drill is not None and not pivot.bolt:
        details.append(
            "Turn the screw in once without the gear, so that its thread is cut; a little wax keeps it from splitting the plies."
        )
    if step.exact:
        details.append(_in_mesh(bench, step))
    marked = _marks(bench, gears)
    if marked:
        details.append(marked)
    details.append(
        "Rock it: a little play must be felt in each of its meshes."
        if step.exact
        else "Spin it: it must run on by itself for a moment."
    )
    return BenchStep(
        step.kind, tuple(s.id for s in states), f"Hang {names(gears)} on {names(s.id for s in states)}.", tuple(details)
    )


def _in_mesh(bench: Bench, step: AssemblyStep) -> str:
    """What it costs to come in with teeth in spaces."""
    mates = {
        other for mesh in bench.derived.train.meshes for one, other in ((mesh.a, mesh.b), (mesh.b, mesh.a)) if one in step.gears
    }
    feet = [state for state in bench.derived.feet if state.gear in mates]
    words = "Its teeth come into spaces of what is there already: turn the neighbours the short way, at most half a tooth."
    if feet:
        half = max(state.zero_step_mm for state in feet) / 2.0
        words += f" That moves a foot by at most {bench_step(half, bench.unit)}."
    return words


def _marks(bench: Bench, gears: tuple[str, ...]) -> str:
    """Marks stand on closed rings only, on gears that zeroing leaves as they are."""
    marked = [name for name in gears if name in bench.marked]
    if not marked:
        return ""
    return (
        f"{names(marked)}: the marks on their undersides point at each other along the line of centres; in any other place the "
        "ring does not close."
    )


def fit_drive(bench: Bench, step: AssemblyStep) -> Iterator[BenchStep]:
    """Bolt from above, gear from below, loose and then tight."""
    for name in step.parts:
        state = bench.drives[name]
        drive = state.drive
        bolt = next((bolt for bolt in bench.derived.bolts if bolt.part == name), None)
        gears = tuple(g for g in step.gears if bench.gears[g].shaft == state.gear)
        length = ""
        if bolt is not None and (mm := bolt.cut_to_mm or bolt.stated_mm or bolt.buy_mm) is not None:
            length = f" ({drive.thread.designation}, {bench.length(mm)} under the head{', cut to that' if bolt.cut_to_mm else ''})"
        reach = "With the board on its back, stand it on two battens, so that the bolt's head can be reached."
        tee = isinstance(drive.nut.hardware, TeeNut)
        nut = "tee nut in the gear" if tee else "nut"
        details = [
            f"Bolt from above through the board{length}, gear from below onto it: turn the bolt into the {nut} until the gear "
            "is drawn up to the board.",
            reach,
        ]
        places = [WASHER_PLACES[place] for place in WASHER_PLACES if place in drive.washer_places]
        if drive.washer is not None and places:
            details.insert(1, f"A washer lies {' and one '.join(places)}.")
        if gap := bench.gap(state.gear):
            details.insert(1, f"A spacer ring of {gap} lies between board and gear, fixed to the board.")
        if step.exact:
            details.append(_in_mesh(bench, step))
        play = bench.length(state.play_mm)
        if drive.jam_nut is not None:
            details.append(
                f"Loose, then tight: run the jam nut up with your fingers; turn the bolt back until a feeler of {play} goes "
                "between board and gear; hold the bolt with "
                "its key and tighten the jam nut; try the feeler again. The bolt must turn freely and not rock."
            )
        else:
            details.append(f"Leave {play} between board and gear; nothing locks the nut, so look at it now and then.")
        marked = _marks(bench, gears)
        if marked:
            details.append(marked)
        plan = stop_plan(bench.derived, state)
        if plan is not None:
            details.append(
                "The stop, last: the nut that is kept from turning, its washer, then the end nut, its upper face "
                f"{bench.length(plan.end_nut_mm)} "
                f"under the bolt's head, {_LOCKING[drive.stop_locked_by or 'thread_locker']}. "
                "Go to both ends by hand: the nut must jam a little past each, before anything else does."
            )
        if drive.brake:
            details.append("Fit the brake last and set it so that it holds the height by itself.")
        yield BenchStep(step.kind, (name,), f"Fit the drive {names((name,))} with {names(gears)}.", tuple(details))
