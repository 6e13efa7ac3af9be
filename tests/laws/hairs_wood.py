"""Hairs of the rules of depths, walls and round cuts. Lengths mm; every border is worked out by hand beside its entry.

The base: sheets of 17.8 +/- 0.2, so 17.6 at the thinnest; a cutter of 6; the board is 480 by 350 with the drive at (240, 175) and the foot
`nw` at (132 + 120 cos 118 deg, 175 + 120 sin 118 deg) = (75.6634, 280.9537). An insert of 16 in a hole of 13.5 stands from 0 to 15 above
the underside.
"""

from __future__ import annotations

from math import cos, pi, sin, sqrt

from tests.laws.borders import adds, swap
from tests.laws.hairs import Hair

OUTLINE = "outline rectangle 480 by 350 mm, corner_radius 12 mm"
ROW = "row M8, 16.0 +/- 0.1, 15, 4, 15, 13.5"
JAM = "jam_nut ISO 4035, below gear, recessed 6 mm, round 24 mm"
INSERT = "insert my_insert, driven_from topside, flush underside"
FEET = "gear nw, sw, ne, se"
SCREW = "screw ISO 4017, length 30 mm, pocket 5.8 mm"
TWO_LAYERS = swap(OUTLINE, OUTLINE, "layers 2")
NW_X, NW_Y = 132 + 120 * cos(118 * pi / 180), 175 + 120 * sin(118 * pi / 180)


def block(text: str, *facts: str) -> str:
    """An edit: one block more."""
    return adds(text + "".join(f"\n  {fact}" for fact in facts))


def peg(*facts: str) -> str:
    return block("hole peg", "into deck", *facts)


def near_nw(apart: float, *facts: str) -> str:
    """A hole of 10 mm beside the insert of `nw`, towards +x."""
    return peg("diameter 10 mm", *facts, f"at ({NW_X + apart:.6f}, {NW_Y:.6f}) mm")


def over_nw(kind: str, *facts: str) -> str:
    """A cut about the axis of the insert of `nw`."""
    return block(kind, *facts, f"at ({NW_X:.9f}, {NW_Y:.9f}) mm")


def corner(x: float) -> str:
    """A hole of 8 mm on the diagonal of a corner that is rounded with 12 mm about (12, 12)."""
    return peg("diameter 8 mm", f"at ({12 - x:.4f}, {12 - x:.4f}) mm")


def mdf_corner(t: float) -> str:
    """Feet `t` mm in from both edges of a corner, in MDF."""
    wide, high = 2 * (t + 240 - NW_X), 2 * (t + NW_Y - 175)
    return swap("size 1220 by 610 mm", "size 1220 by 610 mm", "material mdf") + swap(
        OUTLINE, f"outline rectangle {wide:.6f} by {high:.6f} mm, corner_radius 12 mm"
    )


