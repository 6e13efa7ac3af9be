"""Cuts that are too narrow, bolts that do not fit, heads that go too deep, spacings: check by check. Lengths mm; sums beside the figures."""

from __future__ import annotations

from typing import Any

import pytest
from tests.designs_feet import NUT, captured, crank, pin, riding
from tests.sharp.stand_ins import at, length, named, ref, starts

from trivet.checks import (
    narrower_than_cutter,
    no_bolt_fits,
    no_drive,
    no_room_for_spanner,
    parts_too_close,
    screw_through_board,
    thin_under_head,
)
from trivet.model.base import Band
from trivet.model.hardware import Screw
from trivet.model.train import DriveNut
from trivet.record import replace
from trivet.solve.derived import BoltChoice
from trivet.solve.feature import Round
from trivet.solve.spanner import Sunk


def cut(diameter: float, name: str, start: int, whole: str = "deck") -> Any:
    return named(
        feature=named(shape=Round(0.0, 0.0, diameter), cutter_diameter_mm=6.0), title=f"hole {name}", names=(name, whole), whole=whole, span=at(start)
    )


NO_POCKETS: dict[str, Any] = {"pockets": (), "cutters": (), "boards": ()}


def test_round_cuts_that_are_alike_are_said_once(monkeypatch: pytest.MonkeyPatch) -> None:
    given = (("one", 4.77, "pin.a", 1), ("two", 5.0, "peg", 2), ("one", 4.77, "pin.b", 3), ("one", 4.77, "pin.c", 1), ("three", 3.0, "bore", 4))
    cuts = [(key, cut(wide, name, start)) for key, wide, name, start in given]
    monkeypatch.setattr(narrower_than_cutter, "narrow_rounds", lambda design, derived: cuts)
    design = named(holes=(named(name=ref("peg")),), pivots=(named(name=ref("pin.a")),), units="mm", **NO_POCKETS)
    found = list(narrower_than_cutter.check(design, named()))
    assert [item.message for item in found] == [
        "the hole `pin.a` and 2 like it are narrower than the cutter: 4.77 mm; at least 6 mm is required",
        "the hole `peg` is narrower than the cutter: 5 mm; at least 6 mm is required",
        "the hole `bore` is narrower than the cutter: 3 mm; at least 6 mm is required",
    ]
    assert [starts(item) for item in found] == [(1, [3]), (2, []), (4, [])]
    assert found[0].parts == ("pin.a", "deck", "pin.b", "pin.c")
    # A pilot takes the nearest tenth, a hole is drilled as it is stated.
    assert [item.remedy for item in found] == [
        "state `drill 4.8 mm`, or use a cutter of 4.77 mm or less", "state `drill 5 mm`, or use a cutter of 5 mm or less", "use a cutter of 3 mm or less",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("units", "name", "drill"), [("mm", "pin", "4.8 mm"), ("mm", "peg", "4.77 mm"), ("in", "pin", "0.188 in"), ("in", "peg", "0.188 in")]
)
def test_drill_that_is_advised(units: str, name: str, drill: str) -> None:
    design = named(units=units, holes=(named(name=ref("other")), named(name=ref("peg"))))
    assert narrower_than_cutter._drill(4.77, design, cut(4.77, name, 0)) == drill


def pocket(name: str, wide: float, high: float, cutter: str | None = None, start: int | None = None) -> Any:
    return named(
        name=ref(name, 8), into=ref("deck"), cutter=None if cutter is None else ref(cutter),
        outline=named(width_mm=wide, height_mm=high, origin=None if start is None else at(start)),
    )  # fmt: skip


