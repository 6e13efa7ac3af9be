"""Travel, heights and overlap that are asked for: which change is offered, and with which figures, the solving stood in for. Lengths mm."""

from __future__ import annotations

from typing import Any

import pytest
from tests.designs import mm, q, tooth_form
from tests.sharp.stand_ins import at, named, require

import trivet.solve.solve
from trivet.checks import _overlap_remedy, _require_overlap, _require_stroke, _stroke
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.base import Ref
from trivet.model.intent import Require
from trivet.solve.climber import NOWHERE_MM
from trivet.solve.derived import Limit

WORST = "at the worst combination of sheets"
RULE = Rule("teeth-part", "error", "", "", "")


def limit(end: Any, cause: str, extension: float, part: str = "front.nw", hard: bool = False, more: tuple[str, ...] = ()) -> Limit:
    return Limit(end, cause, f"{cause} here", extension, extension, (part, *more), hard, origin=at(7))


def lift_of(travel: float, worst: float | None = None, heights: tuple[float, float] = (40.0, 50.0)) -> Any:
    return named(
        travel_mm=travel, travel_worst_mm=travel if worst is None else worst, per_turn_mm=1.0,
        height_every_sheet=heights, height_min_mm=heights[0] - 1.0, height_max_mm=heights[1] + 1.0,
    )  # fmt: skip


# What each stood-in change of a set gives: words, whether it is enough, travel.
Change = tuple[str, bool, float]


def travel_finding(
    monkeypatch: pytest.MonkeyPatch, wanted: Require, lift: Any, feet: dict[str, Change], overlap: str = "", wider: str = "wider"
) -> tuple[Diagnostic | None, list[Any]]:
    asked: list[Any] = []
    monkeypatch.setattr(_require_stroke, "ending_sets", lambda derived: tuple(feet))
    monkeypatch.setattr(_require_stroke, "ending_labels", lambda derived: ())
    monkeypatch.setattr(_require_stroke, "most_travel", lambda design, derived, name, meets: (asked.append(meets), feet[name])[1])
    monkeypatch.setattr(_require_stroke, "less_overlap", lambda design, derived, lacking, meets: (asked.append(lacking), overlap)[1])
    monkeypatch.setattr(_require_stroke, "_wider", lambda design, derived, sets, meets, best, great: (asked.append((sets, best, great)), wider)[1])
    found = list(_require_stroke.unmet_travel(wanted, named(units="mm"), named(), lift))
    return (found[0] if found else None), asked


NONE: Change = ("", False, 5.1)


def test_travel_that_is_missed(monkeypatch: pytest.MonkeyPatch) -> None:
    wanted = require("travel", 8.0, 12.0)
    found, asked = travel_finding(monkeypatch, wanted, lift_of(7.5, 7.0), {"front": NONE, "back": ("a screw", True, 8.0)}, "less")
    assert found is not None and found.remedy == "a screw" and found.parts == ("travel", "front", "back")
    assert found.message == f"travel is 7 mm {WORST}; 8 mm is required"
    meets = asked[0]
    assert [meets(lift_of(*figures)) for figures in ((9.0, 8.0), (9.0, 7.9), (12.1, 11.0), (12.0, 11.0))] == [True, False, False, True]
    # Neither set has enough: teeth that overlap less, by what is lacking; else other parts, past the best change of all feet.
    found, asked = travel_finding(monkeypatch, wanted, lift_of(7.5, 7.0), {"front": ("a pad", False, 7.6), "back": NONE}, "less")
    assert found is not None and found.remedy == "less" and asked[-1] == 1.0
    found, asked = travel_finding(monkeypatch, wanted, lift_of(7.5, 7.0), {"front": ("a pad", False, 7.6), "back": NONE})
    assert found is not None and found.remedy == "wider" and asked[-1] == (("front", "back"), (7.6, "a pad"), False)
    # Too much is not brought down by an overlap.
    found, asked = travel_finding(monkeypatch, wanted, lift_of(13.0, 11.0), {"front": ("a pad", False, 7.6)}, "less")
    assert found is not None and (found.message, found.remedy) == ("travel is 13 mm at mean thickness; at most 12 mm is required", "wider")
    assert asked[-1] == (("front",), (7.6, "a pad"), True)
    assert travel_finding(monkeypatch, wanted, lift_of(12.0, 8.0), {"front": NONE})[0] is None


