"""Figures of heads, thread lengths, webs, slots and letters that a swapped term would change. Lengths mm unless said otherwise."""

from __future__ import annotations

import math

import pytest
from tests.designs import design, gear, mm, q, ring
from tests.designs_feet import captured, hex_screw, pin, riding, riser
from tests.edited_base import only
from tests.part_samples import parts_of, titled

from trivet.catalog import Catalog
from trivet.drawing.feature_shapes import shapes_of
from trivet.drawing.shapes import Path
from trivet.inputs import load_library
from trivet.model.train import Web
from trivet.solve.contour import Contour
from trivet.solve.feature import Feature, Label, Round
from trivet.solve.solve import solve
from trivet.solve.web_openings import WebRoom, web_openings


def catalog() -> Catalog:
    return Catalog(load_library)


def test_counterbore_clears_a_hexagon_over_its_corners() -> None:
    # Nothing sharper can be 13 across flats than 13 · 2/√3 = 15.01 across corners; and 1 mm of room (common practice, no source).
    tables = catalog()
    assert tables.counterbore_mm("ISO 4017", tables.thread("M8"))[0] == pytest.approx(13.0 * 2 / math.sqrt(3) + 1.0, abs=2e-3)


def test_counterbore_of_a_screw_without_a_table() -> None:
    made = riser(riding(), pivots=(pin(screw=hex_screw(), washer=None, washer_places=()),))
    (bore,) = titled(parts_of(made)["west"], "counterbore")
    assert isinstance(bore.shape, Round)
    assert bore.shape.diameter_mm == pytest.approx(13.0 * 2 / math.sqrt(3) + 1.0, abs=2e-3)


def test_head_is_as_high_as_its_standard_says_and_at_most_so_high() -> None:
    # ISO 4017 grade A, M8: k nominal 5.3, greatest 5.45 (published tables; the upper limit from memory).
    tables = catalog()
    head = tables.head("ISO 4017", tables.thread("M8"))
    assert (head.height_mm, head.height_max_mm) == (5.3, 5.45)


@pytest.mark.parametrize(
    ("standard", "length_in", "threaded_in"),
    [
        # ASME B18.2.1: 2 D + 1/4 in to 6 in, 1/4 in more above (from memory).
        ("ASME B18.2.1 hex_cap_screw", 5.0, 1.0),
        ("ASME B18.2.1 hex_cap_screw", 6.0, 1.0),
        ("ASME B18.2.1 hex_cap_screw", 7.0, 1.25),
        ("ASME B18.2.1 hex_cap_screw", 9.0, 1.25),
        # ASME B18.3: 2 D + 1/2 in (from memory).
        ("ASME B18.3", 3.0, 1.25),
        ("ASME B18.3", 6.0, 1.25),
        ("ASME B18.3", 9.0, 1.25),
    ],
)
def test_thread_of_inch_screws(standard: str, length_in: float, threaded_in: float) -> None:
    tables = catalog()
    screw = tables.screw(standard, tables.thread("3/8-16"))
    assert screw.threaded.threaded_mm(9.525, length_in * 25.4) == pytest.approx(threaded_in * 25.4)


def test_shortest_and_longest_of_a_series_are_sold() -> None:
    # ISO 4017, M8: 16 to 80 (second-hand table of the commercial range).
    tables = catalog()
    stock = tables.screw("ISO 4017", tables.thread("M8")).stock_mm
    assert (stock[0], stock[-1]) == (16.0, 80.0)


@pytest.mark.parametrize(("diameter", "holes"), [(13.9, 6), (14.1, 0)])
def test_holes_of_a_web_leave_wood_between_them(diameter: float, holes: int) -> None:
    # Six holes on a circle of radius 20 are 20 apart (a hexagon's side is its radius): 20 − 14 = 6 of wood is just enough.
    web = Web(form="holes", count=q(6), size=mm(diameter))
    assert len(web_openings(web, WebRoom(10.0, 30.0), 4.0)) == holes


def test_holes_of_a_web_fit_between_hub_and_rim() -> None:
    one = Web(form="holes", count=q(1), size=mm(20))
    assert [item.diameter_mm for item in web_openings(one, WebRoom(10.0, 30.0), 4.0) if isinstance(item, Round)] == [20.0]
    assert not web_openings(one, WebRoom(10.0, 29.9), 4.0)


def test_slot_of_a_cross_pin() -> None:
    # The pin of 3 stands out of the rod of 8 by two of its diameters either side, and half a millimetre is left: 8 + 12 + 0.5.
    (hole,) = titled(parts_of(riser(captured()))["deck"], "hole for the rod of corner.nw")
    assert isinstance(hole.shape, Contour)
    along = [vertex.x for vertex in hole.shape.vertices]
    # A slot as wide as the cutter, 4, has round ends of radius 2 beyond its corners.
    assert max(along) - min(along) + 4.0 == pytest.approx(20.5)


def test_letters_on_the_underside_turn_the_other_way() -> None:
    """Seen from below, left and right change places, so a word that climbs by 30 deg falls by as much, and its letters stay readable."""
    word = Feature("mark", "underside", None, Label(30.0, 10.0, "L", 5.0, 30.0), "mark", "stated", 4.0, None)

    def points(flip: float | None) -> list[tuple[float, float]]:
        return [(x, y) for path in shapes_of(word, flip) if isinstance(path, Path) for x, y, _ in path.vertices]

    seen, below = points(None), points(50.0)
    middle = 2 * 50.0 - 30.0
    turn = math.radians(-60.0)
    for (x, y), (u, v) in zip(seen, below, strict=True):
        # The same letters about the mirrored middle, turned back from +30 to −30 deg.
        dx, dy = x - 30.0, y - 10.0
        assert u - middle == pytest.approx(dx * math.cos(turn) - dy * math.sin(turn), abs=1e-3)
        assert v - 10.0 == pytest.approx(dx * math.sin(turn) + dy * math.cos(turn), abs=1e-3)


def test_residual_of_a_ring_in_half_pitches() -> None:
    """Three equal gears in a ring cannot mesh: each turns its neighbour the other way, so a tooth meets a tooth, half a pitch out."""
    made = design((gear("a", 20, drive=True), gear("b", 20), gear("c", 20)), rings=(ring("three", ("a", "b", "c")),))
    (loop,) = solve(made).train.loops
    assert loop.residual_mm == pytest.approx(loop.in_half_pitch * math.pi * 4.0 / 2.0)


def test_each_gear_is_named_with_its_own_teeth() -> None:
    edits = """
+ 
+ tooth_form fine_teeth
+   module 5 mm
+   backlash 0.5 mm
+ gear sw
+   teeth 20
+   tooth_form fine_teeth
+   carries corner
- gear nw, sw, ne, se
+ gear nw, ne, se
"""
    item = only("meshed-gears-differ", edits)
    assert item.message.startswith("`sw` has module 5 mm, `west`, in mesh with it, 6 mm"), item.message
    assert [label.message for label in item.related] == ["the tooth form `fine_teeth` of `sw`", "the tooth form `coarse` of `west`"]
