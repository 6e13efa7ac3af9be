"""Rings, drives, and what a board stands on: check by check, from records built by hand. Lengths mm, forces N."""

from __future__ import annotations

import math
import re
from fractions import Fraction
from typing import Any

import pytest
from tests.designs import M8
from tests.sharp.stand_ins import at, length, named, ref, start, starts

from trivet.checks import (
    nothing_declared,
    nut_pushed_out,
    odd_ring,
    ring_out_of_phase,
    ring_speeds_differ,
    screws_sway,
    several_drives,
    short_engagement,
    tips_at,
    too_few_feet,
)
from trivet.model.foot import Foot
from trivet.solve.derived_train import LoopState, SpeedConflict
from trivet.solve.sway import Sway
from trivet.solve.tipping import TipEdge

NAMES = ("hub", "w", "a", "b", "c", "x")


def gears(*names: str) -> Any:
    """Each stands where it stands in the list, its teeth ten further on."""
    return tuple(named(name=ref(name, k), z=10 + k, teeth=named(origin=at(10 + k))) for k, name in enumerate(names))


def conflict(one: str, two: str, speeds: tuple[Fraction | int, Fraction | int] = (1, -1), where: int = 50) -> SpeedConflict:
    paths = tuple(one.split()), tuple(two.split())
    return SpeedConflict(paths[0][-1], Fraction(speeds[0]), paths[0], Fraction(speeds[1]), paths[1], at(where))


def train(loops: tuple[LoopState, ...] = (), conflicts: tuple[SpeedConflict, ...] = ()) -> Any:
    return named(train=named(loops=loops, conflicts=conflicts))


@pytest.mark.parametrize(
    ("one", "two", "ring"),
    [
        # From where the two ways part, along the first and back along the second.
        ("hub w a x", "hub w b c x", "w a x c b"), ("hub w a x", "hub b x", "hub w a x b"), ("hub a b c x", "hub a b x", "b c x"),
        ("hub", "hub a b hub", "hub b a"), ("hub a b x", "hub x", "hub a b x"), ("hub a", "hub a b c a", "a c b"),
    ],
)  # fmt: skip
def test_gears_of_a_ring_from_two_ways(one: str, two: str, ring: str) -> None:
    assert odd_ring._ring(conflict(one, two)) == tuple(ring.split())


def odd(*gears_in_it: str, where: int = 40) -> LoopState:
    return LoopState(gears_in_it, True, 0.0, 0.0, 0.0, at(where))


def even(*gears_in_it: str, residual: float = 0.0, where: int = 45) -> LoopState:
    return LoopState(gears_in_it, False, residual, 0.2, 0.0, at(where))


def test_odd_rings_with_places_and_those_that_show_only_by_speed() -> None:
    design = named(gears=gears(*NAMES))
    loops = (even("hub", "a", "b", "c"), odd("hub", "w", "a"))
    # The first closes between `c` and `x`, whose gears stand in no odd loop together; the second asks for other speeds; the third is the loop.
    conflicts = (conflict("hub w x", "hub b c x"), conflict("hub a c", "hub b c", (2, -1)), conflict("hub a", "hub w a"), conflict("hub a c", "hub w b c"))
    found = list(odd_ring.check(design, train(loops, conflicts)))
    assert [item.parts for item in found] == [("hub", "w", "a"), ("hub", "w", "x", "c", "b"), ("hub", "a", "c", "b", "w")]
    assert [start(item.span) for item in found] == [40, 50, 50]
    assert found[0].message == "the ring of `hub`, `w` and `a` closes after an odd number of meshes; an even number is required"
    assert [(label.message, start(label.span)) for label in found[0].related] == [
        ("`hub` is part of the ring", 0), ("`w` is part of the ring", 1), ("`a` is part of the ring", 2),
    ]  # fmt: skip
    # The gear before the last, not the one before that, closes a ring: `w` is in the loop, `b` is not.
    inside = (conflict("hub a", "hub w b a"), conflict("hub a", "hub b c w a"))
    assert [item.parts for item in odd_ring.check(design, train((odd("hub", "w", "a"),), inside))] == [("hub", "w", "a"), ("hub", "a", "b", "w")]


