"""Whole fixtures of other shapes than the base of the checks: a metric shelf, a board on six feet in inches, a ring under two boards."""

from __future__ import annotations

SHELF = """\
fixture shelf
  hardware metric

sheet birch18
  thickness 18.1 +/- 0.2 mm
  size 1200 by 600 mm
  face_grain along x

cutter mill6
  diameter 6 mm
  reach 32 mm

shop
  hole_position +/- 0.1 mm
  bore_clearance 0.15 mm
  inserts drill_press

tooth_form m6
  module 6 mm
  backlash 0.8 mm

default gear
  stock birch18
  cutter mill6
  tooth_form m6

board top
  stock birch18
  cutter mill6
  outline rectangle 380 by 360 mm, corner_radius 15 mm

gear centre
  teeth 21
  at top.centre
  turned_by handle

gear a, b, c, d
  teeth 18
  carries leg

mesh centre
  with a at 45 deg
  with b at 135 deg
  with c at 225 deg
  with d at 315 deg

drive handle
  thread M8
  bolt ISO 4762, head recessed 11.2 mm
  fit fine
  nut tee_nut, above gear
  jam_nut ISO 4035, below gear, recessed 6 mm, round 24 mm

foot leg
  kind riding
  thread M8
  screw ISO 4017, length 30 mm, pocket 5.8 mm
  pad dome, drop 3 mm
  insert bought, driven_from topside, flush underside

table bought is insert
  source "calipers"
  columns thread, outside mm, length mm, live_from mm, live_to mm, hole mm
  row M8, 12.0 +/- 0.1, 15, 2, 14, 11.2
"""

SIX_FEET = """\
fixture outfeed
  hardware inch
  units in

sheet ply34
  thickness 0.709 +/- 0.006 in
  size 96 by 48 in

cutter eighth
  diameter 1/8 in
  reach 1-1/8 in

shop
  hole_position +/- 0.004 in
  profile_offset +/- 0.002 in
  bore_clearance 0.006 in
  inserts drill_press
  depth +/- 0.006 in

tooth_form dp6
  diametral_pitch 6 per in
  backlash 0.03 in

default gear
  stock ply34
  cutter eighth
  tooth_form dp6

board slab
  stock ply34
  cutter eighth
  outline rectangle 30 by 14 in

gear hub
  teeth 24
  at slab.centre
  turned_by crank

gear w, e
  teeth 30
  turns_on pin

gear w_n, w_s, w_w, e_n, e_s, e_e
  teeth 24
  carries corner

mesh hub
  with w at 180 deg
  with e at 0 deg

mesh w
  with w_n at 105 deg
  with w_s at 255 deg
  with w_w at 180 deg

mesh e
  with e_n at 75 deg
  with e_s at 285 deg
  with e_e at 0 deg

drive crank
  thread 5/16-18
  bolt ASME B18.3 socket_head_cap_screw, head recessed 13/32 in
  fit fine
  nut tee_nut, above gear
  jam_nut ASME B18.2.2 hex_jam_nut, below gear, recessed 5/16 in, round 1 in

pivot pin
  thread no_10
  screw ASME B18.6.4 type_ab_pan, head recessed 1/4 in
  drill 1/8 in
  washers ASME B18.21.1 type_a no_10, above and below
  sleeve outside 5/16 in
  play 0.025 in

foot corner
  kind riding
  thread 3/8-16
  screw ASME B18.2.1 hex_cap_screw, length 1-1/4 in, pocket 1/4 in
  pad dome, drop 1/8 in
  insert bought, driven_from topside, flush underside

table bought is insert
  source "calipers"
  columns thread, outside in, length in, live_from in, live_to in, hole in
  row 3/8-16, 0.56 +/- 0.004, 0.625, 0.06, 0.609, 17/32

table two_tee_nuts is tee_nut
  source "calipers"
  columns thread, outside_diameter in, barrel_diameter in, length in, height in, flange_thickness in, hole in
  row 5/16-18, 0.875, 0.372, 3/8, 0.437, 0.062, 3/8
"""

RING = (
    SHELF.replace("board top\n", "board lid\n  stock birch18\n  cutter mill6\n  outline rectangle 480 by 480 mm\n\nboard top\n")
    .replace("rectangle 380 by 360 mm, corner_radius 15 mm\n", "rectangle 500 by 500 mm\n  under lid, centred\n")
    .replace("tooth_form m6\n\nboard", "tooth_form m6\n  under top\n\nboard")
    .replace("  teeth 21\n  at top.centre\n", "  teeth 22\n")
    .replace("gear a, b, c, d\n  teeth 18\n", "gear i, j\n  teeth 22\n  turns_on pin\n\ngear a, b, c\n  teeth 22\n")
    .replace(
        "mesh centre\n  with a at 45 deg\n  with b at 135 deg\n  with c at 225 deg\n  with d at 315 deg\n",
        "ring train\n  gears a, i, b, j, c, centre\n  around lid.centre\n  first_at 90 deg\n",
    )
    .replace("  kind riding\n", "  kind riding\n  into top\n")
    + """
pivot pin
  thread ST4.8
  screw ISO 7049, head recessed 6 mm
  drill 3.5 mm
  washers ISO 7089 M5, above and below
  sleeve outside 8 mm
  play 0.6 mm
"""
)

# Four feet whose gears stay while the screws' heads slide in sockets.
SOCKETS = (
    SHELF.replace("board top\n", "board top\n  layers 2\n")
    .replace("rectangle 380 by 360 mm", "rectangle 480 by 480 mm")
    .replace("gear a, b, c, d\n", "gear a, b, c, d\n  layers 2\n")
    .replace("length 30 mm, pocket 5.8 mm", "length 60 mm")
    .replace("  kind riding\n", "  kind sliding_hex\n  socket depth 12 mm\n  held_by keeper, stock birch18, outline rectangle 150 by 60 mm\n")
    .replace("pad dome, drop 3 mm", "post dome, drop 34 mm")
    .replace("driven_from topside", "driven_from underside")
    .replace("thread M8\n  screw", "thread M10\n  screw")
    .replace("row M8, 12.0 +/- 0.1, 15, 2, 14, 11.2", "row M10, 14.0 +/- 0.1, 18, 2, 17, 13.2")
    + '\naccept insert-wrong-way because "set in epoxy"\nrequire travel >= 10 mm\n'
)
