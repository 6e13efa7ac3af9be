"""What changes in use and at the bench: leaning axes, pilot holes, what a plain run leaves out. Figures by hand, lengths mm."""

from __future__ import annotations

import math

import pytest
from tests.designs import design, gear
from tests.designs_feet import cap_screw, crank, hex_screw, pin, riding, riser
from tests.edited_base import plain
from tests.part_samples import parts_of, titled

from trivet.model.base import Band
from trivet.model.hardware import Head
from trivet.solve.binding_draws import _Axis, _stand
from trivet.solve.binding_rings import ErrorMesh
from trivet.solve.contour import Contour, Vertex
from trivet.solve.gear_size import ToothGeometry
from trivet.solve.nest_records import Job, Stock
from trivet.solve.nest_registration import _chosen, index_holes, least_miss_mm
from trivet.solve.solve import solve

EXACT = Band(18.0, 18.0, 18.0)


@pytest.mark.parametrize(("direction", "nx", "ny"), [("along x", 1.0, 0.0), ("along y", 0.0, 1.0)])
def test_leaning_axes_at_the_overlap(direction: str, nx: float, ny: float) -> None:
    """One axis leans by 0.01 and the other by 0.02 towards the second: at depths of 10 and 20 they are 0.4 − 0.1 further apart.

    Over an overlap of 18 they open by 18 · (0.02 − 0.01) more; a lean of 0.03 across skews them by 18 · 0.03.
    """
    import numpy

    tooth = ToothGeometry(20, 4.0)
    mesh = ErrorMesh("a–b", tooth, tooth, (80.0 * nx, 80.0 * ny), (0, 1), (0, 0), (10.0, 20.0), 18.0)

    def axis(at: float, along: float, across: float) -> _Axis:
        def turned(x: float, y: float) -> tuple[object, object]:
            return numpy.array([nx * x - ny * y]), numpy.array([ny * x + nx * y])

        return _Axis(turned(at, 0.0), numpy.array([0.0]), turned(along, across))

    found = _stand(mesh, (axis(0.0, 0.01, 0.0), axis(80.0, 0.02, 0.03)), (numpy.array([0.0]),), numpy.array([0.0]), 0.0, 0.0)
    assert float(found.apart[0]) == pytest.approx(80.0 - 10 * 0.01 + 20 * 0.02)
    assert float(found.opening[0]) == pytest.approx(18 * 0.01)
    assert abs(float(found.sideways[0])) == pytest.approx(20 * 0.03)
    assert abs(float(found.skew[0])) == pytest.approx(18 * 0.03)


def test_pilot_hole_of_a_screw_of_no_known_length() -> None:
    # 18 of wood, half a millimetre left over the hole.
    made = riser(riding(), EXACT, EXACT, pivots=(pin(screw=hex_screw(stock=())),))
    assert {item.depth_mm for item in titled(parts_of(made)["deck"], "pilot hole")} == {17.5}


FLUSH = "+ \n+ require flush within 0.5 mm\n"


@pytest.mark.parametrize(("load", "notes"), [("", 0), ("force 100 N at (240, 175) mm, down", 1), ("force 100 N at (240, 175) mm, along x", 0)])
def test_sag_is_left_out_only_where_something_weighs(load: str, notes: int) -> None:
    edits = (f"+ \n+ load plank\n+   {load}\n" if load else "") + FLUSH
    assert len([item for item in plain(edits, "require-not-run") if "sag" in item.message]) == notes


def test_length_of_a_countersunk_drive_bolt_counts_from_the_top_of_its_head() -> None:
    # The same recess to the foot of the cone, and 4.4 of head above it within the length (ISO 225, from memory).
    head = Head(form="countersunk", diameter_mm=16.0, height_mm=4.4, height_max_mm=4.4, angle_deg=90.0)
    plainly, sunk = (
        next(item for item in solve(riser(riding(), EXACT, EXACT, drives=(crank(bolt=bolt),))).bolts if item.part == "crank.hub")
        for bolt in (cap_screw(), hex_screw(head=head))
    )
    assert sunk.least_mm == pytest.approx(plainly.least_mm + 4.4)
    assert [name for name, _ in sunk.stack if "head" in name] == ["head within the length", "boards under the head"]
    assert [name for name, _ in plainly.stack if "head" in name] == ["boards under the head"]