def test_pockets_narrower_than_the_cutter_of_their_own_or_of_the_board() -> None:
    cutters = (named(name=ref("knife"), diameter=None), named(name=ref("six"), diameter=length(6, 5)), named(name=ref("three"), diameter=length(3, 6)))
    pockets = (
        pocket("free", 1, 1, "knife"), pocket("wide", 6, 6), pocket("slim", 5, 20, start=9), pocket("own", 5, 20, "three"), pocket("low", 20, 2.5, "three"),
    )  # fmt: skip
    design = named(pockets=pockets, cutters=cutters, boards=(named(name=ref("deck"), cutter=ref("six")),), units="mm")
    found = list(narrower_than_cutter._narrow_pockets(design))
    assert [(item.message, item.remedy, item.parts, starts(item)) for item in found] == [
        ("the pocket `slim` is narrower than its cutter: 5 mm; at least 6 mm is required", "use a cutter of 5 mm or less", ("slim",), (9, [5])),
        ("the pocket `low` is narrower than its cutter: 2.5 mm; at least 3 mm is required", "use a cutter of 2.5 mm or less", ("low",), (8, [6])),
    ]


BOLT = BoltChoice("crank.hub", crank(origin=at(3)), "ISO 4762", "M8", 41.0, 43.0, (20.0, 30.0, 40.0, 45.0, 50.0), None, None, None, False, (), "the bench")


def bolts(*items: BoltChoice, units: str = "mm") -> list[tuple[str, str, tuple[str, ...]]]:
    found = no_bolt_fits.check(named(units=units), named(bolts=items))
    return [(item.message, item.remedy, item.parts) for item in found]


def test_stacks_that_no_length_fits() -> None:
    """Between what is too short and what is too long lies no length that is sold: those next to it are named."""
    near = "no ISO 4762 M8 fits `crank`: 41 mm to 43 mm is wanted, 40 mm, 45 mm are sold"
    assert bolts(BOLT) == [(near, "a thinner stack, or a thread that is sold longer", ("crank.hub",))]
    assert bolts(replace(BOLT, remedy="a deeper recess"))[0][1] == "a deeper recess"
    # One that is bought is passed over, and the next looked at.
    assert len(bolts(replace(BOLT, buy_mm=45.0), replace(BOLT, of=pin()))) == 1
    assert bolts(replace(BOLT, stock_mm=()))[0][0] == "no ISO 4762 M8 fits `crank`: 41 mm to 43 mm is wanted"
    assert bolts(replace(BOLT, stock_mm=(30.0, 35.0)))[0][0].endswith("wanted, 35 mm are sold")
    assert bolts(replace(BOLT, stock_mm=(50.0, 60.0)))[0][0].endswith("wanted, 50 mm are sold")
    # What fits is neither too short nor too long; where only one length does, that is wanted.
    assert bolts(replace(BOLT, stock_mm=(41.0, 43.0)))[0][0].endswith("41 mm to 43 mm is wanted")
    assert bolts(replace(BOLT, least_mm=43.0, stock_mm=()))[0][0].endswith("43 mm to 43 mm is wanted")
    crossed = replace(BOLT, least_mm=44.0)
    assert bolts(crossed)[0][0].endswith("the longest stack takes 44 mm, but only 43 mm fits the shortest, whose room ends at the bench")


def test_a_stated_length_is_judged_elsewhere_where_it_can_be_bought() -> None:
    assert not bolts(replace(BOLT, stated_mm=42.0)) and bolts(replace(BOLT, stated_mm=42.0, fits=True))
    foot = replace(BOLT, part="corner.nw", of=riding(), stated_mm=100.0)
    message, remedy, _ = bolts(foot)[0]
    assert message == "no ISO 4762 M8 fits `corner`: 100 mm is stated, the longest sold is 50 mm"
    assert remedy == "`length 50 mm` is the longest; or a rod, which is cut to length"
    # Feet of one set count as one, told by the first.
    (both,) = bolts(foot, replace(foot, part="corner.ne", stated_mm=90.0))
    assert "100 mm is stated" in both[0] and both[2] == ("corner.nw", "corner.ne")
    assert bolts(replace(foot, fits=True)) and not bolts(replace(foot, of=captured())) and not bolts(replace(foot, buy_mm=50.0))
    assert bolts(replace(foot, stock_mm=()))[0][1] == "a thinner stack, or a thread that is sold longer"
    assert bolts(replace(foot, stock_mm=()))[0][0].endswith("the longest sold is 0 mm")


