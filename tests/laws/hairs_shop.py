"""Hairs of the rules of sheets, cutters, machines, heads and rims. Lengths mm; every border is worked out by hand beside its entry."""

from __future__ import annotations

from math import acos, cos, pi, tan

from tests.laws.borders import adds, swap
from tests.laws.hairs import Hair
from tests.laws.hairs_wood import INSERT, JAM, OUTLINE, ROW, SCREW, block, peg

SHEET = "size 1220 by 610 mm"
GUIDE = "inserts guide_block"
BOLT = "bolt ISO 4762, head recessed 9 mm"
PIN = "screw ISO 7049, head recessed 7 mm"
JAM_V = "jam_nut ISO 4035, below gear, recessed 6 mm, round {v} mm"
NARROW, SHORT, LARGE = "narrower-than-cutter", "cutter-too-short", "part-larger-than-sheet"
SLIDING = swap("kind riding", "kind sliding_hex", "held_by keeper, stock ply18, outline rectangle 170 by 60 mm", "socket depth 12 mm") + swap(
    "pad dome, drop 3 mm", "post dome, drop 40 mm"
)


def involute(angle: float) -> float:
    return tan(angle) - angle


def tip_land(teeth: int, module: float, backlash: float, shift: float = 0.0, mate: int = 20) -> float:
    """s_a = 2 r_a (s/(2 r) + inv a - inv a_a), s = m (pi/2 + 2 x tan a) less half the backlash on the working circle (ISO 21771, from memory).

    The working angle: inv aw = inv a + 2 x tan a / (z1 + z2).
    """
    alpha, r = pi / 9, teeth * module / 2
    ra = r + module * (1 + shift)
    wanted, low, high = involute(alpha) + 2 * shift * tan(alpha) / (teeth + mate), 0.0, 1.2
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if involute(middle) < wanted else (low, middle)
    s = module * (pi / 2 + 2 * shift * tan(alpha)) - backlash / 2 * cos(low) / cos(alpha)
    return 2 * ra * (s / (2 * r) + involute(alpha) - involute(acos(r * cos(alpha) / ra)))


def tabs(gear: str, fact: str) -> str:
    return f"- gear {gear}\n+ gear {gear}\n+   {fact}\n"


