"""Changes of feet and of thicker parts that are tried, and how places and sizes are written that give a wall its wood. Lengths mm."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest
from tests.designs import mm, q
from tests.designs_feet import captured, crank, hex_screw, riding, riser, sliding

from trivet.checks import _remedy, _wall_remedy, _wider_remedy
from trivet.model.base import Band, Ref
from trivet.model.board import Counterbore, Hole
from trivet.model.hardware import ThreadLength
from trivet.model.outline import Placed
from trivet.model.shop import Sheet
from trivet.solve.contour_shapes import rectangle
from trivet.solve.derived import Limit
from trivet.solve.feature import Round

WORST = "at the worst combination of sheets"


def named(**values: Any) -> Any:
    return SimpleNamespace(**values)


def words(foot: Any, unit: str = "mm", deepest: float = 0.0) -> list[str]:
    return [text for text, _ in _remedy.changes(foot, unit, deepest)]


def test_changes_near_what_is_stated() -> None:
    # Half a millimetre more or less is another screw.
    close = words(riding(screw=hex_screw(stock=(29.5, 30.0, 30.5))))
    assert close[1:3] == ["a screw of 29.5 mm", "a screw of 30.5 mm"] and close[3].startswith("a pad")
    # A pad without a drop begins at none.
    for kind in ("head", "swivel"):
        bare = words(riding(pad=riding().pad.model_copy(update={"kind": kind, "drop": None})))
        assert [text for text in bare if "drop" in text][:: 11] == ["a pad with a drop of 0.5 mm", "a pad with a drop of 6 mm"]
    # 29.5 of thread leave half a millimetre of shank.
    short = ThreadLength(full=False, factor=2.0, to_125_mm=13.5)
    assert "a fully threaded screw of 30 mm" in words(riding(screw=hex_screw(threaded=short)))
    # Only a hex that slides has a socket.
    assert not any("socket" in text for text in words(riding(socket_depth=mm(5)), deepest=10.0))
    assert not any("socket" in text for text in words(sliding().model_copy(update={"socket_depth": None}), deepest=10.0))


def test_how_deep_a_socket_may_be() -> None:
    # Of each set the thinnest gear, less a floor of 3.
    thick = {"a": 20.0, "b": 17.0, "c": 9.0}
    feet = tuple(named(gear=gear, foot=named(name=Ref(name))) for gear, name in (("a", "front"), ("c", "back"), ("b", "front")))
    derived: Any = named(feet=feet, train=named(gear=lambda name: named(face_width=named(least=thick[name]))))
    assert [_remedy._deepest_mm(derived, name) for name in ("front", "back", "none")] == [14.0, 6.0, -3.0]


def fixture(*feet: Any, gears: int = 2, units: str = "mm") -> Any:
    made = named(feet=feet, gears=(named(name=Ref("hub"), z=16),) * gears, units=units)
    made.model_copy = lambda update: named(**{**vars(made), **update})
    return made


def derived(travel: float | None = 5.0, tries: bool = True) -> Any:
    state = named(face_width=named(least=10.0))
    lift = None if travel is None else named(travel_mm=travel, travel_worst_mm=travel)
    return named(lift=lift, train=named(gear=lambda name: state), feet=(), try_changes=tries)


def stand_in(monkeypatch: pytest.MonkeyPatch, travel: Any) -> list[Any]:
    """Solving gives this travel of the changed feet; returns the feet that were tried."""
    tried: list[Any] = []

    def heights(made: Any, train: Any) -> Any:
        tried.append(made.feet)
        found = travel(made.feet[-1])
        return named(lift=None if found is None else named(travel_mm=found, travel_worst_mm=found))

    monkeypatch.setattr(_remedy, "solve_heights", heights)
    return tried


FRONT, BACK = riding(name=Ref("front"), length=mm(50)), riding(name=Ref("back"))


def test_the_set_that_is_changed(monkeypatch: pytest.MonkeyPatch) -> None:
    tried = stand_in(monkeypatch, lambda foot: foot.length.mm - 25.0)
    design = fixture(FRONT, BACK)
    assert _remedy.most_travel(design, derived(), "back")[0] == f"a screw of 80 mm for `back` would give 55 mm of travel {WORST}"
    assert all(front == FRONT and back != BACK for front, back in tried) and {len(feet) for feet in tried} == {2}
    assert _remedy.most_travel(fixture(BACK), derived(), "back")[0].startswith("a screw of 80 mm would")


def test_the_most_travel_of_one_change(monkeypatch: pytest.MonkeyPatch) -> None:
    design = fixture(BACK)
    # Without a lift anything over a tenth is a gain.
    for travel, found in ((0.5, True), (0.11, True), (0.09, False), (-0.5, False)):
        stand_in(monkeypatch, lambda foot, travel=travel: travel)
        assert bool(_remedy.most_travel(design, derived(None), "back")[0]) == found
    # A change that cannot be solved is passed over.
    stand_in(monkeypatch, lambda foot: None if foot.insert.driven_from == "underside" else foot.length.mm)
    assert _remedy.most_travel(design, derived(), "back")[0].startswith("a screw of 80 mm would")
    # Two changes together count only where they are enough.
    stand_in(monkeypatch, lambda foot: 50.0 if (foot.length.mm, foot.insert.driven_from) == (25.0, "underside") else foot.length.mm / 10.0)
    assert _remedy.most_travel(design, derived(), "back", lambda lift: False)[0].startswith("a screw of 80 mm would give 8 mm")
    both = _remedy.most_travel(design, derived(), "back", lambda lift: lift.travel_mm > 40.0)
    assert both == (f"a screw of 25 mm and an insert driven from the underside would give 50 mm of travel {WORST}", True, 50.0)


@pytest.mark.parametrize(("gears", "tries"), [(0, 60), (1, 60), (18, 40), (90, 12)])
def test_how_often_a_train_is_solved(monkeypatch: pytest.MonkeyPatch, gears: int, tries: int) -> None:
    tried = stand_in(monkeypatch, lambda foot: 1.0)
    # A dozen lengths and more for a deeper pad, four pads with each.
    design = fixture(riding(name=Ref("back"), length=mm(7), screw=hex_screw(stock=tuple(float(k) for k in range(1, 60)))), gears=gears)
    assert len(list(_remedy.attempts(design, derived(), "back"))) == tries == len(tried)
    tried.clear()
    _remedy.lower_feet(design, derived(), "back", 2.0)
    # The foot as it is, eight longer and three shorter screws, four pads with each.
    assert len(tried) == min(tries, 48)


def test_lower_feet_in_inches_and_without_a_drop(monkeypatch: pytest.MonkeyPatch) -> None:
    sixteenth = 25.4 / 16
    tried = stand_in(monkeypatch, lambda foot: foot.pad.drop.mm if foot.length.mm == 30.0 else 0.0)
    # 3 and 2.2 are under four sixteenths; one, four, seven and ten more.
    found = _remedy.lower_feet(fixture(FRONT, BACK, units="in"), derived(), "back", 2.2)
    assert [feet[1].pad.drop.mm for feet in tried[:4]] == pytest.approx([k * sixteenth for k in (5, 8, 11, 14)], abs=1e-4)
    assert found == f"a pad with a drop of 0.875 in for `back` would give 0.875 in of travel {WORST}"
    assert all(feet[0] == FRONT for feet in tried)
    bare = BACK.pad.model_copy(update={"kind": "head", "drop": None})
    tried = stand_in(monkeypatch, lambda foot: 9.0 if foot.length.mm == 35.0 else 0.0)
    found = _remedy.lower_feet(fixture(BACK.model_copy(update={"pad": bare})), derived(), "back", 2.2)
    assert found == f"a screw of 35 mm and a pad with a drop of 4 mm would give 9 mm of travel {WORST}"
    assert [(feet[0].pad.kind, feet[0].pad.drop.mm) for feet in tried[:4]] == [("dome", drop) for drop in (4.0, 7.0, 10.0, 13.0)]
    disc = BACK.model_copy(update={"pad": BACK.pad.model_copy(update={"kind": "disc"})})
    tried = stand_in(monkeypatch, lambda foot: 0.0)
    assert _remedy.lower_feet(fixture(disc), derived(), "back", 2.2) == "" and tried[0][0].pad.kind == "disc"
    post = stand_in(monkeypatch, lambda foot: 9.0)
    assert _remedy.lower_feet(fixture(sliding()), derived(), "corner", 2.2).startswith("a post with a drop of 29 mm would give 9 mm") and post
    assert _remedy.lower_feet(fixture(BACK), derived(tries=False), "back", 2.2) == ""


def sheet(name: str, thick: float) -> Sheet:
    return Sheet(name=Ref(name), thickness=Band(thick, thick - 0.2, thick + 0.2))


def test_parts_that_are_made_thicker() -> None:
    made = riser(riding(), sheets=(sheet("ply", 17.8), sheet("thin", 12.0), sheet("thickest", 30.0), sheet("gears", 17.8), sheet("thicker", 24.0)))
    feet = ("nw", "sw", "ne", "se")
    state: Any = named(feet=tuple(named(gear=name, foot=made.feet[0]) for name in feet))
    found = list(_wider_remedy._parts_changed(made, state))
    told = [text for text, _ in found]
    still, moving = "`east`, `hub` and `west`", "`ne`, `nw`, `se` and `sw`"
    assert told == [
        "gears cut from `thicker`", "gears cut from `thickest`", f"`layers 2` in {still}", f"`layers 2` in {moving}", "`layers 2` in `deck`",
        "`layers 2` in `east`, `hub`, `west` and `deck`", "`layers 2` in `east`, `hub`, `west`, `ne`, `nw`, `se` and 1 more",
        "`layers 2` in `east`, `hub`, `west`, `ne`, `nw`, `se` and 2 more",
    ]  # fmt: skip
    cut = dict(found)
    assert {gear.stock.text for gear in cut["gears cut from `thicker`"].gears} == {"thicker"}
    layers = {gear.name.text: gear.layers for gear in cut[f"`layers 2` in {still}"].gears}
    assert layers == {name: 2 if name in ("east", "hub", "west") else 1 for name in (*feet, "east", "hub", "west")}
    assert cut[f"`layers 2` in {still}"].boards[0].layers == 1 and cut["`layers 2` in `deck`"].boards[0].layers == 2
    assert {gear.layers for gear in cut["`layers 2` in `deck`"].gears} == {1}
    # What has two layers already is left as it is; so is a board without feet.
    two = made.model_copy(update={
        "gears": tuple(gear.model_copy(update={"layers": 2 if gear.name.text == "hub" else 3 if gear.name.text in feet else 1}) for gear in made.gears),
        "boards": (made.boards[0].model_copy(update={"layers": 2}), made.boards[0].model_copy(update={"name": Ref("base")})),
        "sheets": made.sheets[:2] + made.sheets[3:4],
    })  # fmt: skip
    assert [text for text, _ in _wider_remedy._parts_changed(two, state)] == ["`layers 2` in `east` and `west`"]


def with_feet(monkeypatch: pytest.MonkeyPatch, *asked: tuple[float, float], foot: Any = BACK, sets: Any = None, state: bool = True) -> tuple[Any, ...]:
    """Words of the changes of the set `back`, the feet that were solved, and the limits that were handed on."""
    own = tuple(named(end=end, hard=hard) for end, hard in (("most", False), ("most", True), ("least", True), ("least", False)))
    solved, limits = [], []

    def heights(made: Any, train: Any) -> Any:
        assert train == "train"
        solved.append(made.feet)
        return named(feet=(named(foot=named(name=Ref("other")), limits=()), *((named(foot=foot, limits=own),) if state else ())))

    monkeypatch.setattr(_wider_remedy, "solve_train", lambda made: "train")
    monkeypatch.setattr(_wider_remedy, "solve_heights", heights)
    monkeypatch.setattr(_wider_remedy, "_asked_for", lambda foot, held: (limits.extend(held), iter(asked))[1])
    found = list(_wider_remedy._with_feet(fixture(*(sets or (FRONT, foot))), "back"))
    return [text for text, _ in found], solved, [(item.end, item.hard) for item in limits]


def test_screw_and_pad_that_follow(monkeypatch: pytest.MonkeyPatch) -> None:
    assert with_feet(monkeypatch, (30.5, 0.4), sets=(BACK,))[0][1] == ("a screw of 30.5 mm", "a pad with a drop of 3.4 mm")
    told, solved, limits = with_feet(monkeypatch, (35.0, 2.5), (30.0, 2.5), (30.0, 0.0), (25.0, 0.0))
    drop = "a pad with a drop of 5.5 mm for `back`"
    assert told == [(), ("a screw of 35 mm", drop), (drop,), ("a screw of 25 mm for `back`",)]
    assert limits == [("most", False), ("least", True), ("least", False)]
    assert [(feet[0] == FRONT, feet[1].length.mm, feet[1].pad.drop.mm) for feet in solved[1:]] == [(True, 35.0, 5.5), (True, 30.0, 5.5), (True, 25.0, 3.0)]
    assert with_feet(monkeypatch, (35.0, 0.0), sets=(BACK,))[0] == [(), ("a screw of 35 mm",)]
    head = BACK.model_copy(update={"pad": BACK.pad.model_copy(update={"kind": "head", "drop": None})})
    told, solved, _ = with_feet(monkeypatch, (30.0, 2.5), foot=head, sets=(head,))
    assert told[1] == ("a pad with a drop of 2.5 mm",) and (solved[1][0].pad.kind, solved[1][0].pad.drop.mm) == ("dome", 2.5)
    swivel = BACK.model_copy(update={"pad": BACK.pad.model_copy(update={"kind": "swivel"})})
    assert with_feet(monkeypatch, (30.0, 2.5), foot=swivel, sets=(swivel,))[1][1][0].pad.kind == "swivel"
    for fixed in (captured(name=Ref("back")), BACK.model_copy(update={"length": None}), BACK.model_copy(update={"screw": None}), sliding(name=Ref("back"))):
        assert with_feet(monkeypatch, (35.0, 2.5), foot=fixed)[0] == [()]
    assert with_feet(monkeypatch, (35.0, 2.5), state=False)[0] == [()]


def test_wider_changes_that_are_passed_over(monkeypatch: pytest.MonkeyPatch) -> None:
    def tried(name: str, mm: float | None, *bolts: Any, faults: tuple[str, ...] = ()) -> tuple[str, Any]:
        lift = None if mm is None else named(travel_mm=mm + 1.0, travel_worst_mm=mm)
        return name, named(lift=lift, train=named(faults=faults), bolts=bolts)

    fits, drive, foot = named(of=crank(), fits=True, buy_mm=25.0), named(of=crank(), fits=False, buy_mm=25.0), named(of=BACK, fits=True, buy_mm=None)
    pivot = named(of=crank(name=Ref("other")), fits=True, buy_mm=None)

    def found(before: tuple[Any, ...], *changes: tuple[str, Any], enough: float = 99.0) -> tuple[str, float]:
        monkeypatch.setattr(_wider_remedy, "_parts_changed", lambda design, derived: [(name, after) for name, after in changes])
        monkeypatch.setattr(_wider_remedy, "_with_feet", lambda after, name: iter([((), after)]))
        state = named(bolts=before, try_changes=True)
        return _wider_remedy.wider_change(fixture(BACK), state, "back", lambda lift: lift.travel_worst_mm >= enough)[:2]

    best = tried("best", 6.0, fits)
    for lost in (tried("x", None), tried("x", 9.0, faults=("fault",)), tried("x", 9.0, fits, foot)):
        assert found((), lost, best) == ("best", 6.0)
    # What did not fit before is not the change's fault.
    assert found((foot, drive), tried("x", 9.0, drive, foot), best) == ("x", 9.0)
    assert found((drive,), tried("x", 9.0, fits, drive, pivot, pivot)) == ("x (with another recess at the bolt of `other`)", 9.0)
    assert found((), tried("x", 9.0, drive, pivot)) == ("x (with another recess at the bolt of `crank` and `other`)", 9.0)
    # Of one change of the parts, feet that cannot be solved are passed over too; one word more is joined by "and".
    monkeypatch.setattr(_wider_remedy, "_parts_changed", lambda design, derived: [("x", None)])
    monkeypatch.setattr(_wider_remedy, "_with_feet", lambda after, name: iter([((), tried("", None)[1]), (("a screw",), tried("", 4.0)[1])]))
    assert _wider_remedy.wider_change(fixture(BACK), named(bolts=(), try_changes=True), "back", lambda lift: False)[:2] == ("x and a screw", 4.0)
    assert found((), tried("a", 9.0), tried("b", 9.5)) == ("b", 9.5)
    # The first that is enough, else the first of the best; nothing where no travel is left.
    assert found((), tried("a", 7.0), tried("b", 9.0), tried("c", 9.0)) == ("b", 9.0) and found((), tried("a", 7.0), tried("b", 9.0), enough=7.0) == ("a", 7.0)
    assert found((), tried("a", 0.0), tried("b", -1.0)) == ("", 0.0)


SQUARE = ((0.0, 0.0), (100.0, 0.0), (100.0, 60.0), (0.0, 60.0))
HOLE = Hole(name=Ref("one"), into=Ref("deck"), diameter_mm=8.0, because="diameter as stated", places=(Placed("one", 25.0, 40.0),))


def wall_words(hole: Hole, at: tuple[float, float], other: tuple[float, float] | None, lacking: float, unit: str = "mm") -> str:
    """In a board whose (0, 0) is at (5, 10); a stranger of 4 at `other`, else the edge."""
    board = named(name=Ref("deck"), x_mm=5.0, y_mm=10.0)
    design: Any = named(units=unit, holes=(hole,), pockets=(), magnets=(), boards=(named(name=Ref("base"), x_mm=0.0, y_mm=0.0), board))
    cut: Any = named(names=("one", "deck"), whole="deck", feature=named(shape=Round(*at, hole.diameter_mm), cutter_diameter_mm=4.0))
    stranger: Any = named(names=("x",), whole="deck", feature=named(shape=Round(*other, 4.0), cutter_diameter_mm=4.0)) if other else None
    return _wall_remedy.wall_remedy(design, cut, stranger, SQUARE, lacking)


def test_places_that_give_a_wall_its_wood() -> None:
    # Away along 3, 4 and 5: 1 and a step of 0.01 are 0.606 and 0.808.
    assert wall_words(HOLE, (20.0, 30.0), (17.0, 26.0), 1.0) == "`at (20.61, 30.81) mm` for `one`, or `diameter 6 mm` for `one`"
    assert wall_words(HOLE, (20.0, 30.0), (23.0, 34.0), 1.0).startswith("`at (19.39, 29.19) mm`")
    # From the lower edge upwards, 0.5 and a step.
    assert wall_words(HOLE, (20.0, 5.0), None, 0.5).startswith("`at (20, 30.51) mm` for `one`")
    # 1.0254 along x is 20.6152 and 30.8203: 0.812 and 1.214 of an inch, on to the next thousandth.
    assert wall_words(HOLE, (20.0, 30.0), (17.0, 26.0), 1.0, "in").startswith("`at (0.812, 1.214) in` for `one`")
    mirrored = HOLE.model_copy(update={"places": (Placed("one", 25.0, 40.0, mirrored=True),)})
    assert wall_words(mirrored, (20.0, 30.0), (17.0, 26.0), 1.0) == "`diameter 6 mm` for `one`"
    sunk = Counterbore(face="topside", diameter_mm=20.0, depth_mm=4.0)
    plain = [HOLE.model_copy(update=change) for change in ({"fit": "push"}, {"because": "for M8"}, {"counterbore": sunk})]
    assert {wall_words(hole, (20.0, 30.0), (17.0, 26.0), 1.0) for hole in plain} == {"`at (20.61, 30.81) mm` for `one`"}
    # As small as the cutter, or smaller where it is drilled.
    assert wall_words(HOLE, (20.0, 30.0), (17.0, 26.0), 2.0).endswith("`diameter 4 mm` for `one`")
    assert "diameter" not in wall_words(HOLE, (20.0, 30.0), (17.0, 26.0), 2.01)
    assert wall_words(HOLE.model_copy(update={"drill_mm": 8.0}), (20.0, 30.0), (17.0, 26.0), 2.5).endswith("`diameter 3 mm` for `one`")


def test_a_limit_at_its_worst_and_inches() -> None:
    def limit(end: Any, cause: str, at: float) -> Limit:
        return Limit(end, cause, "", at, at, ("corner.nw",), False)

    foot = riding(length=q("1.25", "in"), screw=hex_screw(stock=(25.4, 31.75, 38.1)))
    found = list(_wider_remedy._asked_for(foot, (limit("least", "bench_nut", 2.0), limit("least", "tilted_rim", 0.5))))
    # 1.5 more of pad is two thirty-seconds.
    assert found == [(31.75, pytest.approx(25.4 / 16)), (25.4, pytest.approx(25.4 / 16))]
    exact = list(_wider_remedy._asked_for(riding(), (limit("least", "bench_nut", 1.5), limit("least", "tilted_rim", 0.5))))
    assert exact[0] == (30.0, pytest.approx(1.0))


def test_ways_that_lead_into_the_wood() -> None:
    # Outside, or nearer than a millimetre, it goes by the edge; where no way leads into the wood, to the right.
    assert _wall_remedy._away(Round(103.0, 30.0, 4.0), None, SQUARE) == pytest.approx((-1.0, 0.0))
    assert _wall_remedy._away(Round(50.0, 0.5, 4.0), None, SQUARE) == pytest.approx((0.0, 1.0))
    sliver = ((0.0, 0.0), (100.0, 17.6), (100.0, 17.601), (0.0, 0.001))
    assert _wall_remedy._away(Round(50.0, 8.8, 4.0), None, sliver) == (1.0, 0.0)
    assert [_wall_remedy._rounded(5.0, sense, 0.01) for sense in (-1.0, 1.0)] == pytest.approx([5.0, 5.0])


def test_a_wall_grows_away_from_the_nearest_side() -> None:
    """Between a side and a corner or a round cut the nearest points need not be corners of what is moved."""
    away, pocket = _wall_remedy._away, rectangle(50.0, 20.0, 10.0, 30.0)
    assert away(pocket, Round(40.0, 35.0, 4.0), SQUARE) == pytest.approx((1.0, 0.0))
    assert away(pocket, Round(55.0, 55.0, 4.0), SQUARE) == pytest.approx((0.0, -1.0))
    assert away(rectangle(10.0, 10.0, 20.0, 10.0), rectangle(40.0, 12.0, 5.0, 5.0), SQUARE) == pytest.approx((-1.0, 0.0))
    notched = ((0.0, 0.0), (100.0, 0.0), (100.0, 60.0), (56.0, 60.0), (55.0, 52.0), (54.0, 60.0), (0.0, 60.0))
    assert away(pocket, None, notched) == pytest.approx((0.0, -1.0)) and away(rectangle(45.0, 51.0, 20.0, 8.0), None, SQUARE) == pytest.approx((0.0, -1.0))
