"""How cuts are shared among the layers of a glued part, and which bores another cut takes in. Lengths mm, figures by plane geometry."""

from __future__ import annotations

from typing import Any

import pytest
from tests.designs import mm
from tests.sharp.test_sharp_groups import CONTEXT, INCH, ROOM, web

from trivet.model.base import Band, Ref
from trivet.model.shop import Sheet
from trivet.record import replace
from trivet.solve.contour_shapes import circle, rectangle
from trivet.solve.feature import Feature, Round, Stroke
from trivet.solve.laminate import _covers, layers_of, without_covered
from trivet.solve.lamination_dowels import lamination_dowels
from trivet.solve.part_features import PartFeatures

SHEET = Sheet(name=Ref("ply"), thickness=Band(10.0, 9.6, 10.3), width=mm(600), height=mm(400))
SQUARE = rectangle(-3.0, -3.0, 6.0, 6.0)
HOLE = Round(0.0, 0.0, 8.0)


def cut(face: Any, depth: float | None, shape: Any = SQUARE, operation: Any = "pocket", cutter: float = 4.0, title: str = "") -> Feature:
    return Feature(operation, face, depth, shape, title, "", cutter)


def part(*features: Feature, kind: Any = "gear", datum: Any = "topside") -> PartFeatures:
    outline = circle(0.0, 0.0, 60.0)
    return PartFeatures("hub", kind, SHEET, Band(30.0, 28.8, 30.9), datum, outline, "", "", 4.0, features, notes=("as it was",))


def shared(*features: Feature, count: int = 3, **facts: Any) -> list[list[tuple[str, str, float | None]]]:
    return [[(item.operation, item.face, item.depth_mm) for item in layer.features] for layer in layers_of(part(*features, **facts), count)]


@pytest.mark.parametrize(
    ("face", "depth", "left"),
    [
        # Three layers of 10: through the first two, 5 into the third.
        ("topside", 25.0, (None, None, 5.0)), ("underside", 25.0, (5.0, None, None)), ("topside", 4.0, (4.0, 0.0, 0.0)),
        ("topside", 13.0, (None, 3.0, 0.0)), ("underside", 13.0, (0.0, 3.0, None)),
        # A hundredth more or less makes no layer of its own.
        ("topside", 20.009, (None, None, 0.0)), ("topside", 20.011, (None, None, 0.011)),
        ("topside", 9.989, (9.989, 0.0, 0.0)), ("topside", 9.991, (None, 0.0, 0.0)),
    ],
)  # fmt: skip
def test_share_of_each_layer(face: str, depth: float, left: tuple[float | None, ...]) -> None:
    for shape, blind, through in ((SQUARE, "pocket", "opening"), (HOLE, "counterbore", "bore")):
        found = shared(cut(face, depth, shape, blind), kind="board")
        wanted = [[] if mine == 0.0 else [(through if mine is None else blind, None if mine is None else pytest.approx(mine))] for mine in left]
        assert [[(operation, deep) for operation, _, deep in layer] for layer in found] == wanted
        # What stays blind keeps its face; what goes through is cut from the datum.
        faces = {at for layer in found for _, at, deep in layer if deep is not None}
        assert faces <= {face}


def test_a_hole_through_all_is_in_every_layer_and_a_drilled_one_in_the_first() -> None:
    through = cut("topside", None, HOLE, "bore")
    assert shared(through, count=2) == [[("bore", "topside", None)]] * 2
    # An 8 mm hole by a 10 mm cutter is drilled: one drill goes on once the layers are glued.
    assert shared(cut("topside", 25.0, HOLE, "bore", 10.0)) == [[("bore", "topside", None)], [], []]
    assert shared(cut("underside", 4.0, HOLE, "bore", 10.0)) == [[], [], [("bore", "underside", 4.0)]]
    assert len(shared(cut("topside", 25.0, HOLE, "bore", 8.0))[2]) == 1