CUTTERS = (
    Hair(NARROW, "hole", peg("diameter {v} mm", "at (240, 30) mm"), "5.99", "6", "hole peg", (
        "the hole `peg` is narrower than the cutter: 5.99 mm; at least 6 mm", "state `drill 5.99 mm`, or use a cutter of 5.99 mm or less")),
    Hair(NARROW, "pocket", block("pocket slit", "into deck", "outline slot 40 by {v} mm", "depth 5 mm", "at (240, 30) mm"), "5.99", "6",
        "outline slot 40 by {v} mm", ("5.99 mm; at least 6 mm", "a cutter of 5.99 mm or less")),
    Hair(NARROW, "pocket the other way", block("pocket slit", "into deck", "outline rectangle {v} by 40 mm", "depth 5 mm", "at (240, 30) mm"), "5.99",
        "6", "outline rectangle {v} by 40 mm", ("5.99 mm; at least 6 mm",)),
    Hair(NARROW, "pocket with a cutter of its own", block("cutter slim", "diameter {v} mm") + block("pocket slit", "into deck", "cutter slim",
        "outline slot 40 by 5 mm", "depth 5 mm", "at (240, 30) mm"), "5.01", "5", "outline slot 40 by 5 mm", ("5 mm; at least 5.01 mm",)),
    # 0.05 wider than the disc.
    Hair(NARROW, "magnet", block("magnet thing", "into deck", "disc {v} by 2 mm", "at (240, 30) mm"), "5.94", "5.95", "magnet thing", (
        "5.99 mm; at least 6 mm", "use a cutter of 5.99 mm or less")),
    Hair(NARROW, "dowel that is pushed in", peg("dowel {v} mm", "fit push", "at (240, 30) mm"), "5.94", "5.95", "hole peg", ("5.99 mm; at least 6 mm",
        )),
    Hair(NARROW, "pressed", peg("dowel {v} mm", "fit press", "at (240, 30) mm"), "6.09", "6.1", "hole peg", ("5.99 mm; at least 6 mm",)),
    Hair(NARROW, "slides", peg("dowel {v} mm", "fit slide", "at (240, 30) mm"), "5.79", "5.8", "hole peg", ("5.99 mm; at least 6 mm",)),
    Hair(NARROW, "with clearance", peg("dowel {v} mm", "fit clearance", "at (240, 30) mm"), "5.49", "5.5", "hole peg", ("5.99 mm; at least 6 mm",)),
    Hair(NARROW, "spacer's bore", block("spacer shim", "stock ply18", "cutter straight6", "outline circle 30 mm", "bore {v} mm"), "5.99", "6",
        "spacer shim", ("5.99 mm; at least 6 mm",)),
    # Three quarters of 6.25 (common practice, no source).
    Hair(NARROW, "pilot hole: 4.6875", swap("drill 5 mm") + swap("diameter 6 mm", "diameter {v} mm"), "4.69", "4.68", "pivot pin", (
        "and 1 like it are narrower than the cutter: 4.688 mm; at least 4.69 mm", "state `drill 4.7 mm`")),
    Hair(SHORT, "edge of all parts: 18", swap("reach 25 mm", "reach {v} mm"), "17.99", "18", "reach {v} mm", (
        "the cutter `straight6` reaches 17.99 mm", "need up to 18 mm", "a cutter that reaches 18 mm or more")),
    Hair(SHORT, "pocket of its own", block("cutter slim", "diameter 4 mm", "reach {v} mm") + block("pocket slit", "into deck", "cutter slim",
        "outline slot 40 by 8 mm", "depth 7 mm", "at (240, 30) mm"), "6.99", "7", "reach {v} mm", ("`slit` needs up to 7 mm",
        "reaches 7 mm or more")),
    Hair(SHORT, "hole of its own, all through", block("cutter slim", "diameter 4 mm", "reach {v} mm") + peg("cutter slim", "diameter 8 mm",
        "at (240, 30) mm"), "17.99", "18", "reach {v} mm", ("`peg` needs up to 18 mm",)),
    Hair(SHORT, "hole of its own, blind", block("cutter slim", "diameter 4 mm", "reach {v} mm") + peg("cutter slim", "diameter 8 mm", "blind 9 mm",
        "at (240, 30) mm"), "8.99", "9", "reach {v} mm", ("`peg` needs up to 9 mm",)),
    Hair(SHORT, "engraving", block("cutter vee", "tip_angle 60 deg", "reach {v} mm") + block("engrave label", "into deck", "cutter vee", 'text "A"',
        "height 8 mm", "depth 2 mm", "at (240, 30) mm"), "1.99", "2", "reach {v} mm", ("`label` needs up to 2 mm",)),
    Hair("unrelieved-corner", "rectangle: half of 6", block("pocket rest", "into deck, topside",
        "outline rectangle 40 by 20 mm, corner_radius {v} mm", "depth 6 mm", "at (240, 30) mm"), "2.99", "3",
        "outline rectangle 40 by 20 mm, corner_radius {v} mm", ("stated as 2.99 mm; its cutter leaves 3 mm", "`corner_radius 3 mm`",
        "a cutter of 5.98 mm or less")),
    Hair("unrelieved-corner", "cutter of its own", block("cutter wide", "diameter {v} mm") + block("pocket rest", "into deck", "cutter wide",
        "outline polygon, corner_radius 4 mm", "point (0, 0) mm", "point (40, 0) mm", "point (40, 30) mm", "depth 6 mm", "at (240, 30) mm"), "8.02",
        "8", "outline polygon, corner_radius 4 mm", ("stated as 4 mm; its cutter leaves 4.01 mm", "a cutter of 8 mm or less")),
)
SHEETS = (
    Hair("parts-too-close", "cutter of 6", swap(SHEET, SHEET, "spacing {v} mm"), "5.99", "6", "spacing {v} mm", ("lie 5.99 mm apart", "is 6 mm wide",
        "`spacing 11 mm`")),
    Hair("parts-too-close", "the wider of two", swap(SHEET, SHEET, "spacing {v} mm") + block("cutter wide", "diameter 8 mm") + block("spacer shim",
        "stock ply18", "cutter wide", "outline circle 30 mm"), "7.99", "8", "spacing {v} mm", ("is 8 mm wide", "`spacing 13 mm`")),
    # 480 by 350 and twice 10: laid the other way a width of 370 will do.
    Hair(LARGE, "turned", swap(SHEET, "size {v} by 610 mm"), "369.99", "370", "board deck", (
        "`deck` takes 480 mm by 350 mm; the sheet `ply18` is 369.99 mm by 610 mm less an edge margin of 10 mm all round", "turned or not",
        "a sheet of at least 500 mm by 370 mm", "or `edge_margin 0 mm`")),
    Hair(LARGE, "along", swap(SHEET, "size {v} by 400 mm"), "499.99", "500", "board deck", ("turned or not",)),
    Hair(LARGE, "grain", swap(SHEET, "size {v} by 610 mm", "face_grain along x") + swap(OUTLINE, OUTLINE, "grain along x"), "499.99", "500",
        "board deck", ("with its grain as stated",)),
    Hair(LARGE, "grain across", swap(SHEET, "size {v} by 610 mm", "face_grain along y") + swap(OUTLINE, OUTLINE, "grain along x"), "369.99", "370",
        "board deck", ("with its grain as stated",)),
    Hair(LARGE, "stated margin of 15", swap(SHEET, "size {v} by 400 mm", "edge_margin 15 mm"), "509.99", "510", "board deck", (
        "less an edge margin of 15 mm", "at least 510 mm by 380 mm")),
    Hair(LARGE, "margin of 0", swap(SHEET, "size {v} by 400 mm", "edge_margin 0 mm"), "479.99", "480", "board deck", (
        "480 mm by 350 mm; the sheet `ply18` is 479.99 mm by 400 mm and it",)),
    # Tips of 20 teeth: 6 · 22 = 132, and twice 10.
    Hair(LARGE, "gears of another sheet", block("sheet small", "thickness 17.8 +/- 0.2 mm", "size {v} by 300 mm") + tabs("west, east", "stock small"),
        "151.99", "152", "gear west, east", ("takes 132 mm by 132 mm", "at least 152 mm by 152 mm"), count=2),
    # 6 · 18 = 108, and twice 10.
    Hair("part-larger-than-machine", "hub", block("machine small", "work_area {v} by 200 mm") + swap("teeth 16", "teeth 16", "machine small"),
        "127.99", "128", "machine small", (
        "`hub` takes 108 mm by 108 mm; the work area of `small` is 127.99 mm by 200 mm less an edge margin of 10 mm", "at least 128 mm by 128 mm")),
    Hair("part-larger-than-machine", "board, turned", block("machine small", "work_area {v} by 700 mm") + swap(OUTLINE, OUTLINE, "machine small"),
        "369.99", "370", "machine small", ("`deck` takes 350 mm by 480 mm",)),
    Hair("sheet-larger-than-machine", "length", block("machine small", "work_area {v} by 610 mm") + swap("teeth 16", "teeth 16", "machine small"),
        "1219.99", "1220", "work_area {v} by 610 mm", ("the sheet `ply18` is 1220 mm by 610 mm", "1219.99 mm by 610 mm")),
    Hair("sheet-larger-than-machine", "width", block("machine small", "work_area 1220 by {v} mm") + swap("teeth 16", "teeth 16", "machine small"),
        "609.99", "610", "work_area 1220 by {v} mm", ("1220 mm by 609.99 mm",)),
    Hair("thickness-not-measured", "a spread of nothing", swap("thickness 17.8 +/- 0.2 mm", "thickness 17.8 +/- {v} mm"), "0", "0.01",
        "thickness 17.8 +/- {v} mm", ("`ply18` is taken as 17.8 mm thick",)),
    # The hole is 0.15 deeper than the disc.
    Hair("magnet-proud", "stated depth", swap(GUIDE, GUIDE, "depth +/- {v} mm") + block("magnet holder", "into deck", "disc 10 by 3 mm",
        "at (240, 30) mm"), "0.16", "0.15", "magnet holder", (
        "may stand 0.01 mm proud: its hole is 0.15 mm deeper than the magnet, the shop's depth error 0.16 mm\n", "+/- 0.15 mm is enough")),
    Hair("magnet-proud", "assumed depth of 0.2", block("magnet holder", "into deck", "disc 10 by 3 mm", "at (240, 30) mm"), "", "", "magnet holder", (
        "0.05 mm proud: its hole is 0.15 mm deeper than the magnet, the shop's depth error 0.2 mm, assumed",)),
    # The tip of a tooth holds what is left of its land beside 0.2 at either end, and half the sheet's height; 17.6 is all of it.
    Hair("tab-has-no-place", "as high as the sheet", tabs("hub", "tabs 4, width 3 mm, height {v} mm"), "17.6", "17.59",
        "tabs 4, width 3 mm, height {v} mm", ("the tabs of `hub` are 17.6 mm high; its sheet is 17.6 mm at its thinnest",)),
    Hair("tab-has-no-place", f"16 teeth: {tip_land(16, 6, 0.5):.3f} - 0.4", tabs("hub", "tabs 4, width {v} mm, height 3 mm"),
        f"{tip_land(16, 6, 0.5) - 0.38:.3f}", f"{tip_land(16, 6, 0.5) - 0.41:.3f}", "tabs 4, width {v} mm, height 3 mm", (
        f"the tips of its teeth are {round(tip_land(16, 6, 0.5), 2):g} mm",)),
    Hair("tab-has-no-place", f"20 teeth: {tip_land(20, 6, 0.5):.3f} - 0.4", tabs("west, east", "tabs 4, width {v} mm, height 3 mm"),
        f"{tip_land(20, 6, 0.5) - 0.38:.3f}", f"{tip_land(20, 6, 0.5) - 0.41:.3f}", "tabs 4, width {v} mm, height 3 mm", (
        f"the tips of its teeth are {round(tip_land(20, 6, 0.5), 2):g} mm",)),
)
HEADS = (
    # 17.6 less the recess and 0.2 of its depth: 6 are left at 11.4, 0 at 17.4.
    Hair("thin-under-head", "6 mm", swap(BOLT, "bolt ISO 4762, head recessed {v} mm"), "11.41", "11.4", "bolt ISO 4762, head recessed {v} mm", (
        "5.99 mm of wood is left under the head of `crank`; at least 6 mm", "at least 17.6 mm thick", "`head recessed 11.4 mm` leaves 6 mm")),
    Hair("thin-under-head", "through", swap(BOLT, "bolt ISO 4762, head recessed {v} mm"), "17.4", "17.39", "bolt ISO 4762, head recessed {v} mm", (
        "goes through the board: 0 mm of wood is left", "`head recessed 11.4 mm`"), "error", "warning"),
    # Half of 9.8: 9.8 - 0.2 - 4.9.
    Hair("thin-under-head", "half the sheet", swap("thickness 17.8 +/- 0.2 mm", "thickness 10 +/- 0.2 mm") + swap(BOLT,
        "bolt ISO 4762, head recessed {v} mm"), "4.71", "4.7", "bolt ISO 4762, head recessed {v} mm", ("4.89 mm of wood", "at least 4.9 mm",
        "`head recessed 4.7 mm`")),
    # ISO 4762 M8: k = 8; ISO 4017: 5.45 at most (from memory); depths to 0.2.
    Hair("head-proud", "socket head", swap(BOLT, "bolt ISO 4762, head recessed {v} mm"), "8.19", "8.2", "bolt ISO 4762, head recessed {v} mm", (
        "is let in 7.99 mm at least; it is up to 8 mm high", "`head recessed 8.2 mm`")),
    Hair("head-proud", "hexagon head", swap(BOLT, "bolt ISO 4017, head recessed {v} mm"), "5.64", "5.65", "bolt ISO 4017, head recessed {v} mm", (
        "5.44 mm at least; it is up to 5.45 mm", "`head recessed 5.65 mm`")),
    Hair("head-proud", "stated depth error", swap(BOLT, "bolt ISO 4762, head recessed {v} mm") + swap(GUIDE, GUIDE, "depth +/- 0.1 mm"), "8.09",
        "8.1", "bolt ISO 4762, head recessed {v} mm", ("7.99 mm at least",)),
    # 1.35 · 13 + 1.5 = 19.05; the nut of ISO 4035 M8 is 4 high, 3 of it are wanted.
    Hair("no-room-for-spanner", "socket round a jam nut", swap(JAM, "jam_nut ISO 4035, below gear, recessed 6 mm, round {v} mm"), "19.04", "19.05",
        "jam_nut ISO 4035, below gear, recessed 6 mm, round {v} mm", (
        "the jam nut of `crank.hub` lies in a recess 19.04 mm wide; a socket spanner for 13 mm is about 19.05 mm outside, and an open one",
        "finds 0 mm of it where 3 mm is wanted",
        "a recess 19.5 mm wide or more, or a recess no deeper than 1 mm")),
    Hair("no-room-for-spanner", "open spanner", swap(JAM, "jam_nut ISO 4035, below gear, recessed {v} mm, round 18 mm"), "1.01", "1",
        "jam_nut ISO 4035, below gear, recessed {v} mm, round 18 mm", ("finds 2.99 mm of it",)),
    Hair("no-room-for-spanner", "hexagon recess", swap(JAM, "jam_nut ISO 4035, below gear, recessed {v} mm"), "1.01", "1",
        "jam_nut ISO 4035, below gear, recessed {v} mm", ("in a hexagon recess", "`round 19.5 mm`, which takes the socket spanner for 13 mm")),
    # ISO 4032 M8: 6.8 high.
    Hair("no-room-for-spanner", "another nut", swap(JAM, "jam_nut ISO 4032, below gear, recessed {v} mm, round 18 mm"), "3.81", "3.8",
        "jam_nut ISO 4032, below gear, recessed {v} mm, round 18 mm", ("no deeper than 3.8 mm",)),
    # ISO 4017 M8: 13 flats, 5.3 high; its counterbore is 15.01 + 1 wide, so only an open spanner reaches it: 5.3 - 3.
    Hair("no-room-for-spanner", "drive's hexagon head", swap(BOLT, "bolt ISO 4017, head recessed {v} mm"), "2.31", "2.3", "drive crank", (
        "the hexagon head of `crank.hub` lies in a recess 16.01 mm wide", "a head with a socket for a key, or a recess no deeper than 2.3 mm")),
    # 13 + 0.268 r + 0.1 against 14.38 - 0.3 (ISO 4017 and 4032 M8: e = 14.38): r = 3.6574.
    Hair("hex-corner-not-cut", "glued head", swap("diameter 6 mm", "diameter {v} mm"), "7.33", "7.31", "foot corner", (
        "is 14.082 mm across flats with `straight6`; 14.08 mm is the most", "a cutter of 7.3 mm or less")),
    # 0.2 of room: r = 3.2842.
    Hair("hex-corner-not-cut", "sliding head", SLIDING + swap(SCREW, "screw ISO 4017, length 30 mm") + swap("diameter 6 mm", "diameter {v} mm"),
        "6.58", "6.56", "foot corner", ("14.08 mm is the most", "a cutter of 6.5 mm or less"), "error"),
)
RIMS = (
    # Root of 16 teeth: 6 · 13.5 / 2 = 40.5; two modules are 12, or 2 at least.
    Hair("thin-gear-rim", "recess: 28.5", swap(JAM, "jam_nut ISO 4035, below gear, recessed 6 mm, round {v} mm"), "57.02", "57", JAM_V, (
        "the roots of `hub` is 11.99 mm; at least 12 mm is wanted", "a cut of 57 mm across")),
    Hair("thin-gear-rim", "recess: 38.5", swap(JAM, "jam_nut ISO 4035, below gear, recessed 6 mm, round {v} mm"), "77.02", "77", JAM_V, (
        "is 1.99 mm; at least 2 mm is required", "a cut of 57 mm across"), "error", "warning"),
    # Root of 20 teeth: 52.5 - 12.
    Hair("thin-gear-rim", "bore of two gears: 40.5", swap("turns_on pin", "turns_on pin", "bore {v} mm"), "81.02", "81", "bore {v} mm", (
        "11.99 mm; at least 12 mm is wanted; `west` too", "a cut of 81 mm across")),
    # Module 2.8: root of 20 teeth 24.5; 6 is more than 5.6.
    Hair("thin-gear-rim", "6 mm of a small module: 18.5", swap("module 6 mm", "module 2.8 mm") + swap("turns_on pin", "turns_on pin", "bore {v} mm"),
        "37.02", "37", "bore {v} mm", ("5.99 mm; at least 6 mm",)),
    # Between the ring of 6 round the washer's recess and the rim of 12 under the root of 52.5.
    Hair("thin-tooth-tip", "pointed by shift", swap("teeth 16", "teeth 16", "profile_shift {v}"), "0.6", "0.1", "profile_shift {v}", (
        "at least 1.8 mm",)),
    # 17.6 at the thinnest, 35.2 in two layers; 17.1 where a guide bore goes on from a blind hole.
    Hair("insert-breaks-through", "15 to 17.6", swap(ROW, "row M8, 16.0 +/- 0.1, {v}, 4, {v}, 13.5"), "17.61", "17.6", INSERT, (
        "takes 17.61 mm of `deck`, 17.6 mm thick at the thinnest: it stands out of the topside\n", "no longer than 17.6 mm")),
    Hair("insert-breaks-through", "two layers", swap(OUTLINE, OUTLINE, "layers 2") + swap(ROW, "row M8, 16.0 +/- 0.1, {v}, 4, {v}, 13.5"), "35.21",
        "35.2", INSERT, ("35.2 mm thick", "no longer than 35.2 mm")),
    Hair("insert-breaks-through", "less what stands proud", swap(INSERT, INSERT + ", proud {v} mm") + swap(ROW,
        "row M8, 16.0 +/- 0.1, 18.6, 4, 18.6, 13.5"), "0.99", "1", INSERT + ", proud {v} mm", ("takes 17.61 mm",)),
    Hair("insert-breaks-through", "blind over a guide bore", swap(INSERT, "insert my_insert, driven_from topside, flush topside",
        "guide clearance 0.6 mm, length 2 mm") + swap(ROW, "row M8, 16.0 +/- 0.1, {v}, 4, {v}, 13.5"), "17.11", "17.1",
        "insert my_insert, driven_from topside, flush topside", ("0.49 mm of wood is left beyond its end; at least 0.5 mm", "no longer than 17.1 mm")),
    # Twice 0.15 and half of 0.1 between dowels and holes: 0.35; the screw has half its clearance and half of 0.15 of play in its thread.
    Hair("split-between-faces", "guide bore: 0.55", swap(INSERT, "insert my_insert, driven_from topside, flush topside",
        "guide clearance {v} mm, length 2 mm"), "0.54", "0.55", "insert my_insert, driven_from topside, flush topside", (
        "they may lie 0.35 mm off each other, and the screw has 0.34 mm to either side", "a guide clearance 0.01 mm larger",
        "a hole position of +/- 0.14 mm or better")),
    Hair("split-between-faces", "stated hole position", swap(INSERT, "insert my_insert, driven_from topside, flush topside",
        "guide clearance 0.6 mm, length 2 mm") + swap(GUIDE, GUIDE, "hole_position +/- {v} mm"), "0.17", "0.16",
        "insert my_insert, driven_from topside, flush topside", ("they may lie 0.39 mm off each other, and the screw has 0.37 mm",)),
)
SHOP = (*CUTTERS, *SHEETS, *HEADS, *RIMS)
assert adds