def heights(
    monkeypatch: pytest.MonkeyPatch, lift: Any, low: float | None, high: float | None, changed: str = "", unit: str = "mm"
) -> tuple[list[Diagnostic], list[Any]]:
    asked: list[Any] = []
    ends = (limit("least", "tip_through", 1.0), limit("most", "teeth_part", 9.0))
    monkeypatch.setattr(_require_stroke, "ending_sets", lambda derived: ("front",))
    monkeypatch.setattr(_require_stroke, "ends", lambda derived: ends)
    monkeypatch.setattr(_require_stroke, "_changed", lambda design, derived, meets, gives: (asked.extend((meets, gives)), changed)[1])
    return list(_require_stroke.unmet_height(require("height_covers", low, high, unit=unit), named(units="mm"), named(), lift)), asked


def test_heights_that_are_missed(monkeypatch: pytest.MonkeyPatch) -> None:
    lift = lift_of(10.0, heights=(40.0, 50.0))
    (lowest, greatest), (meets, gives) = heights(monkeypatch, lift, 39.5, 50.25)
    assert lowest.message == f"the lowest height is 40 mm {WORST}; at most 39.5 mm is required"
    assert lowest.remedy == "a riser of 0.5 mm under the workpiece brings its least height up to the lowest"
    assert greatest.message == f"the greatest height is 50 mm {WORST}; 50.25 mm is required"
    assert greatest.remedy == "foot blocks of 0.25 mm under every foot raise the greatest height to it, and the lowest too"
    assert [item.parts for item in (lowest, greatest)] == [("height_covers", "front")] * 2
    told = [found.related[0].message.partition(" here, the ")[::2] for found in (lowest, greatest)]
    assert told == [("tip_through", "beginning of the travel at mean thickness"), ("teeth_part", "end of the travel at mean thickness")]
    others = ((39.5, 50.25), (39.6, 50.25), (39.5, 50.24), (39.0, 51.0))
    assert [meets(lift_of(10.0, heights=item)) for item in others] == [True, False, False, True]
    assert gives(lift_of(10.0, heights=(39.5, 50.25))) == "heights from 39.5 mm to 50.25 mm"
    both, _ = heights(monkeypatch, lift, 39.5, 50.25, "a screw")
    assert [item.remedy for item in both] == ["a screw", "a screw"]
    only_low, only_high = heights(monkeypatch, lift, 39.5, 50.0)[0], heights(monkeypatch, lift, 40.0, 50.25)[0]
    assert [item.message[:10] for item in (*only_low, *only_high)] == ["the lowest", "the greate"]
    assert [heights(monkeypatch, lift, *sides)[0] for sides in ((40.0, 50.0), (None, 60.0), (30.0, None))] == [[], [], []]
    (inches,), (_, gives) = heights(monkeypatch, lift, 40.0, 50.8, unit="in")
    # 0.8 up to 32 thousandths of an inch.
    assert "; 2 in is required" in inches.message and inches.remedy.startswith("foot blocks of 0.032 in ")
    assert gives(lift) == "heights from 1.575 in to 1.969 in"


def test_the_easiest_change_for_a_height(monkeypatch: pytest.MonkeyPatch) -> None:
    def said(feet: dict[str, Any], wider: dict[str, Any]) -> str:
        monkeypatch.setattr(_require_stroke, "ending_sets", lambda derived: ("front", "back"))
        monkeypatch.setattr(_require_stroke, "first_that", lambda design, derived, name, meets: feet.get(name))
        monkeypatch.setattr(_require_stroke, "wider_change", lambda design, derived, name, meets: (f"thick {name}", 1.0, wider.get(name)))
        return _require_stroke._changed(named(), named(), lambda lift: True, lambda lift: f"{lift.travel_mm:g}")

    assert said({"back": ("a screw", lift_of(9.0))}, {"front": lift_of(8.0)}) == f"a screw would give 9 {WORST}"
    assert said({}, {"back": lift_of(8.0)}) == f"thick back would give 8 {WORST}" and said({}, {}) == ""


