"""What is said of hardware near gears, of warped and leaning gears, of threads and of cut zones: each sum is written out. Lengths mm."""

from __future__ import annotations

from typing import Any

import pytest
from tests.designs import M8
from tests.sharp.check_samples import Length, at, of, ref, run

from trivet.checks import (
    gear_hits_hardware,
    gear_on_thread,
    gear_warp_rubs,
    leaning_gear_touches,
    look_alike_threads,
    metal_in_cut_zone,
)
from trivet.checks._threads import ThreadUse
from trivet.diagnostics import Diagnostic
from trivet.model.base import Band
from trivet.model.hardware import Thread
from trivet.record import replace
from trivet.solve.clearances import Near
from trivet.solve.leaning_gears import Leaning
from trivet.solve.metal import Metal
from trivet.solve.solid import Solid

NOTHING: dict[str, Any] = {key: () for key in ("gears", "boards", "feet", "pivots", "drives", "magnets", "climbers")}


def made(*gears: str, units: str = "mm", start: int = 30) -> Any:
    """A design that declares these gears, one place after another, itself at 1."""
    names = tuple(of(name=ref(name, start + index)) for index, name in enumerate(gears))
    return of(**(NOTHING | {"gears": names, "units": units, "origin": at(1)}))


def solid(part: str, kind: Any = "gear", moves: bool = False, start: int = 80) -> Solid:
    return Solid(kind, part, part, 0.0, 0.0, 10.0, 0.0, 10.0, moves, origin=at(start))


def near(one: str, other: str, gap: float, shared: float = 5.0, kind: Any = "head", moves: tuple[bool, bool] = (False, False)) -> Near:
    return Near(solid(one, "gear", moves[0]), solid(other, kind, moves[1]), gap, shared)


def hits(monkeypatch: pytest.MonkeyPatch, *nears: Near, units: str = "mm") -> list[Diagnostic]:
    monkeypatch.setattr(gear_hits_hardware, "near_gears", lambda derived: nears)
    return run(gear_hits_hardware, (made(*"abcdefgh", units=units), of(**NOTHING)))


def test_gears_that_come_near_hardware(monkeypatch: pytest.MonkeyPatch) -> None:
    (item,) = hits(monkeypatch, near("a", "pin.b", 0.4, 3.2), near("a", "pin.b", 0.6, 4.0))
    assert item.message == (
        "`a` passes with 0.4 mm by the head of `pin.b`, seen from above, and they share up to 3.2 mm of height all through the travel; a gap of"
        " at least 1 mm is required"
    )
    assert item.remedy.startswith("move the two 0.6 mm further apart") and (item.span, item.parts) == (at(30), ("a", "pin.b"))
    assert [(label.message, label.span) for label in item.related] == [("`pin.b` is declared here", at(80))]
    (item,) = hits(monkeypatch, near("a", "pin.b", 0.6), near("a", "pin.b", -0.4, 2.0, moves=(True, False)), near("a", "pin.b", 0.0))
    assert item.message.startswith("`a` reaches 0.4 mm into the head") and "2 mm of height at some place of the travel" in item.message
    assert "the two 1.4 mm further" in item.remedy and "all through" in hits(monkeypatch, near("a", "x", 0.5, moves=(True, True)))[0].message
    assert "passes with 0 mm by" in hits(monkeypatch, near("a", "x", 0.0))[0].message
    (item,) = hits(monkeypatch, near("a", "foot.b.keeper", 0.25, 4.1, "keeper"))
    assert item.remedy.startswith("an outline of the keeper that ends 0.75 mm sooner there") and "hangs more than 4.1 mm higher" in item.remedy
    assert item.parts == ("a", "foot.b")


def test_gears_equally_near_to_hardware_of_one_set(monkeypatch: pytest.MonkeyPatch) -> None:
    many = [near(name, f"pin.{name}", gap) for name, gap in zip("abcdef", (0.44, 0.42, 0.41, 0.43, 0.38, 0.4), strict=True)]
    (item,) = hits(monkeypatch, *many)
    assert item.message.startswith("`e` passes with 0.38 mm")
    assert item.message.endswith("; so do `a` and `pin.a`, `b` and `pin.b`, `c` and `pin.c`, 2 more pairs")
    assert item.parts[:4] == ("e", "pin.e", "a", "pin.a") and len(item.parts) == 12
    assert hits(monkeypatch, *many[:4])[0].message.endswith("; so do `a` and `pin.a`, `b` and `pin.b`, `d` and `pin.d`")
    assert "1 more pairs" in hits(monkeypatch, *many[:5])[0].message
    apart = (near("a", "pin.a", 0.44), near("b", "pin.b", 0.46), near("c", "bolt.c", 0.44), near("d", "pin.d", 0.44, kind="nut"))
    assert [item.parts for item in hits(monkeypatch, *apart)] == [("a", "pin.a"), ("b", "pin.b"), ("c", "bolt.c"), ("d", "pin.d")]