FLOOR, WALL, NEAR, AIR = "thin-pocket-floor", "thin-wall", "insert-near-edge", "insert-end-in-air"
# 17.6 - 3 = 14.6 may be cut; of two layers 35.2 - 3 = 32.2.
FLOORS = (
    Hair(
        FLOOR,
        "pocket",
        block("pocket tray", "into deck, topside", "outline rectangle 40 by 20 mm", "depth {v} mm", "at (240, 30) mm"),
        "14.61",
        "14.6",
        "depth {v} mm",
        ("the pocket `tray`, 14.61 mm deep, leaves 2.99 mm of `deck`, 17.6 mm thick", "at least 3 mm", "a depth of 14.6 mm or less"),
    ),
    Hair(
        FLOOR,
        "pocket through at the thinnest",
        block("pocket tray", "into deck, topside", "outline rectangle 40 by 20 mm", "depth {v} mm", "at (240, 30) mm"),
        "17.6",
        "17.59",
        "depth {v} mm",
        ("17.6 mm deep, goes through `deck`, 17.6 mm thick", "a depth of 14.6 mm or less"),
        "error",
        "warning",
    ),
    Hair(
        FLOOR,
        "hole in two layers",
        TWO_LAYERS + peg("diameter 10 mm", "blind {v} mm", "at (240, 30) mm"),
        "32.21",
        "32.2",
        "blind {v} mm",
        ("the hole `peg`, 32.21 mm deep, leaves 2.99 mm of `deck`, 35.2 mm thick", "a depth of 32.2 mm or less"),
    ),
    Hair(
        FLOOR,
        "counterbore",
        peg("diameter 8 mm", "counterbore diameter 16 mm, depth {v} mm", "at (240, 30) mm"),
        "14.61",
        "14.6",
        "counterbore diameter 16 mm, depth {v} mm",
        ("the counterbore of `peg`, 14.61 mm deep",),
    ),
    Hair(
        FLOOR,
        "magnet whose hole is 0.15 deeper",
        block("magnet holder", "into deck, topside", "disc 10 by {v} mm", "at (240, 30) mm"),
        "14.46",
        "14.45",
        "magnet holder",
        ("the hole of the magnet `holder`, 14.61 mm deep",),
    ),
    Hair(FLOOR, "jam nut", swap(JAM, "jam_nut ISO 4035, below gear, recessed {v} mm, round 24 mm"), "14.61", "14.6", JAM.replace("6 mm", "{v} mm"), (
        "recess for the nut below of `crank`, 14.61 mm deep, leaves 2.99 mm of `hub`",)),
    Hair(
        FLOOR,
        "both nuts",
        swap("nut tee_nut, above gear", "nut ISO 4032, above gear, recessed 5 mm")
        + swap(JAM, "jam_nut ISO 4035, below gear, recessed {v} mm, round 24 mm"),
        "9.61",
        "9.6",
        "nut ISO 4032, above gear, recessed 5 mm",
        ("recess for the nut above and the nut below of `crank`, 14.61 mm deep",),
    ),
    Hair(
        FLOOR,
        "pivot's head, in two gears",
        swap("screw ISO 7049, head recessed 7 mm", "screw ISO 7049, head recessed {v} mm"),
        "14.61",
        "14.6",
        "screw ISO 7049, head recessed {v} mm",
        ("recess for the head of `pin`, 14.61 mm deep, leaves 2.99 mm of `east` and `west`",),
    ),
    Hair(
        FLOOR,
        "pivot's nut, in the board",
        swap("thread ST6.3", "thread M6")
        + swap("screw ISO 7049, head recessed 7 mm", "bolt ISO 4017, head recessed 6 mm", "nut ISO 4032, above board, recessed {v} mm"),
        "14.61",
        "14.6",
        "nut ISO 4032, above board, recessed {v} mm",
        ("recess for the nut of `pin`, 14.61 mm deep, leaves 2.99 mm of `deck`",),
    ),
    Hair(
        FLOOR,
        "foot's head",
        swap(SCREW, "screw ISO 4017, length 30 mm, pocket {v} mm"),
        "14.61",
        "14.6",
        "screw ISO 4017, length 30 mm, pocket {v} mm",
        ("pocket for the head of `corner`, 14.61 mm deep, leaves 2.99 mm of `ne`, `nw`, `se` and `sw`",),
    ),
    Hair(
        FLOOR,
        "from both faces: 17.6 - 3 - 6 = 8.6",
        peg("diameter 16 mm", "blind 6 mm", "at (240, 30) mm")
        + block("pocket tray", "into deck, underside", "outline rectangle 30 by 20 mm", "depth {v} mm", "at (240, 30) mm"),
        "8.61",
        "8.6",
        "hole peg",
        ("leave 2.99 mm of `deck` between them, 17.6 mm thick", "at least 3 mm", "add up to 14.6 mm or less"),
    ),
    Hair(
        FLOOR,
        "from both faces: at 18 they are meant to meet",
        peg("diameter 16 mm", "blind 6 mm", "at (240, 30) mm")
        + block("pocket tray", "into deck, underside", "outline rectangle 30 by 20 mm", "depth {v} mm", "at (240, 30) mm"),
        "11.99",
        "12.01",
        "hole peg",
        ("leave 0 mm of `deck` between them",),
    ),
)
# 2 mm of wood.
WALLS = (
    Hair(WALL, "hole to the lower edge: 6 + 2", peg("diameter 12 mm", "at (240, {v}) mm"), "7.99", "8", "hole peg", (
        "1.99 mm of wood is left; at least 2 mm",)),
    Hair(WALL, "hole to the upper edge: 350 - 8", peg("diameter 12 mm", "at (240, {v}) mm"), "342.01", "342", "hole peg", ("1.99 mm of wood",)),
    Hair(WALL, "hole to the right edge: 480 - 8", peg("diameter 12 mm", "at ({v}, 40) mm"), "472.01", "472", "hole peg", ("the edge of `deck`",)),
    Hair(WALL, "hole through the edge", peg("diameter 12 mm", "at (240, {v}) mm"), "5.99", "8", "hole peg", ("breaks through the edge by 0.01 mm",
        "2 mm")),
    # 12 - sqrt 2 d - 4 = 2 for d = 4.2426.
    Hair(WALL, "hole to a rounded corner", corner, "4.25", "4.23", "hole peg", ("1.99 mm of wood",)),
    Hair(WALL, "two holes: 12 + 2", peg("diameter 12 mm", "at (230, 40) mm", "at ({v}, 40) mm"), "243.99", "244", "hole peg", (
        "1.99 mm of wood is left",)),
    Hair(WALL, "two holes that meet", peg("diameter 12 mm", "at (230, 40) mm", "at ({v}, 40) mm"), "241.99", "244", "hole peg", (
        "run into each other by 0.01 mm",)),
    Hair(
        WALL,
        "hole and opening: 20 + 2 + 5",
        block("pocket tray", "into deck", "outline rectangle 40 by 20 mm", "through", "at (240, 40) mm")
        + peg("diameter 10 mm", "at ({v}, 40) mm"),
        "266.99",
        "267",
        "pocket tray",
        ("1.99 mm of wood is left",),
    ),
    Hair(
        WALL,
        "pocket to the edge: 10 + 2",
        block("pocket tray", "into deck, topside", "outline rectangle 40 by 20 mm", "depth 8 mm", "at (240, {v}) mm"),
        "11.99",
        "12",
        "pocket tray",
        ("1.99 mm of wood is left",),
    ),
    Hair(
        WALL,
        "blind from both faces, side by side: 9 + 8.8 is the mean sheet",
        peg("diameter 12 mm", "blind 9 mm", "at (230, 40) mm")
        + block("hole dog", "into deck, underside", "diameter 12 mm", "blind {v} mm", "at (243, 40) mm"),
        "8.81",
        "8.79",
        "hole peg",
        ("between the hole `peg` and the hole `dog` 1 mm of wood is left", "`at (228.99, 40) mm` for `peg`, or `diameter 10 mm` for `peg`"),
    ),
    Hair(
        WALL,
        "ring of a spacer",
        block("spacer shim", "stock ply18", "cutter straight6", "outline circle {v} mm", "bore 10 mm"),
        "13.98",
        "14",
        "spacer shim",
        ("1.99 mm of wood is left",),
    ),
)
# 16 mm of wood to an edge, 8 mm at least. The feet stand 2 * 105.9537 = 211.9074 apart along y, their holes are 13.5.
EDGES = (
    Hair(NEAR, "insert to the edge: 211.9074 + 13.5 + 32 = 257.4074", swap(OUTLINE, "outline rectangle 480 by {v} mm, corner_radius 12 mm"), "257.39",
        "257.41", FEET, ("15.99 mm of wood is left, and 3 more like it; at least 16 mm, its outside diameter, is wanted",
        "move it 0.01 mm away for 16 mm of wood")),
    Hair(NEAR, "half of it: 241.4074", swap(OUTLINE, "outline rectangle 480 by {v} mm, corner_radius 12 mm"), "241.39", "241.41", FEET, (
        "7.99 mm of wood is left", "at least 8 mm, half its outside diameter of 16 mm, is required", "8.01 mm away for 16 mm of wood"), "error",
        "warning"),
    Hair(NEAR, "under 2 mm is the other rule's: 229.4074", swap(OUTLINE, "outline rectangle 480 by {v} mm, corner_radius 12 mm"), "229.41", "229.39",
        FEET, ("2 mm of wood",), "error"),
    # The feet stand hypot(164.3366, 105.9537) = 195.5319 off the middle of a round board: 2 · (195.5319 + 6.75 + 16) = 436.5638.
    Hair(NEAR, "round edge", swap(OUTLINE, "outline circle {v} mm"), "436.54", "436.565", FEET, ("15.99 mm of wood is left, and 3 more like it",)),
    # 6.75 + 16 + 5.
    Hair(NEAR, "insert to a hole: 27.75", lambda v: near_nw(v), "27.74", "27.75", FEET, ("15.99 mm of wood is left; at least 16 mm",), "note"),
    Hair(NEAR, "half of it: 19.75", lambda v: near_nw(v), "19.74", "19.76", FEET, ("7.99 mm of wood is left; at least 8 mm",), "warning", "note"),
    # From 2.8 below the topside the insert begins.
    Hair(NEAR, "a hole above the insert", lambda v: near_nw(20, f"blind {v} mm"), "2.81", "2.8", FEET, ("8.25 mm of wood",), "note"),
    # ST6.3 has 6.25 outside (ISO 1478, from memory); the pilot hole is 5.
    Hair(NEAR, "pivot's screw to a hole: 2.5 + 6.25 + 5", lambda v: peg("diameter 10 mm", f"at (132, {175 + v}) mm"), "13.74", "13.75", "pivot pin", (
        "6.24 mm of wood is left; at least 6.25 mm",), "note"),
    # MDF: 12 to the edge, from the pivots 108 off the middle: 2 * (108 + 2.5 + 12) = 245.
    Hair(NEAR, "MDF's edge", swap("size 1220 by 610 mm", "size 1220 by 610 mm", "material mdf") + swap(OUTLINE,
        "outline rectangle {v} by 350 mm, corner_radius 12 mm"), "244.98", "245", "pivot pin", ("11.99 mm of wood is left, and 1 more like it",
        "at least 12 mm, for MDF, is wanted")),
    # To the middle of the rounding, 12 (1 - sqrt 1/2) = 3.5147 in: sqrt 2 (t - 3.5147) - 6.75 = 25 for t = 25.9657.
    Hair(NEAR, "MDF's corner", mdf_corner, "25.96", "25.97", FEET, ("24.99 mm of wood is left", "at least 25 mm, for MDF")),
)
# The topside lies 2.8 over the insert's end; 0.5 more is 3.3.
BARE = (
    Hair(AIR, "hole over the insert", over_nw("hole sunk", "into deck", "diameter 20 mm", "blind {v} mm"), "3.31", "3.3", "hole sunk", (
        "lays 0.51 mm of the insert of `corner.nw` bare, which is 15 mm long; at most 0.5 mm", "a depth of 2.8 mm or less")),
    Hair(AIR, "hole from below", over_nw("hole sunk", "into deck, underside", "diameter 20 mm", "blind {v} mm"), "0.51", "0.5", "hole sunk", (
        "0.51 mm of the insert",)),
    Hair(AIR, "magnet over the insert: 3.3 - 0.15", over_nw("magnet sunk", "into deck, topside", "disc 20 by {v} mm"), "3.16", "3.15", "magnet sunk",
        ("0.51 mm of the insert",)),
    Hair(AIR, "counterbore over the insert", over_nw("hole sunk", "into deck", "diameter 10 mm", "counterbore diameter 20 mm, depth {v} mm"), "3.31",
        "3.3", "counterbore diameter 20 mm, depth {v} mm", ("0.51 mm of the insert",)),
    # 6.75 + 5.
    Hair("cut-into-fastener", "hole beside the insert", lambda v: near_nw(v), "11.74", "11.76", "hole peg", ("runs into", "none of its wood")),
    Hair("cut-into-fastener", "blind hole beside the insert", lambda v: near_nw(8, f"blind {v} mm"), "3.31", "3.3", "hole peg", (
        "opens 0.51 mm of its side; at most 0.5 mm", "a depth of 2.8 mm or less")),
    # The counterbore of the drive's head is 15 wide (ISO 4762 M8) and 9 deep; 7.5 + 15 below its middle.
    Hair("cut-into-fastener", "opening into the drive's counterbore", block("pocket slit", "into deck", "outline rectangle 40 by 30 mm", "through",
        "at (240, {v}) mm"), "152.51", "152.5", "pocket slit", ("the opening `slit` runs into the counterbore for the head of `crank.hub`",)),
    # From below 8.8 of the mean 17.8 are left beside it: there the drive's hole of 8.4 (ISO 273 fine) is met.
    Hair("cut-into-fastener", "pocket into the drive's hole: 4.2 + 15", block("pocket slit", "into deck, underside", "outline rectangle 40 by 30 mm",
        "depth 5 mm", "at (240, {v}) mm"), "155.81", "155.8", "pocket slit", ("runs into",)),
    Hair("cut-into-fastener", "pocket under the drive's counterbore: 17.8 - 9", block("pocket slit", "into deck, underside",
        "outline rectangle 40 by 30 mm", "depth {v} mm", "at (240, 154) mm"), "8.81", "8.79", "pocket slit", ("runs into the counterbore",)),
    Hair("cut-into-fastener", "about one middle to 0.01", peg("diameter 20 mm", "at ({v}, 175) mm"), "240.011", "240.009", "hole peg", ("runs into",)),
    # 4.2 + (10 + 0.05) / 2 = 9.225.
    Hair("cut-into-fastener", "magnet into the drive's hole", block("magnet thing", "into deck, underside", "disc 10 by 3 mm", "at ({v}, 175) mm"),
        "249.22", "249.23", "magnet thing", ("runs into",)),
    # A dowel of 10 that slides is 10.2 wide: 4.2 + 5.1.
    Hair("cut-into-fastener", "dog's hole into the drive's hole", peg("dowel 10 mm", "fit slide", "into deck, underside", "blind 4 mm",
        "at ({v}, 175) mm").replace("+   into deck\n", ""), "249.29", "249.3", "hole peg", ("runs into",)),
)
WOOD = (*FLOORS, *WALLS, *EDGES, *BARE)
assert abs(sqrt(2) * (25.9657 - 12 * (1 - sqrt(0.5))) - 31.75) < 1e-3
