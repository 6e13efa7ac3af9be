"""Every cut of every board, gear, keeper and spacer of generated and hand-written fixtures against the second calculation.

Holes are compared to 2e-5 mm (1.1547 for 2 over the root of 3); shapes by the area that only one of the two has: less than
0.01 mm along the whole edge, for chords.
"""

from __future__ import annotations

import math
from typing import Any

import pytest
from shapely import Polygon
from shapely.affinity import rotate, translate
from tests.oracles.second_corpus import NAMES, solved
from tests.oracles.second_cuts import Cut, board_cuts, cutter_of, sharp
from tests.oracles.second_facts import facts
from tests.oracles.second_gear_cuts import beside_axis, gear_cuts, layers, passed, toothed, uncovered
from tests.oracles.second_teeth import Teeth, goes_down, train

from trivet.solve.contour import Contour
from trivet.solve.feature import Feature, Label, Round, Stroke
from trivet.solve.part_features import PartFeatures


def area_of(contour: Contour) -> Any:
    return Polygon(contour.points(0.002))


def alike(one: Any, two: Any, off_mm: float = 0.004) -> bool:
    return bool(one.symmetric_difference(two).area <= off_mm * one.length)


def same(item: Feature, cut: Cut, datum: str) -> bool:
    face, depth = (datum, None) if cut.depth is None else (cut.face, cut.depth)
    if item.face != face or (item.depth_mm is None) != (depth is None):
        return False
    if depth is not None and item.depth_mm is not None and abs(item.depth_mm - depth) > 1e-6:
        return False
    shape = item.shape
    if isinstance(shape, Round):
        return isinstance(cut.shape, tuple) and len(cut.shape) == 3 and close((shape.x_mm, shape.y_mm, shape.diameter_mm), cut.shape)
    if isinstance(shape, Stroke):
        ends = ((shape.x1_mm, shape.y1_mm), (shape.x2_mm, shape.y2_mm))
        return isinstance(cut.shape, tuple) and len(cut.shape) == 2 and all(close(a, b, 1e-4) for a, b in zip(ends, cut.shape, strict=True))
    if isinstance(shape, Label):
        return isinstance(cut.shape, tuple) and cut.shape[2:] == (shape.text, shape.height_mm) and close((shape.x_mm, shape.y_mm), cut.shape[:2])
    return not isinstance(cut.shape, tuple) and alike(area_of(shape), cut.shape)


def close(one: tuple[float, ...], two: tuple[float, ...], off: float = 2e-5) -> bool:
    return all(isinstance(b, (int, float)) and abs(a - b) <= off for a, b in zip(one, two, strict=True))


def turned(cut: Cut, by_rad: float, dx: float = 0.0, dy: float = 0.0) -> Cut:
    """Marks are worked out in the world already."""
    c, s = math.cos(by_rad), math.sin(by_rad)
    shape = cut.shape
    if not isinstance(shape, tuple):
        shape = translate(rotate(shape, by_rad, origin=(0, 0), use_radians=True), dx, dy)
    elif shape[0] == "world":
        shape = shape[1:]
    elif isinstance(shape[0], tuple):
        shape = tuple((x + dx, y + dy) for x, y in shape)
    else:
        x, y, *rest = shape
        shape = (x * c - y * s + dx, x * s + y * c + dy, *rest)
    return Cut(cut.face, cut.depth, shape, cut.cutter)


def compare(part: PartFeatures, cuts: list[Cut]) -> None:
    left = list(part.features)
    missing = []
    for cut in cuts:
        found = next((item for item in left if same(item, cut, part.datum)), None)
        if found is None:
            missing.append(cut)
        else:
            left.remove(found)
    pilots = [item for item in left if item.by_hand]
    assert (missing, [item for item in left if item not in pilots]) == ([], []), part.part
    for item in part.features:
        if item.operation in ("bore", "opening"):
            assert item.through or isinstance(item.shape, Round)
        assert (item.operation == "engrave") is isinstance(item.shape, (Stroke, Label))


def check_board_parts(name: str) -> None:
    f = facts(name)
    parts = {part.part: part for part in solved(name)[1].parts if part.kind == "board"}
    for board, made in f.named["boards"].items():
        whole = [turned(cut, 0.0, -made.x_mm, -made.y_mm) for cut in board_cuts(name, board)]
        sheet = f.thick(board) / made.layers
        shares = layers(whole, made.layers, sheet) if made.layers > 1 else [whole]
        w, h = made.outline.width_mm, made.outline.height_mm
        edge = translate(sharp(made.outline), w / 2, h / 2)
        for index, cuts in enumerate(shares):
            part = parts.pop(f"{board}.layer{index + 1}" if made.layers > 1 else board)
            assert part.datum == made.datum and part.flip_x_mm == pytest.approx(w / 2)
            compare(part, cuts)
            assert alike(area_of(part.outline), edge)
            assert part.grain == (made.grain or f.sheet(made).face_grain)
            assert part.thickness.mean == pytest.approx(sheet)
            assert (part.layer, part.belongs_to) == ((index + 1, board) if made.layers > 1 else (0, ""))
            assert {len(part.on(face)) for face in part.faces} == {len(part.on(face)) for face in ("topside", "underside")} - {0}
    assert not parts


