"""Hairs of further branches: other hardware, other faces, stated places, and what silences a rule. Lengths mm; borders beside the entries."""

from __future__ import annotations

from math import acos, cos, degrees, floor

from tests.laws.borders import adds, swap
from tests.laws.hairs import Hair
from tests.laws.hairs_rest import SCREWS, held
from tests.laws.hairs_shop import involute
from tests.laws.hairs_strokes import BELOW, KEPT, ROD
from tests.laws.hairs_train import A20, MESH_E, WEIGHT, errors, kept, load, solved
from tests.laws.hairs_wood import INSERT, JAM, ROW, SCREW, block, peg

from trivet.checks._examples import example_text
from trivet.checks.strikes_board_below import SKIRT

EXACT = swap("thickness 17.8 +/- 0.2 mm", "thickness 17.8 +/- 0 mm") + swap("inserts guide_block", "inserts guide_block", "depth +/- 0 mm")
PLACED = SCREWS.removesuffix(", ")


def slit_at(d: float) -> str:
    """An opening whose corner, rounded with 3, lies `d` left of and below the drive's axis."""
    return block("pocket slit", "into deck", "outline rectangle 40 by 30 mm", "through", f"at ({220 - d}, {160 - d}) mm")


def many_teeth(apart: float) -> str:
    """Gears of 120 teeth of 15 deg in a shop without errors; the whole file."""
    text = example_text(errors()).replace("teeth 20", "teeth 120").replace("backlash 0.5 mm", "backlash 0.5 mm\n  pressure_angle 15 deg")
    return text.replace("with nw at 118 deg", f"with nw at 118 deg, centre_distance {apart} mm")


def require(words: str) -> str:
    """Sheets and recesses without a spread, so that only heads vary: k = 5.3, 5.15 to 5.45 (ISO 4017 M8, from memory)."""
    return adds(f"require {words}") + EXACT


def placed(at: str) -> str:
    return held(f"{PLACED}\n+   stand_offs sleeve outside 8 mm\n+   stand_off_at {at} mm")


def wide(width: float) -> str:
    """A board of this width over keepers whose screws stand 75 off their axes."""
    return placed("(75, 0)").replace("rectangle 620 by", f"rectangle {width} by")




def skirted(clear: float, depth: str = "") -> str:
    """A board under the gears with holes that the feet pass, round which pockets of a depth may lie."""
    at = "".join(f"+   at deck ({x}, {y}) mm\n" for x in (75.663, 404.337) for y in (69.046, 280.954))
    cuts = f"+ hole pass\n+   into skirt\n+   diameter 60 mm\n{at}+ \n"
    if depth:
        cuts += f"+ pocket room\n+   into skirt, topside\n+   outline circle 140 mm\n+   depth {depth}\n{at}+ \n"
    before, _, after = SKIRT.partition("+ pocket room")
    long_pads = swap("pad dome, drop 3 mm", "pad dome, drop 25 mm")
    return before.replace("clear 2 mm", f"clear {clear} mm") + cuts + after[after.index("- carries corner") :] + long_pads


LEVELS = (
    "- gear west, east\n+ gear low_w\n+   teeth 17\n+   on_shaft_with west, below\n+ gear west, east\n"
    + swap("sleeve outside 8 mm")
    + swap("pad dome, drop 3 mm", "pad dome, drop 25 mm")
    + swap("backlash 0.5 mm", "backlash 0.5 mm", "face_overlap {v} mm")
)
TURN = degrees(acos((108**2 + 120**2 - 121**2) / (2 * 108 * 120)))
TIPS = WEIGHT * 164.3366 / 65.6634
BACKED = BELOW.replace("length {v} mm", "length 30 mm").replace("under deck, centred", "under deck, centred\n+   clear {v} mm").replace("9.2 mm",
    "12 mm")
