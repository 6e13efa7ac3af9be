"""Power screws against published worked examples.

Wentzell, Machine Elements; Jindal, Machine Design; Sadhu Singh, Machine Design; Khurmi & Gupta, Theory of Machines: read in a published
published copy of their worked examples (inputs and pages are the books', outputs were recomputed). Shigley, Mechanical Engineering
Design: from memory. Tolerances are half of the last printed digit unless said.
"""

from __future__ import annotations

import math

import pytest
from tests.designs import M8

from trivet.model.hardware import Thread
from trivet.record import replace
from trivet.solve.power_screw import (
    HALF_FLANK_RAD,
    disc_friction_torque,
    efficiency,
    holds_by_itself,
    lead_angle_rad,
    pitch_diameter_mm,
    ring_friction_torque,
    root_diameter_mm,
    torque_to_lower,
    torque_to_raise,
)

SQUARE = 0.0
ACME = math.radians(14.5)
IN = 25.4


def test_wentzell_18_1_and_18_2() -> None:
    """Pages 399 and on: two screws share 5800 lb; dm 1.354 in, lead 1/3 in, f 0.15: 453.68 lb·in, 4.48 deg, 33.91 %, self-locking."""
    torque = torque_to_raise(2900, 1.354, 1 / 3, 0.15, SQUARE)
    assert torque == pytest.approx(453.68, abs=0.005)
    assert math.degrees(lead_angle_rad(1 / 3, 1.354)) == pytest.approx(4.48, abs=0.005)
    assert 100 * efficiency(2900, 1 / 3, torque) == pytest.approx(33.91, abs=0.005)
    assert holds_by_itself(1 / 3, 1.354, 0.15, SQUARE)


def test_wentzell_18_3() -> None:
    """Page 402: the same load on Acme threads, dm 1.375 in, lead 1/4 in: 3.31 deg, 428.13 lb·in."""
    assert math.degrees(lead_angle_rad(0.25, 1.375)) == pytest.approx(3.31, abs=0.005)
    assert torque_to_raise(2900, 1.375, 0.25, 0.15, ACME) == pytest.approx(428.13, abs=0.005)


def test_jindal_16_1() -> None:
    """Page 450: d 30, p 6 (dm 27), 20 kN, f 0.2, collar 0.15 at 12 mm: 110.148 N·m; the book rounds slightly differently: 0.01."""
    torque = torque_to_raise(20_000, 27, 6, 0.2, SQUARE) + ring_friction_torque(20_000, 0.15, 12)
    assert torque / 1000 == pytest.approx(110.148, abs=0.01)


def test_jindal_16_2_and_16_3() -> None:
    """Pages 451 and 452, the books' inputs; the copy's outputs are wrong (it drops fractions), these are recomputed."""
    collar = ring_friction_torque(20_000, 0.15, 20)
    assert (torque_to_raise(20_000, 46.5, 21, 0.12, math.radians(15)) + collar) / 1000 == pytest.approx(186.8794, abs=1e-4)
    assert (torque_to_lower(20_000, 46.5, 21, 0.12, math.radians(15)) + collar) / 1000 == pytest.approx(51.0826, abs=1e-4)
    collar = ring_friction_torque(5000, 0.15, 22.5)
    assert (torque_to_raise(5000, 27.5, 5, 0.15, ACME) + collar) / 1000 == pytest.approx(31.6380, abs=1e-4)
    assert (torque_to_lower(5000, 27.5, 5, 0.15, ACME) + collar) / 1000 == pytest.approx(23.4886, abs=1e-4)


def test_sadhu_singh_9_1_and_9_2() -> None:
    """9.1, page 256: d 26, p 5, two starts, 10 kN, f 0.2, collar 50/20, 0.15: 66.763 N·m behind its stresses. 9.2, page 257: Acme, 14.76 %."""
    torque = torque_to_raise(10_000, 23.5, 10, 0.2, SQUARE) + ring_friction_torque(10_000, 0.15, 17.5)
    assert torque / 1000 == pytest.approx(66.7630, abs=1e-4)
    torque = torque_to_raise(2000, 46, 8, 0.15, ACME) + ring_friction_torque(2000, 0.10, 37.5)
    assert 100 * efficiency(2000, 8, torque) == pytest.approx(14.76, abs=0.005)


def test_sadhu_singh_9_5() -> None:
    """Page 262: p 2, dm 11, f 0.15, 100 N at 150 mm; solid pad of 10 mm, 0.18: it lifts 8555 N at 18.15 %."""
    each = torque_to_raise(1, 11, 2, 0.15, SQUARE) + disc_friction_torque(1, 0.18, 5)
    assert 100 * 150 / each == pytest.approx(8555, abs=0.5)
    assert 100 * efficiency(1, 2, each) == pytest.approx(18.15, abs=0.005)


