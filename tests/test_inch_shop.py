"""What a shop in inches reads: fractions where something is bought or set, inches in remedies, and no wrong figure on the card."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from tests.fixture_text import check_text
from tests.inch_fixture import INCH_FIXTURE

from trivet.card import read_card
from trivet.catalog import Catalog
from trivet.drawing.stroke_glyphs import GLYPHS
from trivet.inputs import load_library
from trivet.lower.thread_words import COARSE, thread_meant
from trivet.solve.contour import Contour, Vertex
from trivet.solve.engraved_letters import ENGRAVED
from trivet.solve.inspection_gears import across_flats_mm
from trivet.solve.inspection_reading import Reading
from trivet.source import SourceFile
from trivet.units import decimal_beside, made_text, told_text


@pytest.mark.parametrize("at", [(0.0, 0.0), (165.1, 203.2), (-40.0, 12.5)])
def test_across_flats_wherever_the_hexagon_lies(at: tuple[float, float]) -> None:
    """A hexagon of 13 mm across flats has its corners on a circle of 13 / sqrt(3) (plane geometry)."""
    corners = [math.radians(60 * step + 10) for step in range(6)]
    radius = 13.0 / math.sqrt(3.0)
    hexagon = Contour(tuple(Vertex(at[0] + radius * math.cos(a), at[1] + radius * math.sin(a)) for a in corners))
    assert across_flats_mm(hexagon) == pytest.approx(13.0, abs=1e-9)


@pytest.mark.parametrize(
    ("inches", "text"),
    [(Fraction(73, 64), "1-9/64 in"), (Fraction(1, 64), "1/64 in"), (Fraction(2), "2 in"), (Fraction(3, 4), "3/4 in")],
)
def test_fractions_of_an_inch(inches: Fraction, text: str) -> None:
    """25.4 mm to the inch, exactly."""
    assert made_text(float(inches * Fraction(254, 10)), "in") == text


def test_a_decimal_stands_beside_a_fraction_only() -> None:
    assert told_text(25.4 * 73 / 64, "in") == "1-9/64 in (1.141 in)"
    assert told_text(25.4 * 0.3, "in") == "0.3 in" and told_text(30.0, "mm") == "30 mm"
    assert decimal_beside("5 mm") == decimal_beside("2 in") == decimal_beside("") == ""


def test_remedies_speak_the_writers_unit() -> None:
    """A forgotten unit is most likely the one that the rest of the file has."""
    inch = check_text(INCH_FIXTURE.replace("backlash 0.036 in", "backlash 0.036"))
    assert [item.remedy for item in inch if item.rule == "unit-missing"] == ["write `0.036 in`"]
    module = check_text(INCH_FIXTURE.replace("diametral_pitch 4 per in", "module 4"))
    assert "`diametral_pitch 4 per in`" in next(item.remedy or "" for item in module if item.rule == "unit-missing")


@pytest.mark.parametrize(("written", "meant"), [("25 lbf", "111 N"), ("3 kgf", "29.4 N"), ("2 lb", "8.9 N")])
def test_pounds_become_newtons(written: str, meant: str) -> None:
    """1 lb is 0.45359237 kg, g 9.80665 m/s2 (exact by definition): 1 lbf is 4.448 N."""
    text = INCH_FIXTURE + f"\nload hand\n  force {written} at (11, 7) in\n"
    found = check_text(text)
    assert [item.remedy for item in found if item.rule == "unit-form"] == [f"write `force {meant} at (11, 7) in`"]


def test_coarse_threads_are_those_of_the_library() -> None:
    catalog = Catalog(load_library)
    for size, count in COARSE.items():
        assert catalog.thread(f"{size}-{count}").pitch_mm == pytest.approx(25.4 / count)
    assert thread_meant("5/16 - 18") == thread_meant("5/16") == thread_meant("5/16-18 UNC") == "5/16-18"
    assert thread_meant("7/8") == thread_meant("knob") == ""


def test_metric_hardware_for_an_inch_thread_says_so() -> None:
    found = check_text(INCH_FIXTURE.replace("ASME B18.2.1 hex_cap_screw", "ISO 4017"))
    item = next(item for item in found if item.rule == "no-such-hardware")
    assert item.message == "ISO 4017 is metric hardware; the size 3/8 is not" and "ASME B18.2.1 hex_cap_screw" in (item.remedy or "")


def test_labels_have_strokes_for_what_is_said_to_have_them() -> None:
    assert set(GLYPHS) == ENGRAVED


@pytest.mark.parametrize(
    ("cell", "remedy"),
    [("4 1/2", "write `4-1/2` for one"), ('4.5""', None), ("4.5″", "inches are written with the word: 4.5 in"), ("a b c d", None)],
)
def test_a_cell_of_the_card_has_one_fault_at_most(cell: str, remedy: str | None) -> None:
    row = Reading("nw.tips", "nw", "over the tips", "tip", 114.3, 114.2, 114.4, "", ("nw",))
    card = read_card(SourceFile("card.csv", f"row,unit,measured\nnw.tips,in,{cell}\n"), (row,), "in")
    assert len(card.faults) == 1 and (remedy is None or card.faults[0].remedy == remedy)
