"""What is said of drives, few teeth, loads, joints and unlike forms: each sum is written out. Lengths mm, forces N, torques N·mm."""

from __future__ import annotations

import math
from typing import Any

import pytest
from tests.sharp.check_samples import Length, at, form, of, ref, run

from trivet.checks import (
    coarse_step,
    driver_can_break_teeth,
    few_teeth,
    gears_joined_by_nothing,
    head_proud,
    jam_nut_may_slip,
    load_tips_board,
    many_turns,
    meshed_gears_differ,
)
from trivet.checks.thin_tooth_tip import least_land_mm
from trivet.diagnostics import Diagnostic
from trivet.record import replace
from trivet.solve.gear_size import ToothGeometry
from trivet.solve.shaft_joints import ShaftJoint


def hub(teeth: int, turned: bool = True) -> Any:
    return of(name=ref("hub", 30), z=teeth, turned_by=ref("crank", 31) if turned else None)


def drive(check: Any, teeth: int, requires: str = "", lift: bool = True, driven: bool = True, turned: bool = True, units: str = "mm", **lifts: float) -> Any:
    design = of(gears=(of(name=ref("x")), hub(teeth, turned)), requires=(of(kind="other"), of(kind=requires)), units=units)
    return run(check, (design, of(lift=of(**lifts) if lift else None, train=of(drive_gear="hub" if driven else None))))


def test_step_of_an_eighth_of_a_turn() -> None:
    def told(per_turn: float, teeth: int = 16, **facts: Any) -> list[Diagnostic]:
        found: list[Diagnostic] = drive(coarse_step, teeth, per_turn_mm=per_turn, **facts)
        return found

    assert not told(2.0) and not told(-2.0)
    (item,) = told(-2.4)
    assert item.message == "an eighth of a turn of `crank` raises the board by 0.3 mm; 0.25 mm or less is easy to set"
    # 16 · 0.25 / 0.3 = 13.3.
    assert item.remedy == "`hub` with 13 teeth or fewer, or feet with more teeth or a finer thread"
    assert (item.span, item.parts) == (at(31), ("crank", "hub"))
    assert told(2.4, turned=False)[0].span == at(30) and told(2.4, turned=False)[0].parts == ("hub", "hub")
    for facts in ({"requires": "lift_per_turn"}, {"lift": False}, {"driven": False}):
        assert not told(2.4, **facts)
    assert told(2.4, requires="turns_for_travel")
    for teeth, words in ((12, "`hub` with 6 teeth"), (11, "feet with more"), (24, "`hub` with 12 teeth")):  # half of them
        assert told(4.0, teeth)[0].remedy.startswith(words)
    assert "raises the board by 0.012 in; 0.01 in or less" in told(2.4, units="in")[0].message  # 0.3 / 25.4 = 0.0118, 0.0098


def test_turns_for_the_travel() -> None:
    def told(turns: float, teeth: int = 16, **facts: Any) -> list[Diagnostic]:
        found: list[Diagnostic] = drive(many_turns, teeth, turns_for_travel=turns, travel_mm=40.0, **facts)
        return found

    assert not told(30.0)
    (item,) = told(36.04)
    assert item.message == "the travel of 40 mm takes 36.0 turns of `crank`; more than 30 is tiring"
    # 16 · 36.04 / 30 = 19.2.
    assert item.remedy == "`hub` with 20 teeth or more, a coarser thread, or a socket for a hand brace"
    assert (item.span, item.parts) == (at(31), ("crank", "hub"))
    assert told(30.5) and told(45.0)[0].remedy.startswith("`hub` with 24 teeth") and told(45.01)[0].remedy.startswith("`hub` with 25 teeth")
    for facts in ({"requires": "turns_for_travel"}, {"lift": False}, {"driven": False}):
        assert not told(36.0, **facts)
    assert told(36.0, requires="lift_per_turn") and told(36.0, turned=False)[0].parts == ("hub", "hub")


def undercut(name: str, teeth: int = 12, start: int | None = 40, **facts: Any) -> Any:
    geometry = ToothGeometry(teeth=teeth, module_mm=6.0, pressure_angle_rad=math.radians(20.0), **facts)
    number = of(origin=at(start) if start is not None else None)
    return of(id=name, gear=of(name=ref(name, 50 + ord(name) - 97), z=teeth, teeth=number), geometry=geometry)


