"""Words and numbers of remedies, function by function: changes that are tried, roundings, rings, walls, requirements. Lengths mm."""

from __future__ import annotations

from itertools import islice
from types import SimpleNamespace
from typing import Any

import pytest
from tests.designs import INSERT, mm
from tests.designs_feet import captured, hex_screw, riding, sliding

from trivet.checks import (
    _climber_remedy,
    _leads,
    _remedy,
    _require,
    _require_flush,
    _require_train,
    _round,
    _stroke,
    _wider_remedy,
)
from trivet.model.hardware import ThreadLength
from trivet.model.intent import Require
from trivet.record import replace
from trivet.solve.derived import Limit

HALF = hex_screw(threaded=ThreadLength(full=False))
SQUARE = ((0.0, 0.0), (100.0, 0.0), (100.0, 60.0), (0.0, 60.0))


def named(**values: Any) -> Any:
    return SimpleNamespace(**values)


def limit(end: Any, cause: str, at: float, *, hard: bool = False, parts: tuple[str, ...] = ("corner.nw",), worst: float = 0.0) -> Limit:
    return Limit(end, cause, f"{cause} at {at:g}", at, worst or at, parts, hard)


def test_travel_and_heights_of_every_combination() -> None:
    lift: Any = named(travel_worst_mm=7.0, travel_mm=8.0, height_every_sheet=(40.0, 50.0), height_min_mm=41.0, height_max_mm=49.0)
    assert (_remedy.worst_travel_mm(lift), _remedy.every_height_mm(lift)) == (7.0, (41.0, 49.0))
    lift = named(travel_worst_mm=9.0, travel_mm=8.0, height_every_sheet=(42.0, 48.0), height_min_mm=41.0, height_max_mm=49.0)
    assert (_remedy.worst_travel_mm(lift), _remedy.every_height_mm(lift)) == (8.0, (42.0, 48.0))


def words(foot: Any, unit: str = "mm", deepest: float = 0.0) -> list[str]:
    return [text for text, _ in _remedy.changes(foot, unit, deepest)]


def test_changes_of_a_riding_foot() -> None:
    found = words(riding())
    # Nearest lengths first, the shorter of equals; eight longer and three shorter; then the dome of 3 by halves.
    lengths = [25, 35, 20, 40, 16, 45, 50, 55, 60, 70, 80]
    assert found[0] == "an insert driven from the underside"
    assert found[1:12] == [f"a screw of {length} mm" for length in lengths]
    every = words(riding(screw=hex_screw(stock=tuple(float(mm) for mm in range(10, 90, 5)))))
    assert [text for text in every if "75" in text or "15" in text] == ["a screw of 15 mm"] and "a screw of 70 mm" in every
    assert "a screw of 10 mm" not in every
    assert found[-12:] == [f"a pad with a drop of {3.0 + 0.5 * k:g} mm" for k in range(1, 13)]
    assert words(riding(driven_from="underside"))[0] == "an insert driven from the topside"
    assert words(riding(insert=replace(INSERT, flange_diameter_mm=20.0)))[0] == "a screw of 25 mm"
    assert words(riding(screw=HALF))[1] == "a fully threaded screw of 30 mm"
    assert not any("fully" in text for text in words(riding(screw=HALF, length=mm(22))))  # all of it is thread
    assert words(riding(), "in")[-12] == "a pad with a drop of 0.149 in"  # 3 + 1/32 in


def test_what_the_changes_change() -> None:
    foot = riding(screw=HALF, pad=riding().pad.model_copy(update={"kind": "head", "drop": None}))
    found = dict(_remedy.changes(foot, "mm"))
    assert found["an insert driven from the underside"].insert.driven_from == "underside"
    assert found["a fully threaded screw of 30 mm"].screw.threaded.full
    assert found["a screw of 35 mm"].length == mm(35)
    pad = found["a pad with a drop of 1.5 mm"].pad
    assert (pad.kind, pad.drop) == ("dome", mm("1.5"))


