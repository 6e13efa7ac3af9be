"""Travel, heights, limits and shared faces of generated and hand-written fixtures against the second calculation.

Limits are met to 1e-6 mm. Where idlers climb, heights are tried one by one (`test_climbing`).
"""

from __future__ import annotations

import itertools
from typing import Any

import pytest
from tests.oracles.second_bolts import ends, feet_at, fitted
from tests.oracles.second_corpus import NAMES, solved
from tests.oracles.second_facts import facts
from tests.oracles.second_stand import CORNERS, MEAN, SHEETS, Corner, Span, hung, length_of
from tests.oracles.second_teeth import halved
from tests.oracles.second_travel import Foot, foot_at, shared, wanted

from trivet.solve.beyond import beyond_of
from trivet.solve.derived import Limit


def close(value: float) -> Any:
    return pytest.approx(value, abs=1e-6)


def cause_of(limit: Limit) -> str:
    return "bench" if limit.cause.startswith("bench") else limit.cause


def check_limits_of_each_foot(name: str) -> None:
    """Each cause at mean sheets and at the worst of all extremes; the tightest first; the words' lengths are those of the limit."""
    bolt = fitted(name)
    for state in solved(name)[1].feet:
        mean, *every = (foot_at(name, state.gear, c, bolt) for c in (MEAN, *CORNERS))
        wants: list[tuple[str, str, bool, float, float]] = []
        for key, at in mean.edges.items():
            end, cause, _, hard = key
            tightest = max if end == "least" else min
            wants.append((end, cause, hard, at, tightest([at, *(one.edges[key] for one in every if key in one.edges)])))
        got = [(item.end, cause_of(item), item.hard, item.extension_mm, item.extension_worst_mm) for item in state.limits]
        assert len(got) == len(wants)
        for one, two in zip(sorted(got), sorted(wants), strict=True):
            assert one[:3] == two[:3] and one[3:] == close(two[3:]), (state.id, one, two)
        for end, sign in (("least", -1), ("most", 1)):
            there = [sign * item.extension_mm for item in state.limits if item.end == end]
            assert there == sorted(there)
        assert all(item.parts[0] == state.id for item in state.limits)


def check_state_of_each_foot(name: str) -> None:
    f, derived = facts(name), solved(name)[1]
    bolt = fitted(name)
    feet = feet_at(name, MEAN, bolt)
    board = ends(feet)
    assert sorted(state.gear for state in derived.feet) == f.feet
    for state in derived.feet:
        made, foot = feet[state.gear], state.foot
        zeros = [made.height_at_zero, *(foot_at(name, state.gear, c, bolt).height_at_zero for c in CORNERS)]
        band = state.height_at_zero
        assert (band.mean, band.least, band.most) == close((zeros[0], min(zeros), max(zeros)))
        assert state.height_at_zero_mm == close(zeros[0])
        assert state.live_z_mm == close(made.live) and state.insert_z_mm == close(made.whole)
        ridden = f.width(state.gear) if len(f.stack(state.gear)) == 1 else sum(f.width(gear) for gear in f.stack(state.gear))
        under = f.boards(0)[foot.into.text][0]
        stands_out = (under - ridden if foot.kind == "riding" else made.bearing) - made.plane
        assert state.proud_mm == close(stands_out)
        assert state.touches == ("gear" if stands_out <= 0 else "pad" if length_of(foot.pad.drop) > 0 else "head")
        lead = foot.thread.lead_mm
        assert state.zero_step_mm == close(lead / f.gears[state.gear].z)
        # A hexagon in a gear: turned by sixths and by teeth until it stands as before.
        z = f.gears[state.gear].z
        assert state.zero_clockings == len({(a * z + b * 6) % (6 * z) for a in range(6) for b in range(z)})
        assert state.rise_per_turn_mm is not None and float(state.rise_per_turn_mm) == close(f.rise(state.gear))
        kept = hung(name, MEAN, bolt).get(state.gear)
        assert state.keeper_z_mm == (None if kept is None else close(kept.lows["bench_keeper"]))
        for end, said in (("least", state.engagement_at_least_mm), ("most", state.engagement_at_most_mm)):
            e = board[end, False] - made.height_at_zero
            low, high = made.bearing + (state.screw_length_mm or 0) - (state.threaded_mm or 0) - e, made.bearing + (state.screw_length_mm or 0) - e
            assert said == close(max(0.0, shared((low, high), made.live)))


