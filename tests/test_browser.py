"""Drawings as a browser shows them: its own geometry against the report's numbers and the DXF files, in millimetres."""

from __future__ import annotations

import io
import json
import math
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from tests.browser_page import browser, measured
from tests.part_samples import EXAMPLES, example

from trivet.outputs import Wanted, outputs

NEAR_MM = 0.01  # the browser keeps single precision and snaps boxes to 1/64 pixel, 0.004 mm
PX_PER_MM = 96 / 25.4  # CSS Values and Units, 6.2: 1in is 96px (from memory)
NAMES = ("outfeed_riser", "inch_table")


@cache
def _files(name: str) -> dict[str, bytes]:
    (path,) = (path for path in EXAMPLES if path.stem == name)
    design, derived, _ = example(path)
    return outputs(design, derived, (), {}, {}, Wanted())


@pytest.fixture(scope="module", params=NAMES)
def seen(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> tuple[str, dict[str, Any]]:
    """An example's name and what the browser measured of its drawings."""
    program = browser()
    drawings = {path: data for path, data in _files(request.param).items() if path.startswith("cut/") and path.endswith(".svg")}
    return request.param, measured(program, drawings, tmp_path_factory.mktemp("browser"))


def _report(name: str) -> dict[str, Any]:
    found: dict[str, Any] = json.loads(_files(name)["report.json"])
    return found


def _dxf(name: str, path: str) -> tuple[Any, float]:
    import ezdxf

    text = _files(name)[path.replace(".svg", ".dxf")].decode("utf-8")
    document = ezdxf.read(io.StringIO(text))
    return document, {1: 25.4, 4: 1.0}[document.header["$INSUNITS"]]


Seen = tuple[str, dict[str, Any]]


def test_pages_have_their_size_in_millimetres(seen: Seen) -> None:
    """A millimetre of the drawing is a millimetre of paper, and the sheet is as large as the DXF says."""
    name, drawings = seen
    assert drawings
    for path, drawing in drawings.items():
        document, mm = _dxf(name, path)
        least, most = document.header["$EXTMIN"], document.header["$EXTMAX"]
        for side, axis in (("width", 0), ("height", 1)):
            assert drawing[side] / PX_PER_MM == pytest.approx((most[axis] - least[axis]) * mm, abs=NEAR_MM), (path, side)
        assert abs(drawing["scale"] / PX_PER_MM - 1.0) * drawing["width"] / PX_PER_MM <= NEAR_MM, path


# Browsers draw an arc as cubic curves; the usual one for a quarter of a circle is longer than it by 1.4e-4 (its integral, worked out).
CURVE = 1.5e-4


def _outline(entity: Any, mm: float) -> tuple[float, float, tuple[float, float, float, float]]:
    """Length, that of its arcs, and box of a closed polyline: chords and bulges, and for the box fine points by the package."""
    from ezdxf.path import make_path

    points = [(x * mm, y * mm, bulge) for x, y, bulge in entity.get_points("xyb")]
    length = arcs = 0.0
    for (x1, y1, bulge), (x2, y2, _) in zip(points, points[1:] + points[:1], strict=True):
        chord, angle = math.hypot(x2 - x1, y2 - y1), 4 * math.atan(abs(bulge))
        arcs += chord * (angle / 2) / math.sin(angle / 2) if bulge else 0.0
        length += 0.0 if bulge else chord
    fine = [(point.x * mm, point.y * mm) for point in make_path(entity).flattening(0.0005 / mm)]
    xs, ys = [x for x, _ in fine], [y for _, y in fine]
    return length + arcs, arcs, (min(xs), min(ys), max(xs), max(ys))


def test_cut_shapes_are_where_the_dxf_has_them(seen: Seen) -> None:
    """Boxes of outlines and circles, and the length all the way round, in the order drawn."""
    name, drawings = seen
    for path, drawing in drawings.items():
        document, mm = _dxf(name, path)
        left, top = document.header["$EXTMIN"][0] * mm, document.header["$EXTMAX"][1] * mm
        cut = [shape for shape in drawing["shapes"] if shape["operation"] not in ("reference", "engrave")]
        reference = {layer.dxf.name for layer in document.layers if layer.dxf.name.startswith(("reference", "0", "Defpoints"))}
        engraved = {layer.dxf.name for layer in document.layers if " engrave " in layer.dxf.name}
        entities = [entity for entity in document.modelspace() if entity.dxf.layer not in reference | engraved]
        assert len(cut) == len(entities) > 0, path
        for shape, entity in zip(cut, entities, strict=True):
            if entity.dxftype() == "CIRCLE":
                x, y, r = entity.dxf.center.x * mm, entity.dxf.center.y * mm, entity.dxf.radius * mm
                length = arcs = 2 * math.pi * r
                box = (x - r, y - r, x + r, y + r)
            else:
                length, arcs, box = _outline(entity, mm)
            there = (shape["x"] + left, top - shape["y"] - shape["height"], shape["x"] + shape["width"] + left, top - shape["y"])
            assert there == pytest.approx(box, abs=NEAR_MM), (path, shape["layer"])
            assert shape["length"] == pytest.approx(length, abs=NEAR_MM + CURVE * arcs), (path, shape["layer"])


def _edge(drawing: dict[str, Any]) -> dict[str, Any] | None:
    found: list[dict[str, Any]] = [shape for shape in drawing["shapes"] if shape["operation"] == "outer edge"]
    return found[0] if found else None


def test_gears_reach_their_tip_circle_and_turn_about_their_bore(seen: Seen) -> None:
    name, drawings = seen
    gears = {gear["id"]: gear for gear in _report(name)["gears"]}
    checked = set()
    for output in _report(name)["outputs"]:
        edge = _edge(drawings[output["path"]]) if output["path"] in drawings and output["part"] in gears else None
        if edge is None:
            continue
        gear = gears[output["part"]]
        bores = [
            shape for shape in drawings[output["path"]]["shapes"] if shape["operation"] == "bore" and shape["kind"] == "circle"
        ]
        assert bores, output["path"]
        x, y = bores[0]["x"] + bores[0]["width"] / 2, bores[0]["y"] + bores[0]["height"] / 2
        radii = [math.hypot(px - x, py - y) for px, py in edge["points"]]
        assert 2 * max(radii) == pytest.approx(gear["tip_diameter_mm"], abs=2 * NEAR_MM), gear["id"]
        # A cutter leaves no less than the root circle, and steps of a millimetre come near the deepest place.
        assert gear["root_diameter_mm"] - 2 * NEAR_MM <= 2 * min(radii) < gear["root_diameter_mm"] + gear["module_mm"]
        checked.add(gear["id"])
    assert checked == set(gears)


def test_boards_measure_as_the_cut_list_and_carry_every_gear(seen: Seen) -> None:
    """Each gear's axis has a hole in the board at its place, on the underside seen from below."""
    name, drawings = seen
    report = _report(name)
    board = report["cut_list"][0]
    for output in report["outputs"]:
        if output["part"] != board["part"] or output["path"] not in drawings:
            continue
        drawing = drawings[output["path"]]
        edge = _edge(drawing)
        if edge is None:
            continue
        assert (edge["width"], edge["height"]) == pytest.approx((board["width_mm"], board["height_mm"]), abs=NEAR_MM)
        holes = [
            (shape["x"] + shape["width"] / 2 - edge["x"], edge["y"] + edge["height"] - shape["y"] - shape["height"] / 2)
            for shape in drawing["shapes"]
            if shape["kind"] == "circle" and shape["operation"] != "reference"
        ]
        for gear in report["gears"]:
            x = board["width_mm"] - gear["x_mm"] if output["face"] == "underside" else gear["x_mm"]
            nearest = min(math.hypot(hx - x, hy - gear["y_mm"]) for hx, hy in holes)
            assert nearest <= NEAR_MM, (gear["id"], nearest)
        return
    raise AssertionError("no drawing of the board cuts its edge")


def test_text_keeps_clear_of_what_is_cut_and_within_the_sheet(seen: Seen) -> None:
    _, drawings = seen
    for path, drawing in drawings.items():
        assert drawing["texts"], path
        for text in drawing["texts"]:
            assert text["width"] > 0, (path, text["text"])
            assert text["over"] == [], (path, text["text"], text["over"])
            assert text["left"] >= 0 and text["right"] <= drawing["width"] / drawing["scale"] + NEAR_MM, (path, text["text"])


def test_the_scale_square_is_a_hundred_millimetres(seen: Seen) -> None:
    _, drawings = seen
    for path, drawing in drawings.items():
        boxes = [(shape["width"], shape["height"]) for shape in drawing["shapes"] if shape["layer"] == "reference scale square"]
        assert any(box == pytest.approx((100, 100), abs=NEAR_MM) for box in boxes), path


def test_a_browser_is_asked_for_or_its_absence_is_said(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """Where it is absent the tests are skipped with a reason; where everything is installed on purpose, they fail."""
    monkeypatch.setenv("PATH", str(tmp_path))
    monkeypatch.setenv("CI", "true")
    with pytest.raises(pytest.fail.Exception, match="no browser"):
        browser()
    monkeypatch.setenv("CI", "")
    with pytest.raises(pytest.skip.Exception, match="no browser"):
        browser()