def test_layers_by_name() -> None:
    one, two = layers_of(part(cut("underside", 13.0, title="hex pocket")), 2)
    assert [(item.part, item.belongs_to, item.layer) for item in (one, two)] == [("hub.layer1", "hub", 1), ("hub.layer2", "hub", 2)]
    assert one.thickness == SHEET.thickness and one.notes == ("as it was",)
    # From the face of its own pocket, so that none is turned over.
    assert (one.datum, two.datum) == ("underside", "topside")
    whole = part(cut("underside", None, HOLE, "bore"), cut("underside", 13.0))
    (alone,) = layers_of(whole, 1)
    assert (alone.part, alone.belongs_to, alone.layer, alone.thickness) == ("hub", "", 0, whole.thickness)
    assert [item.face for item in alone.features] == ["topside", "underside"], "what goes through is cut from the datum"


def test_face_that_a_layer_is_cut_from() -> None:
    """13 deep from above leaves 3 in the lower layer, which 4 deep from below stay in too."""
    above, below = cut("topside", 13.0), cut("underside", 4.0)

    def datums(*features: Feature, **facts: Any) -> list[str]:
        return [layer.datum for layer in layers_of(part(*features, **facts), 2)]

    for datum in ("topside", "underside"):
        assert datums(datum=datum) == [datum] * 2
        assert datums(above, datum=datum) == [datum, "topside"] and datums(below, datum=datum) == [datum, "underside"]
        # Of pockets in both the part's own; a board's layers all lie as the board does.
        assert datums(above, below, datum=datum) == [datum] * 2
        assert datums(above, datum=datum, kind="board") == datums(below, datum=datum, kind="board") == [datum] * 2


def test_drilled_holes_that_go_on() -> None:
    deep, shallow = cut("topside", 12.5, HOLE, "bore", 10.0), cut("topside", 9.0, HOLE, "bore", 10.0)
    said = "drilled holes go on into the next layer, to 12.5 mm at most: finish them after gluing"

    def notes(*features: Feature, unit: str = "mm") -> list[tuple[str, ...]]:
        return [layer.notes[1:] for layer in layers_of(part(*features, kind="board"), 2, unit)]

    assert notes(deep) == [(said,), ()] and notes(shallow, deep) == [(said,), ()] == notes(deep, shallow)
    assert notes(shallow) == [(), ()] and notes() == [(), ()]
    # No deeper than a layer; cut by the router; through all.
    assert notes(replace(deep, depth_mm=10.0)) == [(), ()] and notes(replace(deep, depth_mm=10.4))[0] != ()
    assert notes(replace(deep, cutter_diameter_mm=4.0)) == [(), ()] and notes(replace(deep, depth_mm=None)) == [(), ()]
    (inch, _) = notes(replace(deep, depth_mm=12.7), unit="in")
    assert "to 0.5 in at most" in inch[0]


