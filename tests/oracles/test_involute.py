"""The involute function against printed tables."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from trivet.solve.involute import inverse_involute, involute, pressure_angle_at

# Involute tables in gear handbooks (Dudley; Machinery's Handbook), from memory, printed to 6 or 7 decimals; 20 deg to 9
# decimals is printed on a gear maker's terminology page (seen). Tolerance: half the last printed digit.
PRINTED = [
    (14.5, 0.0055448, 5e-8),
    (20.0, 0.014904384, 5e-10),
    (22.5, 0.021514, 5e-7),
    (25.0, 0.029975, 5e-7),
    (30.0, 0.053751, 5e-7),
]


@pytest.mark.parametrize(("degrees", "printed", "tolerance"), PRINTED)
def test_printed_involutes(degrees: float, printed: float, tolerance: float) -> None:
    assert involute(math.radians(degrees)) == pytest.approx(printed, abs=tolerance)


@pytest.mark.parametrize(("degrees", "printed", "tolerance"), PRINTED)
def test_printed_involutes_read_backwards(degrees: float, printed: float, tolerance: float) -> None:
    # d inv/dt = tan² t turns the printed digit's uncertainty into an angle's.
    allowed = tolerance / math.tan(math.radians(degrees)) ** 2
    assert inverse_involute(printed) == pytest.approx(math.radians(degrees), abs=allowed)


def test_inverse_of_a_published_working() -> None:
    # KHK Gear Technical Reference, Table 5.15 = SDP/SI, Table 10-14 (from memory): inv f 0.0268197, f 24.1350 deg.
    # Tolerance: half a printed digit of the involute moves the angle by 1.4e-5 deg, the angle is printed to 1e-4.
    assert math.degrees(inverse_involute(0.0268197)) == pytest.approx(24.1350, abs=1e-4)


@settings(derandomize=True, deadline=None, max_examples=200)
@given(st.floats(min_value=1e-4, max_value=1.55))
def test_inverse_undoes_the_involute(angle: float) -> None:
    # Near 0 the involute is angle³/3, so a rounding of tan t in its last place moves the angle by about 1e-16/angle².
    assert inverse_involute(math.tan(angle) - angle) == pytest.approx(angle, abs=1e-12 + 4e-16 / angle**2)


def test_nothing_to_invert() -> None:
    assert inverse_involute(0.0) == 0.0
    assert inverse_involute(-0.01) == 0.0
    assert pressure_angle_at(9.0, 10.0) == 0.0
    assert pressure_angle_at(20.0, 10.0) == pytest.approx(math.pi / 3.0)