def leaning(gear: str, other: str, clear: float = 0.4, leans: float = 0.6, warps: float = 0.2, **facts: Any) -> Leaning:
    moves = facts.get("moves", (False, False))
    return Leaning(solid(gear, "gear", moves[0]), solid(other, facts.get("kind", "head"), moves[1]), clear, leans, warps)


def test_gears_that_lean_onto_hardware(monkeypatch: pytest.MonkeyPatch) -> None:
    def told(*nears: Leaning) -> list[Diagnostic]:
        monkeypatch.setattr(leaning_gear_touches, "leaning_gears", lambda design, derived: nears)
        return run(leaning_gear_touches, (made(*"abcd"), of(**NOTHING)))

    (item,) = told(leaning("a", "pin.b"))
    assert item.message == (
        "`a` has 0.4 mm of height to the head of `pin.b` all through the travel; lean and droop may take 0.6 mm of it and warp 0.2 mm, 0.8 mm in all"
    )
    assert item.remedy.startswith("0.4 mm more height") and (item.span, item.related[0].span, item.parts) == (at(30), at(80), ("a", "pin.b"))
    assert "at one end of the travel" in told(leaning("a", "x", moves=(False, True)))[0].message
    assert "all through" in told(leaning("a", "x", moves=(True, True)))[0].message
    alike = (leaning("a", "pin.b"), leaning("c", "pin.b", 0.4003, 0.5, 0.3002), leaning("d", "pin.c"))
    assert "; so have 2 more pairs;" in told(*alike)[0].message and told(*alike)[0].parts == ("a", "pin.b", "c", "d", "pin.c")
    assert "; so has 1 more pair;" in told(*alike[:2])[0].message and told(*alike[:2])[0].message.startswith("`a` has 0.4 mm of height to")
    others = (leaning("b", "bolt.b"), leaning("b", "pin.b", kind="nut"), leaning("b", "pin.b", 0.402), leaning("b", "pin.b", 0.4, 0.602))
    assert [item.parts[0] for item in told(alike[0], *others)] == ["a", "b", "b", "b", "b"]


def disc(name: str, top: float, radius: float = 75.0, holder: str = "pin", level: int = 0, under: str = "deck", drive: bool = False) -> Any:
    """75 of radius want 1 mm of room. `top` is the highest at which the gear may hang."""
    held = {"turned_by": ref(holder) if drive else None, "turns_on": None if drive or not holder else ref(holder)}
    declared = of(name=ref(name, 40 + ord(name[0]) - 97), under=of(text=under), **held)
    return of(id=name, gear=declared, level=level, z_top=Band(top - 1.0, top - 2.0, top), tip_radius_mm=radius)


def warps(*states: Any, lift: Any = True, faults: Any = (), under: float = 0.0) -> list[Diagnostic]:
    design = made()
    design.pivots, design.drives = (of(name=ref("pin", 50)), of(name=ref("stud", 51))), (of(name=ref("crank", 52)),)
    boards = (of(board=of(name=of(text="deck")), z_under_mm=under), of(board=of(name=of(text="lid")), z_under_mm=60.0))
    return run(gear_warp_rubs, (design, of(lift=lift, boards=boards, train=of(gears=states, faults=faults))))