def test_wood_screws_are_not_cut_and_want_wood() -> None:
    wood = replace(BOLT, part="pin.west", of=pin())
    assert bolts(wood)[0][:2] == (
        "no ISO 4762 M8 fits `pin`: 41 mm to 43 mm is wanted, 40 mm, 45 mm are sold, and it is not cut",
        "a thinner stack, or a thread that is sold longer",
    )
    assert bolts(replace(wood, least_mm=45.5))[0][1] == "a board thicker by 2.5 mm, or a thinner screw"
    assert bolts(replace(wood, least_mm=43.0))[0][1] == "a thinner stack, or a thread that is sold longer"
    through = pin(nut=DriveNut(hardware=NUT, side="above"))
    assert bolts(replace(wood, of=through, least_mm=45.5))[0][1] == "a thinner stack, or a thread that is sold longer"


def test_where_a_bolt_that_does_not_fit_is_stated() -> None:
    (item,) = no_bolt_fits.check(named(units="mm"), named(bolts=(BOLT,)))
    assert item.span == at(3)
    screw = replace(Screw(standard="s", thread=BOLT.of.thread, head=riding().screw.head, threaded=riding().screw.threaded, stock_mm=()), stock_origin=at(6))
    own = replace(BOLT, of=pin(length=length(40, 5), origin=at(4), screw=screw))
    (item,) = no_bolt_fits.check(named(units="mm"), named(bolts=(own,)))
    assert starts(item) == (5, [6])


def gears_under(**boards: str) -> Any:
    return {name: named(gear=named(under=ref(board))) for name, board in boards.items()}.__getitem__


def test_wood_screws_that_come_through() -> None:
    boards = tuple(named(board=named(name=ref(name, place))) for name, place in (("base", 1), ("deck", 2)))
    derived = named(boards=boards, train=named(gear=gears_under(west="deck", east="base")))
    wood = replace(BOLT, of=pin(length=length(32, 7)), part="pin.west", most_mm=30.0, remedy="25 mm")

    def said(*items: BoltChoice) -> list[Any]:
        return list(screw_through_board.check(named(units="mm"), named(bolts=items, **vars(derived))))

    # 1 mm of wood is kept over the point: 32 comes 1 through, 30.4 comes within 0.6; 31 just reaches the topside.
    (item,) = said(replace(wood, stated_mm=32.0))
    assert item.message == "the screw of `pin` is 32 mm long and comes 1 mm through the topside; at most 30 mm stays inside"
    assert (starts(item), item.remedy, item.parts) == ((7, [2]), "25 mm", ("pin.west",))
    assert "comes within 0.6 mm of the topside" in said(replace(wood, stated_mm=30.4))[0].message
    assert "comes within 0 mm of the topside" in said(replace(wood, stated_mm=31.0))[0].message
    good = [replace(wood, stated_mm=30.0), replace(wood, stated_mm=None), replace(BOLT, stated_mm=99.0)]
    assert not said(*good)
    # Each has limits of its own, so that none is alike; the last is looked at too.
    odd = [replace(item, least_mm=40.0 - k) for k, item in enumerate((*good, replace(wood, part="pin.east", stated_mm=32.0)))]
    assert [item.related[0].message for item in said(*odd)] == ["the board `base` that it is driven into"]


def drive(gear: str, left: float, recess: float | None = 9.0, name: str = "crank") -> Any:
    noun = crank(name=ref(name), head_recessed=None if recess is None else length(recess, 8))
    return named(id=f"{name}.{gear}", gear=gear, remaining_under_head_mm=left, drive=noun)


def level(name: str, under: str | None, low: float, thick: Band) -> Any:
    return named(board=named(name=ref(name, 2), under=None if under is None else ref(under)), z_under_mm=low, thickness=thick)


