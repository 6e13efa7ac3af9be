"""Shapes of parts against independent polygons: areas of whole gears, hexagon heads in their pockets, slotted holes."""

from __future__ import annotations

import math

import pytest
from tests.designs import q, tooth_form
from tests.designs_feet import riding, riser
from tests.oracles.sharp_gear import sharp_gear
from tests.part_samples import parts_of, polygon

from trivet.model.train import Web
from trivet.solve.board_feet import slotted_hole
from trivet.solve.contour import Contour
from trivet.solve.feature import Round
from trivet.solve.hex_pocket import hex_across_flats_mm, hex_contour, hex_size


@pytest.mark.parametrize(("module", "cutter_mm"), [(6.0, 4.0), (5.0, 4.0)])
def test_area_left_of_a_gear(module: float, cutter_mm: float) -> None:
    """Teeth by points on the involute, closed by a round cutter (grown and shrunk), less the bore: 0.1 %, the chords' share."""
    design = riser(riding(), tooth_forms=(tooth_form(module=module, backlash="0.5"),))
    part = parts_of(design)["nw"]
    # Standard centres: 0.5 mm of backlash is 0.25 mm of thinning for each gear.
    solid = sharp_gear(20, module, thinning=0.25).buffer(cutter_mm / 2, quad_segs=64).buffer(-cutter_mm / 2, quad_segs=64)
    assert part.outline.area_mm2 == pytest.approx(solid.area, rel=1e-3)
    bores = sum(math.pi * item.shape.diameter_mm**2 / 4 for item in part.features if item.through and isinstance(item.shape, Round))
    assert part.outline.area_mm2 - bores == pytest.approx(solid.area - math.pi * 4.1**2, rel=1e-3)


# mechanism: M8, 13 mm across flats, 14.38 mm measured across corners, cutter radius 3 mm: 0.316 mm more; a sharp one 0.804 mm.
@pytest.mark.parametrize(("corners", "more"), [(14.38, 0.316), (13 * 2 / math.sqrt(3), 0.804)])
def test_hexagon_head_fits_its_pocket_and_nothing_larger_does(corners: float, more: float) -> None:
    from shapely import Point, affinity

    least = hex_across_flats_mm(13.0, corners, 3.0)
    assert least - 13.0 == pytest.approx(more, abs=6e-4)
    pocket = polygon(hex_contour(hex_size(13.0, None, None, 6.0, least - 13.0 - 3.0 * 0.2679), 6.0), 1e-4)
    sharp = [(13 / math.sqrt(3) * math.cos(k * math.pi / 3), 13 / math.sqrt(3) * math.sin(k * math.pi / 3)) for k in range(6)]
    from shapely import Polygon

    head = Polygon(sharp).intersection(Point(0, 0).buffer(corners / 2, quad_segs=4000))
    assert head.difference(pocket).area < 1e-4
    assert affinity.scale(head, 1.002, 1.002).difference(pocket).area > 1e-5


def test_slotted_hole_is_a_circle_and_a_slot() -> None:
    from shapely import LineString, Point

    wanted = Point(0, 0).buffer(5.1, quad_segs=2000).union(LineString([(-9.25, 0), (9.25, 0)]).buffer(2.0, quad_segs=2000))
    made = slotted_hole(10.2, 22.5, 4.0)
    assert made.area_mm2 == pytest.approx(wanted.area, rel=1e-6)
    assert polygon(made, 1e-4).symmetric_difference(wanted).area < 1e-2


def test_area_between_spokes() -> None:
    """Four spokes of 12 mm in a 40-tooth gear of module 4: the quarter ring between hub and rim less its spokes, corners rounded."""
    from shapely import Point, box

    design = riser(riding(), tooth_forms=(tooth_form(module=4.0),))
    gears = tuple(
        item.model_copy(update={"web": Web(form="spokes", count=q(4), size=q(12, "mm")), "teeth": q(40)}) if item.turns_on else item
        for item in design.gears
    )
    part = parts_of(design.model_copy(update={"gears": gears}))["west"]
    openings = [item.shape for item in part.features if item.operation == "opening"]
    # Root circle 80 - 5 = 75; rim 2 modules; hub: counterbore 19 mm and 6 mm of wood; cutter 4 mm.
    ring = Point(0, 0).buffer(67.0, quad_segs=500).difference(Point(0, 0).buffer(15.5, quad_segs=500))
    quarter = ring.intersection(box(6, 6, 100, 100)).buffer(-2, quad_segs=100).buffer(2, quad_segs=100)
    assert len(openings) == 4
    for shape in openings:
        assert isinstance(shape, Contour) and shape.area_mm2 == pytest.approx(quarter.area, rel=1e-3)
