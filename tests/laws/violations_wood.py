"""Violations of the rules of sheets, cutters, pockets and walls. Where a border lies is worked out beside each entry."""

from __future__ import annotations

from math import cos, hypot, pi, sin
from random import Random

from tests.laws.borders import Border, adds, swap

SHEET = "size 1220 by 610 mm"
OUTLINE = "outline rectangle 480 by 350 mm, corner_radius 12 mm"
THICKNESS = "thickness 17.8 +/- 0.2 mm"
# The drive, two idlers and two feet of the base, by their places in mm, with the radii of their holes.
FASTENERS = (((240, 175), 4.2), ((132, 175), 2.5), ((348, 175), 2.5), ((75.663, 280.954), 6.75), ((404.337, 69.046), 6.75))


def _cutter(rng: Random, value: float) -> str:
    return swap("diameter 6 mm", f"diameter {value} mm")


def _reach(rng: Random, value: float) -> str:
    """`value`: what the cutter reaches beyond the thickest of the sheet."""
    mean, spread = round(rng.uniform(12, 22), 2), round(rng.uniform(0, 0.5), 2)
    return swap(THICKNESS, f"thickness {mean} +/- {spread} mm") + swap("reach 25 mm", f"reach {mean + spread + value:.4f} mm")


def _cut(rng: Random, value: float) -> str:
    """A hole whose edge reaches `value` mm over the edge of a fastener's hole."""
    (x, y), radius = rng.choice(FASTENERS)
    mine, turn = rng.uniform(max(4, value), 20), rng.uniform(0, 2 * pi)
    apart = max(mine + radius - value, 2.0)
    place = (x + apart * cos(turn), y + apart * sin(turn))
    if any(hypot(place[0] - a, place[1] - b) < mine + 40 and (a, b) != (x, y) for (a, b), _ in FASTENERS):
        return _cut(rng, value)
    return adds(f"hole dog\n  into deck\n  diameter {2 * mine:.3f} mm\n  at ({place[0]:.4f}, {place[1]:.4f}) mm")


def _twice(rng: Random, value: float) -> str:
    x, size = rng.randint(200, 280), rng.randint(7, 14)
    return rng.choice(
        (
            adds(f"hole peg\n  into deck\n  diameter {size} mm\n  at ({x}, 40) mm\n  at ({x}, 40) mm"),
            adds(
                f"hole peg\n  into deck\n  diameter {size} mm\n  at ({x}, 40) mm\nhole dog\n  into deck\n  diameter {size} mm\n  at ({x}, 40) mm"
            ),
            adds(
                f"pocket bow\n  into deck, topside\n  outline polygon\n  point (0, 0) mm\n  point ({size + 20}, {size + 10}) mm\n"
                f"  point ({size + 20}, 0) mm\n  point (0, {size + 10}) mm\n  depth 5 mm\n  at ({x}, 300) mm"
            ),
        )
    )


def _once(rng: Random, value: float) -> str:
    x = rng.randint(200, 280)
    return adds(f"hole peg\n  into deck\n  diameter 12 mm\n  at ({x}, 40) mm\n  at ({x}, {40 + value:.2f}) mm")


def _magnet(rng: Random, value: float) -> str:
    size, thick = rng.choice(((10, 3), (8, 2), (12, 4)))
    return adds(
        f"magnet keeper\n  into deck, {rng.choice(('topside', 'underside'))}\n  disc {size} by {thick} mm\n  at (240, 30) mm"
    ) + swap("inserts guide_block", "inserts guide_block", f"depth +/- {value} mm")


def _drilled(rng: Random, value: float) -> str:
    return adds(f"hole small\n  into deck\n  diameter {value} mm\n  at ({rng.randint(200, 280)}, {rng.choice((40, 310))}) mm")


def _slim_pocket(rng: Random, value: float) -> str:
    return adds(f"pocket slit\n  into deck, topside\n  outline rectangle 60 by {value} mm\n  depth 5 mm\n  at (240, 40) mm")


def _both_faces(rng: Random, value: float) -> str:
    """`value`: how much longer the sheet is than the board with its margins of 1 mm; dowels are 6 mm thick."""
    if rng.random() < 0.5:
        return swap(SHEET, f"size {482 + value:.2f} by 352 mm", "edge_margin 1 mm")
    return swap(SHEET, f"size 482 by {352 + value:.2f} mm", "edge_margin 1 mm")


def _sheet_width(rng: Random, value: float) -> str:
    """The board is 480 by 350 mm and may be turned; the margin is 10 mm: 370 mm."""
    return swap(SHEET, rng.choice((f"size {value} by 610 mm", f"size 610 by {value} mm")))


def _board_size(rng: Random, value: float) -> str:
    return swap(OUTLINE, f"outline rectangle {value} by 350 mm, corner_radius 12 mm")


def _spacing(rng: Random, value: float) -> str:
    return swap(SHEET, SHEET, f"spacing {value} mm")


PAIR = """\
fixture pair
sheet ply
  thickness 17.8 +/- 0.2 mm
cutter straight
  diameter 6 mm
default board
  stock ply
  cutter straight
  outline rectangle 200 by 200 mm
board lid
board bottom
  under lid, centred
default magnet
  disc {size} by 3 mm
magnet upper
  into lid, underside
  polarity {one}
  at lid ({x}, {y}) mm
magnet lower
  into bottom, topside
  polarity {other}
  at lid ({x}, {y}) mm
"""


