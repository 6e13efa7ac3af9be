"""The same rules by other ways of writing: one gear's own cutter, threads of other leads, shafts, stated distances, rings, round boards."""

from __future__ import annotations

from math import cos, radians, sin, sqrt
from random import Random

from tests.laws.borders import Border, adds, swap
from tests.laws.violations_feet import INSERT, OUTLINE, ROW
from tests.laws.violations_hardware import PIN, SLEEVE, WASHERS
from tests.laws.violations_rings import KITE
from tests.laws.violations_train import FEET


def _one_gear(foot: str, *facts: str) -> str:
    rest = ", ".join(name for name in FEET if name != foot)
    return adds("\n".join((f"gear {foot}", *(f"  {fact}" for fact in facts)))) + f"- gear nw, sw, ne, se\n+ gear {rest}\n"


def _own_cutter(rng: Random, value: float) -> str:
    foot = rng.choice(sorted(FEET))
    return adds(f"cutter other\n  diameter {value} mm") + _one_gear(foot, "teeth 20", "cutter other", "carries corner")


def _shifted_few(rng: Random, value: float) -> str:
    """A shift of (17.1 - z) / 17.1 makes up for few teeth; `value` is what it falls short or exceeds."""
    teeth = rng.randint(12, 16)
    shift = (17.097 - teeth) / 17.097 - value
    return swap("teeth 16", f"teeth {teeth}", f"profile_shift {shift:.4f}")


def _reach(rng: Random, value: float) -> str:
    """Two gears whose larger one reaches `value` of a module past the smaller one's base circle, or stays as far short of it."""
    while True:
        few, many = rng.randint(10, 24), rng.randint(16, 70)
        apart, angle = (few + many) / 2, radians(20)
        limit = sqrt((many / 2 * cos(angle)) ** 2 + (apart * sin(angle)) ** 2)
        past = many / 2 + 1 - limit
        # The other way round the smaller one must stay short, or the fixture says nothing of the larger.
        if few <= many and (past > value if value > 0 else past < value) and abs(past) < 0.8:
            break
    return swap("teeth 16", f"teeth {max(few, 18)}") + _in_front(
        f"gear small\n  teeth {few}\n  turns_on pin\ngear large\n  teeth {many}\n  turns_on pin\n"
        "mesh hub\n  with small at 90 deg\nmesh small\n  with large at 90 deg"
    )


def _in_front(text: str) -> str:
    """Blocks put in front of the heading of the feet's gears."""
    return "- gear nw, sw, ne, se\n" + "".join(f"+ {line}\n" for line in text.splitlines()) + "+ gear nw, sw, ne, se\n"


def _other_lead(rng: Random, value: float) -> str:
    """M10 rises 1.5 mm a turn and M8 1.25 mm: with 24 teeth against 20 they rise alike, with other teeth they do not."""
    foot = rng.choice(sorted(FEET))
    teeth = int(value) if value < 24 else int(value) + 1
    return _wide_foot(foot, teeth)


def _wide_foot(foot: str, teeth: int) -> str:
    wide = f"foot wide\n  kind riding\n  thread M10\n  screw ISO 4017, length 35 mm, pocket 7 mm\n  pad dome, drop 3 mm\n  {INSERT}"
    row = swap(ROW, ROW, "row M10, 18.0 +/- 0.1, 15, 4, 15, 15.5")
    return adds(wide) + _one_gear(foot, f"teeth {teeth}", "carries wide") + row


def _same_lead(rng: Random, value: float) -> str:
    return _wide_foot(rng.choice(sorted(FEET)), 24)


def _one_mesh(rng: Random, value: float, thread: str = "M8") -> str:
    """A foot beside the hub, one mesh from it: the others are two meshes away and turn the other way."""
    return adds(
        f"foot other\n  like corner\n  thread {thread}\ngear middle\n  teeth 20\n  carries other\nmesh hub\n  with middle at {value} deg"
    ) + (swap(ROW, ROW, f"row {thread}, 16.0 +/- 0.1, 15, 4, 15, 13.5") if thread != "M8" else "")


def _one_mesh_left(rng: Random, value: float) -> str:
    return _one_mesh(rng, value, "M8-LH")


def _round_board(rng: Random, value: float) -> str:
    """The feet stand 195.5 mm from the middle: 195.5 + 6.75 + 16.1 = 218.4 mm of radius."""
    return swap(OUTLINE, f"outline circle {value} mm")


def _drive_gear(rng: Random, value: float) -> str:
    """The flange of the nut, 1.5 mm, holds it off the board: 225 mm of gear at most, 35 teeth."""
    return swap("teeth 16", f"teeth {int(value)}")


def _pitch(pitch: float) -> str:
    return adds(f'table odd is thread\n  source "a rod"\n  columns thread, diameter mm, pitch mm\n  row M8, 8, {pitch:.5f}')


def _meant_turns(rng: Random, value: float) -> str:
    return _pitch(value).rstrip("\n") + "\n+ require turns_for_travel <= 500\n"


