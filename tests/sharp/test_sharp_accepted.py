"""Acceptances, places of blind cuts, climbers and feet that lose nothing, ends that limits ask for, groups of lost gears. Lengths mm."""

from __future__ import annotations

from fractions import Fraction
from types import SimpleNamespace
from typing import Any

import pytest
from tests.designs import design, gear, mesh, mm
from tests.designs_feet import JAM, NUT, captured, crank, hex_screw, pin, riding, sliding

from trivet.checks import _accept, _climber_remedy, _depths, _round, _train, _undriven, _wider_remedy
from trivet.diagnostics import Diagnostic, Edit
from trivet.model.base import Band, Ref
from trivet.model.intent import Accept
from trivet.model.train import DriveNut
from trivet.record import replace
from trivet.solve.derived import Limit
from trivet.source import SourceFile, Span

FILE = SourceFile("f.trivet", "x" * 100)


def named(**values: Any) -> Any:
    return SimpleNamespace(**values)


def at(start: int) -> Span:
    return Span(FILE, start, start + 1)


def limit(end: Any, cause: str, extension: float, more: tuple[str, ...] = ()) -> Limit:
    return Limit(end, cause, f"{cause} here", extension, extension, ("front.nw", *more), False, origin=at(7))


def accepted(*stated: tuple[str, str | None], found: tuple[str, ...] = (), of: Any = Span) -> list[Diagnostic]:
    """Of findings of `a-rule` on these parts; each acceptance names a rule and a part."""
    made: Any = named(
        accepts=tuple(
            Accept(Ref(rule, at(10 * k) if of is Span else None), "so it is", Ref(on) if on else None, at(10 * k + 5)) for k, (rule, on) in enumerate(stated)
        )
    )
    marked = _accept.accept(made, (Diagnostic("a-rule", "error", "m", at(9), parts=(part,)) for part in found), ("a-rule", "b-rule"))
    return marked


def test_acceptances_after_one_of_no_rule() -> None:
    first, second, third = accepted(("a-rul", None), ("a-rule", "x"), ("b-rule", "pin"), found=("x",))
    # The misspelt one is said with the word that mends it; the next one still counts.
    assert first.accepted and first.accepted_because == "so it is"
    assert (second.message, second.span, second.edits, second.remedy) == ("there is no rule `a-rul`", at(0), (Edit(at(0), "a-rule"),), "did you mean `a-rule`?")
    assert (third.message, third.span, third.parts, third.severity) == ("nothing breaks `b-rule` on `pin`", at(25), ("b-rule",), "warning")
    (unlike,) = accepted(("zzzzzz", None))
    assert unlike.edits == () and unlike.span == at(0) and unlike.severity == "error"
    (nowhere,) = accepted(("a-rul", None), of=None)
    assert nowhere.edits == () and nowhere.remedy == "did you mean `a-rule`?"
    (all_of_it,) = accepted(("b-rule", None))
    assert all_of_it.message == "nothing breaks `b-rule`" and all_of_it.remedy == "remove it"