def _poles(alike: bool) -> Border:
    def make(rng: Random, value: float) -> str:
        one, other = rng.sample(("north", "south"), 2)
        return PAIR.format(one=one, other=one if alike else other, size=rng.choice((6, 8, 10)), x=value, y=rng.randint(30, 170))

    return Border(make, (30, 170)) if alike else Border(make, None, (30, 170))


def _tabs(rng: Random, value: float) -> str:
    gear = rng.choice(("gear hub", "gear west, east"))
    return f"- {gear}\n+ {gear}\n+   tabs {rng.randint(2, 5)}, width {value} mm, height 3 mm\n"


def _bare_thickness(rng: Random, value: float) -> str:
    return swap(THICKNESS, f"thickness {value} mm")


def _measured(rng: Random, value: float) -> str:
    return swap(THICKNESS, rng.choice((f"thickness {value} +/- 0.1 mm", f"thickness {value}..{value + 0.2:.3f} mm")))


def _floor(rng: Random, value: float) -> str:
    """The sheet is 17.6 mm at its thinnest; 3 mm have to stay."""
    where = "at (240, 30) mm"
    return rng.choice(
        (
            adds(f"pocket tray\n  into deck, topside\n  outline rectangle 40 by 20 mm\n  {where}\n  depth {value} mm"),
            adds(f"hole peg\n  into deck, topside\n  diameter 10 mm\n  blind {value} mm\n  {where}"),
        )
    )


def _wall(rng: Random, value: float) -> str:
    """A hole with `value` mm of wood to the edge, or to another hole."""
    radius = round(rng.uniform(3.5, 8), 2)
    if rng.random() < 0.5:
        x, y = rng.choice(((240, radius + value), (240, 350 - radius - value), (radius + value, 175), (480 - radius - value, 175)))
        return adds(f"hole peg\n  into deck\n  diameter {2 * radius} mm\n  at ({x:.4f}, {y:.4f}) mm")
    return adds(
        f"hole peg\n  into deck\n  diameter {2 * radius} mm\n  at (230, 40) mm\n  at ({230 + 2 * radius + value:.4f}, 40) mm"
    )


def _sheets(rng: Random, value: float) -> str:
    """The board and seven gears of 132 mm are 0.29 m², a sheet of 500 by 610 mm 0.305 m²: gears leave more between them than that."""
    return swap(SHEET, f"size {rng.randint(500, 520)} by 610 mm", f"sheets {int(value)}")


def _corners(rng: Random, value: float) -> str:
    return adds(
        f"pocket rest\n  into deck, topside\n  outline rectangle {rng.randint(30, 60)} by 20 mm, corner_radius {value} mm\n"
        f"  depth 6 mm\n  at (240, 30) mm"
    )


def _relieved(rng: Random, value: float) -> str:
    return adds(
        f"pocket rest\n  into deck, topside\n  outline rectangle 40 by 20 mm, corner_radius {value} mm, relieved\n  depth 6 mm\n  at (240, 30) mm"
    )


WOOD: dict[str, tuple[Border, ...]] = {
    "cutter-too-short": (Border(_reach, (-8, -0.01), (0.01, 10)),),
    "cut-into-fastener": (Border(_cut, (1.5, 8), (-30, -6)),),
    "faulty-contour": (Border(_twice, (0, 1)), Border(_once, None, (16, 24))),
    # 13 mm across flats, 14.4 to 15.0 mm across corners: the pages' examples lie at 7.5 and 6.5 mm.
    "hex-corner-not-cut": (Border(_cutter, (7.5, 12), (3, 6.5)),),
    # The hole is 0.15 mm deeper than the magnet.
    "magnet-proud": (Border(_magnet, (0.16, 0.6), (0.02, 0.14)),),
    "narrower-than-cutter": (
        Border(_drilled, (1, 5.9), None),
        Border(_slim_pocket, (1, 5.9), None),
        Border(_drilled, None, (6.1, 12)),
    ),
    "no-room-for-registration": (Border(_both_faces, (0, 5), (60, 300)),),
    "part-larger-than-sheet": (Border(_sheet_width, (100, 369.9), (370.1, 600)), Border(_board_size, (1200.5, 2000), (400, 1199))),
    "parts-too-close": (Border(_spacing, (0.5, 5.95), (6.05, 20)),),
    "pole-mismatch": (_poles(True), _poles(False)),
    # Tips of 16 and 20 teeth of 6 mm modules are 4 to 5 mm wide.
    "tab-has-no-place": (Border(_tabs, (5.5, 14), (1.5, 3)),),
    "thickness-not-measured": (Border(_bare_thickness, (15, 21)), Border(_measured, None, (15, 21))),
    "thin-pocket-floor": (Border(_floor, (14.65, 17.4), (3, 14.3)),),
    "thin-wall": (Border(_wall, (0.1, 1.95), (2.05, 12)),),
    "too-few-sheets": (Border(_sheets, (1, 1), (2, 4), whole=True),),
    "unrelieved-corner": (Border(_corners, (0.3, 2.9), (3.05, 9)), Border(_relieved, None, (0.5, 2.9))),
}