def test_gears_with_few_teeth() -> None:
    """Without shift a rack cuts 17 teeth without undercut: 2 / sin² 20 deg = 17.1; a shift of 1 - z/17.1 lets z do."""

    def told(*gears: Any) -> list[Diagnostic]:
        return run(few_teeth, (of(), of(train=of(gears=gears))))

    assert not told(undercut("a", 18)) and told(undercut("a", 17))
    (item,) = told(undercut("a", 14))
    assert item.message == "`a` has 14 teeth; a generated gear of this form needs 17.1"
    # 1 - 14/17.097 = 0.1811.
    assert item.remedy == "18 teeth, or `profile_shift 0.19`" and (item.span, item.parts) == (at(40), ("a",))
    assert told(undercut("a", 13))[0].remedy == "18 teeth, or `profile_shift 0.24`"  # 1 - 13/17.097 = 0.2396
    assert not told(undercut("a", 14, profile_shift=0.19)) and told(undercut("a", 14, profile_shift=0.18))
    (item,) = told(undercut("a", 14), undercut("b", 20), undercut("c", 14))
    assert item.message.startswith("`a` and `c` have 14 teeth") and item.parts == ("a", "c")
    assert [item.parts for item in told(undercut("a"), undercut("b", start=41), undercut("c", start=None), undercut("d", start=None))] == [(n,) for n in "abcd"]
    assert told(undercut("c", start=None))[0].span == at(52)
    # A shift that leaves tips too thin is not told: of 6 teeth 1 - 6/17.1 = 0.649.
    thin = undercut("a", 6)
    assert replace(thin.geometry, profile_shift=0.65).tip_land_mm < least_land_mm(thin.geometry)
    assert told(thin)[0].remedy == "18 teeth"


def strength(monkeypatch: pytest.MonkeyPatch, torque: float = 4000.0, clutch: float = 3049.0, **facts: Any) -> list[Diagnostic]:
    shares = {"bending": 60.0, "bending_allowed": 30.0, "shear": 9.0, "shear_allowed": 6.0} | facts.pop("tooth", {})
    tooth = of(gear="hub", mate="west", material="birch", face_mm=17.5, **shares)
    found = of(torque_nmm=torque, clutch_nmm=clutch, teeth=(tooth, of(gear="x")), not_judged=facts.pop("not_judged", ()), torque_origin=facts.pop("at", None))
    found.torque_source = facts.pop("source", "stated")
    monkeypatch.setattr(driver_can_break_teeth, "strength_of", lambda design, derived: None if facts.get("unknown") else found)
    turned = of(name=ref("crank"), turned_with=facts.pop("with_", "driver"), driver_torque=facts.pop("hand", None), turned_with_origin=at(14), origin=at(15))
    states = () if facts.pop("none", False) else (of(drive=turned), of(drive=None))
    train = of(gear=lambda name: of(gear=of(name=ref(name, 16))))
    return run(driver_can_break_teeth, (of(units="mm"), of(drives=states, train=train)))


def test_a_driver_that_can_break_teeth(monkeypatch: pytest.MonkeyPatch) -> None:
    (item,) = strength(monkeypatch)
    assert item.message == (
        "a driver that turns `crank` with 4 Nm when a foot jams loads the teeth of `hub` to about 60 N/mm2 in bending; 30 N/mm2 is taken as the most"
    )
    assert item.remedy == "turn it by hand, or set the clutch to 3.0 Nm or less: an estimate, try it on waste"
    assert item.span == at(14) and [label.span for label in item.related] == [at(14), at(16)] and item.parts == ("crank", "hub", "west")
    assert item.related[0].message == "its torque is stated here" and "shares 17.5 mm of face with `west`" in item.related[1].message
    assert strength(monkeypatch, at=at(17))[0].span == at(17) and strength(monkeypatch, at=at(17))[0].related[0].span == at(17)
    assert strength(monkeypatch, source="a table")[0].related[0].message == "its torque: a table"
    assert not strength(monkeypatch, 3000.0, 3000.0) and strength(monkeypatch, 3000.01, 3000.0)
    # Shear is the nearer to its limit: 13 of 6 against 60 of 30.
    assert "about 13 N/mm2 in shear; 6 N/mm2" in strength(monkeypatch, tooth={"shear": 13.0})[0].message
    assert "in bending" in strength(monkeypatch, tooth={"shear": 12.0})[0].message
    assert "in shear" in strength(monkeypatch, tooth={"shear": 40.0, "shear_allowed": 15.0})[0].message
    (item,) = strength(monkeypatch, with_="hand", hand=5, not_judged=("a", "b"))
    assert item.message.startswith("a hand that turns") and item.remedy.startswith("turn it with 3.0 Nm or less")
    assert item.remedy.endswith("; `a`, `b` could not be judged")
    for facts in ({"with_": "hand"}, {"with_": None}, {"none": True}, {"unknown": True}):
        assert not strength(monkeypatch, **facts)


