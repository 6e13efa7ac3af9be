"""Published figures that the drawings rely on: colours, unit codes, scale mistakes."""

from __future__ import annotations

import math

import pytest
from tests.sample_sheet import sample

from trivet.drawing.scale_square import reading, scale_slips
from trivet.drawing.text_width import text_width_mm
from trivet.emit.dxf import dxf
from trivet.emit.palette import dash_widths, style_of

# Okabe and Ito, Color Universal Design, 2008 (jfly.uni-koeln.de/color), the table of eight colours as reproduced in
# published palette tables; exact, as the figures are whole numbers. Third: red * 65536 + green * 256 + blue.
OKABE_ITO = {
    "black": ("#000000", (0, 0, 0), 0),
    "orange": ("#E69F00", (230, 159, 0), 15113984),
    "sky blue": ("#56B4E9", (86, 180, 233), 5682409),
    "bluish green": ("#009E73", (0, 158, 115), 40563),
    "blue": ("#0072B2", (0, 114, 178), 29362),
    "vermilion": ("#D55E00", (213, 94, 0), 13983232),
    "reddish purple": ("#CC79A7", (204, 121, 167), 13400487),
}
WANTED = {
    "outer_edge": "bluish green",
    "opening": "orange",
    "bore": "reddish purple",
    "pocket": "sky blue",
    "counterbore": "blue",
    "engrave": "vermilion",
    "reference": "black",
}


@pytest.mark.parametrize(("operation", "colour"), WANTED.items())
def test_colours_are_those_published(operation: str, colour: str) -> None:
    style = style_of(operation)
    written, rgb, _ = OKABE_ITO[colour]
    assert (style.colour, style.hex, style.rgb) == (colour, written, rgb)


def test_colour_is_never_the_only_carrier() -> None:
    looks = [(style.width_mm, style.dash) for style in map(style_of, WANTED)]
    assert len(set(looks)) == len(WANTED)


def test_dashes_are_those_of_iso_128() -> None:
    # ISO 128-2:2020, types 01, 02 and 04, in line widths: dash 12, gap 3; long dash 24, gap 3, dot 0.5, gap 3.
    # From memory; exact, as the standard gives whole and half widths.
    assert dash_widths("continuous") == ()
    assert dash_widths("dashed") == (12, 3)
    assert dash_widths("long-dashed dotted") == (24, 3, 0.5, 3)
    # ISO 128-2, series of line widths in mm, from memory.
    widths = {style_of(operation).width_mm for operation in WANTED}
    assert widths <= {0.13, 0.18, 0.25, 0.35, 0.5, 0.7, 1.0, 1.4, 2.0}


@pytest.mark.parametrize(("unit", "name"), [("mm", "Millimeters"), ("in", "Inches")])
def test_unit_in_the_header_is_the_published_code(unit: str, name: str) -> None:
    import io

    import ezdxf
    from ezdxf.enums import InsertUnits

    document = ezdxf.read(io.StringIO(dxf(sample(unit)).decode("utf-8")))
    # The codes of $INSUNITS as the package lists them; 4 and 1 also in the DXF reference, from memory.
    assert document.header["$INSUNITS"] == InsertUnits[name].value == {"mm": 4, "in": 1}[unit]
    assert document.dxfversion == "AC1024"


def test_true_colours_in_the_file_are_those_published() -> None:
    import io

    import ezdxf

    document = ezdxf.read(io.StringIO(dxf(sample()).decode("utf-8")))
    for layer in sample().layers:
        entry = document.layers.get(layer.name)
        colour = WANTED[layer.operation]
        if colour == "black":
            # Index 7 is black on white paper and white on a dark screen.
            assert entry.dxf.color == 7 and not entry.dxf.hasattr("true_color")
        else:
            assert entry.dxf.true_color == OKABE_ITO[colour][2]


def test_scale_slips_are_those_of_the_trade() -> None:
    # Factors as printed in workshop tables of scale mistakes, from memory; half a unit in the last place printed.
    printed = [
        ("25.4", "0.03937"),
        ("3.78", "0.2646"),
        ("3.543", "0.2822"),
        ("2.835", "0.3528"),
        ("1.333", "0.75"),
        ("1.067", "0.9375"),
    ]
    factors = [slip.factor for slip in scale_slips()]
    for text, factor in zip([text for pair in printed for text in pair], factors, strict=True):
        last_place = 10.0 ** -len(text.partition(".")[2])
        assert math.isclose(factor, float(text), rel_tol=0, abs_tol=0.5 * last_place + 1e-12)
    assert scale_slips()[0].reading_mm == pytest.approx(2540.0)


def test_room_for_text_is_enough_for_a_plain_font() -> None:
    # Advance widths in thousandths of the font size, and height of capitals 718, from the metric files published with
    # the fourteen standard fonts of PostScript (the upright sans-serif), from memory. Enough room, at most 1.7 times.
    widths = {
        " ": 278, "i": 222, "l": 222, "f": 278, "t": 278, "r": 333, "a": 556, "e": 556, "k": 500, "m": 833, "w": 722,
        "A": 667, "I": 278, "O": 778, "Q": 778, "M": 833, "W": 944, "0": 556, "9": 556, ".": 278, "(": 333, "-": 333,
        "/": 278, "%": 889, "@": 1015, "+": 584, "=": 584, "&": 667, "#": 556,
    }  # fmt: skip
    for character, width in widths.items():
        needed = width / 718
        assert needed <= text_width_mm(character, 1.0) <= max(1.7 * needed, 0.5), character


def test_reading_of_the_square() -> None:
    # 25.4 mm to the inch exactly (international yard and pound agreement, 1959): 100 / 25.4 = 3.93700787.
    assert reading() == "100 mm = 3.937 in"
    assert reading("in") == "3.937 in = 100 mm"