def test_changes_of_the_other_feet() -> None:
    rod = words(captured())
    assert rod[:8] == [f"a rod of {60 + 5 * k} mm" for k in range(1, 9)] and rod[8] == "a pad with a drop of 3.5 mm"
    assert words(captured(length=mm("50.8")), "in")[0] == "a rod of 2-1/4 in (2.25 in)"
    # 14 now, 19.3 at most: quarters of 5.3, down to halves.
    socket = words(sliding(), deepest=19.3)
    assert socket[1:5] == [f"`socket depth {mm}`" for mm in ("15 mm", "16.5 mm", "17.5 mm", "19 mm")]
    assert socket[-1] == "a post with a drop of 31 mm"
    assert [text for text in words(sliding(), deepest=14.6) if "socket" in text] == ["`socket depth 14.5 mm`"]
    assert not any("socket" in text for text in (*words(sliding(), deepest=14.0), *words(riding(), deepest=30.0)))


def test_two_changes_together() -> None:
    found = list(islice(_remedy._one_then_two(riding(), "mm", 0.0), 60))
    assert found[24][0] == "a screw of 25 mm and an insert driven from the underside"  # after 1 + 11 + 12 single ones
    assert found[25][0] == "a screw of 25 mm and a pad with a drop of 3.5 mm" and found[25][1].length == mm(25)
    assert found[37][0] == "a screw of 35 mm and an insert driven from the underside"


def asked(foot: Any, *limits: Limit) -> list[tuple[float, float]]:
    return [(length, pytest.approx(drop)) for length, drop in _wider_remedy._asked_for(foot, limits)]


def test_screw_and_pad_that_limits_ask_for() -> None:
    # The thread ends at 9, the teeth at 14: 5 longer, so 35 and, of the shorter, 30.
    ends = (limit("most", "thread_leaves_insert", 9.0), limit("most", "teeth_part", 14.0), limit("most", "blind_insert", 11.0))
    assert [length for length, _ in asked(riding(), *ends)] == [35.0, 30.0]
    assert [length for length, _ in asked(riding(), limit("most", "teeth_part", 14.0))] == [30.0, 25.0]
    # Tip at 1 with 30, so 6 with 35; rim at 2; bench at 8.2: 2.2 more of pad, to the next half; with 30 mm 6.2.
    low = (limit("least", "tip_through", 1.0), limit("least", "tilted_rim", 2.0), limit("least", "bench_nut", 8.2), limit("least", "bench_idler", 5.0))
    assert asked(riding(), *ends, *low) == [(35.0, 2.5), (30.0, 6.5)]
    assert asked(riding(), *ends, *low[:2]) == [(35.0, 0.0), (30.0, 0.0)]
    # Without a tip that moves, a longer screw alone asks for its own length.
    assert asked(riding(), *ends, low[1], low[2]) == [(35.0, 3.5), (30.0, 6.5)]
    assert [length for length, _ in asked(riding(length=mm(80)), *ends)] == [80.0]
    worst = (limit("most", "thread_leaves_insert", 9.0, worst=8.0), limit("most", "teeth_part", 20.0, worst=14.0))
    assert [length for length, _ in asked(riding(), *worst)] == [40.0, 35.0]  # 36: limits at their worst count


@pytest.mark.parametrize(
    ("given", "up", "down"),
    [
        ((5.001, "mm"), "5.01 mm", "5 mm"), ((5.0, "mm"), "5 mm", "5 mm"), ((5.1, "mm", 0.5), "5.5 mm", "5 mm"),
        ((5.0011, "mm", 0.001), "5.002 mm", "5.001 mm"),
        ((25.4 / 16, "in"), "1/16 in", "1/16 in"), ((25.4 * 0.07, "in"), "5/64 in", "1/16 in"), ((25.4 * 0.0601, "in"), "0.061 in", "0.06 in"),
        ((25.4 * 0.3, "thou"), "5/16 in", "19/64 in"), ((25.4 * 0.3, "in", 1.0, 1 / 4), "1/2 in", "1/4 in"),
        ((25.4 * 0.05, "in", 1.0, 1 / 32), "1/16 in", "1/32 in"),
    ],
)  # fmt: skip
def test_roundings_to_the_side_that_works(given: Any, up: str, down: str) -> None:
    assert (_round.up_text(*given), _round.down_text(*given)) == (up, down)


