"""What is put to the board in one go, and what is done to loose parts before: figures by hand, lengths mm."""

from __future__ import annotations

from types import SimpleNamespace as Of
from typing import Any

import pytest
from tests.designs import mm
from tests.designs_feet import NUT, TEE, captured, pin, riding, sliding
from tests.sharp.test_sharp_assembly import solid

from trivet.model.foot import Pad
from trivet.model.train import DriveNut
from trivet.solve.assembly_preparation import preparations
from trivet.solve.assembly_step import AssemblyStep
from trivet.solve.assembly_units import _drive_unit, _foot_units, _pivot_ways, units_of

JAM_DEPTH = mm(6)


def test_ways_of_a_pivots_parts() -> None:
    held = [solid(kind) for kind in ("gear", "nut", "washer", "flange", "barrel")]
    for nut, ways in (
        (None, {"gear": "below", "nut": "above", "washer": "below"}),
        (DriveNut(hardware=NUT, side="above", recessed=JAM_DEPTH, round=JAM_DEPTH), {"gear": "below", "nut": "above", "washer": "below"}),
        (DriveNut(hardware=NUT, side="above", recessed=JAM_DEPTH), {"gear": "below", "washer": "below"}),
        (DriveNut(hardware=NUT, side="above"), {"gear": "below", "nut": "above", "washer": "below"}),
    ):
        assert {item.kind: side for item, side in _pivot_ways(pin(nut=nut), held)} == ways


def test_ways_of_a_drives_parts() -> None:
    held = [
        solid("head", 20.0, 28.0), solid("washer", 18.0, 20.0), solid("washer", -30.0, -28.0, part="low"), solid("shank"), solid("bolt_end"), solid("gear"),
        solid("nut", -4.0, 0.0), solid("nut", -34.0, -30.0, radius=7.5), solid("flange"),
    ]  # fmt: skip
    found = _drive_unit("crank.hub", "hub", ("hub",), held)
    assert [side for _, side in found.ways] == ["above", "above", "below", "above", "above", "below", "below", "below", "below"]
    assert (found.kind, found.id, found.shaft, found.gears, found.side) == ("fit_drive", "crank.hub", "hub", ("hub",), "above")
    # Over corners of 15, flats of 13: a socket of 1.35 · 13 + 1.5 (common practice, no source).
    ((tool, side),) = found.tools
    assert (tool.low_mm, side) == (-34.0, "below") and tool.radius_mm * 2 == pytest.approx(1.35 * 15 * 3**0.5 / 2 + 1.5, abs=1e-3)
    assert _drive_unit("c", "h", (), held[:5]).tools == ()
    # A washer that ends 0.8 under the head is not the head's.
    assert [side for _, side in _drive_unit("c", "h", (), [held[0], solid("washer", 17.2, 19.2)]).ways] == ["above", "below"]


def test_units_of_feet() -> None:
    kinds = ("gear", "head", "shank", "pad", "keeper", "stand_off", "keeper_screw", "rod")
    held = [solid(kind, part=kind) for kind in kinds]

    def told(foot: Any) -> list[tuple[Any, ...]]:
        return [(u.kind, u.id, {i.kind: s for i, s in u.ways}, u.after, u.last, u.side) for u in _foot_units(foot, "c.nw", "nw", ("nw",), held)]

    pad = ("fit_pad", "c.nw.pad", {"pad": "below"}, "c.nw", True, "below")
    screw = {"gear": "below", "head": "below", "shank": "below"}
    assert told(riding()) == [("thread_feet", "c.nw", screw, "", False, "below"), pad]
    assert told(riding(pad=Pad(kind="head"))) == [("thread_feet", "c.nw", screw | {"pad": "below"}, "", False, "below")]
    gear = ("place_gear", "nw", {"gear": "below"}, "", False, "below")
    keeper = ("fit_keeper", "keeper", {"keeper": "below", "stand_off": "below", "keeper_screw": "below"}, "nw", False, "below")
    assert told(captured()) == [gear, keeper, ("thread_rod", "c.nw", {"rod": "above"}, "keeper", False, "above"), (*pad[:4], False, "below")]
    assert told(sliding()) == [gear, keeper, ("turn_in_screw", "c.nw", {"head": "below", "shank": "below"}, "keeper", False, "below"), pad]
    held = [item for item in held if item.kind != "keeper"]
    assert told(sliding())[1][3] == "nw"


