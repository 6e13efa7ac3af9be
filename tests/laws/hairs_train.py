"""Hairs of the rules of the gear train. Lengths mm; every border is worked out by hand or by the formula beside its entry."""

from __future__ import annotations

from collections.abc import Callable
from math import acos, asin, cos, degrees, floor, hypot, pi, sin, sqrt, tan

from tests.laws.borders import adds, swap
from tests.laws.hairs import Hair
from tests.laws.hairs_shop import involute, tip_land
from tests.laws.hairs_wood import OUTLINE, SCREW, block

from trivet.checks._examples import BASE

A20 = pi / 9
MESH_W, MESH_E = "with west at 180 deg", "with east at 0 deg"
NO_ERRORS = "- inserts guide_block\n" + "".join(
    f"+   {fact}\n"
    for fact in (
        "hole_position +/- {h} mm",
        "profile_offset +/- {q} mm",
        "bore_clearance 0 mm",
        "inserts {t} deg",
        "moisture 8..8 percent",
    )
)
# A hole in which the drive's bolt has no play.
REAMED = block("table reamed is clearance_hole", 'source "a reamer"', "columns thread, fine mm, medium mm, coarse mm", "row M8, 8, 8, 8")


def errors(hole: str = "0", profile: str = "0", tilt: str = "0") -> str:
    """An edit: a shop without errors but these."""
    return REAMED + NO_ERRORS.replace("{h}", hole).replace("{q}", profile).replace("{t}", tilt)


def solved(function: Callable[[float], float], low: float, high: float) -> float:
    """Where a function that changes sign is nought, by halving."""
    rising = function(high) > 0
    for _ in range(80):
        middle = (low + high) / 2
        low, high = (low, middle) if (function(middle) > 0) == rising else (middle, high)
    return (low + high) / 2


def contact_ratio(z: tuple[int, int], module: float, apart: float) -> float:
    """(sqrt(ra1^2 - rb1^2) + sqrt(ra2^2 - rb2^2) - A sin aw) / (pi m cos a) (ISO 21771, from memory)."""
    bases, tips = [module * n / 2 * cos(A20) for n in z], [module * (n / 2 + 1) for n in z]
    working = acos(sum(bases) / apart)
    path = sum(sqrt(tip**2 - base**2) for tip, base in zip(tips, bases, strict=True)) - apart * sin(working)
    return path / (pi * module * cos(A20))


def dug_radius(z: tuple[int, int], module: float, apart: float) -> float:
    """The most that the tips of the second gear may reach: sqrt(rb^2 + (A sin aw)^2)."""
    bases = [module * n / 2 * cos(A20) for n in z]
    return hypot(bases[1], apart * sin(acos(sum(bases) / apart)))


def nearer_binds(backlash: float, apart: float, hole: float) -> float:
    """Backlash of two gears whose axes are both `hole` nearer, exactly: normal backlash less 2 A cos a (inv a - inv a')."""
    at = acos(apart * cos(A20) / (apart - 2 * hole))
    return backlash * cos(A20) - 2 * apart * cos(A20) * (involute(A20) - involute(at))


def kept(value: float, digits: int, up: bool) -> str:
    """A number a step over or under."""
    step = 10.0**-digits
    return f"{round(value / step) * step + (step if up else -step):.{digits}f}"