def test_room_for_a_gear_to_warp() -> None:
    assert not warps(disc("a", -1.0)) and warps(disc("a", -0.99)) and not warps(disc("a", -0.8, 60.0)) and warps(disc("a", -0.79, 60.0))
    (item,) = warps(disc("a", -0.75))
    assert item.message == "`a`, 150 mm across, clears the board by 0.75 mm; at least 1 mm leaves room for warp"
    assert item.remedy == "a thicker washer above the gear, or one more: 0.25 mm more in all"
    assert (item.span, item.parts) == (at(40), ("pin", "a")) and [(x.message, x.span) for x in item.related] == [("`pin` holds it", at(50))]
    assert "clears the board by 0 mm" in warps(disc("a", 0.2))[0].message and "1.2 mm more in all" in warps(disc("a", 0.2))[0].remedy
    assert not warps(disc("a", 0.0), lift=None) and not warps(disc("a", 0.0), faults=(1,)) and not warps(disc("a", 0.0), under=0.1)
    assert warps(disc("a", 0.0), under=1e-12)
    skipped = (disc("b", 0.0, holder=""), disc("c", 0.0, level=1), disc("d", 0.0, under="lid"), disc("e", -5.0), disc("f", 0.0, level=-1))
    found = warps(*skipped, disc("g", 0.0, holder="crank", drive=True))
    assert [item.parts for item in found] == [("pin", "f"), ("crank", "g")] and found[1].related[0].span == at(52)


def test_gears_that_warp_alike() -> None:
    (item,) = warps(disc("a", -0.75), disc("b", -0.75))
    assert item.message.startswith("`a` and `b`, 150 mm across, clear the board by 0.75 mm") and item.parts == ("pin",)
    assert item.related[0].message == "`pin` holds them" and item.span == at(40)
    others = (disc("b", -0.75, holder="stud"), disc("c", -0.74999), disc("d", -0.75, 75.001))
    assert [item.parts for item in warps(disc("a", -0.75), *others)] == [("pin", "a"), ("stud", "b"), ("pin", "c"), ("pin", "d")]


class Screw:
    """A screw with so much plain shank at any length."""

    def __init__(self, shank: float) -> None:
        self.thread, self.threaded, self.shank = of(major_mm=6.0), self, shank

    def threaded_mm(self, major_mm: float, length_mm: float) -> float:
        assert major_mm == 6.0
        return length_mm - self.shank


def bolt(part: str, shank: float | None, buy: float | None = 50.0, stated: float | None = None, reach: float = 20.0, of_: Any = None) -> Any:
    stack: tuple[Any, ...] = (("washer above the gear", Band(1.0, 1.0, 90.0)), ("gear above the head", Band(reach - 3.0, 1.0, reach - 2.0)))
    stack += (("washer below the gear", Band(1.0, 1.0, 2.0)),)
    owner = of_ if of_ is not None else of(screw=None if shank is None else Screw(shank))
    return of(part=part, of=owner, buy_mm=buy, stated_mm=stated, stack=stack)


def on_thread(*bolts: Any, members: tuple[str, ...] = ("pin.a",), major: float = 5.0, units: str = "mm", **facts: Any) -> list[Diagnostic]:
    pivot = of(**({"sleeve_outside": None, "shoulder": None, "thread": of(major_mm=major), "origin": at(5), "name": ref("pin", 6)} | facts))
    pivots = tuple(of(id=name, pivot=pivot, gear=name.partition(".")[2]) for name in members)
    places = {"a": 41, "b": 42, "c": 43}
    train = of(gear=lambda name: of(gear=of(name=ref(name, places[name]))))
    return run(gear_on_thread, (of(units=units), of(bolts=bolts, pivots=pivots, train=train)))


def test_shank_that_carries_a_gear() -> None:
    (item,) = on_thread(bolt("pin.a", 12.0))
    assert item.message == "the idlers on `pin` turn on bare thread: 12 mm of plain shank; 20 mm would carry the gear"
    # 5 and twice 0.75, up to the next millimetre.
    assert item.remedy == "`sleeve outside 7 mm`: a tube over the thread" and item.span == at(5) and item.parts == ("pin.a",)
    assert [(label.message, label.span) for label in item.related] == [("`a` turns on it", at(41))]
    # 8.5 is 5.35 sixteenths of an inch.
    assert on_thread(bolt("pin.a", 12.0), major=7.0, units="in")[0].remedy == "`sleeve outside 3/8 in` (0.375 in): a tube over the thread"
    assert not on_thread(bolt("pin.a", 20.0)) and on_thread(bolt("pin.a", 19.99))
    assert not on_thread(bolt("pin.a", 12.0), sleeve_outside=1) and not on_thread(bolt("pin.a", 12.0), shoulder=1)
    # A screw cut to 15 has no more shank than that.
    assert "15 mm of plain shank" in on_thread(bolt("pin.a", 25.0, stated=15.0))[0].message
    assert not on_thread(bolt("pin.a", 25.0, stated=22.0)) and not on_thread(bolt("pin.a", 25.0))
    for none in (bolt("pin.a", 25.0, buy=None), bolt("pin.a", None), bolt("pin.a", 25.0, of_=of()), bolt("pin.b", 25.0)):
        assert on_thread(none)[0].message.count(": 0 mm of plain shank") == 1
    without = on_thread()[0]
    assert "0 mm of plain shank; 0 mm would carry" in without.message
    assert on_thread(bolt("pin.a", 25.0, reach=0.0))[0].parts == ("pin.a",)  # nothing to pass: nothing is known of its stack
    assert not on_thread(bolt("pin.a", 25.0, reach=0.5))
    # One pivot that has a sleeve does not hide the next.
    pivots = [of(sleeve_outside=sleeve, shoulder=None, thread=of(major_mm=5.0), origin=at(5), name=ref(name)) for name, sleeve in (("x", 1), ("y", None))]
    states = tuple(of(id=f"{pivot.name.text}.a", pivot=pivot, gear="a") for pivot in pivots)
    train = of(gear=lambda name: of(gear=of(name=ref(name, 41))))
    (item,) = run(gear_on_thread, (of(units="mm"), of(bolts=(), pivots=states, train=train)))
    assert item.parts == ("y.a",)


