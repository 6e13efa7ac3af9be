"""Requirements on the train and the flush: which side is missed, and what would reach it, function by function. Lengths mm."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest
from tests.sharp.stand_ins import at, named, require

from trivet.checks import _require, _require_binding, _require_flush, _require_train
from trivet.diagnostics import Diagnostic
from trivet.model.base import Ref
from trivet.model.intent import Require
from trivet.solve.derived import Limit
from trivet.source import Span

MILLIMETRES: Any = SimpleNamespace(units="mm")
WORST = "at the worst combination of sheets"


def foot(name: str, lead: float, gear: str, system: str = "metric") -> Any:
    stated = named(name=Ref(name), thread=named(system=system), origin=at(3 if name == "front" else 5))
    return named(foot=stated, lead_mm=lead, gear=gear, id=f"{name}.{gear}", height_at_zero_mm=40.0, limits=())


def state(*feet: Any, per_turn: float = 1.0, tries: bool = True) -> Any:
    return named(feet=feet, lift=named(per_turn_mm=per_turn), try_changes=tries, train=named(drive_gear="hub"))


FRONT, BACK = foot("front", 1.25, "nw"), foot("back", 1.25, "se")


@pytest.mark.parametrize(
    ("low", "high", "system", "said"),
    [
        # A turn of the drive is 0.8 of a foot's: M10 has 1.5, M6 1.
        (1.15, 1.25, "metric", "`thread M10` for `front` and `back` would give 1.2 mm per turn"),
        (0.75, 0.85, "metric", "`thread M6` for `front` and `back` would give 0.8 mm per turn"),
        # 20 threads an inch are 1.27, which no metric one is; 1.25 is no unified one.
        (1.013, 1.02, "metric", "`thread 1/4-20` for `front` and `back` would give 1.02 mm per turn"),
        (0.999, 1.001, "unified", "`thread M8` for `front` and `back` would give 1 mm per turn"),
        (1.26, 1.28, "unified", "`thread 3/8-16` for `front` and `back` would give 1.27 mm per turn"),
        (5.0, None, "metric", ""),
    ],
)  # fmt: skip
def test_another_thread_for_all_feet(low: float, high: float | None, system: str, said: str) -> None:
    feet = (foot("front", 1.25, "nw", system), foot("back", 1.25, "se", system), foot("front", 1.25, "ne", system))
    assert _require_train._thread(require("lift_per_turn", low, high), state(*feet), "mm") == said
    # Feet of two leads, a train that is not to be changed, and one without a lift.
    two = state(feet[0], foot("back", 2.0, "se", system))
    lost = state(*feet)
    lost.lift = None
    assert {_require_train._thread(require("lift_per_turn", low, high), item, "mm") for item in (two, state(*feet, tries=False), lost)} == {""}


def lift_finding(monkeypatch: pytest.MonkeyPatch, wanted: Require, derived: Any, teeth: str = "") -> list[Diagnostic]:
    monkeypatch.setattr(_require_train, "_teeth", lambda *given: teeth)
    return list(_require_train.unmet_lift(wanted, MILLIMETRES, derived, derived.lift))


def test_a_lift_per_turn_that_is_missed(monkeypatch: pytest.MonkeyPatch) -> None:
    both = state(FRONT, BACK, per_turn=1.0)
    (found,) = lift_finding(monkeypatch, require("lift_per_turn", 1.15, 1.25), both, "a drive gear")
    assert found.message == "lift per turn is 1 mm; 1.15 mm is required" and found.span == at(9)
    # 1.25 of lead for 1 of lift: 1.5 gives 1.2.
    assert found.remedy == "a drive gear, or `thread M10` for `front` and `back` would give 1.2 mm per turn"
    assert found.parts == ("lift_per_turn", "front", "back")
    (label,) = found.related
    assert (label.message, label.span) == ("the thread of `front` has a lead of 1.25 mm", at(3))
    assert lift_finding(monkeypatch, require("lift_per_turn", 1.0, 1.25), both) == []
    # Two leads: no thread is named, but the first one's lead by the ratio, 1.25 x 1.1 up and 1.25 x 0.9 down.
    two = state(FRONT, foot("back", 2.0, "se"), per_turn=1.0)
    (less,) = lift_finding(monkeypatch, require("lift_per_turn", 1.1), two)
    assert less.remedy == "a lead of 1.38 mm, other things equal, would do"
    (more,) = lift_finding(monkeypatch, require("lift_per_turn", 0.5, 0.9), two)
    assert more.remedy == "a lead of 1.12 mm, other things equal, would do"
    assert more.message == "lift per turn is 1 mm; at most 0.9 mm is required"
    (fast,) = lift_finding(monkeypatch, require("lift_per_turn", 4.4), state(FRONT, foot("back", 2.0, "se"), per_turn=4.0))
    assert fast.remedy.startswith("a lead of 1.38 mm")


def turns(monkeypatch: pytest.MonkeyPatch, wanted: Require, most: float, worst: float, mean: float, teeth: str = "", per_turn: float = 1.0) -> Any:
    asked: list[Any] = []

    def tried(design: Any, derived: Any, meets: Any, gives: Any) -> str:
        asked.extend((meets, gives))
        return teeth

    monkeypatch.setattr(_require_train, "_teeth", tried)
    monkeypatch.setattr(_require_train, "ending_sets", lambda derived: ("front",))
    derived = state(FRONT, foot("back", 2.0, "se"))
    lift: Any = named(turns_for_travel=most, travel_worst_mm=worst, travel_mm=mean, per_turn_mm=per_turn)
    found = list(_require_train.unmet_turns(wanted, MILLIMETRES, derived, lift))
    return (found[0], *asked) if found else None


def test_turns_for_the_travel_that_are_missed(monkeypatch: pytest.MonkeyPatch) -> None:
    found, meets, gives = turns(monkeypatch, require("turns_for_travel", 12.0), 9.3, 8.9, 9.3)
    assert found.message == f"the travel takes 8.9 turns {WORST}; 12 is required"
    # 1.25 x 8.9 / 12 = 0.927, down.
    assert found.remedy == "no count of teeth that was tried does; a lead of 0.92 mm, other things equal, would"
    assert (found.span, found.parts, found.severity) == (at(9), ("turns_for_travel", "front"), "error")
    assert [(item.message, item.span) for item in found.related] == [("lift per turn is 1 mm", at(3))]
    (found, meets, gives) = turns(monkeypatch, require("turns_for_travel", 3.0, 5.0), 9.3, 8.9, 9.3)
    # 1.25 x 9.3 / 5 = 2.325, up.
    assert found.message == "the travel takes 9.3 turns at mean thickness; at most 5 is required" and "a lead of 2.33 mm" in found.remedy

    def after(count: float, worst: float, per_turn: float) -> Any:
        return named(turns_for_travel=count, travel_worst_mm=worst, travel_mm=worst + 1.0, per_turn_mm=per_turn)

    assert [meets(after(*figures)) for figures in ((5.0, 6.0, 2.0), (5.1, 6.0, 2.0), (5.0, 5.9, 2.0), (4.0, 2.0, 0.5))] == [True, False, False, True]
    assert gives(after(4.25, 1.0, 1.0)) == "4.25 turns"
    found, *_ = turns(monkeypatch, require("turns_for_travel", 3.0, 5.0), 9.3, 8.9, 9.3, "a drive gear of 12 teeth")
    assert found.remedy == "a drive gear of 12 teeth"
    assert turns(monkeypatch, require("turns_for_travel", None, 0.0), 9.3, 8.9, 9.3)[0].remedy == ""
    # 10 at mean of 20 by 2, 9 at the worst.
    assert turns(monkeypatch, require("turns_for_travel", 9.0, 10.0), 10.0, 18.0, 20.0, per_turn=2.0) is None
    found, *_ = turns(monkeypatch, require("turns_for_travel", 9.1, 10.0), 10.0, 18.0, 20.0, per_turn=2.0)
    assert found.message == f"the travel takes 9 turns {WORST}; 9.1 is required"
    assert _require_train._two_numbers(1.000001, 1.0) == ("1.000001", "1") and _require_train._two_numbers(1.0000001, 1.0) == ("1", "1")
    assert _require_train._two_numbers(4.004, 5.0) == ("4", "5")


def test_counts_of_teeth_that_do_not_count(monkeypatch: pytest.MonkeyPatch) -> None:
    def gear(name: str, z: int) -> Any:
        made = named(name=Ref(name), z=z)
        made.model_copy = lambda update: named(name=Ref(name), z=int(update["teeth"].number))
        return made

    design: Any = named(gears=(gear("hub", 16), gear("nw", 20), gear("se", 20)))
    design.model_copy = lambda update: named(gears=update["gears"])

    def said(what: Any, drive: str | None = "hub", gears: Any = design) -> str:
        derived = state(FRONT, BACK)
        derived.train.drive_gear = drive
        monkeypatch.setattr(_require_train, "solve", what)
        return _require_train._teeth(gears, derived, lambda after: True, lambda after: "it")

    def solved(made: Any) -> Any:
        return named(lift=named(), train=named(unreached=()))

    assert said(solved) == "a drive gear of 15 teeth would give it"
    assert said(solved, None) == "foot gears of 19 teeth would give it"
    assert said(lambda made: named(lift=None, train=named(unreached=()))) == ""
    assert said(lambda made: named(lift=named(), train=named(unreached=("nw",)))) == ""
    quiet = state(FRONT, tries=False)
    assert _require_train._teeth(design, quiet, lambda after: True, lambda after: "it") == ""


def limit(end: Any, cause: str, extension: float, part: str, origin: Span) -> Limit:
    return Limit(end, cause, f"{cause} here", extension, extension, (part,), False, origin=origin)


def test_ends_of_the_travel_and_the_sets_that_end_it() -> None:
    low, high = limit("least", "tip_through", 1.0, "front.nw", at(1)), limit("most", "teeth_part", 9.0, "back.se", at(2))
    front, back = foot("front", 1.25, "nw"), foot("back", 1.25, "se")
    front.limits, back.limits = (low,), (high,)
    both = state(front, back)
    assert _require.ending_sets(both) == ("back", "front")
    told = [(item.message, item.span) for item in _require.ending_labels(both)]
    end, beginning = "the end of the travel at mean thickness", "the beginning of the travel at mean thickness"
    assert told == [(f"teeth_part here, {end}", at(2)), (f"tip_through here, {beginning}", at(1))]
    front.limits, back.limits = (low, limit("most", "teeth_part", 9.0, "front.nw", at(2))), ()
    assert _require.ending_sets(both) == ("front",)
    front.limits = (low,)
    assert (_require.ending_sets(both), _require.ending_labels(both)) == ((), ())


def change(key: str, mm: float, excess: float, *, units: str = "mm", kind: str = "riding", where: str = "back.se", **facts: Any) -> Any:
    """With a lift of 1 for a turn; the set `back` has a lead of 1.25 and six clockings, a head of 5.3 and a pocket of 5.8."""
    given = {"head": named(form="hexagon", height_mm=5.3), "drop": named(mm=1.0), "pocket": 5.8, "screw": True} | facts
    screw = named(head=given["head"]) if given["screw"] else None
    stated = named(name=Ref("back"), screw=screw, kind=kind, pad=named(drop=given["drop"]))
    own = named(id="back.se", foot=stated, lead_mm=1.25, zero_clockings=6, pocket_mm=given["pocket"])
    other = named(id="front.nw", foot=None, lead_mm=99.0, zero_clockings=1, pocket_mm=99.0)
    part: Any = named(key=key, mm=mm, where=(where, "front.nw"))
    derived: Any = named(feet=(other, own, other))
    lift: Any = named(per_turn_mm=1.0)
    design: Any = named(units=units)
    found = _require_flush._change(design, derived, lift, part, excess, units)
    return None if found is None else (found[0], pytest.approx(found[1]))


def test_changes_that_bring_a_board_nearer_to_flush() -> None:
    # Without marks half a turn is lost, with n marks half of one nth: 0.05 are left by ten.
    assert change("setting", 0.5, 0.45) == ("`dial marks 10, diameter 40 mm` on the drive", 0.45)
    assert change("setting", 0.5, 0.45, units="in") == ("`dial marks 10, diameter 1-3/4 in` on the drive", 0.45)
    for excess in (0.5, 0.6, 0.49):
        assert change("setting", 0.5, excess) == ("`dial marks 36, diameter 40 mm` on the drive", 0.5 - 1.0 / 72.0)
    assert change("setting", 1.0 / 72.0, 0.01) is None and change("setting", 0.01, 0.01) is None
    # Before gluing a sixth of the lead is left, half of it to either side.
    zeroed = "`zeroed before_gluing` on `back`"
    assert change("zeroing", 0.625, 0.3) == (zeroed, 0.625 - 1.25 / 12.0)
    assert change("zeroing", 1.25 / 12.0, 0.3) is None and change("zeroing", 0.1, 0.3) is None
    assert change("zeroing", 0.625, 0.3, kind="captured_nut") is None and change("zeroing", 0.625, 0.3, screw=False) is None
    assert change("zeroing", 0.625, 0.3, head=named(form="socket", height_mm=8.0)) is None
    # Two millimetres out of a pocket that is half a millimetre deeper than the head; what is stated already if that is more.
    assert change("pad_rock", 0.3, 0.1) == ("`pad dome, drop 2.5 mm`", 0.3)
    assert change("pad_rock", 0.3, 0.1, drop=named(mm=4.0)) == ("`pad dome, drop 4 mm`", 0.3)
    assert change("pad_rock", 0.3, 0.1, drop=None, pocket=3.3) == ("`pad dome, drop 0 mm`", 0.3)
    assert change("pad_rock", 0.3, 0.1, drop=None, pocket=None, screw=False) == ("`pad dome, drop 2 mm`", 0.3)
    assert change("pad_rock", 0.3, 0.1, drop=None, pocket=3.3, screw=False) == ("`pad dome, drop 5.5 mm`", 0.3)
    # 2.5 is a hair over three thirty-seconds of an inch.
    assert change("pad_rock", 0.3, 0.1, units="in") == ("`pad dome, drop 1/8 in`", 0.3)
    assert change("bow", 0.5, 0.2567) == ("planing the bow to 0.243 mm", 0.2567)
    assert change("bow", 0.5, 0.6) == change("bow", 0.5, 0.5) == ("planing the bow out", 0.5)
    assert change("bow", 0.5, 0.4996) == ("planing the bow out", 0.4996)
    assert change("sag", 0.5, 0.1) == ("setting it flush under its load", 0.5) and change("unevenness", 0.5, 0.1) is None


def flush_remedy(monkeypatch: pytest.MonkeyPatch, excess: float, *gains: float | None) -> str:
    """What is said of parts `a`, `b`, ... of which changes would take so much each, over a bound of 1."""
    monkeypatch.setattr(_require_flush, "_change", lambda *given: None if given[3][1] is None else given[3])
    parts = tuple(zip("abcd", gains, strict=False))
    found: Any = named(worst_mm=1.0 + excess, parts=parts)
    anything: Any = None
    return _require_flush._remedy(anything, anything, anything, found, 1.0, "mm")


def test_fewest_changes_that_do(monkeypatch: pytest.MonkeyPatch) -> None:
    assert flush_remedy(monkeypatch, 0.5, 0.3, 0.5, 0.6) == "b would do"
    assert flush_remedy(monkeypatch, 0.5, 0.2, 0.3) == "b and a together would do"
    assert flush_remedy(monkeypatch, 0.5, 0.1, None, 0.3, 0.25) == "c and d together would do"
    assert flush_remedy(monkeypatch, 0.5, 0.1, 0.2) == "b and a together leave 1.2 mm, which is still more"
    assert flush_remedy(monkeypatch, 0.5, None, 0.2) == "b leaves 1.3 mm, which is still more"
    assert flush_remedy(monkeypatch, 0.5, None) == "`require flush within 1.5 mm` is what it reaches"


def test_a_board_off_flush(monkeypatch: pytest.MonkeyPatch) -> None:
    parts = (named(mm=0.3, words="play", source="the teeth", origin=at(4), where=("hub", "west")),)
    parts += (named(mm=0.2, words="bow", source="the sheet", origin=None, where=("deck", "hub")),)
    sagged: list[bool] = []

    def flush(design: Any, derived: Any, with_sag: bool) -> Any:
        sagged.append(with_sag)
        return named(worst_mm=0.5, rss_mm=0.3605, parts=parts)

    monkeypatch.setattr(_require_flush, "flush_of", flush)
    monkeypatch.setattr(_require_flush, "_remedy", lambda design, derived, lift, found, bound, unit: f"{bound} {unit}")

    def said(wanted: Require, judge: Any = _require_flush.unmet_flush) -> list[Diagnostic]:
        return list(judge(wanted, MILLIMETRES, named(), named()))

    (found,) = said(require("flush_within", None, 0.4))
    assert found.message == "the board may stand 0.5 mm off flush when all adds up, likely 0.36 mm; at most 0.4 mm is required"
    assert (found.span, found.remedy, found.parts) == (at(9), "0.4 mm", ("flush", "hub", "west", "deck"))
    assert [(item.message, item.span) for item in found.related] == [("0.3 mm is play (the teeth)", at(4)), ("0.2 mm is bow (the sheet)", at(9))]
    (low,) = said(require("flush_within", 0.6))
    assert low.message.endswith("; 0.6 mm is required") and low.remedy.startswith("a board that is more off flush")
    assert said(require("flush_within", None, 0.5)) == said(require("flush_within", 0.5)) == [] and not any(sagged)
    assert len(said(require("flush_within", None, 0.4), _require_flush.unmet_flush_with_sag)) == 1 and sagged[-1]
    monkeypatch.setattr(_require_flush, "flush_of", lambda *given: None)
    assert said(require("flush_within", None, 0.4)) == []


def test_a_chance_of_binding_that_is_too_great_or_too_small(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(_require_binding, "binding", lambda *given: named(chance=0.08, draws=1000, seed=20))
    monkeypatch.setattr(_require_binding, "binding_labels", lambda *given: ())
    monkeypatch.setattr(_require_binding, "binding_remedy", lambda design, found, limit: f"under {limit:g}")

    def said(*wanted: Require, meshes: Any = ("one",)) -> list[tuple[str, str]]:
        design: Any = named(requires=wanted)
        found = _require_binding.unmet_binding(design, named(train=named(meshes=meshes)))
        return [(item.message.partition("; ")[2], item.remedy) for item in found]

    stated = (require("binding", None, 0.08), require("binding", None, 0.05), require("travel", 9.0), require("binding", 0.1), require("binding", None, 0.0))
    assert said(*stated) == [
        ("at most 5 percent is required", "under 0.05"),
        ("10 percent is required", "less backlash would bind more often"),
        ("at most 0 percent is required", "under 0"),
    ]
    assert said(*stated, meshes=()) == said(stated[2]) == []