def test_loads_that_tip_the_board(monkeypatch: pytest.MonkeyPatch) -> None:
    feet = tuple(of(id=f"corner.{name}", gear=name) for name in "abc")
    loads = tuple(of(name=ref(name), origin=at(20 + index)) for index, name in enumerate(("push", "pull", "lean")))
    heights: list[float] = []

    def told(tips: dict[tuple[str, ...], float], of_: Any = loads, stand: Any = feet, weight: Any = (57.6, 0.0), lift: Any = True) -> list[Diagnostic]:
        def edge(derived: Any, given: Any, group: Any, height: float) -> Any:
            heights.append(height)
            over = tips.get(tuple(load.name.text for load in group))
            return None if over is None else (("corner.b", "corner.a"), over)

        monkeypatch.setattr(load_tips_board, "tipped_edge", edge)
        monkeypatch.setattr(load_tips_board, "weight_of", lambda design: (weight, ""))
        monkeypatch.setattr(load_tips_board, "hold_down_n", lambda feet, edge, over: ("corner.c", over / 1000.0))
        train = of(gear=lambda name: of(gear=of(name=ref(name, ord(name)))))
        height = of(height_max_mm=95.0) if lift else None
        return run(load_tips_board, (of(loads=of_), of(feet=stand, lift=height, train=train)))

    (item,) = told({("pull",): 12340.0, ("push", "pull", "lean"): 5000.0})
    assert item.message == "`pull` tips the board over `corner.b` and `corner.a`: 12.3 Nm more than its weight of about 58 N holds"
    assert "a hold-down of more than 13 N at `corner.c`" in item.remedy and item.span == at(21)
    assert [label.span for label in item.related] == [at(ord("b"))] and item.parts == ("pull", "corner.b", "corner.a")
    both = told({("push",): 1000.0, ("lean",): 2000.0})
    assert [item.parts[0] for item in both] == ["push", "lean"]
    (item,) = told({("push", "pull", "lean"): 5000.0})
    assert item.message.startswith("`push` and `pull` and `lean` tip the board") and item.span == at(20)
    assert not told({}) and not told({("push",): 1.0}, ()) and not told({("push",): 1.0}, stand=feet[:2]) and not told({("push",): 1.0}, weight=None)
    asked = len(heights)
    assert not told({}, loads[:1]) and len(heights) == asked + 1 and told({("push", "pull"): 9.0}, loads[:2])
    assert set(heights) == {95.0}
    told({}, lift=False)
    assert heights[-1] == 0.0


def test_jam_nuts_that_slip(monkeypatch: pytest.MonkeyPatch) -> None:
    def told(*holds: tuple[float | None, float | None], jam: bool = True, washers: tuple[str, ...] | None = None) -> list[Diagnostic]:
        names = [f"crank{index}" for index in range(len(holds))]
        nut = of(side="below", origin=at(12)) if jam else None
        washer = None if washers is None else 1
        states = tuple(of(drive=of(name=ref(n), jam_nut=nut, washer=washer, washer_places=washers or (), origin=at(13))) for n in names)

        def hold(design: Any, derived: Any, state: Any) -> Any:
            held, turned = holds[names.index(state.drive.name.text)]
            return of(holds_nmm=held, turns_nmm=turned, loosens_while="raising", loosens="clockwise", tightened_nmm=5250.0)

        monkeypatch.setattr(jam_nut_may_slip, "nut_hold", hold)
        loads = tuple(of(name=ref(name), origin=at(14 + index)) for index, name in enumerate(("x", "y", "x")))
        return run(jam_nut_may_slip, (of(loads=loads), of(drives=states)))

    assert not told((3000.0, 1000.0)) and not told((None, 1000.0)) and not told((1.0, None)) and not told((1.0, 1000.0), jam=False)
    (item,) = told((None, 9.0), (9000.0, 100.0), (2900.0, 1000.0))
    assert item.message == (
        "the nuts of `crank2` hold about 2.90 Nm; 3.00 Nm is wanted, 3 times the 1.00 Nm of raising the stated loads, clockwise, which parts them"
    )
    assert item.remedy == "thread locker on both nuts, or a washer under the jam nut" and item.parts == ("crank2", "x", "y")
    assert [label.span for label in item.related] == [at(12), at(14)] and item.span == at(12) and "about 5.25 Nm" in item.related[0].message
    (item,) = told((290000.0, 100000.0))
    assert "hold about 290.00 Nm; 300.00 Nm is wanted, 3 times the 100.00 Nm of" in item.message and told((3000.0, 1000.1))
    low = (2900.0, 1000.0)
    assert told(low, washers=("above",))[0].remedy.endswith("washer under the jam nut")
    assert told(low, washers=("above", "below"))[0].remedy == "thread locker on both nuts"


