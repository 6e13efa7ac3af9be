"""What is made of changes that were tried: the solving itself is stood in for, so that every travel is a plain sum. Lengths mm."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest
from tests.designs import mm, q
from tests.designs_feet import LARGE_WASHER, NUT, captured, crank, riding, sliding

from trivet.checks import _climber_remedy, _remedy, _require_stroke, _require_train, _wider_remedy
from trivet.model.base import Ref
from trivet.solve import drive_stop, foot_length, remedies
from trivet.solve.corner import MEAN
from trivet.solve.foot_case import FootSpec, LowPoint, World

GEARS = (SimpleNamespace(name=Ref("hub"), z=16), SimpleNamespace(name=Ref("nw"), z=20))


def named(**values: Any) -> Any:
    return SimpleNamespace(**values)


def spec_of(foot: Any, length: float = 30.0, pocket: float = 5.8) -> FootSpec:
    state: Any = named(id="nw")
    return FootSpec("corner.nw", foot, state, (), length, pocket, 3.0)


def remedied(monkeypatch: pytest.MonkeyPatch, foot: Any, travel: Any, unit: str = "mm", cause: str = "teeth_part", pocket: float = 5.8) -> list[str]:

    made: Any = None
    world = World(made, MEAN, made, {}, {}, {}, {}, low=LowPoint(-20.0, "the nut", "bench_nut"))
    monkeypatch.setattr(remedies, "mean_stroke", lambda specs, where: named(travel_mm=travel(specs[0], where)))
    bound = named(bound=named(cause=cause))
    stroke: Any = named(travel_mm=10.0, low=bound, hard_low=named(bound=named(cause="teeth_part")))
    return [words for words, _ in remedies.remedies([spec_of(foot, pocket=pocket)], "corner", world, stroke, unit)]


def test_what_would_give_more_travel(monkeypatch: pytest.MonkeyPatch) -> None:
    # As much more as the screw is longer; 35 and 40 are the two next.
    assert remedied(monkeypatch, riding(), lambda spec, world: spec.length_mm - 20.0) == [
        "a screw of 40 mm would give 20 mm of travel", "a screw of 35 mm would give 15 mm of travel",
    ]  # fmt: skip
    assert remedied(monkeypatch, riding(), lambda spec, world: 40.0 - spec.length_mm) == ["a screw of 25 mm would give 15 mm of travel"]
    for foot, way in ((riding(), "underside"), (riding(driven_from="underside"), "topside")):
        turned = remedied(monkeypatch, foot, lambda spec, world: 10.1 if spec.other_way else 10.0)
        assert turned == [f"driven from the {way} it would give 10.1 mm of travel"]
    assert remedied(monkeypatch, riding(), lambda spec, world: 10.09 if spec.other_way else 10.0) == []
    assert remedied(monkeypatch, riding(), lambda spec, world: 4.2 + spec.pocket_mm) == ["a pocket 1 mm deeper would give 11 mm of travel"]
    assert remedied(monkeypatch, riding(), lambda spec, world: 15.8 - spec.pocket_mm) == ["a pocket 1 mm shallower would give 11 mm of travel"]
    assert remedied(monkeypatch, riding(), lambda spec, world: 10.9 + 0.1 - spec.pocket_mm, pocket=1.0) == []
    assert remedied(monkeypatch, sliding(), lambda spec, world: 4.2 + spec.pocket_mm) == []
    inch = remedied(monkeypatch, riding(), lambda spec, world: 4.2 + spec.pocket_mm, "in")
    assert inch == ["a pocket 1/32 in (0.031 in) deeper would give 0.42 in of travel"]  # 10 + 25.4/32


def test_what_would_lift_off_the_bench(monkeypatch: pytest.MonkeyPatch) -> None:
    def low(spec: FootSpec, world: Any) -> float:
        return 27.0 + spec.drop_mm + world.low.z_mm

    told = ["a pad 1 mm taller would give 11 mm of travel", "the nut 1 mm higher would give 11 mm of travel"]
    assert remedied(monkeypatch, riding(), low, cause="bench") == told and remedied(monkeypatch, riding(), low) == []
    # The three best of five, the first by name of equals.
    many = remedied(monkeypatch, riding(), lambda spec, world: low(spec, world) + (spec.length_mm - 30.0) / 5.0, cause="bench")
    told = [(12, "a screw of 40 mm"), (11, "a pad 1 mm taller"), (11, "a screw of 35 mm")]
    assert many == [f"{words} would give {travel} mm of travel" for travel, words in told]


def test_length_that_gives_most_travel(monkeypatch: pytest.MonkeyPatch) -> None:
    def chosen(travel: Any, *specs: FootSpec) -> list[float]:
        monkeypatch.setattr(foot_length, "mean_stroke", lambda tried, world: travel(tried[0].length_mm))
        return [item.length_mm for item in foot_length.starting_specs(specs, named())]

    free = spec_of(riding(length=None), 0.0)
    assert chosen(lambda mm: named(travel_mm=20.0 - abs(mm - 40.0)), free, free, spec_of(riding(), 30.0)) == [40.0, 40.0, 30.0]
    assert chosen(lambda mm: named(travel_mm=5.0), free) == [16.0]  # the first of equals
    assert chosen(lambda mm: None, free) == [16.0] and chosen(lambda mm: named(travel_mm=-3.0 if mm < 30.0 else -2.0), free) == [16.0]
    assert chosen(lambda mm: named(travel_mm=0.0 if mm == 25.0 else -2.0), free) == [25.0]
    assert chosen(lambda mm: None, spec_of(captured(length=None), 0.0)) == [0.0]


def test_turns_of_a_stop_that_takes_travel(monkeypatch: pytest.MonkeyPatch) -> None:
    stop = crank(stop=True, stop_nut=NUT, stop_washer=LARGE_WASHER)
    monkeypatch.setattr(drive_stop, "with_low_point", lambda world, stacks, lengths: lengths["hub"])
    monkeypatch.setattr(drive_stop, "mean_stroke", lambda specs, length: named(travel_mm=40.0 - length))
    monkeypatch.setattr(drive_stop, "rise_per_turn_mm", lambda foot, gear: -1.25)
    # Length 10 + 16.65 + 1.25 (t + 0.5); what is left of 40, over 1.25, is t at 12.725/2.5.
    assert drive_stop.stop_turns(stop, [spec_of(riding())], named(), {}, "hub", 10.0) == pytest.approx(5.09, abs=2e-4)
    assert drive_stop.stop_turns(stop, [spec_of(riding())], named(), {}, "hub", 40.0) == 0.0
    assert drive_stop.stop_turns(stop, [], named(), {}, "hub", 10.0) == 0.0
    monkeypatch.setattr(drive_stop, "rise_per_turn_mm", lambda foot, gear: None)
    assert drive_stop.stop_turns(stop, [spec_of(riding())], named(), {}, "hub", 10.0) == 0.0
    world: Any = named(design=named(drives=(crank(),)), states={"hub": named(gear=named(turned_by=Ref("crank")))})
    assert drive_stop.drive_stop_mm({(0, 0): world}, [], {}, "hub") == 0.0


def fixture(foot: Any, gears: tuple[Any, ...] = GEARS, units: str = "mm") -> Any:
    made = named(feet=(foot,), gears=gears, units=units)
    made.model_copy = lambda update: named(**{**vars(made), **update})
    return made


def derived(travel: float = 5.0, worst: float | None = None, **facts: Any) -> Any:
    lift = named(travel_mm=travel, travel_worst_mm=travel if worst is None else worst)
    state = named(face_width=named(least=10.0))
    train = named(gear=lambda name: state, drive_gear="hub", unreached=())
    return named(lift=lift, train=train, feet=(), try_changes=True, **facts)


def stand_in(monkeypatch: pytest.MonkeyPatch, module: Any, travel: Any) -> list[Any]:
    """Solving gives this travel of the changed foot; returns the feet that were tried."""
    tried: list[Any] = []

    def heights(made: Any, train: Any) -> Any:
        tried.append(made.feet[0])
        mm = travel(made.feet[0])
        return named(lift=None if mm is None else named(travel_mm=mm, travel_worst_mm=mm))

    monkeypatch.setattr(module, "solve_heights", heights)
    return tried


def test_one_change_that_leaves_most(monkeypatch: pytest.MonkeyPatch) -> None:
    tried = stand_in(monkeypatch, _remedy, lambda foot: foot.length.mm - 25.0)
    design = fixture(riding())
    told = "a screw of 80 mm would give 55 mm of travel at the worst combination of sheets"
    assert _remedy.most_travel(design, derived(), "corner") == (told, False, 55.0) and len(tried) == 24
    assert _remedy.most_travel(design, derived(55.0), "corner")[0] == ""  # a tenth more at least
    assert _remedy.most_travel(design, derived(54.8), "corner")[0] == told
    assert _remedy.most_travel(design, derived(60.0, 54.8), "corner")[0] == told  # of the worst
    words, enough, travel = _remedy.most_travel(design, derived(), "corner", lambda lift: lift.travel_mm >= 15.0)
    assert (words.partition(" would")[0], enough, travel) == ("a screw of 40 mm", True, 15.0)
    found = _remedy.first_that(design, derived(), "corner", lambda lift: lift.travel_mm > 9.9)
    assert found is not None and (found[0], found[1].travel_mm) == ("a screw of 35 mm", 10.0)
    assert _remedy.first_that(design, derived(), "corner", lambda lift: False) is None
    stand_in(monkeypatch, _remedy, lambda foot: None)
    assert _remedy.most_travel(design, derived(), "corner", lambda lift: True) == ("", False, pytest.approx(5.1))


@pytest.mark.parametrize(("gears", "tries"), [(2, 60), (12, 60), (18, 40), (60, 12), (90, 12)])
def test_large_trains_are_solved_less_often(monkeypatch: pytest.MonkeyPatch, gears: int, tries: int) -> None:
    tried = stand_in(monkeypatch, _remedy, lambda foot: 1.0)
    design = fixture(riding(), GEARS[:1] * gears)
    assert len(list(_remedy.attempts(design, derived(), "corner"))) == tries == len(tried)
    quiet = derived()
    quiet.try_changes = False
    assert list(_remedy.attempts(design, quiet, "corner")) == []


def test_a_deeper_pad(monkeypatch: pytest.MonkeyPatch) -> None:
    tried = stand_in(monkeypatch, _remedy, lambda foot: foot.pad.drop.mm - 3.0 if foot.length.mm == 30.0 else 0.0)
    design = fixture(riding())
    # 3 and 2.2 to the next whole millimetre, and 1, 4, 7 and 10 more.
    found = _remedy.lower_feet(design, derived(), "corner", 2.2)
    assert [foot.pad.drop.mm for foot in tried[:4]] == [7.0, 10.0, 13.0, 16.0]
    assert found == "a pad with a drop of 16 mm would give 13 mm of travel at the worst combination of sheets"
    assert tried[4].length != mm(30) and tried[4].pad.drop == mm(7)
    stand_in(monkeypatch, _remedy, lambda foot: 0.1)
    assert _remedy.lower_feet(design, derived(), "corner", 2.2) == ""
    swivel = fixture(riding(pad=riding().pad.model_copy(update={"kind": "swivel"})))
    assert _remedy.lower_feet(swivel, derived(), "corner", 2.2) == ""


def test_depths_of_a_socket_in_inches() -> None:
    foot = sliding(socket_depth=q("0.5", "in"))
    assert list(_remedy._depths(foot, "in", 12.7 + 25.4 / 8)) == pytest.approx([25.4 * k / 32 for k in (17, 18, 19, 20)])


def test_start_of_a_climbers_thread(monkeypatch: pytest.MonkeyPatch) -> None:
    foot = riding()
    lost: Any = named(climber=named(foot=foot), left_mm=2.0)
    tried = stand_in(monkeypatch, _climber_remedy, lambda foot: 9.0 - abs(foot.climbs_from.mm - 6.0))
    assert _climber_remedy.climber_remedy(fixture(foot), derived(), lost) == "`climbs from 6 mm` leaves 9 mm" and len(tried) == 21
    other = "the other hand of thread (`-LH`), so that it moves with the gears it turns"
    for at, said in ((2.5, other), (2.6, "`climbs from 0 mm` leaves 2.6 mm"), (None, other)):
        stand_in(monkeypatch, _climber_remedy, lambda foot, at=at: at)
        assert _climber_remedy.climber_remedy(fixture(foot), derived(), lost) == said
    stand_in(monkeypatch, _climber_remedy, lambda foot: 0.6)
    assert _climber_remedy.climber_remedy(fixture(foot), derived(), named(climber=named(foot=foot), left_mm=-4.0)).startswith("`climbs from 0 mm`")


def test_another_count_of_teeth(monkeypatch: pytest.MonkeyPatch) -> None:
    def gear(name: str, z: int) -> Any:
        made = named(name=Ref(name), z=z)
        made.model_copy = lambda update: named(name=Ref(name), z=int(update["teeth"].number))
        return made

    design = fixture(riding(), (gear("hub", 16), gear("nw", 20)))
    state = derived()
    state.feet = (named(gear="nw"),)
    seen: list[tuple[int, int]] = []

    def solved(made: Any) -> Any:
        seen.append((made.gears[0].z, made.gears[1].z))
        return named(lift=named(per_turn_mm=made.gears[0].z / made.gears[1].z), train=named(unreached=()))

    monkeypatch.setattr(_require_train, "solve", solved)

    def said(meets: Any) -> str:
        return _require_train._teeth(design, state, meets, lambda after: f"{after.per_turn_mm:g}")

    assert said(lambda after: after.per_turn_mm == 0.75) == "a drive gear of 15 teeth would give 0.75" and seen == [(15, 20)]
    assert said(lambda after: after.per_turn_mm > 0.89) == "a drive gear of 18 teeth would give 0.9"
    seen.clear()
    assert said(lambda after: False) == ""
    hub, nw = [a for a, b in seen if b == 20 and a != 16], [b for a, b in seen if a == 16]
    assert (len(hub), len(nw)) == (24, 24) and (min(hub), max(hub)) == (8, 32) and (min(nw), max(nw)) == (8, 32)
    assert said(lambda after: after.per_turn_mm == 16 / 25) == "foot gears of 25 teeth would give 0.64"


def test_wider_changes(monkeypatch: pytest.MonkeyPatch) -> None:
    recess, screw = named(of=crank(), fits=False, buy_mm=1.0), named(of=riding(), fits=True, buy_mm=None)
    after = {"one": (6.0, ()), "two": (9.0, ()), "three": (12.0, (recess,)), "four": (20.0, (screw,))}

    def with_feet(changed: str, name: str) -> Any:
        mm, bolts = after[changed]
        yield (("a screw", "a pad") if changed == "two" else ()), named(lift=named(travel_mm=mm, travel_worst_mm=mm), train=named(faults=()), bolts=bolts)

    monkeypatch.setattr(_wider_remedy, "_parts_changed", lambda design, derived: [(name, name) for name in after])
    monkeypatch.setattr(_wider_remedy, "_with_feet", with_feet)
    state = derived(bolts=())

    def found(meets: Any, gears: int = 60) -> Any:
        words, travel, lift = _wider_remedy.wider_change(fixture(riding(), GEARS[:1] * gears), state, "corner", meets)
        return words, travel, lift is not None

    bolt = "three (with another recess at the bolt of `crank`)"
    assert found(lambda lift: lift.travel_mm > 8.0) == ("two, a screw and a pad", 9.0, True)
    assert found(lambda lift: lift.travel_mm > 11.0) == (bolt, 12.0, True) and found(lambda lift: lift.travel_mm > 19.0) == (bolt, 12.0, False)
    assert found(lambda lift: True, 61) == ("", 0.0, False)

    # Of the feet's own change and these, the farther counts where it is a tenth more.
    def wider(best: tuple[float, str], mm: float, reached: bool, great: bool = False) -> str:
        monkeypatch.setattr(_require_stroke, "wider_change", lambda *given: ("thick gears", mm, named() if reached else None))
        return _require_stroke._wider(fixture(riding()), state, ("corner",), lambda lift: True, best, great)

    told = "thick gears would give 9 mm of travel at the worst combination of sheets"
    assert wider((3.0, "a screw"), 9.0, True) == told and wider((3.0, "a screw"), 9.0, False) == f"{_require_stroke.NOTHING}; {told}"
    assert wider((8.95, "a screw"), 9.0, False) == f"{_require_stroke.NOTHING}; a screw" and wider((0.0, ""), 0.05, False) == _require_stroke.NOTHING
    assert wider((3.0, "a screw"), 9.0, False, True) == _require_stroke.NOTHING
