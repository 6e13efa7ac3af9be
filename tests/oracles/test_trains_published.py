"""Gear trains against published worked examples, and closed rings against figures found by simulation.

The textbook figures are those of a published copy of the books' worked examples; the printed pages were not seen.
"""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from tests.designs import HEX_NUT, design, drive, gear, mesh, q, tooth_form

from trivet.model.base import Ref
from trivet.model.design import Design
from trivet.model.shop import Shop
from trivet.solve.derived import Train
from trivet.solve.train import solve_train


def speeds(train: Train) -> dict[str, Fraction]:
    return {g.id: g.speed * g.direction for g in train.gears if g.speed is not None}


def test_wentzell_11_1_compound_reduction() -> None:
    # Wentzell, Machine Elements, example 11.1, p. 217 (published copy): 20/60, 20/60, 3600 to 400 rpm. Exact: whole numbers.
    train = solve_train(
        design(
            (gear("a", 20, (0, 0), drive=True), gear("b", 60), gear("c", 20, shaft="b"), gear("d", 60)),
            (mesh("a", "b", 0), mesh("c", "d", 0)),
        )
    )
    assert 3600 * speeds(train)["d"] == 400


def test_wentzell_11_2_idler_train_with_directions() -> None:
    # Wentzell, example 11.2, p. 219 (published copy): A 20, B 65 on one shaft with C 20, idler D 22, E 60; printed ratio 9.75 and
    # 307.69 rpm, A clockwise, B and C counter-clockwise, D clockwise, E counter-clockwise. The input of 1000 rpm follows from
    # 307.69 × 65/20. Tolerance: the printed second decimal.
    train = solve_train(
        design(
            (gear("a", 20, (0, 0), drive=True), gear("b", 65), gear("c", 20, shaft="b"), gear("d", 22), gear("e", 60)),
            (mesh("a", "b", 0), mesh("c", "d", 0), mesh("d", "e", 0)),
        )
    )
    found = speeds(train)
    assert abs(found["a"] / found["e"]) == Fraction(975, 100)
    assert abs(1000 * found["b"]) == pytest.approx(307.69, abs=0.005)
    assert [train.gear(name).direction for name in "abcde"] == [1, -1, -1, 1, -1]
    assert train.gear("e").path == ("a", "b", "c", "d", "e")


def test_wentzell_11_5() -> None:
    # Wentzell, example 11.5, p. 241 (published copy): 12/36 and 16/64, ratio 12.00; 1750 rpm to 145.83. Tolerance: printed digits.
    train = solve_train(
        design(
            (gear("a", 12, (0, 0), drive=True), gear("b", 36), gear("c", 16, shaft="b"), gear("d", 64)),
            (mesh("a", "b", 0), mesh("c", "d", 0)),
        )
    )
    assert speeds(train)["d"] == Fraction(1, 12)
    assert float(1750 * speeds(train)["d"]) == pytest.approx(145.83, abs=0.005)


def test_khurmi_13_1() -> None:
    # Khurmi & Gupta, Theory of Machines, example 13.1, p. 432 (published copy): 975 rpm, 20/50, 25/75, 26/65, printed 52 rpm. Exact.
    train = solve_train(
        design(
            (
                gear("a", 20, (0, 0), drive=True),
                gear("b", 50),
                gear("c", 25, shaft="b"),
                gear("d", 75),
                gear("e", 26, shaft="d"),
                gear("f", 65),
            ),
            (mesh("a", "b", 0), mesh("c", "d", 0), mesh("e", "f", 0)),
        )
    )
    assert 975 * abs(speeds(train)["f"]) == 52


def test_khurmi_13_2_whole_teeth_move_the_centres() -> None:
    # Khurmi & Gupta, example 13.2, p. 433 (published copy): 3:1, circular pitch 25 mm, 38 and 114 teeth; printed reference diameters
    # 302.39 and 907.2 mm, centre distance 604.79 mm. Tolerance: half of the last printed digit.
    train = solve_train(
        design(
            (gear("one", 38, (0, 0), drive=True), gear("two", 114)),
            (mesh("one", "two", 0),),
            tooth_forms=(tooth_form(module=25 / math.pi),),
        )
    )
    one, two = train.gear("one"), train.gear("two")
    assert 2 * one.geometry.pitch_radius_mm == pytest.approx(302.39, abs=0.005)
    assert 2 * two.geometry.pitch_radius_mm == pytest.approx(907.2, abs=0.05)
    assert two.x_mm == pytest.approx(604.79, abs=0.005)
    assert two.speed == Fraction(1, 3)


