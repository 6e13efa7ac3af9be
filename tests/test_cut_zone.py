"""Metal in cut zones: the wood over it, by hand, at either edge; what the report and page one say."""

from __future__ import annotations

import pytest
from tests.quick_solve import findings_alone, solved

from trivet.checks._examples import BASE
from trivet.diagnostics import Diagnostic
from trivet.tables.report_zones import zone_lines, zone_records

SLUG = "metal-in-cut-zone"
# The board is 17.8 ± 0.2 mm thick, 480 by 350 mm. The western feet stand at x = 240 − 108 − 120 cos 62° = 75.66 mm and
# y = 175 ± 120 sin 62° = 175 ± 105.95 mm, in inserts of 16.1 mm at most, 15 mm long from the underside, round screws of 8 mm.
FOOT_X, FOOT_Y, INSERT, SCREW = 75.663, 105.954, 8.05, 4.0


def zone(edge: str, width: float, depth: float) -> str:
    return f"{BASE}\ncut_zone kerf\n  edge {edge}, width {width} mm, depth {depth} mm\n"


def found(edge: str, width: float, depth: float, more: str = "") -> list[Diagnostic]:
    return findings_alone(zone(edge, width, depth) + more, SLUG)


def test_an_insert_alone_in_the_zone() -> None:
    """Its end is 17.6 − 15 = 2.6 mm under the topside of the thinnest board; the screw in it begins 1.7 mm further in."""
    width = FOOT_X - INSERT + 1.0
    assert found("left", width, 2.5) == []
    (item,) = found("left", width, 8)
    assert "the insert of `corner.nw` (and 1 more of its set)" in item.message
    assert "2.6 mm of wood" in item.message and "8 mm deep" in item.message
    assert item.parts == ("corner.nw", "corner.sw") and "move it 1 mm away" in item.remedy


def test_the_screw_counts_where_the_board_is_lowest() -> None:
    """The tip stands higher than the insert then, at least 0.5 mm under the topside."""
    (item,) = found("left", FOOT_X, 8)
    assert "the screw of `corner.nw`" in item.message
    record = zone_records(*solved(zone("left", FOOT_X, 8)))[0]
    cover = record["metal_free_mm"]
    assert isinstance(cover, float) and 0.5 <= cover < 2.6
    assert found("left", FOOT_X, cover - 0.01) == [] and found("left", FOOT_X, cover + 0.01) != []


def test_a_shorter_screw_leaves_more_wood() -> None:
    """10 mm less screw stand 10 mm lower at the same height: then the insert is nearest."""
    text = zone("left", FOOT_X, 8).replace("length 30 mm", "length 20 mm")
    (item,) = findings_alone(text, SLUG)
    assert "the insert of" in item.message and "2.6 mm" in item.message


@pytest.mark.parametrize(("edge", "inner"), [("left", FOOT_X), ("right", FOOT_X), ("near", 175 - FOOT_Y), ("far", 175 - FOOT_Y)])
def test_every_edge(edge: str, inner: float) -> None:
    """The base is alike left and right, near and far."""
    assert found(edge, inner - INSERT - 0.1, 8) == []
    (item,) = found(edge, inner - INSERT + 0.1, 8)
    pairs = {"left": ("nw", "sw"), "right": ("ne", "se"), "near": ("se", "sw"), "far": ("ne", "nw")}
    assert sorted(item.parts) == [f"corner.{name}" for name in pairs[edge]]


def test_the_drive_head_and_the_pivots() -> None:
    """ISO 4762 M8: a head 8 mm high, 9 mm deep, 0.2 mm shallower at worst. A pivot's screw stays 1 mm under the topside."""
    parts = {part for item in found("left", 300, 0.85) for part in item.parts}
    assert "crank.hub" in parts
    assert "crank.hub" not in {part for item in found("left", 300, 0.75) for part in item.parts}
    (head,) = [item for item in found("left", 300, 0.85) if "crank.hub" in item.parts]
    assert "0.8 mm of wood" in head.message


def test_magnets() -> None:
    """3 mm thick in a hole of 3.15 mm, 0.2 mm shallower at worst: it stands 0.05 mm out. From the underside 14.45 mm are left."""
    magnet = "\nmagnet disc\n  into deck, {}\n  disc 10 by 3 mm\n  fit push\n  at (20, 175) mm\n"
    (item,) = found("left", 40, 8, magnet.format("topside"))
    assert "the magnet `disc`" in item.message and "stands 0.05 mm out of the topside" in item.message
    assert found("left", 40, 14, magnet.format("underside")) == []
    # 17.6 − 3.15 − 0.2 = 14.25 mm over it.
    (deep,) = found("left", 40, 14.4, magnet.format("underside"))
    assert "14.25 mm of wood" in deep.message
    assert found("left", 14.9, 8, magnet.format("topside")) == []


def test_report_and_page_one() -> None:
    design, derived = solved(zone("left", 60, 8))
    (record,) = zone_records(design, derived)
    assert record["metal_free_mm"] is None and record["nearest"] is None
    assert (record["name"], record["board"], record["edge"]) == ("kerf", "deck", "left")
    assert (record["width_mm"], record["depth_mm"]) == (60.0, 8.0)
    # The drive's head, see above.
    elsewhere = record["elsewhere_metal_free_mm"]
    assert elsewhere == pytest.approx(0.8) and record["elsewhere_nearest"] == "crank.hub"
    (line,) = zone_lines(design, derived)
    assert line.startswith("cut zone kerf of deck: no metal (8 mm asked for); elsewhere 0.8 mm free of metal, to crank.hub")
    wide = zone_records(*solved(zone("left", 480, 8)))[0]
    assert wide["elsewhere_nearest"] is None and wide["metal_free_mm"] == elsewhere
