"""Fixtures whose train turns wrongly, or stands nowhere, one for each way in which it is said."""

from __future__ import annotations

from tests.laws.borders import adds, swap
from tests.messages.case import Case

from trivet.checks._kite import kite

TRAIN = (
    "feet-turn-opposite", "feet-rise-differently", "foot-not-driven", "gear-not-driven", "no-drive", "several-drives", "odd-ring",
    "ring-speeds-differ", "ring-out-of-phase", "closed-ring", "coarse-step", "many-turns",
)  # fmt: skip
PLACES = (
    "gear-without-place",
    "gear-places-differ",
    "gear-levels-differ",
    "gears-collide",
    "gear-past-edge",
    "too-few-feet",
    "nothing-declared",
    "gears-joined-by-nothing",
)
FEET = "- gear nw, sw, ne, se\n+ gear ne, se\n"
ROW = "row M8, 16.0 +/- 0.1, 15, 4, 15, 13.5"
ONE_GEAR = """\
fixture alone
  hardware metric

sheet ply
  thickness 17.8 +/- 0.2 mm

cutter straight
  diameter 6 mm

tooth_form teeth_form
  module 6 mm
  backlash 0.5 mm

board deck
  stock ply
  cutter straight
  outline rectangle 300 by 300 mm

gear only
  stock ply
  cutter straight
  tooth_form teeth_form
  teeth 20
  at deck.centre
  turns_on pin

pivot pin
  thread ST6.3
  screw ISO 7049
  drill 5 mm
  sleeve outside 8 mm
"""

KITE = kite(200.059485)
# The line through `sw` and `ne` crosses the circle of 120 mm about `east` again 14 mm beyond the hub's middle.
IN_LINE = "- gear nw, sw, ne, se\n+ gear sw, ne, se\n-   with nw at 118 deg\n" + swap("with se at 298 deg", "with se at 183.62 deg")


def two_feet(*facts: str) -> str:
    """Two feet's gears as a block of their own."""
    return adds("gear sw, nw\n" + "\n".join(f"  {fact}" for fact in facts)) + FEET


def ring_of_feet(text: str) -> str:
    """The kite with feet at the two gears between."""
    foot = (
        "\nfoot leg\n  kind riding\n  thread M8\n  screw ISO 4017, length 30 mm, pocket 5.8 mm\n  pad dome, drop 3 mm\n"
        '  insert brass, driven_from topside, flush underside\n\ntable brass is insert\n  source "calipers"\n'
        "  columns thread, outside mm, length mm, live_from mm, live_to mm, hole mm\n  row M8, 16.0 +/- 0.1, 15, 4, 15, 13.5\n"
    )
    head, tail = text.split("gear near_one, near_two\n  teeth 30\n  turns_on pin")
    return f"{head}gear near_one, near_two\n  teeth 30\n  carries leg{tail}{foot}"


CASES = (
    Case(
        "feet-turn-opposite",
        "two against two",
        adds("foot left\n  like corner\n  thread M8-LH") + two_feet("teeth 20", "carries left").removeprefix("+ \n"),
    ),
    Case(
        "feet-turn-opposite",
        "feet of the drive's own mesh",
        adds("gear middle\n  teeth 20\n  carries corner\nmesh hub\n  with middle at 90 deg"),
    ),
    Case("feet-rise-differently", "two feet with other teeth", two_feet("teeth 24", "carries corner"), True),
    Case(
        "feet-rise-differently",
        "another thread",
        adds("foot other\n  like corner\n  thread M10\n  screw ISO 4017, length 35 mm, pocket 7 mm")
        + two_feet("teeth 20", "carries other").removeprefix("+ \n")
        + swap(ROW, ROW, "row M10, 18.0 +/- 0.1, 15, 4, 15, 15.5"),
        True,
    ),
    Case(
        "feet-rise-differently",
        "other teeth and another thread",
        adds("foot other\n  like corner\n  thread M10\n  screw ISO 4017, length 35 mm, pocket 7 mm")
        + two_feet("teeth 23", "carries other").removeprefix("+ \n")
        + swap(ROW, ROW, "row M10, 18.0 +/- 0.1, 15, 4, 15, 15.5"),
        True,
    ),
    Case("foot-not-driven", "three feet and their idlers", "-   with west at 180 deg\n-   with ne at 62 deg\n"),
    Case("gear-not-driven", "two gears in mesh", adds("gear one, two\n  teeth 20\n  turns_on pin\nmesh one\n  with two at 90 deg")),
    Case("no-drive", "one gear and no drive", ONE_GEAR),
    Case(
        "no-drive",
        "no drive declared",
        KITE.partition("drive crank")[0].replace("turned_by crank", "turns_on pin") + "pivot pin" + KITE.partition("pivot pin")[2],
    ),
    Case(
        "ring-speeds-differ",
        "figures that look alike",
        adds("gear lower\n  teeth 15\n  profile_shift 0.55\n  on_shaft_with hub, below\nmesh east\n  with lower"),
    ),
    Case("ring-out-of-phase", "far out of phase", kite(206.0), True),
    Case("closed-ring", "a little out of place", kite(200.08), True),
    Case("closed-ring", "with feet in it", ring_of_feet(kite(200.059485))),
    Case(
        "coarse-step",
        "a thread so coarse that no drive gear helps",
        adds('table steep is thread\n  source "a rod"\n  columns thread, diameter mm, pitch mm, starts\n  row M8, 8, 1.25, 8'),
        True,
    ),
    Case(
        "gear-without-place",
        "a gear that hangs on nothing",
        swap("turns_on pin", "turns_on pin") + adds("gear lost\n  teeth 20\n  turns_on pin"),
    ),
    Case("gear-without-place", "the drive's gear", swap("at deck.centre")),
    Case(
        "gear-places-differ",
        "two places and a distance",
        adds("gear se\n  teeth 20\n  at (404.5, 69) mm\n  carries corner")
        + "- gear nw, sw, ne, se\n+ gear nw, sw, ne\n"
        + swap("with se at 298 deg", "with se, centre_distance 120 mm"),
        True,
    ),
    Case(
        "gears-collide",
        "tips that pass too near",
        swap("with nw at 118 deg", "with nw at 146.5 deg") + swap("with sw at 242 deg", "with sw at 213.5 deg"),
        True,
    ),
    Case(
        "gears-collide",
        "on two levels",
        adds("gear low_w\n  teeth 30\n  on_shaft_with west, below\ngear low_e\n  teeth 30\n  on_shaft_with east, below"),
        True,
    ),
    Case(
        "gear-past-edge",
        "one gear",
        adds("gear spare\n  teeth 20\n  turns_on pin\nmesh hub\n  with spare at 90 deg")
        + swap("outline rectangle 480 by 350 mm, corner_radius 12 mm", "outline rectangle 480 by 345 mm, corner_radius 12 mm"),
        True,
    ),
    Case(
        "too-few-feet",
        "one foot",
        "- gear nw, sw, ne, se\n+ gear ne\n- mesh west\n-   with nw at 118 deg\n-   with sw at 242 deg\n-   with se at 298 deg\n",
    ),
    Case("too-few-feet", "three feet in one line", IN_LINE, True),
)
