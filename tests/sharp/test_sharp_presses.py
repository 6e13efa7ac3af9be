"""Inserts that press on gears, what would give more travel, levels of gears, leads: sums by hand over records that stand in. Lengths mm."""

from __future__ import annotations

import math
from fractions import Fraction
from types import SimpleNamespace as Of
from typing import Any

import pytest
from tests.designs import design, gear, mesh, mm, tooth_form
from tests.designs_feet import M8, captured, crank, pin, riding, riser, sliding
from tests.part_samples import parts_of

from trivet.model.base import Band, Ref
from trivet.record import replace
from trivet.solve import pressed_gears as pressed_module
from trivet.solve import remedies as remedies_module
from trivet.solve.board_levels import BoardZ
from trivet.solve.corner import MEAN
from trivet.solve.foot_case import FootSpec, LowPoint, World
from trivet.solve.overlap_depth import levels_down_mm
from trivet.solve.parts import part_features
from trivet.solve.plate_features import _passing
from trivet.solve.pressed_gears import pressed_gears
from trivet.solve.rise import exact_lead_mm, rise_per_turn_mm, slide_per_travel, zeroing
from trivet.solve.solid import Solid, SolidSet


# Inserts over gears on their keepers.
def solid(kind: Any, shaft: str, low: float, high: float) -> Solid:
    return Solid(kind, shaft, shaft, 0.0, 0.0, 8.0, low, high)


def foot(gear: str, made: Any) -> Any:
    return Of(gear=gear, foot=made)


FEET = (
    foot("ne", sliding()), foot("nw", sliding()), foot("se", sliding()), foot("sw", riding()), foot("w", Of(kind="sliding_hex", insert=None))
)  # fmt: skip
# On the shaft of nw a second gear; that of se is no foot's own and counts by its own name.
GEARS = (
    Of(id="nw", shaft="", face_width=Band(15.0, 14.0, 17.0)),
    Of(id="above", shaft="nw", face_width=Band(10.0, 9.0, 12.0)),
    Of(id="se", shaft="se", face_width=Band(15.0, 14.0, 17.0)),
)


def pressed(monkeypatch: pytest.MonkeyPatch, *sets: SolidSet) -> dict[str, tuple[float, float]]:
    """(hangs, room) of each foot; the underside of thin boards lies at 98, of mean ones at 100."""
    monkeypatch.setattr(pressed_module, "boards_at", lambda design, sign: Of(z={"deck": BoardZ(100.0 + 2.0 * sign, 120.0)}))
    made: Any = None
    derived: Any = Of(feet=FEET, solids=sets, train=Of(gears=GEARS))
    return {item.foot.gear: (item.hangs_mm, item.room_mm) for item in pressed_gears(made, derived)}


def seats(*solids: Solid, board: int = 0, gear: int = 0) -> SolidSet:
    return SolidSet(board, gear, solids, 20.0, True)


def nw(insert: float, keeper: float, board: int = 0, gear: int = 0) -> SolidSet:
    return seats(solid("insert", "nw", insert, 110.0), solid("keeper", "nw", keeper - 12.0, keeper), board=board, gear=gear)


def test_an_insert_takes_all_play(monkeypatch: pytest.MonkeyPatch) -> None:
    """A foot without a keeper, one that is no hex and one without an insert are passed over; screws and nuts do not hang."""
    flange = (solid("flange", "nw", 96.0, 98.0), solid("insert", "nw", 97.0, 110.0), solid("screw", "nw", 50.0, 90.0))
    others = (solid("insert", "sw", 90.0, 110.0), solid("keeper", "sw", 60.0, 71.0), solid("insert", "w", 90.0, 110.0))
    keeper = solid("keeper", "nw", 59.0, 71.0)
    # 4 below the board; from there 29 to the keeper, 25 of it gears: just no play left.
    for solids in ((*flange, keeper), (flange[1], flange[0], keeper, flange[2]), (solid("insert", "ne", 80.0, 110.0), *others, *flange, keeper)):
        assert pressed(monkeypatch, seats(*solids)) == {"nw": (4.0, 4.0)}
    assert pressed(monkeypatch, nw(96.1, 71.0)) == {} and pressed(monkeypatch, seats(*others)) == {}
    assert pressed(monkeypatch, nw(95.5, 71.0)) == {"nw": (4.5, 4.0)}
    # An insert that does not stand out presses nothing, however little room there is; one that does by little may.
    assert pressed(monkeypatch, nw(100.0, 77.0)) == {} and pressed(monkeypatch, nw(100.5, 78.0)) == {}
    assert pressed(monkeypatch, nw(99.5, 74.8)) == {"nw": (0.5, pytest.approx(0.2))}
    # Thick gears: 17 and 12; thin boards lie 2 lower, thin gears are 14 and 9.
    assert pressed(monkeypatch, nw(96.0, 71.0, gear=1)) == {"nw": (4.0, 0.0)}
    assert pressed(monkeypatch, nw(92.0, 69.0, board=-1, gear=-1)) == {"nw": (6.0, 6.0)}


