"""Fixtures whose cuts, walls, sheets and machines are wrong, one for each way in which it is said."""

from __future__ import annotations

from tests.laws.borders import adds, swap
from tests.laws.violations_wood import PAIR
from tests.messages.case import Case

WALLS = ("thin-wall", "thin-pocket-floor", "cut-into-fastener", "narrower-than-cutter")
CUTS = ("unrelieved-corner", "faulty-contour", "metal-in-cut-zone", "magnet-proud", "pole-mismatch", "letter-not-drawn")
SHEETS = (
    "part-larger-than-sheet", "part-larger-than-machine", "sheet-larger-than-machine", "parts-too-close", "too-few-sheets",
    "no-room-for-registration", "tab-has-no-place", "cutter-too-short", "thickness-not-measured", "statement-not-yet-used",
    "helper-without-use",
)  # fmt: skip
SHEET = "size 1220 by 610 mm"
OUTLINE = "outline rectangle 480 by 350 mm, corner_radius 12 mm"

THIN = adds("pocket tray\n  into deck, topside\n  outline rectangle 40 by 20 mm\n  depth 1 mm\n  at (240, 40) mm") + swap(
    "thickness 17.8 +/- 0.2 mm", "thickness 2.9 +/- 0.1 mm"
)


def hole(name: str, place: str, *facts: str, face: str = "") -> str:
    """A hole of the board."""
    return adds(f"hole {name}\n  into deck{face}\n" + "".join(f"  {fact}\n" for fact in facts) + f"  at {place} mm")


def pocket(name: str, place: str, outline: str, depth: str = "depth 6 mm", face: str = ", topside") -> str:
    """A pocket of the board."""
    return adds(f"pocket {name}\n  into deck{face}\n  outline {outline}\n  {depth}\n  at {place} mm")


def magnets(*places: str) -> str:
    """Magnets of both boards that face each other."""
    text = PAIR.format(one="south", other="south", size=10, x=100, y=100)
    return text + "".join(f"  at lid {place} mm\n" for place in places)


