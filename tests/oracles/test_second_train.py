"""Gears and meshes of generated and hand-written fixtures against the second calculation, written from the geometry alone.

Distances and thinnings are searched to 1e-9 mm, so 1e-6 is allowed; speeds are exact.
"""

from __future__ import annotations

import math
from dataclasses import replace
from functools import partial
from typing import Any

import pytest
from tests.oracles.second_corpus import NAMES, solved
from tests.oracles.second_facts import facts
from tests.oracles.second_shop import Shares, bore_mm, shares, swing
from tests.oracles.second_teeth import (
    Teeth,
    backlash,
    contact_ratio,
    goes_down,
    halved,
    line,
    reach_past,
    tight,
    train,
    working_angle,
)

from trivet.solve.gear_measure import chordal_size, span_contact_radius_mm, span_mm, span_teeth


def close(value: float) -> Any:
    return pytest.approx(value, abs=1e-6)


def check_gears(name: str) -> None:
    f, made, speeds = facts(name), train(name), facts(name).speeds
    states = {state.id: state for state in solved(name)[1].train.gears}
    assert set(states) == set(f.gears)
    for gear, state in states.items():
        teeth, g = made.teeth[gear], state.geometry
        assert (state.x_mm, state.y_mm) == close(made.places[gear])
        assert (state.speed, state.direction) == (abs(speeds[gear]), 1 if speeds[gear] > 0 else -1)
        assert (g.pitch_radius_mm, g.base_radius_mm, g.root_radius_mm) == close((teeth.r, teeth.rb, teeth.rf))
        assert (state.tip_radius_mm, g.reached_tip_radius_mm) == close((teeth.tip, teeth.ra))
        assert (g.thinning_mm, g.thickness_mm, g.tip_land_mm) == close((teeth.thin, teeth.s, 2 * teeth.tip * teeth.half(teeth.tip)))
        assert (g.tip_pull_mm, g.base_pitch_mm) == close((line(teeth), 2 * math.pi * teeth.rb / teeth.z))
        assert (g.addendum_mm, g.whole_depth_mm) == close((teeth.tip - teeth.r, teeth.tip - teeth.rf))
        kind, block = f.held(gear)
        assert state.kind == {"drive": "drive", "pivot": "idler", "climber": "idler", "foot": "foot"}[kind]
        assert (state.shaft, state.level) == (f.root(gear), f.level(gear))
        assert state.foot_id == (f"{block.name.text}.{gear}" if f.gears[gear].carries is not None else "")
        assert (state.face_width.least, state.face_width.mean, state.face_width.most) == close(tuple(f.width(gear, s) for s in (-1, 0, 1)))
        assert state.hole_mm == close(bore_mm(f, gear))
        assert state.cutter_diameter_mm == close(f.named["cutters"][f.gears[gear].cutter.text].diameter.mm)
        # Over k teeth: a caliper's jaws unwind the base circle: k − 1 pitches and one tooth of it, touching nearest to the shifted circle.
        k = span_teeth(g)
        base = 2 * math.pi * teeth.rb / teeth.z
        spans = {n: (n - 1) * base + 2 * teeth.rb * teeth.half(teeth.rb) for n in (k - 1, k, k + 1)}
        assert span_mm(g, k) == close(spans[k])
        bare = teeth.thin * math.cos(teeth.a)
        touched = {n: math.hypot(teeth.rb, (span + bare) / 2) for n, span in spans.items()}
        assert span_contact_radius_mm(g, k) == close(math.hypot(teeth.rb, spans[k] / 2))
        wanted = teeth.r + teeth.x * teeth.m
        assert k == 2 or abs(touched[k] - wanted) <= min(abs(touched[n] - wanted) for n in (k - 1, k + 1)) + 0.5
        chord = chordal_size(g)
        angle = teeth.s / 2 / teeth.r
        assert (chord.thickness_mm, chord.height_mm) == close((2 * teeth.r * math.sin(angle), teeth.tip - teeth.r * math.cos(angle)))
        steps = list(zip(state.path, state.path[1:], strict=False))
        assert state.path[0] == f.drive_gear and state.path[-1] == gear
        assert all(frozenset(step) in f.pairs or f.root(step[0]) == f.root(step[1]) for step in steps)