def test_the_worst_combination_counts(monkeypatch: pytest.MonkeyPatch) -> None:
    """Over by 0, by 2, and by 0.5 with more that hangs and more room."""
    sets = (nw(96.0, 71.0), nw(97.0, 74.0), nw(95.0, 70.5))
    for order in ((0, 1, 2), (2, 1, 0), (1, 0, 2), (0, 2, 1)):
        assert pressed(monkeypatch, *(sets[k] for k in order)) == {"nw": (3.0, 1.0)}
    # Of equals the first; each foot by itself.
    assert pressed(monkeypatch, nw(97.0, 73.0), nw(96.0, 72.0)) == {"nw": (3.0, 2.0)}
    se = (solid("insert", "se", 90.0, 110.0), solid("keeper", "se", 60.0, 80.0))
    assert pressed(monkeypatch, seats(*se, *nw(97.0, 74.0).solids), nw(96.0, 71.0)) == {"se": (10.0, 5.0), "nw": (3.0, 1.0)}


# What would give more travel, where two sets of feet stand under the board.
def spec_of(name: str, made: Any, length: float = 30.0, pocket: float = 5.8) -> FootSpec:
    state: Any = Of(id="nw")
    return FootSpec(f"{name}.nw", made.model_copy(update={"name": Ref(name)}), state, (), length, pocket, 3.0)


def tried(monkeypatch: pytest.MonkeyPatch, specs: tuple[FootSpec, ...], name: str, travel: Any, unit: str = "mm", now: float = 10.0) -> Any:
    made: Any = None
    seen: list[tuple[FootSpec, ...]] = []

    def solved(changed: Any, where: Any) -> Any:
        seen.append(tuple(changed))
        found = travel(changed, where)
        return None if found is None else Of(travel_mm=found)

    world = World(made, MEAN, made, {}, {}, {}, {}, low=LowPoint(-20.0, "the nut", "bench_nut"))
    monkeypatch.setattr(remedies_module, "mean_stroke", solved)
    stroke: Any = Of(travel_mm=now, low=Of(bound=Of(cause="teeth_part")), hard_low=Of(bound=Of(cause="bench")))
    return remedies_module.remedies(specs, name, world, stroke, unit), seen


def test_only_the_set_that_binds_is_changed(monkeypatch: pytest.MonkeyPatch) -> None:
    one, two = spec_of("front", captured()), spec_of("rear", riding())
    found, seen = tried(monkeypatch, (one, two, one), "rear", lambda specs, _: specs[1].length_mm)
    # 35 and 40 are sold beyond 30, and 25 below; everything else leaves the 30 that there are.
    assert [travel for _, travel in found] == [40.0, 35.0, 30.0] and found[0] == ("a screw of 40 mm would give 40 mm of travel", 40.0)
    assert all(specs[0] is one and specs[2] is one for specs in seen) and seen[0][1].length_mm == 25.0
    assert [specs[1].pocket_mm for specs in seen if specs[1].pocket_mm != 5.8] == pytest.approx([6.8, 4.8])
    assert [specs[1].drop_mm for specs in seen if specs[1].drop_mm != 3.0] == [4.0]
    raised = [specs for specs in seen if specs == (one, two, one)]
    assert len(raised) == 1


