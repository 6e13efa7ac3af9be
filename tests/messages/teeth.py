"""Fixtures whose teeth are wrong, one for each way in which it is said."""

from __future__ import annotations

from tests.laws.borders import swap
from tests.messages.case import Case

TEETH = (
    "few-teeth",
    "thin-tooth-tip",
    "tip-interference",
    "teeth-slip",
    "cutter-too-fat",
    "thin-gear-rim",
    "gear-warp-rubs",
    "web-finds-no-room",
)
BACKLASH = "backlash 0.5 mm"
HUB = "teeth 16"


def other_idlers(*facts: str) -> str:
    """Idlers with other facts; the block that they had is left to a gear that is in nobody's way."""
    own = "".join(f"+   {fact}\n" for fact in facts)
    return f"- gear west, east\n+ gear west, east\n{own}+ \n+ gear spare\n+   at (1000, 1000) mm\n"


def close(value: float) -> str:
    """The hub and `west` at a stated distance."""
    return swap("with west at 180 deg", f"with west at 180 deg, centre_distance {value} mm")


CASES = (
    Case("few-teeth", "two gears of one statement", other_idlers("teeth 15", "turns_on pin")),
    Case("few-teeth", "the shift would leave tips too thin", swap(HUB, "teeth 6")),
    Case("few-teeth", "a shift that is too small", swap(HUB, "teeth 12", "profile_shift 0.1")),
    Case(
        "thin-tooth-tip",
        "two gears, at 25 deg",
        swap("module 6 mm", "module 6 mm", "pressure_angle 28 deg") + other_idlers("teeth 9", "turns_on pin"),
    ),
    Case(
        "thin-tooth-tip",
        "nothing but other teeth helps",
        swap(BACKLASH, "backlash 4 mm", "pressure_angle 25 deg") + swap(HUB, "teeth 8"),
    ),
    Case("tip-interference", "at a stated distance", close(104), True),
    Case("tip-interference", "too close for shorter tips as well", close(102)),
    Case("tip-interference", "a shift or shorter tips", swap(HUB, "teeth 13"), True),
    Case("tip-interference", "so few teeth that no shift does", swap(HUB, "teeth 4")),
    Case("teeth-slip", "too little contact, a warning", close(110.5), True),
    Case(
        "teeth-slip",
        "too little depth",
        swap("module 6 mm", "module 6 mm", "pressure_angle 14.5 deg")
        + swap(HUB, "teeth 80")
        + other_idlers("teeth 90", "turns_on pin")
        + swap("with west at 180 deg", "with west at 180 deg, centre_distance 514.6 mm"),
        True,
    ),
    Case("teeth-slip", "four meshes whose tips are shortened", swap(BACKLASH, BACKLASH, "tip_shortening 3 mm"), True),
    Case("teeth-slip", "a large profile shift", swap(HUB, "teeth 8", "profile_shift 1.0")),
    Case("teeth-slip", "a large pressure angle", swap("module 6 mm", "module 6 mm", "pressure_angle 32 deg")),
    Case("cutter-too-fat", "none is thin enough", close(101.6), True),
    Case("thin-gear-rim", "hardly any rim, two gears", swap("turns_on pin", "turns_on pin", "bore 102 mm")),
    Case("thin-gear-rim", "gears of several statements", swap("sleeve outside 8 mm", "sleeve outside 90 mm")),
    Case("gear-warp-rubs", "the drive's gear, large", swap(HUB, "teeth 36"), True),
    Case("web-finds-no-room", "spokes too wide", "- gear west, east\n+ gear west, east\n+   web spokes 12, width 30 mm\n", True),
    Case("web-finds-no-room", "no web at all fits", "- gear hub\n+ gear hub\n+   web holes 4, diameter 30 mm\n"),
)
