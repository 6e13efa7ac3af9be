"""Travel of each foot kind against a slow second calculation: solids along z, moved in steps of 0.01 mm, kept or refused one by one.

Written from the description of the mechanism alone; it shares no code with the solver. Each position is tried at mean sheets and at all
sixteen combinations of thin and thick board and gears, shallow and deep pockets, low and high heads.
Tolerance 0.02 mm: one step at each end. The margins (0.5 mm below the topside, 6 mm of face or half the thinner gear, 1.0 d of thread,
1 mm to parting) are common practice, no source; what is tested is that the closed forms hold them.
"""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given, seed, settings
from hypothesis import strategies as st
from tests.designs import M8, design, gear, mesh, mm, tooth_form
from tests.designs_feet import FULL, HEX, JAM, captured, crank, hex_screw, pin, riding, sliding

from trivet.model.base import Band, Ref
from trivet.model.board import Face
from trivet.model.foot import Foot, InsertUse, Pad
from trivet.model.hardware import Head, Insert, ThreadLength, Washer
from trivet.model.shop import Sheet, Shop
from trivet.model.train import DriveNut
from trivet.solve.derived import Lift
from trivet.solve.solve import solve

STEP = 0.01
TOLERANCE = 0.021
MODULE, TEETH, HUB = 6.0, 20, 16
DEPTH_ERROR = 0.2
CLEARANCE = 0.2


@dataclass(frozen=True)
class Numbers:
    """The dimensions of one random fixture, mm."""

    deck: tuple[float, float, float]
    gears: tuple[float, float, float]
    length: float
    threaded: float
    pocket: float
    drop: float
    head_max: float
    tilt_deg: float
    washer: float
    play: float
    recess: float
    bolt: float
    insert: tuple[float, float, float]
    driven_from: Face
    flush: Face
    proud: float
    socket: float
    nut_height: float
    pin: float
    wide: bool


def tenths(low: int, high: int) -> st.SearchStrategy[float]:
    return st.integers(low, high).map(lambda value: value / 10)


@st.composite
def numbers(draw: Any) -> Numbers:
    spread = draw(st.tuples(tenths(0, 4), tenths(0, 4)))
    deck, gears = draw(tenths(120, 250)), draw(tenths(90, 250))
    live_from = draw(tenths(0, 40))
    length = draw(st.integers(20, 70))
    return Numbers(
        deck=(deck, deck - spread[0], deck + spread[0]),
        gears=(gears, gears - spread[1], gears + spread[1]),
        length=float(length),
        threaded=draw(st.sampled_from((float(length), min(22.0, length)))),
        pocket=draw(tenths(10, 80)),
        drop=draw(tenths(0, 80)),
        head_max=5.3 + draw(tenths(0, 3)),
        tilt_deg=draw(st.sampled_from((0.0, 0.3, 0.5, 1.0))),
        washer=draw(st.one_of(tenths(10, 30), tenths(30, 140))),
        play=draw(tenths(2, 8)),
        recess=draw(tenths(30, 80)),
        bolt=draw(st.sampled_from((25.0, 27.5, 30.0, 35.0))),
        insert=(draw(tenths(100, 200)), live_from, 0.0),
        driven_from=draw(st.sampled_from(("topside", "underside"))),
        flush=draw(st.sampled_from(("topside", "underside"))),
        proud=draw(st.sampled_from((0.0, 0.0, 1.0))),
        socket=draw(tenths(60, 200)),
        nut_height=6.8,
        pin=draw(st.sampled_from((0.0, 3.0))),
        wide=draw(st.booleans()),
    )


