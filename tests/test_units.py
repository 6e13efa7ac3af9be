"""Exact quantities and their print."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trivet.source import LibraryRow
from trivet.units import DIMENSION_WORDS, UNITS, Quantity, length_text, number_text, two_lengths

NUMBERS = st.fractions(-10_000, 10_000, max_denominator=10_000)


def test_inch_is_exact() -> None:
    # International yard and pound agreement, 1959: 1 yard = 0.9144 m exactly, so 1 in = 0.9144 m / 36 = 25.4 mm (from memory).
    assert Quantity(Fraction(36), "in").base == Fraction(9144, 10)
    assert Quantity(Fraction(1), "in").base == Fraction("25.4")
    assert Quantity(Fraction(1000), "thou").base == Fraction("25.4")
    assert Quantity(Fraction("1.125"), "in").base == Fraction("28.575")


def test_diametral_pitch_is_the_inverse() -> None:
    # Module in mm = 25.4 / diametral pitch per inch: the definition, exact.
    assert 1 / Quantity(Fraction(5), "per in").base == Fraction("5.08")


def test_metric_prefixes() -> None:
    assert Quantity(Fraction(3), "cm").base == 30
    assert Quantity(Fraction(5), "percent").base == Fraction(1, 20)


def test_each_unit_has_a_dimension_with_words() -> None:
    assert {dimension for dimension, _ in UNITS.values()} == set(DIMENSION_WORDS)


@given(NUMBERS, st.sampled_from(sorted(UNITS)))
def test_scaling_is_exact(number: Fraction, unit: str) -> None:
    assert Quantity(3 * number, unit).base == 3 * Quantity(number, unit).base
    assert Quantity(number, unit).value == pytest.approx(float(Quantity(number, unit).base))


def test_origin_takes_no_part_in_equality() -> None:
    row = LibraryRow("threads", "M8", "ISO 261", "found")
    assert Quantity(Fraction(1), "mm").at(row) == Quantity(Fraction(1), "mm")
    assert Quantity(Fraction(1), "mm").at(row).origin is row


def test_mm_is_for_lengths() -> None:
    assert Quantity(Fraction(1, 2), "in").mm == 12.7
    with pytest.raises(AssertionError):
        _ = Quantity(Fraction(1), "deg").mm


@pytest.mark.parametrize(
    ("number", "text"),
    [("18", "18"), ("17.80", "17.8"), ("-0.5", "-0.5"), ("1/3", "0.333333"), ("0", "0"), ("-1/10000000", "0")],
)
def test_number_text(number: str, text: str) -> None:
    assert number_text(Fraction(number)) == text


@given(st.decimals(-99_999, 99_999, places=6, allow_nan=False))
def test_short_decimals_print_exactly(number) -> None:
    text = number_text(Fraction(number))
    assert Fraction(text) == Fraction(number) and text != "-0"
    assert "." not in text or text[-1] not in "0."


def test_quantity_prints_its_unit() -> None:
    assert str(Quantity(Fraction("17.8"), "mm")) == "17.8 mm"
    assert str(Quantity(Fraction(16))) == "16"


def test_length_text() -> None:
    assert length_text(5.804) == "5.8 mm"
    assert length_text(25.4, "in") == "1 in"
    assert length_text(-0.001) == "0 mm"
    assert length_text(3.175, "thou") == "0.125 in"


@given(st.integers(-(10**9), 10**9), st.integers(-(10**9), 10**9), st.sampled_from(["mm", "in"]))
def test_two_lengths_differ_in_print(left: int, right: int, unit: str) -> None:
    # Micrometres, so that in either unit a difference shows within six digits (1 um is 0.000039 in).
    texts = two_lengths(left / 1000, right / 1000, unit)
    assert (texts[0] == texts[1]) == (left == right)
