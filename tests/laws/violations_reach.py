"""Violations of the rules of what reaches too far: gears past edges, boards past their feet, parts and sheets past machines, cuts of two faces."""

from __future__ import annotations

from math import asin, degrees
from random import Random

from tests.laws.borders import Border, adds, swap

OUTLINE = "outline rectangle 480 by 350 mm, corner_radius 12 mm"
INSERT = "insert my_insert, driven_from topside, flush underside"
SCREW = "screw ISO 4017, length 30 mm, pocket 5.8 mm"
PAD = "pad dome, drop 3 mm"
SHOP = "inserts guide_block"


def _edge(rng: Random, value: float) -> str:
    """Feet stand 120 sin 62 deg = 105.954 mm above and below the middle, and 66 mm over the tips: 343.908 mm in all."""
    return swap(OUTLINE, f"outline rectangle 480 by {value} mm" + rng.choice(("", ", corner_radius 12 mm")))


def _side(rng: Random, value: float) -> str:
    """And 108 + 120 cos 62 deg = 164.337 mm to either side: 460.673 mm in all."""
    return swap(OUTLINE, f"outline rectangle {value} by 350 mm")


def _round_board(rng: Random, value: float) -> str:
    """195.53 mm from the middle to the feet and 66 mm over the tips: a circle of 523.06 mm."""
    return swap(OUTLINE, f"outline circle {value} mm")


def _one_gear(rng: Random, value: float) -> str:
    """A spare idler of 20 teeth right above the hub, in the middle: 108 + 66 mm to its tips, so a board of 348 mm."""
    spare = "gear spare\n  teeth 20\n  turns_on pin\nmesh hub\n  with spare at 90 deg"
    return swap(OUTLINE, f"outline rectangle 700 by {value} mm") + adds(spare)


FEW = """\
fixture few
sheet ply
  thickness 17.8 +/- 0.2 mm
cutter straight
  diameter 6 mm
tooth_form teeth_form
  module 6 mm
  backlash 0.5 mm
default gear
  stock ply
  cutter straight
  tooth_form teeth_form
board deck
  stock ply
  cutter straight
  outline rectangle 500 by 500 mm
gear hub
  teeth {hub}
  at deck.centre
  turned_by crank
gear {names}
  teeth 20
  carries leg
mesh hub
{meshes}
drive crank
  thread M8
  bolt ISO 4762, head recessed 9 mm
  nut tee_nut, above gear
  jam_nut ISO 4035, below gear, recessed 6 mm, round 24 mm
foot leg
  kind riding
  thread M8
  screw ISO 4017, length 30 mm, pocket 5.8 mm
  pad dome, drop 3 mm
  insert brass, driven_from topside, flush underside
table brass is insert
  source "calipers, five of a box"
  columns thread, outside mm, length mm, live_from mm, live_to mm, hole mm
  row M8, 12.0, 15, 2, 14, 11.6
"""


def _few(angles: list[float], hub: int = 24, more: str = "") -> str:
    names = [f"leg_{index}" for index in range(len(angles))]
    meshes = "\n".join(f"  with {name} at {angle:.5f} deg" for name, angle in zip(names, angles, strict=True))
    return FEW.format(hub=hub, names=", ".join(names), meshes=meshes) + more


def _count(rng: Random, value: float) -> str:
    """So many feet evenly round the hub."""
    begin = rng.uniform(0, 360)
    return _few([(begin + index * 360 / value) % 360 for index in range(int(value))], rng.randint(22, 40))


def _row(rng: Random, value: float) -> str:
    """Two feet on a line through the hub and a third `value` mm off it: (24 + 20) 6 / 2 = 132 mm from the hub, at that sine."""
    begin = rng.uniform(0, 300)
    return _few([begin, begin + 180 if begin < 180 else begin - 180, begin + degrees(asin(value / 132))])


def _on_a_block(rng: Random, value: float) -> str:
    """Blocks without a bore, or pins in one board, may carry it."""
    more = rng.choice(
        (
            "spacer block\n  stock ply\n  cutter straight\n  outline rectangle 80 by 40 mm\n",
            "dowel leg_pin\n  diameter 20 mm\n  length 60 mm\n  into deck, fit press\n  at (40, 40) mm\n",
        )
    )
    return _few([value, (value + 180) % 360], more=more)


def _by(rng: Random, one: float, other: float) -> str:
    return rng.choice((f"{one} by {other}", f"{other} by {one}"))


def _gear_on_machine(rng: Random, value: float) -> str:
    """18 x 6 mm over the tips of 16 teeth, and a margin of 10 mm all round: 128 mm."""
    return adds(f"machine bench\n  work_area {_by(rng, value, 400)} mm") + swap("teeth 16", "teeth 16", "machine bench")


