"""Hairs of the remaining rules: keepers, rings, webs, loads, cutters of teeth. Lengths mm; borders by hand or by the formula beside them."""

from __future__ import annotations

from math import acos, cos, pi, sin, sqrt, tan

from tests.laws.borders import swap
from tests.laws.hairs import Hair
from tests.laws.hairs_shop import involute
from tests.laws.hairs_strokes import KEPT
from tests.laws.hairs_train import A20, BIRCH, WEIGHT, kept, solved
from tests.laws.hairs_wood import ROW, SCREW, TWO_LAYERS, block

from trivet.checks._kite import kite
from trivet.checks.strikes_board_below import SKIRT

PLAY = "play 0.2 mm"
SCREWS = "keeper_screws ISO 7049 ST4.2, "
LOW = """
- gear west, east
+ gear low_w
+   teeth 17
+   on_shaft_with west, below
+ gear low_nw
+   teeth 16
+   profile_shift {v}
+   on_shaft_with nw, below
+ gear west, east
"""


def held(fact: str) -> str:
    """Kept by a plate of 170 by 70 with screws as stated."""
    return KEPT.replace("{k} mm", f"170 by 70 mm\n+   {fact}")


def fattest(teeth: int, mate: int, apart: float) -> float:
    """The largest cutter, module 6, backlash 0.5, that leaves a flank whole down to where its mate's tip begins.

    On the line of action it touches at `pull` from the base circle; its middle lies its radius farther. It fills the space between two
    flanks, tan(pull/rb + pi/z - p) = (pull + r)/rb, or stands on the root, (rf + r)^2 = rb^2 + (pull + r)^2, whichever is less.
    """
    radius, root = 3 * teeth, 3 * teeth - 7.5
    base, other, tip = radius * cos(A20), 3 * mate * cos(A20), 3 * mate + 6
    pull = apart * sin(acos((base + other) / apart)) - sqrt(tip**2 - other**2)
    half = (3 * pi - 0.25) / (2 * radius) + involute(A20)
    between = base * tan(pull / base + pi / teeth - half) - pull
    on_root = (base**2 + pull**2 - root**2) / (2 * (root - pull))
    return 2 * min(between, on_root)


def ring_arc(far: float) -> float:
    """What is left over in the ring of 20, 30, 40 and 30 teeth, module 4: the alternating sum of z phi/360 deg of its inner angles, as arc."""
    at_hub = acos((far**2 + 100**2 - 140**2) / (200 * far))
    at_last = acos((far**2 + 140**2 - 100**2) / (280 * far))
    between = 2 * pi - 2 * at_hub - 2 * at_last
    whole = (20 * 2 * at_hub + 40 * 2 * at_last - 30 * between) / (2 * pi)
    return (whole - round(whole)) * 4 * pi


def exact_kite(far: float) -> str:
    """The ring in a shop without errors."""
    reamed = 'table reamed is clearance_hole\n  source "a reamer"\n  columns thread, fine mm, medium mm, coarse mm\n  row M8, 8, 8, 8\n'
    shop = "shop\n  hole_position +/- 0 mm\n  profile_offset +/- 0 mm\n  bore_clearance 0 mm\n  moisture 8..8 percent\n"
    return kite(far) + reamed + shop