def test_members_of_a_pivot_that_turn_on_thread() -> None:
    bolts = (bolt("pin.a", 25.0), bolt("pin.b", 3.0), bolt("pin.c", 4.0, reach=21.0))
    (item,) = on_thread(*bolts, members=("pin.a", "pin.b", "pin.c"))
    assert item.message.count("3 mm of plain shank; 20 mm") == 1 and item.parts == ("pin.b", "pin.c")
    assert [label.span for label in item.related] == [at(42), at(43)]


def thread(designation: str, major: float, lead: float, **facts: Any) -> Thread:
    return replace(M8, designation=designation, major_mm=major, lead_mm=lead, pitch_mm=facts.pop("pitch", lead), **facts)


def alike(*uses: ThreadUse, feet: tuple[str, ...] = (), monkeypatch: pytest.MonkeyPatch) -> list[Diagnostic]:
    monkeypatch.setattr(look_alike_threads, "thread_uses", lambda design: uses)
    return run(look_alike_threads, (of(feet=tuple(of(name=ref(name)) for name in feet), units="mm"), of()))


def test_threads_that_are_taken_for_one_another(monkeypatch: pytest.MonkeyPatch) -> None:
    m6, inch = thread("M6", 6.0, 1.0), thread("1/4-20", 6.35, 1.27)
    m5, fine, tapping = thread("M5", 5.0, 0.8), thread("M6x0.75", 6.0, 0.75), thread("ST6", 6.2, 1.8, system="tapping")

    def use(part: str, of_: Thread, start: int = 7) -> ThreadUse:
        return ThreadUse(part, of_, at(start), ())

    (item,) = alike(use("crank", inch, 8), use("corner", m6), feet=("corner",), monkeypatch=monkeypatch)
    # 0.35 of 6.35 is 5.5 %; ten times 0.27.
    assert item.message == "`corner` has M6, `crank` 1/4-20: 2.7 mm apart after 10 turns" and item.severity == "warning"
    assert item.remedy == "mark them and keep them apart" and item.parts == ("corner", "crank") and item.span == at(7)
    assert [(label.message, label.span) for label in item.related] == [("1/4-20 comes from here", at(8))]
    (item,) = alike(use("side", inch), use("corner", m6), feet=("corner", "side"), monkeypatch=monkeypatch)
    assert item.remedy == "one thread for all feet"
    assert not alike(use("a", m5), use("b", m6), use("c", tapping), monkeypatch=monkeypatch)
    for wide, count in ((6.382, 1), (6.39, 0)):  # 6 % of 6.383
        assert len(alike(use("a", m6), use("b", thread("x", wide, 2.0)), monkeypatch=monkeypatch)) == count
    assert not alike(use("a", m6), use("b", thread("x", 6.3, 1.0)), monkeypatch=monkeypatch)
    # In order of diameter and name, each with the next; of several with one thread a foot, else the first, is named.
    many = (use("z", fine), use("y", inch), use("x", m6), use("w", m6), use("v", m6))
    found = alike(*many, feet=("w",), monkeypatch=monkeypatch)
    assert [item.parts for item in found] == [("w", "z"), ("z", "y")]
    assert [item.parts for item in alike(*many, monkeypatch=monkeypatch)] == [("x", "z"), ("z", "y")]