def test_the_best_of_wider_changes(monkeypatch: pytest.MonkeyPatch) -> None:
    def said(best: tuple[float, str], **travel: tuple[float, bool]) -> str:
        def change(design: Any, derived: Any, name: str, meets: Any) -> Any:
            return f"thick {name}", travel[name][0], named() if travel[name][1] else None

        monkeypatch.setattr(_require_stroke, "wider_change", change)
        return _require_stroke._wider(named(units="in"), named(), tuple(travel), lambda lift: True, best, False)

    thick = f"would give 0.354 in of travel {WORST}"
    assert said((3.0, "a screw"), front=(4.0, False), back=(9.0, False), side=(5.0, False)) == f"{_require_stroke.NOTHING}; thick back {thick}"
    assert said((3.0, "a screw"), front=(4.0, False), back=(9.0, True)) == f"thick back {thick}"
    assert said((9.0, "a screw"), front=(9.09, False), back=(9.05, False)) == f"{_require_stroke.NOTHING}; a screw"


def overlap_remedy(monkeypatch: pytest.MonkeyPatch, lacking: float, *forms: Any, cause: str = "teeth_part", hard: bool = False, total: float = 20.0) -> str:
    """Where the stated overlaps add up to what the travel of at least 12 lacks of a total."""
    ends = (limit("least", "tip_through", 1.0), limit("most", cause, 9.0, hard=hard))
    monkeypatch.setattr(_overlap_remedy, "ends", lambda derived: ends)

    def solved(made: Any) -> Any:
        return named(lift=named(travel_mm=total - sum(item.face_overlap.mm for item in made.tooth_forms if item.face_overlap is not None)))

    monkeypatch.setattr(trivet.solve.solve, "solve", solved)
    design: Any = named(tooth_forms=forms)
    design.model_copy = lambda update: named(**update)
    return _overlap_remedy.less_overlap(design, named(try_changes=True), lacking, lambda lift: lift.travel_mm >= 12.0 - 1e-9)


def test_an_overlap_that_leaves_more_travel(monkeypatch: pytest.MonkeyPatch) -> None:
    coarse = tooth_form("coarse", face_overlap=mm(9))
    assert overlap_remedy(monkeypatch, 1.0, coarse) == "`face_overlap 8 mm` in `coarse` reaches it"
    # 9 - 1.005 is written 7.99; 9 - 0.995 is 8.005, written 8.
    assert overlap_remedy(monkeypatch, 1.005, coarse) == "`face_overlap 7.99 mm` in `coarse` reaches it"
    assert overlap_remedy(monkeypatch, 0.995, coarse) == "`face_overlap 8 mm` in `coarse` reaches it"
    assert overlap_remedy(monkeypatch, 0.9, coarse) == ""
    # One millimetre at least, and a twentieth more for rounding.
    assert overlap_remedy(monkeypatch, 7.94, coarse) == "`face_overlap 1.06 mm` in `coarse` reaches it" and overlap_remedy(monkeypatch, 7.96, coarse) == ""
    # Of several, those that state none or too little are passed over, and so is one that alone does not do.
    none, small, fine = tooth_form("none"), tooth_form("small", face_overlap=mm(2)), tooth_form("fine", face_overlap=mm(6))
    assert overlap_remedy(monkeypatch, 1.0, none, small, fine) == "`face_overlap 5 mm` in `fine` reaches it"
    inches = tooth_form("inches", face_overlap=q("0.375", "in"))
    assert overlap_remedy(monkeypatch, 9.525 - 25.4 * 5 / 16, inches) == "`face_overlap 5/16 in` (0.312 in) in `inches` reaches it"
    wide = tooth_form("wide", face_overlap=q("1.5", "in"))
    assert overlap_remedy(monkeypatch, 25.4 / 4, wide, total=12.0 + 31.75) == "`face_overlap 1-1/4 in` (1.25 in) in `wide` reaches it"
    assert overlap_remedy(monkeypatch, 1.0, coarse, cause="tip_through") == overlap_remedy(monkeypatch, 1.0, coarse, hard=True) == ""
    monkeypatch.setattr(_overlap_remedy, "ends", lambda derived: None)
    design: Any = named(tooth_forms=(coarse,))
    assert _overlap_remedy.less_overlap(design, named(try_changes=True), 1.0, lambda lift: True) == ""
    monkeypatch.setattr(_overlap_remedy, "ends", lambda derived: (limit("least", "teeth_part", 1.0),) * 2)
    assert _overlap_remedy.less_overlap(design, named(try_changes=False), 1.0, lambda lift: True) == ""


