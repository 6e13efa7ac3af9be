"""What is said of thick cutters, of corners of hexagons that are not cut and of gears past an edge: each sum is written out. Lengths mm."""

from __future__ import annotations

import math
from typing import Any

import pytest
from tests.designs import mm
from tests.sharp.check_samples import at, of, ref, run

from trivet.checks import cutter_too_fat, gear_past_edge, hex_corner_not_cut
from trivet.checks._hexagon import hexagon_of
from trivet.diagnostics import Diagnostic
from trivet.solve.contour import Contour, Vertex
from trivet.solve.contour_shapes import circle, rectangle


def gear(name: str, largest: float, stated: int = 20, teeth: int = 12, cutter: float = 6.0) -> Any:
    """A gear whose cutter is stated at a place (0: nowhere)."""
    named = ref("straight", stated) if stated else of(text="straight", origin=None)
    declared = of(name=ref(name, 30 + ord(name) - 97), cutter=named, z=teeth)
    return of(id=name, gear=declared, cutter_diameter_mm=cutter, largest_cutter_mm=largest, cutter_limit="the roots; a larger one leaves a larger one")


def fat(*gears: Any, meshes: Any = (), units: str = "mm", declared: bool = True) -> list[Diagnostic]:
    cutters = (of(name=ref("other"), diameter=mm(1)), of(name=ref("straight"), diameter=mm(6).at(at(9)) if declared else None))
    return run(cutter_too_fat, (of(cutters=cutters, units=units), of(train=of(gears=gears, meshes=meshes))))


def test_a_cutter_thicker_than_the_gaps() -> None:
    assert not fat(gear("a", 6.0)) and fat(gear("a", 5.999))
    (item,) = fat(gear("a", 4.568))
    assert item.message == "`straight`, 6 mm, cuts `a`; 4.57 mm is the largest for it: the roots; a larger one leaves a larger one"
    assert item.remedy == "a cutter of 4.56 mm or less, or a larger module" and item.span == at(20) and item.parts == ("straight", "a")
    assert [(x.message, x.span) for x in item.related] == [("`straight` is declared here", at(9)), ("`a` has 12 teeth", at(30))]
    assert fat(gear("a", 4.568), units="in")[0].remedy == "a cutter of 11/64 in (0.172 in) or less, or a smaller diametral pitch"  # 11.49/64
    assert len(fat(gear("a", 4.568), declared=False)[0].related) == 1 and fat(gear("a", 4.568, 0))[0].span == at(30)
    assert "5.999999 mm is the largest" in fat(gear("a", 5.999999))[0].message


def test_gears_that_one_statement_gives_a_cutter() -> None:
    (item,) = fat(gear("a", 4.5), gear("b", 4.50003, teeth=15), gear("c", 4.5), gear("d", 6.0))
    assert item.message.startswith("`straight`, 6 mm, cuts `a`, `b` and `c`; 4.5 mm is the largest for them") and item.parts == ("straight",)
    assert [(x.message, x.span) for x in item.related[1:]] == [("`a` and `c` have 12 teeth", at(30)), ("`b` has 15 teeth", at(31))]
    for other in (gear("b", 4.4998), gear("b", 4.5, stated=21)):
        assert [item.parts for item in fat(gear("a", 4.5), other)] == [("straight", "a"), ("straight", "b")]
    assert len(fat(gear("a", 4.5, 0), gear("b", 4.5, 0))) == 2


def test_gaps_that_no_cutter_fits() -> None:
    gears = (gear("a", 0.009), gear("b", 0.009), gear("c", 7.0))

    def mesh(names: str, distance: float = 99.0, stated: Any = True) -> Any:
        return of(a=names[0], b=names[1], tight_centre_distance_mm=100.0, centre_distance_mm=distance, mesh=of(centre_distance=stated))

    (item,) = fat(*gears)
    assert item.message.endswith("cuts `a` and `b`; none is thin enough for them: the roots; even the thinnest leaves a larger one")
    assert item.remedy == "a larger module, or more teeth" and "enough for it" in fat(gears[0])[0].message
    assert fat(*gears, meshes=(mesh("bc"), mesh("ab", stated=None), mesh("ab", 100.0)))[0].remedy == "a larger module, or more teeth"
    third = gear("d", 0.009)
    assert fat(*gears, third, meshes=(mesh("ab", 98.0),))[0].remedy.startswith("leave `centre_distance` of `a` and `b` out")
    (item,) = fat(*gears, meshes=(mesh("bc"), mesh("ba", 98.5), mesh("ab", 90.0)))
    assert item.remedy == "leave `centre_distance` of `b` and `a` out: 100 mm follows, 1.5 mm more"
    assert "a cutter of 0.01 mm or less" in fat(gear("a", 0.01))[0].remedy


