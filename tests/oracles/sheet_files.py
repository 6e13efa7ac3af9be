"""The sheet drawings of a design as readers of others give them back: SVG by svgelements, DXF by GDAL; mm from the sheet's lower left."""

from __future__ import annotations

import io
import math
from dataclasses import dataclass
from typing import Any

import shapely

from trivet.drawing.nested_sheets import nested_sheets
from trivet.drawing.part_sheet import PartSheet
from trivet.drawing.sheet import Sheet
from trivet.emit.dxf import dxf
from trivet.emit.svg import svg
from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.solve.nest import nest
from trivet.solve.nest_records import Nest, NestedSheet

CHORD_MM = 0.001  # arcs are read as chords this close to them


@dataclass(frozen=True)
class Item:
    """One shape of a layer, as an area: `operation` is empty on reference layers. `circle` is (x, y, diameter) where it is one."""

    layer: str
    operation: str
    part: str
    title: str
    area: Any
    circle: tuple[float, float, float] | None


@dataclass(frozen=True)
class Written:
    """One face of a sheet: what was drawn, and what its SVG gives back."""

    sheet: NestedSheet
    drawn: PartSheet
    items: tuple[Item, ...]

    def cut(self, *operations: str) -> list[Item]:
        """The items that are cut, of those operations where any are named."""
        return [item for item in self.items if item.operation and (not operations or item.operation in operations)]

    def reference(self, what: str) -> list[Item]:
        """The items of a reference layer."""
        return [item for item in self.items if item.layer == f"reference {what}"]


def written(design: Design, derived: Derived) -> tuple[Nest, dict[str, tuple[Written, ...]]]:
    """The nest, and the faces of each sheet by its name, the first face first."""
    laid = nest(design, derived)
    sheets = {sheet.name: sheet for sheet in laid.sheets}
    found: dict[str, tuple[Written, ...]] = {}
    for drawn in nested_sheets(design, laid):
        name = drawn.id.rpartition(".")[0]
        found[name] = (*found.get(name, ()), Written(sheets[name], drawn, svg_items(drawn)))
    return laid, found


def svg_items(drawn: Sheet, ppi: float = 25.4, data: bytes | None = None) -> tuple[Item, ...]:
    """What an SVG reader sees, in units of 1/ppi inch: at 25.4 to the inch, mm."""
    import svgelements

    root = svgelements.SVG.parse(io.BytesIO(svg(drawn) if data is None else data), ppi=ppi)
    unit = ppi / 25.4
    left, top = drawn.bounds.x_min * unit, drawn.bounds.y_max * unit
    found = []
    for group in root:
        if not isinstance(group, svgelements.Group):
            continue
        values = group.values["attributes"]
        children = list(group)
        layer, operation = str(children[0].title).partition(":")[0], str(values["data-operation"])
        # Titles and descriptions of shapes follow them as children of their own.
        for element, after in zip(children, [*children[1:], None], strict=True):
            if isinstance(element, svgelements.Circle):
                x, y, r = left + float(element.cx), top - float(element.cy), float(element.rx)
                area, circle = shapely.Point(x, y).buffer(r, 256), (x, y, 2.0 * r)
            elif isinstance(element, svgelements.Path):
                area, circle = _area([(left + x, top - y) for x, y in _points(element)]), None
            else:
                continue
            shown = "" if operation == "reference" else operation
            found.append(Item(layer, shown, str(values.get("data-part", "")), str(getattr(after, "title", "")), area, circle))
    return tuple(found)


def _area(points: list[tuple[float, float]]) -> Any:
    closed = len(points) > 3 and math.dist(points[0], points[-1]) < 1e-6
    return shapely.Polygon(points) if closed else shapely.LineString(points)


def _points(path: Any) -> list[tuple[float, float]]:
    import svgelements

    found: list[tuple[float, float]] = []
    for piece in path:
        if isinstance(piece, svgelements.Arc):
            radius, sweep = max(float(piece.rx), 1e-9), abs(float(piece.sweep))
            count = max(2, math.ceil(sweep / (2.0 * math.acos(1.0 - min(CHORD_MM / radius, 0.5)))))
            found += [(float(p.x), float(p.y)) for p in (piece.point(k / count) for k in range(1, count + 1))]
        elif piece.end is not None:
            found.append((float(piece.end.x), float(piece.end.y)))
    return found


def gdal_areas(drawn: Sheet, data: bytes | None = None) -> dict[str, list[Any]]:
    """What GDAL reads from the DXF, by layer: closed outlines and circles as areas; units of the file.

    Arcs are read in steps of half a degree, which lie within 0.002 mm up to 200 mm of radius.
    """
    import pyogrio

    pyogrio.set_gdal_config_options({"OGR_ARC_STEPSIZE": "0.5", "DXF_CLOSED_LINE_AS_POLYGON": "TRUE"})
    meta, _, shapes, fields = pyogrio.raw.read(dxf(drawn) if data is None else data)
    layers = fields[list(meta["fields"]).index("Layer")]
    found: dict[str, list[Any]] = {}
    for layer, shape in zip(layers, shapely.from_wkb(shapes), strict=True):
        if shape.geom_type == "LineString" and shape.is_closed and len(shape.coords) > 3:
            shape = shapely.Polygon(shape.coords)
        if shape.geom_type == "Polygon":
            found.setdefault(str(layer), []).append(shapely.Polygon([point[:2] for point in shape.exterior.coords]))
    return found