def test_khurmi_10_10() -> None:
    """Page 279: dm 50, p 12.5, f 0.13, 25 kN: 37.6 %; 132.355 N·m recomputed."""
    torque = torque_to_raise(25_000, 50, 12.5, 0.13, SQUARE)
    assert torque / 1000 == pytest.approx(132.355, abs=0.0005)
    assert 100 * efficiency(25_000, 12.5, torque) == pytest.approx(37.6, abs=0.05)


def test_shigley_8_1() -> None:
    """From memory: dm 30, lead 8, f 0.08, collar 40, 6.4 kN: 26.18 and 9.77 N·m, 0.311; the collar hides that the thread runs back."""
    collar = ring_friction_torque(6400, 0.08, 20)
    raising, lowering = torque_to_raise(6400, 30, 8, 0.08, SQUARE), torque_to_lower(6400, 30, 8, 0.08, SQUARE)
    assert (raising + collar) / 1000 == pytest.approx(26.18, abs=0.005)
    assert (lowering + collar) / 1000 == pytest.approx(9.77, abs=0.005)
    assert efficiency(6400, 8, raising + collar) == pytest.approx(0.311, abs=0.0005)
    assert lowering / 1000 == pytest.approx(-0.466, abs=0.0005)
    assert not holds_by_itself(8, 30, 0.08, SQUARE)


# Thread, major diameter, lead (mm), lead angle (deg), friction above which it holds: recomputed independently in double precision.
THREADS = [
    ("1/4-20", 0.25 * IN, IN / 20, 4.1847, 0.06336),
    ("5/16-18", 0.3125 * IN, IN / 18, 3.6605, 0.05540),
    ("3/8-16", 0.375 * IN, IN / 16, 3.4046, 0.05152),
    ("1/2-13", 0.5 * IN, IN / 13, 3.1142, 0.04712),
    ("M8", 8.0, 1.25, 3.1683, 0.04794),
    ("M10", 10.0, 1.5, 3.0282, 0.04581),
    ("M12", 12.0, 1.75, 2.9354, 0.04441),
]


@pytest.mark.parametrize(("name", "major", "lead", "angle", "friction"), THREADS)
def test_threads_of_60_degrees(name: str, major: float, lead: float, angle: float, friction: float) -> None:
    """The limit is between the rounded figure's neighbours; at it the lowering torque changes its sign."""
    diameter = pitch_diameter_mm(replace(M8, major_mm=major, pitch_mm=lead, lead_mm=lead, pitch_diameter_mm=None))
    assert math.degrees(lead_angle_rad(lead, diameter)) == pytest.approx(angle, abs=6e-5)
    assert holds_by_itself(lead, diameter, friction + 1e-5) and not holds_by_itself(lead, diameter, friction - 1e-5)
    assert torque_to_lower(1, diameter, lead, friction + 1e-5) > 0 > torque_to_lower(1, diameter, lead, friction - 1e-5)


def test_flanks_cost_torque() -> None:
    """M10, 200 N, f 0.15: 0.205964 and 0.107598 N·m, efficiency 0.23182; square it would be 0.184597 (recomputed independently)."""
    raising = torque_to_raise(200, 9.0257, 1.5, 0.15)
    assert raising / 1000 == pytest.approx(0.205964, abs=1e-6)
    assert torque_to_lower(200, 9.0257, 1.5, 0.15) / 1000 == pytest.approx(0.107598, abs=1e-6)
    assert efficiency(200, 1.5, raising) == pytest.approx(0.23182, abs=1e-5)
    assert torque_to_raise(200, 9.0257, 1.5, 0.15, SQUARE) / 1000 == pytest.approx(0.184597, abs=1e-6)
    assert 1 / math.cos(HALF_FLANK_RAD) == pytest.approx(1.154701, abs=1e-6)


def test_a_thread_may_jam() -> None:
    """π d2 − f' l is no longer positive: no torque raises it."""
    assert torque_to_raise(1, 1, 10, 1.0) == math.inf


def test_diameters_of_a_thread() -> None:
    """M8: d2 7.188, d3 6.466 (ISO 724 and the tables of 60 degree profiles, from memory), with and without a table's figure."""
    bare = replace(M8, pitch_diameter_mm=None)
    assert pitch_diameter_mm(bare) == pytest.approx(7.188, abs=0.0005)
    assert root_diameter_mm(bare) == pytest.approx(6.466, abs=0.0005)
    given: Thread = replace(M8, pitch_diameter_mm=7.0)
    assert pitch_diameter_mm(given) == 7.0