def test_sarkar_6_reverted_train_comes_back_to_its_axis() -> None:
    # Sarkar, illustration 6, p. 137 (published copy): reverted, 16:1, centre distance 150 mm, modules 4 and 2.5 mm, 15/60 and 24/96.
    train = solve_train(
        design(
            (
                gear("a", 15, (0, 0), drive=True),
                gear("b", 60),
                gear("c", 24, shaft="b", tooth_form=Ref("fine")),
                gear("d", 96, tooth_form=Ref("fine")),
            ),
            (mesh("a", "b", 30), mesh("c", "d", 210)),
            tooth_forms=(tooth_form(), tooth_form("fine", module=2.5)),
        )
    )
    assert train.meshes[0].centre_distance_mm == train.meshes[1].centre_distance_mm == 150.0
    assert (train.gear("d").x_mm, train.gear("d").y_mm) == pytest.approx((0.0, 0.0), abs=1e-9)
    assert speeds(train)["d"] == Fraction(1, 16)


def test_shifted_pair_stands_at_its_tight_centre_distance() -> None:
    # KHK and SDP/SI tables of profile-shifted gears (from memory): m 3, 12/24, x 0.6/0.36: working angle 26.0886 deg, centre distance
    # 56.4999 mm. Tolerance: half of the last printed digit.
    train = solve_train(
        design(
            (gear("a", 12, (0, 0), drive=True, profile_shift=q("0.6")), gear("b", 24, profile_shift=q("0.36"))),
            (mesh("a", "b", 0),),
            tooth_forms=(tooth_form(module=3),),
        )
    )
    assert train.gear("b").x_mm == pytest.approx(56.4999, abs=0.00005)
    assert train.meshes[0].working_pressure_angle_deg == pytest.approx(26.0886, abs=0.00005)
    assert train.meshes[0].backlash.nominal_mm == pytest.approx(0.4, abs=1e-9)


@pytest.mark.parametrize(("spread", "backlash"), [(0.10, 0.073179), (0.25, 0.184386), (0.50, 0.373521), (1.00, 0.765763)])
def test_backlash_of_spread_centres(spread: float, backlash: float) -> None:
    # m 3, 20/40, no thinning: found by turning involute outlines against each other, and by the exact form; 6 decimals kept.
    train = solve_train(
        design(
            (gear("a", 20, (0, 0), drive=True), gear("b", 40, (90 + spread, 0))),
            (mesh("a", "b"),),
            tooth_forms=(tooth_form(module=3, backlash=0),),
        )
    )
    assert train.meshes[0].backlash.nominal_mm == pytest.approx(backlash, abs=5e-7)


def kite(length: float, backlash: str) -> Design:
    """A 20, B and C 30, D 40 teeth, m 4: AB = AC = 100, BD = CD = 140, AD = `length`; nothing in error."""
    x = (length**2 + 100.0**2 - 140.0**2) / (2.0 * length)
    y = math.sqrt(100.0**2 - x**2)
    return design(
        (gear("a", 20, (0, 0), drive=True), gear("b", 30, (x, y)), gear("c", 30, (x, -y)), gear("d", 40, (length, 0))),
        (mesh("a", "b"), mesh("a", "c"), mesh("b", "d"), mesh("c", "d")),
        tooth_forms=(tooth_form(backlash=backlash),),
        drives=(drive(nut=HEX_NUT, hole_mm=8.0),),
        shop=Shop(hole_position_mm=0.0, profile_offset_mm=0.0, bore_clearance_mm=0.0, moisture_least=8.0, moisture_most=8.0),
    )


@pytest.mark.parametrize(
    ("length", "residual"), [(200.059485, 0.0), (196.444754, 0.0), (192.686568, 0.0), (180.0, 1.68862), (200.559485, 1.77891)]
)
def test_ring_residual(length: float, residual: float) -> None:
    # Constructed; phases simulated, outlines laid over each other. The lengths are printed to 6 decimals, which is worth
    # 3.6e-6 mm of residual; the residuals to 5.
    (loop,) = solve_train(kite(length, "0.04")).loops
    assert loop.residual_mm == pytest.approx(residual, abs=1e-5)
    assert not loop.odd
    assert sorted(loop.gears) == ["a", "b", "c", "d"]


@pytest.mark.parametrize(
    ("more", "residual", "assembles"), [(0.04, 0.142, True), (0.05, 0.177, True), (0.06, 0.213, False), (0.09, 0.319, False)]
)
def test_ring_assembles_within_half_of_its_backlash(more: float, residual: float, assembles: bool) -> None:
    # The same ring spread, every mesh with 0.1 mm of backlash: 0.2 mm may be left. Outlines were laid over each other to see.
    (loop,) = solve_train(kite(200.059485 + more, "0.1")).loops
    assert loop.residual_mm == pytest.approx(residual, abs=5e-4)
    assert loop.allowed_mm == pytest.approx(0.2, abs=1e-9)
    assert (loop.residual_mm <= loop.allowed_mm) is assembles
