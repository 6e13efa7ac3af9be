"""Violations of the rules of feet, their strokes, keepers, inserts and loads. Where a border lies is worked out beside each entry.

The base: boards and gears of 17.8 +/- 0.2 mm, M8 screws of 30 mm whose heads lie 5.8 mm deep, so 18 mm stand out; the live thread of
the insert is the lower 11 mm of 15 mm. The feet stand 240 sin 62 deg = 211.9 mm apart along y, 328.7 mm along x.
"""

from __future__ import annotations

from random import Random

from tests.laws.borders import Border, adds, swap

SCREW = "screw ISO 4017, length 30 mm, pocket 5.8 mm"
INSERT = "insert my_insert, driven_from topside, flush underside"
PAD = "pad dome, drop 3 mm"
ROW = "row M8, 16.0 +/- 0.1, 15, 4, 15, 13.5"
OUTLINE = "outline rectangle 480 by 350 mm, corner_radius 12 mm"
SHEET = "size 1220 by 610 mm"
NO_TABLE = (
    "- table my_insert is insert\n"
    '- source "measured: five of a box of fifty"\n'
    "- columns thread, outside mm, length mm, live_from mm, live_to mm, hole mm\n"
    f"- {ROW}\n"
)


def _screw(rng: Random, value: float) -> str:
    return swap(SCREW, f"screw ISO 4017, length {value} mm, pocket 5.8 mm")


def _two_layers(rng: Random, value: float) -> str:
    """A screw of ISO 4014 of M8 has 22 mm of thread; 12 mm of the rest lie in the gear, whose travel ends before 12 mm."""
    return swap(SCREW, f"screw ISO 4014, length {5 * int(value)} mm, pocket 5.8 mm") + swap(OUTLINE, OUTLINE, "layers 2")


def _below(rng: Random, value: float) -> str:
    """A second board over the one that the feet act on. The tip would be 18 mm up with a screw of 30 mm, under 17.8 mm of board."""
    return (
        adds(
            "board lower\n  stock ply18\n  cutter straight6\n  outline rectangle 480 by 350 mm\n  under deck, centred\ndefault gear\n  under lower"
        )
        + swap("kind riding", "kind riding", "into lower")
        + swap("bolt ISO 4762, head recessed 9 mm", "bolt ISO 4762, head recessed 9.2 mm")
        + _screw(rng, value)
    )


def _climber(rng: Random, value: float) -> str:
    """The idlers ride threads of the other hand and move with the feet, so they lose what they begin lower than the feet do."""
    return (
        adds(f"foot climber\n  kind riding\n  thread M8-LH\n  {SCREW}\n  {INSERT}\n  climbs from {value} mm")
        + swap("turns_on pin", "carries climber")
        + swap(ROW, ROW, "row M8-LH, 16.0 +/- 0.1, 15, 4, 15, 13.5")
    )


def _same_hand(rng: Random, value: float) -> str:
    return adds(f"foot climber\n  kind riding\n  thread M8\n  {SCREW}\n  {INSERT}\n  climbs from {value} mm") + swap(
        "turns_on pin", "carries climber"
    )


def _threads(starts: bool) -> Border:
    """Half a step of the lead over 20 teeth is more than 0.1 mm from a lead of 4 mm on."""

    def make(rng: Random, value: float) -> str:
        count = rng.randint(1, 4)
        return adds(
            f'table steep is thread\n  source "a rod, from its label"\n  columns thread, diameter mm, pitch mm, starts\n'
            f"  row M8, 8, {value / count:.6f}, {count}"
        )

    return Border(make, (4.05, 9), (0.5, 3.95))


def _lead_angle(rng: Random, value: float) -> str:
    """Lead over pi d2 against tan of the page's angle, 0.08 / cos 30 deg; d2 = d - 0.6495 p. `value` is the share of the border."""
    pitch, starts = rng.uniform(0.5, 2), rng.randint(1, 6)
    while not 0.97 < (lead := _border_lead(pitch)) * value / starts / pitch < 1.03:
        pitch, starts = rng.uniform(0.3, 2.2), rng.randint(1, 6)
    pitch = lead * value / starts
    return adds(
        'table quick is thread\n  source "a rod"\n  columns thread, diameter mm, pitch mm, starts\n'
        f"  row M8, 8, {pitch:.6f}, {starts}"
    )


def _border_lead(pitch: float) -> float:
    return 3.14159265 * (8 - 0.6495 * pitch) * 0.08 / 0.8660254


def _pitch(rng: Random, value: float) -> str:
    return adds(f'table fine is thread\n  source "a tap"\n  columns thread, diameter mm, pitch mm\n  row M8, 8, {value}')