# One gear with a form of its own.
OTHER = """
- gear nw, sw, ne, se
+ tooth_form other
+   {facts}
+   backlash 0.5 mm
+ gear se
+   teeth 20
+   tooth_form other
+   carries corner
+ gear nw, sw, ne
"""
TEETH = (
    # 2 / sin^2 20 deg = 17.097 (SDP/SI, T-36).
    Hair("few-teeth", "17 and 18", swap("teeth 16", "teeth {v}"), "17", "18", "teeth {v}", (
        "`hub` has 17 teeth; a generated gear of this form needs 17.1", "18 teeth, or `profile_shift 0.01`")),
    # 1 - 16/17.097 = 0.06418.
    Hair("few-teeth", "shift of 0.0642", swap("teeth 16", "teeth 16", "profile_shift {v}"), "0.0641", "0.0642", "teeth 16", ("`profile_shift 0.07`",)),
    # 2 / sin^2 25 deg = 11.198.
    Hair("few-teeth", "25 deg: 11.2", swap("backlash 0.5 mm", "backlash 0.5 mm", "pressure_angle 25 deg") + swap("teeth 16", "teeth {v}"), "11", "12",
        "teeth {v}", ("needs 11.2", "12 teeth")),
    Hair("loose-mesh", "a fifth of 6", swap("backlash 0.5 mm", "backlash {v} mm"), "1.21", "1.2", MESH_E, (
        "mesh with 1.21 mm of backlash; 1.2 mm is a fifth of the module, 5 other meshes also over it", "states 1.21 mm", "`backlash 1.2 mm`")),
    Hair("loose-mesh", "a fifth of 5", swap("module 6 mm", "module 5 mm") + swap("backlash 0.5 mm", "backlash {v} mm"), "1.01", "1", MESH_E, (
        "1 mm is a fifth",)),
    # 1.25 · 32/20 / 8 = 0.25.
    Hair("coarse-step", "32 and 33 teeth", swap("teeth 16", "teeth {v}"), "33", "32", "turned_by crank", (
        "an eighth of a turn of `crank` raises the board by 0.26 mm; 0.25 mm", "`hub` with 32 teeth or fewer")),
    Hair("coarse-step", "lead of 2.5", adds('table t is thread\n  source "a rod"\n  columns thread, diameter mm, pitch mm\n  row M8, 8, {v}'), "2.51",
        "2.5", "turned_by crank", ("0.251 mm; 0.25 mm", "`hub` with 15 teeth or fewer")),
    # Rise 1 mm at 16 teeth and a lead of 1.25; 8.7778 of travel in 30 turns: a lead of 0.36574.
    Hair("many-turns", "30 turns", adds('table t is thread\n  source "a rod"\n  columns thread, diameter mm, pitch mm\n  row M8, 8, {v}'), "0.3657",
        "0.3658", "turned_by crank", ("the travel of 8.78 mm takes 30.0 turns of `crank`; more than 30", "`hub` with 17 teeth or more")),
    Hair("meshed-gears-differ", "module, to 1 in 100,000",
        OTHER.replace("{facts}", "module {v} mm"),
        "6.00007", "6.00005", "with se at 298 deg", ("`east` has module 6 mm, `se`, in mesh with it, 6.0001 mm",)),
    Hair("meshed-gears-differ", "pressure angle",
        OTHER.replace("{facts}", "module 6 mm\n+   pressure_angle {v} deg"),
        "20.001", "20.0001", "with se at 298 deg", ("a pressure angle of 20 deg, `se`, in mesh with it, 20.001 deg",)),
    # The land of 16 teeth is 0.3 · 6 = 1.8 thick at this shift, and 1 mm is more than 0.3 · 3.
    Hair("thin-tooth-tip", "0.3 modules", lambda x: swap("teeth 16", "teeth 16", f"profile_shift {x}"), kept(solved(lambda x: tip_land(16, 6, 0.5,
        x) - 1.8, 0, 1), 3, True), kept(solved(lambda x: tip_land(16, 6, 0.5, x) - 1.8, 0, 1), 3, False), "profile_shift {v}", (
        "at least 1.8 mm is wanted",)),
    Hair("thin-tooth-tip", "1 mm", lambda x: swap("module 6 mm", "module 3 mm") + swap("teeth 16", "teeth 16", f"profile_shift {x}"), kept(solved(
        lambda x: tip_land(16, 3, 0.5, x) - 1, 0, 1), 3, True), kept(solved(lambda x: tip_land(16, 3, 0.5, x) - 1, 0, 1), 3, False),
        "profile_shift {v}", ("at least 1 mm is wanted",)),
)
# The nearest that base circles allow: 48 cos 20 deg + 60 cos 20 deg = 101.4868.
WIDEST = solved(lambda a: contact_ratio((20, 20), 6, a) - 1.2, 120, 130)
DISTANCES = (
    Hair("meshed-too-close", "base circles", swap(MESH_W, f"{MESH_W}, centre_distance {{v}} mm"), "101.48", "101.49",
        f"{MESH_W}, centre_distance {{v}} mm", ("101.48 mm", "101.49 mm")),
    Hair("gear-places-differ", "0.01 along x", "- gear west, east\n+ gear west\n+   teeth 20\n+   at ({v}, 175) mm\n+   turns_on pin\n+ gear east\n",
        "132.011", "132.009", MESH_W, ("puts it at (132 mm, 175 mm), 0.011 mm away",)),
    Hair("gear-places-differ", "0.01 along y", "- gear west, east\n+ gear west\n+   teeth 20\n+   at (132, {v}) mm\n+   turns_on pin\n+ gear east\n",
        "175.011", "175.009", MESH_W, ("puts it at (132 mm, 175 mm), 0.011 mm away",)),
    # Both 120 from `west`: 240 sin a = 66 + 66 + 1.
    Hair("gears-collide", "1 mm between tips", lambda a: swap("with nw at 118 deg", f"with nw at {a:.4f} deg") + swap("with sw at 242 deg",
        f"with sw at {360 - a:.4f} deg"), kept(180 - degrees(asin(133 / 240)), 2, True), kept(180 - degrees(asin(133 / 240)), 2, False),
        "gear nw, sw, ne, se", ("stand 132.95 mm apart and are not in mesh; at least 133 mm is required, their tips pass with 0.95 mm",)),
    # `nw` reaches 105.9537 + 66 beyond the middle, and 0.005 is no overhang: 2 · 171.9537 - 0.01.
    Hair("gear-past-edge", "343.897", swap(OUTLINE, "outline rectangle 480 by {v} mm, corner_radius 12 mm"), "343.89", "343.9", "gear nw, sw, ne, se",
        ("reach 66 mm from its middle, 0.01 mm past the edge of `deck` at 90 deg, `nw` at 90 deg, `se` at 270 deg", "65.99 mm or less stays under it",
        "the edge 0.01 mm farther out",)),
    Hair("tip-interference", "13 and 14 teeth", swap("teeth 16", "teeth {v}"), "13", "14", MESH_E, (
        f"reach a radius of 66 mm; {dug_radius((13, 20), 6, 99):.2f} mm is the most", "1 other mesh is alike")),
    Hair("tip-interference", "shortened", swap("backlash 0.5 mm", "backlash 0.5 mm", "tip_shortening {v} mm") + swap("teeth 16", "teeth 13"), kept(
        66 - dug_radius((13, 20), 6, 99), 2, False), kept(66 - dug_radius((13, 20), 6, 99), 2, True), MESH_E, (
        "is the most before they dig into the roots of `hub`",)),
    # With 16 and 20 teeth only centres that stand too close: there both limits are met.
    Hair("tip-interference", "centres", swap(MESH_W, f"{MESH_W}, centre_distance {{v}} mm"), kept(solved(lambda a: dug_radius((16, 20), 6, a) - 66,
        101.5, 108), 3, False), kept(solved(lambda a: dug_radius((16, 20), 6, a) - 66, 101.5, 108), 3, True), f"{MESH_W}, centre_distance {{v}} mm", (
        "or more",)),
    # Two gears of 20 on feet and pivots without any error.
    Hair("teeth-slip", "ratio of 1.2", errors() + swap("with nw at 118 deg", "with nw at 118 deg, centre_distance {v} mm"), kept(WIDEST, 2, True),
        kept(WIDEST, 2, False), "with nw at 118 deg, centre_distance {v} mm", ("the contact ratio; at least 1.2 is wanted",
        f"`centre_distance {floor((WIDEST - 0.01) * 100) / 100:.2f} mm` or less keeps 1.2"), "warning"),
    Hair("teeth-slip", "ratio of 1", errors() + swap("with nw at 118 deg", "with nw at 118 deg, centre_distance {v} mm"), kept(solved(
        lambda a: contact_ratio((20, 20), 6, a) - 1, 120, 130), 2, True), kept(solved(lambda a: contact_ratio((20, 20), 6, a) - 1, 120, 130), 2,
        False), "with nw at 118 deg, centre_distance {v} mm", ("the contact ratio; at least 1 is required",
        f"`centre_distance {floor((WIDEST - 0.01) * 100) / 100:.2f} mm` or less keeps 1.2"), "error", "warning"),
)
# Two holes h off have the shares h (2 tan a + j/A) each; j = 0.5, and A = 108 is the least. One cutter's four flanks: 4 q / cos a.
HOLE = 0.5 / (sqrt(2) * (2 * tan(A20) + 0.5 / 108))
MAY = solved(lambda hole: nearer_binds(0.5, 120, hole), 0.1, 0.48)
PROFILE = 0.5 * cos(A20) / 4
ERRORS = (
    Hair("mesh-binds", "holes", errors("{v}"), kept(HOLE, 4, True), kept(HOLE, 4, False), MESH_E, (
        "mesh with 0.5 mm of backlash; their errors take 0.500",
        "the largest share being hole position of `east`; 1 other mesh with the same figures", "`backlash 0.55 mm`")),
    Hair("mesh-binds", "profile", errors("0", "{v}"), kept(PROFILE, 5, True), kept(PROFILE, 5, False), MESH_E, (
        "the largest share being profile offset of both gears; 5 other meshes with the same figures",)),
    Hair("mesh-may-bind", "holes, exactly", errors("{v}"), kept(MAY, 5, True), kept(MAY, 5, False), "with ne at 62 deg", (
        "mm with every error at its worst; 3 other meshes fall below zero too", "0.55 mm of backlash would be enough")),
    # tan 0.5 deg · sqrt((2 l tan a)^2 + b^2) with l = 17.8 + 7.5 and b = 17.8.
    Hair("insert-not-square", "0.5 deg", lambda j: errors("0", "0", "0.1") + swap("backlash 0.5 mm", f"backlash {j:.4f} mm"), "0.2234", "0.2236",
        "foot corner", ("may tilt by 0.50 deg before",)),
)
# Three feet in a line but for what the third stands off it: 240 - 108 cos 7.804 deg = 133.
LINE = """
- with nw at 118 deg
+   with nw at 90 deg
- with sw at 242 deg
+   with sw at 270 deg
- with east at 0 deg
- mesh east
-   with ne at 62 deg
-   with se at 298 deg
- gear west, east
+ gear west
- gear nw, sw, ne, se
+ gear nw, sw, mid
- with west at 180 deg
+   with west at 180 deg
+   with mid at {v} deg
"""
PAIR = """fixture pair
  hardware metric
sheet ply
  thickness 17.8 +/- 0.2 mm
cutter straight
  diameter 6 mm
default board
  stock ply
  cutter straight
  outline rectangle 200 by 200 mm
board lid
board base
  under lid, centred
magnet upper
  into lid, underside
  polarity north
  disc 10 by 3 mm
  at lid (100, 100) mm
magnet lower
  into base, topside
  polarity north
  disc {d} by 3 mm
  at lid ({v}, 100) mm
"""
# 480 by 350 less (4 - pi) 12^2 of corners, 17.8 thick, 680 kg/m^3 (the library's), 9.80665: 19.931 N; the feet's lines lie 164.3366 and
# 105.9537 off the middle.
WEIGHT = (480 * 350 - (4 - pi) * 144) * 17.8 * 680e-9 * 9.80665
BIRCH = swap("size 1220 by 610 mm", "size 1220 by 610 mm", "material birch_plywood")


