"""What is let into wood and has to be turned there: recesses and spanners, part by part. Lengths mm, room of 1 round all that is let in."""

from __future__ import annotations

from types import SimpleNamespace as Of
from typing import Any

import pytest
from tests.designs import BOLT, HEX_HEAD, M8, TEE_NUT, design, gear, mm
from tests.designs_feet import CAP, HEX, JAM, LARGE_WASHER, NUT, PAN, TEE, hex_screw

from trivet.model.hardware import Head
from trivet.model.train import DriveNut
from trivet.record import replace
from trivet.solve import sunk
from trivet.solve.contour import Contour
from trivet.solve.feature import Feature, Round
from trivet.solve.hex_pocket import hex_across_flats_mm
from trivet.solve.part_context import PartContext, part_context
from trivet.solve.solve import solve
from trivet.solve.spanner import sunk_hexagons
from trivet.solve.sunk import Seat, cone_words, head_diameter_mm, head_recess, hex_recess, nut_recess, round_recess
from trivet.source import LibraryRow

SEAT = Seat("underside", 7.0, 9.0, 18.0, 4.0)
CONE = Head(form="countersunk", diameter_mm=15.0, height_mm=4.0, height_max_mm=4.2, angle_deg=90.0)


def context(unit: str = "mm") -> PartContext:
    made = design((gear("hub", 20, (0, 0), drive=True),), units=unit)
    return part_context(made, solve(made))


def sizes(found: tuple[Feature, ...]) -> list[tuple[str, float | None, float]]:
    """Operation, depth and diameter (None: a contour's height, so its flats)."""
    made = []
    for item in found:
        if isinstance(item.shape, Round):
            assert (item.shape.x_mm, item.shape.y_mm) == (7.0, 9.0)
            made.append((item.operation, item.depth_mm, round(item.shape.diameter_mm, 6)))
        else:
            assert isinstance(item.shape, Contour)
            x0, y0, x1, y1 = item.shape.bounds
            assert ((x0 + x1) / 2.0, (y0 + y1) / 2.0) == pytest.approx((7.0, 9.0))
            made.append((item.operation, item.depth_mm, 0.0))
        assert (item.face, item.cutter_diameter_mm) == ("underside", 4.0)
    return made


@pytest.mark.parametrize(
    ("depth", "wanted"),
    [(5.0, [("counterbore", 5.0, 20.0)]), (0.0, []), (-1.0, []), (0.5, [("counterbore", 0.5, 20.0)]), (17.98, [("counterbore", 17.98, 20.0)]),
     (17.995, [("bore", None, 20.0)]), (25.0, [("bore", None, 20.0)])],
)  # fmt: skip
def test_a_recess_as_deep_as_the_wood_goes_through(depth: float, wanted: list[Any]) -> None:
    assert sizes(round_recess(context(), SEAT, 20.0, depth, "x", "y", None)) == wanted
    flats = hex_recess(context(), SEAT, (13.0, None, None), depth, "x", None)
    assert sizes(flats) == [({"bore": "opening", "counterbore": "pocket"}[kind], deep, 0.0) for kind, deep, _ in wanted]


def test_room_of_a_hexagon() -> None:
    def title(*room: float) -> str:
        (found,) = hex_recess(context(), SEAT, (13.0, None, None), 5.0, "nut", None, *room)
        return found.title

    # Over what a cutter of 4 leaves in the corners, 0.1 of room for glue unless said otherwise.
    sharp = hex_across_flats_mm(13.0, 99.0, 2.0)
    assert title() == title(0.1) == f"nut, {sharp + 0.1:.2f} mm across flats" and title(0.5) == f"nut, {sharp + 0.5:.2f} mm across flats"