def test_heads_that_stand_proud() -> None:
    def told(*drives: tuple[str, float | None, float], depth: float = 0.3, units: str = "mm") -> list[Diagnostic]:
        heads = [of(head=of(form=kind, height_max_mm=high)) for kind, _, high in drives]
        recesses = [None if sunk is None else Length(mm=sunk, origin=at(41)) for _, sunk, _ in drives]
        nouns = tuple(of(name=ref(f"crank{k}", 40), bolt=head, head_recessed=recesses[k]) for k, head in enumerate(heads))
        return run(head_proud, (of(drives=nouns, shop=of(depth_mm=depth), units=units, origin=at(1)), of()))

    assert not told(("socket", 8.3, 8.0)) and not told(("wood", None, 8.0)) and not told(("flat", None, 0.0))
    skipped = (("wood", None, 8.0), ("socket", 9.0, 8.0))
    (item,) = told(*skipped, ("socket", 8.29, 8.0))
    assert item.message == "the head of `crank2` is let in 7.99 mm at least; it is up to 8 mm high"
    assert item.remedy.startswith("`head recessed 8.3 mm` sinks it") and item.span == at(41)
    assert "is let in 0 mm at least" in told(("socket", None, 8.0))[0].message and told(("socket", None, 8.0))[0].span == at(40)
    assert "is let in 0 mm at least" in told(("socket", 0.0, 8.0))[0].message
    # 8.3 is 20.9/64 in.
    assert told(("socket", 5.0, 8.0), units="in")[0].remedy.startswith("`head recessed 21/64 in` (0.328 in) sinks")


def test_gears_joined_by_nothing() -> None:
    def joint(*gears: str, holds: bool = False, kind: Any = "dowels", room: float = 5.0, needs: float = 8.25, webbed: str = "", at_: Any = None) -> ShaftJoint:
        return ShaftJoint(gears[0], gears, kind, 6.0, (), room, needs, holds, webbed, False, at_)

    def told(*joints: ShaftJoint, units: str = "mm") -> list[Diagnostic]:
        gears = tuple(of(name=ref(name, 30 + ord(name) - 97)) for name in "abcd")
        return run(gears_joined_by_nothing, (of(gears=gears, units=units, origin=at(1)), of(joints=joints)))

    (item,) = told(joint("a", "b", holds=True), joint("b", "c", "d"))
    assert item.message == "glue alone joins `b` and `d`: 5 mm of wood between bore or recess and roots; two dowels take 8.25 mm"
    assert item.remedy == "more teeth on the smaller gear" and item.parts == ("b", "c", "d")
    assert (item.span, [(x.message, x.span) for x in item.related]) == (at(33), [("`b` is declared here", at(31))])
    assert told(joint("a", "b", at_=at(9)))[0].span == at(9)
    # Dowels of 6 mm: as much thinner as is lacking, but not below 4 mm.
    or_teeth = "or thinner, or more teeth on the smaller gear"
    for room, words in (
        (8.25, "thinner dowels"),
        (9.0, "thinner dowels"),
        (8.24, f"`joined_by dowels 5.9 mm` {or_teeth}"),
        (6.25, f"`joined_by dowels 4 mm` {or_teeth}"),
        (6.24, "more teeth on the smaller gear"),
        (0.0, "more teeth on the smaller gear"),
    ):
        assert told(joint("a", "b", room=room))[0].remedy == words
    # 5.5 mm are 13.9/64 in.
    assert told(joint("a", "b", room=7.75), units="in")[0].remedy == f"`joined_by dowels 13/64 in` (0.203 in) {or_teeth}"
    assert told(joint("a", "b", room=0.0, needs=1.0))[0].remedy == "more teeth on the smaller gear"
    assert told(joint("a", "b", "c", room=9.0))[0].message.startswith("glue alone joins `a` and `c`: dowels between layers")
    (item,) = told(joint("a", "b", "c", webbed="b"))
    assert item.message.startswith("glue alone joins `a` and `c`: the web of `b`") and item.remedy == "`b` without a web"
    assert told(joint("a", "b", "c", kind="clamped"))[0].message.startswith("nothing clamps `a` and `c`:")


