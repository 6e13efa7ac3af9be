"""The text of a fixture in inches that uses every kind of cut, for the tests of what is printed."""

from __future__ import annotations

INCH_FIXTURE = """\
fixture stand
  title "Stand"
  hardware inch

sheet ply34
  thickness 0.712 +/- 0.008 in

cutter quarter
  diameter 1/4 in
  reach 1-1/8 in

cutter eighth
  diameter 1/8 in
  reach 3/4 in

cutter vee
  tip_angle 60 deg
  reach 3/8 in

shop
  hole_position +/- 0.005 in
  profile_offset +/- 0.002 in
  bore_clearance 0.008 in
  inserts drill_press
  depth +/- 0.006 in

tooth_form fourpitch
  diametral_pitch 4 per in
  backlash 0.036 in

default gear
  stock ply34
  cutter quarter
  tooth_form fourpitch

board deck
  stock ply34
  cutter quarter
  outline polygon, corner_radius 3/4 in
  point (0, 0) in
  point (22, 0) in
  point (22, 13) in
  arc (0, 13) in, through (11, 14-1/2) in

gear hub
  teeth 18
  at (11, 7) in
  turned_by crank

gear nw, ne, sw, se
  teeth 18
  carries corner

mesh hub
  with ne at 40 deg
  with nw at 140 deg
  with sw at 220 deg
  with se at 320 deg

drive crank
  thread 5/16-18
  bolt ASME B18.3 socket_head_cap_screw, head recessed 0.36 in
  fit fine
  nut tee_nut, above gear
  jam_nut ASME B18.2.2 hex_jam_nut, below gear, recessed 1/4 in, round 1 in
  washers ASME B18.21.1 type_a_narrow, above
  dial marks 6, diameter 1-3/4 in

foot corner
  kind riding
  thread 3/8-16
  screw ASME B18.2.1 hex_cap_screw, length 1-1/4 in, pocket 0.24 in
  pad dome, drop 1/8 in
  insert my_brass, driven_from topside, flush underside

table my_brass is insert
  source "calipers"
  columns thread, outside in, length in, live_from in, live_to in, hole in
  row 3/8-16, 0.625 +/- 0.004, 5/8, 1/8, 39/64, 17/32

table my_tee is tee_nut
  source "two of a bag"
  columns thread, outside_diameter in, barrel_diameter in, length in, height in, flange_thickness in, hole in
  row 5/16-18, 7/8, 0.372, 3/8, 7/16, 0.0625, 3/8

hole dog
  into deck
  dowel 3/4 in
  fit slide
  at (1-3/8, 4-1/2) in
  also_mirrored left_right

hole hold
  into deck
  clearance 1/4-20
  counterbore ASME B18.3 socket_head_cap_screw, topside
  at (1-1/2, 7) in

hole hold_under
  into deck
  clearance 1/4-20
  fit fine
  counterbore ASME B18.3 socket_head_cap_screw, underside
  at (1-1/2, 7) in
  mirrored left_right

pocket key
  into deck, underside
  outline slot 2-1/2 by 3/8 in
  depth 1/4 in
  at (4, 12-1/2) in
  turned 20 deg

pocket square
  into deck, topside
  outline rectangle 1-1/2 by 1 in, relieved
  depth 3/16 in
  cutter eighth
  at (18, 12) in

engrave name
  into deck, topside
  text "STAND 3/4"
  height 3/8 in
  depth 0.02 in
  cutter vee
  at (6, 1) in

magnet catch
  into deck, underside
  disc 3/8 by 1/8 in
  bolt_circle 3, diameter 1-1/2 in, around (17, 1-1/2) in, first_at 30 deg

spacer puck
  stock ply34
  cutter quarter
  outline circle 1-1/2 in
  bore 3/8 in
"""
