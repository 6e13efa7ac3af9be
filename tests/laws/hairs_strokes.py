"""Hairs of the rules of feet, their strokes, bolts and pivots. Lengths mm; z is 0 at the board's underside, up positive.

The base at mean sheets, extended by e: gears of 17.8; the head lies 5.8 deep, so the screw of 30 reaches up to 18 - e; live thread from 0 to
11. An idler hangs below a washer of 1.6 and 0.7 of play (a sleeve of 18.0 - 6.8 + 0.3 = 11.5 through 10.8 of gear): from -20.1 to -2.3.
A riding gear keeps 8.9 of face with it up to e = 20.1 - 8.9 = 11.2. Half a degree of tilt (guide block) lifts a rim of 66 by 0.576. With
washers of 1.8 the idler lies 0.2 lower and its rim droops by 66 · 0.2/10.8 = 1.222, to -21.522; the foot's pad reaches to -20.3.
"""

from __future__ import annotations

from random import Random

from tests.laws.borders import adds, swap
from tests.laws.hairs import Hair
from tests.laws.hairs_wood import INSERT, JAM, OUTLINE, ROW, SCREW, TWO_LAYERS, block
from tests.laws.violations_feet import _below as below

BOLT = "bolt ISO 4762, head recessed 9 mm"
PIN = "screw ISO 7049, head recessed 7 mm"
PAD = "pad dome, drop 3 mm"
LENGTH = "screw ISO 4017, length {v} mm, pocket 5.8 mm"
LONG_PAD = swap(PAD, "pad dome, drop 10 mm")
KEPT = (
    swap(OUTLINE, "outline rectangle 620 by 500 mm, corner_radius 12 mm")
    + swap("kind riding", "kind sliding_hex", "held_by keeper, stock ply18, outline rectangle {k} mm", "socket depth 12 mm")
    + swap(SCREW, "screw ISO 4017, length 30 mm")
    + swap(PAD, "post dome, drop 40 mm")
)
SHORT = swap(SCREW, "screw ISO 4017, length 22 mm, pocket 5.8 mm")
ROD = (
    swap("kind riding", "kind captured_nut")
    + swap(
        SCREW,
        "rod DIN 976-1, length {v} mm",
        "nut ISO 4032, pocket underside",
        "held_by keeper, stock ply18, outline rectangle 120 by 60 mm",
        "rod_stop cross_pin 3 mm",
    )
    + swap(INSERT)
    + "".join(
        f"- {line}\n"
        for line in (
            "table my_insert is insert",
            'source "measured: five of a box of fifty"',
            "columns thread, outside mm, length mm, live_from mm, live_to mm, hole mm",
            ROW,
        )
    )
)
BELOW = below(Random(0), 0).replace("length 0 mm", "length {v} mm")
SOCKET = (
    swap("kind riding", "kind sliding_hex", "socket depth {v} mm", "held_by keeper, stock ply18, outline rectangle 120 by 60 mm")
    + swap(SCREW, "screw ISO 4017, length 30 mm")
    + swap(PAD, "post dome, drop 25 mm")
)


def require(words: str) -> str:
    return adds(f"require {words}")


