"""A fixture of any number of gears, as text: a drive, a row of idlers, and a foot on either side of every second idler."""

from __future__ import annotations

HEAD = """\
fixture many
  hardware metric

sheet ply
  thickness 17.8 +/- 0.2 mm
  size {width} by 1220 mm

cutter straight
  diameter 4 mm
  reach 22 mm

shop
  hole_position +/- 0.1 mm
  profile_offset +/- 0.05 mm
  bore_clearance 0.15 mm
  inserts drill_press
  depth +/- 0.2 mm
  moisture 7..11 percent

tooth_form four
  module 4 mm
  backlash 0.65 mm

default gear
  stock ply
  cutter straight
  tooth_form four

board deck
  stock ply
  cutter straight
  outline rectangle {width} by 400 mm

pivot pin
  thread ST4.8
  screw ISO 7049, head recessed 6 mm
  drill 3.5 mm
  washers ISO 7089 M5, above and below
  sleeve outside 8 mm
  play 0.5 mm

drive crank
  thread M8
  bolt ISO 4762, head recessed 11.2 mm
  fit fine
  nut tee_nut, above gear
  jam_nut ISO 4035, below gear, recessed 6 mm, round 24 mm
  play 0.2 mm

foot corner
  kind riding
  thread M8
  screw ISO 4017, length 30 mm, pocket 5.8 mm
  pad dome, drop 3 mm
  insert brass, driven_from topside, flush underside

table brass is insert
  source "calipers, five of each box"
  columns thread, outside mm, length mm, live_from mm, live_to mm, hole mm
  row M8, 12.0 +/- 0.1, 15, 2, 14, 11.6

gear g0
  teeth 20
  at (60, 200) mm
  turned_by crank
"""

FIRST_X_MM, STEP_MM = 60, 80  # 20 teeth of module 4 mm: 80 mm between neighbours of the row


def many_gears(count: int) -> str:
    """The text of a fixture of `count` gears, at least 4.

    Feet stand at the row's even places, an odd number of meshes from the drive, so that all of them rise alike.
    """
    blocks: list[str] = []
    made, place = 1, 0
    while made < count:
        meshes = []
        if place % 2 == 0 and place:
            for side, angle in (("n", 90), ("s", 270)):
                if made < count:
                    blocks.append(f"gear f{place}{side}\n  teeth 20\n  carries corner\n")
                    meshes.append(f"  with f{place}{side} at {angle} deg\n")
                    made += 1
        if made < count:
            blocks.append(f"gear g{place + 1}\n  teeth 20\n  turns_on pin\n")
            meshes.append(f"  with g{place + 1} at 0 deg\n")
            made += 1
        blocks.append(f"mesh g{place}\n" + "".join(meshes))
        place += 1
    width = 2 * FIRST_X_MM + STEP_MM * place
    return "\n".join([HEAD.format(width=width), *blocks])


def empty_fixture() -> str:
    """The same fixture with the drive and one foot only: what a fixture costs before its gears."""
    return "\n".join([HEAD.format(width=400), "gear f\n  teeth 20\n  carries corner\n", "mesh g0\n  with f at 90 deg\n"])
