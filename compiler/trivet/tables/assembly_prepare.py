"""Words for what is done to loose boards and gears: glue, inserts, nuts, magnets, dowels, screws in gears, pads."""

from __future__ import annotations

import math
from collections.abc import Iterator

from trivet.model.hardware import TeeNut
from trivet.solve.assembly_step import AssemblyStep
from trivet.solve.derived import FootState
from trivet.tables.bench_step import Bench, BenchStep
from trivet.tables.bench_words import bench_step, names

SAME_MM = 0.005
# Where an insert's lean is looked at, mm from the board (common practice, no source).
LOOKED_AT_MM, LOOKED_AT_IN_MM = 40.0, 38.1
# Room under what stands proud while the board lies on spacers, mm (common practice, no source).
SPACER_ROOM_MM = 2.0
CURE = (
    "Let it cure as long as the adhesive's maker says before anything is turned or loaded; handling strength is not full strength."
)


def glue_layers(bench: Bench, step: AssemblyStep) -> Iterator[BenchStep]:
    """Laminated boards and gears."""
    details = [
        "Layer 1 is on top. A thin, even film; clamp flat between cauls, and wipe what comes out of bores and teeth before it sets."
    ]
    dowelled = tuple(name for name in step.gears if name in bench.dowelled)
    if dowelled:
        details.append(
            "The two dowels of a gear stand at unequal distances: the layers go together one way only. Teeth must run through "
            "without a step."
        )
    bare = tuple(name for name in step.gears if name not in bench.dowelled)
    if bare:
        details.append(
            f"{names(bare)}: there is no room for dowels. Lay the layers as their drawings show, on a pin in the bore, with"
            " pins in two opposite tooth spaces."
        )
    if any(name not in bench.gears for name in step.parts):
        details.append("Boards: line the layers up by their edges and by pins in the holes that go through both.")
    yield BenchStep(step.kind, step.parts, f"Glue the layers of {names(step.parts)} on one another.", (*details, CURE))


def drive_insert(bench: Bench, step: AssemblyStep) -> Iterator[BenchStep]:
    """Which way round, how deep, how square, and why; one step for each set."""
    sets: dict[str, list[FootState]] = {}
    for name in step.parts:
        state = bench.feet[name]
        sets.setdefault(state.foot.name.text, []).append(state)
    for states in sets.values():
        yield _insert(bench, step, states)


def _insert(bench: Bench, step: AssemblyStep, states: list[FootState]) -> BenchStep:
    first = states[0]
    use = first.foot.insert
    assert use is not None and first.insert_z_mm is not None
    board = first.foot.into.text
    under, top = bench.board_z_mm(board)
    low, high = first.insert_z_mm
    face = use.driven_from
    tee = isinstance(use.hardware, TeeNut)
    what = "tee nut" if tee else "insert"
    text = f"Drive the {what}s of {names(s.id for s in states)} into `{board}` from the {face}."
    details = []
    end, far = (top - high, low - under) if face == "topside" else (low - under, top - high)
    other = "underside" if face == "topside" else "topside"
    if tee:
        details.append(f"The flange lies on the {face} side. Pull it in with a bolt, a nut and a large washer; do not hammer it.")
    else:
        details.append(f"The end with the drive slot stays towards the {face}: that is the end whose thread is dead.")
    details.append(
        f"It is right when the driving end lies {_against(bench, end, face)} and the far end {_against(bench, far, other)}."
    )
    details.append(_why_this_way(bench, first, face))
    proud = max(-far, 0.0)
    if proud > SAME_MM:
        details.append(
            f"It comes out of the {other} by {bench.length(proud)}: lay the board on spacers of "
            f"{bench.length(proud + SPACER_ROOM_MM)} or more, "
            "clear of the holes."
        )
    details.append(_square(bench))
    details.append("Break the edge of each hole first, so that the first thread does not lift the face veneer.")
    return BenchStep(step.kind, tuple(s.id for s in states), text, tuple(details))


def _against(bench: Bench, sunk_mm: float, face: str) -> str:
    if abs(sunk_mm) <= SAME_MM:
        return f"flush with the {face}"
    return f"{bench.length(abs(sunk_mm))} {'under' if sunk_mm > 0.0 else 'out of'} the {face}"