def heads(*drives: Any, boards: tuple[Any, ...] = (level("deck", None, 0.0, Band(18.0, 17.0, 19.0)),)) -> list[Any]:
    derived = named(drives=drives, boards=boards, train=named(gear=gears_under(hub="deck", next="deck", low="base", free="lid")))
    return list(thin_under_head.check(named(units="mm"), derived))


def test_wood_under_the_head_of_the_drive() -> None:
    # Six are wanted of a board of 17 at least; 1.75 more than 4.25, so 9 less 1.75.
    (item,) = heads(drive("hub", 5.0), drive("next", 4.25))
    assert (item.severity, item.message) == ("warning", "4.25 mm of wood is left under the head of `crank`; at least 6 mm is advised")
    assert (item.remedy, item.parts, starts(item)) == ("`head recessed 7.25 mm` leaves 6 mm", ("crank.hub", "crank.next"), (8, [2]))
    assert item.related[0].message == "the board `deck` is at least 17 mm thick"
    (item,) = heads(drive("hub", 6.0, name="good"), drive("hub", 5.0, None, "flat"), drive("hub", -2.0))
    assert (item.severity, item.remedy) == ("error", "`head recessed 1 mm` leaves 6 mm")
    assert item.message == "the head of `crank` goes through the board: 0 mm of wood is left under it; at least 6 mm is advised"
    assert [item.severity for item in heads(drive("hub", 0.0))] == ["error"]
    assert heads(drive("hub", -2.0, 3.0))[0].remedy == "`head recessed 0 mm` leaves 6 mm"
    # Half of a board that is 9 at its thinnest is less than 6.
    thin = (level("deck", None, 0.0, Band(10.0, 9.0, 11.0)),)
    assert not heads(drive("hub", 4.5), boards=thin) and "at least 4.5 mm" in heads(drive("hub", 4.4), boards=thin)[0].message


@pytest.mark.parametrize(("top", "left", "found"), [(0.0, 2.0, 0), (-0.04, 2.0, 0), (0.04, 2.0, 0), (-0.06, 2.0, 1), (0.06, 2.0, 1), (0.0, 0.0, 1)])
def test_wood_that_another_board_backs(top: float, left: float, found: int) -> None:
    # The head lies in the uppermost board; the next one's topside lies at its underside, or not, at mean thickness.
    sheet = Band(18.0, 17.0, 19.0)
    boards = (level("deck", None, 30.0, sheet), level("base", "deck", 30.0 + top - 18.0, sheet), level("lid", None, 90.0, sheet))
    said = heads(drive("low", left), drive("hub", 9.0, name="good"), drive("free", 2.0, name="other"), boards=boards)
    assert [item.parts[0] for item in said] == ["crank.low"] * found + ["other.free"]


def sunk(part: str, what: str = "jam nut", recess: float | None = 18.0, depth: float = 6.0, flats: float = 13.0, height: float = 4.0) -> Sunk:
    return Sunk(part, what, flats, height, depth, recess, at(4))


def spanners(*items: Sunk) -> list[Any]:
    design: Any = named(units="mm", origin=None, gears=(), boards=(), feet=(), pivots=(), drives=(), magnets=())
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(no_room_for_spanner, "sunk_hexagons", lambda derived: items)
        return list(no_room_for_spanner.check(design, named(feet=(), climbers=(), pivots=(), drives=())))


def test_recesses_for_a_spanner() -> None:
    # A socket for 13 is 1.35 · 13 + 1.5 = 19.05 outside, to the next half 19.5; 4 less 3 may be let in.
    (item,) = spanners(sunk("crank.hub", recess=19.05), sunk("crank.hub"), sunk("crank.low"))
    assert item.message == (
        "the jam nuts of `crank.hub` and `crank.low` lie in a recess 18 mm wide; a socket spanner for 13 mm is about 19.05 mm outside,"
        " and an open one finds 0 mm of it where 3 mm is wanted"
    )
    assert item.remedy == "a recess 19.5 mm wide or more, or a recess no deeper than 1 mm, out of which it then stands"
    assert item.parts == ("crank.hub", "crank.low") and item.span == at(4)
    (item,) = spanners(sunk("crank.hub", height=3.0, depth=1.0), sunk("crank.hub"))
    assert item.message.startswith("the jam nut of `crank.hub` lies in a recess") and "finds 2 mm of it" in item.message
    assert item.remedy == "a recess 19.5 mm wide or more"
    assert [item.message[:30] for item in spanners(sunk("a.hub", "nut"), sunk("a.hub"), sunk("b.hub"))] == [
        "the nut of `a.hub` lies in a r", "the jam nut of `a.hub` lies in", "the jam nut of `b.hub` lies in",
    ]  # fmt: skip
    head = spanners(sunk("a.hub", "hexagon head", height=5.3))[0]
    assert head.remedy == "a head with a socket for a key, or a recess no deeper than 2.3 mm, out of which it then stands"