def test_a_gear_of_three_layers_is_three_parts() -> None:
    made = design((gear("hub", 40, (0, 0), drive=True, layers=3),))
    assert sorted(name for name in parts_of(made) if name.startswith("hub")) == ["hub.layer1", "hub.layer2", "hub.layer3"]


def test_registration_holes_are_the_two_farthest_apart_and_a_third() -> None:
    found = _chosen([(0.0, 0.0), (200.0, 0.0), (60.0, 90.0), (100.0, 10.0)], 150.0, 5.0)
    assert found is not None and set(found[:2]) == {(0.0, 0.0), (200.0, 0.0)}
    # Near the middle of the two a sheet turned end for end would nearly fit; off it and to one side it does not.
    assert found[2] == (60.0, 90.0)
    assert _chosen([(0.0, 0.0), (200.0, 0.0), (100.0, 1.0)], 150.0, 5.0) is None
    assert _chosen([(0.0, 0.0), (140.0, 0.0), (60.0, 90.0)], 150.0, 5.0) is None


def test_two_index_holes_locate_and_the_third_only_guards() -> None:
    job = Job("ply", "topside", (), (), 6.0, 10.0, 6.0, 8.0, frozenset(), 1)
    piece = Contour((Vertex(150.0, 100.0), Vertex(450.0, 100.0), Vertex(450.0, 300.0), Vertex(150.0, 300.0)))
    holes = index_holes(job, Stock(600.0, 400.0, None, False), (piece,), (150.0, 100.0, 450.0, 300.0))
    # Dowels of 8: 0.1 of slide for two, 1 of room for the third (common practice, no source).
    assert [(hole.diameter_mm, hole.guard) for hole in holes] == [(8.1, False), (8.1, False), (9.0, True)]
    one, other, third = holes
    # Six tenths of the used 300 apart at least, and off every wrong turn by one and a half times the widest hole.
    assert math.hypot(other.x_mm - one.x_mm, other.y_mm - one.y_mm) >= 180.0
    assert least_miss_mm(((one.x_mm, one.y_mm), (other.x_mm, other.y_mm), (third.x_mm, third.y_mm))) >= 1.5 * 9.0
    for hole in holes:
        dx = max(150.0 - hole.x_mm, hole.x_mm - 450.0, 0.0)
        dy = max(100.0 - hole.y_mm, hole.y_mm - 300.0, 0.0)
        assert math.hypot(dx, dy) >= hole.diameter_mm / 2 + 6.0
        assert 5.0 + hole.diameter_mm / 2 <= hole.x_mm <= 600.0 - 5.0 - hole.diameter_mm / 2
        assert 5.0 + hole.diameter_mm / 2 <= hole.y_mm <= 400.0 - 5.0 - hole.diameter_mm / 2


@pytest.mark.parametrize(("strip", "count"), [(22.0, 3), (16.5, 0)])
def test_index_holes_in_a_narrow_strip(strip: float, count: int) -> None:
    # The widest hole, 9, with 5 of wood to the edge and the spacing of 6 to the piece: 20 of waste. In a corner √2 · (16.5 − 9.5) = 9.9
    # is less than the 4.5 + 6 that are needed.
    job = Job("ply", "topside", (), (), 6.0, 10.0, 6.0, 8.0, frozenset(), 1)
    low, wide, high = strip, 600.0 - strip, 400.0 - strip
    piece = Contour((Vertex(low, low), Vertex(wide, low), Vertex(wide, high), Vertex(low, high)))
    assert len(index_holes(job, Stock(600.0, 400.0, None, False), (piece,), (low, low, wide, high))) == count