def _board_on_machine(rng: Random, value: float) -> str:
    """The board is 480 by 350 mm: with the margin 500 by 370 mm, whichever way it lies."""
    return adds(f"machine bench\n  work_area {_by(rng, value, 600)} mm") + swap(OUTLINE, OUTLINE, "machine bench")


def _no_margin(rng: Random, value: float) -> str:
    """Without a margin, the board itself."""
    return _board_on_machine(rng, value) + swap("size 1220 by 610 mm", "size 1220 by 610 mm", "edge_margin 0 mm")


def _sheet_on_machine(rng: Random, value: float) -> str:
    """The sheet is 1220 by 610 mm."""
    return adds(f"machine bench\n  work_area {_by(rng, value, 700)} mm") + swap(OUTLINE, OUTLINE, "machine bench")


def _guide(rng: Random, value: float) -> str:
    """A guide bore from the underside, its insert from the topside: twice the hole position p and 0.05 mm may lie between them, and the
    screw has half the guide's clearance and 0.075 mm in its thread. So the border lies at a clearance of 4 p - 0.05 mm.
    """
    position = round(rng.uniform(0.12, 0.3), 3)
    clearance = 4 * position - 0.05 + value
    shop = f"hole_position +/- {position} mm"
    own = adds(f"machine bench\n  {shop}") + swap(OUTLINE, OUTLINE, "machine bench")
    where = own if rng.random() < 0.4 else swap(SHOP, SHOP, shop)
    insert = "insert my_insert, driven_from topside, flush topside"
    return where + swap(INSERT, insert, f"guide clearance {clearance:.4f} mm, length 2 mm")


def _one_face(rng: Random, value: float) -> str:
    """From the datum face both are cut at one setting."""
    insert = "insert my_insert, driven_from underside, flush underside"
    return swap(SHOP, SHOP, f"hole_position +/- {value} mm") + swap(INSERT, insert, "guide clearance 0.1 mm, length 2 mm")


def _head(rng: Random, value: float) -> str:
    """ISO 4762 M8: a head of 13.27 mm in 15 mm, a bolt of 8 mm in 8.4 mm: 1.065 mm to either side, less 0.05 mm, halved: 0.5075 mm."""
    return swap(SHOP, SHOP, f"hole_position +/- {value} mm")


def _disc(rng: Random, value: float) -> str:
    """An idler 120 mm from the foot reaches 66 mm towards it: a disc wider than 108 mm lies under its teeth, some 2 mm lower.

    The idler droops by 66 x 0.2 / 10.8 = 1.22 mm, the disc leans by 0.5 mm and more, and warp may take 0.88 mm.
    """
    return swap(SCREW, "screw ISO 4017, length 30 mm, pocket 1 mm") + swap(PAD, f"pad disc diameter {value} mm, drop {rng.randint(5, 9)} mm")


def _over_insert(rng: Random, value: float) -> str:
    """The insert ends 17.8 - 15 = 2.8 mm under the topside, and 0.5 mm of it may be bare: pockets of 3.3 mm."""
    off = round(rng.uniform(5.5, 9), 2)
    return adds(
        f"pocket tray\n  into deck, topside\n  outline rectangle 14 by 14 mm\n  depth {value} mm\n  at ({75.663 + off:.3f}, 280.954) mm"
    )


REACH: dict[str, tuple[Border, ...]] = {
    "cut-into-fastener": (Border(_over_insert, (3.35, 9), (0.5, 3.25)),),
    "gear-past-edge": (
        Border(_edge, (260, 343.85), (343.95, 500)),
        Border(_side, (380, 460.6), (460.75, 700)),
        Border(_round_board, (450, 523), (523.2, 700)),
        Border(_one_gear, (344, 347.9), (348.1, 500)),
    ),
    "leaning-gear-touches": (Border(_disc, (108.5, 180), (30, 107.5)),),
    "part-larger-than-machine": (
        Border(_gear_on_machine, (40, 127.9), (128.1, 600)),
        Border(_board_on_machine, (100, 369.9), (370.1, 900)),
        Border(_no_margin, (100, 349.9), (350.1, 900)),
    ),
    "sheet-larger-than-machine": (Border(_sheet_on_machine, (520, 1219.9), (1220.1, 3000)),),
    "split-between-faces": (
        Border(_guide, (-0.3, -0.005), (0.005, 0.6)),
        Border(_one_face, None, (0.1, 0.5)),
        Border(_head, (0.512, 1), (0.05, 0.503)),
    ),
    "too-few-feet": (
        Border(_count, (1, 2), (3, 6), whole=True),
        Border(_row, (0, 0.98), (1.02, 60)),
        Border(_on_a_block, None, (0, 359)),
    ),
}
