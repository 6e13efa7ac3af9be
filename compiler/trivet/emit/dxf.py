"""DXF: a sheet as a drawing exchange file of release R2010 (AC1024).

The header states the unit, each layer of the sheet is a layer here, outlines are LWPOLYLINE with bulges, round holes
CIRCLE, and text lies on reference layers only. Group codes and header variables: the DXF reference of that release.
"""

from __future__ import annotations

import io
import re
from functools import cache
from typing import TYPE_CHECKING, Any, assert_never

from trivet.drawing.dimension import parts_of
from trivet.drawing.shapes import Arc, Circle, Dimension, Line, Path, Shape, Text
from trivet.drawing.sheet import MM_PER_INCH, Layer, Sheet
from trivet.emit.numbers import number
from trivet.emit.palette import dash_widths, style_of
from trivet.emit.printable import printable

if TYPE_CHECKING:
    from ezdxf.document import Drawing
    from ezdxf.layouts.layout import Modelspace

INSUNITS_INCH, INSUNITS_MM = 1, 4  # header variable $INSUNITS
BLACK_OR_WHITE = 7  # colour index drawn in whichever of the two shows on the background
LONGEST_NAME = 255


def dxf(sheet: Sheet, plain: bool = False) -> bytes:
    """The sheet as UTF-8 DXF, coordinates in the sheet's unit; `plain` leaves the reference layers out."""
    import ezdxf

    options: Any = ezdxf.options  # type: ignore[attr-defined]  # the package sets it at run time
    fixed = options.write_fixed_meta_data_for_testing
    # Without it, times and random identifiers make every file differ.
    options.write_fixed_meta_data_for_testing = True
    try:
        stream = io.StringIO(newline="\n")
        _document(sheet, plain).write(stream)
    finally:
        options.write_fixed_meta_data_for_testing = fixed
    return stream.getvalue().encode("utf-8")


def _document(sheet: Sheet, plain: bool) -> Drawing:
    from ezdxf import filemanagement

    inch = sheet.unit == "in"
    scale = 1 / MM_PER_INCH if inch else 1.0
    document = filemanagement.new("R2010", units=INSUNITS_INCH if inch else INSUNITS_MM)
    document.header["$MEASUREMENT"] = 0 if inch else 1
    document.header.custom_vars.append("title", printable(sheet.title))
    for count, note in enumerate(sheet.notes, 1):
        document.header.custom_vars.append(f"note {count}", printable(note))
    space = document.modelspace()
    least, most = (sheet.bounds.x_min, sheet.bounds.y_min), (sheet.bounds.x_max, sheet.bounds.y_max)
    space.reset_extents((least[0] * scale, least[1] * scale, 0), (most[0] * scale, most[1] * scale, 0))
    names: dict[str, str] = {}
    for layer in sheet.shown(plain):
        if layer.name not in names:
            names[layer.name] = _add_layer(document, layer, scale)
        for shape in layer.shapes:
            _draw(space, shape, {"layer": names[layer.name]}, scale)
    # The package would list these from a set when writing, in an order that changes with the hash seed.
    for kind in sorted(document.entitydb.dxf_types_in_use()):
        document.classes.add_class(kind)
    return document


def legal_name(name: str, taken: frozenset[str]) -> str:
    """The name with the characters that DXF forbids replaced by `-`, unlike any of `taken` in any case of letters."""
    wanted = re.sub(r'[<>/\\":;?*=|`,]', "-", printable(name))[:LONGEST_NAME].strip() or "layer"
    found, count = wanted, 1
    while found.lower() in taken:
        count += 1
        found = f"{wanted[: LONGEST_NAME - 4]} {count}"
    return found


def _add_layer(document: Drawing, layer: Layer, scale: float) -> str:
    style = style_of(layer.operation)
    if style.dash != "continuous" and style.dash not in document.linetypes:
        lengths = [count * style.width_mm * scale for count in dash_widths(style.dash)]
        signed = [length if index % 2 == 0 else -length for index, length in enumerate(lengths)]
        document.linetypes.add(style.dash, [sum(lengths), *signed], description=f"{style.dash} line of ISO 128-2")
    # Layers "0" and "defpoints" have meanings of their own in every file.
    taken = frozenset({"0", "defpoints"} | {known.dxf.name.lower() for known in document.layers})
    entry = document.layers.add(
        legal_name(layer.name, taken),
        linetype="CONTINUOUS" if style.dash == "continuous" else style.dash,
        lineweight=round(style.width_mm * 100),
        color=BLACK_OR_WHITE if style.rgb == (0, 0, 0) else nearest_index(style.rgb),
    )
    if style.rgb != (0, 0, 0):
        entry.rgb = style.rgb
    depth = "never cut" if layer.reference else "through"
    if layer.depth_mm is not None:
        depth = f"{number(layer.depth_mm)} mm deep"
    entry.description = f"{layer.operation.replace('_', ' ')}, {layer.face}, {depth}"
    name: str = entry.dxf.name
    return name


@cache
def nearest_index(rgb: tuple[int, int, int]) -> int:
    """The colour index (1 to 255) whose usual colour lies nearest, by squared distance in RGB; the lowest of equals."""
    from ezdxf.colors import DXF_DEFAULT_COLORS, int2rgb

    def distance(index: int) -> int:
        return sum((a - b) ** 2 for a, b in zip(int2rgb(DXF_DEFAULT_COLORS[index]), rgb, strict=True))

    return min(range(1, 256), key=distance)


def _draw(space: Modelspace, shape: Shape, attributes: dict[str, Any], scale: float) -> None:
    match shape:
        case Line():
            start, end = (shape.x1 * scale, shape.y1 * scale), (shape.x2 * scale, shape.y2 * scale)
            space.add_line(start, end, dxfattribs=attributes)
        case Circle():
            space.add_circle((shape.cx * scale, shape.cy * scale), shape.r * scale, dxfattribs=attributes)
        case Arc():
            centre = (shape.cx * scale, shape.cy * scale)
            space.add_arc(centre, shape.r * scale, shape.start_deg, shape.end_deg, dxfattribs=attributes)
        case Path():
            points = [(x * scale, y * scale, bulge) for x, y, bulge in shape.vertices]
            space.add_lwpolyline(points, format="xyb", close=shape.closed, dxfattribs=attributes)
        case Text():
            _write(space, shape, attributes, scale)
        case Dimension():
            for part in parts_of(shape):
                # Dimension lines are continuous (ISO 128-2 type 01.1) on a layer that is otherwise dashed.
                _draw(space, part, {**attributes, "linetype": "CONTINUOUS"}, scale)
        case _:
            assert_never(shape)


def _write(space: Modelspace, text: Text, attributes: dict[str, Any], scale: float) -> None:
    from ezdxf.enums import TextEntityAlignment

    alignment = {
        "start": TextEntityAlignment.LEFT,
        "middle": TextEntityAlignment.CENTER,
        "end": TextEntityAlignment.RIGHT,
    }[text.anchor]
    entity = space.add_text(_literal(text.text), height=text.height_mm * scale, rotation=text.angle_deg, dxfattribs=attributes)
    entity.set_placement((text.x * scale, text.y * scale), align=alignment)


def _literal(text: str) -> str:
    """The text with DXF's own codes taken apart: a caret stands before a control code, `%%` before a symbol."""
    return printable(text).replace("^", "^ ").replace("%%", "%%%%%%")
