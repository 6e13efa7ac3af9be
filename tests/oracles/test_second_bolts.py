"""Every bolt, screw, sleeve and stack of generated and hand-written fixtures against the second calculation."""

from __future__ import annotations

from typing import Any

import pytest
from tests.oracles.second_bolts import SPARE, Bolt, drive_bolt, ends, feet_at, fitted, pivot_screw
from tests.oracles.second_corpus import NAMES, solved
from tests.oracles.second_facts import facts
from tests.oracles.second_stand import CORNERS, MEAN, SHEETS, Corner, hangs, hung, lowest, sleeve_of, tip, turned
from tests.oracles.second_travel import screw_length, threaded

from trivet.solve.derived import BoltChoice
from trivet.solve.drive_stop import stop_plan


def close(value: float | None) -> Any:
    return None if value is None else pytest.approx(value, abs=1e-6)


def compare(got: BoltChoice, bolt: Bolt, abs_mm: float = 1e-6) -> None:
    assert (got.least_mm, got.most_mm) == pytest.approx((bolt.least, bolt.most), abs=abs_mm)
    assert (got.buy_mm, got.cut_to_mm) == (close(bolt.buy), close(bolt.cut))
    assert got.fits is bolt.fits


def check_drive_bolts(name: str) -> None:
    f, derived = facts(name), solved(name)[1]
    (state,) = derived.drives
    got = next(item for item in derived.bolts if item.part == state.id)
    drive = f.held(f.drive_gear)[1]
    # A stop's turns are found to 1e-4 by the solver.
    compare(got, drive_bolt(name), 1e-3 if drive.stop else 1e-6)
    mean = turned(f, f.drive_gear, MEAN, 0)
    assert state.play_mm == close(mean.play)
    assert state.droop_mm == close(mean.lean * tip(name, f.drive_gear))
    every = [turned(f, f.drive_gear, Corner(c.board, c.gear, depth), 0) for c in SHEETS for depth in (-1, 1)]
    assert state.remaining_under_head_mm == close(min(one.left for one in every))
    lengths = sum(band.mean for what, band in got.stack if not what.startswith("stop"))
    assert lengths == close(mean.holds)
    for what, sign, pick in (("least", -1, min), ("most", 1, max)):
        extreme = [turned(f, f.drive_gear, Corner(c.board, c.gear, depth), thick).holds for c in SHEETS for depth, thick in ((-1, 1), (1, -1))]
        total = sum(getattr(band, what) for part, band in got.stack if not part.startswith("stop"))
        # Parts that vary against each other give a sum no narrower than the whole.
        assert sign * total >= sign * pick(extreme) - 1e-6
    assert {what for what, _ in got.stack} <= {
        "head within the length", "washer under the head", "boards under the head", "play", "gears of higher levels",
        "washer above the gear", "nut above the gear", "gear between its nuts", "washer below the gear", "nut below the gear",
        "stop on the end of the bolt",
    }  # fmt: skip


def check_pivots(name: str) -> None:
    f, derived = facts(name), solved(name)[1]
    bolts = {item.part: item for item in derived.bolts}
    roots = sorted(gear for gear in f.gears if f.gears[gear].turns_on is not None)
    assert sorted(state.gear for state in derived.pivots) == roots
    for state in derived.pivots:
        got = bolts[state.id]
        compare(got, pivot_screw(name, state.gear))
        mean = hangs(f, state.gear, MEAN, 0)
        every = [hangs(f, state.gear, Corner(c.board, c.gear, depth), thick).play for c in SHEETS for depth, thick in ((-1, 1), (1, -1))]
        assert (state.play.mean, state.play.least, state.play.most) == close((mean.play, min(every), max(every)))
        assert state.sleeve_length_mm == close(sleeve_of(f, state.gear))
        assert state.droop_mm == close(mean.lean * tip(name, state.gear))
        # Plywood of 18 mm thickens by 0.063 for a percent (from memory).
        percent = f.shop.moisture_most - f.shop.moisture_least
        assert state.swelling_mm == close(0.0035 * percent * sum(f.width(gear) for gear in f.stack(state.gear)))
        assert sum(band.mean for _, band in got.stack) == close(mean.holds)
        assert got.room_ends_at.startswith("just below" if state.pivot.nut is None else "the topside")


