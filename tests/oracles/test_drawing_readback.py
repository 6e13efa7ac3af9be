"""What stands in the files, read by other readers: SVG by the small reader below, DXF by its package.

The SVG reader follows the W3C's conversion of arcs from end points to centre (SVG 1.1, appendix F.6.5) and shares
nothing with the writer, which works from bulges.
"""

from __future__ import annotations

import io
import math
import random
import re
import xml.etree.ElementTree as ElementTree
from typing import Any

import pytest
from tests.sample_sheet import BECAUSE, HOLLOW, LARGE, OUTER, SLOT, layer, sample, sheet_with

from trivet.drawing.shapes import Arc, Circle, Path
from trivet.drawing.sheet import Sheet, Unit
from trivet.emit.dxf import dxf
from trivet.emit.svg import svg

NAMESPACE = "{http://www.w3.org/2000/svg}"
AGREEMENT_MM = 0.002  # a tenth of the chord error of 0.02 mm allowed for tooth flanks

Segment = tuple[complex, complex, complex]  # start, middle and end of a line or arc
Outline = list[Segment]


def svg_arc_middle(start: complex, r: float, large: int, sweep: int, end: complex) -> complex:
    """Middle of an elliptical arc command with equal radii (F.6.5 and the scaling of F.6.6)."""
    half = (start - end) / 2
    r = max(r, abs(half))
    factor = math.sqrt(max(r * r - abs(half) ** 2, 0.0)) / abs(half)
    turned = complex(half.imag, -half.real) * (factor if large != sweep else -factor)
    centre = turned + (start + end) / 2
    first = math.atan2((start - centre).imag, (start - centre).real)
    last = math.atan2((end - centre).imag, (end - centre).real)
    angle = (last - first) % (2 * math.pi) if sweep else -((first - last) % (2 * math.pi))
    middle = first + angle / 2
    return centre + r * complex(math.cos(middle), math.sin(middle))


def svg_outline(d: str) -> Outline:
    """Segments of path data made of M, L, A and Z."""
    outline: Outline = []
    words = iter(re.findall(r"[MLAZ]|-?[0-9.]+", d))
    here = first = 0j
    for word in words:
        if word == "M":
            here = first = complex(float(next(words)), float(next(words)))
        elif word == "L":
            there = complex(float(next(words)), float(next(words)))
            outline.append((here, (here + there) / 2, there))
            here = there
        elif word == "A":
            rx, ry, turn, large, sweep, x, y = (float(next(words)) for _ in range(7))
            assert rx == ry and turn == 0
            there = complex(x, y)
            outline.append((here, svg_arc_middle(here, rx, int(large), int(sweep), there), there))
            here = there
        else:
            assert word == "Z"
            if here != first:
                outline.append((here, (here + first) / 2, first))
    return outline


def svg_layers(sheet: Sheet) -> dict[str, list[Outline | tuple[complex, float]]]:
    """Per layer name, in the sheet's coordinates: outlines, and places with a radius (none for text)."""
    root = ElementTree.fromstring(svg(sheet))
    assert root.attrib["viewBox"] == f"0 0 {root.attrib['width'][:-2]} {root.attrib['height'][:-2]}"

    def back(point: complex) -> complex:
        return complex(point.real + sheet.bounds.x_min, sheet.bounds.y_max - point.imag)

    found: dict[str, list[Outline | tuple[complex, float]]] = {}
    for group in root.findall(f"{NAMESPACE}g"):
        name = (group.findtext(f"{NAMESPACE}title") or "").partition(":")[0]
        shapes = found.setdefault(name, [])
        for element in group.iter():
            if element.tag == f"{NAMESPACE}path":
                shapes.append([(back(a), back(b), back(c)) for a, b, c in svg_outline(element.attrib["d"])])
            elif element.tag == f"{NAMESPACE}line":
                x1, y1, x2, y2 = (float(element.attrib[name]) for name in ("x1", "y1", "x2", "y2"))
                a, b = back(complex(x1, y1)), back(complex(x2, y2))
                shapes.append([(a, (a + b) / 2, b)])
            elif element.tag == f"{NAMESPACE}text":
                shapes.append((back(complex(float(element.attrib["x"]), float(element.attrib["y"]))), 0.0))
            elif element.tag == f"{NAMESPACE}circle":
                centre = complex(float(element.attrib["cx"]), float(element.attrib["cy"]))
                shapes.append((back(centre), float(element.attrib["r"])))
    return found