def test_threads_that_must_be_one(monkeypatch: pytest.MonkeyPatch) -> None:
    given: tuple[Any, ...] = (("nut", M8, at(3)), ("bolt", replace(M8, lead_mm=1.0), at(4)), ("insert", replace(M8, pitch_mm=1.0), at(5)))
    given += (("jam nut", replace(M8, major_mm=7.9, designation="own"), at(6)),)
    found = alike(ThreadUse("crank", M8, at(8), given), monkeypatch=monkeypatch)
    assert [(item.severity, item.related[0].span, item.parts) for item in found] == [("error", at(n), ("crank",)) for n in (4, 5, 6)]
    assert found[0].message == "`crank` has M8, its bolt M8: 2.5 mm apart after 10 turns" and found[0].remedy == "both must be M8"
    assert found[2].message == "`crank` has M8, its jam nut own: 0 mm apart after 10 turns"


def zones(monkeypatch: pytest.MonkeyPatch, *items: Metal, name: str = "cut_zone", width: float = 300.0) -> list[Diagnostic]:
    zone: Any = of(name=ref(name, 3), into=ref("deck"), depth=Length(mm=10.0), width=Length(mm=width), origin=at(4))
    outside = (Metal(solid("far.a", "head"), -5.0, 0.0),)
    monkeypatch.setattr(metal_in_cut_zone, "metal_in_zones", lambda design, derived: (of(zone=zone, inside=items, outside=outside),))
    return run(metal_in_cut_zone, (made("a", "pin"), of(**NOTHING)))


def test_metal_under_a_cut_zone(monkeypatch: pytest.MonkeyPatch) -> None:
    pin = Metal(solid("pin.a", "head"), 4.06, 30.04)
    (item,) = zones(monkeypatch, pin)
    assert item.message == "the head of `pin.a` lies in the cut zone of `deck` and has 4.06 mm of wood over it; the zone is 10 mm deep"
    assert item.remedy == "cut no deeper than 4 mm there, move it 30.1 mm away from the edge, or make the zone 30.1 mm narrower"
    assert (item.span, item.parts) == (at(4), ("pin.a",)) and [(x.message, x.span) for x in item.related] == [("`pin` is declared here", at(31))]
    assert "in the cut zone `waste` of `deck`" in zones(monkeypatch, pin, name="waste")[0].message
    assert not zones(monkeypatch, Metal(pin.solid, 10.0, 5.0)) and zones(monkeypatch, Metal(pin.solid, 9.99, 5.0))
    (item,) = zones(monkeypatch, Metal(pin.solid, -1.5, 5.0))
    assert "and stands 1.5 mm out of the topside" in item.message and item.remedy.startswith("move it 5 mm")
    assert "has 0 mm of wood" in zones(monkeypatch, Metal(pin.solid, 0.0, 5.0))[0].message
    assert zones(monkeypatch, Metal(pin.solid, 0.2, 5.0))[0].remedy.startswith("cut no deeper than 0.2 mm there, move")
    assert zones(monkeypatch, Metal(pin.solid, 0.19, 5.0))[0].remedy.startswith("move it")
    assert zones(monkeypatch, Metal(pin.solid, 4.0, 210.0))[0].remedy == "cut no deeper than 4 mm there, or make the zone 210 mm narrower"
    assert zones(monkeypatch, Metal(pin.solid, 0.1, 210.0))[0].remedy == "make the zone 210 mm narrower"
    assert zones(monkeypatch, Metal(pin.solid, 4.0, 40.0), width=40.0)[0].remedy == "cut no deeper than 4 mm there, or move it 40 mm away from the edge"


def test_metal_of_one_set_under_a_cut_zone(monkeypatch: pytest.MonkeyPatch) -> None:
    items = [Metal(solid(f"pin.{name}", "nut"), cover, out) for name, cover, out in (("a", 3.0, 9.0), ("b", 5.0, 12.0), ("c", 11.0, 90.0))]
    other = Metal(solid("x.a", "shank"), 4.0, 7.0)
    one, two = zones(monkeypatch, items[0], other, *items[1:])
    assert one.message.startswith("the nut of `pin.a` (and 1 more of its set) lies") and one.parts == ("pin.a", "pin.b")
    assert "move it 12 mm away" in one.remedy and two.parts == ("x.a",) and two.related[0].span == at(80)
