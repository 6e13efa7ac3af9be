"""Fixtures written by hand for the second calculation: what the generated corpus lacks, as edits to the rules' base fixture.

Many are no good fixtures (some bind, some part): every figure has to be right in a bad one too.
"""

from __future__ import annotations

from tests.oracles.second_texts_boards import BOLTED, CROWDED, POCKETS, STOPPED

from trivet.checks._examples import example_text

LEFT_ROW = """
- row M8, 16.0 +/- 0.1, 15, 4, 15, 13.5
+   row M8, 16.0 +/- 0.1, 15, 4, 15, 13.5
+   row M8-LH, 16.2 +/- 0.1, 14, 3, 13, 13.2
+   row M10, 18.5 +/- 0.1, 15, 3, 14, 15.0
"""

# The nut lies in the topside; the rod runs left-handed in a plate of two layers, with a swivel pad; keepers across the train.
CAPTURED = """
- outline rectangle 480 by 350 mm, corner_radius 12 mm
+   outline rectangle 480 by 350 mm, corner_radius 12 mm
+   layers 2
+   machine router
- kind riding
+   kind captured_nut
- screw ISO 4017, length 30 mm, pocket 5.8 mm
+   rod DIN 976-1, length 80 mm
+   nut ISO 4032, pocket topside
+   held_by keeper, stock thin, outline slot 186 by 60 mm
+   keeper_screws ISO 7049 ST3.5, count 2, head recessed 4 mm, drill 2.7 mm
+   stand_offs sleeve outside 7 mm
+   rod_stop cross_pin 4 mm
- pad dome, drop 3 mm
+   pad swivel, drop 9.5 mm, diameter 30 mm
- insert my_insert, driven_from topside, flush underside
+ 
+ sheet thin
+   thickness 11.9..12.3 mm
+   material baltic_birch_plywood
+ 
+ machine router
+   hole_position +/- 0.07 mm
+   run_out 0.04 mm
+ 
+ machine table
+   profile_offset +/- 0.03 mm
+   run_out 0.02 mm
+ 
+ load top
+   force 80 N at (200, 150) mm, down
- backlash 0.5 mm
+   backlash 0.7 mm
"""

# A disc wider than the head under a short screw; the insert is a tee nut in the topside; a deep socket.
SLIDING = """
- kind riding
+   kind sliding_hex
- screw ISO 4017, length 30 mm, pocket 5.8 mm
+   screw ISO 4017, length 30 mm
+   socket depth 16 mm
+   held_by keeper, stock ply18, outline circle 176 mm
+   stand_offs wood 14 mm
- pad dome, drop 3 mm
+   post disc, drop 30 mm, diameter 15 mm, grip
- insert my_insert, driven_from topside, flush underside
+   insert tee_nut, driven_from topside, flush topside
- inserts guide_block
+   inserts 0.7 deg
+   depth +/- 0.3 mm
+   bore_clearance 0.25 mm
+   run_out 0.06 mm
- thickness 17.8 +/- 0.2 mm
+   thickness 17.4..18.1 mm
+   material birch_plywood
"""

# Idlers on right-hand screws of another size; the feet run left-handed, their inserts stand proud; a guide holds the screws.
CLIMBING = f"""
- turns_on pin
+   carries climber
- insert my_insert, driven_from topside, flush underside
+   insert my_insert, driven_from underside, flush underside, proud 1.5 mm
+   guide clearance 0.3 mm, length 30 mm
+   zeroed
+ 
+ foot climber
+   kind riding
+   thread M10
+   screw ISO 4017, length 30 mm, pocket 6.4 mm
+   insert my_insert, driven_from topside, flush underside
+   climbs from 2 mm
{LEFT_ROW}
"""

