"""What is done at the bench: which way nuts come loose, from which side inserts are driven, which face is cut first. Figures by hand."""

from __future__ import annotations

import math

import pytest
from tests.designs import design, gear, mm, q, tooth_form
from tests.designs_feet import JAM, M8, TEE, crank, riding, riser
from tests.part_samples import parts_of, titled

from trivet.checks.metal_in_cut_zone import _out
from trivet.model.board import Face
from trivet.model.tabs import Tabs
from trivet.model.train import DriveNut, Web
from trivet.record import replace
from trivet.solve.assembly_preparation import preparations
from trivet.solve.contour import Contour, Vertex
from trivet.solve.library_figures import METAL_ON_WOOD
from trivet.solve.locking import _holds_nmm, _loosens
from trivet.solve.nest_job import _by_first_face
from trivet.solve.power_screw import torque_to_lower, torque_to_raise
from trivet.solve.solve import solve
from trivet.solve.tabs import tab_places


@pytest.mark.parametrize(
    ("nut", "jam", "way"),
    [
        # A right-hand bolt turned clockwise goes down: whatever nut is farther from its head than the first is unscrewed from it.
        ("above", "below", "clockwise"),
        ("above", "above", "clockwise"),
        ("below", "below", "clockwise"),
        ("below", "above", "anticlockwise"),
        # Without a jam nut the bolt climbs out of its nut when it is turned anticlockwise.
        ("above", None, "anticlockwise"),
    ],
)
def test_way_in_which_a_drive_comes_loose(nut: Face, jam: Face | None, way: str) -> None:
    other = "clockwise" if way == "anticlockwise" else "anticlockwise"
    for hand, wanted in ((1, way), (-1, other)):
        jam_nut = None if jam is None else DriveNut(hardware=JAM, side=jam)
        thread = replace(M8, hand=hand)
        assert _loosens(crank(nut=DriveNut(hardware=TEE, side=nut), jam_nut=jam_nut, thread=thread)) == wanted


def test_what_holds_a_jam_nut() -> None:
    """The geometric mean of waxed 0.08 and supplied 0.24 (from memory) is 0.1386; the jam nut holds by the lesser of face and thread."""
    made = crank()
    friction, d2 = math.sqrt(0.08 * 0.24), 8.0 - 0.649519 * 1.25
    face = math.sqrt(METAL_ON_WOOD[0] * METAL_ON_WOOD[1]) * 1000.0 * (13.0 + 8.0) / 4.0
    thread = torque_to_raise(1000.0, d2, 1.25, friction)
    held = _holds_nmm(made, 1000.0)
    assert held == pytest.approx(torque_to_lower(1000.0, d2, 1.25, friction) + min(face, thread), rel=1e-4)


@pytest.mark.parametrize(("driven_from", "side"), [("topside", "above"), ("underside", "below")])
def test_side_that_an_insert_is_driven_from(driven_from: Face, side: str) -> None:
    made = riser(riding(driven_from=driven_from))
    steps = [step for step in preparations(made, solve(made), frozenset()) if step.kind == "drive_insert"]
    assert len(steps) == 4
    assert {(step.side, step.face) for step in steps} == {(side, driven_from)}


@pytest.mark.parametrize(("of_board", "of_gear"), [("topside", "underside"), ("underside", "topside")])
def test_face_with_the_larger_parts_is_cut_first(of_board: Face, of_gear: Face) -> None:
    parts = parts_of(riser(riding()))
    # A board of 480 by 350 and a gear of 132 across with a pocket.
    deck, gear = replace(parts["deck"], datum=of_board), replace(parts["nw"], datum=of_gear)
    assert not all(item.through for item in gear.features)
    assert [(face, [part.part for part in chosen]) for face, chosen in _by_first_face([gear, deck])] == [
        (of_board, ["deck"]),
        (of_gear, ["nw"]),
    ]


@pytest.mark.parametrize(("spokes", "dowels"), [("10", 0), ("10.1", 2)])
def test_dowels_stand_in_spokes_with_wood_beside_them(spokes: str, dowels: int) -> None:
    # A dowel of 6 with 0.05 to push it in, and 2 of wood on either side: 10.05.
    web = Web(form="spokes", count=q(5), size=mm(spokes))
    made = design((gear("hub", 48, (0, 0), drive=True, layers=2, web=web),), tooth_forms=(tooth_form(module=6.0, backlash="0.5"),))
    assert len(titled(parts_of(made)["hub.layer1"], "dowel that lines up")) == dowels


@pytest.mark.parametrize(("inside", "moved"), [(199.5, True), (200.5, False)])
def test_metal_far_inside_a_cut_zone_is_not_moved(inside: float, moved: bool) -> None:
    words = _out(inside, 300.0, "mm")
    assert ("move it" in words) is moved and f"make the zone {inside:g} mm narrower" in words


def test_metal_deeper_inside_than_the_zone_is_wide() -> None:
    assert _out(250.0, 240.0, "mm") == "give up the zone"


@pytest.mark.parametrize(("short", "sides"), [(11.1, 4), (10.9, 2)])
def test_tabs_keep_off_the_corners(short: float, sides: int) -> None:
    # A tab of 5 with 3 free at either end needs an edge of 11.
    edge = Contour((Vertex(0.0, 0.0), Vertex(20.0, 0.0), Vertex(20.0, short), Vertex(0.0, short)))
    deck = replace(parts_of(riser(riding()))["deck"], outline=edge)
    places = tab_places(deck, Tabs(count=q(4)))
    used = {"x" if place.run.y0 == place.run.y1 else "y" for place in places}
    assert used == ({"x", "y"} if sides == 4 else {"x"})
    for place in places:
        along = sorted((place.run.x0, place.run.x1) if place.run.y0 == place.run.y1 else (place.run.y0, place.run.y1))
        assert along[1] - along[0] == pytest.approx(5.0) and along[0] >= 3.0 - 1e-9