@pytest.mark.parametrize(
    ("now", "then", "told"),
    [(10.0, 10.1, True), (10.0, 10.09, False), (10.0, 11.16, True), (-2.0, 0.0, False), (-2.0, 0.2, True), (-3.0, -1.0, False), (0.0, 0.5, True)],
)
def test_gains_that_are_named(monkeypatch: pytest.MonkeyPatch, now: float, then: float, told: bool) -> None:
    """A tenth of a millimetre more, and some travel at all: travel below 0 is none."""
    specs = (spec_of("rear", riding()),)
    found, _ = tried(monkeypatch, specs, "rear", lambda tried_, _: then if tried_[0].other_way else now, now=now)
    assert [words for words, _ in found] == ([f"driven from the underside it would give {then:.3g} mm of travel"] if told else [])
    none, _ = tried(monkeypatch, specs, "rear", lambda *_: None)
    assert none == ()


def test_steps_in_each_unit(monkeypatch: pytest.MonkeyPatch) -> None:
    specs = (spec_of("rear", riding(), pocket=1.5),)
    for unit, step in (("mm", 1.0), ("in", 25.4 / 32), ("thou", 25.4 / 32)):
        _, seen = tried(monkeypatch, specs, "rear", lambda *_: 0.0, unit)
        assert sorted({spec.pocket_mm for (spec,) in seen}) == pytest.approx([1.5 - step, 1.5, 1.5 + step])
        assert max(spec.drop_mm for (spec,) in seen) == pytest.approx(3.0 + step)
    _, seen = tried(monkeypatch, (spec_of("rear", riding(), pocket=0.9),), "rear", lambda *_: 0.0)
    assert {spec.pocket_mm for (spec,) in seen} == {0.9, 1.9}
    inch, _ = tried(monkeypatch, specs, "rear", lambda tried_, _: 12.7 if tried_[0].other_way else 0.0, "in")
    thou, _ = tried(monkeypatch, specs, "rear", lambda tried_, _: 12.7 if tried_[0].other_way else 0.0, "thou")
    assert inch == thou and inch[0][0] == "driven from the underside it would give 0.5 in of travel"


NEAR = [
    (30.0, (25.0, 35.0, 40.0)), (32.0, (30.0, 35.0, 40.0)), (16.0, (20.0, 25.0)), (80.0, (70.0,)), (75.0, (70.0, 80.0)),
    (30.5, (30.0, 35.0, 40.0)), (29.5, (25.0, 30.0, 35.0)),
]  # fmt: skip


@pytest.mark.parametrize(("length", "near"), NEAR)
def test_lengths_beside_one(length: float, near: tuple[float, ...]) -> None:
    assert remedies_module._neighbouring(spec_of("rear", riding(), length)) == near
    assert remedies_module._neighbouring(spec_of("rear", captured(), length)) == ()


# Levels of gears, leads and what goes through a keeper.
def test_levels_hang_under_the_thickest_that_has_a_mate_below() -> None:
    """Of level 0 the thickest with a mate below is 18, though one of 30 has none; of level 1 it is 12; the third has nothing below."""
    gears = [("b", 0, 18.0), ("b", 1, 9.0), ("a", 0, 30.0), ("c", 0, 15.0), ("c", 1, 12.0), ("c", 2, 6.0), ("d", 1, 25.0)]
    assert levels_down_mm(gears) == levels_down_mm(reversed(gears)) == {0: 0.0, 1: 18.0, 2: 30.0}
    assert levels_down_mm(()) == {0: 0.0} and levels_down_mm([("a", 0, 9.0)]) == {0: 0.0}
    assert levels_down_mm([("a", 0, 0.4), ("a", 1, 9.0)]) == {0: 0.0, 1: 0.4}
    # A level that no gear of two lies on takes nothing.
    assert levels_down_mm([("a", 0, 9.0), ("a", 2, 9.0)]) == {0: 0.0, 1: 9.0, 2: 9.0}