# Two levels: a wheel above, a pinion of two layers below it on one shaft; webs; a hub of thin wood; nothing stated of lengths.
_TWO_LEVELS = """
- gear west, east
+ gear west, east
+   web spokes 4, width 16 mm
- turns_on pin
+   turns_on pin
+ 
+ gear second
+   teeth 12
+   on_shaft_with wheel, SIDE
+   layers 2
+ 
+ gear third
+   teeth 14
+   on_shaft_with second, SIDE
+ 
+ gear wheel
+   teeth 34
+   turns_on pin
+   web holes 5, diameter 30 mm
+ 
- at deck.centre
+   stock thin
- turned_by crank
+   turned_by crank
+ 
+ gear middle
+   teeth 18
+   at deck.centre
+   turns_on pin
- mesh hub
+ mesh hub
+   with wheel at 75 deg
+ 
+ mesh second
+   with middle at 200 deg
+ 
+ mesh middle
- screw ISO 4017, length 30 mm, pocket 5.8 mm
+   screw ISO 4017, length LONG, pocket 5.8 mm
- outline rectangle 480 by 350 mm, corner_radius 12 mm
+   outline rectangle 800 by 750 mm
+   layers 2
+   grain along y
+ 
+ sheet thin
+   thickness 12.1 +/- 0.3 mm
+   material birch_plywood
+ 
- sleeve outside 8 mm
+   sleeve outside 10 mm
- pad dome, drop 3 mm
+   pad dome, drop DROP mm
"""
BELOW = _TWO_LEVELS.replace("SIDE", "below").replace("LONG", "60 mm").replace("DROP", "25")
ABOVE = _TWO_LEVELS.replace("SIDE", "above").replace("LONG", "45 mm").replace("DROP", "42")

# Shifted teeth at 25 deg, stated distances, stub tips, odd angles; a tooth form states its face; idlers on bare threads.
SHIFTED = """
- backlash 0.5 mm
+   backlash 0.6 mm
+   pressure_angle 25 deg
+   face_overlap 9 mm
+   tip_shortening 0.3 mm
+   dedendum 1.3
- teeth 16
+   teeth 17
+   profile_shift 0.3
- gear west, east
+ gear west, east
+   web spokes 7, width 22 mm
- with west at 180 deg
+   with west at 171.3 deg, centre_distance 113.2 mm
- with east at 0 deg
+   with east at 12.7 deg
- with nw at 118 deg
+   with nw at 101 deg, centre_distance 120.25 mm
- sleeve outside 8 mm
- washers ISO 7093-1 M6, above and below
+   washers ISO 7093-1 M6, above
- play 0.2 mm
+   washers ISO 7089, above and below
- fit fine
+   fit coarse
- jam_nut ISO 4035, below gear, recessed 6 mm, round 24 mm
+   jam_nut ISO 4035, below gear, recessed 7.5 mm
- nut tee_nut, above gear
+   nut ISO 4032, above gear, recessed 4 mm
- inserts guide_block
+   hole_position +/- 0.2 mm
+   profile_offset +/- 0.08 mm
+   moisture 5..14 percent
- thickness 17.8 +/- 0.2 mm
+   thickness 17.8 +/- 0.2 mm
+   material birch_plywood
+   face_grain along y
"""

# A laminated hub and feet of sheets without deviation; inserts driven from below, flush with the topside.
LAYERED = f"""
- thickness 17.8 +/- 0.2 mm
+   thickness 17.8 +/- 0 mm
+   material birch_plywood
- carries corner
+   carries corner
+   layers 2
+   web holes 4, diameter 20 mm
- turned_by crank
+   turned_by crank
+   layers 3
- screw ISO 4017, length 30 mm, pocket 5.8 mm
+   screw ISO 4017, length 45 mm, pocket 7 mm
- insert my_insert, driven_from topside, flush underside
+   insert my_insert, driven_from underside, flush topside
- washers ISO 7093-1 M6, above and below
+   washers ISO 7093-1 M6, below
- sleeve outside 8 mm
+   shoulder 7 mm
- play 0.3 mm
- play 0.2 mm
{LEFT_ROW}
"""


def _fixture(edits: str, foot: str = "M8") -> str:
    """The base with edits; `foot`: the thread of its feet, a line that stands twice in the base."""
    before, after = example_text(edits).split("foot corner\n")
    return f"{before}foot corner\n{after.replace('thread M8', f'thread {foot}', 1)}"


HAND = {
    "base": _fixture(""),
    "captured": _fixture(CAPTURED, "M10-LH"),
    "sliding": _fixture(SLIDING),
    "climbing": _fixture(CLIMBING, "M8-LH"),
    "below": _fixture(BELOW),
    "above": _fixture(ABOVE),
    "shifted": _fixture(SHIFTED),
    "layered": _fixture(LAYERED),
    "bolted": _fixture(BOLTED),
    "pockets": _fixture(POCKETS),
    "stopped": _fixture(STOPPED),
    "crowded": _fixture(CROWDED),
}
