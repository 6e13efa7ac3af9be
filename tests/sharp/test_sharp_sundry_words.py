"""What is said of boards that sag, bolts, climbers, rings, cutters, flanges, undriven gears, magnets and blocked parts: each sum is written out. Lengths mm."""

from __future__ import annotations

from typing import Any

import pytest
from tests.designs import INSERT, TEE_NUT, foot, pivot
from tests.sharp import check_samples
from tests.sharp.check_samples import Length, at, of, ref, run

from trivet.checks import (
    assembly_blocked,
    board_sags,
    bolt_not_sold,
    climber_shortens_travel,
    closed_ring,
    cutter_too_short,
    dust_packs_in_pocket,
    flange_lifts_off,
    foot_not_driven,
    gear_not_driven,
    gear_without_place,
    helper_without_use,
    letter_not_drawn,
    magnet_proud,
    meshed_too_close,
)
from trivet.diagnostics import Diagnostic
from trivet.record import replace
from trivet.solve.assembly_step import Captive
from trivet.solve.derived import LoopState


def made(units: str = "mm", **facts: Any) -> Any:
    return check_samples.made("abcdefg", units, **facts)


def captive(part: str, held_by: str, *why: str) -> Captive:
    return Captive("hang_idler", part, tuple(held_by.split()), why)


def blocked(monkeypatch: pytest.MonkeyPatch, *parts: Captive) -> list[Diagnostic]:
    monkeypatch.setattr(assembly_blocked, "assembly", lambda design, derived: of(blocked=parts))
    return run(assembly_blocked, (made(), of(**check_samples.NOTHING)))


def test_parts_that_block_each_other(monkeypatch: pytest.MonkeyPatch) -> None:
    group: tuple[Captive, ...] = (captive("a", "b", "first", "later"), captive("x", "y", "x why"))
    group += (captive("b.pad", "c.keeper", "second"), captive("y", "x", "y why"))
    group += (captive("c.keeper", "d", "first", "no"), captive("d", "e", "third"), captive("e", "f", "third"), captive("f", "a", "last"))
    one, two = blocked(monkeypatch, *group, captive("b", "a", "second"))
    assert one.message == "`a`, `b`, `c`, `d`, `e` and `f` cannot be put together in any order: first; second; third; last"
    assert one.parts == ("a", "b", "c", "d", "e", "f") and one.span == at(30)
    assert [(x.message, x.span) for x in one.related] == [(f"`{name}` is declared here", at(31 + k)) for k, name in enumerate("bcd")]
    assert two.parts == ("x", "y") and two.span == at(1) and two.message.endswith("x why; y why") and not blocked(monkeypatch)


@pytest.mark.parametrize(
    ("pairs", "groups"),
    [
        ("a:b b:a c:d d:c", "ab cd"),
        ("a: b:a c:", "ab c"),  # held by one that nothing holds
        ("a:c b: c:", "ac b"),
        ("a: b:c c:a", "abc"),
        ("c:b a:x b:a", "cab"),
    ],
)
def test_groups_of_blocked_parts(pairs: str, groups: str) -> None:
    given = tuple(captive(name, held) for name, held in (pair.split(":") for pair in pairs.split()))
    assert " ".join("".join(item.part for item in group) for group in assembly_blocked._groups(given)) == groups