def test_roundings_that_are_told() -> None:
    assert (_round.up_told(25.4 * 0.3, "in"), _round.down_told(25.4 * 0.3, "in")) == ("5/16 in (0.312 in)", "19/64 in (0.297 in)")
    assert (_round.up_told(5.001, "mm"), _round.down_told(5.009, "mm")) == ("5.01 mm", "5 mm")
    assert (_round.up_fine(5.001, "mm"), _round.down_fine(5.009, "mm")) == ("5.01 mm", "5 mm")
    # 0.2001 in to thousandths, never to a fraction.
    assert [_round.up_fine(5.08254, unit) for unit in ("in", "thou")] == ["0.201 in"] * 2
    assert [_round.down_fine(25.4 * 0.2509, unit) for unit in ("in", "thou")] == ["0.25 in"] * 2


def test_coarse_threads_by_their_lead() -> None:
    assert _leads.thread_that(("metric",), 1.25, lambda lead: lead > 1.3) == ("M10", 1.5)
    assert _leads.thread_that(("metric",), 1.25, lambda lead: lead < 1.1) == ("M6", 1.0)
    assert _leads.thread_that(("metric",), 1.25, lambda lead: lead != 1.25) == ("M10", 1.5)  # as near as M6, first by name
    assert _leads.thread_that(("metric", "unified"), 1.4, lambda lead: True) == ("5/16-18", pytest.approx(25.4 / 18))
    assert _leads.thread_that(("metric",), 1.25, lambda lead: lead > 3.0) is None


def require(low: float | None = None, high: float | None = None, *, strict: bool = False, unit: str = "mm") -> Require:
    return Require("travel", low, high, unit, strict)


@pytest.mark.parametrize(
    ("stated", "value", "small", "great"),
    [
        (require(5.0), 5.0, False, False), (require(5.0), 5.0 - 5e-10, False, False), (require(5.0), 4.999, True, False),
        (require(5.0, strict=True), 5.0, True, False), (require(5.0, strict=True), 5.0 + 5e-10, True, False),
        (require(5.0, strict=True), 5.001, False, False), (require(None, 7.0), 7.0, False, False), (require(None, 7.0), 7.0 + 5e-10, False, False),
        (require(None, 7.0), 7.001, False, True), (require(None, 7.0, strict=True), 7.0, False, True),
        (require(None, 7.0, strict=True), 7.0 - 5e-10, False, True), (require(None, 7.0, strict=True), 6.999, False, False),
        (require(), 7.0, False, False), (require(5.0, 7.0), 6.0, False, False),
    ],
)  # fmt: skip
def test_sides_of_a_requirement(stated: Require, value: float, small: bool, great: bool) -> None:
    found = _require.too_small(stated, value), _require.too_great(stated, value), _require.met(stated, value)
    assert found == (small, great, not small and not great)


def test_words_of_a_requirement() -> None:
    told = [_require.required(require(strict=strict), "5 mm", upper) for strict in (False, True) for upper in (False, True)]
    ends = " is required"
    assert told == [f"5 mm{ends}", f"at most 5 mm{ends}", f"more than 5 mm{ends}", f"less than 5 mm{ends}"]
    inches: Any = named(units="in")
    assert [_require.unit_of(require(unit=unit), inches) for unit in ("mm", "in", "thou", "")] == ["mm", "in", "thou", "in"]
    assert _require_train._two_numbers(4.0, 5.0) == ("4", "5") and _require_train._two_numbers(4.1, 4.1004) == ("4.1", "4.1004")
    assert _require_train._two_numbers(12.125, 13.0) == ("12.12", "13") and _require_train._two_numbers(100.0, 100.0) == ("100", "100")
    assert [_require_flush._listed(list(names)) for names in ("a", "ab", "abc")] == ["a", "a and b", "a, b and c"]