def load(force: str, way: str) -> str:
    return block("load hand", f"force {force} N at {way}") + BIRCH




def thick_thread(major: float) -> str:
    """Feet with a thread of another lead beside the drive's M8; the whole file."""
    text = BASE.replace("kind riding\n  thread M8", "kind riding\n  thread M10").replace("row M8, 16", "row M10, 16")
    return text + f'table stout is thread\n  source "a rod"\n  columns thread, diameter mm, pitch mm\n  row M10, {major}, 1.5\n'


USE = (
    Hair("too-few-feet", "1 mm off the line", LINE, "172.22", "172.17", "gear nw, sw, mid", (
        "stand in one line, to within 0.99 mm, and the board tips about it; more than 1 mm",)),
    Hair("pole-mismatch", "half the discs", lambda x: PAIR.replace("{d}", "10").replace("{v}", f"{x}"), "104.99", "105", "magnet lower", (
        "face each other with north poles", "`polarity south`")),
    Hair("pole-mismatch", "half the smaller disc", lambda x: PAIR.replace("{d}", "8").replace("{v}", f"{x}"), "103.99", "104", "magnet lower", ()),
    # Weight · 164.3366 / (470 - 240 - 164.3366).
    Hair("load-tips-board", "to the right", load("{v}", "(470, 175) mm, down"), f"{WEIGHT * 164.3366 / 65.6634 * 1.001:.2f}",
        f"{WEIGHT * 164.3366 / 65.6634 * 0.999:.2f}", "force {v} N at (470, 175) mm, down", ("over `corner.se` and `corner.ne`",
        "than its weight of about 20 N holds")),
    Hair("load-tips-board", "towards us", load("{v}", "(240, 5) mm, down"), f"{WEIGHT * 105.9537 / 64.0463 * 1.001:.2f}",
        f"{WEIGHT * 105.9537 / 64.0463 * 0.999:.2f}", "force {v} N at (240, 5) mm, down", ("over `corner.sw` and `corner.se`",)),
    # At the greatest height of 48.1.
    Hair("load-tips-board", "along x", load("{v}", "deck.centre, along x"), f"{WEIGHT * 164.3366 / 48.1 * 1.001:.2f}",
        f"{WEIGHT * 164.3366 / 48.1 * 0.999:.2f}", "force {v} N at deck.centre, along x", ("tips the board",)),
    Hair("load-tips-board", "along y", load("{v}", "deck.centre, along y"), f"{WEIGHT * 105.9537 / 48.1 * 1.001:.2f}",
        f"{WEIGHT * 105.9537 / 48.1 * 0.999:.2f}", "force {v} N at deck.centre, along y", ("tips the board",)),
    # Threads that differ by up to 6 % of the thicker: 8 / 0.94 = 8.5106.
    Hair("look-alike-threads", "6 %", thick_thread, "8.51", "8.52", "drive crank", ("`crank` has M8, `corner` M10: 2.5 mm apart after 10 turns",),
        "warning"),
    # Discs of a pad and of the idlers: 120 - 66 = 54, nearer than that they pass one another.
    Hair("leaning-gear-touches", "pad of 108", swap(SCREW, "screw ISO 4017, length 30 mm, pocket 1 mm") + swap("pad dome, drop 3 mm",
        "pad disc diameter {v} mm, drop 6 mm"), "108.02", "107.98", "gear west, east", ("the foot of",)),
    # A gear of 25 teeth (81) under `west`: 120 - 81 - 1 = 38.
    Hair("gear-hits-hardware", "pad of 76", "- gear west, east\n+ gear low_w\n+   teeth 25\n+   on_shaft_with west, below\n+ \n+ gear west, east\n"
        + swap(SCREW, "screw ISO 4017, length 30 mm, pocket 1 mm") + swap("pad dome, drop 3 mm", "pad disc diameter {v} mm, drop 14 mm"), "76.02",
        "76", "gear low_w", ("`low_w` passes with 0.99 mm by the foot of `corner.sw`",
        "at some place of the travel; a gap of at least 1 mm is required; so do `low_w` and `corner.nw`", "move the two 0.01 mm further apart")),
)
TRAIN = (*TEETH, *DISTANCES, *ERRORS, *USE)
