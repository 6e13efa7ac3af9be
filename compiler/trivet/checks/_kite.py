"""A closed ring of four gears for the examples of its rules: module 4 mm, 20 teeth driving, twice 30, then 40.

The hub stands at (100, 200) mm; `far` is the distance from it to the last gear, `angle` the direction to the two between, both from
the triangle with sides 100 mm (20 + 30 teeth) and 140 mm (30 + 40 teeth).
"""

from __future__ import annotations

import math


def kite(far_mm: float) -> str:
    """The whole file with the last gear at `far_mm` from the hub."""
    angle = math.degrees(math.acos((far_mm**2 + 100.0**2 - 140.0**2) / (2.0 * far_mm * 100.0)))
    return f"""fixture kite
  hardware metric

sheet ply18
  thickness 17.8 +/- 0.2 mm

cutter straight4
  diameter 4 mm

tooth_form teeth
  module 4 mm
  backlash 0.8 mm

default gear
  stock ply18
  cutter straight4
  tooth_form teeth

board deck
  stock ply18
  cutter straight4
  outline rectangle 420 by 400 mm

gear hub
  teeth 20
  at (100, 200) mm
  turned_by crank

gear near_one, near_two
  teeth 30
  turns_on pin

gear last
  teeth 40
  at ({100.0 + far_mm:.6f}, 200) mm
  turns_on pin

mesh hub
  with near_one at {angle:.6f} deg
  with near_two at -{angle:.6f} deg

mesh last
  with near_one
  with near_two

drive crank
  thread M8
  bolt ISO 4762
  nut tee_nut, above gear

pivot pin
  thread ST6.3
  screw ISO 7049
  drill 5 mm
  sleeve outside 8 mm
"""