def riser(name: str, gear_name: str, flats: float | None = 13.0, corners: float = 14.4, kind: str = "riding", nut: Any = None) -> Any:
    head = of(across_flats_mm=flats, across_corners_mm=corners, origin=at(8))
    return of(gear=gear_name, foot=of(name=ref(name, 6), kind=kind, nut=nut, screw=of(head=head)))


def hexes(*feet: Any, climbers: Any = (), cutters: str = "a:6 b:6 c:3 d:", units: str = "mm") -> list[Diagnostic]:
    """Gears by name, with the diameter of a cutter of each one's own."""
    pairs = [pair.split(":") for pair in cutters.split()]
    gears = tuple(of(name=ref(name), cutter=ref("same" if name in "ab" else f"cutter_{name}")) for name, _ in pairs)
    made = tuple(of(name=ref("same" if n in "ab" else f"cutter_{n}"), diameter=mm(size).at(at(9)) if size else None) for n, size in pairs)
    return run(hex_corner_not_cut, (of(gears=gears, cutters=made, units=units), of(feet=feet, climbers=climbers)))


def test_corners_of_a_hexagon_that_are_not_cut() -> None:
    """Sharp, a pocket grows by 2 (1 - sin 60 deg) of the cutter's radius: 0.268 r; glued in it has `room` over that."""
    room = hexagon_of(riser("x", "a").foot)
    assert room is not None
    pocket = 13.0 + 6.0 / 2.0 * 0.267949 + room.room_mm
    most = pocket - 0.01
    (item,) = hexes(riser("corner", "a", corners=most + 0.3))
    assert item.message.startswith(f"the pocket of `corner` for its head is {pocket:.4g} mm across flats with `same`; {most:.4g} mm is the most")
    # 0.01 less of pocket is 0.075 less of cutter: 5.9.
    assert item.remedy.startswith("a cutter of 5.9 mm or less;") and item.severity == "warning" and item.parts == ("corner",)
    assert [(x.message, x.span) for x in item.related] == [("`same`, 6 mm", at(9)), ("its head", at(8))] and item.span == at(6)
    assert not hexes(riser("corner", "a", corners=pocket + 0.3001)) and hexes(riser("corner", "a", corners=pocket + 0.2999))
    low = riser("corner", "a", corners=most + 0.3, kind="captured_nut", nut=of(across_flats_mm=13.0, across_corners_mm=most + 0.3, origin=at(7)))
    (item,) = hexes(low)
    assert item.severity == "error" and "for its nut" in item.message and item.related[1].span == at(7)


def test_one_finding_for_a_set_and_a_cutter() -> None:
    tight = 13.6

    def sets(*feet: Any, **facts: Any) -> list[tuple[str, str]]:
        return [(item.parts[0], item.message.partition("with `")[2].partition("`")[0]) for item in hexes(*feet, **facts)]

    feet = (
        riser("x", "a", flats=None), riser("y", "d", corners=tight), riser("z", "c", corners=20.0), riser("s", "a", corners=tight),
        riser("s", "b", corners=tight), riser("s", "c", corners=13.4), riser("t", "b", corners=tight),
    )  # fmt: skip
    assert sets(*feet) == [("s", "same"), ("s", "cutter_c"), ("t", "same")]
    assert sets(climbers=(riser("u", "a", corners=tight),)) == [("u", "same")]


DECK = rectangle(0.0, 0.0, 200.0, 100.0)


def disc(name: str, x: float, y: float, radius: float = 20.0, under: str = "deck") -> Any:
    return of(id=name, x_mm=x, y_mm=y, tip_radius_mm=radius, gear=of(name=ref(name, 40), under=of(text=under)))


def past(*states: Any, faults: Any = (), deck: Contour = DECK, more: Any = (), units: str = "mm") -> list[Diagnostic]:
    """A deck of 200 by 100 from (0, 0); its parts are drawn about the board's own origin, which stands at (10, 5)."""
    boards = tuple(of(name=of(text=name), outline=of(origin=at(start)), x_mm=10.0, y_mm=5.0) for name, start in (("deck", 60), ("lid", 61)))
    own = of(part="deck.layer1", belongs_to="deck", outline=deck.translated(-10.0, -5.0))
    second = of(part="deck.layer2", belongs_to="deck", outline=circle(0.0, 0.0, 1.0))
    parts = (of(part="west", belongs_to="", outline=DECK), own, second, *more)
    return run(gear_past_edge, (of(boards=boards, units=units, origin=at(1)), of(parts=parts, train=of(gears=states, faults=faults))))


