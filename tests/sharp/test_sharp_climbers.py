"""Idlers that climb a thread of their own: each limit as a line in the foot's extension, worked out beside it. Lengths mm."""

from __future__ import annotations

from fractions import Fraction
from types import SimpleNamespace as Of
from typing import Any

import pytest
from tests.designs import M8, mm

from trivet.model.base import Band
from trivet.record import replace
from trivet.solve import climber, climber_states
from trivet.solve.corner import Corner
from trivet.solve.foot_case import Bound, FootCase, FootSpec, World
from trivet.solve.thread_zone import ThreadZone


def state(name: str, speed: str | None, direction: int, width: tuple[float, float, float], form: str) -> Any:
    """A gear of some thickness (mean, least, most) that the drive turns at a speed."""
    gear = Of(tooth_form=Of(text=form))
    return Of(id=name, speed=None if speed is None else Fraction(speed), direction=direction, face_width=Band(*width), gear=gear)


FORMS = (("four", mm(4)), ("seven", mm(7)), ("plain", None))
A = state("a", "4/5", 1, (12.0, 11.5, 12.5), "seven")
B = state("b", "8/5", 1, (12.0, 11.5, 12.5), "plain")
C = state("c", "3/5", -1, (10.0, 9.0, 11.0), "four")
UNDER_C = state("c2", "3/5", -1, (10.0, 9.0, 11.0), "plain")
D = state("d", "2/5", 1, (8.0, 7.0, 9.0), "plain")
STILL = state("still", None, 0, (10.0, 9.0, 11.0), "plain")


def spec(name: str, start: float | None, *stack: Any, kind: str = "riding") -> FootSpec:
    foot: Any = Of(thread=M8, kind=kind, into=Of(text="deck"), climbs_from=None if start is None else Of(mm=start), name=Of(text=name))
    return FootSpec(f"{name}.{stack[0].id}", foot, stack[0], tuple(stack), 30.0, 5.8, 3.0)


FIRST, SECOND = spec("corner", None, A), spec("corner", None, B)
LOST, THIRD, FOURTH = spec("lost", 5.0, STILL), spec("climb", 3.0, C, UNDER_C), spec("climb", 1.0, D)


def world(*climbers: FootSpec, neighbours: dict[str, tuple[tuple[str, str], ...]]) -> World:
    forms = tuple(Of(name=Of(text=name), face_overlap=overlap) for name, overlap in FORMS)
    states: Any = {item.id: item for item in (A, B, C, UNDER_C, D, STILL)}
    design: Any = Of(tooth_forms=forms)
    boards: Any = Of(z={"deck": Of(under_mm=-2.0)})
    return World(design, Corner(1, 1), boards, {}, {}, neighbours, states, climbers=climbers)


# Heights at no extension: 18 + 20 and 18 + 21. At 40 the first foot is out by 2 and the second by 1.
CASES = {FIRST.id: FootCase(0.0, -20.0, None, (Bound("least", "own", 0.5, True),), 18.0), SECOND.id: FootCase(0.0, -21.0, None, (), 18.0)}
OWN = FootCase(
    -12.0, -24.0, None, (Bound("least", "meets", 1.0, True, "deck", 0.5), Bound("least", "bench", 5.0, True), Bound("most", "leaves", 9.0, False, "it", 8.0)),
    18.0,
)  # fmt: skip


def test_how_fast_a_climber_climbs() -> None:
    """Leads 1.25: the feet rise 1 and 2 a turn, the climbers go 0.75 up and 0.5 down."""
    assert [climber.rate(item, FIRST) for item in (THIRD, FOURTH, LOST)] == [-0.75, 0.5, None]
    assert [climber.rate(item, SECOND) for item in (THIRD, FOURTH)] == [-0.375, 0.25]
    assert climber.rate(THIRD, LOST) is None
    assert climber.climbed_mm(THIRD, FIRST, 10.0, 2.0) == pytest.approx(3.0 - 0.75 * 8.0) and climber.climbed_mm(LOST, FIRST, 10.0, 2.0) is None
    assert climber.start_mm(FIRST) == 0.0 and climber.start_mm(THIRD) == 3.0
    assert climber_states.climbing_rates((FIRST, SECOND), (LOST, THIRD, FOURTH)) == {"c": -0.75, "c2": -0.75, "d": 0.5}
    assert climber_states.climbing_rates((), (THIRD,)) == {}


def rows(case: FootCase) -> set[tuple[str, str, float, bool, str, float, str]]:
    return {(b.end, b.cause, round(b.at_mm, 6), b.hard, b.party, b.amount_mm, b.gear) for b in case.bounds}


def six(over: float, under: float) -> float:
    return round(over / under, 6)