def _flange(face: str) -> Border:
    def make(rng: Random, value: float) -> str:
        length = rng.choice((30, 35, 40))
        return (
            swap(INSERT, f"insert tee_nut, driven_from {face}")
            + swap(SCREW, f"screw ISO 4017, length {length} mm, pocket 5.8 mm")
            + NO_TABLE
        )

    return Border(make, (0, 1), None) if face == "topside" else Border(make, None, (0, 1))


def _bare_head(rng: Random, value: float) -> str:
    """Without a pad the head of 5.3 mm lies within its gear when its pocket is deeper."""
    return swap(PAD) + swap(SCREW, f"screw ISO 4017, length 30 mm, pocket {value} mm")


def _short_pad(rng: Random, value: float) -> str:
    """`value`: how far pad and head stand out of the gear."""
    pocket = rng.uniform(8, 11)
    return swap(SCREW, f"screw ISO 4017, length 30 mm, pocket {pocket:.3f} mm") + swap(
        PAD, f"pad dome, drop {pocket - 5.3 + value:.3f} mm"
    )


def _sliding(rng: Random, value: float) -> str:
    """A screw that stands 16 mm out of its gear, whatever the depth of the socket."""
    return (
        swap("kind riding", "kind sliding_hex")
        + swap(SCREW, f"screw ISO 4017, length {17.8 - value + 16:.2f} mm", f"socket depth {value} mm")
        + swap(PAD, "post dome, drop 35 mm", "held_by keeper, stock ply18, outline rectangle 170 by 60 mm")
    )


def _captured(rng: Random, value: float) -> str:
    return (
        swap("kind riding", "kind captured_nut")
        + swap(
            SCREW,
            f"rod DIN 976-1, length {value} mm",
            "nut ISO 4032, pocket underside",
            "held_by keeper, stock ply18, outline rectangle 170 by 60 mm",
            "rod_stop cross_pin 3 mm",
        )
        + swap(INSERT)
        + NO_TABLE
    )


def _nut_up(rng: Random, value: float) -> str:
    return _captured(rng, value).replace("pocket underside", "pocket topside")


def _row(rng: Random, value: float) -> str:
    return swap(ROW, f"row M8, 16.0 +/- 0.1, {value}, 4, {value}, 13.5")


def _board(rng: Random, value: float) -> str:
    """The hole of 13.5 mm stands (depth - 211.9) / 2 mm from the edge; 16.1 mm of wood are wanted: 257.6 mm."""
    return swap(OUTLINE, f"outline rectangle 480 by {value} mm, corner_radius 12 mm")


def _narrow(rng: Random, value: float) -> str:
    """The same along x: 328.7 + 13.5 + 2 · 16.1 = 374.4 mm."""
    return swap(OUTLINE, f"outline rectangle {value} by 350 mm, corner_radius 12 mm")


def _turned(rng: Random, value: float) -> str:
    return swap(INSERT, f"insert my_insert, driven_from underside, flush {rng.choice(('underside', 'topside'))}")


def _dead_end(rng: Random, value: float) -> str:
    """Driven from the topside with its live thread at that end: turned round, it would give more travel."""
    return swap(ROW, f"row M8, 16.0 +/- 0.1, 15, 0, {value}, 13.5")


def _load(rng: Random, value: float, place: str, way: str) -> str:
    return adds(f"load force_{rng.randint(1, 9)}\n  force {value} N at {place}, {way}") + swap(
        SHEET, SHEET, "material birch_plywood"
    )


def _at_centre(rng: Random, value: float) -> str:
    return _load(rng, value, "deck.centre", "down")


def _outside(rng: Random, value: float) -> str:
    """The feet's lines are at x = 75.7 and 404.3, y = 69 and 281 mm; the board of 2.0 kg and its gears weigh against a hand at the rim."""
    return _load(rng, value, rng.choice(("(470, 175) mm", "(8, 160) mm", "(240, 5) mm", "(230, 344) mm")), "down")


def _pushed(rng: Random, value: float) -> str:
    return _load(rng, value, "deck.centre", f"along {rng.choice('xy')}")


def _no_load(rng: Random, value: float) -> str:
    return swap(SHEET, f"size 1220 by {value} mm")


def _overlap(rng: Random, value: float) -> str:
    return swap("backlash 0.5 mm", "backlash 0.5 mm", f"face_overlap {value} mm")


def _low_teeth(rng: Random, value: float) -> str:
    return _overlap(rng, value) + swap(PAD, "pad dome, drop 1 mm")


def _workpiece(rng: Random, value: float) -> str:
    return adds(f"workpiece plank\n  thickness {value:.3f}..{value + rng.uniform(0.5, 3):.3f} mm")


def _fitting_workpiece(rng: Random, value: float) -> str:
    """The topside stands 40 to 47 mm above the bench, as the example of the same sizes requires."""
    riser = rng.uniform(5, 30)
    return adds(f"workpiece plank\n  thickness {value - riser:.3f}..{value - riser + 1:.3f} mm\n  on riser {riser:.3f} mm")