def _meant_steps(rng: Random, value: float) -> str:
    return "+ require lift_per_turn <= 9 mm\n" + swap("teeth 16", f"teeth {int(value)}")


def _odd_circle(rng: Random, value: float) -> str:
    count = int(value)
    names = ["hub", *(f"g{k}" for k in range(count - 1))]
    head, _, tail = KITE.partition("gear hub")
    hardware = tail[tail.index("drive crank") :]
    gears = "gear hub\n  teeth 20\n  turned_by crank\n" + f"gear {', '.join(names[1:])}\n  teeth 20\n  turns_on pin\n"
    ring = f"ring train\n  gears {', '.join(names)}\n  around (310, 250) mm\n  first_at {rng.randint(0, 90)} deg\n"
    return head + gears + ring + hardware


def _odd_count(rng: Random, value: float) -> str:
    return _odd_circle(rng, 2 * int(value) + 1)


def _even_count(rng: Random, value: float) -> str:
    return _odd_circle(rng, 2 * int(value))


def _stated_near(rng: Random, value: float) -> str:
    """Base radii of 16 and 20 teeth: 108 cos 20 deg = 101.49 mm."""
    name, angle = rng.choice((("west", 180), ("east", 0)))
    return swap(f"with {name} at {angle} deg", f"with {name} at {angle} deg, centre_distance {value} mm")


def _far_places(rng: Random, value: float) -> str:
    """Two gears at stated places, `value` mm apart: at 112.8 mm a working depth of 1.2 modules is left."""
    return (
        adds(f"gear west\n  teeth 20\n  at ({240 - value}, 175) mm\n  turns_on pin")
        + "- gear west, east\n+ gear east\n"
        + swap("with west at 180 deg", "with west")
    )


def _crowded(rng: Random, value: float) -> str:
    """A gear of 20 teeth `value` mm beside the tips of `nw` and of `west`: 1 mm is wanted. `nw` stands at (75.66, 280.95) mm."""
    return adds(f"gear spare\n  teeth 20\n  at (75.6634, {280.9537 + 132 + value:.4f}) mm\n  turns_on pin")


def _height(rng: Random, value: float) -> str:
    """The topside stands 40 to 47 mm high."""
    return f"+ require height covers {value}..{value + 2} mm\n"


def _turns(rng: Random, value: float) -> str:
    """8 to 9.5 mm at 1 mm a turn."""
    return f"+ require turns_for_travel <= {value}\n"


def _shallow_pin(rng: Random, value: float) -> str:
    """10.8 mm of gear at a recess of 7 mm: with a screw of 25 mm in less, more comes through; 31.1 mm of stack and wood."""
    return swap(PIN, f"screw ISO 7049, head recessed {value} mm, length 32 mm")


def _pivot_bolt(rng: Random, value: float) -> str:
    """A bolt from below through gear and board: recess 6 mm, washer 1.6 mm below and above, gear 17.8, board 17.8 less the nut's recess."""
    return (
        swap("thread ST6.3", "thread M8")
        + swap(PIN, f"bolt ISO 4017, head recessed 6 mm, length {value} mm", "nut ISO 4032, above board, recessed 9 mm")
        + swap("drill 5 mm")
        + swap(WASHERS, "washers ISO 7089, above and below")
        + swap(SLEEVE, "sleeve outside 10 mm")
    )


OTHER: dict[str, tuple[Border, ...]] = {
    "cutter-too-fat": (Border(_own_cutter, (8, 12), (3, 6.9)),),
    "few-teeth": (Border(_shifted_few, (0.03, 0.25), (-0.1, -0.01)),),
    "tip-interference": (Border(_reach, (0.05, 0.3), (-0.3, -0.03)),),
    "feet-rise-differently": (Border(_other_lead, (18, 30), whole=True), Border(_same_lead, None, (0, 1))),
    "feet-turn-opposite": (Border(_one_mesh, (75, 105)), Border(_one_mesh_left, None, (75, 105))),
    "insert-near-edge": (Border(_round_board, (412, 436), (438, 600)),),
    "gear-warp-rubs": (Border(_drive_gear, (36, 60), (14, 32), whole=True),),
    "many-turns": (Border(_meant_turns, None, (0.1, 0.3)),),
    "coarse-step": (Border(_meant_steps, None, (33, 60), whole=True),),
    "odd-ring": (Border(_odd_count, (1, 4), whole=True), Border(_even_count, None, (3, 5), whole=True)),
    "meshed-too-close": (Border(_stated_near, (80, 101.4), (101.6, 112)),),
    "teeth-slip": (Border(_far_places, (113, 119), (108, 109)),),
    "gears-collide": (Border(_crowded, (-120, 0.9), (1.1, 40)),),
    "require-not-met": (Border(_height, (46, 90), (40.5, 44.5)), Border(_turns, (0.5, 7.5), (10, 40))),
    "screw-through-board": (Border(_shallow_pin, (7.7, 12), (2, 5.8)),),
    "bolt-too-long": (Border(_pivot_bolt, (44, 60), None),),
    "bolt-too-short": (Border(_pivot_bolt, (10, 33), None),),
}
