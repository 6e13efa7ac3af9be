"""Whole fixtures that are right by construction, from a seed: layouts that clear, and lengths worked out by sums of their own.

What the sums rest on stands beside them. Errors and warnings that a check finds in one of these texts are false alarms, or this
generator is wrong; which of the two has to be decided by hand. Lengths in mm; a fixture in inches prints them converted.
"""

from __future__ import annotations

from math import hypot
from random import Random

from tests.laws.sound_choices import SPREAD_MM, Sound
from tests.laws.sound_extras import extras
from tests.laws.sound_hardware import drive, feet, pivot, tables
from tests.laws.sound_layouts import Wheel, layout


def drawn(seed: int) -> Sound:
    """The choices of a seed."""
    rng = Random(seed)
    kind = rng.choice(("riding", "riding", "captured_nut", "sliding_hex"))
    module = rng.choice((4.0, 4.0, 5.0, 6.0))
    inch = kind == "riding" and rng.random() < 0.3
    laminated = rng.random() < 0.15
    made = Sound(
        rng=rng,
        inch_hardware=inch,
        inch_units=inch or rng.random() < 0.15,
        sheet=rng.choice((17.5, 17.8, 18.0, 18.2)),
        board_layers=2 if kind == "captured_nut" or rng.random() < 0.2 else 1,
        gear_layers=2 if laminated else 1,
        kind=kind,
        layout=layout(rng, module),
        two_boards=False,
        skirt=False,
        pad_drop=rng.uniform(3, 5),
    )
    if made.layout.kind == "compound":
        made.gear_layers = 1
    made.two_boards = kind == "riding" and made.layout.kind != "compound" and made.board_layers == 1 and rng.random() < 0.2
    made.skirt = kind == "riding" and made.layout.kind != "compound" and not made.two_boards and rng.random() < 0.15
    made.pad_drop += 5 * made.skirt
    return made


def sound_text(seed: int) -> str:
    """A whole fixture. Seeds whose keepers find no room are passed on to the next of their own."""
    while True:
        made = drawn(seed)
        keepers = _keepers(made)
        if keepers is not None:
            return "\n".join(_blocks(made, keepers, seed))
        seed += 1_000_003


def _keepers(made: Sound) -> dict[str, str] | None:
    """For each foot, whether its keeper lies along x or y: clear of the teeth of all other gears and of all other keepers."""
    if made.kind == "riding":
        return {foot.name: "x" for foot in made.layout.feet}
    found: dict[str, str] = {}
    placed: list[tuple[float, float, float, float]] = []
    for foot in made.layout.feet:
        long, short = made.layout.tip(foot) + 14, 25.0
        for along, half_x, half_y in (("x", long, short), ("y", short, long)):
            box = (foot.x - half_x, foot.y - half_y, foot.x + half_x, foot.y + half_y)
            others = [wheel for wheel in made.layout.wheels if wheel is not foot]
            if all(_apart(box, wheel) > made.layout.tip(wheel) + 4 for wheel in others) and not any(
                _meet(box, old) for old in placed
            ):
                found[foot.name] = along
                placed.append(box)
                break
        else:
            return None
    return found


def _apart(box: tuple[float, float, float, float], wheel: Wheel) -> float:
    return hypot(max(box[0] - wheel.x, wheel.x - box[2], 0), max(box[1] - wheel.y, wheel.y - box[3], 0))


def _meet(one: tuple[float, float, float, float], other: tuple[float, float, float, float]) -> bool:
    return one[0] < other[2] + 4 and other[0] < one[2] + 4 and one[1] < other[3] + 4 and other[1] < one[3] + 4


