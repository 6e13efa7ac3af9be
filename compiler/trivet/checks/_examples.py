"""The base fixture that rule pages edit, and how an edit is applied.

An example is a text of lines: `- old` takes out the one line of the base that reads so (spaces apart), the `+ new` lines after it
go in at that place; `+` lines before any `-` go to the end. An example that begins with `fixture` is a whole file.
"""

from __future__ import annotations

BASE = """\
# Four riding feet, two idlers, one hub.
fixture base
  hardware metric

sheet ply18
  thickness 17.8 +/- 0.2 mm
  size 1220 by 610 mm

cutter straight6
  diameter 6 mm
  reach 25 mm

shop
  inserts guide_block

tooth_form coarse
  module 6 mm
  backlash 0.5 mm

default gear
  stock ply18
  cutter straight6
  tooth_form coarse

board deck
  stock ply18
  cutter straight6
  outline rectangle 480 by 350 mm, corner_radius 12 mm

gear hub
  teeth 16
  at deck.centre
  turned_by crank

gear west, east
  teeth 20
  turns_on pin

gear nw, sw, ne, se
  teeth 20
  carries corner

mesh hub
  with west at 180 deg
  with east at 0 deg

mesh west
  with nw at 118 deg
  with sw at 242 deg

mesh east
  with ne at 62 deg
  with se at 298 deg

drive crank
  thread M8
  bolt ISO 4762, head recessed 9 mm
  fit fine
  nut tee_nut, above gear
  jam_nut ISO 4035, below gear, recessed 6 mm, round 24 mm
  play 0.2 mm

pivot pin
  thread ST6.3
  screw ISO 7049, head recessed 7 mm
  drill 5 mm
  washers ISO 7093-1 M6, above and below
  sleeve outside 8 mm
  play 0.3 mm

foot corner
  kind riding
  thread M8
  screw ISO 4017, length 30 mm, pocket 5.8 mm
  pad dome, drop 3 mm
  insert my_insert, driven_from topside, flush underside

table my_insert is insert
  source "measured: five of a box of fifty"
  columns thread, outside mm, length mm, live_from mm, live_to mm, hole mm
  row M8, 16.0 +/- 0.1, 15, 4, 15, 13.5
"""


def example_text(example: str) -> str:
    """The whole file that an example stands for. Raises ValueError when an edit finds no line, or more than one."""
    stripped = example.strip("\n")
    if stripped.lstrip().startswith(("fixture", "#")):
        return stripped + "\n"
    lines = BASE.splitlines()
    at = len(lines)
    for edit in stripped.splitlines():
        sign, text = edit[:1], edit[2:]
        if sign == "-":
            places = [index for index, line in enumerate(lines) if line.split() == text.split()]
            if len(places) != 1:
                raise ValueError(f"{text!r} stands {len(places)} times in the base")
            (at,) = places
            del lines[at]
        elif sign == "+":
            lines.insert(at, text)
            at += 1
        elif edit.strip():
            raise ValueError(f"{edit!r} is no edit")
    return "\n".join(lines) + "\n"