def test_a_hexagon_recess_keeps_a_jam_nut_from_being_turned() -> None:
    (item,) = spanners(sunk("crank.hub", recess=None))
    assert item.message == "the jam nut of `crank.hub` lies in a hexagon recess, which keeps it from being turned"
    assert item.remedy == "`round 19.5 mm`, which takes the socket spanner for 13 mm"
    (item,) = spanners(sunk("crank.hub", recess=None), sunk("crank.low", recess=None))
    assert "lie in a hexagon recess, which keeps them" in item.message
    assert [no_room_for_spanner._spanner(flats) for flats in (13.0, 12.7, 24.0, 14.2875)] == ["13 mm", "1/2 in", "24 mm", "9/16 in"]


def test_spacing_of_parts() -> None:
    def part(sheet: str, cutter: float) -> Any:
        return named(sheet=named(name=ref(sheet)), cutter_diameter_mm=cutter, outline_cutter_mm=cutter)

    sheets = (
        named(name=ref("unused", 1), spacing=length(1, 2)), named(name=ref("plain", 3), spacing=None), named(name=ref("wide", 4), spacing=length(8, 5)),
        named(name=ref("tight", 6), spacing=length("7.5", 7)), named(name=ref("close", 8), spacing=length(3, 9)),
    )  # fmt: skip
    parts = tuple(part(sheet, cutter) for sheet, cutter in (("plain", 6.0), ("wide", 8.0), ("tight", 4.0), ("tight", 8.0), ("close", 4.0)))
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(parts_too_close, "widest_cutter_mm", lambda mine: max((item.cutter_diameter_mm for item in mine), default=0.0))
        found = list(parts_too_close.check(named(sheets=sheets, units="mm", origin=at(0)), named(parts=parts)))
    assert [(item.message, item.remedy, item.parts, starts(item)[0]) for item in found] == [
        # With 5 beside the cutter, the middle of 4 to 6 (common practice, no source).
        ("parts on `tight` lie 7.5 mm apart; the cutter that runs between them is 8 mm wide", "`spacing 13 mm`, or leave it out", ("tight",), 7),
        ("parts on `close` lie 3 mm apart; the cutter that runs between them is 4 mm wide", "`spacing 9 mm`, or leave it out", ("close",), 9),
    ]


def test_gears_that_no_drive_turns() -> None:
    idle: Any = named(train=named(drive_gear=None))

    def said(gears: int, *drives: str) -> list[Any]:
        turned = tuple(named(name=ref(f"g{k}", k + 1)) for k in range(gears))
        made = named(gears=turned, drives=tuple(named(name=ref(name, 9)) for name in drives), origin=at(0))
        return list(no_drive.check(made, idle))

    assert not said(0) and not list(no_drive.check(named(gears=(1, 2)), named(train=named(drive_gear="hub"))))
    (item,) = said(1)
    assert (item.message, item.remedy) == ("no drive turns the one gear", "write a `drive` block, and `turned_by` with its name in one gear")
    (item,) = said(2, "crank", "wheel")
    assert (item.message, item.remedy) == ("no drive turns any of the 2 gears; one is required", "give one gear `turned_by crank`")
    assert (item.parts, starts(item)) == (("g0",), (1, [9, 9]))
