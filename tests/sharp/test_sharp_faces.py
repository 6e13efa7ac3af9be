"""Parts by their faces, sizes as they are titled, keepers and spacers as parts, and small outlines: by hand. Lengths mm."""

from __future__ import annotations

import math
from typing import Any

import pytest
from tests.designs import mm, q
from tests.designs_feet import captured, riding, riser, sliding
from tests.part_samples import parts_of

from trivet.model.base import Ref
from trivet.model.board import Spacer
from trivet.model.outline import Outline, OutlineVertex
from trivet.model.shop import Cutter
from trivet.record import replace
from trivet.solve.feature import Feature, Round
from trivet.solve.outline_contour import drawn
from trivet.solve.part_context import PartContext, part_context
from trivet.solve.part_features import from_datum, one_face
from trivet.solve.plate_features import keeper_part, spacer_part
from trivet.solve.power_screw import holds_by_itself
from trivet.solve.solve import solve

DECK = parts_of(riser(riding()))["deck"]


def cut(face: Any, depth: float | None, title: str = "t") -> Feature:
    return Feature("pocket", face, depth, Round(9, 9, 5), title, "b")


BELOW, ABOVE, THROUGH, HOLE = cut("underside", 2.0, "below"), cut("topside", 3.0, "above"), cut("topside", None, "through"), cut("underside", None, "hole")


@pytest.mark.parametrize(
    ("datum", "features", "faces", "first", "second"),
    [
        # What goes through is cut from the datum face whatever it says, and the edge last.
        ("underside", (ABOVE, THROUGH, BELOW, HOLE), ("underside", "topside"), ["through", "below", "hole", "edge"], ["above"]),
        ("topside", (ABOVE, THROUGH, BELOW, HOLE), ("topside", "underside"), ["above", "through", "hole", "edge"], ["below"]),
        ("topside", (THROUGH, HOLE), ("topside",), ["through", "hole", "edge"], []),
        ("underside", (THROUGH, HOLE, BELOW), ("underside",), ["through", "hole", "below", "edge"], []),
        ("underside", (), ("underside",), ["edge"], []),
    ],
)
def test_work_of_each_face(datum: Any, features: tuple[Feature, ...], faces: Any, first: list[str], second: list[str]) -> None:
    part = replace(DECK, datum=datum, features=features, outline_title="edge")
    other = "topside" if datum == "underside" else "underside"
    assert part.faces == faces and [item.title for item in part.on(datum)] == first and [item.title for item in part.on(other)] == second
    edge = part.edge
    assert (edge.operation, edge.face, edge.depth_mm, edge.shape) == ("outer_edge", datum, None, part.outline)
    assert (edge.because, edge.cutter_diameter_mm) == (part.outline_because, part.cutter_diameter_mm)
    assert [item.face for item in from_datum(part).features] == [datum if item.through else item.face for item in features]


def test_a_part_that_may_be_cut_from_either_face() -> None:
    """The face of its pockets; the underside where both have some; with none at all the topside, as it is drawn."""
    assert [one_face(features) for features in ((ABOVE, HOLE), (BELOW, THROUGH), (ABOVE, BELOW), (), (HOLE,))] == [
        "topside", "underside", "underside", "topside", "topside",
    ]  # fmt: skip


def context_of(made: Any, **facts: Any) -> PartContext:
    found = riser(made, **facts)
    return part_context(found, solve(found))


def test_sizes_in_titles() -> None:
    metric = context_of(riding(), cutters=(Cutter(name=Ref("straight"), diameter=mm(4), reach=mm(25)), Cutter(name=Ref("vee"), tip_angle=q(90, "deg"))))
    inch = context_of(riding(), units="in")
    assert (metric.size(8.2), inch.size(8.2), metric.size(25.4), inch.size(25.4)) == ("8.20 mm", "0.323 in", "25.40 mm", "1.000 in")
    assert (metric.length(8.2), inch.length(8.2), metric.length(50.0), inch.length(12.7)) == ("8.2 mm", "0.323 in", "50 mm", "0.5 in")
    assert metric.overall(Outline("circle", 50.0, 50.0)) == "circle 50 mm" and metric.overall(Outline("slot", 90.0, 8.0)) == "slot 90 mm by 8 mm"
    assert inch.overall(Outline("rectangle", 88.9, 50.8)) == "rectangle 3.5 in by 2 in"
    # Boards lie at their mean thickness.
    assert (metric.boards.z["deck"].under_mm, metric.boards.z["deck"].top_mm) == (0.0, pytest.approx(17.8))
    assert (metric.cutter_mm("straight"), metric.cutter_mm("vee")) == (4.0, 0.0)
    assert sorted(metric.feet) == ["ne", "nw", "se", "sw"] and metric.feet["nw"].id == "corner.nw" and set(metric.states) >= {"hub", "west", "nw"}