def check_meshes(name: str) -> None:
    f, made = facts(name), train(name)
    meshes = solved(name)[1].train.meshes
    assert {frozenset((mesh.a, mesh.b)) for mesh in meshes} == set(f.pairs)
    for mesh in meshes:
        one, two = made.teeth[mesh.a], made.teeth[mesh.b]
        apart = made.distances[frozenset((mesh.a, mesh.b))]
        assert mesh.centre_distance_mm == close(apart)
        assert mesh.standard_centre_distance_mm == close(one.m * (one.z + two.z) / 2)
        assert mesh.tight_centre_distance_mm == close(tight(replace(one, thin=0.0), replace(two, thin=0.0)))
        assert math.radians(mesh.working_pressure_angle_deg) == close(working_angle(one, two, apart))
        assert mesh.contact_ratio == close(contact_ratio(one, two, apart))
        clear = (apart - one.ra - two.rf, apart - two.ra - one.rf)
        assert mesh.geometry.tip_clearance_mm == close(clear) and mesh.tip_clearance_mm == close(min(clear))
        whole = math.sqrt(apart**2 - (one.rb + two.rb) ** 2)
        assert mesh.geometry.tip_limit_mm == close((math.hypot(one.rb, whole), math.hypot(two.rb, whole)))
        assert mesh.geometry.working_radii_mm == close((apart * one.z / (one.z + two.z), apart * two.z / (one.z + two.z)))
        assert mesh.geometry.path_mm == close(line(one) + line(two) - whole)
        starts = [max(0.0, whole - line(mate)) for mate in (two, one)]
        assert mesh.geometry.start_radius_mm == close((math.hypot(one.rb, starts[0]), math.hypot(two.rb, starts[1])))
        assert mesh.geometry.normal_backlash_mm == close(mesh.backlash.nominal_mm * math.cos(working_angle(one, two, apart)))
        assert mesh.interference_a_mm == close(reach_past(one, two, apart))
        assert mesh.interference_b_mm == close(reach_past(two, one, apart))
        assert mesh.geometry.working_depth_mm == close(one.ra + two.ra - apart)
        assert mesh.geometry.start_pull_mm == close(
            tuple(math.sqrt(apart**2 - (one.rb + two.rb) ** 2) - line(mate) for mate in (two, one))
        )
        assert mesh.backlash.nominal_mm == close(backlash(one, two, apart))
        wanted = (f.form(mesh.a).backlash.mm + f.form(mesh.b).backlash.mm) / 2
        assert mesh.backlash.nominal_mm >= wanted - 1e-6
        assert mesh.geometry.angular_backlash_rad == close(
            tuple(mesh.backlash.nominal_mm * (one.z + two.z) / apart / z for z in (one.z, two.z))
        )


def check_backlash_with_every_error(name: str) -> None:
    made = train(name)
    for mesh in solved(name)[1].train.meshes:
        one, two = made.teeth[mesh.a], made.teeth[mesh.b]
        apart = mesh.centre_distance_mm
        s: Shares = shares(name, mesh.a, mesh.b)
        moved = sum(s.shifts.values())
        said = mesh.backlash
        assert said.min_mm == close(s.at(one, two, apart - moved, -1)), mesh.id
        assert said.max_mm == close(s.at(one, two, apart + moved, 1)), mesh.id
        # First-order shares: how much the exact backlash changes as the axes move a little.
        step = 1e-4
        slope = (backlash(one, two, apart + step) - backlash(one, two, apart - step)) / (2 * step)
        parts = {what: shift * slope for what, shift in s.shifts.items()} | s.others(one, two, apart)
        got = {what: share for what, share, _ in said.contributors}
        assert {what: share for what, share in parts.items() if share > 1e-12} == pytest.approx(got, abs=1e-5), mesh.id
        assert [share for _, share, _ in said.contributors] == sorted(got.values(), reverse=True)
        assert all(share == rss for _, share, rss in said.contributors)
        assert said.rss_mm == pytest.approx(math.sqrt(sum(share**2 for share in parts.values())), abs=1e-5)
        lean = list(s.leans.values())
        assert mesh.centre_distance_least_mm == close(apart - moved - sum(lean))
        assert mesh.centre_distance_most_mm == close(apart + moved + sum(lean))
        assert mesh.centre_distance_likely_mm == close(apart - math.sqrt(sum(v**2 for v in (*s.shifts.values(), *lean))))
        assert mesh.contact_ratio_min == close(contact_ratio(one, two, apart + moved + sum(lean)))
        assert mesh.working_depth_min_mm == close(one.ra + two.ra - (apart + moved + sum(lean)))
        assert mesh.closer_mm == pytest.approx(swing(name, mesh.a, mesh.b), abs=1e-5)
        assert mesh.moisture_mm == close(s.shifts.get("moisture of board and gears", 0.0))