def _require(rng: Random, value: float) -> str:
    """`value` times what holds: a lift of 1.25 mm · 16/20 = 1 mm per turn, and at least 8 mm, but not 9 mm, of travel."""
    if rng.random() < 0.5:
        return f"+ require lift_per_turn >= {value} mm\n"
    return f"+ require travel >= {8.5 * value:.3f} mm\n"


def _no_feet(rng: Random, value: float) -> str:
    words = rng.choice(("travel >= 8 mm", "height covers 40..45 mm", "lift_per_turn >= 1 mm", "turns_for_travel <= 12"))
    return f"+ require {words}\n" + swap("carries corner", "turns_on pin")


def _with_feet(rng: Random, value: float) -> str:
    return "+ require " + rng.choice(("travel >= 8 mm", "lift_per_turn >= 1 mm", "turns_for_travel <= 12")) + "\n"


FEET_RULES: dict[str, tuple[Border, ...]] = {
    "board-sags": (Border(_at_centre, (500, 3000), (2, 20)),),
    # Begun 3 mm lower and more its teeth never share the face that is wanted: `no-stroke`.
    "climber-shortens-travel": (Border(_climber, (1.8, 2.6), (0.6, 1.1)), Border(_same_hand, (5, 9))),
    "feet-rock": (_threads(True),),
    "thread-runs-back": (Border(_lead_angle, (1.02, 2.5), (0.3, 0.98)),),
    # 30 turns of 0.8 pitch: 8 to 9 mm of travel need a pitch of 0.33 to 0.38 mm.
    "many-turns": (Border(_pitch, (0.1, 0.32), (0.42, 1.25)),),
    "flange-lifts-off": (_flange("topside"), _flange("underside")),
    "gear-rubs-bench": (Border(_bare_head, (5.5, 9), (1, 5.1)), Border(_short_pad, (-2.5, -0.1), (0.2, 4))),
    # The travel ends before 12 mm: an insert that stands out as far takes all of it.
    "head-hits-board": (Border(lambda r, v: swap(INSERT, f"{INSERT}, proud {v} mm"), (12, 30), (0.1, 5)),),
    # 3.2 mm of the head of 5.3 mm have to stay in, or 4 mm: a shallower socket has no travel.
    "hex-leaves-socket": (Border(_sliding, (1, 4), (12, 15)),),
    "insert-breaks-through": (Border(_row, (17.65, 25), (14, 17.6)),),
    "insert-near-edge": (Border(_board, (226, 257), (258, 400)), Border(_narrow, (343, 374), (375, 500))),
    "insert-wrong-way": (Border(_turned, (0, 1)), Border(_dead_end, (9, 12)), Border(_row, None, (14, 17))),
    "jam-nut-may-slip": (Border(_at_centre, (400, 3000), (2, 60)),),
    "load-tips-board": (Border(_outside, (150, 2000), (1, 12)),),
    "tips-at": (Border(_at_centre, (1, 2000)), Border(_no_load, None, (500, 900))),
    "screws-sway": (Border(_pushed, (0.5, 1000)), Border(_at_centre, None, (1, 500))),
    # Half of 17.8 mm is 8.9 mm.
    "low-face-overlap": (Border(_overlap, (0.5, 8.7), (9, 14)),),
    "teeth-part": (Border(_low_teeth, (17.7, 25), (9, 13)),),
    # 18 mm less the extension, against 1.5 · 8 mm and the 11 mm of live thread: an end of the travel before 6 or after 7 mm.
    "short-engagement": (Border(_overlap, (6, 9), (13.5, 15)),),
    "nut-pushed-out": (Border(_nut_up, (45, 90)), Border(_captured, None, (45, 90))),
    "no-stroke": (Border(_captured, (8, 18), (50, 90)),),
    # The travel ends before 11 mm, where the teeth part: a tip 11 mm higher than the topside, 41 mm of screw.
    "screw-bottoms": (Border(_below, (44, 80), (25, 37)),),
    "tip-through-board": (Border(_screw, (44, 80), (25, 37)),),
    "shank-in-insert": (Border(_two_layers, (10, 16), (5, 7), whole=True),),
    # Out of the gear stand 12 mm less; one diameter has to hold.
    "thread-leaves-insert": (Border(_screw, (13, 20), (24, 30)),),
    "workpiece-not-met": (
        Border(_workpiece, (5, 35), None),
        Border(_workpiece, (48, 90), None),
        Border(_fitting_workpiece, None, (41, 45)),
    ),
    "require-not-met": (Border(_require, (1.06, 5), (0.2, 0.94)),),
    "require-not-run": (Border(_no_feet, (0, 1)), Border(_with_feet, None, (0, 1))),
}