@pytest.mark.parametrize(
    ("shape", "hole", "covered"),
    [
        # Middles (4, 5) and (1, 1) lie 5 apart: 5 and half the hole against half of the round.
        (Round(4.0, 5.0, 20.0), Round(1.0, 1.0, 9.9), True), (Round(4.0, 5.0, 20.0), Round(1.0, 1.0, 10.0), False),
        (Round(4.0, 5.0, 20.0), Round(1.0, 1.0, 11.0), False), (Round(1.0, 1.0, 9.0), Round(1.0, 1.0, 8.0), True), (HOLE, HOLE, False),
        (Round(6.0, 1.0, 20.0), Round(1.0, 1.0, 9.9), True), (Round(1.0, 6.0, 20.0), Round(1.0, 1.0, 9.9), True),
        (Round(11.0, 1.0, 19.0), Round(1.0, 1.0, 2.0), False), (Round(1.0, 11.0, 19.0), Round(1.0, 1.0, 2.0), False),
        # A rectangle from (10, 20) to (40, 60) and a hole of 10.
        (rectangle(10.0, 20.0, 30.0, 40.0), Round(25.0, 40.0, 10.0), True),
        *((rectangle(10.0, 20.0, 30.0, 40.0), Round(x, y, 10.0), inner) for x, y, inner in (
            (15.1, 40.0, True), (14.9, 40.0, False), (34.9, 40.0, True), (35.1, 40.0, False),
            (25.0, 25.1, True), (25.0, 24.9, False), (25.0, 54.9, True), (25.0, 55.1, False), (5.0, 40.0, False), (25.0, 90.0, False),
        )),
        (rectangle(-30.0, -40.0, 60.0, 80.0), Round(-20.0, -30.0, 10.0), True), (rectangle(-40.0, -60.0, 30.0, 40.0), Round(-25.0, -40.0, 10.0), True),
        # One that touches a side from within is not wholly inside.
        *((rectangle(10.0, 20.0, 30.0, 40.0), Round(x, y, 10.0), False) for x, y in ((15.0, 40.0), (35.0, 40.0), (25.0, 25.0), (25.0, 55.0))),
        # A round outline: a corner of its box is none of it.
        (circle(0.0, 0.0, 30.0), Round(18.0, 18.0, 8.0), True), (circle(0.0, 0.0, 30.0), Round(18.0, 18.0, 10.0), False),
        (circle(0.0, 0.0, 30.0), Round(24.5, 24.5, 8.0), False), (Stroke(-9.0, 0.0, 9.0, 0.0), HOLE, False),
    ],
)  # fmt: skip
def test_what_takes_in_a_hole(shape: Any, hole: Round, covered: bool) -> None:
    assert _covers(cut("topside", None, shape), hole) is covered


def test_bores_in_a_socket_that_goes_through_are_left_out() -> None:
    bore, socket = cut("topside", None, HOLE, "bore", title="bore"), cut("topside", None, rectangle(-8.0, -8.0, 16.0, 16.0), "opening")
    beside = cut("topside", None, Round(30.0, 0.0, 8.0), "bore", title="beside")
    for order in ((bore, socket, beside), (beside, socket, bore), (socket, beside, bore)):
        assert bore not in without_covered("gear", order) and len(without_covered("gear", order)) == 2
        assert without_covered("board", order) == order
        assert [len(layer.features) for layer in layers_of(part(*order), 1)] == [2]
        assert [len(layer.features) for layer in layers_of(part(*order), 2)] == [2, 2]
    blind = replace(socket, depth_mm=5.0)
    assert without_covered("gear", (bore, blind)) == (bore, blind)
    assert without_covered("gear", (replace(bore, depth_mm=5.0), socket)) == (replace(bore, depth_mm=5.0), socket)
    # An opening within another stays; two of the same bore are no cover for each other.
    window = cut("topside", None, SQUARE, "opening")
    assert without_covered("gear", (window, socket)) == (window, socket) and without_covered("gear", (bore, bore)) == (bore, bore)


@pytest.mark.parametrize(
    ("context", "cutter", "hole"),
    [
        # Usual dowels of 6, 8, 10 and 12 mm, and of 1/4, 5/16, 3/8 and 1/2 in, 0.05 of room; none narrower than the cutter.
        *((CONTEXT, cutter, hole) for cutter, hole in ((3.0, 6.05), (6.0, 6.05), (6.1, 8.05), (8.1, 10.05), (10.0, 10.05), (10.1, 12.05), (12.1, None))),
        *((INCH, cutter, hole) for cutter, hole in ((3.0, 6.4), (6.36, 7.9875), (7.94, 9.575), (9.53, 12.75), (12.71, None))),
    ],
)  # fmt: skip
def test_dowels_that_are_usual(context: Any, cutter: float, hole: float | None) -> None:
    found, _ = lamination_dowels(context, 20, None, ROOM, cutter)
    assert [item.shape.diameter_mm for item in found if isinstance(item.shape, Round)] == ([] if hole is None else [pytest.approx(hole)] * 2)


def test_spokes_just_wide_enough_for_dowels() -> None:
    # 6.05 and 2 of wood either side.
    assert [len(lamination_dowels(CONTEXT, 20, web("spokes", 5, size), ROOM, 4.0)[0]) for size in ("10.05", "10.04")] == [2, 0]