def dxf_document(sheet: Sheet) -> Any:
    import ezdxf

    document = ezdxf.read(io.StringIO(dxf(sheet).decode("utf-8")))
    assert not document.audit().errors
    return document


def dxf_layers(sheet: Sheet) -> dict[str, list[Outline | tuple[complex, float]]]:
    """The same from the DXF file, in mm by the unit of its header."""
    document = dxf_document(sheet)
    mm = {1: 25.4, 4: 1.0}[document.header["$INSUNITS"]]

    def point(vector: Any) -> complex:
        return complex(vector[0], vector[1]) * mm

    def segment(entity: Any) -> Segment:
        if entity.dxftype() == "LINE":
            a, b = point(entity.dxf.start), point(entity.dxf.end)
            return a, (a + b) / 2, b
        start, end = entity.dxf.start_angle, entity.dxf.end_angle
        middle = start + ((end - start) % 360) / 2
        a, b, c = (point(vector) for vector in entity.vertices([start, middle, end]))
        return a, b, c

    found: dict[str, list[Outline | tuple[complex, float]]] = {}
    for entity in document.modelspace():
        shapes = found.setdefault(entity.dxf.layer, [])
        if entity.dxftype() == "LWPOLYLINE":
            shapes.append([segment(part) for part in entity.virtual_entities()])
        elif entity.dxftype() == "CIRCLE":
            shapes.append((point(entity.dxf.center), entity.dxf.radius * mm))
        elif entity.dxftype() in ("ARC", "LINE"):
            shapes.append([segment(entity)])
        else:
            assert entity.dxftype() == "TEXT"
            _, first, second = entity.get_placement()
            shapes.append((point(second or first), 0.0))
    return found


def whole(pieces: Outline) -> Segment:
    """The pieces of one arc as one; all are equally long."""
    half, odd = divmod(len(pieces), 2)
    return pieces[0][0], pieces[half][1] if odd else pieces[half][0], pieces[-1][2]


def agree(left: Segment, right: Segment) -> bool:
    """Same start, middle and end; the DXF reader turns clockwise arcs round, so either direction will do."""
    return any(all(abs(a - b) <= AGREEMENT_MM for a, b in zip(left, way, strict=True)) for way in (right, right[::-1]))


def assert_same_drawing(sheet: Sheet) -> None:
    from_svg, from_dxf = svg_layers(sheet), dxf_layers(sheet)
    assert list(from_svg) == [layer.name for layer in sheet.layers]
    for name, shapes in from_svg.items():
        assert len(shapes) == len(from_dxf[name]), name
        for one, other in zip(shapes, from_dxf[name], strict=True):
            if isinstance(one, tuple):
                assert isinstance(other, tuple)
                assert abs(one[0] - other[0]) <= AGREEMENT_MM and abs(one[1] - other[1]) <= AGREEMENT_MM
            else:
                assert isinstance(other, list)
                if len(other) == 1:
                    # An ARC entity is one piece, while the path may go in several.
                    one = [whole(one)]
                assert len(one) == len(other)
                assert all(agree(left, right) for left, right in zip(one, other, strict=True)), (name, one, other)


def area(outline: Outline) -> float:
    """Area in mm^2: the polygon through the ends, plus or minus a circular segment per arc, signed by its middle."""
    total = 0.0
    for start, middle, end in outline:
        total += (start.real * end.imag - end.real * start.imag) / 2
        chord, rise = end - start, middle - (start + end) / 2
        height = abs(rise)
        if height > 1e-9:
            # Zwillinger, CRC Standard Mathematical Tables, circular segment (from memory): r^2 (t - sin t) / 2.
            r = height / 2 + abs(chord) ** 2 / (8 * height)
            t = 4 * math.atan(2 * height / abs(chord))
            outward = (chord.real * rise.imag - chord.imag * rise.real) < 0
            total += (1 if outward else -1) * r * r * (t - math.sin(t)) / 2
    return abs(total)