def test_a_finding_of_a_requirement() -> None:
    metric: Any = named(units="mm")
    found = _require.unmet(require(8.0), metric, "travel", 7.5, 8.0, (), "more", ("corner",), where="here")
    assert (found.message, found.severity, found.parts, found.remedy) == ("travel is 7.5 mm here; 8 mm is required", "error", ("travel", "corner"), "more")
    found = _require.unmet(require(None, 7.0), metric, "travel", 7.5, 7.0, (), "", (), where="", upper=True)
    assert found.message == "travel is 7.5 mm; at most 7 mm is required"


@pytest.mark.parametrize(
    ("low", "high", "slug", "first"),
    [
        (limit("least", "shank_in_insert", 3.0), limit("most", "teeth_part", 2.0), "shank-in-insert", "least"),
        (limit("least", "shank_in_insert", 1.0), limit("most", "teeth_part", 0.5), "teeth-part", "most"),  # begins as it should
        (limit("least", "shank_in_insert", 1.1), limit("most", "teeth_part", 0.5), "shank-in-insert", "least"),
        (limit("least", "bench_nut", 3.0), limit("most", "teeth_part", 2.0), "teeth-part", "most"),
        (limit("least", "bench_nut", 3.0), limit("most", "nut_not_full", 2.0), "no-stroke", "most"),
        (limit("least", "tilted_rim", 3.0), limit("most", "thread_leaves_insert", 2.0), "head-hits-board", "least"),
        (limit("least", "tilted_rim", 3.0), limit("most", "hex_leaves_socket", 2.0), "hex-leaves-socket", "most"),
    ],
)
def test_which_of_two_ends_is_named(low: Limit, high: Limit, slug: str, first: str) -> None:
    found = _stroke.named(_stroke.Crossing(low, high, 0.1))
    assert (found[0], found[1].end, found[2].end) == (slug, first, "most" if first == "least" else "least")
    crossing = _stroke.Crossing(low, high, 0.1)
    assert (_stroke._beside(crossing, low), _stroke._beside(crossing, high)) == (high, low)
    assert _stroke._beside(crossing, replace(low, sentence="another")) is high
    assert _stroke._beside(crossing, replace(high, sentence="another")) is low


def test_figures_of_a_fixed_remedy() -> None:
    found = _stroke._otherwise("{} {screw} {socket}", sliding(), 2.005, "mm")
    assert found == "2.01 mm 27.99 mm 16.01 mm"  # 30 - 2.005 down, 14 + 2.005 up
    assert _stroke._otherwise("{screw} {socket}", riding(length=None), -2.0, "mm") == "2 mm -2 mm"


def test_what_climbers_take() -> None:
    soft = [limit("least", "tip_through", 1.0), limit("most", "teeth_part", 9.0), limit("most", "climber_bench", 6.0), limit("least", "climber_bench", 0.5)]
    heights = [(40.0 + item.extension_mm, item) for item in soft]
    assert _climber_remedy._travel(heights) == 5.0 and _climber_remedy._travel(heights[:1]) == 0.0
    assert _climber_remedy._ending(heights) is soft[2]
    early = replace(soft[3], extension_mm=2.0)
    assert _climber_remedy._ending([heights[0], heights[1], (42.0, early)]) is early
    assert _climber_remedy._ending([*heights[:3], (42.0, early)]) is soft[2]
    # 8 alone, 5 left.
    foot: Any = named(id="corner.nw", height_at_zero_mm=40.0, limits=tuple(soft))
    climber: Any = named(gear="idler")
    soft[2] = replace(soft[2], parts=("corner.nw", "nw", "idler"))
    derived: Any = named(climbers=(named(gear="other"), climber), feet=(named(**vars(foot) | {"limits": tuple(soft)}),))
    found = _climber_remedy.shortened(derived)
    assert found is not None and (found.climber, found.blamed, found.left_mm, found.alone_mm) == (climber, soft[2], 5.0, 8.0)
    for at, lost in ((8.5, False), (8.4, True), (-30.0, True)):
        limits = (*soft[:2], replace(soft[2], extension_mm=at))
        assert (_climber_remedy.shortened(named(climbers=derived.climbers, feet=(named(**vars(foot) | {"limits": limits}),))) is not None) == lost
    assert _climber_remedy.shortened(named(climbers=(), feet=derived.feet)) is None