def check_travel_and_heights(name: str) -> None:
    f, derived = facts(name), solved(name)[1]
    lift, bolt = derived.lift, fitted(name)
    assert lift is not None
    mean, *every = (ends(feet_at(name, c, bolt)) for c in (MEAN, *CORNERS))
    low, high = mean["least", False], mean["most", False]
    travel = max(0.0, high - low)
    assert (lift.height_min_mm, lift.height_max_mm) == close((low, low + travel))
    zero = feet_at(name, MEAN, bolt)[derived.feet[0].gear].height_at_zero
    assert (lift.least_mm, lift.most_mm) == close((low - zero, high - zero))
    assert lift.travel_mm == close(travel)
    assert lift.travel_to_parting_mm == close(max(0.0, mean["most", True] - mean["least", True]))
    assert lift.travel_worst_mm == close(max(0.0, min(one["most", False] - one["least", False] for one in every)))
    assert lift.height_every_sheet == close((max(one["least", False] for one in every), min(one["most", False] for one in every)))
    rise = f.rise(derived.feet[0].gear)
    assert lift.per_turn_mm == close(abs(rise)) and lift.raises_when == ("clockwise" if rise > 0 else "anticlockwise")
    assert lift.turns_for_travel == close(travel / abs(rise))
    rises = {round(f.rise(gear), 9) for gear in f.feet}
    assert bool(derived.rise_differs) is (len(rises) > 1)


def check_past_the_travel(name: str) -> None:
    """Turns left to each thing that goes wrong, of each cause the first foot's; the nearest first."""
    f, derived = facts(name), solved(name)[1]
    lift, feet = derived.lift, feet_at(name, MEAN, fitted(name))
    board = ends(feet)
    found: dict[tuple[str, str], float] = {}
    for foot in feet.values():
        for (end, cause, _, hard), e in foot.edges.items():
            if hard:
                past = (board[end, False] - foot.height_at_zero - e) * (1 if end == "least" else -1)
                found[end, cause] = min(found.get((end, cause), 1e9), max(0.0, past))
    rows = beyond_of(derived)
    if lift is None or board["most", False] <= board["least", False]:
        assert rows == ()
        return
    got = {(row.end, cause_of(row.limit)): row.left_mm for row in rows}
    assert got == pytest.approx(found, abs=1e-6)
    for row in rows:
        assert row.turns == close(row.left_mm / abs(f.rise(derived.feet[0].gear)))
    for end in ("least", "most"):
        assert [row.left_mm for row in rows if row.end == end] == sorted(row.left_mm for row in rows if row.end == end)


def spans_of(name: str, gear: str, c: Corner, e: float) -> list[Span]:
    """Where a gear may be: one place of a gear that rides; at extremes, each end of its play of one that hangs."""
    f = facts(name)
    if f.rides(gear):
        foot = f.held(gear)[1]
        top = f.boards(c.board)[foot.into.text][0] - e
        for one in f.stack(gear):
            if one == gear:
                return [(top - f.width(one, c.gear), top)]
            top -= f.width(one, c.gear)
    held = hung(name, c.sheets, fitted(name))[f.root(gear)]
    return held.places[gear] if c.worst else [held.rest[gear]]


def extension(name: str, gear: str, c: Corner, end: str, feet: dict[str, Foot]) -> float:
    root = facts(name).root(gear)
    return ends(feet)[end, False] - feet[root].height_at_zero if root in feet else 0.0


def check_shared_faces_and_tops(name: str) -> None:
    f, derived, bolt = facts(name), solved(name)[1], fitted(name)
    at = {c: feet_at(name, c, bolt) for c in (MEAN, *SHEETS)}

    def face(a: str, b: str, c: Corner, end: str) -> float:
        both = [spans_of(name, gear, c, extension(name, gear, c, end, at[c])) for gear in (a, b)]
        return min(shared(one, two) for one, two in itertools.product(*both))

    for mesh in derived.train.meshes:
        a, b = mesh.a, mesh.b
        assert (mesh.overlap_at_least_mm, mesh.overlap_at_most_mm) == close((face(a, b, MEAN, "least"), face(a, b, MEAN, "most")))
        assert mesh.overlap_worst_mm == close(min(face(a, b, c, end) for c in SHEETS for end in ("least", "most")))
        riding = [gear for gear in (a, b) if f.rides(gear)]
        # What two gears shift along their axes for a millimetre of travel.
        speeds = [f.rise(gear) / f.rise(f.feet[0]) if gear in riding else 0.0 for gear in (a, b)]
        assert mesh.slides == close(abs(speeds[0] - speeds[1]))
        assert wanted(f, a, b, 0) <= min(f.width(a), f.width(b))
    for state in derived.train.gears:
        tops = [span[1] for c in (MEAN, *SHEETS) for span in spans_of(name, state.id, c, extension(name, state.id, c, "least", at[c]))]
        if not f.rides(state.id):
            tops += [hung(name, c, bolt)[f.root(state.id)].rest[state.id][1] for c in SHEETS]
        assert (state.z_top.mean, state.z_top.least, state.z_top.most) == close((tops[0], min(tops), max(tops)))