@pytest.mark.parametrize("unit", ["mm", "in"])
def test_both_files_hold_the_same_drawing(unit: Unit) -> None:
    assert_same_drawing(sample(unit))


def test_arcs_of_all_sizes_and_both_directions_agree() -> None:
    choose = random.Random(1)
    paths = []
    for index in range(300):
        vertices = tuple(
            (
                choose.uniform(-300, 300),
                choose.uniform(-300, 300),
                choose.choice((0.0, 1.0, -1.0, choose.uniform(-4, 4))),
            )
            for _ in range(choose.randint(3, 6))
        )
        paths.append(Path(vertices, bool(index % 2), "path", BECAUSE))
    assert_same_drawing(sheet_with(layer("pocket", "underside", 3.0, *paths)))


def test_arcs_and_circles_agree() -> None:
    choose = random.Random(2)
    arcs = [
        Arc(choose.uniform(-9, 9), choose.uniform(-9, 9), choose.uniform(0.5, 300), start, start + turn, "arc", BECAUSE)
        for start in (0.0, 33.3, 180.0, 350.0)
        for turn in (1.0, 90.0, 179.0, 181.0, 300.0)
    ]
    circles = [Circle(x, -x, 0.5 + abs(x), "circle", BECAUSE) for x in (-40.0, 0.0, 12.34567)]
    assert_same_drawing(sheet_with(layer("reference", "topside", None, *arcs, *circles)))


@pytest.mark.parametrize(
    ("path", "expected"),
    [
        # Elementary areas worked by hand; the tolerance is the agreement over the length of the outline.
        (OUTER, 80 * 50 - (4 - math.pi) * 6**2),
        (SLOT, 20 * 8 + math.pi * 4**2),
        (LARGE, 0.75 * math.pi * 5**2 + 5 * 5 / 2),
        (HOLLOW, 10 * 10 - math.pi * 3**2 / 2),
    ],
)
def test_areas_are_those_worked_by_hand(path: Path, expected: float) -> None:
    sheet = sheet_with(layer("pocket", "topside", 2.0, path))
    for layers in (svg_layers(sheet), dxf_layers(sheet)):
        (outline,) = layers["topside pocket 2.0 mm"]
        assert isinstance(outline, list)
        length = sum(abs(middle - start) + abs(end - middle) for start, middle, end in outline)
        found = abs(area(ordered(outline)))
        assert abs(found - expected) <= AGREEMENT_MM * length


def ordered(outline: Outline) -> Outline:
    """The segments turned so that each starts where the one before ended."""
    first, *rest = outline
    if not any(abs(first[2] - end) < AGREEMENT_MM for end in (rest[0][0], rest[0][2])):
        first = first[::-1]
    chain = [first]
    for segment in rest:
        chain.append(segment if abs(segment[0] - chain[-1][2]) < AGREEMENT_MM else segment[::-1])
    return chain


def test_outlines_are_closed_and_text_keeps_out_of_cut_layers() -> None:
    document = dxf_document(sample())
    kinds = {(entity.dxf.layer.startswith("reference"), entity.dxftype()) for entity in document.modelspace()}
    assert (True, "TEXT") in kinds and (False, "TEXT") not in kinds
    assert [line.closed for line in document.modelspace().query("LWPOLYLINE")] == [True] * 4 + [False]
    assert [entity.dxf.layer for entity in document.modelspace().query("CIRCLE")] == [
        "bore through",
        "topside counterbore 9.0 mm",
    ]


def test_text_is_read_as_it_was_written() -> None:
    from ezdxf.tools.text import plain_text

    entities = dxf_document(sample()).modelspace().query("TEXT")
    assert [plain_text(entity.dxf.text) for entity in entities] == ["gear <nw> & 50%%d ^J", "80.00"]
    root = ElementTree.fromstring(svg(sample()))
    assert [element.text for element in root.iter(f"{NAMESPACE}text")] == ["gear <nw> & 50%%d ^J", "80.00"]
    # Turned anticlockwise by 30 degrees: positive in DXF, negative in SVG, where y points down (SVG 1.1, 7.4).
    assert [entity.dxf.rotation for entity in entities] == [30.0, 0.0]
    assert [element.get("transform") for element in root.iter(f"{NAMESPACE}text")] == ["rotate(-30 60 70)", None]