def test_where_blind_cuts_are_stated() -> None:
    def state(name: str, **facts: Any) -> Any:
        held: dict[str, Any] = {"turned_by": None, "turns_on": None, "under": Ref("deck")} | facts
        return named(id=name, gear=named(**held), face_width=Band(10.0, 9.0, 11.0))

    def nut(side: Any, deep: int | None, start: int) -> DriveNut:
        recessed = None if deep is None else replace(mm(deep), origin=at(start + 1))
        return DriveNut(hardware=NUT if side == "above" else JAM, side=side, recessed=recessed, origin=at(start))

    def origins(found: Any) -> list[tuple[float, tuple[int, ...]]]:
        return [(item.depth_mm, tuple(origin.start for origin in item.origins if origin is not None)) for item in found]

    both = crank(name=Ref("crank", at(1)), nut=nut("above", 2, 10), jam_nut=nut("below", 6, 20))
    assert origins(_depths._drive(both, state("hub"))) == [(8.0, (10, 1))]
    assert origins(_depths._drive(crank(name=Ref("crank", at(1)), nut=nut("above", None, 10), jam_nut=nut("below", 6, 20)), state("hub"))) == [(6.0, (20, 1))]
    pivot = pin(name=Ref("pin", at(2)), head_recessed=replace(mm(7), origin=at(30)), nut=nut("above", 4, 40))
    assert origins(_depths._pivot(pivot, state("west"))) == [(7.0, (30, 2))]
    assert origins(_depths._pivot_nut(pivot, state("west"), Band(18.0, 17.0, 19.0))) == [(4.0, (41, 40, 2))]

    def of_foot(foot: Any, pocket: float) -> list[Any]:
        held = foot.model_copy(update={"name": Ref("corner", at(3))})
        return list(_depths._foot(named(id="corner.nw", foot=held, pocket_mm=pocket), state("nw")))

    stated = riding(pocket=replace(mm("5.8"), origin=at(50)))
    assert origins(of_foot(stated, 6.0)) == [(6.0, (50, 3))] and origins(of_foot(stated.model_copy(update={"pocket": None}), 6.0)) == [(6.0, (3,))]
    assert of_foot(stated, 0.0) == [] and of_foot(captured(), 7.0)[0].words == "pocket for the nut of `corner`"
    socket = sliding(socket_depth=replace(mm(14), origin=at(60)))
    assert origins(of_foot(socket, 6.0)) == [(14.0, (60, 3))]
    # A socket that is left over from another kind of foot is not cut.
    assert [item.words for item in of_foot(riding(socket_depth=mm(14)), 6.0)] == ["pocket for the head of `corner`"]
    assert _depths.Depth("", "", 1.0, Band(9.0, 9.0, 9.0), (), ()).added_mm == 0.0


def test_gears_that_are_lost_beside_one_that_is_driven() -> None:
    made = design((gear("hub", 16, (0.0, 0.0), drive=True), gear("a", 20), gear("b", 20)), (mesh("hub", "a", 0.0), mesh("a", "b", 0.0)))
    assert _undriven.undriven(made, named(train=named(drive_gear="hub", unreached=("b",)))) == (("b",),)


def test_climbers_that_take_nothing() -> None:
    low, high = limit("least", "tip_through", 5.0), limit("most", "teeth_part", 5.0)
    foot = named(id="front.nw", height_at_zero_mm=40.0, limits=(low, high, limit("most", "climber_bench", -9.0, more=("idler",))))
    climbers = (named(gear="idler"),)
    assert _climber_remedy.shortened(named(climbers=climbers, feet=(foot,))) is None  # the feet alone have no travel
    assert _climber_remedy.shortened(named(climbers=climbers, feet=())) is None

    # Of no travel nothing more than what there was is lost: 1.2 are missed, 0.4 are not.
    def lost(alone: float) -> bool:
        limits = (low, limit("most", "teeth_part", 5.0 + alone), limit("most", "climber_bench", -9.0, more=("idler",)))
        found = _climber_remedy.shortened(named(climbers=climbers, feet=(named(id="front.nw", height_at_zero_mm=40.0, limits=limits),)))
        return found is not None

    assert (lost(1.2), lost(0.4)) == (True, False)


@pytest.mark.parametrize(("travel", "said"), [(0.4, False), (0.6, True)])
def test_a_start_that_leaves_half_a_millimetre(monkeypatch: pytest.MonkeyPatch, travel: float, said: bool) -> None:
    foot = riding()
    made = named(feet=(foot,), units="mm")
    made.model_copy = lambda update: named(**{**vars(made), **update})
    monkeypatch.setattr(_climber_remedy, "solve_heights", lambda design, train: named(lift=named(travel_mm=travel)))
    lost: Any = named(climber=named(foot=foot), left_mm=-4.0)
    assert _climber_remedy.climber_remedy(made, named(try_changes=True, train=None), lost).startswith("`climbs from") == said
    assert not _climber_remedy.climber_remedy(made, named(try_changes=False, train=None), lost).startswith("`climbs from")


def asked(foot: Any, *limits: Limit) -> list[tuple[float, float]]:
    return [(length, pytest.approx(drop)) for length, drop in _wider_remedy._asked_for(foot, limits)]