def overlaps(*figures: float | None, slides: bool = True) -> Any:
    meshes = tuple(
        named(id=f"m{k}", a=f"a{k}", b=f"b{k}", slides=slides or k > 0, overlap_worst_mm=mm, mesh=named(origin=at(k))) for k, mm in enumerate(figures)
    )
    return named(train=named(meshes=meshes), try_changes=True)


def test_overlap_that_is_missed(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(_require_overlap, "_kept", lambda require, design, derived, mesh, now_mm: f"kept at {mesh.id} with {now_mm:g}")

    def said(derived: Any, low: float | None, high: float | None = None) -> Any:
        found = list(_require_overlap.unmet_overlap(require("face_overlap", low, high), named(units="mm"), derived, named()))
        return (found[0].message.partition(f" {WORST}")[::2], found[0].remedy, found[0].parts[1:], found[0].related[0].span) if found else None

    three = overlaps(9.0, 7.0, 8.0)
    least = ("face overlap of `a1` and `b1` is 7 mm", "; 7.5 mm is required")
    assert said(three, 7.5) == said(three, 7.5, 20.0) == (least, "kept at m1 with 7", ("m1", "a1", "b1"), at(1))
    most = ("face overlap of `a0` and `b0` is 9 mm", "; at most 8.5 mm is required")
    assert said(three, None, 8.5) == (most, "leave the upper side out: teeth that share more face only last longer", ("m0", "a0", "b0"), at(0))
    assert said(three, 7.0) is said(three, None, 9.0) is None
    # Those that do not slide, and those not known, do not count; the first by name of equals.
    assert said(overlaps(1.0, 7.0, None, slides=False), 7.5)[2] == said(overlaps(7.0, 7.0, None, slides=False), 7.5)[2] == ("m1", "a1", "b1")
    assert said(overlaps(None), 7.5) is None and said(overlaps(7.0, 7.0), 7.5)[2][0] == "m0"
    three.try_changes = False
    assert said(three, 7.5)[1] == ""


def kept(monkeypatch: pytest.MonkeyPatch, after: float | None, travel: float | None, low: float = 7.5) -> tuple[str, list[Any]]:
    """The overlap after the change, and the travel that it leaves; the mesh had 7."""
    seen: list[Any] = []
    found = named(lift=None if travel is None else lift_of(travel + 1.0, travel))
    found.train = named(meshes=(named(id="other", overlap_worst_mm=99.0), named(id="m", overlap_worst_mm=after)))
    monkeypatch.setattr(_require_overlap, "solve_heights", lambda made, train: (seen.extend(made.tooth_forms), found)[1])
    design: Any = named(units="mm", tooth_forms=(tooth_form("fine", face_overlap=mm(2)), tooth_form("coarse")))
    design.model_copy = lambda update: named(**update)
    derived: Any = named(train=named(gear=lambda name: named(gear=named(tooth_form=Ref({"a": "coarse"}.get(name, "fine"))))))
    return _require_overlap._kept(require("face_overlap", low), design, derived, named(id="m", a="a", b="b"), 7.0), seen


def test_an_overlap_kept_by_the_tooth_form(monkeypatch: pytest.MonkeyPatch) -> None:
    words, seen = kept(monkeypatch, 7.5, 6.0)
    assert words == f"`face_overlap 7.5 mm` in the tooth form `coarse` keeps it and leaves 6 mm of travel {WORST}"
    assert [item.face_overlap for item in seen] == [mm(2), mm("7.5")]
    thicker = "a fixed gear thicker by 0.5 mm, with feet that stand out as much more, keeps it over this travel"
    assert {kept(monkeypatch, *facts)[0] for facts in ((7.5, None), (7.5, 0.0), (7.5, -1.0), (None, 6.0), (7.4, 6.0))} == {thicker}
    assert kept(monkeypatch, 7.5, 0.4)[0].endswith("leaves 0.4 mm of travel at the worst combination of sheets")


def crossing_feet(*limits: Limit, sets: tuple[str, ...] = ("front", "front")) -> Any:
    """Feet `nw` and `ne` of these sets, the second with all limits."""
    feet = tuple(
        named(
            id=f"{name}.{gear}", gear=gear, height_at_zero_mm=zero, limits=limits if gear == "ne" else (),
            foot=named(name=Ref(name, at(3)), length=mm(30), socket_depth=None),
        )
        for name, gear, zero in zip(sets, ("nw", "ne"), (90.0, 40.0), strict=True)
    )  # fmt: skip
    return named(feet=feet, climbers=(), train=named(faults=(), conflicts=()))


def test_bounds_that_cross() -> None:
    low, high = limit("least", "tip_through", 5.0, "front.ne"), limit("most", "teeth_part", 3.0, "front.ne")
    found = _stroke.crossing(crossing_feet(low, high))
    assert found is not None and (found.low, found.high, found.lacking_mm) == (low, high, 2.0)
    met, apart = limit("most", "teeth_part", 5.0, "front.ne"), limit("most", "teeth_part", 5.1, "front.ne")
    assert _stroke.crossing(crossing_feet(low, met)) is not None and _stroke.crossing(crossing_feet(low, apart)) is None
    for lost in (named(faults=("x",), conflicts=()), named(faults=(), conflicts=("x",))):
        broken = crossing_feet(low, high)
        broken.train = lost
        assert _stroke.crossing(broken) is None
    assert _stroke.crossing(crossing_feet(low)) is None and _stroke.ends(crossing_feet(high)) is None


def nothing_left(monkeypatch: pytest.MonkeyPatch, derived: Any, travel: str = "", lower: str = "", rule: Rule = RULE, climbing: Any = None) -> Any:
    monkeypatch.setattr(_stroke, "shortened", lambda derived: climbing)
    monkeypatch.setattr(_stroke, "climber_remedy", lambda design, derived, found: "climbs")
    monkeypatch.setattr(_stroke, "most_travel", lambda design, derived, name: (f"{travel} {name}".strip() if travel else "", False, 1.0))
    monkeypatch.setattr(_stroke, "lower_feet", lambda design, derived, name, lacking: f"{lower} {lacking:g}" if lower else "")
    found = list(_stroke.nothing_left(rule, named(units="mm"), derived, "{} more, {screw}"))
    return found[0] if found else None


def test_no_stroke_left(monkeypatch: pytest.MonkeyPatch) -> None:
    low, high = limit("least", "tip_through", 0.5, "front.ne", more=("west",)), limit("most", "teeth_part", -1.5, "front.ne", more=("west", "front.nw"))
    derived = crossing_feet(low, high)
    found = nothing_left(monkeypatch, derived, "a screw", "a pad")
    assert found.message == "no travel is left, 2 mm is lacking: teeth_part here" and found.remedy == "a screw front"
    assert found.parts == ("front.nw", "front.ne", "west") and found.span == at(7)
    assert [(item.message, item.span) for item in found.related] == [("tip_through here", at(7))]
    assert nothing_left(monkeypatch, derived, "", "a pad").remedy == "a pad 2" and nothing_left(monkeypatch, derived).remedy == "2 mm more, 28 mm"
    assert nothing_left(monkeypatch, derived, rule=Rule("tip-through-board", "error", "", "", "")) is None
    assert nothing_left(monkeypatch, crossing_feet(low, limit("most", "teeth_part", 9.0, "front.ne"))) is None
    assert nothing_left(monkeypatch, crossing_feet(low, high, sets=("back", "front"))).parts == ("front.ne", "west", "front.nw")
    # Ends that just meet lack nothing; neither does what is nowhere.
    just = crossing_feet(low, limit("most", "teeth_part", 0.5, "front.ne"))
    assert nothing_left(monkeypatch, just).message == "no travel is left: teeth_part here"
    nowhere = crossing_feet(low, limit("most", "teeth_part", NOWHERE_MM, "front.ne"))
    assert nothing_left(monkeypatch, nowhere).message == "no travel is left: teeth_part here"
    # A climber is named by its own block, whatever the cause.
    climbing = named(blamed=high, climber=named(foot=named(name=Ref("idlers", at(4)))))
    other = nothing_left(monkeypatch, derived, "a screw", rule=Rule("no-stroke", "error", "", "", ""), climbing=climbing)
    assert (other.remedy, other.span, other.related[0].message) == ("climbs", at(4), "tip_through here")
    assert nothing_left(monkeypatch, derived, climbing=climbing) is None
    same = Limit("least", "tip_through", high.sentence, 0.5, 0.5, ("front.ne",), False, origin=at(7))
    assert nothing_left(monkeypatch, crossing_feet(same, high)).related == ()