def check_teeth_stand_in_spaces_and_rings_close(name: str) -> None:
    f, derived = facts(name), solved(name)[1]
    states = {state.id: state for state in derived.train.gears}
    left: dict[frozenset[str], float] = {}
    for mesh in derived.train.meshes:
        total = 0.5
        for here, there in ((mesh.a, mesh.b), (mesh.b, mesh.a)):
            one, other = states[here], states[there]
            angle = math.atan2(other.y_mm - one.y_mm, other.x_mm - one.x_mm)
            total += (angle - one.phase_rad) * one.gear.z / (2 * math.pi)
        left[frozenset((mesh.a, mesh.b))] = abs(total - round(total))
    loops = derived.train.loops
    assert all(state.phase_rad == 0 for state in states.values() if state.kind == "drive" and state.gear.turned_by is not None)
    # Teeth stand in spaces at each mesh but where a ring closes: no more than one of those for each ring.
    assert len([value for value in left.values() if value > 1e-6]) <= len(loops)
    assert sorted(frozenset(loop.gears) for loop in loops) == sorted(
        frozenset(gear.text for gear in ring.gears) for ring in f.design.rings
    )
    for loop in loops:
        sides = [frozenset(side) for side in zip(loop.gears, (*loop.gears[1:], loop.gears[0]), strict=True)]
        assert all(side in f.pairs for side in sides)
        worst = max(left[side] for side in sides)
        assert loop.residual_mm == close(worst * math.pi * states[loop.gears[0]].geometry.module_mm)
        assert loop.in_half_pitch == close(2 * worst)
        assert loop.odd is (len(sides) % 2 == 1)
        least = {frozenset((mesh.a, mesh.b)): mesh.backlash.min_mm for mesh in derived.train.meshes}
        assert loop.allowed_mm == close(max(0.0, sum(least[side] for side in sides)) / 2)
        for mesh in derived.train.meshes:
            assert mesh.in_loop is (frozenset((mesh.a, mesh.b)) in sides)


def check_largest_cutters(name: str) -> None:
    """A round cutter between two flanks of a space is followed down: the widest that leaves what the mates need.

    It rests on both flanks above the point where the mate's tip begins to touch, or touches root and flank there; and it goes down far
    enough for the mate's tip and 0.1 mm (common practice, no source).
    """
    made = train(name)
    for state in solved(name)[1].train.gears:
        gear = made.teeth[state.id]
        pairs = [(made.teeth[mate], made.distances[frozenset((state.id, mate))]) for mate in facts(name).mates(state.id)]
        found = []
        # One without a mate is judged against its like.
        for other, apart in pairs or [(gear, tight(replace(gear, thin=0.0), replace(gear, thin=0.0)))]:
            whole = math.sqrt(apart**2 - (gear.rb + other.rb) ** 2)
            start = math.hypot(gear.rb, max(0.0, whole - line(other)))
            found.append(2 * halved(0.0, 40.0, partial(_leaves, gear, start=start, bottom=apart - other.ra - 0.1)))
        assert state.largest_cutter_mm == pytest.approx(min(found), abs=2e-3), state.id


def _leaves(gear: Teeth, r: float, start: float, bottom: float) -> bool:
    """Whether a cutter of radius r leaves the flank down to the radius `start`, and its space goes down to the radius `bottom`."""
    found = goes_down(gear, r)
    return found is not None and math.hypot(gear.rb, found[1]) <= start + 1e-7 and found[0] <= bottom + 1e-7


@pytest.mark.parametrize("name", NAMES)
def test_train(name: str) -> None:
    check_gears(name)
    check_meshes(name)
    check_backlash_with_every_error(name)
    check_teeth_stand_in_spaces_and_rings_close(name)
    check_largest_cutters(name)