def test_signs_of_a_rise() -> None:
    """1.25 a turn, half as fast: up with the drive's sense, down for a left hand or a nut that turns, up again for both."""
    left = replace(M8, hand=-1)
    for made, direction, rise in (
        (riding(), 1, Fraction(5, 8)), (riding(), -1, Fraction(-5, 8)), (captured(), 1, Fraction(-5, 8)), (riding(thread=left), 1, Fraction(-5, 8)),
        (captured(thread=left), 1, Fraction(5, 8)), (sliding(), 1, Fraction(5, 8)), (riding(), 0, None),
    ):  # fmt: skip
        state: Any = Of(speed=Fraction(1, 2), direction=direction)
        assert rise_per_turn_mm(made, state) == rise
    never: Any = Of(speed=None, direction=1)
    assert rise_per_turn_mm(riding(), never) is None
    assert exact_lead_mm(25.4 / 18) == Fraction(127, 90) and exact_lead_mm(25.4 / 13 * 2) == Fraction(254, 65)
    # 1 + 1.25 · 20 / (2.5 · 40) with threads of one hand, 1 less that with unlike ones.
    coarse = replace(M8, lead_mm=2.5)
    assert slide_per_travel(riding(thread=coarse), 20, riding(), 40) == 1.25
    assert slide_per_travel(riding(thread=coarse), 20, riding(thread=left), 40) == 0.75
    assert slide_per_travel(riding(), 20, riding(thread=replace(coarse, hand=-1)), 10) == 3.0
    assert zeroing(25, 1.25) == (0.05, 150) and zeroing(24, 1.25)[1] == 24


def test_what_goes_through_a_keeper() -> None:
    """A rod by its thread; of a screw the head over sharp corners, 13 · 2/√3 = 15.011, or the post where that is wider."""
    head = (pytest.approx(26.0 / math.sqrt(3.0)), "the head over its corners")
    assert _passing(captured()) == (8.0, "the rod") and _passing(sliding().model_copy(update={"screw": None})) == (8.0, "the rod")
    for wide, found in (("14.4", head), ("15.01", head), ("15.02", (15.02, "the post"))):
        pad = sliding().pad.model_copy(update={"diameter": mm(wide)})
        assert _passing(sliding(pad=pad)) == found
    assert _passing(sliding()) == head


def test_parts_are_worked_out_once() -> None:
    kept: Any = Of(parts=("kept",))
    assert part_features(riser(riding()), kept) == ("kept",)


def test_order_of_the_parts() -> None:
    """Boards, gears in the order of the file, keepers of those that carry feet, what stands between, spacers; an idler has no keeper."""
    found = list(parts_of(riser(captured())))
    feet = ["nw", "sw", "ne", "se"]
    assert found[:12] == ["deck", "hub", "west", "east", *feet, *(f"corner.{name}.keeper" for name in feet)]
    without = list(parts_of(riser(captured(keeper=None))))
    assert without[:8] == ["deck", "hub", "west", "east", *feet] and not any("keeper" in name for name in without)
    assert list(parts_of(riser(riding())))[:8] == without[:8]


@pytest.mark.parametrize(("made", "marked"), [(riding(), False), (captured(), True)])
def test_a_gear_that_rides_on_its_foot_is_not_marked(made: Any, marked: bool) -> None:
    """A square of four gears, one of which carries a foot: where it rides, zeroing turns it by whole teeth."""
    reach = 80.0
    gears = (
        gear("hub", 20, (100, 100), drive=True), gear("east", 20, (100 + reach, 100)), gear("north", 20, (100, 100 + reach)),
        gear("far", 20, (100 + reach, 100 + reach), foot=True),
    )  # fmt: skip
    meshes = (mesh("hub", "east"), mesh("hub", "north"), mesh("east", "far"), mesh("north", "far"))
    parts = parts_of(design(gears, meshes, feet=(made,), pivots=(pin(),), drives=(crank(),), tooth_forms=(tooth_form(),)))

    def marks(name: str) -> list[str]:
        return [item.title.removeprefix("assembly mark towards ") for item in parts[name].features if item.title.startswith("assembly mark")]

    assert marks("hub") == ["east", "north"] and marks("far") == (["east", "north"] if marked else [])
    assert marks("east") == (["far", "hub"] if marked else ["hub"])