def fixture(n: Numbers, foot: Foot) -> Any:
    """A hub, an idler and one foot in a row."""
    washer = Washer(standard="ISO 7093-1", size="M6", inside_mm=6.4, outside_mm=18.0, thickness_mm=n.washer,
                    thickness_max_mm=n.washer + 0.2, thickness_min_mm=n.washer - 0.2)
    stock: dict[str, Any] = {"stock": Ref("gears")}
    return design(
        (gear("hub", HUB, (0, 0), drive=True, **stock), gear("west", TEETH, **stock), gear("nw", TEETH, foot=True, **stock)),
        (mesh("hub", "west", 180.0), mesh("west", "nw", 118.0)),
        sheets=(Sheet(name=Ref("ply"), thickness=Band(*n.deck)), Sheet(name=Ref("gears"), thickness=Band(*n.gears))),
        shop=Shop(insert_tilt_deg=n.tilt_deg, depth_mm=DEPTH_ERROR, bore_clearance_mm=CLEARANCE),
        feet=(foot,),
        pivots=(pin(washer=washer, play=mm(n.play), head_recessed=mm(n.recess)),),
        drives=(crank(length=mm(n.bolt)),),
        tooth_forms=(tooth_form(module=MODULE, backlash="0.5"),),
    )


def overlap(a: tuple[Any, Any], b: tuple[Any, Any]) -> Any:
    return np.minimum(a[1], b[1]) - np.maximum(a[0], b[0])


def lowest_fixed(n: Numbers, deck: float, gears: float, shallow: float, deep: float) -> float:
    """Lowest of idler, its screw's head, drive gear, jam nut and bolt end; everything that hangs, hung as low as it goes."""
    washer = n.washer + 0.2
    recess = n.recess - shallow
    lean = min(CLEARANCE / (gears - recess), n.play / 18.0)
    rim = -washer - n.play - gears - lean * MODULE * (TEETH / 2 + 1)
    head = -washer - n.play - (gears - recess) - washer - 4.6
    drive_bottom = -0.2 - 1.5 - gears
    drive_lean = min(0.4 / (deck - (9.0 - shallow)), 0.2 / 22.0)
    jam = drive_bottom + (6.0 - shallow) - 4.0
    bolt = deck - (9.0 + deep) - n.bolt
    return min(rim, head, drive_bottom - drive_lean * MODULE * (HUB / 2 + 1), jam, bolt)


def idler(n: Numbers, gears: float, worst: bool) -> list[tuple[float, float]]:
    """Where the idler can be: hanging at rest, or at both ends of its play with either washer."""
    tops = [-n.washer - n.play] if not worst else [-(n.washer - 0.2), -(n.washer + 0.2) - n.play]
    return [(top - gears, top) for top in tops]


def live_zone(n: Numbers, deck: float) -> tuple[float, float, float]:
    """(bottom of the insert, live low, live high)."""
    length, live_from, _ = n.insert
    bottom = -n.proud if n.flush == "underside" else deck + n.proud - length
    live = (bottom, bottom + length - live_from) if n.driven_from == "topside" else (bottom + live_from, bottom + length)
    return bottom, *live