@pytest.mark.parametrize(
    ("nut", "washer", "wanted"),
    [
        (DriveNut(hardware=NUT, side="below"), None, []),
        (DriveNut(hardware=NUT, side="below", recessed=mm(6), round=mm(24)), LARGE_WASHER, [("counterbore", 6.0, 24.0)]),
        (DriveNut(hardware=TEE, side="below", recessed=mm(2)), LARGE_WASHER, [("counterbore", 2.0, 23.0)]),
        (DriveNut(hardware=NUT, side="below", recessed=mm(6)), LARGE_WASHER, [("counterbore", 6.0, 19.0)]),
        (DriveNut(hardware=NUT, side="below", recessed=mm(6)), None, [("pocket", 6.0, 0.0)]),
    ],
)
def test_recess_of_a_nut(nut: DriveNut, washer: Any, wanted: list[Any]) -> None:
    found = nut_recess(context(), nut, SEAT, washer, "crank.hub")
    assert sizes(found) == wanted and all("crank.hub" in item.title for item in found)


ROW = LibraryRow("my_bores", "M8", "own", "measured")


@pytest.mark.parametrize(
    ("screw", "washer", "wanted", "words"),
    [
        (replace(BOLT, head=CONE), LARGE_WASHER, [("counterbore", 5.8, 16.0)], "cone of 90 deg to 15.00 mm across"),
        (replace(BOLT, head=PAN), LARGE_WASHER, [("counterbore", 10.0, 19.0)], "head and washer"),
        (replace(BOLT, head=PAN), replace(LARGE_WASHER, outside_mm=12.0), [("counterbore", 10.0, 13.0)], "head of"),
        (replace(BOLT, head=PAN, counterbore_mm=16.5, counterbore_origin=ROW), None, [("counterbore", 10.0, 16.5)], "head of"),
        (replace(BOLT, head=PAN, counterbore_mm=12.0, counterbore_origin=ROW), None, [("counterbore", 10.0, 13.0)], "head of"),
        (replace(BOLT, head=PAN), None, [("counterbore", 10.0, 13.0)], "head of"),
    ],
)
def test_recess_of_a_head(screw: Any, washer: Any, wanted: list[Any], words: str) -> None:
    found = head_recess(context(), screw, 10.0, SEAT, washer, "pin.west", None)
    assert sizes(found) == wanted and words in found[0].title
    table = screw.counterbore_mm == 16.5
    assert (found[0].because == "counterbore of the table `my_bores`, row M8") is table


def test_a_counterbore_without_a_table_is_room_round_the_head() -> None:
    (found,) = head_recess(context(), replace(BOLT, head=PAN, counterbore_mm=16.5), 10.0, SEAT, None, "pin", None)
    assert found.because == "largest diameter of the head plus 1 mm of room (common practice, no source)"
    (other,) = nut_recess(context(), DriveNut(hardware=TEE, side="below", recessed=mm(2)), SEAT, None, "crank")
    assert other.because == "largest diameter of the flange plus 1 mm of room (common practice, no source)"


def test_widths_of_heads() -> None:
    # A hexagon over sharp corners, 2/√3 of its flats; other heads as they are.
    assert head_diameter_mm(CAP) == 13.27 and head_diameter_mm(HEX) == pytest.approx(13.0 * 1.1547)
    assert head_diameter_mm(replace(HEX, diameter_mm=16.0)) == 16.0
    assert cone_words(context(), CONE) == "90 deg to 15.00 mm across" and cone_words(context(), replace(CONE, angle_deg=None)) == "to 15.00 mm across"
    assert sunk._across(NUT) == (13.0, 14.38, NUT.origin)


# Hexagons that a spanner has to reach.
def derived(drives: tuple[Any, ...] = (), pivots: tuple[Any, ...] = ()) -> Any:
    return Of(drives=tuple(Of(id=f"crank.{n}", drive=item) for n, item in enumerate(drives)),
              pivots=tuple(Of(id=f"pin.{n}", pivot=item) for n, item in enumerate(pivots)))  # fmt: skip


def crank(**facts: Any) -> Any:
    given: dict[str, Any] = {
        "bolt": hex_screw(), "head_recessed": mm(9), "washer": None, "washer_places": (), "nut": DriveNut(hardware=TEE_NUT, side="above"),
        "jam_nut": None, "thread": M8, "origin": "drive",
    }  # fmt: skip
    return Of(**(given | facts))