def check_boards(name: str) -> None:
    f, derived = facts(name), solved(name)[1]
    assert [level.board for level in derived.boards] == list(f.design.boards)
    for level in derived.boards:
        board = level.board.name.text
        assert level.z_under_mm == close(f.boards(0)[board][0])
        assert (level.thickness.least, level.thickness.most) == close((f.thick(board, -1), f.thick(board, 1)))


def check_inserts_driven_the_other_way(name: str) -> None:
    f, derived, bolt = facts(name), solved(name)[1], fitted(name)
    for state in derived.feet:
        if state.foot.insert is None:
            assert state.other_way_travel_mm is None
            continue
        turned = {
            gear: foot_at(name, gear, MEAN, bolt, other_way=f.held(gear)[1].name == state.foot.name) for gear in f.feet
        }
        board = ends(turned)
        assert state.other_way_travel_mm == close(max(0.0, board["most", False] - board["least", False]))


def test_climbing() -> None:
    """Heights of the board tried: the climbers hang where their turns have brought them. From a height that works to both ends by halving."""
    name = "climbing"
    f, derived, bolt = facts(name), solved(name)[1], fitted(name)
    lift = derived.lift
    assert lift is not None
    found = {}
    for c in (MEAN, *CORNERS):
        feet = feet_at(name, c, bolt)
        low, high = ends(feet)["least", False], ends(feet)["most", False]

        def free(height: float, c: Corner = c, feet: Any = feet, low: float = low) -> bool:
            return all(_climbs(name, gear, c, feet, height, low) for gear in f.climbers)

        works = next(low + part * (high - low) for part in (0, 0.25, 0.5, 0.75) if free(low + part * (high - low)))
        found[c] = (halved(low, works, lambda h: not free(h)), halved(works, high, free))
        if c is MEAN:
            # The climbers do take some of the travel that the feet have alone.
            assert found[c][1] < high - 0.1
    assert (lift.height_min_mm, lift.height_max_mm) == close(found[MEAN])
    assert lift.travel_worst_mm == close(min(high - low for low, high in found.values()))
    assert lift.height_every_sheet == close((max(low for low, _ in found.values()), min(high for _, high in found.values())))
    states = {state.gear: state for state in derived.climbers}
    assert sorted(states) == f.climbers
    low, high = found[MEAN]
    start = ends(feet_at(name, MEAN, bolt))["least", False]
    for gear, state in states.items():
        one, rate = foot_at(name, gear, MEAN, None), f.rise(gear) / f.rise(f.feet[0])
        for height, said in ((low, state.engagement_at_least_mm), (high, state.engagement_at_most_mm)):
            tip = one.bearing + 30 - (2 + rate * (height - start))
            assert said == close(max(0.0, min(tip, one.live[1]) - one.live[0]))


def _climbs(name: str, gear: str, c: Corner, feet: dict[str, Foot], height: float, lowest: float) -> bool:
    """Whether a climber is free and in mesh at a height: 2 mm down at the lowest, from there by its own lead and turns."""
    f = facts(name)
    e = 2 + f.rise(gear) / f.rise(f.feet[0]) * (height - lowest)
    one = foot_at(name, gear, c, None)
    if any(room(e) < -1e-9 for (_, cause, _, _), room in one.rooms.items() if cause != "bench"):
        return False
    standing = next(iter(feet.values()))
    if one.plane - e < standing.plane - (height - standing.height_at_zero) - 1e-9:
        return False
    top = -e
    for mate in f.mates(gear):
        if mate in feet:
            other = -(height - feet[mate].height_at_zero)
            width = f.width(gear, c.gear)
            if shared((top - width, top), (other - width, other)) < wanted(f, gear, mate, c.gear) - 1e-9:
                return False
    return True


@pytest.mark.parametrize("name", [name for name in NAMES if name != "climbing"])
def test_travel(name: str) -> None:
    check_limits_of_each_foot(name)
    check_state_of_each_foot(name)
    check_travel_and_heights(name)
    check_past_the_travel(name)
    check_shared_faces_and_tops(name)
    check_boards(name)
    check_inserts_driven_the_other_way(name)