def test_two_ways_that_ask_for_other_speeds() -> None:
    design = named(gears=gears(*NAMES))
    third, near = Fraction(1, 3), Fraction(1, 3) + Fraction(1, 10**8)
    conflicts = (
        conflict("hub w x", "hub b c x"), conflict("hub a", "hub b c w a", (2, -1)), conflict("hub w x", "hub a b c x", (Fraction(1, 2), Fraction(-2, 3))),
        conflict("hub w b c", "hub a c", (third, near)),
    )  # fmt: skip
    found = list(ring_speeds_differ.check(design, train((even("w", "a"), odd("hub", "w", "a")), conflicts)))
    assert [item.message for item in found] == [
        "`x` would turn at 0.5 times the drive's speed by way of `w`, and at -0.666667 times by way of `c`",
        # Told in full where six digits do not tell them apart.
        f"`c` would turn at 1/3 times the drive's speed by way of `b`, and at {near} times by way of `a`",
    ]
    assert [(label.message, start(label.span)) for label in found[0].related] == [("`x` has 15 teeth", 15), ("`w` has 11 teeth", 11), ("`c` has 14 teeth", 14)]
    assert [(item.parts, start(item.span)) for item in found] == [(("x", "c"), 50), (("c", "a"), 50)]
    assert found[0].remedy == "leave out the mesh or shaft between `c` and `x`, or choose teeth that make both ways equal"
    assert len(list(ring_speeds_differ.check(design, train((even("a", "w"),), (conflicts[1],))))) == 1
    # Its own gear is in a ring that locks, but not the one before it.
    assert len(list(ring_speeds_differ.check(design, train((odd("hub", "w", "a"),), (conflict("hub a", "hub b c a", (2, -1)),))))) == 1