def pin(**facts: Any) -> Any:
    given: dict[str, Any] = {"screw": hex_screw(), "head_recessed": mm(7), "washer": None, "washer_places": (), "nut": None, "origin": "pivot"}
    return Of(**(given | facts))


def let_in(*drives: Any, pivots: tuple[Any, ...] = ()) -> list[tuple[str, str, float, float | None, Any]]:
    found = sunk_hexagons(derived(drives, pivots))
    return [(item.part, item.what, item.depth_mm, None if item.recess_mm is None else round(item.recess_mm, 4), item.origin) for item in found]


# 13 over sharp corners and 1.
ALONE = round(13.0 * 1.1547 + 1.0, 4)


def test_heads_of_drives_and_pivots_that_are_let_in() -> None:
    assert let_in(crank(), crank(head_recessed=None), crank(bolt=replace(hex_screw(), head=CAP))) == [("crank.0", "hexagon head", 9.0, ALONE, "drive")]
    washed = {"washer": LARGE_WASHER}
    assert [item[3] for item in let_in(crank(**washed, washer_places=("head",)), crank(**washed, washer_places=("above", "below")))] == [19.0, ALONE]
    pins = (pin(), pin(head_recessed=None), pin(**washed, washer_places=("below",)), pin(**washed, washer_places=("above",)))
    assert let_in(pivots=pins) == [(f"pin.{n}", "hexagon head", 7.0, wide, "pivot") for n, wide in ((0, ALONE), (2, 19.0), (3, ALONE))]
    bare = replace(hex_screw(), head=replace(HEX_HEAD, across_flats_mm=None))
    assert let_in(crank(bolt=bare)) == []
    # Half a millimetre is let in, nothing is not.
    assert [item[2] for item in let_in(crank(head_recessed=mm("0.5")), crank(head_recessed=mm(0)), pivots=(pin(head_recessed=mm("0.5")),))] == [0.5, 0.5]
    (found,) = sunk_hexagons(derived((crank(),)))
    assert (found.flats_mm, found.height_mm) == (13.0, 5.3)


def test_nuts_that_are_turned_in_their_recess() -> None:
    """A jam nut, unless it lies on a nut that has the recess; a pivot's nut only where its recess is round."""
    low, high = DriveNut(hardware=JAM, side="below", recessed=mm(6), origin=None), DriveNut(hardware=JAM, side="above", recessed=mm(6))
    base: dict[str, Any] = {"head_recessed": None}
    assert let_in(crank(**base, jam_nut=low)) == [("crank.0", "jam nut", 6.0, None, "drive")]
    shallow = DriveNut(hardware=JAM, side="below", recessed=mm("0.5"))
    assert let_in(crank(**base, jam_nut=shallow)) == [("crank.0", "jam nut", 0.5, None, "drive")]
    under = DriveNut(hardware=NUT, side="below", recessed=mm(5))
    assert let_in(crank(**base, nut=under, jam_nut=low)) == [] and len(let_in(crank(**base, nut=under, jam_nut=high))) == 1
    assert len(let_in(crank(**base, nut=DriveNut(hardware=NUT, side="below"), jam_nut=low))) == 1
    washed = {"washer": LARGE_WASHER}
    assert [let_in(crank(**base, **washed, washer_places=(place,), jam_nut=low))[0][3] for place in ("below", "above", "head")] == [19.0, None, None]
    round_nut = DriveNut(hardware=NUT, side="above", recessed=mm(5), round=mm(24))
    over = (pin(**base, nut=DriveNut(hardware=NUT, side="above", recessed=mm(5))), pin(**base, nut=round_nut), pin(**base))
    assert let_in(pivots=over) == [("pin.1", "nut", 5.0, 24.0, "pivot")]
    (found,) = sunk_hexagons(derived((), (over[1],)))
    assert (found.flats_mm, found.height_mm, found.out_mm) == (13.0, 6.8, pytest.approx(1.8))