def _why_this_way(bench: Bench, state: FootState, face: str) -> str:
    """What the other way would cost, and which way the thread pulls."""
    lift = bench.derived.lift
    # Raising turns a right-hand screw clockwise seen from above, and the insert's outside, a right-hand thread, with it.
    tightens = (face == "topside") == (state.foot.thread.hand > 0)
    pulls = (
        "raising the board tightens it"
        if tightens
        else "raising the board tends to loosen it: a drop of adhesive on its outside holds it"
    )
    why = f"Why this way round: {pulls}"
    other = state.other_way_travel_mm
    if lift is not None and other is not None and abs(other - lift.travel_mm) > 0.05:
        than = "only" if other < lift.travel_mm else "even"
        why += (
            f", and driven from the other face the travel would be {than} {bench.length(other)} instead of "
            f"{bench.length(lift.travel_mm)}"
        )
    return f"{why}."


def _square(bench: Bench) -> str:
    tilt = bench.design.shop.insert_tilt_deg
    at = LOOKED_AT_IN_MM if bench.unit == "in" else LOOKED_AT_MM
    off = at * math.tan(math.radians(tilt))
    held = (
        "Start it in the glued guide block, clamped so that the insert's end sits in its hole all round"
        if bench.helper("guide_block")
        else "Lock two nuts on a bolt against it and turn it in by hand in a drill press that is switched off, or use a guide "
        "block (`helper guide_block` draws one)"
    )
    return (
        f"{held}. The plan counts on {tilt:g} deg: a straight bolt in it may stand off square by {bench.length(off)} at "
        f"{bench.length(at)}, no more."
    )


def press_tee_nut(bench: Bench, step: AssemblyStep) -> Iterator[BenchStep]:
    """Into a gear under the board, or into a board for a pivot."""
    into = names((*step.gears, *step.boards))
    yield BenchStep(
        step.kind, step.parts, f"Pull the tee nut of {names(step.parts)} into the topside of {into}.",
        ("Its flange ends on the topside, flat on the wood; its prongs bite. Pull it in with the bolt and a large washer; do "
            "not hammer it.",
         "Wax or tape its thread first if glue is used on the barrel."),
    )  # fmt: skip


def press_nut(bench: Bench, step: AssemblyStep) -> Iterator[BenchStep]:
    """A hexagon nut into its pocket."""
    feet = [bench.feet[name] for name in step.parts if name in bench.feet]
    details = [
        "Wax the thread, then a smear of adhesive on the flats only: none may reach the thread. Draw it home with a bolt and a "
        "washer."
    ]
    if feet:
        up = step.face == "topside"
        details.append(
            f"Its pocket is open {'upwards' if up else 'downwards'}; the nut may lie under the gear's face, never out of it. "
            + ("The load pushes it up: only the adhesive holds it." if up else "The load presses it into its pocket.")
        )
    yield BenchStep(
        step.kind, step.parts, f"Glue the nut of {names(step.parts)} into the {step.face or 'underside'} of {names(step.gears)}.",
        (*details, CURE if step.needs_cure else "Let it set."),
    )  # fmt: skip


def set_magnets(bench: Bench, step: AssemblyStep) -> Iterator[BenchStep]:
    """Poles first."""
    poles = [
        f"`{magnet.name.text}`: {magnet.polarity} pole showing" for magnet in bench.design.magnets
        if magnet.polarity and any(place.id in step.parts for place in magnet.places)
    ]  # fmt: skip
    details = [
        "Mark each pole with a pen against a magnet that you know, before any glue. Roughen them, degrease them, and set them "
        "one by one."
    ]
    if poles:
        details.append("; ".join(poles) + ".")
    yield BenchStep(
        step.kind,
        step.parts,
        f"Glue the magnets {names(step.parts)} into the {step.face} of {names(step.boards)}.",
        (*details, CURE),
    )