def acceptable(kind: str, n: Numbers, e: Any, deck: float, gears: float, depth: float, head: float, worst: bool) -> tuple[Any, Any, Any]:
    """(comfortable, not parted, foot plane) for every extension in `e`."""
    k = 5.3 + head * (n.head_max - 5.3)
    low = lowest_fixed(n, deck, gears, DEPTH_ERROR if worst else 0.0, DEPTH_ERROR if worst else 0.0)
    fine, whole = np.ones_like(e, dtype=bool), np.ones_like(e, dtype=bool)
    if kind == "riding":
        bottom, top = -e - gears, -e
        bearing = bottom + n.pocket + depth * DEPTH_ERROR
        plane = np.minimum(bottom, bearing - k - n.drop)
        insert_bottom, live_low, live_high = live_zone(n, deck)
        solid = (top + MODULE * (TEETH / 2 + 1) * math.tan(math.radians(n.tilt_deg)) <= 0) & (top <= min(0.0, insert_bottom))
        want = min(max(6.0, gears / 2), gears)
        for place in idler(n, gears, worst):
            fine &= overlap((bottom, top), place) >= want
        for place in idler(n, gears, True):
            whole &= overlap((bottom, top), place) >= 1.0
    else:
        keeper_top = -(n.gears[2] + 0.3)
        keeper = keeper_top - gears
        low = min(low, keeper)
        if kind == "captured_nut":
            foot_top = keeper - e
            tip, plane = foot_top + n.length, foot_top - n.drop
            nut = (-gears, -gears + n.nut_height)
            solid = (foot_top <= keeper - 0.5) & (tip <= deck - 0.5) & (plane <= low)
            fine &= tip - 1.25 >= nut[1]
            whole &= tip - 1.25 >= nut[0]
            if n.pin:
                fine &= tip - n.pin >= n.pin
                whole &= tip - n.pin - n.pin / 2 >= 0
            return solid & fine & whole, solid & whole, plane
        socket = (keeper_top, keeper_top + min(n.socket + depth * DEPTH_ERROR, gears))
        bearing = socket[1] - e
        plane = bearing - k - n.drop
        _, live_low, live_high = live_zone(n, deck)
        solid = bearing <= socket[1]
        if n.wide:
            solid &= bearing - k <= socket[0] - 0.5
        held = overlap((bearing - k, bearing), socket)
        # Step grid and floats: a hex that is exactly as deep as wanted counts.
        fine &= held >= min(max(0.6 * k, min(4.0, k)), socket[1] - socket[0]) - 1e-9
        whole &= held >= 1.0
    tip = bearing + n.length
    solid &= (tip <= deck - 0.5) & (plane <= low) & (bearing + n.length - n.threaded <= live_low)
    engaged = overlap((bearing + n.length - n.threaded, tip), (live_low, live_high))
    fine &= engaged >= min(8.0, live_high - live_low) - 1e-9
    whole &= engaged >= 1.25
    return solid & fine & whole, solid & whole, plane


def span(keep: Any, e: Any) -> tuple[float, float] | None:
    kept = e[keep]
    return (float(kept[0]), float(kept[-1])) if kept.size else None


def compare(kind: str, n: Numbers, foot: Foot) -> Lift | None:
    lift = solve(fixture(n, foot)).lift
    assert lift is not None
    e = np.arange(-20.0, 90.0, STEP)
    comfort, whole, plane = acceptable(kind, n, e, n.deck[0], n.gears[0], 0, 0, False)
    stroke, parting = span(comfort, e), span(whole, e)
    if stroke is None:
        assert lift.travel_mm <= TOLERANCE
    else:
        assert stroke[1] - stroke[0] == pytest.approx(lift.travel_mm, abs=TOLERANCE)
        assert stroke == pytest.approx((lift.least_mm, lift.most_mm), abs=TOLERANCE)
        height = n.deck[0] - float(plane[np.searchsorted(e, stroke[0] - 1e-9)])
        assert height == pytest.approx(lift.height_min_mm, abs=TOLERANCE)
    assert (parting[1] - parting[0] if parting else 0.0) == pytest.approx(lift.travel_to_parting_mm, abs=TOLERANCE)
    travels = []
    for deck, gears, depth, head in itertools.product(n.deck[1:], n.gears[1:], (-1, 1), (-1, 1)):
        kept = span(acceptable(kind, n, e, deck, gears, depth, head, True)[0], e)
        travels.append(kept[1] - kept[0] if kept else 0.0)
    assert min(travels) == pytest.approx(lift.travel_worst_mm, abs=TOLERANCE)
    return lift


def screw_of(n: Numbers) -> Any:
    head = Head(form="hexagon", diameter_mm=14.38, height_mm=5.3, height_max_mm=n.head_max, across_flats_mm=HEX.across_flats_mm,
                across_corners_mm=14.38)
    partly = ThreadLength(full=False, factor=0.0, to_125_mm=n.threaded)
    return hex_screw(head=head, threaded=FULL if n.threaded == n.length else partly)


