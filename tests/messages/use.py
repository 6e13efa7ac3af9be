"""Fixtures whose loads, drivers and requirements are not met, one for each way in which it is said."""

from __future__ import annotations

from tests.laws.borders import adds, swap
from tests.laws.violations_feet import INSERT, PAD, SCREW
from tests.messages.case import Case

LOADS = ("board-sags", "load-tips-board", "tips-at", "screws-sway", "jam-nut-may-slip", "driver-can-break-teeth")
REQUIRED = ("require-not-met", "require-not-run")
SHEET = "size 1220 by 610 mm"
BIRCH = swap(SHEET, SHEET, "material birch_plywood")
PLAY = "play 0.2 mm"
BACKLASH = "backlash 0.5 mm"


def load(force: float, place: str, way: str, name: str = "hand") -> str:
    """A force on the board."""
    return adds(f"load {name}\n  force {force} N at {place}, {way}")


def needs(words: str) -> str:
    """A requirement."""
    return f"+ require {words}\n"


CASES = (
    Case(
        "board-sags",
        "the grain is stated, six layers",
        swap(SHEET, SHEET, "material birch_plywood", "face_grain along x")
        + swap(
            "outline rectangle 480 by 350 mm, corner_radius 12 mm",
            "outline rectangle 480 by 350 mm, corner_radius 12 mm",
            "layers 6",
        )
        + load(60000, "deck.centre", "down"),
    ),
    Case(
        "load-tips-board",
        "two loads together",
        BIRCH + load(40, "(470, 175) mm", "down", "one") + load(40, "(470, 180) mm", "down", "two").removeprefix("+ \n"),
    ),
    Case("load-tips-board", "a push along x", BIRCH + load(900, "deck.centre", "along x"), True),
    Case("tips-at", "every edge", BIRCH + load(5, "deck.centre", "down"), True),
    Case("screws-sway", "in a thick thread", load(30, "(470, 175) mm", "along y"), True),
    Case(
        "jam-nut-may-slip",
        "with a washer under it",
        load(400, "deck.centre", "down") + swap(PLAY, PLAY, "washers ISO 7089, above and below"),
    ),
    Case("driver-can-break-teeth", "a hand with a stated torque", swap(PLAY, PLAY, "turned_with hand, torque 30 Nm"), True),
    Case(
        "driver-can-break-teeth",
        "a driver with a clutch",
        swap(PLAY, PLAY, "turned_with driver, torque 9 Nm") + swap(BACKLASH, BACKLASH, "face_overlap 12 mm"),
    ),
    Case(
        "require-not-met",
        "travel, with an insert turned round",
        needs("travel >= 7 mm") + swap(INSERT, "insert my_insert, driven_from underside, flush underside"),
        True,
    ),
    Case(
        "require-not-met",
        "travel, with another screw",
        needs("travel >= 7 mm") + swap(SCREW, "screw ISO 4017, length 25 mm, pocket 5.8 mm"),
        True,
    ),
    Case(
        "require-not-met",
        "travel, with less overlap",
        needs("travel >= 7 mm") + swap(BACKLASH, BACKLASH, "face_overlap 14 mm"),
        True,
    ),
    Case("require-not-met", "travel, with layers of more parts", needs("travel >= 12 mm")),
    Case("require-not-met", "travel that nothing reaches", needs("travel >= 60 mm")),
    Case("require-not-met", "travel that is too much", needs("travel <= 5 mm"), True),
    Case("require-not-met", "more travel than", needs("travel > 8.4 mm")),
    Case("require-not-met", "travel in inches", needs("travel >= 3/8 in")),
    Case("require-not-met", "lower heights", needs("height covers 38..45 mm"), True),
    Case("require-not-met", "heights at both ends", needs("height covers 30..60 mm")),
    Case("require-not-met", "greater heights", needs("height covers 42..50 mm"), True),
    Case(
        "require-not-run",
        "binding and flush in a plain check",
        needs("binding <= 5 percent") + needs("flush within 9 mm") + load(50, "deck.centre", "down"),
    ),
    Case(
        "require-not-run",
        "feet that turn against each other",
        needs("height covers 40..45 mm")
        + adds("foot left\n  like corner\n  thread M8-LH\ngear sw\n  teeth 20\n  carries left").removeprefix("+ \n")
        + "- gear nw, sw, ne, se\n+ gear nw, ne, se\n",
    ),
)
# Requirements have too many branches for one golden file.
MORE = (
    Case("require-not-met", "a lift that other teeth give", needs("lift_per_turn within 1.2..1.3 mm"), True),
    Case("require-not-met", "a lift that only another thread gives", needs("lift_per_turn >= 3.9 mm")),
    Case("require-not-met", "a lift that nothing gives", needs("lift_per_turn >= 40 mm")),
    Case("require-not-met", "a finer lift", needs("lift_per_turn < 0.5 mm")),
    Case("require-not-met", "fewer turns", needs("turns_for_travel <= 6"), True),
    Case("require-not-met", "more turns", needs("turns_for_travel >= 12")),
    Case("require-not-met", "turns that no teeth give", needs("turns_for_travel <= 1")),
    Case("require-not-met", "face overlap", needs("face_overlap >= 10 mm"), True),
    Case("require-not-met", "face overlap that takes all travel", needs("face_overlap >= 17.5 mm"), True),
    Case("require-not-met", "less face overlap", needs("face_overlap <= 5 mm")),
    Case("require-not-met", "flush, with a dial", needs("flush within 0.15 mm"), True),
    Case("require-not-met", "flush, with all that can be done", needs("flush within 0.01 mm"), True),
    Case(
        "require-not-met",
        "flush, with a bowed board",
        needs("flush within 0.3 mm")
        + swap(
            "outline rectangle 480 by 350 mm, corner_radius 12 mm",
            "outline rectangle 480 by 350 mm, corner_radius 12 mm",
            "bow 1 mm",
        ),
        True,
    ),
    Case("require-not-met", "flush, standing on its gears", needs("flush within 0.4 mm") + swap(PAD)),
    Case(
        "require-not-met",
        "flush, under a load",
        needs("flush within 0.2 mm") + BIRCH + load(400, "deck.centre", "down"),
        False,
        True,
    ),
    Case("require-not-met", "binding", needs("binding <= 0.1 percent") + swap(BACKLASH, "backlash 0.45 mm"), True, True),
    Case(
        "require-not-met",
        "binding in two tooth forms",
        needs("binding <= 0.1 percent")
        + swap(BACKLASH, "backlash 0.45 mm")
        + adds("tooth_form spare\n  module 6 mm\n  backlash 0.5 mm").removeprefix("+ \n"),
        False,
        True,
    ),
    Case("require-not-met", "binding more than", needs("binding >= 90 percent"), False, True),
)