APART = solved(lambda apart: 0.5 * apart / 108 + 2 * apart * (involute(acos(108 * cos(A20) / apart)) - involute(A20)) - 1.2, 108.5, 112)
MORE = (
    # 366 + 366 - A = 7.2. At 20 deg the contact ratio falls short first: of racks it is 1.2 / (pi sin a cos a) = 1.19, at 15 deg 1.53.
    Hair("teeth-slip", "depth of 1.2 modules", many_teeth, "724.81", "724.79", "with nw at 118 deg, centre_distance {v} mm", (
        "reach 7.19 mm into each other; at least 7.2 mm", "`centre_distance 724.79 mm` or less"), "warning"),
    # sqrt 2 (d + 3) - 3 = 7.5 for d = 4.4246; the round corner is followed to 0.05.
    Hair("cut-into-fastener", "opening's corner into a counterbore", slit_at, "4.38", "4.43", "pocket slit", (
        "runs into the counterbore for the head",)),
    # 120 from `west`, which stands 108 from the hub: 121 = 54 + 66 + 1 off it where cos a = (108^2 + 120^2 - 121^2) / (2 · 108 · 120).
    Hair("gears-collide", "unlike gears: 63.85 deg", swap("with nw at 118 deg", "with nw at {v} deg"), kept(TURN, 2, False), kept(TURN, 2, True),
        "gear nw, sw, ne, se", (
        "`hub` and `nw` stand 120.98 mm apart and are not in mesh; at least 121 mm is required", "`with nw at 64 deg` in `mesh west` clears them")),
    # A board that lies against it, to 0.05, backs what is left under the head.
    Hair("thin-under-head", "no board against it", BACKED, "0.06", "0.04", "bolt ISO 4762, head recessed 12 mm", ("5.4 mm of wood is left",)),
    # Each half of Weight · 164.3366 / 65.6634.
    Hair("load-tips-board", "two together", load("{v}", "(470, 175) mm, down")
        + "- board deck\n+ load other\n+   force {v} N at (470, 175) mm, down\n+ board deck\n",
        f"{TIPS / 2 * 1.001:.3f}", f"{TIPS / 2 * 0.999:.3f}", "force {v} N at (470, 175) mm, down", (
            "`hand` and `other` tip the board over `corner.se` and `corner.ne`",)),
    # Between levels 3 of shared height are left to spacers. Without a sleeve `west` ends at -1.6 - 0.3 - 17.8, where `low_w` begins; `nw`
    # comes down from -17.8 to where w of its face is left: 17.8 - w = 3.
    Hair("gears-collide", "between levels: 14.8", LEVELS, "14.79", "14.81", "gear nw, sw, ne, se",
        ("stand 120 mm apart and are not in mesh; at least 124 mm is required, their tips overlap by 3 mm, over 3.01 mm of height",)),
    # A riding gear comes down until 8 of thread are left, whatever its thickness: to -22 - 5.8; and 0.5 more.
    Hair("strikes-board-below", "topside below: 28.3", skirted, "28.29", "28.31", "gear nw, sw, ne, se", ("36 mm into the wall round it",), count=4),
    Hair("strikes-board-below", "pocket's floor: 28.3 - 5", lambda clear: skirted(clear, "5 mm"), "23.29", "23.31", "gear nw, sw, ne, se",
        ("comes within 0.49 mm of the floor of the pocket under it in `skirt` at the worst of the sheets; a gap of at least 0.5 mm is required",
        "a pocket 0.1 mm deeper, or an opening"), count=4),
    # A nut of 13 and 14.38: as a head.
    Hair("hex-corner-not-cut", "captured nut", swap("diameter 6 mm", "diameter {v} mm") + ROD.replace("length {v} mm", "length 60 mm"), "7.33",
        "7.31", "foot corner", ("for its nut is 14.082 mm across flats",), "error"),
    Hair("thin-pocket-floor", "socket", KEPT.replace("{k}", "170 by 70").replace("socket depth 12 mm", "socket depth {v} mm"), "14.61", "14.6",
        "socket depth {v} mm", ("the socket of `corner`, 14.61 mm deep, leaves 2.99 mm of `ne`, `nw`, `se` and `sw`",)),
    Hair("head-proud", "not let in at all", swap("bolt ISO 4762, head recessed 9 mm", "bolt ISO 4762"), "", "", "drive crank", (
        "is let in 0 mm at least; it is up to 8 mm high", "`head recessed 8.2 mm`")),
    # 66 of teeth, 1 of gap, 4 of sleeve; and 85 - 2 - 4.5 (a head of 8, ISO 7049, with 1 of room).
    Hair("no-room-for-keeper-screws", "off the teeth: 71", placed("({v}, 0)"), "70.99", "71", "stand_off_at ({v}, 0) mm", (
        "the stand-off 1 of the keeper of `corner.ne` stands 0.99 mm off the teeth of `ne`; at least 1 mm", "0.1 mm further out")),
    Hair("thin-wall", "keeper's recess inside its plate: 78.5", placed("({v}, 0)"), "78.51", "78.49", PLACED,
        ("between the recess for the head of `corner.ne.keeper.1` and the edge of `corner.ne.keeper` 1.99 mm of wood is left",), count=4),
    # 5 inside the board's edge: 2 (164.3366 + 75 + 5).
    Hair("no-room-for-keeper-screws", "under the board: 488.673", wide, "488.65", "488.7", "stand_off_at (75, 0) mm", (
        "stands 4.99 mm inside the edge of `deck`; at least 5 mm",)),
    Hair("gear-hits-hardware", "pad of 78", "- gear west, east\n+ gear low_w\n+   teeth 25\n+   on_shaft_with west, below\n+ \n+ gear west, east\n"
        + swap(SCREW, "screw ISO 4017, length 30 mm, pocket 1 mm") + swap("pad dome, drop 3 mm", "pad disc diameter {v} mm, drop 14 mm"), "78.02",
        "76", "gear low_w", ("reaches 0.01 mm into", "move the two 1.01 mm further apart")),
    # From below: 17.6 less 3.15 and 0.2 of a deep hole.
    Hair("metal-in-cut-zone", "magnet: 14.25", block("magnet holder", "into deck, underside", "disc 10 by 3 mm", "at (20, 40) mm") + block(
        "cut_zone kerf", "edge left, width 26 mm, depth {v} mm"), "14.26", "14.25", "edge left, width 26 mm, depth {v} mm", (
        "the magnet `holder` lies in the cut zone `kerf`", "14.25 mm of wood over it; the zone is 14.26 mm deep")),
    # e from 21.0 - 15.0 - 5.15 = 0.85 to 10: an idler droops 66 · 0.3/18 = 1.1 below -19.9, and the pad reaches to -15 - k.
    Hair("require-not-met", "least travel: 9.15", require("travel >= {v} mm"), "9.16", "9.15", "require travel >= {v} mm", (
        "travel is 9.15 mm at the worst combination of sheets; 9.16 mm is required",)),
    Hair("require-not-met", "least turns: 9.15", require("turns_for_travel >= {v}"), "9.16", "9.15", "require turns_for_travel >= {v}", (
        "takes 9.15 turns at the worst combination of sheets; 9.16 is required",)),
    Hair("require-not-met", "greatest height: 42.8 + 5.15", require("height covers 42..{v} mm"), "47.96", "47.95", "require height covers 42..{v} mm",
        ("the greatest height is 47.95 mm at the worst combination of sheets; 47.96 mm is required",), inch=False),
    # The tip stays under the topside from e = 0.7 on: 32.8 + 5.45 + 0.7.
    Hair("require-not-met", "lowest height: 38.95", require("height covers {v}..45 mm"), "38.94", "38.95", "require height covers {v}..45 mm", (
        "the lowest height is 38.95 mm at the worst combination of sheets; at most 38.94 mm is required", "a riser of 0.01 mm")),
    Hair("insert-not-square", "a guide bounds it", errors("0", "0", "0.1") + swap("backlash 0.5 mm", "backlash 0.2 mm") + swap(INSERT,
        "insert my_insert, driven_from topside, flush topside", "{v}"), "# no guide", "guide clearance 0.6 mm, length 2 mm", "foot corner", (
        "`backlash 0.25 mm` in the tooth form, or a guide bore",)),
    # Both gears are thinned for their other meshes: 0.5 A/108, and 2 A (inv aw - inv a) where their centres stand apart.
    Hair("loose-mesh", "stated centres", swap(MESH_E, f"{MESH_E}, centre_distance {{v}} mm"), kept(APART, 2, True), kept(APART, 2, False),
        f"{MESH_E}, centre_distance {{v}} mm", ("1.2 mm is a fifth of the module",
        f"`centre_distance {floor(APART * 100) / 100:.2f} mm` or less")),
    Hair("thin-pocket-floor", "side by side: 8 + 15", peg("diameter 16 mm", "blind 8 mm", "at (240, 30) mm") + block("pocket tray",
        "into deck, underside", "outline rectangle 30 by 20 mm", "depth 8 mm", "at ({v}, 30) mm"), "262.99", "263.01", "hole peg", (
        "leave 1.6 mm of `deck` between them",)),
    Hair("insert-breaks-through", "over a guide bore from the other side", swap(INSERT, INSERT, "guide clearance 0.6 mm, length 2 mm") + swap(ROW,
        "row M8, 16.0 +/- 0.1, {v}, 4, {v}, 13.5"), "17.61", "17.6", INSERT, ("it stands out of the topside\n", "no longer than 17.6 mm")),
    Hair("gear-on-thread", "a tube of 0.75: 4.76 + 1.5", swap("thread ST6.3", "thread ST4.8") + swap("sleeve outside 8 mm"), "", "", "pivot pin", (
        "0 mm of plain shank", "`sleeve outside 7 mm`")),
    Hair("no-room-for-spanner", "washer round a jam nut: 16 + 1", swap(JAM, "jam_nut ISO 4035, below gear, recessed {v} mm",
        "washers ISO 7089, below"), "1.01", "1", "jam_nut ISO 4035, below gear, recessed {v} mm", ("in a recess 17 mm wide",)),
    Hair("cutter-too-short", "a keeper's thicker sheet", block("sheet thick", "thickness 21 +/- 0.3 mm") + KEPT.replace("{k}", "170 by 70").replace(
        "stock ply18, outline", "stock thick, outline") + swap("reach 25 mm", "reach {v} mm"), "21.29", "21.3", "reach {v} mm", (
        "`corner` needs up to 21.3 mm",)),
)