def check_foot_screws(name: str) -> None:
    """The least length that is fully held, the most that stays under the topside, at each extreme's own least extension."""
    f, derived = facts(name), solved(name)[1]
    bolts = {item.part: item for item in derived.bolts}
    made = {c: feet_at(name, c, fitted(name)) for c in CORNERS}
    for state in derived.feet if not f.climbers else ():
        got, foot, lows, highs = bolts[state.id], state.foot, [], []
        for feet in made.values():
            one = feet[state.gear]
            e = ends(feet)["least", False] - one.height_at_zero
            need = min(foot.thread.major_mm, one.live[1] - one.live[0])
            lows.append(one.live[0] + need + e - one.bearing)
            through = next(at for (_, cause, _, _), at in one.edges.items() if cause.startswith("tip_"))
            # A tip that just stays under at its own edge has so much more room at the board's.
            highs.append(screw_length(foot) + e - through)
        assert (got.least_mm, got.most_mm) == pytest.approx((max(lows), min(highs)), abs=2e-3)
        stock = foot.screw.stock_mm if foot.screw is not None else ()
        long = screw_length(foot)
        assert got.buy_mm == close(min((length for length in stock if length >= long - 1e-6), default=None))
        cut = long if foot.screw is None or (got.buy_mm is not None and got.buy_mm > long + 1e-6) else None
        assert got.cut_to_mm == close(cut)
        held = got.least_mm - 1e-6 <= long <= got.most_mm + 1e-6
        assert got.fits is (held and (foot.screw is None or got.buy_mm is not None))
        assert state.threaded_mm == close(threaded(foot))


def check_lowest_points(name: str) -> None:
    f, derived = facts(name), solved(name)[1]
    bolt = fitted(name)
    assert derived.low_point_mm == close(lowest(name, MEAN, bolt))
    states = {state.gear: state for state in (*derived.drives, *derived.pivots)}
    for root, state in states.items():
        worst = [min(hung(name, c, bolt)[root].lows.values()) for c in (MEAN, *SHEETS)]
        assert (state.z_low_mm, state.z_low_worst_mm) == close((worst[0], min(worst)))
    hangs_lowest = derived.low_point_part.split("`")[1]
    assert hangs_lowest in f.gears or hangs_lowest in f.named["boards"] or hangs_lowest in f.named["drives"]


def test_a_stop_lets_the_travel_and_its_spares() -> None:
    f, derived = facts("stopped"), solved("stopped")[1]
    plan = stop_plan(derived, derived.drives[0])
    lift = derived.lift
    assert plan is not None and lift is not None
    drive = f.held("hub")[1]
    feet = ends(feet_at("stopped", MEAN, fitted("stopped")))
    turns = (feet["most", False] - feet["least", False]) / abs(f.rise(f.feet[0]))
    left = [max(0.0, feet["least", False] - feet["least", True]), max(0.0, feet["most", True] - feet["most", False])]
    past = [min(SPARE, mm / abs(f.rise(f.feet[0])) / 2) for mm in left]
    assert (plan.past_least_turns, plan.past_most_turns) == pytest.approx(tuple(past), abs=1e-6)
    assert plan.turns == pytest.approx(turns + sum(past), abs=1e-6)
    assert plan.window_mm == pytest.approx(plan.turns * 1.25, abs=1e-6)
    mean = turned(f, "hub", MEAN, 0)
    washer = drive.stop_washer.thickness_max_mm if drive.stop_washer is not None else 0.0
    assert plan.end_nut_mm == close(mean.holds + plan.window_mm + drive.stop_nut.height_mm + washer)
    # Clockwise the bolt draws a nut that cannot turn up to its head; the board comes up so where right-hand feet turn with the drive.
    meets = ("end nut", "jam nut") if f.rise(f.feet[0]) > 0 else ("jam nut", "end nut")
    assert (plan.least_meets, plan.most_meets) == meets
    assert (plan.left_least_turns, plan.left_most_turns) == close(tuple(mm / abs(f.rise(f.feet[0])) - p for mm, p in zip(left, past, strict=True)))


@pytest.mark.parametrize("name", NAMES)
def test_bolts(name: str) -> None:
    check_drive_bolts(name)
    check_pivots(name)
    check_foot_screws(name)
    check_lowest_points(name)