def test_limits_of_climbers(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(climber, "riding_case", lambda spec, world, corner: OWN)
    meshes = {"c": (("m", "x"), ("m", "a"), ("m", "d")), "c2": (("m", "b"),), "d": (("m", "x"), ("m", "c"))}
    made = world(LOST, THIRD, FOURTH, neighbours=meshes)
    found = climber.with_climbers(CASES, (FIRST, SECOND), made, made.corner, 40.0)
    # c hangs 3 − 0.75 (e − 2) = 4.5 − 0.75 e. At least 1, at most 9; with its head 24 below the board it stays above 20 + e.
    own_c = {
        ("most", "climber_meets", six(3.5, 0.75), True, "deck", 0.5, "c"),
        ("least", "climber_leaves", -6.0, False, "it", 8.0, "c"),
        ("least", "climber_bench", six(8.5, 1.75), True, "c", 0.0, "c"),
    }
    # d hangs 1 + 0.5 (e − 2) = 0.5 e: it comes no nearer the bench than the foot where 24 + 0.5 e <= 20 + e.
    own_d = {
        ("least", "climber_meets", 2.0, True, "deck", 0.5, "d"),
        ("most", "climber_leaves", 18.0, False, "it", 8.0, "d"),
        ("least", "climber_bench", 8.0, True, "d", 0.0, "d"),
    }
    # Tops: c −6.5 + 0.75 e, a −2 − e; thick gears of 11 and 12.5; 7 is the greater of the overlaps that their teeth ask.
    with_a = {
        ("least", "climber_teeth_part", six(-4.5 + 12.5 - 7.0, -1.75), False, "a", 7.0, "c"),
        ("most", "climber_teeth_part", six(4.5 + 11.0 - 7.0, 1.75), False, "a", 7.0, "c"),
        ("least", "climber_teeth_part", six(-4.5 + 12.5 - 1.0, -1.75), True, "a", 1.0, "c"),
        ("most", "climber_teeth_part", six(4.5 + 11.0 - 1.0, 1.75), True, "a", 1.0, "c"),
    }
    # d's top at −2 − 0.5 e, 9 thick; 4 asked.
    with_d = {
        ("least", "climber_teeth_part", six(-4.5 + 9.0 - 4.0, -1.25), False, "d", 4.0, "c"),
        ("most", "climber_teeth_part", six(4.5 + 11.0 - 4.0, 1.25), False, "d", 4.0, "c"),
        ("least", "climber_teeth_part", six(-4.5 + 9.0 - 1.0, -1.25), True, "d", 1.0, "c"),
        ("most", "climber_teeth_part", six(4.5 + 11.0 - 1.0, 1.25), True, "d", 1.0, "c"),
    }
    own = {("least", "own", 0.5, True, "", 0.0, "")}
    assert rows(found[FIRST.id]) == own | own_c | own_d | with_a | with_d
    assert len(found[FIRST.id].bounds) == 15
    # The lower gear, 11 below: top −2 − 11 − 3 + 0.375 (e − 1) = −16.375 + 0.375 e against −2 − e; max(6, 11/2) asked.
    assert rows(found[SECOND.id]) == {
        ("least", "climber_teeth_part", six(-14.375 + 12.5 - 6.0, -1.375), False, "b", 6.0, "c2"),
        ("most", "climber_teeth_part", six(14.375 + 11.0 - 6.0, 1.375), False, "b", 6.0, "c2"),
        ("least", "climber_teeth_part", six(-14.375 + 12.5 - 1.0, -1.375), True, "b", 1.0, "c2"),
        ("most", "climber_teeth_part", six(14.375 + 11.0 - 1.0, 1.375), True, "b", 1.0, "c2"),
    }
    assert (found[FIRST.id].plane_mm, found[SECOND.id].work_mm) == (-20.0, 18.0)


def test_a_climber_in_mesh_with_a_foot_that_stands_still(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(climber, "riding_case", lambda spec, world, corner: OWN)
    still = spec("corner", None, STILL)
    made = world(THIRD, neighbours={"c": (("m", "still"), ("m", "a"))})
    cases = CASES | {still.id: CASES[SECOND.id]}
    found = climber.with_climbers(cases, (FIRST, still), made, made.corner, 40.0)
    assert found[still.id] == cases[still.id] and len(found[FIRST.id].bounds) == 1 + 3 + 4


def test_the_overlap_asked_is_the_greater_of_both() -> None:
    made = world(neighbours={})
    for one, two in (("a", "c"), ("c", "a")):
        found = list(climber._shared(made, one, two, climber.Line(0.0, 0.0), climber.Line(0.0, 1.0)))
        assert [item.amount_mm for item in found] == [7.0, 7.0, 1.0, 1.0]


@pytest.mark.parametrize(
    ("room", "slope", "wanted"),
    [(3.0, 2.0, ("most", 1.5)), (3.0, -0.5, ("least", -6.0)), (-3.0, 0.5, ("most", -6.0)), (0.0, 0.0, None), (2.0, 0.0, None)],
)
def test_a_limit_that_is_a_line(room: float, slope: float, wanted: tuple[str, float] | None) -> None:
    found = [(item.end, item.at_mm) for item in climber._line(room, slope, "cause", True, "deck", 1.0, "c")]
    assert found == ([] if wanted is None else [wanted])


def test_a_limit_that_no_extension_meets() -> None:
    (found,) = climber._line(-0.5, 0.0, "cause", True, "deck", 1.0, "c")
    assert (found.end, found.cause, found.hard, found.party, found.amount_mm, found.gear) == ("most", "cause", True, "deck", 1.0, "c")
    assert found.at_mm < -900.0


def test_climbers_at_both_ends(monkeypatch: pytest.MonkeyPatch) -> None:
    made = world(LOST, THIRD, FOURTH, neighbours={})
    heights: dict[int, Any] = {-1: 40.0, 1: None}

    def cases_at(specs: Any, world: World, corner: Corner) -> Any:
        assert world.climbers == ()
        return CASES | {"sign": corner.board}

    def stroke_of(cases: Any) -> Any:
        low = heights[cases["sign"]]
        return None if low is None else Of(low=Of(height_mm=low))

    monkeypatch.setattr(climber_states, "cases_at", cases_at)
    monkeypatch.setattr(climber_states, "stroke_of", stroke_of)
    worlds = {(0, 0): world(neighbours={}), (-1, 1): replace(made, corner=Corner(-1, 1)), (1, 1): made}
    held = {FIRST.id: (2.0, 10.0), SECOND.id: (1.0, 9.0)}
    found = climber_states.with_climber_ends((FIRST, SECOND), worlds, {key: held for key in worlds})
    assert list(found) == list(worlds) and found[0, 0] == held and found[1, 1] == held
    # 3 − 0.75 (e − 2) and 1 + 0.5 (e − 2).
    assert found[-1, 1] == held | {"climb.c": (3.0, -3.0), "climb.d": (1.0, 5.0)}


def test_thread_of_a_climber_at_both_ends(monkeypatch: pytest.MonkeyPatch) -> None:
    """Its head bears at −12, its screw is 30 long with 22 of thread: tip at 18 − e, thread from −4 − e; live from 0 to 11."""
    case = FootCase(-12.0, -24.0, ThreadZone(0.0, 11.0, 0.0, 15.0), (), 18.0)
    told: list[Any] = []

    def foot_state(*given: Any) -> Any:
        told.append(given)
        return record_of(given[0].id)

    monkeypatch.setattr(climber_states, "riding_case", lambda spec, world, corner: replace(case, zone=None) if spec is LOST else case)
    monkeypatch.setattr(climber_states, "foot_state", foot_state)
    monkeypatch.setattr(climber_states, "replace", lambda state, **facts: Of(**(vars(state) | facts)))
    monkeypatch.setattr(FootSpec, "threaded_mm", property(lambda self: 22.0))
    made = world(LOST, THIRD, FOURTH, neighbours={})
    ends = {(0, 0): {"lost.still": (1.0, 2.0), "climb.c": (9.0, -5.0)}, (1, 1): {"climb.d": (1.0, 1.0)}}
    lost, third, fourth = climber_states.climber_states((FIRST,), {(0, 0): made, (1, 1): world(neighbours={})}, ends, "mm")
    # Tips at 9 and 23, lowest thread at −13 and 1: from 0 to 9, from 1 to 11.
    assert (third.id, third.engagement_at_least_mm, third.engagement_at_most_mm) == ("climb.c", 9.0, 10.0)
    assert lost.engagement_at_least_mm is None and fourth.engagement_at_most_mm is None
    assert all(given[3:] == ([], None, {}, None, "mm") for given in told)


def record_of(name: str) -> Any:
    return Of(id=name, engagement_at_least_mm=None, engagement_at_most_mm=None)


def test_screw_to_buy_for_a_climber(monkeypatch: pytest.MonkeyPatch) -> None:
    """The least extension of each combination, whichever end it is at; 0 where none is known."""
    told: list[Any] = []
    monkeypatch.setattr(climber_states, "riding_case", lambda spec, world, corner: (corner.board, corner.gear, corner.depth, corner.head))
    monkeypatch.setattr(climber_states, "ceiling", lambda design, boards, into, x, y, major: (10.0 * boards.z["deck"].under_mm + x + y + major, "", into))
    monkeypatch.setattr(climber_states, "foot_bolt", lambda *given: told.append(given) or "bought")
    worlds: Any = {(b, g): Of(design=None, boards=Of(z={"deck": Of(under_mm=b)})) for b in (-1, 1) for g in (-1, 1)}
    ends = {(-1, -1): {"climb.c": (3.0, -3.0)}, (-1, 1): {"climb.c": (2.0, 5.0)}, (1, -1): {"climb.d": (9.0, 9.0)}}
    held: Any = Of(x_mm=100.0, y_mm=50.0)
    bought: Any = climber_states.climber_bolt(held, THIRD, worlds, ends, "mm")
    assert bought == "bought" and len(told) == 1
    _, cases, tops, least, unit = told[0]
    assert len(cases) == len(set(cases)) == 16 and unit == "mm"
    by_sheets = {(-1, -1): (148.0, -3.0), (-1, 1): (148.0, 2.0), (1, -1): (168.0, 0.0), (1, 1): (168.0, 0.0)}
    assert [by_sheets[case[:2]] for case in cases] == list(zip(tops, least, strict=True))