def test_boards_that_sag(monkeypatch: pytest.MonkeyPatch) -> None:
    def told(*sags_: float, layers: int = 1, grain: Any = None, face: tuple[Any, Any] = (None, None), units: str = "mm") -> list[Diagnostic]:
        board = of(name=ref("deck", 41), stock=of(text="ply"), layers=layers, grain=grain)
        loads = [of(name=ref(f"clamp{index}", 42), origin=at(43)) for index in range(len(sags_))]
        items = tuple(of(sag_mm=mm, load=load, board=board, modulus_x=10048.4, modulus_y=7452.0) for mm, load in zip(sags_, loads, strict=True))
        monkeypatch.setattr(board_sags, "sags", lambda design, derived: items)
        sheets = (of(name=of(text="other"), face_grain=face[0]), of(name=of(text="ply"), face_grain=face[1]))
        return run(board_sags, (made(units, sheets=sheets), of()))

    assert not told(0.1)
    (item,) = told(0.05, 0.4)
    assert item.message == "`clamp1` makes `deck` sag by about 0.4 mm; 0.1 mm is usual" and item.parts == ("clamp1", "deck")
    # Two layers are eight times as stiff.
    assert item.remedy == "feet nearer to the load, or `layers 2` in `deck`, which leaves about 0.05 mm; or set it flush under its load"
    assert item.span == at(43) and [label.span for label in item.related] == [at(41)]
    lower = ", the lower one both ways, since it is not stated how the grain runs ("
    assert f"taken as 10048 N/mm2 along x and 7452 along y{lower}" in item.related[0].message
    assert lower in told(0.4, face=(90, None))[0].related[0].message
    assert lower not in told(0.4, face=(None, 0))[0].related[0].message and lower not in told(0.4, grain=0)[0].related[0].message
    assert "`layers 6` in `deck`, which leaves about 0.25 mm" in told(0.432, layers=5)[0].remedy  # 125/216
    assert told(0.4, layers=6)[0].remedy == "feet nearer to the load; or set it flush under its load" == told(0.4, layers=7)[0].remedy


def bolt(of_: Any, buy: float | None = 30.0, cut: float | None = 27.5, stated: float | None = None, fits: bool = True, **facts: Any) -> Any:
    given = {"standard": "ISO 4017", "designation": "M8", "least_mm": 27.1, "most_mm": 27.7, "remedy": "", "part": "p"}
    return of(of=of_, buy_mm=buy, cut_to_mm=cut, stated_mm=stated, fits=fits, **(given | facts))


def test_bolts_that_are_cut_from_longer_ones(monkeypatch: pytest.MonkeyPatch) -> None:
    def told(*bolts: Any, units: str = "mm") -> list[Diagnostic]:
        monkeypatch.setattr(bolt_not_sold, "alike", lambda derived: [(f"set{k}", (item, bolts[-1])) for k, item in enumerate(bolts)])
        monkeypatch.setattr(bolt_not_sold, "parts_of", lambda bolts: tuple(item.part for item in bolts))
        return run(bolt_not_sold, (made(units), of()))

    pin, corner = pivot().model_copy(update={"origin": at(12)}), foot()
    (item,) = told(bolt(pin))
    assert item.message == "no ISO 4017 M8 between 27.1 mm and 27.7 mm long is sold for `set0`: buy 30 mm and cut it to 27.5 mm"
    assert item.remedy == "saw 2.5 mm off, with a nut on the thread first" and item.parts == ("p", "p") and item.span == at(12)
    assert "no ISO 4017 M8 in a length of 27.5 mm is sold" in told(bolt(pin, stated=27.5))[0].message
    assert told(bolt(pin, remedy="so"))[0].remedy == "so"
    skipped = (bolt(pin, None), bolt(pin, cut=None), bolt(pin, fits=False))
    (item,) = told(*skipped, bolt(corner, fits=False, part="q"))
    assert "for `set3`" in item.message and item.parts == ("q", "q")
    assert "saw 1/16 in (0.062 in) off" in told(bolt(pin, 25.4, 25.4 * 15 / 16), units="in")[0].remedy


