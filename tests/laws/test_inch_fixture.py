"""A fixture stated in inches and its exact conversion to millimetres give the same report."""

from __future__ import annotations

import math
import re
from fractions import Fraction
from typing import Any

from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from tests.laws.whole import whole

MM = Fraction(254, 10)  # exact: international yard and pound agreement of 1959

# Every length stands as <inches>; a tooth size is stated per inch, and in mm by its module of 25.4/P mm.
TEXT = """\
fixture law
  hardware inch
  units in

sheet ply
  thickness {sheet}
  size {size}

cutter straight
  diameter {cutter}
  reach {reach}

shop
  hole_position {position}
  profile_offset {offset}
  bore_clearance {bore}
  inserts drill_press
  depth {depth}
  moisture 6..10 percent

tooth_form coarse
  {tooth}
  backlash {play}

default gear
  stock ply
  cutter straight
  tooth_form coarse

board deck
  stock ply
  cutter straight
  outline rectangle {board}, corner_radius {corner}

gear hub
  teeth {hub}
  at {at}
  turned_by crank

gear nw, ne, sw, se
  teeth {foot}
  carries corner

mesh hub
  with ne at 45 deg
  with nw at 135 deg
  with sw at 225 deg
  with se at 315 deg

drive crank
  thread 5/16-18
  bolt ASME B18.3 socket_head_cap_screw, head recessed {head}
  fit fine
  nut tee_nut, above gear
  jam_nut ASME B18.2.2 hex_jam_nut, below gear, recessed {jam}, round {round}
  play {drive}

foot corner
  kind riding
  thread 3/8-16
  screw ASME B18.2.1 hex_cap_screw, length {length}, pocket {pocket}
  pad dome, drop {drop}
  insert my_insert, driven_from topside, flush underside

table my_insert is insert
  source "measured: six of a bag of ten"
  columns thread, outside {unit}, length {unit}, live_from {unit}, live_to {unit}, hole {unit}
  row 3/8-16, {insert}

table my_tee_nut is tee_nut
  source "measured: two of a box of twenty"
  columns thread, outside_diameter {unit}, barrel_diameter {unit}, length {unit}, height {unit}, flange_thickness {unit}, hole {unit}
  row 5/16-18, {tee_nut}

hole spindle
  into deck
  diameter {spindle}
  at {place}

require travel >= {travel}
"""

# Inches as decimals; what hypothesis chooses is added by the test.
INCHES = {
    "size": "60 by 30", "reach": "1", "position": "+/- 0.005", "offset": "+/- 0.002", "bore": "0.006", "depth": "+/- 0.008",
    "board": "16 by 16", "corner": "0.5", "at": "(8, 8)", "jam": "0.25", "round": "1", "drive": "0.01", "length": "1.25",
    "pocket": "0.25", "drop": "0.125", "spindle": "2", "place": "(8, 14)", "travel": "0.125",
}  # fmt: skip
CELLS = {"insert": "0.625 +/- 0.004, 0.625, 0.125, 0.609, 0.53125", "tee_nut": "0.875, 0.372, 0.375, 0.437, 0.062, 0.375"}


def _decimal(inches: str) -> str:
    """Millimetres of decimal inches, exactly: 25.4 ends after one decimal, so their product ends too."""
    value = Fraction(inches) * MM
    for decimals in range(12):
        if (value * 10**decimals).denominator == 1:
            return f"{float(value):.{decimals}f}"
    raise AssertionError(inches)


def _in_mm(text: str) -> str:
    return re.sub(r"[0-9.]+", lambda found: _decimal(found[0]), text)


def _texts(chosen: dict[str, str], per_inch: int, hub: int, foot: int) -> tuple[str, str]:
    lengths = INCHES | chosen
    teeth = {"hub": str(hub), "foot": str(foot)}
    inch = (
        {name: f"{value} in" for name, value in lengths.items()}
        | CELLS
        | {"tooth": f"diametral_pitch {per_inch} per in", "unit": "in"}
    )
    mm = {name: f"{_in_mm(value)} mm" for name, value in lengths.items()} | {name: _in_mm(value) for name, value in CELLS.items()}
    mm |= {"tooth": f"module {_decimal(str(1 / per_inch))} mm", "unit": "mm"}
    return TEXT.format(**inch, **teeth), TEXT.format(**mm, **teeth)


def _same_numbers(left: Any, right: Any, path: str = "") -> None:
    """Numbers to a step of the report's six decimals; words may name a length in the unit it was written in."""
    if isinstance(left, dict):
        assert left.keys() == right.keys(), path
        for key, value in left.items():
            _same_numbers(value, right[key], f"{path}.{key}")
    elif isinstance(left, list):
        assert len(left) == len(right), path
        for index, (one, other) in enumerate(zip(left, right, strict=True)):
            _same_numbers(one, other, f"{path}[{index}]")
    elif isinstance(left, float | int) and not isinstance(left, bool):
        assert math.isclose(left, right, abs_tol=2e-6), (path, left, right)
    elif not isinstance(left, str):
        assert left == right, path


@settings(
    max_examples=8,
    derandomize=True,
    database=None,
    deadline=None,
    phases=(Phase.generate,),
    suppress_health_check=[HealthCheck.too_slow],
)
@given(
    st.sampled_from(("0.703 +/- 0.008", "0.71 +/- 0.006", "0.75 +/- 0.01")),
    st.sampled_from(("0.1875", "0.25")),
    st.sampled_from(("0.02", "0.025", "0.03")),
    st.sampled_from(("0.375", "0.4")),
    st.sampled_from((4, 5)),
    st.integers(22, 26),
    st.integers(20, 24),
)
def test_inches_and_their_millimetres_are_one_fixture(
    sheet: str, cutter: str, play: str, head: str, per_inch: int, hub: int, foot: int
) -> None:
    inch, mm = _texts({"sheet": sheet, "cutter": cutter, "play": play, "head": head}, per_inch, hub, foot)
    one, other = whole(inch), whole(mm)
    assert [(item.rule, item.severity) for item in one.findings] == [(item.rule, item.severity) for item in other.findings]
    _same_numbers(one.facts, other.facts)
    assert one.report["lift"] is not None and one.report["cut_list"][0]["width_mm"] == 16 * 25.4
    drawn = [path for path in one.files if path.endswith((".svg", ".dxf"))]
    assert drawn
    for path in drawn:
        # Where a number comes from is said in the writer's words: `diameter 2 in`.
        left, right = (re.sub(rb"<desc>[^<]*</desc>", b"", files[path]) for files in (one.files, other.files))
        assert left == right, path


def test_conversion_is_exact() -> None:
    assert _in_mm("0.703 +/- 0.008") == "17.8562 +/- 0.2032"
    assert _in_mm("(8, 14)") == "(203.2, 355.6)"