@pytest.mark.parametrize(
    ("x", "y", "by", "angle"),
    [
        (185.0, 50.0, 5.0, 0), (15.0, 50.0, 5.0, 180), (100.0, 82.0, 2.0, 90), (100.0, 18.5, 1.5, 270), (210.0, 50.0, 30.0, 0),
        (-3.0, 50.0, 23.0, 180), (100.0, 110.0, 30.0, 90), (203.0, 104.0, 25.0, 53), (200.3, 100.4, 20.5, 53), (200.0, 50.0, 20.0, 0), (100.0, 100.0, 20.0, 90),
        (0.0, 50.0, 20.0, 180), (100.0, 0.0, 20.0, 270),
    ],
)  # fmt: skip
def test_how_far_and_where_teeth_reach_past_an_edge(x: float, y: float, by: float, angle: int) -> None:
    (item,) = past(disc("a", x, y))
    assert item.message == (
        f"the teeth of `a` reach 20 mm from its middle, {by:g} mm past the edge of `deck` at {angle} deg; {max(20.0 - by, 0.0):g} mm or less stays under it"
    )
    assert item.remedy.startswith(f"the edge {by:g} mm farther out there") and item.span == at(40) and item.parts == ("a", "deck")
    assert [(label.message, label.span) for label in item.related] == [("the outline of `deck` is stated here", at(60))]


def test_gears_that_are_not_judged_past_an_edge() -> None:
    assert not past(disc("a", 180.004, 50.0)) and past(disc("a", 180.006, 50.0))
    assert not past(disc("a", 190.0, 50.0), faults=(1,)) and not past(disc("a", 190.0, 50.0, under="lid")) and not past(disc("a", 100.0, 50.0))
    # Under another board's wood nothing shows.
    lid = of(part="lid", belongs_to="", outline=rectangle(150.0, 0.0, 100.0, 100.0))
    assert not past(disc("a", 190.0, 50.0), more=(lid,)) and past(disc("a", 10.0, 50.0), more=(lid,))
    assert past(disc("a", 185.0, 50.0), deck=Contour(tuple(reversed(DECK.vertices))))
    assert len(past(disc("c", 0.0, 0.0, under="none"), disc("a", 190.0, 50.0))) == 1


def test_gears_that_reach_equally_far_past_an_edge() -> None:
    spots = [("a", 185.0, 50.0), ("b", 15.0, 50.0003), ("c", 100.0, 85.0), ("d", 100.0, 15.0), ("e", 184.9997, 40.0), ("f", 50.0, 84.0)]
    one, two = past(*(disc(*spot) for spot in spots))
    assert one.message.endswith("at 0 deg, `b` at 180 deg, `c` at 90 deg, `d` at 270 deg and 1 more; 15 mm or less stays under it")
    assert one.parts == ("a", "b", "c", "d", "e", "deck") and two.parts == ("f", "deck") and "more;" not in two.message
    assert "`d` at 270 deg; 15 mm" in past(*(disc(*spot) for spot in spots[:4]))[0].message
    assert math.isclose(gear_past_edge._past(disc("g", 185.002, 50.0), DECK).by_mm, 5.002)
    assert len(past(disc("a", 185.0, 50.0), disc("b", 185.002, 50.0))) == 2


def on_round_board(angle: float, radius: float) -> gear_past_edge._Past:
    """A gear of 20 so far from the middle of a round board of 100."""
    turn = math.radians(angle)
    return gear_past_edge._past(disc("a", 50.0 + radius * math.cos(turn), 50.0 + radius * math.sin(turn)), circle(50.0, 50.0, 100.0))


@pytest.mark.parametrize("angle", [20.0 * step + 5.0 for step in range(18)])
def test_gears_past_a_round_edge(angle: float) -> None:
    for radius in (99.7, 100.3, 130.0, 40.0):
        past_ = on_round_board(angle, radius)
        assert (past_.by_mm, past_.angle_deg) == pytest.approx((20.0 + radius - 100.0, angle), abs=1e-6)


@pytest.mark.parametrize("angle", [0.0, 45.0, 90.0, 200.0, 270.0])
def test_a_gear_centred_on_a_round_edge(angle: float) -> None:
    """Its teeth reach out squarely to the edge at that place."""
    past_ = on_round_board(angle, 100.0)
    assert past_.by_mm == pytest.approx(20.0) and math.cos(math.radians(past_.angle_deg - angle)) == pytest.approx(1.0)
    bay = Contour((Vertex(0.0, 0.0), Vertex(30.0, 0.0, -1.0), Vertex(70.0, 0.0), Vertex(100.0, 0.0), Vertex(100.0, 80.0), Vertex(0.0, 80.0)))
    # In the middle of a half-round bay of 20 the outside lies towards the bay's middle, below.
    assert gear_past_edge._past(disc("a", 50.0, 20.0), bay).angle_deg == pytest.approx(270.0)