def test_climbers_that_shorten_the_travel(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(climber_shortens_travel, "climber_remedy", lambda design, derived, found: "so")

    def told(left: float | None, worst: float | None = 3.0, climbs: Any = True, alone: float = 30.0) -> list[Diagnostic]:
        name = ref("climber", 17)
        first = of(id="climber.b", foot=of(name=name, climbs_from=of(origin=at(16)) if climbs else None))
        blamed = of(sentence="the gears part", parts=("b", "climber.b", "c"))
        found = None if left is None else of(left_mm=left, alone_mm=alone, climber=first, blamed=blamed)
        monkeypatch.setattr(climber_shortens_travel, "shortened", lambda derived: found)
        return run(climber_shortens_travel, (made(), of(lift=None if worst is None else of(travel_worst_mm=worst))))

    (item,) = told(9.5)
    assert item.message == "`climber.b` climbs so that 9.5 mm of travel are left; the feet alone have 30 mm" and item.remedy == "so"
    assert (item.span, item.related[0].span, item.parts) == (at(16), at(17), ("climber.b", "b", "c"))
    assert told(9.5, climbs=False)[0].span == at(17) and told(9.5, None) and told(0.001, 0.001)
    for left, worst in ((None, 3.0), (0.0, 3.0), (-1.0, None), (9.5, 0.0), (9.5, -0.1)):
        assert not told(left, worst)


def test_rings_that_close() -> None:
    def told(*loops: LoopState, kind: str = "riding", carries: str = "c", units: str = "mm") -> list[Diagnostic]:
        gears = tuple(of(name=ref(name), carries=ref("corner") if name in carries else None) for name in "abcdefghij")
        feet = (of(name=ref("corner"), kind=kind), of(name=ref("other"), kind="riding"))
        return run(closed_ring, (made(units, gears=gears, feet=feet), of(train=of(loops=loops))))

    ring = LoopState(tuple("abcd"), False, 0.0, 0.3, origin=at(19))
    assert not told(replace(ring, odd=True)) and not told(replace(ring, residual_mm=0.302)) and told(replace(ring, residual_mm=0.3))
    (item,) = told(replace(ring, odd=True), replace(ring, residual_mm=9.0), ring)
    assert item.message == "the ring of `a`, `b`, `c` and `d` closes, with every tooth in its place" and (item.span, item.parts) == (at(19), ring.gears)
    assert item.remedy.startswith("put the gears in one after the other")
    for facts in ({"kind": "sliding_hex"}, {"carries": "e"}):
        assert told(ring, **facts)[0].remedy == "set the gears by the marks on their undersides"
    assert told(replace(ring, residual_mm=0.001))[0].message.endswith(", with every tooth in its place")
    words = "closes with its teeth 0.25 mm out of place; 0.3 mm is what backlash takes up"
    assert told(replace(ring, residual_mm=0.25))[0].message.endswith(words)
    assert "`g` and `h` closes" in told(replace(ring, gears=tuple("abcdefgh")))[0].message
    assert "`h` and 1 more closes" in told(replace(ring, gears=tuple("abcdefghi")))[0].message


def test_cutters_that_do_not_reach(monkeypatch: pytest.MonkeyPatch) -> None:
    def told(*uses: tuple[str, str, float]) -> list[Diagnostic]:
        monkeypatch.setattr(cutter_too_short, "cutter_uses", lambda design: [of(cutter=cutter, name=of(text=name), depth_mm=mm) for cutter, name, mm in uses])
        cutters = [of(name=of(text="no"), reach=None), *(of(name=of(text=name), reach=Length(mm=20.0, origin=at(n))) for n, name in ((4, "fine"), (5, "fat")))]
        return run(cutter_too_short, (made(cutters=cutters), of()))

    assert not told(("fat", "a", 20.0), ("no", "b", 90.0), ("unknown", "c", 90.0))
    (item,) = told(("no", "b", 90.0), ("fat", "a", 20.01))
    assert item.message == "the cutter `fat` reaches 20 mm; `a` needs up to 20.01 mm" and (item.span, item.parts) == (at(5), ("fat", "a"))
    assert item.remedy == "a cutter that reaches 20.1 mm or more"
    one, two = told(("fat", "a", 25.0), ("fine", "c", 21.0), ("fat", "b", 30.0), ("fat", "a", 28.0), ("fat", "d", 9.0))
    assert one.message == "the cutter `fat` reaches 20 mm; `a` and `b` need up to 30 mm" and one.parts == ("fat",) and two.parts == ("fine", "c")
    assert told(("fat", "a", 25.0), ("fat", "a", 25.0))[0].parts == ("fat", "a")


def test_flanges_on_the_topside() -> None:
    def use(driven: str, hardware: Any) -> Any:
        return of(driven_from=driven, hardware=hardware, origin=at(5))

    flanged = replace(INSERT, flange_diameter_mm=21.5, origin=at(6))
    skipped = (("n", None), ("u", use("underside", flanged)), ("p", use("topside", INSERT)))
    uses = (*skipped, ("t", use("topside", replace(TEE_NUT, origin=at(7)))), ("f", use("topside", flanged)))
    feet = tuple(of(id=f"{name}.{gear}", foot=of(insert=insert, name=ref(name))) for name, insert in uses for gear in "ab")
    assert run(flange_lifts_off, (made(), of(feet=feet[-1:])))[0].parts == ("f.b",)
    one, two = run(flange_lifts_off, (made(), of(feet=feet)))
    assert one.message.startswith("the flange of the tee nut of `t` lies on the topside") and one.parts == ("t.a", "t.b") and one.related[0].span == at(7)
    assert two.message.startswith("the flange of the flanged insert of `f`") and two.related[0].message == "its flange is 21.5 mm in diameter"
    assert two.remedy.startswith("`driven_from underside`: the flange of 21.5 mm") and two.span == at(5)


def undriven(check: Any, monkeypatch: pytest.MonkeyPatch, groups: str, drive: str | None = "a") -> list[Diagnostic]:
    """Groups of gears by letter; `d`, `e` and `f` carry feet, `e` and `f` of one set."""
    monkeypatch.setattr(check, "undriven", lambda design, derived: tuple(tuple(words) for words in groups.split()))
    feet = {"d": "side", "e": "corner", "f": "corner"}
    gears = tuple(of(name=ref(name, 30 + k), carries=ref(feet[name]) if name in feet else None) for k, name in enumerate("abcdefg"))
    return run(check, (made(gears=gears), of(train=of(drive_gear=drive))))


def test_gears_and_feet_that_nothing_drives(monkeypatch: pytest.MonkeyPatch) -> None:
    one, two = undriven(foot_not_driven, monkeypatch, "bc bd gfed")
    assert one.message == "the drive turns `a`, but nothing leads from it to `d`, which carries a foot of `side`"
    assert one.remedy == "a `mesh` that joins one of `b` and `d` to a gear that the drive turns" and one.parts == ("side.d", "d")
    assert two.message == "the drive turns `a`, but nothing leads from it to `f`, `e` and `d`, which carry feet of `corner` and `side`"
    assert (two.span, two.related[0].span, two.parts) == (at(35), at(30), ("corner.f", "f", "corner.e", "e", "side.d", "d"))
    assert "to `d` and `e`, which carry feet of `side` and `corner`" in undriven(foot_not_driven, monkeypatch, "de")[0].message
    assert undriven(foot_not_driven, monkeypatch, "d")[0].remedy.startswith("a `mesh` that joins `d` to")
    one, two = undriven(gear_not_driven, monkeypatch, "bd c gb")
    assert one.message == "the drive turns `a`, but nothing leads from it to `c`" and one.remedy == "a `mesh` with `c`, or leave the gear out"
    assert two.remedy == "a `mesh` with one of `g` and `b`, or leave the gears out" and two.parts == ("g", "b")
    assert (two.span, two.related[0].span) == (at(36), at(30))
    for check in (foot_not_driven, gear_not_driven):
        assert not undriven(check, monkeypatch, "bd c", None)


def test_magnets_that_stand_proud() -> None:
    def told(*depths: float, error: float = 0.2, stated: tuple[str, ...] = (), origins: Any = None, units: str = "mm") -> list[Diagnostic]:
        magnets = tuple(of(name=ref(f"m{k}", 50 + k), origin=at(60), disc=of(thickness_mm=3.0), hole_depth_mm=mm) for k, mm in enumerate(depths))
        return run(magnet_proud, (made(units, magnets=magnets, shop=of(depth_mm=error, stated=stated, origins=origins)), of()))

    assert not told(3.2) and told(3.19)
    (item,) = told(3.3, 3.056)
    assert item.message == "`m1` may stand 0.14 mm proud: its hole is 0.06 mm deeper than the magnet, the shop's depth error 0.2 mm, assumed"
    assert item.remedy.endswith("a depth held to +/- 0.05 mm is enough") and (item.span, item.parts, item.related) == (at(51), ("m1",), ())
    (item,) = told(3.1, stated=("depth",), origins={"depth": at(8)})
    assert item.message.endswith("the shop's depth error 0.2 mm") and item.related[0].span == at(8) and "0.1 mm proud" in item.message


def test_dust_helpers_and_letters(monkeypatch: pytest.MonkeyPatch) -> None:
    features = [of(feature=of(title=title, origin=at(70 + k))) for k, title in enumerate(("tray", "well"))]
    rooms = (("a", "deck", 0), ("b", "deck", 1), ("c", "deck", 0), ("d", "lid", 0))
    closed = tuple(of(gear=of(part=part), board=board, cutout=features[k]) for part, board, k in rooms)
    monkeypatch.setattr(dust_packs_in_pocket, "closed_pockets", lambda design, derived: closed)
    found = run(dust_packs_in_pocket, (made(), of(**check_samples.NOTHING)))
    assert [item.parts for item in found] == [("a", "c", "deck"), ("b", "deck"), ("d", "lid")] and found[0].message.startswith("`a` and `c` turn")
    assert [item.span for item in found] == [at(30), at(31), at(33)] and [item.related[0].span for item in found] == [at(70), at(71), at(70)]
    helpers = tuple(of(kind=kind, origin=at(75 + k)) for k, kind in enumerate(("guide_block", "shims", "centring_bar")))
    parts = (of(part="helper.shim.1", kind="helper"), of(part="helper.guide_block", kind="board"))
    found = run(helper_without_use, (made(helpers=helpers), of(parts=parts)))
    assert [(item.parts, item.span) for item in found] == [(("guide_block",), at(75)), (("centring_bar",), at(77))]
    assert not run(helper_without_use, (made(helpers=helpers), of(parts=())))
    monkeypatch.setattr(letter_not_drawn, "not_engraved", lambda text: tuple(text))
    labels = tuple(of(name=ref(name), text=text, origin=at(80)) for name, text in (("none", ""), ("one", "%"), ("two", "%&")))
    found = run(letter_not_drawn, (made(engravings=labels), of()))
    words = ("the label `one` has `%`, which is cut as a small box", "the label `two` has `%`, `&`, which are cut as a small box")
    assert tuple(item.message for item in found) == words


def test_places_that_are_lacking_or_too_close(monkeypatch: pytest.MonkeyPatch) -> None:
    def faults(kind: str, names: str) -> Any:
        return [of(kind=kind, gear=name, message=f"fault of {name}", origin=at(90 + k)) for k, name in enumerate(names)]

    given = tuple(of(name=ref(name, 30 + k), carries=ref("corner") if name in "cd" else None) for k, name in enumerate("abcd"))

    def lost(unreached: tuple[str, ...], drive: str | None) -> list[str]:
        train = of(faults=faults("no_place", "abc"), unreached=unreached, drive_gear=drive)
        return [item.parts[0] for item in run(gear_without_place, (made(gears=given), of(train=train)))]

    # A foot's gear that nothing drives is told of as that; an idler's only as a warning.
    assert lost(("b", "c"), "a") == ["a", "b"] and lost(("b", "c"), None) == ["a", "b", "c"] and lost((), "a") == ["a", "b", "c"]
    meshes = tuple(of(origin=at(90 + k), centre_distance=stated) for k, stated in enumerate((None, 1, None)))
    train = of(faults=faults("mesh_distance", "abc"))
    remedies = [item.remedy for item in run(meshed_too_close, (made(gears=given, meshes=meshes), of(train=train)))]
    assert [words.startswith("leave `centre_distance` out") for words in remedies] == [False, True, False]
