"""From a fixture's text to places, sizes and remedies: each figure by hand on the base of the rule pages. Lengths mm.

The base: board 480 by 350, so its middle is (240, 175); sheets 17.8 +/- 0.2; hub 16, idlers and feet 20 teeth of module 6.
"""

from __future__ import annotations

import math
import re

import pytest
from tests.edited_base import only
from tests.fixture_text import compiled, findings_of

from trivet.checks._examples import BASE
from trivet.model.design import Design
from trivet.tables.shop_lines import area_text


def built(more: str) -> Design:
    found = compiled(f"{BASE}\n{more}")
    assert found.design is not None, found.findings
    return found.design


@pytest.mark.parametrize(
    ("axis", "there", "turn"),
    # Left and right about x = 240: 480 − 100, a direction of 30 deg becomes 180 − 30. Near and far about y = 175: 350 − 60, −30.
    [("left_right", (380.0, 60.0), 150.0), ("near_far", (100.0, 290.0), -30.0)],
)
def test_mirrored_pocket(axis: str, there: tuple[float, float], turn: float) -> None:
    shape = "pocket rest\n  into deck, topside\n  outline rectangle 40 by 20 mm\n  depth 6 mm\n"
    _, copy = built(f"{shape}  at (100, 60) mm\n  turned 30 deg\n  also_mirrored {axis}\n").pockets[0].places
    assert (copy.x_mm, copy.y_mm) == pytest.approx(there)
    assert copy.turn_deg % 360 == pytest.approx(turn % 360)


def test_bolt_circle_runs_anticlockwise() -> None:
    text = "hole eye\n  into deck\n  diameter 8 mm\n  bolt_circle 4, diameter 40 mm, around (240, 50) mm, first_at 30 deg\n"
    found = [(place.x_mm, place.y_mm) for place in built(text).holes[0].places]
    assert found[:2] == [
        pytest.approx((240 + 20 * math.cos(math.radians(turn)), 50 + 20 * math.sin(math.radians(turn)))) for turn in (30, 120)
    ]


def test_grid_has_its_columns_along_x() -> None:
    text = "hole eye\n  into deck\n  diameter 8 mm\n  grid 2 by 2, every 50 by 20 mm, first_at (200, 30) mm\n"
    found = {place.id: (place.x_mm, place.y_mm) for place in built(text).holes[0].places}
    assert found == {"eye.1.1": (200, 30), "eye.1.2": (200, 50), "eye.2.1": (250, 30), "eye.2.2": (250, 50)}


def test_counterbore_hides_the_head() -> None:
    # ISO 4762, M6: head 6.0 high at most (k = d; from memory), and 1 mm more so that none stands proud (common practice, no source).
    text = "hole clamp\n  into deck\n  clearance M6\n  counterbore ISO 4762, topside\n  at (240, 40) mm\n"
    bore = built(text).holes[0].counterbore
    assert bore is not None and bore.depth_mm == pytest.approx(7.0)


def test_magnet_lies_under_the_face() -> None:
    # A disc of 10 by 3, pushed in: 0.05 wider and 0.15 deeper than the disc (common practice, no source).
    magnet = built("magnet key\n  into deck\n  disc 10 by 3 mm\n  at (240, 40) mm\n").magnets[0]
    assert (magnet.hole_diameter_mm, magnet.hole_depth_mm) == pytest.approx((10.05, 3.15))


def test_moisture_is_kept_in_percent() -> None:
    shop = compiled(BASE.replace("  inserts guide_block\n", "  inserts guide_block\n  moisture 6..12 percent\n")).design
    assert shop is not None and (shop.shop.moisture_least, shop.shop.moisture_most) == pytest.approx((6.0, 12.0))


def test_square_feet() -> None:
    # 304.8 mm to the foot exactly: two of them squared are 185806.08 mm².
    assert area_text(185806.08, "in") == "2.00 sq ft (0.186 m²)"


@pytest.mark.parametrize(
    ("slug", "edits", "words"),
    [
        # Leads 1.25 and 1.5: ten turns are 2.5 apart.
        ("look-alike-threads", "- bolt ISO 4762, head recessed 9 mm\n+   bolt ISO 4762 M10, head recessed 9 mm", "2.5 mm apart"),
        # 16/20 of 1.25 is 1 a turn; five times that needs five times the lead.
        ("require-not-met", "+ require lift_per_turn >= 5 mm", "a lead of 6.25 mm"),
        # 17.6 − 13.2 = 4.4 left of 6 wanted: 1.6 shallower than 13.
        (
            "thin-under-head",
            "- bolt ISO 4762, head recessed 9 mm\n+   bolt ISO 4762, head recessed 13 mm",
            "`head recessed 11.4 mm` leaves 6 mm",
        ),
        # 8 held, 11 live: 3 earlier than 17.8 + 17.8 + 2.5 + 10 = 48.1.
        ("short-engagement", "", "3 mm earlier, at a height of 45.1 mm"),
        # A pocket of 5.8 over a head of 5.3, and 2 mm to stand out.
        ("gear-rubs-bench", "- pad dome, drop 3 mm", "`pad dome, drop 2.5 mm`"),
        # Twice the idler's or foot's 66 times tan 0.5 deg.
        ("gear-rubs-bench", "- pad dome, drop 3 mm", "by up to 1.15 mm in a turn"),
    ],
)
def test_figure_of_a_finding(slug: str, edits: str, words: str) -> None:
    item = only(slug, edits)
    assert words in "; ".join((item.message, item.remedy, *(label.message for label in item.related)))


def test_tips_that_overlap() -> None:
    # `nw` and `sw` 120 from `west` at 150 and 210 deg: 2 · 120 sin 30 = 120 apart, tips of 66 each overlap by 12.
    text = BASE.replace("with nw at 118 deg", "with nw at 150 deg").replace("with sw at 242 deg", "with sw at 210 deg")
    found = [item.message for item in findings_of(text, "gears-collide")]
    assert any("overlap by 12 mm" in said for said in found), found


def test_wood_off_each_flank() -> None:
    # Off four flanks the normal backlash grows by four times as much: (wanted − 0.3) cos 20 / 4.
    item = findings_of(BASE.replace("backlash 0.5 mm", "backlash 0.3 mm"), "mesh-binds")[0]
    match = re.search(r"`backlash ([\d.]+) mm`.* need ([\d.]+) mm off each flank", item.remedy)
    assert match is not None, item.remedy
    assert float(match[2]) == pytest.approx((float(match[1]) - 0.3) * math.cos(math.radians(20)) / 4, abs=0.0006)


def test_gear_wider_than_its_sheet() -> None:
    # Feet and idlers are 2 · 66 = 132 across, the hub 2 · 54 = 108: a sheet of 130 holds only the hub.
    parts = {
        name for item in findings_of(BASE.replace("1220 by 610", "500 by 130"), "part-larger-than-sheet") for name in item.parts
    }
    assert "nw" in parts and "west" in parts and "hub" not in parts