def check_gear_parts(name: str) -> None:
    f, made = facts(name), train(name)
    derived = solved(name)[1]
    parts = {part.part: part for part in derived.parts if part.kind == "gear"}
    for state in derived.train.gears:
        gear, phase = f.gears[state.id], state.phase_rad
        cuts = [turned(cut, phase) for cut in gear_cuts(name, state.id)]
        sheet = f.width(state.id) / gear.layers
        shares = layers(cuts, gear.layers, sheet) if gear.layers > 1 else [cuts]
        whole_blind = {cut.face for cut in cuts if cut.depth is not None}
        datum = "topside" if whole_blind <= {"topside"} else "underside"
        edge = rotate(toothed(made.teeth[state.id], cutter_of(f, gear)), phase, origin=(0, 0), use_radians=True)
        for index, mine in enumerate(shares):
            part = parts.pop(f"{state.id}.layer{index + 1}" if gear.layers > 1 else state.id)
            left = uncovered(mine)
            blind = {cut.face for cut in left if cut.depth is not None}
            wanted = datum if gear.layers == 1 or not blind or datum in blind else ("topside" if blind <= {"topside"} else "underside")
            assert part.datum == wanted
            compare(part, left)
            joins_layers([item.shape for item in part.features if item.by_hand and isinstance(item.shape, Round)], name, state.id)
            assert alike(area_of(part.outline), edge), state.id
            if index == 0:
                flanks(made.teeth[state.id], cutter_of(f, gear), part.outline, phase)
            assert part.cutter_diameter_mm == pytest.approx(cutter_of(f, gear))
    assert not parts


def joins_layers(dowels: list[Round], name: str, gear: str) -> None:
    """Dowels that join gears on a shaft: two, at two radii and not opposite, so that gears go together one way; 3 mm of wood round them."""
    if not dowels:
        return
    assert len(facts(name).stack(gear)) > 1 and len(dowels) == 2
    inner, outer = beside_axis(name, facts(name).root(gear))
    one, two = (math.hypot(item.x_mm, item.y_mm) for item in dowels)
    assert abs(one - two) == pytest.approx(2.0) and dowels[0].diameter_mm == dowels[1].diameter_mm
    for r, item in ((one, dowels[0]), (two, dowels[1])):
        assert inner + 3 - 0.05 <= r - item.diameter_mm / 2 and r + item.diameter_mm / 2 <= outer - 3 + 0.05
    turn = math.atan2(dowels[0].y_mm, dowels[0].x_mm) - math.atan2(dowels[1].y_mm, dowels[1].x_mm)
    assert abs(math.sin(turn)) > 0.1


def flanks(teeth: Teeth, cutter: float, outline: Contour, phase: float) -> None:
    """Arcs stay within 0.002 mm of the involute, normal to it, from where the cutter leaves it to the tip."""
    down = goes_down(teeth, cutter / 2)
    assert down is not None
    start, count = math.hypot(teeth.rb, down[1]), 0
    for x, y in outline.points(0.001):
        r = math.hypot(x, y)
        if start + 1e-6 < r < teeth.ra - 1e-6:
            off = (math.atan2(y, x) - phase) * teeth.z / (2 * math.pi)
            away = abs(off - round(off)) * 2 * math.pi / teeth.z
            assert abs(away - teeth.half(r)) * teeth.rb <= 0.002
            count += 1
    assert count >= 2 * teeth.z


def check_keepers_and_spacers(name: str) -> None:
    f, derived = facts(name), solved(name)[1]
    parts = {part.part: part for part in derived.parts}
    for gear in f.feet:
        foot = f.held(gear)[1]
        if foot.keeper is None:
            assert f"{foot.name.text}.{gear}.keeper" not in parts
            continue
        part = parts[f"{foot.name.text}.{gear}.keeper"]
        (bore,) = (item for item in part.features if item.title.startswith("bore for"))
        assert same(bore, Cut(None, None, (0.0, 0.0, passed(foot))), part.datum)
        assert alike(area_of(part.outline), sharp(foot.keeper.outline))
        assert part.sheet.name == foot.keeper.stock and part.quantity == 1
    for spacer in f.design.spacers:
        part = parts[spacer.name.text]
        compare(part, [] if spacer.bore_mm is None else [Cut(None, None, (0.0, 0.0, spacer.bore_mm))])
        assert alike(area_of(part.outline), sharp(spacer.outline)) and part.quantity == spacer.quantity


@pytest.mark.parametrize("name", NAMES)
def test_parts(name: str) -> None:
    check_board_parts(name)
    check_gear_parts(name)
    check_keepers_and_spacers(name)
