"""What is off flush, what loosens, what a workpiece asks for, in generated and hand-written fixtures: worked out anew.

Friction as in the library's tables, from memory; the mechanics is derived. N, mm.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from tests.oracles.second_bolts import ends, feet_at, fitted
from tests.oracles.second_corpus import NAMES, solved
from tests.oracles.second_facts import facts
from tests.oracles.second_shop import bore_mm
from tests.oracles.second_stand import MEAN, length_of
from tests.oracles.second_teeth import train

from trivet.model.hardware import TeeNut
from trivet.solve.flush import flush_of, sideways_mm
from trivet.solve.locking import nut_hold, pivot_turn
from trivet.solve.matching import foot_blocks
from trivet.solve.sway import sways
from trivet.solve.torque import drive_torque, lowering_nmm


def close(value: Any) -> Any:
    return pytest.approx(value, rel=1e-6, abs=1e-9)


def check_parts_of_flush(name: str) -> None:
    f, (design, derived) = facts(name), solved(name)
    lift = derived.lift
    found = flush_of(design, derived, with_sag=False)
    if lift is None or lift.travel_mm <= 0:
        assert found is None
        return
    assert found is not None
    drive = f.held(f.drive_gear)[1]
    rise = abs(f.rise(f.feet[0]))
    wanted = {"setting": rise / (16 if drive.dial is None else 2 * int(drive.dial.marks.number))}
    zero, flat, rock = [], [0.0], []
    for foot in derived.feet:
        z, lead = f.gears[foot.gear].z, foot.foot.thread.lead_mm
        zero.append(lead / (math.lcm(6, z) if foot.foot.zeroed_before_gluing else z) / 2)
        lean = math.tan(math.radians(f.shop.insert_tilt_deg))
        guide = foot.foot.guide
        lean = lean if guide is None else min(lean, guide.clearance.mm / guide.length.mm)
        pad, radius = foot.foot.pad, 0.0
        if foot.touches == "gear":
            radius = train(name).teeth[foot.gear].tip
        elif pad.kind == "disc":
            radius = length_of(pad.diameter) / 2
        elif pad.kind == "head" and foot.foot.screw is not None:
            radius = (foot.foot.screw.head.across_flats_mm or foot.foot.screw.head.diameter_mm) / 2
        if foot.foot.kind != "captured_nut":
            flat.append(2 * radius * lean)
        thread = foot.foot.thread
        d2 = thread.pitch_diameter_mm or thread.major_mm - 3 * math.sqrt(3) / 8 * thread.pitch_mm
        slope = 0.15 / foot.engagement_at_most_mm
        slope = slope if guide is None else min(slope, guide.clearance.mm / guide.length.mm)
        rock.append(d2 / 2 * slope)
        work = f.boards(0)[f.over(foot.foot.into.text)[-1]][1]
        out = max(0.0, (foot.live_z_mm or (0.0, 0.0))[0] - (work - lift.height_max_mm))
        assert sideways_mm(design, lift, foot) == close(slope * out)
    wanted |= {"zeroing": max(zero), "pad_rock": max(flat), "thread_rock": max(rock)}
    wanted["bow"] = max((board.bow.mm for board in f.named["boards"].values() if board.bow is not None), default=0.0)
    assert {part.key: part.mm for part in found.parts} == pytest.approx({k: v for k, v in wanted.items() if v > 1e-9}, rel=1e-6)
    assert found.worst_mm == close(sum(wanted.values())) and found.rss_mm == close(math.hypot(*wanted.values()))


def check_what_loosens(name: str) -> None:
    """A right-hand bolt turned clockwise against its gear runs down: away from a jam nut below. An idler drags a right-hand screw tight by
    turning anticlockwise, seen from above, since its head is below."""
    f, (design, derived) = facts(name), solved(name)
    drive = f.held(f.drive_gear)[1]
    state = derived.drives[0]
    held = nut_hold(design, derived, state)
    lift = derived.lift
    assert (drive.jam_nut is not None and drive.jam_nut.side == "below") is True
    assert held.loosens == ("clockwise" if drive.thread.hand > 0 else "anticlockwise")
    assert held.loosens_while == (None if lift is None else "raising" if lift.raises_when == held.loosens else "lowering")
    hardware = drive.jam_nut.hardware
    wide = hardware.flange_diameter_mm if isinstance(hardware, TeeNut) else hardware.across_flats_mm
    if drive.washer is not None and "below" in drive.washer_places:
        wide = drive.washer.outside_mm
    clamp = 5 * math.pi * (wide**2 - drive.thread.major_mm**2) / 4
    assert (held.clamp_n, held.tightened_nmm) == close((clamp, 0.2 * clamp * drive.thread.major_mm))
    d2 = drive.thread.pitch_diameter_mm or drive.thread.major_mm - 3 * math.sqrt(3) / 8 * drive.thread.pitch_mm
    slide = math.atan(math.sqrt(0.08 * 0.24) / math.cos(math.radians(30)))
    climb = math.atan(drive.thread.lead_mm / math.pi / d2)
    face = math.sqrt(0.2 * 0.6) * clamp * (wide + drive.thread.major_mm) / 4
    both = clamp * d2 / 2 * max(0.0, math.tan(slide - climb)) + min(face, clamp * d2 / 2 * math.tan(slide + climb))
    assert held.holds_nmm == pytest.approx(both, rel=1e-6)
    if held.turns_nmm is not None:
        found = drive_torque(design, derived)
        assert found is not None and found.low_nmm is not None and found.high_nmm is not None
        two = [found.low_nmm, found.high_nmm] if held.loosens_while == "raising" else [lowering_nmm(design, derived, k) or 0.0 for k in (0, 1)]
        assert held.turns_nmm == close(sum(two) / 2) and held.margin == close(both / (sum(two) / 2))
    for pivot in derived.pivots:
        turn = pivot_turn(design, derived, pivot)
        assert turn.loosens == ("clockwise" if pivot.pivot.thread.hand > 0 else "anticlockwise")
        clockwise = f.speeds[pivot.gear] > 0  # with a drive that is turned clockwise
        drives = turn.loosens if clockwise else {"clockwise": "anticlockwise", "anticlockwise": "clockwise"}[turn.loosens]
        assert turn.loosens_while == (None if lift is None else "raising" if lift.raises_when == drives else "lowering")
        assert turn.clamped is (bore_mm(f, pivot.gear) != pivot.pivot.thread.major_mm + f.shop.bore_clearance_mm)


def check_workpieces(name: str) -> None:
    """Thicknesses are tried: which come flush at some height of the travel; blocks are added until the tallest does."""
    design, derived = solved(name)
    lift = derived.lift
    if lift is None:
        return
    assert [item[0] for item in lift.workpieces] == [item.name.text for item in design.workpieces]
    risers, blocks = dict(lift.riser_mm), dict(lift.foot_blocks)
    for piece, (_, flush_from, flush_to, words) in zip(design.workpieces, lift.workpieces, strict=True):
        tried = [t for t in np.arange(piece.least_mm, piece.most_mm + 1e-9, 0.005) if lift.height_min_mm <= piece.riser_mm + t <= lift.height_max_mm]
        assert words.startswith("`" if tried else "no thickness")
        if not tried:
            assert (flush_from, flush_to) == (0.0, 0.0)
        else:
            assert (flush_from, flush_to) == pytest.approx((tried[0], tried[-1]), abs=0.006)
        too_thin = lift.height_min_mm - piece.least_mm
        assert risers.get(piece.name.text) == (close(too_thin) if too_thin > piece.riser_mm else None)
        need = max(piece.riser_mm, too_thin) + piece.most_mm - lift.height_min_mm
        count, reach = 0, lift.travel_mm
        while reach < need - 1e-9 and lift.travel_mm > 1 and count < 500:
            count, reach = count + 1, reach + lift.travel_mm - 1
        assert blocks[piece.name.text] == (count if reach >= need - 1e-9 else None)
        assert blocks[piece.name.text] == foot_blocks(need, lift.travel_mm)


def test_sway() -> None:
    """A cantilever from the thread to the bench, and play of 0.15 mm (assumed) over what is engaged."""
    f, (design, derived) = facts("stopped"), solved("stopped")
    (sway,) = sways(design, derived)
    feet = feet_at("stopped", MEAN, fitted("stopped"))
    one = feet[f.feet[0]]
    e = ends(feet)["most", False] - one.height_at_zero
    free = one.live[0] - (one.plane - e)
    assert sway.free_mm == pytest.approx(free, abs=1e-6)
    root = 8 - 1.226869 * 1.25
    assert sway.bend_mm == pytest.approx(10 * free**3 / (3 * 205_000 * math.pi * root**4 / 64), rel=1e-6)
    assert sway.play_mm == pytest.approx(0.15 * free / (one.bearing + 30 - e - one.live[0]), rel=1e-6)


@pytest.mark.parametrize("name", NAMES)
def test_use(name: str) -> None:
    check_parts_of_flush(name)
    check_what_loosens(name)
    check_workpieces(name)