CASES = (
    Case("thin-wall", "two holes", hole("peg", "(240, 40)", "diameter 12 mm") + hole("dog", "(253, 40)", "diameter 12 mm"), True),
    Case(
        "thin-wall",
        "two holes that run into each other",
        hole("peg", "(240, 40)", "diameter 12 mm") + hole("dog", "(247, 49)", "diameter 12 mm"),
    ),
    Case("thin-wall", "out of the edge", hole("peg", "(478, 100)", "diameter 12 mm"), True),
    Case("thin-wall", "its middle on the edge", hole("peg", "(480, 100)", "diameter 12 mm")),
    Case("thin-wall", "beside a drive's bolt", hole("peg", "(255, 175)", "diameter 20 mm"), True),
    Case("thin-wall", "a dowel near the corner", hole("peg", "(10, 7)", "dowel 12 mm", "fit slide"), True),
    Case(
        "thin-wall",
        "two places of one hole",
        adds("hole peg\n  into deck\n  diameter 12 mm\n  at (240, 40) mm\n  at (253.5, 40) mm"),
    ),
    Case("thin-wall", "a pocket near the edge", pocket("tray", "(240, 11.2)", "rectangle 40 by 20 mm"), True),
    Case("thin-wall", "a board without more room", swap(OUTLINE, "outline rectangle 346 by 350 mm")),
    Case("thin-pocket-floor", "a hole through the board", hole("peg", "(240, 30)", "diameter 12 mm", "blind 17.7 mm"), True),
    Case(
        "thin-pocket-floor",
        "a counterbore",
        hole("peg", "(240, 30)", "diameter 8 mm", "counterbore diameter 16 mm, depth 15.5 mm", face=", topside"),
        True,
    ),
    Case(
        "thin-pocket-floor",
        "a magnet's hole",
        adds("magnet keeper\n  into deck, topside\n  disc 10 by 15 mm\n  at (240, 30) mm"),
        True,
    ),
    Case(
        "thin-pocket-floor",
        "two gears' recesses",
        swap("screw ISO 7049, head recessed 7 mm", "screw ISO 7049, head recessed 15 mm"),
        True,
    ),
    Case(
        "thin-pocket-floor",
        "a drive's jam nut",
        swap(
            "jam_nut ISO 4035, below gear, recessed 6 mm, round 24 mm", "jam_nut ISO 4035, below gear, recessed 15 mm, round 24 mm"
        ),
    ),
    Case(
        "thin-pocket-floor",
        "feet's pockets",
        swap("screw ISO 4017, length 30 mm, pocket 5.8 mm", "screw ISO 4017, length 30 mm, pocket 15 mm"),
        True,
    ),
    Case(
        "thin-pocket-floor",
        "from both faces",
        pocket("upper", "(240, 40)", "rectangle 40 by 24 mm", "depth 8 mm")
        + pocket("lower", "(240, 40)", "rectangle 30 by 20 mm", "depth 8 mm", ", underside"),
        True,
    ),
    Case("thin-pocket-floor", "a thin sheet", THIN),
    Case("cut-into-fastener", "the side of an insert", pocket("tray", "(80, 292)", "rectangle 30 by 20 mm", "depth 6 mm"), True),
    Case("cut-into-fastener", "an insert, through and through", hole("peg", "(84, 281)", "diameter 12 mm")),
    Case("narrower-than-cutter", "one hole", hole("peg", "(240, 40)", "diameter 5 mm"), True),
    Case("narrower-than-cutter", "a pocket", pocket("slit", "(240, 40)", "slot 40 by 5 mm"), True),
    Case("narrower-than-cutter", "gears' bores", swap("turns_on pin", "turns_on pin", "bore 5.2 mm") + swap("sleeve outside 8 mm")),
    Case(
        "unrelieved-corner",
        "a polygon",
        adds(
            "pocket rest\n  into deck, topside\n  outline polygon, corner_radius 1.5 mm\n  point (0, 0) mm\n"
            "  point (40, 0) mm\n  point (40, 24) mm\n  point (0, 24) mm\n  depth 5 mm\n  at (240, 40) mm"
        ),
        True,
    ),
    Case(
        "faulty-contour",
        "an outline that crosses itself",
        adds(
            "pocket bow\n  into deck, topside\n  outline polygon\n  point (0, 0) mm\n  point (40, 30) mm\n"
            "  point (40, 0) mm\n  point (0, 30) mm\n  depth 5 mm\n  at (220, 30) mm"
        ),
        True,
    ),
    Case(
        "faulty-contour",
        "points on one line",
        adds(
            "pocket bow\n  into deck, topside\n  outline polygon\n  point (0, 0) mm\n  point (20, 0) mm\n  point (40, 0) mm\n  depth 5 mm\n  at (220, 30) mm"
        ),
    ),
    Case(
        "faulty-contour",
        "a pocket cut twice",
        pocket("one", "(240, 40)", "rectangle 40 by 20 mm") + pocket("two", "(240, 40)", "rectangle 40 by 20 mm"),
    ),
    Case(
        "faulty-contour",
        "a round pocket and a hole",
        pocket("one", "(240, 40)", "circle 20 mm", "through", "") + hole("two", "(240, 40)", "diameter 20 mm"),
    ),
    Case(
        "metal-in-cut-zone",
        "a magnet that stands out",
        adds(
            "magnet holder\n  into deck, topside\n  disc 10 by 3 mm\n  at (20, 100) mm\ncut_zone kerf\n  edge left, width 40 mm, depth 8 mm"
        ),
        True,
    ),
    Case("metal-in-cut-zone", "all over the board", adds("cut_zone\n  edge left, width 460 mm, depth 20 mm")),
    Case(
        "magnet-proud",
        "a stated depth error",
        swap("inserts guide_block", "inserts guide_block", "depth +/- 0.3 mm")
        + adds("magnet holder\n  into deck, underside\n  disc 10 by 3 mm\n  at (240, 30) mm"),
        True,
    ),
    Case(
        "pole-mismatch",
        "two pairs",
        magnets("(150, 100)").replace(
            "  polarity south\n  at lid (100, 100) mm\nmagnet lower",
            "  polarity south\n  at lid (100, 100) mm\n  at lid (150, 100) mm\nmagnet lower",
        ),
    ),
    Case(
        "letter-not-drawn",
        "one letter",
        adds('engrave label\n  into deck\n  text "Höhe"\n  height 8 mm\n  depth 0.5 mm\n  at (240, 325) mm'),
    ),
    Case("part-larger-than-sheet", "only its margin is too much", swap(SHEET, "size 490 by 360 mm"), True),
    Case(
        "part-larger-than-sheet",
        "its grain is stated",
        swap(SHEET, "size 450 by 1220 mm", "face_grain along x") + swap(OUTLINE, OUTLINE, "grain along x"),
        True,
    ),
    Case(
        "part-larger-than-sheet",
        "its grain across",
        swap(SHEET, "size 1220 by 450 mm", "face_grain along x") + swap(OUTLINE, OUTLINE, "grain along y"),
        True,
    ),
    Case(
        "part-larger-than-machine",
        "only its margin is too much",
        adds("machine small\n  work_area 490 by 360 mm") + swap(OUTLINE, OUTLINE, "machine small"),
        True,
    ),
    Case(
        "sheet-larger-than-machine",
        "one panel",
        adds("machine small\n  work_area 900 by 600 mm") + swap(OUTLINE, OUTLINE, "machine small"),
        True,
    ),
    Case("parts-too-close", "in hundredths", swap(SHEET, SHEET, "spacing 5.999 mm")),
    Case("too-few-sheets", "an off-cut alone", swap(SHEET, "off_cut 500 by 400 mm"), True),
    Case("tab-has-no-place", "as high as the sheet", "- gear hub\n+ gear hub\n+   tabs 4, width 3 mm, height 17.7 mm\n", True),
    Case(
        "tab-has-no-place",
        "a board without a straight run",
        swap(OUTLINE, "outline circle 560 mm", "tabs 4, width 400 mm, height 3 mm"),
        True,
    ),
    Case(
        "tab-has-no-place",
        "more tabs than places",
        adds("spacer shim\n  stock ply18\n  cutter straight6\n  outline rectangle 40 by 14 mm\n  tabs 9, width 10 mm, height 3 mm"),
        True,
    ),
    Case(
        "cutter-too-short",
        "one pocket",
        adds("cutter short\n  diameter 4 mm\n  reach 8 mm")
        + pocket("tray", "(240, 40)", "rectangle 40 by 20 mm", "depth 9 mm\n  cutter short").removeprefix("+ \n"),
        True,
    ),
    Case(
        "thickness-not-measured",
        "glued from layers",
        swap("thickness 17.8 +/- 0.2 mm", "thickness 17.8 mm") + swap(OUTLINE, OUTLINE, "layers 2"),
        True,
    ),
    Case("statement-not-yet-used", "gears that are flipped", swap("carries corner", "carries corner", "flip alternate")),
    Case(
        "statement-not-yet-used",
        "two facts of a machine",
        adds("machine router\n  scale 1.002\n  skew 0.02 deg") + swap(OUTLINE, OUTLINE, "machine router"),
    ),
    Case("helper-without-use", "a guide block", "+ helper guide_block\n" + swap("carries corner", "turns_on pin")),
    Case("helper-without-use", "shims", "+ helper shims\n" + swap("carries corner", "turns_on pin")),
)