# Four meshes, half of 0.8 each.
RING = solved(lambda far: abs(ring_arc(far)) - 1.6, 200.06, 200.55)
FAT = fattest(20, 20, 120)
# 48 · face · m · Y · allowed: at the end of the travel (e = 10) 10.1 of face, Y = 0.322 of 20 teeth (Shigley, from memory), 3.0 N/mm2.
TORQUE = 48 * 10.1 * 6 * 0.322 * 3.0 / 1000
BIRCH_TORQUE = 48 * 10.1 * 6 * 0.322 * 10.7 / 1000
# Long thread: e = 20.1 - 16.4 = 3.7, so 17.9 + 3.7 stand free, 34 are engaged; root 8 - 1.226869 · 1.25; E 205,000; a quarter each.
BEND = 21.6**3 / (3 * 205000 * pi * (8 - 1.226869 * 1.25) ** 4 / 64) / 4
PUSH = (0.1 - 0.15 * 21.6 / 34) / BEND
SWAY = (
    TWO_LAYERS
    + swap(SCREW, "screw ISO 4017, length 50 mm, pocket 5.8 mm")
    + swap("pad dome, drop 3 mm", "pad dome, drop 0.6 mm")
    + swap(ROW, "row M8, 16.0 +/- 0.1, 34, 0, 34, 13.5")
    + swap("backlash 0.5 mm", "backlash 0.5 mm", "face_overlap 16.4 mm")
)
REST = (
    # 120 between the axes, 54 + 66 of tips, and 0.01 to touch.
    Hair("assembly-blocked", "tips over one another", LOW, "0.003", "0.001", "foot corner", ("`nw` would have to pass `low_w`",)),
    Hair("keeper-overlaps", "211.9074 apart", KEPT.replace("{k}", "100 by {v}"), "211.93", "211.89",
        "held_by keeper, stock ply18, outline rectangle 100 by {v} mm", ("the keeper `corner.ne.keeper` overlaps the keeper `corner.se.keeper`",
        "share 18 mm of height"), count=2),
    # Heads let in by 5 and 0.2 off; stand-offs of 18.3; 1.5 · 4.22 (ISO 1478) of thread: 18 - 4.8 + 18.3 + 6.33; 17.6 - 5.2 + 18.3 + 16.6.
    Hair("keeper-screw-unfit", "too short: 37.83", held(SCREWS + "length {v} mm, head recessed 5 mm"), "37.82", "37.83", SCREWS
        + "length {v} mm, head recessed 5 mm", ("is 37.82 mm long; at least 37.83 mm holds",)),
    Hair("keeper-screw-unfit", "too long: 47.3", held(SCREWS + "length {v} mm, head recessed 5 mm"), "47.31", "47.3", SCREWS
        + "length {v} mm, head recessed 5 mm", ("is 47.31 mm long and comes within 0.99 mm of the topside; at most 47.3 mm",)),
    Hair("keeper-screw-unfit", "wood under the head: 11.4", held(SCREWS + "length 40 mm, head recessed {v} mm"), "11.41", "11.4", SCREWS
        + "length 40 mm, head recessed {v} mm", ("5.99 mm of wood is left under the screw heads", "at least 6 mm", "`head recessed 11.4 mm`")),
    Hair("closed-ring", "what backlash takes up", exact_kite, kept(RING, 4, False), kept(RING, 3, True), "with near_two", (
        "1.6 mm is what backlash takes up",)),
    Hair("ring-out-of-phase", "what backlash takes up", exact_kite, kept(RING, 3, True), kept(RING, 4, False), "with near_two", (
        "1.6 mm is what backlash takes up",)),
    # Hub ring 9.5 + 6 round the washer's recess of 19, rim 12 under the root of 52.5: 25; six holes at 28 stand 28 apart and keep 6.
    Hair("web-finds-no-room", "six holes: 22", "- gear west, east\n+ gear west, east\n+   web holes 6, diameter {v} mm\n", "22.01", "21.99",
        "web holes 6, diameter {v} mm", ("6 holes, diameter 22.01 mm find no room in the 25 mm", "finds room")),
    Hair("web-finds-no-room", "four holes: 25", "- gear west, east\n+ gear west, east\n+   web holes 4, diameter {v} mm\n", "25.01", "24.99",
        "web holes 4, diameter {v} mm", ("in the 25 mm between hub and rim",)),
    # Washers up to 1.8 (ISO 7089 M8) and 18 - 5.8 of gear; the shank of ISO 4014 is 22 shorter than its length.
    Hair("gear-on-thread", "shank of 13, or of 18", swap("thread ST6.3", "thread M8") + swap("screw ISO 7049, head recessed 7 mm",
        "bolt ISO 4014, head recessed 6 mm, length {v} mm", "nut ISO 4032, above board, recessed 8 mm") + swap(
        "washers ISO 7093-1 M6, above and below", "washers ISO 7089, below") + swap("sleeve outside 8 mm"), "35", "40", "pivot pin", (
        "13 mm of plain shank; 14 mm would carry", "`sleeve outside 10 mm`"), inch=False),
    # The pocket's wall stands 1 mm off the tips: 2 · (164.3366 + 66 + 1).
    Hair("strikes-board-below", "1 mm sideways: 462.673", SKIRT.format("through").replace("rectangle 470 by", "rectangle {v} by"), "462.66", "462.69",
        "gear nw, sw, ne, se", (
        "`nw` stands 0.99 mm from the wall round it in `skirt`; a gap of at least 1 mm is required; so do `ne`, `se` and `sw`",
        "a cut 0.1 mm larger all round")),
    # Less than 7.838 of the hub's 16 teeth.
    Hair("cutter-too-fat", f"20 teeth: {FAT:.3f}", swap("diameter 6 mm", "diameter {v} mm"), kept(FAT, 2, True), kept(FAT, 2, False),
        "cutter straight6", ("cuts `east`, `ne`, `nw`, `se`, `sw` and `west`", f"{int(FAT * 100) / 100:g} mm or less")),
    Hair("driver-can-break-teeth", "no material", swap(PLAY, PLAY, "turned_with driver, torque {v} Nm"), f"{TORQUE * 1.0005:.4f}",
        f"{TORQUE * 0.9995:.4f}", "turned_with driver, torque {v} Nm", ("in bending; 3 N/mm2 is taken as the most", "2.8 Nm or less")),
    Hair("driver-can-break-teeth", "birch", swap(PLAY, PLAY, "turned_with driver, torque {v} Nm") + BIRCH, f"{BIRCH_TORQUE * 1.0005:.4f}",
        f"{BIRCH_TORQUE * 0.9995:.4f}", "turned_with driver, torque {v} Nm", ("in bending; 10.7 N/mm2 is taken as the most", "10.0 Nm or less")),
    Hair("screws-sway", "push along x", block("load push", "force {v} N at deck.centre, along x") + SWAY, f"{PUSH * 1.001:.3f}",
        f"{PUSH * 0.999:.3f}", "force {v} N at deck.centre, along x", ("sway by about 0.1", "of 21.6 mm of screw",
        "in 34 mm of thread with 0.15 mm of play")),
    # Both reaches: 240 - 164.3366 and 175 - 105.9537.
    Hair("tips-at", "what lifts the far feet", block("load plank", "force 60 N at deck.centre, down") + BIRCH, "", "",
        "force 60 N at deck.centre, down", ("about 20 N, tips over",
        f"under about {WEIGHT * 105.9537 / 69.0463:.0f} N pressed down 69 mm beyond them",
        f"under about {WEIGHT * 164.3366 / 75.6634:.0f} N pressed down 76 mm beyond them")),
    # 1.25 · 16/21 = 0.952, and so over 8.78 of travel.
    Hair("feet-rise-differently", "one tooth more", "- gear nw, sw, ne, se\n+ gear sw\n+   teeth {v}\n+   carries corner\n+ gear nw, ne, se\n", "21",
        "20", "teeth {v}", ("`corner.sw` moves 0.952 mm for a turn of the drive", "1 mm: 0.048 mm apart after one turn",
        "20 teeth on `sw` would make them equal")),
)
