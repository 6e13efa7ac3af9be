"""Hand-written fixtures of the second calculation whose boards are the point: several, full of cuts, with bolts through them."""

from __future__ import annotations

# Bolts through the board as pivots, nuts let in from above; a shoulder; a countersunk drive; some in the drawer.
BOLTED = """
- default gear
+ board top
+   stock ply18
+   cutter straight6
+   outline rectangle 500 by 380 mm
+ 
+ have 4 of ISO 4017 M8, length 32 mm
+ 
+ default gear
+   under deck
- thread ST6.3
+   thread M8
- screw ISO 7049, head recessed 7 mm
+   bolt ISO 4017, head recessed 6.5 mm
+   nut ISO 4032, above board, recessed 10 mm
- drill 5 mm
- washers ISO 7093-1 M6, above and below
+   washers ISO 7089, above and below
- sleeve outside 8 mm
+   sleeve outside 10 mm
- bolt ISO 4762, head recessed 9 mm
+   bolt ISO 10642, head recessed 5.5 mm
- play 0.2 mm
+   play 0.4 mm
- nut tee_nut, above gear
+   nut tee_nut, above gear, recessed 2 mm
+   dial marks 12, diameter 50 mm
- pad dome, drop 3 mm
+   pad disc diameter 22 mm, drop 5 mm
+   zeroed before_gluing
+ 
- outline rectangle 480 by 350 mm, corner_radius 12 mm
+   outline rectangle 480 by 350 mm, corner_radius 12 mm
+   under top, at (8, 12) mm
+   clear 1.5 mm
+   bow 0.3 mm
- at deck.centre
+   at deck deck.centre
- kind riding
+   kind riding
+   into deck
"""

# Everything that can be cut into a board, turned, mirrored and in patterns, from both faces; the datum is the topside.
POCKETS = """
- outline rectangle 480 by 350 mm, corner_radius 12 mm
+   outline polygon, corner_radius 9 mm
+   point (0, 0) mm
+   point (480, 0) mm
+   point (480, 350) mm
+   arc (0, 350) mm, through (240, 380) mm
+   datum topside
+ 
+ cutter fine
+   diameter 3 mm
+   reach 12 mm
+ 
+ pocket square
+   into deck, topside
+   outline rectangle 40 by 24 mm, relieved
+   depth 7 mm
+   cutter fine
+   at (60, 30) mm
+   also_mirrored left_right
+   turned 20 deg
+ 
+ pocket handle
+   into deck
+   outline slot 90 by 28 mm
+   through
+   at (240, 340) mm
+ 
+ pocket beneath
+   into deck, underside
+   outline circle 31 mm
+   depth 5 mm
+   bolt_circle 3, diameter 60 mm, around (420, 300) mm, first_at 10 deg
+ 
+ hole dog
+   into deck
+   dowel 19 mm
+   fit push
+   grid 3 by 2, every 50 by 210 mm, first_at (190, 70) mm
+ 
+ hole blind_one
+   into deck, underside
+   diameter 12 mm
+   blind 9 mm
+   at (30, 180) mm
+   mirrored left_right
+ 
+ hole down
+   into deck
+   clearance M6
+   counterbore ISO 4762, underside
+   at (240, 40) mm
+   also_mirrored near_far
+ 
+ hole sunk
+   into deck
+   clearance M5
+   fit coarse
+   counterbore diameter 14 mm, depth 6 mm
+   drill 4.2 mm
+   at (20, 20) mm
+ 
+ magnet disc_a
+   into deck, underside
+   disc 10 by 3 mm
+   fit slide
+   polarity south
+   at (455, 40) mm
+ 
+ engrave name
+   into deck, topside
+   text "A b"
+   height 9 mm
+   depth 0.6 mm
+   at deck.centre + (0, 150) mm
+   also_mirrored near_far
+ 
+ spacer shim
+   stock ply18
+   cutter fine
+   outline rectangle 30 by 20 mm, corner_radius 4 mm
+   bore 8.5 mm
+   quantity 4
"""

# Three boards, dowelled; a stop on the drive; a power driver; two loads, two workpieces.
STOPPED = """
- outline rectangle 480 by 350 mm, corner_radius 12 mm
+   outline rectangle 480 by 350 mm, corner_radius 12 mm
+   under top, centred
+ 
+ board top
+   stock ply18
+   cutter straight6
+   outline rectangle 440 by 330 mm
+ 
+ board skirt
+   stock ply18
+   cutter straight6
+   outline rectangle 480 by 350 mm
+   under deck, centred
+   clear 3 mm
+ 
+ pocket room
+   into skirt
+   outline rectangle 470 by 340 mm
+   through
+   at deck deck.centre
+ 
+ dowel register
+   diameter 10 mm
+   length 30 mm
+   into deck, fit press
+   into top, fit slide
+   at top (20, 40) mm
+   at top (420, 40) mm
+ 
+ workpiece plank
+   thickness 55..62 mm
+   on riser 5 mm
+ 
+ workpiece sheet
+   thickness 200..210 mm
+ 
+ load saw
+   force 120 N at top (100, 60) mm, down
+ 
+ load shove
+   force 40 N at top (220, 165) mm, along x
- at deck.centre
+   at deck deck.centre
- default gear
+ default gear
+   under deck
- kind riding
+   kind riding
+   into deck
- play 0.2 mm
+   play 0.2 mm
+   stop
+   turned_with driver, torque 15 Nm
- pad dome, drop 3 mm
+   pad dome, drop 8 mm
- bolt ISO 4762, head recessed 9 mm
+   bolt ISO 4017, head recessed 9 mm
"""

# Too near everywhere: very wide discs, a low gear that reaches over feet, a skirt with little room, blades over screws, long keepers' likes.
CROWDED = """
- default gear
+ gear low
+   teeth 26
+   on_shaft_with west, below
+ 
+ gear deep
+   teeth 17
+   on_shaft_with low, below
+ 
+ board skirt
+   stock ply18
+   cutter straight6
+   outline rectangle 480 by 350 mm
+   under deck, centred
+   clear 1 mm
+ 
+ pocket room
+   into skirt
+   outline rectangle 476 by 332 mm, corner_radius 30 mm
+   through
+   at deck deck.centre
+ 
+ cut_zone blade
+   into deck
+   edge near, width 110 mm, depth 12 mm
+ 
+ cut_zone side
+   into deck
+   edge right, width 90 mm, depth 3 mm
+ 
+ magnet hidden
+   into deck, underside
+   disc 12 by 4 mm
+   at deck (300, 20) mm
+   at deck (240, 330) mm
+ 
+ magnet shown
+   into deck, topside
+   disc 10 by 3 mm
+   at deck (460, 170) mm
+ 
+ default gear
+   under deck
- at deck.centre
+   at deck deck.centre
- kind riding
+   kind riding
+   into deck
- pad dome, drop 3 mm
+   pad disc, drop 45 mm, diameter 130 mm
- insert my_insert, driven_from topside, flush underside
+   insert my_insert, driven_from topside, flush underside, proud 3 mm
- jam_nut ISO 4035, below gear, recessed 6 mm, round 24 mm
+   jam_nut ISO 4035, below gear, recessed 2 mm, round 15 mm
"""