def unlike(monkeypatch: pytest.MonkeyPatch, pairs: tuple[str, ...], forms: dict[str, Any], units: str = "mm", faults: str = "unlike_teeth") -> list[Diagnostic]:
    """Each gear's form is named by its first letter; a pair of one form is alike."""
    names = sorted({name for words in pairs for name in words.split()})
    meshes = {(a, b): of(b=ref(b, 60 + 2 * index), origin=at(59)) for index, (a, b) in enumerate(words.split() for words in pairs)}
    gears = {name: of(tooth_form=ref(name[0])) for name in names}
    graph = of(meshes=meshes, gears=gears, forms=forms, alike=lambda a, b: a[0] == b[0])
    monkeypatch.setattr(meshed_gears_differ, "train_graph", lambda design: graph)
    return run(meshed_gears_differ, (of(units=units), of(train=of(faults=(of(kind="no_place"), of(kind=faults))))))


def shape(name: str, module: float, angle: float = 20.0, start: int = 30, stated: bool = True) -> Any:
    return form(name, module=module, pressure_angle_deg=angle, module_origin=at(start) if stated else None)


def test_meshed_gears_of_unlike_forms(monkeypatch: pytest.MonkeyPatch) -> None:
    forms = {"p": shape("p", 6.0), "q": shape("q", 5.0, 25.0, 31, False), "r": shape("r", 6.0, 14.5, 32), "s": shape("s", 6.0, 20.0, 33)}
    assert not unlike(monkeypatch, ("p1 q1",), forms, faults="two_places") and not unlike(monkeypatch, ("p1 p2",), forms)
    (item,) = unlike(monkeypatch, ("p1 q1",), forms)
    assert item.message == "`p1` has module 6 mm, `q1`, in mesh with it, 5 mm; they must be equal" and item.span == at(60)
    assert [(x.message, x.span) for x in item.related] == [("the tooth form `p` of `p1`", at(30)), ("the tooth form `q` of `q1`", at(20))]
    assert item.remedy == "give both `tooth_form p` or both `tooth_form q`" and item.parts == ("p1", "q1")
    (item,) = unlike(monkeypatch, ("p1 r1",), forms)
    assert item.message.startswith("`p1` has a pressure angle of 20 deg, `r1`, in mesh with it, 14.5 deg;") and [x.span for x in item.related] == [at(20)] * 2
    found = unlike(monkeypatch, ("p1 q1", "p2 r1", "q2 p1", "p3 p4", "p3 q3"), forms)
    assert [item.parts for item in found] == [("p1", "q1", "q2", "p3", "q3"), ("p2", "r1")]
    assert found[0].message.startswith("`p1` has module 6 mm, `q1`") and found[0].span == at(60)
    assert found[0].message.endswith("; 2 other meshes are alike") and found[0].remedy == "give all of them `tooth_form p` or all `tooth_form q`"
    assert [(x.message, x.span) for x in found[0].related[2:]] == [("the same holds for `q2` and `p1`", at(64)), ("the same holds for `p3` and `q3`", at(68))]
    assert unlike(monkeypatch, ("p1 q1", "q2 p1"), forms)[0].message.endswith("; 1 other mesh is alike")
    forms["p"] = shape("p", 25.4 / 4.0)
    for units in ("in", "thou"):
        (item,) = unlike(monkeypatch, ("p1 q1",), forms, units)
        assert item.message.startswith("`p1` has a diametral pitch of 4 per in, `q1`, in mesh with it, 5.08 per in")


@pytest.mark.parametrize(
    ("one", "other", "texts"),
    [(25.4 / 4, 25.4 / 5, "4 5"), (25.4 / 10, 25.4 / 20, "10 20"), (25.4 / 4, 25.4 / 4.004, "4 4.004"), (25.4 / 4, 25.4 / 4.0000012, "4 4.000001"),
     (25.4 / 4.25, 25.4 / 4.5, "4.25 4.5"), (6.0, 5.0, "4.23 5.08"), (25.4 / 4, 25.4 / 4.0000002, "4 4")],
)  # fmt: skip
def test_diametral_pitches_that_differ(one: float, other: float, texts: str) -> None:
    assert meshed_gears_differ._pitches(one, other) == tuple(f"{text} per in" for text in texts.split())