STROKES = (
    # L - 12 - 17.8 + 0.5 = 11.2.
    Hair("tip-through-board", "tip meets overlap: 40.5", swap(SCREW, LENGTH), "40.5", "40.49", LENGTH, ("no travel is left: ",)),
    Hair("tip-through-board", "and what is lacking", swap(SCREW, LENGTH), "40.61", "40.49", LENGTH, ("no travel is left, 0.11 mm is lacking: ",)),
    Hair("screw-bottoms", "tip meets the board above: 40.5", BELOW, "40.5", "40.49", LENGTH, ("no travel is left: ",)),
    # 8 of thread (1 d) from 0 up: L - 12 - 8 = 0.576.
    Hair("thread-leaves-insert", "20.576", LONG_PAD + swap(SCREW, LENGTH), "20.57", "20.58", LENGTH, ("no travel is left, 0.01 mm is lacking",)),
    # Threaded over 2 · 8 + 6 = 22 (ISO 4014, from memory): L - 12 - 22 = 11.2.
    Hair("shank-in-insert", "45.2", TWO_LAYERS + swap(SCREW, LENGTH.replace("4017", "4014")), "45.2", "45.19", LENGTH.replace("4017", "4014"), (
        "no travel is left: ",)),
    Hair("head-hits-board", "insert proud by 11.2", swap(INSERT, INSERT + ", proud {v} mm"), "11.2", "11.19", "foot corner", ("no travel is left: ",)),
    # The head keeps 4 mm in the socket: D - 4 = 0.
    Hair("hex-leaves-socket", "4", SOCKET, "4", "4.01", "socket depth {v} mm", ("no travel is left: ",)),
    Hair("teeth-part", "all of 17.8, at e = 2.3", LONG_PAD + swap("backlash 0.5 mm", "backlash 0.5 mm", "face_overlap {v} mm"), "17.8", "17.79",
        "gear nw, sw, ne, se", ("no travel is left: ",)),
    # Stand-offs take the thickest gear and 0.3, so the keeper's underside lies at -18.3 - 17.8; the pin of 3 stays 2 · 3 up: L - 42.1 = 0.5.
    Hair("no-stroke", "pin in its slot: 42.6", ROD, "42.6", "42.61", "rod_stop cross_pin 3 mm", ("no travel is left: ",), then="warning"),
    # 13.1: e = 7 leaves 11 of thread.
    Hair("short-engagement", "overlap of 13.1", swap("backlash 0.5 mm", "backlash 0.5 mm", "face_overlap {v} mm"), "13.09", "13.1", SCREW, (
        "hold by 10.99 mm of thread", "at least 11 mm", "ending the travel 0.01 mm earlier, at a height of 45.1 mm", "is 11 mm long")),
    # A long live thread: 1.5 · 8 = 12; e = 6.
    Hair("short-engagement", "1.5 d: overlap of 14.1", swap(ROW, "row M8, 16.0 +/- 0.1, 15, 0, 15, 13.5") + swap("backlash 0.5 mm", "backlash 0.5 mm",
        "face_overlap {v} mm"), "14.09", "14.1", SCREW, ("hold by 11.99 mm of thread", "at least 12 mm")),
    Hair("low-face-overlap", "half of 17.8", swap("backlash 0.5 mm", "backlash 0.5 mm", "face_overlap {v} mm"), "8.89", "8.9", "face_overlap {v} mm",
        ("stated is 8.89 mm; at least 8.9 mm", "`face_overlap 8.9 mm`")),
    Hair("low-face-overlap", "6 of thin gears", swap("thickness 17.8 +/- 0.2 mm", "thickness 11 +/- 0.2 mm") + swap("backlash 0.5 mm",
        "backlash 0.5 mm", "face_overlap {v} mm"), "5.99", "6", "face_overlap {v} mm", ("5.99 mm; at least 6 mm",)),
    # Driven from the topside with live thread at that end, e <= v - 5; turned round, 10.
    Hair("insert-wrong-way", "0.5 more of travel: 14.5", swap(ROW, "row M8, 16.0 +/- 0.1, 15, 0, {v}, 13.5"), "14.5", "14.51", INSERT, (
        "travel is 8.28 mm; driven from the underside it would be 8.78 mm",)),
    # 10 - 1.2222 of travel, 1.25 · 16/20 a turn; heights from 38.1 + 1.2222 to 48.1.
    Hair("require-not-met", "travel", require("travel <= {v} mm"), "8.77", "8.78", "require travel <= {v} mm", (
        "travel is 8.78 mm at mean thickness; at most 8.77 mm",)),
    Hair("require-not-met", "lift, at most", require("lift_per_turn <= {v} mm"), "0.99", "1", "require lift_per_turn <= {v} mm", (
        "lift per turn is 1 mm; at most 0.99 mm",)),
    Hair("require-not-met", "lift, at least", require("lift_per_turn >= {v} mm"), "1.01", "1", "require lift_per_turn >= {v} mm", (
        "lift per turn is 1 mm; 1.01 mm",)),
    Hair("require-not-met", "lift, less than", require("lift_per_turn < {v} mm"), "1", "1.01", "require lift_per_turn < {v} mm", (
        "less than 1 mm is required",)),
    Hair("require-not-met", "lift, more than", require("lift_per_turn > {v} mm"), "1", "0.99", "require lift_per_turn > {v} mm", (
        "more than 1 mm is required",)),
    Hair("require-not-met", "turns", require("turns_for_travel <= {v}"), "8.77", "8.78", "require turns_for_travel <= {v}", (
        "takes 8.78 turns at mean thickness; at most 8.77",)),
    Hair("workpiece-not-met", "too thick: 48.1", block("workpiece plank", "thickness 40..{v} mm"), "48.11", "48.1", "thickness 40..{v} mm", (
        "is matched flush only from 40 mm to 48.1 mm; the board stands at 39.32 mm to 48.1 mm", "a foot block of 0.01 mm under each foot"),
        inch=False),
    Hair("workpiece-not-met", "too thin: 39.3222", block("workpiece plank", "thickness {v}..45 mm"), "39.32", "39.33", "thickness {v}..45 mm", (
        "from 39.32 mm to 45 mm", "`on riser 0.01 mm`")),
    Hair("workpiece-not-met", "on a riser: 48.1 - 10", block("workpiece plank", "thickness 30..{v} mm", "on riser 10 mm"), "38.11", "38.1",
        "thickness 30..{v} mm", ("on a riser of 10 mm is matched flush only from 30 mm to 38.1 mm",), inch=False),
    # The head of ISO 4017 M8 is 5.3 high.
    Hair("gear-rubs-bench", "bare head", swap(PAD) + swap(SCREW, "screw ISO 4017, length 30 mm, pocket {v} mm"), "5.31", "5.29",
        "screw ISO 4017, length 30 mm, pocket {v} mm", ("the pocket is 5.31 mm deep, the head only 5.3 mm high", "`pad dome, drop 2.5 mm`")),
    Hair("gear-rubs-bench", "pad of 3", swap(SCREW, "screw ISO 4017, length 30 mm, pocket {v} mm"), "8.31", "8.29",
        "screw ISO 4017, length 30 mm, pocket {v} mm", ("8.31 mm deep, head and pad only 8.3 mm high", "`pad dome, drop 5.5 mm`")),
    # Half a step of the lead over 20 teeth.
    Hair("feet-rock", "0.1 for a lead of 4", adds(
        'table steep is thread\n  source "a rod"\n  columns thread, diameter mm, pitch mm\n  row M8, 8, {v}'), "4.01", "4", "foot corner", (
        "may still rock by 0.1002 mm; 0.1 mm", "by 0.2 mm")),
    # tan of the lead angle 0.08/cos 30 deg = 0.092376: p = pi (8 - 0.649519 p) 0.092376 = 1.95345.
    Hair("thread-runs-back", "1.95345", adds('table quick is thread\n  source "a rod"\n  columns thread, diameter mm, pitch mm\n  row M8, 8, {v}'),
        "1.954", "1.953", "foot corner", ("climbs at 5.28 deg, 1.954 mm a turn; less than 5.28 deg, 1.953 mm", "a friction of 0.08",
        "a lead below 1.95 mm", "above 0.080")),
)
# The drive's bolt: at most 18.0 - 8.8 of board, 0.2 of play, 1.5 of flange, 18.0 - 5.8 of gear and 4 of nut: 27.1; at least 17.6 - 9.2,
# 0.2, 1.5 and 17.6 of gear to its lower face: 27.7.
V_JAM = swap(JAM, "jam_nut ISO 4035, below gear, recessed {v} mm, round 24 mm")
V_BOLT = "bolt ISO 4762, head recessed 9 mm, length {v} mm"
V_RECESS = "bolt ISO 4762, head recessed {v} mm"
V_PIN = "screw ISO 7049, head recessed 7 mm, length {v} mm"
V_M6 = "bolt ISO 4017, head recessed 6 mm, length {v} mm"
M6 = swap("thread ST6.3", "thread M6") + swap(PIN, V_M6, "nut ISO 4032, above board, recessed 8 mm")
# The pivot's: washers of 1.8, a sleeve of 11.5 and 1.5 · 6.25 in the wood: 24.475; washers of 1.4, 11.5 and 17.6 less 1: 30.9.
BOLTS = (
    Hair("bolt-too-short", "drive: 27.1", swap(BOLT, V_BOLT), "27.09", "27.1", V_BOLT, ("is 27.09 mm long; its longest stack takes 27.1 mm",)),
    # A pivot's bolt of M6: washers of 1.4 to 1.8, a sleeve of 18.0 - 5.8 + 0.3 = 12.5, a nut of 5.2 (ISO 4032) let in by 8: 3.6 + 12.5 + 18.0
    # - 7.8 + 5.2 = 31.5 at most; 2.8 + 12.5 + 17.6 to the topside.
    Hair("bolt-too-short", "pivot's bolt: 31.5", M6, "31.49", "31.5", V_M6, ("is 31.49 mm long; its longest stack takes 31.5 mm",)),
    Hair("bolt-too-long", "pivot's bolt: 32.9", M6, "32.91", "32.9", V_M6, (
        "is 32.91 mm long; at most 32.9 mm", "the topside of `deck`")),
    Hair("bolt-too-short", "pivot: 24.475", swap(PIN, V_PIN), "24.47", "24.48", V_PIN, ("is 24.47 mm long; its longest stack takes 24.48 mm",)),
    Hair("screw-through-board", "pivot: 30.9", swap(PIN, V_PIN), "30.91", "30.9", V_PIN, (
        "is 30.91 mm long and comes within 0.99 mm of the topside; at most 30.9 mm",)),
    Hair("screw-through-board", "through: 31.9", swap(PIN, V_PIN), "31.91", "30.9", V_PIN, ("comes 0.01 mm through the topside",)),
    # 36.1 - 30 = 6.1 deep, a screw of 30 fills its nut.
    Hair("bolt-not-sold", "30 for a recess of 6.1", swap(BOLT, V_RECESS), "6.09", "6.1", "drive crank", ("between 30.01 mm and 30.61 mm long",
        "buy 35 mm and cut it to 30.5 mm"), inch=False),
    # 33.1 - j is held, 27.7 is there, and lengths are cut to 0.5: 27.5 for a recess of 5.6.
    Hair("no-bolt-fits", "no length to cut to: 5.6", V_JAM, "5.59", "5.6", "drive crank", ("27.51 mm to 27.7 mm is wanted, 25 mm, 30 mm are sold",
        "a recess 0.5 mm deeper"), inch=False),
    Hair("no-bolt-fits", "no length at all: 5.4", V_JAM, "5.39", "5.6", "drive crank", (
        "the longest stack takes 27.71 mm", "only 27.7 mm", "the underside of `hub`"), inch=False),
    Hair("pivot-clamps-gear", "0.2", swap("play 0.3 mm", "play {v} mm"), "0.19", "0.2", "play {v} mm", (
        "leaves `east` 0.19 mm of axial play at its thickest; at least 0.2 mm", "is up to 18 mm thick",
        "`play 0.2 mm`; the sleeve becomes as much longer")),
    Hair("pivot-clamps-gear", "without a sleeve", swap("sleeve outside 8 mm") + swap("play 0.3 mm", "play {v} mm"), "0.19", "0.2", "play {v} mm", (
        "at least 0.2 mm",)),
    # 0.063/18 · 17.8 · 6 = 0.3738 of swelling.
    Hair("swelling-takes-play", "0.5738", swap("play 0.3 mm", "play {v} mm"), "0.573", "0.574", "play {v} mm", ("0.573 mm of axial play; 0.574 mm",
        "by about 0.37 mm from 6 to 12 percent", "`play 0.6 mm`")),
    # 0.3 - 0.2 in 1.6051 percent.
    Hair("swelling-takes-play", "over 1.605 percent", swap("inserts guide_block", "inserts guide_block", "moisture 8..{v} percent"), "9.61", "9.6",
        "play 0.3 mm", ("from 8 to 9.61 percent",)),
    Hair("swelling-takes-play", "less is another rule's", swap("play 0.3 mm", "play {v} mm"), "0.2", "0.19", "play {v} mm", (
        "0.2 mm of axial play; 0.57 mm",)),
    # The hub is 6 · 18 = 108 across: 0.72; its nut stands out by 6.8 (ISO 4032 M8) less the recess and 0.2.
    Hair("gear-warp-rubs", "drive: 5.88", swap("nut tee_nut, above gear", "nut ISO 4032, above gear, recessed {v} mm"), "5.89", "5.88", "gear hub", (
        "`hub`, 108 mm across, clears the board by 0.71 mm; at least 0.72 mm", "0.01 mm more in all")),
    # A washer of 1.4 at the least: 210 across, 33 teeth.
    Hair("gear-warp-rubs", "pivot: 33 teeth", swap("washers ISO 7093-1 M6, above and below", "washers ISO 7093-1 M6, above")
        + "- teeth 16\n+   teeth 16\n- mesh hub\n+ gear big\n+   teeth {v}\n+   turns_on pin\n+ mesh hub\n+   with big at 90 deg\n", "34", "33",
        "gear big", ("`big`, 216 mm across, clears the board by 1.4 mm; at least 1.44 mm",)),
)
METAL = (
    # 17.6 - 15 over the insert, up to 16.1 wide about x = 75.6634; the screw of 22 stays below it.
    Hair("metal-in-cut-zone", "depth: 2.6", block("cut_zone kerf", "edge left, width 80 mm, depth {v} mm") + SHORT, "2.61", "2.6",
        "edge left, width 80 mm, depth {v} mm", (
        "the insert of `corner.nw` (and 1 more of its set) lies in the cut zone `kerf` of `deck` and has 2.6 mm of wood over it; the zone is 2.61 mm deep",
            
            
            
        "cut no deeper than 2.6 mm")),
    Hair("metal-in-cut-zone", "width: 75.6634 - 8.05", block("cut_zone kerf", "edge left, width {v} mm, depth 8 mm") + SHORT, "67.62", "67.61",
        "edge left, width {v} mm, depth 8 mm", ("move it 0.1 mm away from the edge, or make the zone 0.1 mm narrower",)),
    Hair("metal-in-cut-zone", "width from the right", block("cut_zone kerf", "edge right, width {v} mm, depth 8 mm") + SHORT, "67.62", "67.61",
        "edge right, width {v} mm, depth 8 mm", ("`corner.ne`",)),
    # 350/2 - 105.9537 - 8.05.
    Hair("metal-in-cut-zone", "width from the far edge", block("cut_zone kerf", "edge far, width {v} mm, depth 8 mm") + SHORT, "61", "60.99",
        "edge far, width {v} mm, depth 8 mm", ("`corner.ne`",)),
    Hair("metal-in-cut-zone", "width from the near edge", block("cut_zone kerf", "edge near, width {v} mm, depth 8 mm") + SHORT, "61", "60.99",
        "edge near, width {v} mm, depth 8 mm", ("`corner.se`",)),
    # 17.6 at the thinnest and 0.3 of play over the keeper.
    Hair("insert-presses-gear", "17.9", KEPT.replace("{k}", "170 by 70") + swap(INSERT, "insert my_insert, driven_from topside, flush topside")
        + swap(ROW, "row M8, 16.0 +/- 0.1, {v}, 4, {v}, 13.5"), "17.9", "17.89", "insert my_insert, driven_from topside, flush topside", (
        "hangs 0.3 mm out of `deck`", "no longer than 17.6 mm")),
    # 66 of teeth and 10 of plate on either side.
    Hair("keeper-hangs-free", "152", KEPT.replace("{k}", "{v} by 12"), "151.98", "152.02",
        "held_by keeper, stock ply18, outline rectangle {v} by 12 mm", ("reaches 9.99 mm past the teeth of `ne`; a stand-off wants 10 mm",
        "an outline of 152 mm or more one way (132 mm over the teeth and 10 mm either side)")),
)
HARDWARE = (*STROKES, *BOLTS, *METAL)