def test_preparations() -> None:
    """What cures first, then boards, then gears; sides and faces of each."""

    def named(text: str) -> Any:
        return Of(text=text)

    def state(name: str, shaft: str = "", layers: int = 1, under: str = "deck") -> Any:
        return Of(id=name, level=1 if shaft else 0, gear=Of(layers=layers, under=named(under), on_shaft_with=named(shaft) if shaft else None))

    def foot(name: str, kind: str = "riding", face: str = "topside", pad: str = "dome", **facts: Any) -> Any:
        insert = Of(driven_from=face) if face else None
        held = {"kind": kind, "insert": insert, "into": named("deck"), "pad": Of(kind=pad), "nut": None, "nut_pocket": "underside"} | facts
        return Of(id=f"c.{name}", gear=name, foot=Of(**held))

    gears = (state("hub"), state("nw"), state("low", "nw"), state("ne", layers=2), state("se"), state("sw"), state("west", under="lid"))
    feet = (
        foot("nw"), foot("ne", face="underside", pad="head"), foot("se", "captured_nut", "", nut=NUT),
        foot("sw", "captured_nut", "", nut=NUT, nut_pocket="topside"),
    )  # fmt: skip
    pivots = (Of(id="pin.west", gear="west", pivot=pin(nut=DriveNut(hardware=TEE, side="above"))), Of(id="pin.hub", gear="hub", pivot=pin()))
    magnets = (Of(places=(Of(id="m1"), Of(id="m2")), face="topside", into=named("deck")), Of(places=(Of(id="m3"),), face="underside", into=named("lid")))
    dowels = (Of(places=(Of(id="d1"),), into=(("deck", "press"), ("lid", "slide"))), Of(places=(Of(id="d2"),), into=(("lid", "slide"),)))
    boards = (Of(name=named("deck"), layers=1), Of(name=named("lid"), layers=2))
    drive = Of(id="crank.hub", gear="hub", drive=Of(nut=DriveNut(hardware=TEE, side="above")))
    derived: Any = Of(train=Of(gears=gears), feet=feet, pivots=pivots, drives=(drive,), joints=())
    design: Any = Of(boards=boards, magnets=magnets, dowels=dowels)
    found = list(preparations(design, derived, frozenset({"c.se"})))
    assert found == [
        AssemblyStep("glue_layers", ("lid",), (), ("lid",), needs_cure=True),
        AssemblyStep("glue_layers", ("ne",), ("ne",), needs_cure=True),
        AssemblyStep("drive_insert", ("c.nw",), (), ("deck",), "above", "topside"),
        AssemblyStep("drive_insert", ("c.ne",), (), ("deck",), "below", "underside"),
        AssemblyStep("press_tee_nut", ("pin.west",), (), ("lid",), "above", "topside"),
        AssemblyStep("set_magnets", ("m1", "m2"), (), ("deck",), "above", "topside", needs_cure=True),
        AssemblyStep("set_magnets", ("m3",), (), ("lid",), "below", "underside", needs_cure=True),
        AssemblyStep("press_dowels", ("d1",), (), ("deck",), "above"),
        AssemblyStep("press_tee_nut", ("crank.hub",), ("hub",), (), "above", "topside"),
        AssemblyStep("join_gears", ("nw", "low"), ("nw", "low"), needs_cure=True),
        AssemblyStep("press_nut", ("c.se",), ("se",), (), "below", "underside", needs_cure=True),
        AssemblyStep("press_nut", ("c.sw",), ("sw",), (), "above", "topside", needs_cure=True),
        AssemblyStep("glue_screw_in_gear", ("c.nw",), ("low",), (), "below", "underside", needs_cure=True),
        AssemblyStep("glue_screw_in_gear", ("c.ne",), ("ne",), (), "below", "underside", needs_cure=True),
        AssemblyStep("fit_pad", ("c.nw",), ("nw",), (), "below"),
        AssemblyStep("fit_pad", ("c.sw",), ("sw",), (), "below"),
    ]
    # Clamped gears need no glue; a plain nut is only pressed in where it is let in, and only above.
    derived.joints = (Of(form="glued", gears=("nw", "low")), Of(form="clamped", gears=("nw", "low")))
    for nut, kind in (
        (DriveNut(hardware=NUT, side="above", recessed=JAM_DEPTH), "press_nut"), (DriveNut(hardware=NUT, side="above"), None),
        (DriveNut(hardware=TEE, side="below"), None),
    ):  # fmt: skip
        drive.drive = Of(nut=nut)
        again = {step.parts: step for step in preparations(design, derived, frozenset())}
        assert (again[("crank.hub",)].kind if ("crank.hub",) in again else None) == kind
        assert not again[("nw", "low")].needs_cure
    derived.joints = (Of(form="clamped", gears=("nw",)), Of(form="glued", gears=("nw", "low")))
    assert {step.parts: step for step in preparations(design, derived, frozenset())}[("nw", "low")].needs_cure


def test_units_by_what_holds_their_shaft() -> None:
    held = [
        solid("gear", part="hub", shaft="hub"), solid("head", part="crank.hub", shaft="hub"), solid("gear", part="west", shaft="west"),
        solid("gear", part="nw", shaft="nw"), solid("gear", part="low", shaft="nw"), solid("pad", part="corner.nw", shaft="nw"), solid("gear", shaft="lost"),
    ]  # fmt: skip
    derived: Any = Of(
        boards=(), feet=(Of(gear="nw", id="corner.nw", foot=riding()),), pivots=(Of(gear="west", id="pin.west", pivot=pin()),),
        drives=(Of(gear="hub", id="crank.hub"),),
    )  # fmt: skip
    found = units_of(Of(boards=()), derived, Of(solids=tuple(held)), None)
    assert [(item.kind, item.id, item.shaft, item.gears, len(item.ways)) for item in found] == [
        ("fit_drive", "crank.hub", "hub", ("hub",), 2), ("hang_idler", "pin.west", "west", ("west",), 1),
        ("thread_feet", "corner.nw", "nw", ("nw", "low"), 2), ("fit_pad", "corner.nw.pad", "nw", ("nw", "low"), 1),
    ]  # fmt: skip
