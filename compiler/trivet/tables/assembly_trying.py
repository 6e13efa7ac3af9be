"""Trying the train: what to turn, how long, and where it binds first."""

from __future__ import annotations

import math
from fractions import Fraction

from trivet.solve.derived import GearState, MeshState
from trivet.solve.gear_measure import span_mm, span_teeth
from trivet.tables.bench_step import Bench
from trivet.tables.bench_words import names, turns_text
from trivet.tables.prose_page import Item, Section
from trivet.tables.rows import Column, Rows

COLUMNS = (Column("it binds"), Column("most likely"), Column("where to look"), Column("test"), Column("remedy"))


def pair_turns(bench: Bench, mesh: MeshState) -> Fraction | None:
    """Drive turns until the same two teeth of a mesh meet again: z_b/gcd turns of its gear a, over that gear's speed."""
    a, b = bench.gears[mesh.a], bench.gears[mesh.b]
    if not a.speed:
        return None
    return Fraction(b.gear.z // math.gcd(a.gear.z, b.gear.z)) / a.speed


def every_pair_turns(bench: Bench) -> Fraction | None:
    """Drive turns until every mesh has met all its pairs of teeth and stands as at the start: their least common multiple."""
    found = [turns for mesh in bench.derived.train.meshes if (turns := pair_turns(bench, mesh)) is not None]
    if not found:
        return None
    return Fraction(math.lcm(*(t.numerator for t in found)), math.gcd(*(t.denominator for t in found)))


def tests(bench: Bench) -> Section:
    """A turn under the tightest mesh, then the whole of all pairs of teeth."""
    meshes = bench.derived.train.meshes
    items: list[Item] = []
    if meshes:
        tight = min(meshes, key=lambda mesh: (mesh.backlash.min_mm, mesh.backlash.nominal_mm, mesh.id))
        speed = bench.gears[tight.a].speed
        turn = f" ({_drive_turns(1.0 / float(speed))})" if speed else ""
        items.append(
            Item(
                f"One whole turn of `{tight.a}`{turn}, slowly, by hand, each way, with an ear on `{tight.a}` and `{tight.b}`: "
                "they have the least room, "
                f"{bench.length(tight.backlash.nominal_mm)} of backlash as planned.",
                ("Rock the drive at eight places: a little free play must be felt at each of them.",),
            )
        )
    whole = every_pair_turns(bench)
    lift = bench.derived.lift
    if whole is not None:
        room = ""
        if lift is not None and lift.travel_mm > 0.0:
            room = (
                ", which fits into the travel" if float(whole) <= lift.turns_for_travel
                else f"; the travel has {turns_text(round(lift.turns_for_travel, 1))}, so go up and down, which meets the same "
                    "teeth, or take the feet out and spin the train"
            )  # fmt: skip
        items.append(
            Item(
                "To be sure of all of it: every tooth has met every tooth that it can meet after "
                f"{_drive_turns(float(whole))}{room}."
            )
        )
    if lift is not None and lift.travel_mm > 0.0:
        items.append(
            Item(f"From the lowest height to the highest and back: {bench.length(lift.height_min_mm)} to "
                f"{bench.length(lift.height_max_mm)}, "
                 f"{turns_text(round(lift.turns_for_travel, 1))} turns. Measure the height at each foot at both ends; "
                 "differences that grow with the height are a wrong thread.")
        )  # fmt: skip
        ends = tuple(text for text in (lift.beyond_least, lift.beyond_most) if text)
        if ends:
            items.append(Item("Stop at both ends by feel.", ends))
    return Section("Try it", ("Before any load, and before guards or covers are on.",), tuple(items))


def first_binding(bench: Bench) -> Section:
    """How it binds says why: a table computed for this train."""
    rows: list[tuple[str, ...]] = []
    gears = [state for state in bench.derived.train.gears if state.speed]
    by_speed: dict[Fraction, list[GearState]] = {}
    for state in gears:
        assert state.speed is not None
        by_speed.setdefault(state.speed, []).append(state)
    for speed, states in sorted(by_speed.items(), reverse=True):
        rows.append(
            (_every(1 / speed), "one of these gears runs out of true",
             names(state.id for state in states), "chalk the tooth that binds; lift the gear out and put it back half a turn "
                 "on: the place goes with the gear",
             "recentre its bore, screw or sleeve; sand the tips while it spins on its own bore")
        )  # fmt: skip
    pairs: dict[Fraction, list[str]] = {}
    for mesh in bench.derived.train.meshes:
        turns = pair_turns(bench, mesh)
        if turns is not None:
            pairs.setdefault(turns, []).append(f"{mesh.a} and {mesh.b}")
    for turns, meshed in sorted(pairs.items()):
        rows.append(
            (_every(turns), "one pair of teeth: a splinter, a swollen or badly cut tooth", "; ".join(meshed),
             "chalk both teeth; the same two must meet each time", "ease both flanks with a fine file where they shine, no more")
        )  # fmt: skip
    rows += _always(bench)
    notes = (
        "Where two lines name the same number of turns, the test tells them apart: run-out moves with one gear, a pair of "
        "teeth needs both.",
        "Turn by hand only while you look for it.",
    )
    # Tables of a page have no code spans: names stand without quotes.
    plain = tuple(tuple(cell.replace("`", "") for cell in row) for row in rows)
    return Section("If it binds, and where first", (), rows=Rows("If it binds, and where first", COLUMNS, plain, notes))


def _drive_turns(turns: float) -> str:
    return "one turn of the drive" if abs(turns - 1.0) < 1e-6 else f"{turns_text(turns)} turns of the drive"


def _every(turns: Fraction) -> str:
    return "once in every turn of the drive" if turns == 1 else f"once in every {turns_text(float(turns))} turns of the drive"


def _always(bench: Bench) -> list[tuple[str, ...]]:
    rows: list[tuple[str, ...]] = []
    step = 0.005 * 25.4 if bench.unit == "in" else 0.1
    meshes = bench.derived.train.meshes
    near = [mesh for mesh in meshes if mesh.backlash.min_mm < mesh.backlash.nominal_mm]
    if near:
        tight = min(near, key=lambda mesh: (mesh.backlash.min_mm, mesh.id))
        idlers = [name for name in (tight.a, tight.b) if bench.gears[name].kind == "idler"]
        gained = bench.length(step * per_mm(tight))
        remedy = (
            f"move the pivot of {names(idlers)} away: each {bench.length(step)} gives {gained} of backlash, and takes as much "
            "from its other meshes" if idlers
            else f"these holes cannot be moved: take {bench.length(step / 2.0)} off every flank of both, which gives "
                f"{bench.length(2.0 * step / math.cos(math.radians(tight.working_pressure_angle_deg)))}"
        )  # fmt: skip
        rows.append(
            (
                "all round, in one mesh only",
                "two centres too near",
                f"{names((tight.a, tight.b))} first",
                "the readings of centres on the inspection card",
                remedy,
            )
        )
    rides = [state for state in bench.derived.feet if state.foot.kind == "riding"]
    if rides:
        tilt = bench.design.shop.insert_tilt_deg
        rows.append(
            ("more, the higher it stands", "an insert is not square: its gear leans and "
                "wanders", names(state.id for state in rides),
             f"a straight bolt in the insert against a square; the plan counts on {tilt:g} "
             "deg", "drive it again with a guide, in adhesive")
        )  # fmt: skip
        least = bench.derived.lift
        if least is not None:
            rows.append(
                ("more, the lower it stands", "a gear's rim rubs on the board, or what hangs low stands on the "
                    "bench", names(state.gear for state in rides),
                 f"look for shine on the board; the gap must be {bench.length(max(least.least_mm, 0.0))} at the lowest "
                 "height", "turn up until it is free, and keep that as the lowest height")
            )  # fmt: skip
    if bench.gears:
        first = next(iter(bench.gears.values()))
        teeth = span_teeth(first.geometry)
        rows.append(
            ("everywhere, in every mesh", "the cutter's offset left every tooth thick", "every gear",
             f"spans on the card, such as {bench.length(span_mm(first.geometry, teeth))} over {teeth} teeth of `{first.id}`",
             f"cut again {bench.length(step / 2.0)} deeper into every flank, which gives each mesh "
             f"{bench.length(2.0 * step / math.cos(first.geometry.pressure_angle_rad))}, or sand all flanks alike")
        )  # fmt: skip
    moved = max((mesh for mesh in meshes), key=lambda mesh: mesh.moisture_mm, default=None)
    shop = bench.design.shop
    much = (
        f"; the plan counts on {bench.length(moved.moisture_mm)} between `{moved.a}` and `{moved.b}`"
        if moved is not None and moved.moisture_mm > 0.001
        else ""
    )
    rows.append(
        ("overnight, or in another season", "the wood has taken up moisture: fuzz and bores more than the "
            "sheet", "bores and flanks",
         f"weigh or measure a part; the plan holds from {shop.moisture_least:g} to {shop.moisture_most:g} percent{much}",
         "let it dry slowly, ease the bores, seal them with thin shellac, wax; no film on flanks")
    )  # fmt: skip
    return rows


def per_mm(mesh: MeshState) -> float:
    """Backlash that a mm of centre distance gives: 2 tan aw + j/A, the derivative of the exact backlash."""
    aw = math.radians(mesh.working_pressure_angle_deg)
    return 2.0 * math.tan(aw) + mesh.backlash.nominal_mm / mesh.centre_distance_mm
