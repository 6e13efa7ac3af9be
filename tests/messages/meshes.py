"""Fixtures whose gears mesh badly, one for each way in which it is said."""

from __future__ import annotations

from tests.laws.borders import adds, swap
from tests.messages.case import Case

MESHES = (
    "mesh-binds", "mesh-may-bind", "loose-mesh", "insert-not-square", "meshed-gears-differ", "meshed-too-close", "outlines-overlap", "train-binds",
)  # fmt: skip
BACKLASH = "backlash 0.5 mm"
WEST = "with west at 180 deg"
OWN_FORM = adds(
    "tooth_form fine_teeth\n  module {} mm\n  {}\n  backlash 0.5 mm\ngear sw, nw\n  teeth 20\n  tooth_form fine_teeth\n  carries corner"
)
TIGHT_PAIR = adds(
    "tooth_form tight\n  module 6 mm\n  backlash 0.2 mm\ngear one\n  teeth 20\n  tooth_form tight\n  at (1000, 1000) mm\n  turns_on pin\n"
    "gear two\n  teeth 20\n  tooth_form tight\n  turns_on pin\nmesh one\n  with two at 90 deg"
)


def apart(value: float, of: str = WEST) -> str:
    """A mesh at a stated distance."""
    return swap(of, f"{of}, centre_distance {value} mm")


def own_form(module: float, more: str) -> str:
    """Two feet whose tooth form is another than their idler's."""
    return OWN_FORM.format(module, more) + "- gear nw, sw, ne, se\n+ gear ne, se\n"


CASES = (
    Case(
        "mesh-binds",
        "inserts driven by hand",
        swap(BACKLASH, "backlash 0.45 mm") + swap("inserts guide_block", "inserts by_hand"),
        True,
    ),
    Case("mesh-binds", "one mesh", TIGHT_PAIR, True),
    Case(
        "mesh-may-bind",
        "two meshes",
        swap(BACKLASH, "backlash 0.75 mm")
        + apart(120.4, "with se at 298 deg")
        + apart(120.4, "with sw at 242 deg")
        + apart(108.5)
        + apart(108.5, "with east at 0 deg"),
        True,
    ),
    Case("loose-mesh", "one mesh at a wide distance", apart(109.2), True),
    Case(
        "loose-mesh",
        "two meshes of one form",
        swap(BACKLASH, "backlash 1.1 mm") + apart(108.4) + apart(108.3, "with east at 0 deg"),
    ),
    Case("loose-mesh", "thinned for a close mesh", swap(BACKLASH, "backlash 1 mm") + apart(107.2), True),
    Case("meshed-gears-differ", "another pressure angle, two meshes", own_form(6, "pressure_angle 25 deg")),
    Case(
        "meshed-gears-differ",
        "in teeth per inch",
        own_form(6.3, "pressure_angle 20 deg") + swap("module 6 mm", "diametral_pitch 4 per in"),
        True,
    ),
    Case("meshed-too-close", "at a stated distance", apart(100), True),
    Case("outlines-overlap", "only with its errors", swap("diameter 6 mm", "diameter 7.66 mm"), True),
    Case("outlines-overlap", "at a stated distance", apart(106.8), True),
    Case(
        "train-binds", "inserts driven by hand", swap(BACKLASH, "backlash 0.54 mm") + swap("inserts guide_block", "inserts by_hand")
    ),
)