def test_a_keeper_as_a_part() -> None:
    """120 by 60 about the middle; a rod of 8 passes with 1 of room, and no screws are stated."""
    context = context_of(captured())
    foot, state = context.design.feet[0], context.states["nw"]
    made = keeper_part(context, foot, state)
    assert made is not None and (made.part, made.kind, made.datum, made.quantity) == ("corner.nw.keeper", "keeper", "topside", 1)
    assert made.outline.bounds == (-60, -30, 60, 30) and made.outline_title == "edge of the keeper of corner.nw, rectangle 120 mm by 60 mm"
    (bore,) = made.features
    assert (bore.operation, bore.face, bore.depth_mm, bore.shape) == ("bore", "topside", None, Round(0.0, 0.0, 9.0))
    assert bore.title == "bore for corner.nw, 9.00 mm" and bore.because == "the rod 8 mm passes with 1 mm of room (common practice, no source)"
    assert bore.cutter_diameter_mm == made.cutter_diameter_mm == state.cutter_diameter_mm == 4.0
    assert made.notes == ("no place was found for the keeper's own screws, so their holes are not drawn",) and made.thickness == made.sheet.thickness
    assert (made.layer, made.flip_x_mm, made.belongs_to, made.tabs) == (0, 0.0, "", ())
    assert keeper_part(context, foot.model_copy(update={"keeper": None}), state) is None
    hex_ = keeper_part(context, sliding(), replace(state, foot_id=""))
    # 13 over sharp corners and 1 more; without a foot of its own by set and gear.
    assert hex_ is not None and hex_.part == "corner.nw.keeper" and hex_.features[0].shape == Round(0.0, 0.0, pytest.approx(26.0 / math.sqrt(3.0) + 1.0))
    assert keeper_part(context, foot, replace(state, foot_id="rear.nw")).part == "rear.nw.keeper"


def test_a_spacer_as_a_part() -> None:
    context = context_of(riding())
    ring = Spacer(name=Ref("ring"), stock=Ref("gears"), cutter=Ref("straight"), outline=Outline("circle", 30.0, 30.0), bore_mm=8.5, quantity=4)
    made = spacer_part(context, ring)
    assert (made.part, made.kind, made.datum, made.quantity, made.sheet.name.text) == ("ring", "spacer", "topside", 4, "gears")
    assert made.outline.bounds == pytest.approx((-15, -15, 15, 15)) and made.outline_title == "edge of ring, circle 30 mm"
    (bore,) = made.features
    assert (bore.title, bore.shape, bore.face, bore.depth_mm, bore.cutter_diameter_mm) == ("bore of ring, 8.50 mm", Round(0.0, 0.0, 8.5), "topside", None, 4.0)
    block = spacer_part(context, ring.model_copy(update={"bore_mm": None, "outline": Outline("rectangle", 40.0, 10.0)}))
    assert block.features == () and block.outline.bounds == (-20, -5, 20, 5)


@pytest.mark.parametrize("radius", [0.0, 0.5, 0.9, 1.0, 3.0])
def test_rounds_of_an_angle_however_small(radius: float) -> None:
    """Five outward corners lose (1 − π/4) r² each, the inward one gains as much."""
    corners = tuple(OutlineVertex(x, y, 0.0) for x, y in ((0.0, 0.0), (40.0, 0.0), (40.0, 15.0), (15.0, 15.0), (15.0, 30.0), (0.0, 30.0)))
    outline = Outline("polygon", 40.0, 30.0, corner_radius_mm=radius, vertices=corners)
    assert drawn(outline).area_mm2 == pytest.approx(825.0 - 4.0 * (1.0 - math.pi / 4.0) * radius**2)
    assert len(drawn(outline).vertices) == (6 if radius == 0.0 else 12)


def test_steepness_that_friction_on_slanted_flanks_holds() -> None:
    """A lead over the circumference of 0.10 to 0.12 at a friction of 0.1: flanks of 30° hold 0.1 / cos 30° = 0.1155, square ones 0.1."""
    turn = math.pi * 10.0
    assert [holds_by_itself(share * turn, 10.0, 0.1) for share in (0.09, 0.1, 0.115, 0.116)] == [True, True, True, False]
    assert [holds_by_itself(share * turn, 10.0, 0.1, 0.0) for share in (0.099, 0.101)] == [True, False]