def test_rings_out_of_phase(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(ring_out_of_phase, "ring_remedy", lambda design, derived, loop, unit: f"{loop.gears[0]} in {unit}")
    # Backlash takes up 0.2, and a thousandth is rounding. A ring that is odd is another finding.
    left = (even("b", "c", residual=0.2011), even("x", "w", residual=0.5, where=46))
    loops = (even("hub", "w", residual=0.2), odd("a", "b"), even("w", "a", residual=0.201), *left)
    found = list(ring_out_of_phase.check(named(gears=gears(*NAMES), units="mm"), train(loops)))
    assert [(item.message, item.remedy) for item in found] == [
        ("the ring of `b` and `c` closes with its teeth 0.201 mm out of place; 0.2 mm is what backlash takes up", "b in mm"),
        ("the ring of `x` and `w` closes with its teeth 0.5 mm out of place; 0.2 mm is what backlash takes up", "x in mm"),
    ]
    assert [starts(item) for item in found] == [(45, [3, 4]), (46, [5, 1])] and found[1].parts == ("x", "w")


def test_examples_of_a_ring_of_four() -> None:
    """Of 20, 30, 40 and 30 teeth in a kite: the alternating sum of z times the angle inside, in turns, is whole in the one that passes."""
    found = []
    for text in (ring_out_of_phase.RULE.passing, ring_out_of_phase.RULE.failing):
        last = re.search(r"at \(([\d.]+), 200\) mm\n  turns_on", text)
        assert last is not None
        far = float(last[1]) - 100.0
        hub = math.acos((far**2 + 100.0**2 - 140.0**2) / (2.0 * far * 100.0))
        end = math.acos((far**2 + 140.0**2 - 100.0**2) / (2.0 * far * 140.0))
        turns = (20 * 2.0 * hub - 30 * 2.0 * (math.pi - hub - end) + 40 * 2.0 * end) / math.tau
        found.append((far, turns - round(turns)))
    (good, rest), (bad, out) = found
    assert rest == pytest.approx(0.0, abs=1e-5) and bad - good == pytest.approx(0.5) and abs(out) > 0.1


def test_more_than_one_gear_is_turned() -> None:
    def turned(name: str, by: int | None, place: int) -> Any:
        return named(name=ref(name, place), turned_by=None if by is None else ref("crank", by))

    made = named(gears=(turned("hub", 11, 1), turned("idle", None, 2), turned("a", 13, 3), turned("b", 14, 4)))
    found = list(several_drives.check(made, named(train=named(drive_gear="hub"))))
    assert [item.message for item in found] == [f"`{name}` is turned by a drive, and so is `hub`; one drive is allowed" for name in "ab"]
    assert [(item.parts, starts(item)) for item in found] == [(("a",), (13, [11])), (("b",), (14, [11]))]
    # The one that counts need not come first.
    assert [item.parts for item in several_drives.check(made, named(train=named(drive_gear="a")))] == [("hub",), ("b",)]
    assert not list(several_drives.check(made, named(train=named(drive_gear=None))))


@pytest.mark.parametrize(("boards", "turned", "feet", "count"), [(0, 0, 0, 1), (1, 0, 0, 0), (0, 1, 0, 0), (0, 0, 1, 0)])
def test_an_empty_fixture(boards: int, turned: int, feet: int, count: int) -> None:
    found = list(nothing_declared.check(named(name="f", boards=(1,) * boards, gears=(1,) * turned, feet=(1,) * feet, origin=at(2)), named()))
    assert [(item.parts, start(item.span)) for item in found] == [(("f",), 2)] * count


def foot(name: str, x: float, y: float, **facts: Any) -> Any:
    return named(id=f"corner.{name}", x_mm=x, y_mm=y, gear=name, foot=named(name=ref("corner", 9)), **facts)


def standing(*places: tuple[float, float], spacers: Any = (), dowels: Any = (), units: str = "mm", **state: Any) -> list[Any]:
    feet = tuple(foot("abcdefg"[k], x, y) for k, (x, y) in enumerate(places))
    of = {item.gear: named(gear=named(name=ref(item.gear, 20 + k))) for k, item in enumerate(feet)}
    held = named(**({"faults": (), "conflicts": (), "loops": ()} | state), gear=of.__getitem__)
    return list(too_few_feet.check(named(units=units, origin=at(0), spacers=spacers, dowels=dowels), named(feet=feet, train=held)))


def test_feet_that_span_no_area() -> None:
    assert not standing() and not standing((0, 0), (100, 0), (50, 30))
    (one,) = standing((10, 10))
    assert one.message == "the board stands on one foot, `corner.a`, and tips to every side; at least 3 feet are required"
    assert one.remedy.startswith("two more feet, not in one line with it;") and starts(one) == (20, [9]) and one.parts == ("corner.a",)
    (two,) = standing((0, 0), (30, 40))
    assert two.message == "the board stands on two feet, `corner.a` and `corner.b`, and tips about the line through them; at least 3 feet are required"
    assert two.remedy.startswith("one more foot, well beside that line;") and starts(two) == (20, [9])
    # All at one place, or nearly: no line, and no area.
    nearly = [standing(*places)[0].message for places in (((5, 5), (5, 5), (5, 5)), ((0, 0), (0.8, 0), (0.4, 0.3)))]
    assert ["to within 0 mm" in nearly[0], "to within 0.3 mm" in nearly[1]] == [True, True]


@pytest.mark.parametrize("turn", [(1.0, 0.0), (0.6, 0.8), (0.0, -1.0)])
def test_feet_in_a_line_to_within_a_millimetre(turn: tuple[float, float]) -> None:
    """The farthest two are the ends of the line, whichever comes first and however it lies."""
    cos, sin = turn

    def places(off: float) -> list[tuple[float, float]]:
        return [(7.0 + x * cos - y * sin, 3.0 + x * sin + y * cos) for x, y in ((100.0, 0.0), (0.0, 0.0), (60.0, off), (200.0, 0.0))]

    assert too_few_feet._off_line_mm(tuple(foot("f", x, y) for x, y in places(-3.0))) == pytest.approx(3.0)
    (item,) = standing(*places(0.5))
    assert item.message == (
        "the 4 feet `corner.a`, `corner.b`, `corner.c` and `corner.d` stand in one line, to within 0.5 mm, and the board tips about it;"
        " more than 1 mm off it is required of one foot at least"
    )
    assert standing(*places(0.999)) and not standing(*places(1.001))


def test_what_else_may_carry_the_board() -> None:
    def line(**facts: Any) -> int:
        return len(standing((0, 0), (100, 0), **facts))

    bored, block = named(bore_mm=8.0), named(bore_mm=None)
    short, long = named(into=(("deck", 1),)), named(into=(("deck", 1), ("base", 2)))
    assert line(spacers=(bored,), dowels=(long,)) == 1
    assert line(spacers=(bored, block)) == line(dowels=(long, short)) == 0
    # What is broken in the train is mended first; an even ring is not.
    assert line(faults=(1,)) == line(conflicts=(1,)) == line(loops=(even("a"), odd("b"))) == 0 and line(loops=(even("a"),)) == 1


def noted(edges: tuple[TipEdge, ...], weight: Any = ((30.4, 0.0, 0.0), ""), feet: int = 3, units: str = "mm", loads: int = 2) -> list[Any]:
    of = {f"g{k}": named(gear=named(name=ref(f"g{k}", 30 + k))) for k in range(9)}
    made = tuple(named(id=f"f{k}", gear=f"g{k}") for k in range(feet))
    design = named(units=units, origin=at(0), loads=tuple(named(name=ref(f"l{k}", 5 + k), origin=None) for k in range(loads)))
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(tips_at, "weight_of", lambda design: weight)
        patch.setattr(tips_at, "tip_edges", lambda design, derived, pushes: edges if pushes == weight[0] else ())
        return list(tips_at.check(design, named(feet=made, train=named(gear=of.__getitem__))))


def test_edge_that_tips_first() -> None:
    edges = tuple(TipEdge((f"f{k % 3}", f"f{(k + 1) % 3}"), 0.0, 20.26 + k, lifts) for k, lifts in enumerate((90.0, None, 50.4, 90.0, 95.0, 97.0, 98.0, 99.0)))
    (item,) = noted(edges)
    assert item.message == "the board alone, about 30 N, tips over `f2` and `f0` under about 50 N pressed down 22 mm beyond them"
    # Five more at most, the weakest first; each at the gear of its first foot.
    assert [label.message.split("about ")[1].split(" N")[0] for label in item.related] == ["90", "90", "95", "97", "98"]
    assert starts(item) == (5, [30, 30, 31, 32, 30]) and item.parts == ("l0", "f2", "f0", "f1")
    assert "pressed down 0.9 in beyond them" in noted(edges, units="in")[0].message  # 22.26 mm
    assert not noted(edges, feet=2) and not noted(edges, loads=0) and not noted(()) and not noted((edges[1],))
    assert not noted(edges, weight=(None, ""))
    (item,) = noted((), weight=(None, "ply"))
    assert item.message == "what tips the board is not known: no density is known for the sheet `ply`" and (item.parts, item.span) == (("l0",), at(5))


def sway(name: str, bend: float, play: float, place: int) -> Any:
    held: Any = named(id=f"corner.{name}", engagement_at_most_mm=11.0, foot=named(name=ref("corner", 9)))
    load: Any = named(name=ref(name, place), origin=None)
    return Sway(load, held, 12.0, bend, play)


def swaying(units: str, *found: Sway) -> list[Any]:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(screws_sway, "sways", lambda design, derived: found)
        return list(screws_sway.check(named(units=units), named()))


def test_screws_that_sway() -> None:
    # Bending and play add up; a tenth is allowed.
    found = swaying("mm", sway("good", 0.05, 0.05, 1), sway("push", 0.0423, 0.0613, 2), sway("pull", 0.4, 0.0, 3))
    assert [item.message for item in found] == [
        "`push` makes `corner.push` sway by about 0.104 mm at the greatest height; 0.1 mm is usual",
        "`pull` makes `corner.pull` sway by about 0.4 mm at the greatest height; 0.1 mm is usual",
    ]
    assert found[0].related[0].message == (
        "0.042 mm is the bending of 12 mm of screw, 0.061 mm the rocking in 11 mm of thread with 0.15 mm of play, which is assumed"
    )
    assert [(item.parts, starts(item)) for item in found] == [(("push", "corner.push"), (2, [9])), (("pull", "corner.pull"), (3, [9]))]
    # 0.0423 mm is 0.00167 in, 0.0613 mm 0.00241 in, 0.15 mm 0.00591 in.
    (item,) = swaying("in", sway("push", 0.0423, 0.0613, 2))
    assert item.related[0].message.startswith("0.0017 in is the bending of 0.472 in of screw, 0.0024 in the rocking in 0.433 in of thread with 0.006 in")
    assert swaying("thou", sway("push", 0.0423, 0.0613, 2))[0].related[0].message.startswith("0.0017 in is the bending")


def holding(name: str, engaged: float, live: tuple[float, float] | None, stated: int | None = None, insert: int | None = None) -> Any:
    set_name, _, _ = name.partition(".")
    own = None if stated is None else length(30, stated)
    noun = named(name=ref(set_name, 7), thread=M8, length=own, insert=None if insert is None else named(origin=at(insert)), origin=at(6))
    return named(id=name, engagement_at_most_mm=engaged, live_z_mm=live, foot=noun)


def held(*feet: Any, climbers: tuple[Any, ...] = (), travel: float | None = 8.0) -> list[Any]:
    lift = None if travel is None else named(travel_mm=travel, height_max_mm=60.0)
    return list(short_engagement.check(named(units="mm"), named(lift=lift, feet=feet, climbers=climbers)))


def test_little_thread_at_the_end_of_the_travel() -> None:
    # 1.5 of 8 are 12, or the live thread of 15 to 4: 11, where that is less.
    short, long = (4.0, 15.0), (0.0, 20.0)
    (item,) = held(holding("c.a", 9.0, short, 3, 4), holding("c.b", 8.25, short, 3, 4))
    assert item.message == "the screws of `c` hold by 8.25 mm of thread at the end of the travel; at least 11 mm is advised"
    assert item.remedy == "ending the travel 2.75 mm earlier, at a height of 57.25 mm, keeps it"
    assert item.related[0].message == "the live thread of the insert of `c` is 11 mm long"
    assert (item.parts, starts(item)) == (("c.a", "c.b"), (3, [4]))
    assert starts(held(holding("c.a", 9.0, short))[0]) == (7, [6])
    assert "at least 12 mm" in held(holding("c.a", 11.9, long))[0].message and not held(holding("c.a", 12.0, long), holding("d.a", 11.0, short))
    # A set that is good, or has no thread, does not hide the next; climbers count too.
    found = held(holding("a.a", 12.0, long), holding("b.a", 1.0, None), holding("c.a", 9.0, long), climbers=(holding("d.a", 9.0, long),))
    assert [item.parts for item in found] == [("c.a",), ("d.a",)]
    assert not held(holding("c.a", 9.0, long), travel=0.0) and not held(holding("c.a", 9.0, long), travel=None)
    assert held(holding("c.a", 9.0, long), travel=0.5)


def test_nuts_that_the_load_pushes_out() -> None:
    def set_of(name: str, kind: Any, pocket: Any, nut: int | None) -> Any:
        noun: Foot | Any = named(name=ref(name, 5), kind=kind, nut_pocket=pocket, nut=None if nut is None else named(origin=at(nut)), origin=at(6))
        return (named(id=f"{name}.a", foot=noun), named(id=f"{name}.b", foot=noun))

    feet = (*set_of("a", "captured_nut", "underside", 1), *set_of("b", "riding", "topside", 2), *set_of("c", "captured_nut", "topside", 3))
    found = list(nut_pushed_out.check(named(), named(feet=(*feet, set_of("d", "captured_nut", "topside", None)[0]))))
    assert [(item.parts, start(item.span)) for item in found] == [(("c.a", "c.b"), 3), (("d.a",), 6)]