def press_dowels(bench: Bench, step: AssemblyStep) -> Iterator[BenchStep]:
    """Into the board that holds them."""
    yield BenchStep(
        step.kind, step.parts, f"Press the dowels {names(step.parts)} into {names(step.boards)}.",
        ("Round their ends first; they must slide in the other board, so try it on before they are home.",),
    )  # fmt: skip


def join_gears(bench: Bench, step: AssemblyStep) -> Iterator[BenchStep]:
    """Gears on one shaft."""
    joint = next((item for item in bench.derived.joints if set(step.parts) & set(item.gears)), None)
    details = [
        "Both are turned as their drawings show: lay them on the two drawings with one edge line before you fix them, and "
        "pencil a line across both."
    ]
    if joint is not None and joint.form == "clamped":
        details.append("No glue: the drive's nuts clamp them. Keep their faces free of wax, and look at the pencil line now and then.")
    else:
        details.append("A thin film of glue; clamp them on their common sleeve or pin, so that the bores stay in line.")
        if joint is not None and joint.places:
            details.append(
                f"Two dowels of {bench.length(joint.dowel_mm)} go through all of them, at unequal distances from the axis: the gears go "
                "together one way only. Saw the dowels off flush when the glue has cured."
            )
        else:
            details.append("There is no room for dowels: glue alone holds them.")
        details.append(CURE)
    yield BenchStep(
        step.kind, step.parts, f"Join {names(step.parts)} face to face on one shaft, in this order from the top.", tuple(details)
    )


def glue_screw_in_gear(bench: Bench, step: AssemblyStep) -> Iterator[BenchStep]:
    """A riding foot's screw, its head in the gear's pocket."""
    sets: dict[str, list[FootState]] = {}
    for name in step.parts:
        sets.setdefault(bench.feet[name].foot.name.text, []).append(bench.feet[name])
    for states in sets.values():
        first, gears = states[0], tuple(bench.feet[s.id].gear for s in states)
        steps = int(first.zero_clockings)
        teeth = bench.gears[first.gear].gear.z
        details = [
            "Gear with its underside up, screw pushed through from there, head down in its pocket of "
            f"{bench.length(first.pocket_mm or 0.0)}; the screw is "
            f"{bench.length(first.screw_length_mm or 0.0)} long under the head."
            if first.pocket_mm and first.screw_length_mm
            else "Gear with its underside up, screw pushed through from there.",
            "Roughen and degrease the head; adhesive under the head and on its flats, none on the thread. Wipe what rises "
            "along the shank.",
            "Before it sets, stand a square against shank and gear: the gear must run true, with no more wobble at its rim "
            "than you can just see.",
        ]
        if steps > teeth:
            details.append(
                "For a finer zero leave them dry until the feet are level: a head that can be turned in its pocket by a sixth "
                f"has {steps} places in a turn, "
                f"{bench_step(first.lead_mm / steps, bench.unit)} apart, where the {teeth} teeth alone have "
                f"{bench_step(first.zero_step_mm, bench.unit)}."
            )
        yield BenchStep(
            step.kind,
            tuple(s.id for s in states),
            f"Glue the screws of {names(s.id for s in states)} into {names(gears)}.",
            (*details, CURE),
        )


def fit_pad(bench: Bench, step: AssemblyStep) -> Iterator[BenchStep]:
    """Pads and posts, by kind."""
    sets: dict[str, list[FootState]] = {}
    for name in step.parts:
        sets.setdefault(bench.feet[name].foot.name.text, []).append(bench.feet[name])
    for states in sets.values():
        foot = states[0].foot
        part = "post" if foot.kind == "sliding_hex" else "pad"
        under = "rod's end" if foot.kind == "captured_nut" else "head"
        drop = f" of {bench.length(foot.pad.drop.mm)}" if foot.pad.drop is not None else ""
        details = [
            f"Each must stand in the middle of its {under}: one that is off centre lets the board walk and rock once in a turn."
        ]
        if foot.pad.kind != "swivel":
            details.append(f"Glue it, all {part}s to one height. {CURE}")
        yield BenchStep(
            step.kind,
            tuple(s.id for s in states),
            f"Put a {foot.pad.kind} {part}{drop} on the {under} of {names(s.id for s in states)}.",
            tuple(details),
        )