def insert_of(n: Numbers) -> InsertUse:
    length, live_from, _ = n.insert
    part = Insert(table="measured", thread=M8, outside=Band(16.0, 15.9, 16.1), length_mm=length, live_from_mm=live_from,
                  live_to_mm=length, hole_mm=13.5)
    return InsertUse(hardware=part, driven_from=n.driven_from, flush=n.flush, proud=mm(n.proud))


@seed(20)
@settings(max_examples=120, deadline=None)
@given(numbers())
def test_riding(n: Numbers) -> None:
    compare("riding", n, riding(screw=screw_of(n), length=mm(n.length), pocket=mm(n.pocket), pad=Pad(kind="dome", drop=mm(n.drop)))
            .model_copy(update={"insert": insert_of(n)}))


@seed(21)
@settings(max_examples=80, deadline=None)
@given(numbers())
def test_captured_nut(n: Numbers) -> None:
    foot = captured(length=mm(n.length), pad=Pad(kind="dome", drop=mm(n.drop)), rod_stop_diameter=mm(n.pin) if n.pin else None)
    keeper = foot.keeper
    assert keeper is not None
    compare("captured_nut", n, foot.model_copy(update={"keeper": keeper.model_copy(update={"stock": Ref("gears")})}))


@seed(22)
@settings(max_examples=120, deadline=None)
@given(numbers())
def test_sliding_hex(n: Numbers) -> None:
    # Screws and posts that come near the topside and the bench, so that most samples have some travel.
    reach = round(n.deck[0] + n.gears[2] + 0.3 - min(n.socket, n.gears[1]))
    length = max(reach - round(n.drop), 10)
    n = replace(n, length=float(length), threaded=min(float(length), n.threaded) if n.threaded == 22.0 else float(length), drop=n.drop + 30.0, bolt=27.5)
    pad = Pad(kind="dome", drop=mm(n.drop), diameter=mm(20 if n.wide else 8))
    foot = sliding(screw=screw_of(n), length=mm(n.length), socket_depth=mm(n.socket), pad=pad)
    keeper = foot.keeper
    assert keeper is not None
    update = {"keeper": keeper.model_copy(update={"stock": Ref("gears")}), "insert": insert_of(n)}
    compare("sliding_hex", n, foot.model_copy(update=update))


def test_the_samples_reach_both_ends() -> None:
    """The random fixtures above are not all without travel: this one, of middling numbers, has each kind of end."""
    n = Numbers(deck=(17.8, 17.6, 18.0), gears=(17.8, 17.6, 18.0), length=30.0, threaded=30.0, pocket=5.8, drop=3.0, head_max=5.45,
                tilt_deg=0.5, washer=1.6, play=0.3, recess=7.0, bolt=27.5, insert=(15.0, 4.0, 0.0), driven_from="topside",
                flush="underside", proud=0.0, socket=14.0, nut_height=6.8, pin=3.0, wide=False)
    lift = compare("riding", n, riding())
    # By hand: least e 0.7 (tip: 5.8 + 30 + 0.5 − 17.8 − 17.8), most 10.0 (thread: 30 + 5.8 − 17.8 − 8).
    assert lift is not None
    assert (lift.least_mm, lift.most_mm) == pytest.approx((0.7, 10.0))


def test_jam_nut_proud() -> None:
    """A jam nut that is not let in hangs below its gear and counts as the lowest point."""
    low = solve(fixture_with_jam()).drives[0].z_low_mm
    # play 0.2, flange 1.5, gear 17.8, nut 4.0
    assert low == pytest.approx(-(0.2 + 1.5 + 17.8 + 4.0))


def fixture_with_jam() -> Any:
    return design((gear("hub", HUB, (0, 0), drive=True),), (), drives=(crank(jam_nut=DriveNut(hardware=JAM, side="below"), length=mm(30)),))
