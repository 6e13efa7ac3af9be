"""The inspection card recomputed: spans from the rolled-out base circle, tips, centres and depths from the file's own figures.

Span over k teeth: ISO 21771:2007, the base tangent length, from memory: W = m cos a ((k − 1/2) pi + z inv a) + 2 x m sin a; thinning
t of the reference tooth takes t cos a off it. Here it is found without that formula: the jaws touch two flanks whose involutes start
on the base circle, so the span is the arc of the base circle between the roots of the outer flanks of k teeth.
"""

from __future__ import annotations

import math

import pytest
from tests.bench_fixture import solved

from trivet.solve.inspection import Reading, readings

# (example, gear, module mm, teeth, thinning mm): from the files; backlash 0.5 and 0.65 mm half on each gear, 0.02 in likewise.
GEARS = (
    ("outfeed_riser", "hub", 6.0, 16, 0.25),
    ("outfeed_riser", "west", 6.0, 20, 0.25),
    ("tripod", "sun", 4.0, 36, 0.325),
    ("tripod", "north", 4.0, 24, 0.325),
    ("inch_table", "hub", 25.4 / 4.0, 24, 0.254),
)


def rows(name: str) -> dict[str, Reading]:
    design, derived = solved(name)
    return {row.row: row for row in readings(design, derived)}


def rolled_span_mm(module: float, teeth: int, thinning: float, over: int) -> float:
    """Arc of the base circle from one outer flank's root to the other's, by turning through the teeth one by one."""
    alpha = math.radians(20.0)
    reference, base = module * teeth / 2.0, module * teeth / 2.0 * math.cos(alpha)
    # A flank's root lies behind its point on the reference circle by the involute's polar angle there.
    polar = math.sqrt((reference / base) ** 2 - 1.0) - math.atan(math.sqrt((reference / base) ** 2 - 1.0))
    tooth = (math.pi * module / 2.0 - thinning) / reference
    first = -polar
    last = (over - 1) * 2.0 * math.pi / teeth + tooth + polar
    return base * (last - first)


@pytest.mark.parametrize(("name", "gear", "module", "teeth", "thinning"), GEARS)
def test_span_is_the_rolled_base_circle(name: str, gear: str, module: float, teeth: int, thinning: float) -> None:
    row = rows(name)[f"{gear}.span"]
    over = int(row.measure.split(" over ")[1].split()[0])
    assert row.nominal_mm == pytest.approx(rolled_span_mm(module, teeth, thinning, over), abs=1e-6)


def test_published_span() -> None:
    """m 3, z 24, k 3, 20 deg: W 23.1497 mm (SDP/SI, Elements of Metric Gear Technology, section 10.2, from memory) by the rolled arc."""
    # m cos a (pi (k - 1/2) + z inv a) by hand: 3 · 0.9396926 · (7.8539816 + 24 · 0.0149044) = 23.1497.
    assert rolled_span_mm(3.0, 24, 0.0, 3) == pytest.approx(23.1497, abs=5e-4)


@pytest.mark.parametrize(("name", "gear", "module", "teeth", "thinning"), GEARS)
def test_tips_are_two_modules_over_the_reference_circle(name: str, gear: str, module: float, teeth: int, thinning: float) -> None:
    assert rows(name)[f"{gear}.tips"].nominal_mm == pytest.approx(module * (teeth + 2), abs=1e-9)


def test_centres_over_pins() -> None:
    """Module 6: 16 and 20 teeth stand 108 mm apart; pins of 8.4 mm (fine hole of M8) and 5 mm (the pilot drill)."""
    assert rows("outfeed_riser")["hub-west.centres"].nominal_mm == pytest.approx(108.0 + (8.4 + 5.0) / 2.0, abs=1e-6)
    # Twice 0.15 mm of position and twice 0.05 mm round the holes.
    row = rows("outfeed_riser")["hub-west.centres"]
    assert (row.nominal_mm - row.least_mm, row.most_mm - row.nominal_mm) == pytest.approx((0.4, 0.4))


def test_depths_and_holes_from_the_file() -> None:
    found = rows("outfeed_riser")
    assert found["nw.hex-pocket.depth"].nominal_mm == pytest.approx(5.8)
    assert (found["nw.hex-pocket.depth"].least_mm, found["nw.hex-pocket.depth"].most_mm) == pytest.approx((5.6, 6.0))
    assert found["hub.round-recess.depth"].nominal_mm == pytest.approx(6.0)
    assert found["deck.hole-for-the-insert-of-corner"].nominal_mm == pytest.approx(13.5)
    assert found["deck.hole-for-the-insert-of-corner"].alike == 4
    assert found["west.bore"].nominal_mm == pytest.approx(6.25 + 0.2)  # ST6.3 is 6.25 mm (ISO 1478), and the shop's clearance
    assert (found["ply18.thickness"].least_mm, found["ply18.thickness"].most_mm) == pytest.approx((17.6, 18.0))


def test_odd_teeth_over_the_tips_by_walking_round() -> None:
    """Flat jaws on 21 teeth of module 4: the widest caliper reading is the least distance between parallels that hold all tips."""
    from trivet.solve.gear_size import ToothGeometry
    from trivet.solve.inspection_gears import over_tips_mm

    shape = ToothGeometry(21, 4.0)
    radius = 46.0
    land = math.pi * 4.0 / 2.0 / 84.0 + _inv(math.radians(20.0)) - _inv(math.acos(42.0 * math.cos(math.radians(20.0)) / radius))
    corners = [
        (radius * math.cos(tooth * math.tau / 21 + side * land), radius * math.sin(tooth * math.tau / 21 + side * land))
        for tooth in range(21)
        for side in (-1.0, -0.5, 0.0, 0.5, 1.0)
    ]
    # One jaw square to the middle of the tooth at angle 0.
    across = max(x for x, _ in corners) - min(x for x, _ in corners)
    assert over_tips_mm(shape) == pytest.approx(across, abs=1e-6)


def _inv(angle: float) -> float:
    return math.tan(angle) - angle