def _blocks(made: Sound, keepers: dict[str, str], seed: int) -> list[str]:
    rng, plan, mm = made.rng, made.layout, made.mm
    rim = rng.uniform(20, 40)
    reach = [(w, plan.tip(w) + rim) for w in plan.wheels]
    left, low = min(w.x - r for w, r in reach), min(w.y - r for w, r in reach)
    width, depth = max(w.x + r for w, r in reach) - left, max(w.y + r for w, r in reach) - low
    for wheel in plan.wheels:
        wheel.x -= left
        wheel.y -= low
    backlash = rng.uniform(0.75, 0.85)
    cutter = min(plan.module, 6.0) if not made.inch_units else {4.0: 3.175, 5.0: 3.175, 6.0: 6.0}[plan.module]
    shop = rng.choice(("guide_block", "drill_press", "drill_press"))
    lines = [f"fixture sound{seed}"]
    if made.inch_hardware:
        lines.append("  hardware inch")
    if made.inch_units:
        lines.append("  units in")
    thickness = f"{mm(made.sheet).split()[0]} +/- {mm(SPREAD_MM)}"
    blocks = [
        "\n".join(lines) + "\n",
        f"sheet ply\n  material birch_plywood\n  thickness {thickness}\n  size {made.by(2440, 1830)}\n",
        f"cutter straight\n  diameter {mm(cutter)}\n  reach {mm(40)}\n",
        f"shop\n  hole_position +/- {mm(0.1)}\n  profile_offset +/- {mm(0.05)}\n  bore_clearance {mm(0.15)}\n  inserts {shop}\n",
        f"tooth_form teeth_form\n  module {mm(plan.module)}\n  backlash {mm(backlash)}\n",
        "default gear\n  stock ply\n  cutter straight\n  tooth_form teeth_form\n"
        + (f"  layers {made.gear_layers}\n" if made.gear_layers > 1 else "")
        + (f"  under {made.over}\n" if made.over else ""),
        f"board deck\n  stock ply\n  cutter straight\n  outline rectangle {made.by(width, depth)}\n"
        + (f"  layers {made.board_layers}\n" if made.board_layers > 1 else ""),
    ]
    if made.two_boards:
        blocks.append(
            f"board base\n  stock ply\n  cutter straight\n  outline rectangle {made.by(width, depth)}\n  under deck, centred\n"
        )
    if made.skirt:
        # 8 mm from the tips of the gears at the rim; the feet stand out below, with a pad of 8 mm or more.
        opening = made.by(width - 2 * (rim - 8), depth - 2 * (rim - 8))
        blocks.append(
            f"board skirt\n  stock ply\n  cutter straight\n  outline rectangle {made.by(width, depth)}\n  under deck, centred\n"
            f"  clear {mm(rng.uniform(0, 2))}\n"
        )
        blocks.append(f"pocket room\n  into skirt\n  outline rectangle {opening}\n  through\n  at deck.centre\n")
    sets = sorted({_foot_set(made, foot, keepers) for foot in plan.feet})
    blocks += [*_gears(made, keepers), drive(made), *pivot(made), *feet(made, sets), *tables(made)]
    blocks += extras(made, width, depth)
    head, rest = blocks[0], blocks[1:]
    if rng.random() < 0.5:
        rng.shuffle(rest)
    return [head, *rest]


def _foot_set(made: Sound, foot: Wheel, keepers: dict[str, str]) -> str:
    """Which block of feet a gear carries: by hand, since each mesh turns the direction round, and by the keeper's direction."""
    even = foot.meshes % 2 == made.layout.feet[0].meshes % 2
    return f"{'right' if even else 'left'}_{keepers[foot.name]}"


def _gears(made: Sound, keepers: dict[str, str]) -> list[str]:
    plan, blocks = made.layout, []
    for index, wheel in enumerate(plan.wheels):
        lines = [f"gear {wheel.name}", f"  teeth {wheel.teeth}"]
        if index == 0 and not plan.ring:
            lines.append(f"  at {made.on}{made.pair(wheel.x, wheel.y)}")
        held = {"drive": "turned_by crank", "idler": "turns_on pin", "shaft": f"on_shaft_with {wheel.shaft_with}, below"}
        lines.append(f"  carries {_foot_set(made, wheel, keepers)}" if wheel.role == "foot" else f"  {held[wheel.role]}")
        blocks.append("\n".join(lines) + "\n")
    if plan.ring:
        cx = sum(w.x for w in plan.wheels) / len(plan.wheels)
        cy = sum(w.y for w in plan.wheels) / len(plan.wheels)
        where = f"{made.on}{made.pair(cx, cy)}"
        blocks.append(f"ring train\n  gears {', '.join(plan.ring)}\n  around {where}\n  first_at {plan.first_at_deg:g} deg\n")
        return blocks
    meshes: dict[str, list[str]] = {}
    for wheel in plan.wheels:
        if wheel.parent:
            meshes.setdefault(wheel.parent, []).append(f"  with {wheel.name} at {wheel.angle_deg:g} deg")
    return blocks + ["\n".join([f"mesh {parent}", *lines]) + "\n" for parent, lines in meshes.items()]


def known_warnings(text: str) -> frozenset[str]:
    """Rules whose warning is earned: an idler without a sleeve turns on a bare thread."""
    return frozenset({"gear-on-thread"} if "turns_on pin" in text and "sleeve outside" not in text else ())