def test_pads_that_limits_ask_for_alone() -> None:
    teeth = limit("most", "teeth_part", 14.0)
    # Nothing at the least end: no pad is asked for, and a foot begins at no extension.
    assert asked(riding(), teeth) == [(30.0, 0.0), (25.0, 0.0)]
    assert asked(riding(), teeth, limit("least", "bench_nut", 2.0)) == [(30.0, 2.0), (25.0, 2.0)]
    assert asked(riding(), teeth, limit("least", "bench_nut", 0.5)) == [(30.0, 0.5), (25.0, 0.5)]
    assert asked(riding(), teeth, limit("least", "bench_nut", 0.8), limit("least", "tilted_rim", 1.5)) == [(30.0, 0.0), (25.0, 0.0)]
    # Half a millimetre less is another length, and no more is wanted than what is stated.
    assert [length for length, _ in asked(riding(screw=hex_screw(stock=(29.5, 30.0, 35.0))), teeth)] == [30.0, 29.5]
    assert [length for length, _ in asked(riding(screw=hex_screw(stock=(29.0, 29.5, 35.0))), teeth)] == [35.0, 29.5]


def test_words_of_numbers_and_names() -> None:
    # As many decimals as show the difference, and no rise that reads as none.
    assert _train.rise_texts("mm", Fraction(1), Fraction(1001, 1000)) == ("1 mm", "1.001 mm")
    assert _train.rise_texts("mm", Fraction(1), Fraction(10001, 10000)) == ("1 mm", "1.0001 mm")
    assert _train.rise_texts("mm", Fraction(1), Fraction(1)) == ("1 mm",) * 2
    assert _train.rise_texts("mm", Fraction(1, 100000)) == ("0.00001 mm",) and _train.rise_texts("mm", Fraction(1, 10**10)) == ("0 mm",)
    near = ((10014, 10000, "1.001"), (1014, 1000, "1.014"), (10**8 + 1, 10**8, "1.00000001"), (10**9 + 1, 10**9, "1"))
    assert [_train.rise_texts("mm", Fraction(1), Fraction(one, other))[1] for one, other, _ in near] == [f"{text} mm" for *_, text in near]
    assert _train.rise_texts("in", Fraction(254, 10), Fraction(2540254, 100000)) == ("1 in", "1.0001 in")
    assert _train.rise_texts("in", Fraction(3)) == ("0.1181 in",)
    assert (_train.named(["a"]), _train.named(["a", "b"]), _train.named("abc")) == ("`a`", "`a` and `b`", "`a`, `b` and `c`")
    assert _train.named("abcdef") == "`a`, `b`, `c`, `d`, `e` and `f`" and _train.named("abcdefgh") == "`a`, `b`, `c`, `d`, `e`, `f` and 2 more"
    assert _train.named("abc", 2) == "`a`, `b` and 1 more"
    assert [_train.up_to(value, 0.05) for value in (0.12, 0.15, 0.0)] == [0.15, 0.2, 0.05]
    assert [_train.down_to(value, 0.05) for value in (0.19, 0.15)] == [0.15, 0.15]
    feet: Any = (named(id="corner.nw", gear="nw"), named(id="corner.se", gear="se"))
    assert _train.feet_parts(feet) == ("corner.nw", "nw", "corner.se", "se")
    spots = [_train.mesh_place(named(mesh=named(b=Ref("b", origin), origin=at(2)))) for origin in (at(1), None)]
    assert spots == [at(1), at(2)]
    assert (_round.up_told(25.4 * 0.0601, "in"), _round.down_told(25.4 * 0.0609, "in")) == ("0.061 in", "0.06 in")
    # On a hundredth, or a thousandth of an inch, to the last digit.

    for way in (_round.up_fine, _round.down_fine):
        assert [way(mm, "mm") for mm in (1.13, 1.25, 2.3)] == ["1.13 mm", "1.25 mm", "2.3 mm"]
        assert [way(25.4 * inch, "in") for inch in (0.2, 0.205, 0.067)] == ["0.2 in", "0.205 in", "0.067 in"]
