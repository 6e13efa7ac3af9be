"""Every figure of the examples' report.json against a second calculation that shares no code with the solver.

Tolerances: 1e-6 relative for closed forms, and 1e-6 absolute since the report rounds to six decimals; 0.02 mm for strokes, found
by trial in steps of 0.005 mm.
"""

from __future__ import annotations

import functools
import math
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from tests.oracles import recompute_gears as calc
from tests.oracles import recompute_stroke as trial
from tests.oracles.recompute_facts import FIXTURES, Fixture

from trivet.files import DiskFiles
from trivet.pipeline import check
from trivet.source import SourceFile
from trivet.tables.report import report

EXAMPLES = Path(__file__).parent.parent.parent / "examples"
NAMES = sorted(path.stem for path in EXAMPLES.glob("*.trivet"))
STROKE_MM = 0.02


def close(value: float) -> Any:
    return pytest.approx(value, rel=1e-6, abs=1e-6)


@functools.cache
def reported(name: str) -> dict[str, Any]:
    source = DiskFiles().read(str(EXAMPLES / f"{name}.trivet"))
    assert isinstance(source, SourceFile)
    result = check(source, DiskFiles())
    assert result.design is not None and result.derived is not None
    return report(result.design, result.derived, findings=(), status="findings", version="0")


def gears(name: str) -> dict[str, dict[str, Any]]:
    return {row["id"]: row for row in reported(name)["gears"]}


def pairs(name: str) -> list[tuple[dict[str, Any], calc.Tooth, calc.Tooth]]:
    rows = gears(name)
    return [(mesh, *(calc.Tooth.of(rows[end]) for end in mesh["gears"])) for mesh in reported(name)["meshes"]]


def test_every_example_is_recomputed() -> None:
    assert list(FIXTURES) == NAMES


@pytest.mark.parametrize("name", NAMES)
def test_inputs_are_those_of_the_text(name: str) -> None:
    f, rows = FIXTURES[name], gears(name)
    assert {gear: row["teeth"] for gear, row in rows.items()} == f.teeth
    kinds = {"drive": "drive", "pivot": "idler", "foot": "foot"}
    assert {gear: row["kind"] for gear, row in rows.items()} == {gear: kinds[held] for gear, held in f.held.items()}
    assert {frozenset(mesh["gears"]) for mesh in reported(name)["meshes"]} == {frozenset(pair) for pair in f.meshes}
    for gear, row in rows.items():
        assert row["module_mm"] == close(f.module)
        # Half of the stated backlash off each gear: all examples stand on standard centres.
        assert row["thinning_mm"] == close(f.backlash / 2)
        assert row["face_width_mm"] == close(trial.width(f, gear, 0))


@pytest.mark.parametrize("name", NAMES)
def test_teeth(name: str) -> None:
    # The rack: SDP/SI, Elements of Metric Gear Technology, p. T-9; thickness at a radius and span over k teeth: derived.
    for row in reported(name)["gears"]:
        tooth = calc.Tooth.of(row)
        assert row["pitch_diameter_mm"] == close(2 * tooth.r)
        assert row["base_diameter_mm"] == close(2 * tooth.rb)
        assert row["tip_diameter_mm"] == close(2 * tooth.ra)
        assert row["root_diameter_mm"] == close(2 * tooth.rf)
        assert row["tooth_thickness_mm"] == close(tooth.s)
        assert row["tip_land_mm"] == close(2 * tooth.ra * tooth.flank_angle(tooth.ra))
        k = row["span_teeth"]
        assert row["span_mm"] == close(tooth.span(k))
        # The jaws touch flanks, not tips nor roots, and no other count touches nearer to the pitch circle.
        assert max(tooth.rb, tooth.rf) < tooth.touches(k) < tooth.ra
        assert abs(tooth.touches(k) - tooth.r) <= min(abs(tooth.touches(k + n) - tooth.r) for n in (-1, 1)) + 1e-9


@pytest.mark.parametrize("name", NAMES)
def test_meshes(name: str) -> None:
    rows = gears(name)
    for mesh, one, two in pairs(name):
        a, b = (rows[end] for end in mesh["gears"])
        distance = math.hypot(a["x_mm"] - b["x_mm"], a["y_mm"] - b["y_mm"])
        assert mesh["centre_distance_mm"] == close(distance)
        assert mesh["standard_centre_distance_mm"] == close(one.r + two.r)
        assert mesh["working_pressure_angle_deg"] == pytest.approx(math.degrees(calc.working_angle(one, two, distance)), abs=1e-5)
        assert mesh["contact_ratio"] == close(calc.contact_ratio(one, two, distance))
        assert mesh["tip_clearance_mm"] == close(min(distance - one.ra - two.rf, distance - two.ra - one.rf))
        assert mesh["backlash_mm"]["nominal"] == close(FIXTURES[name].backlash)
        assert calc.backlash(one, two, distance) == close(FIXTURES[name].backlash)


@pytest.mark.parametrize("name", NAMES)
def test_backlash_with_every_error(name: str) -> None:
    # Derived, as `recompute_gears.worst` says: hole position and play of both axes, four flanks, an insert's tilt, moisture.
    f, rows = FIXTURES[name], gears(name)
    for mesh, one, two in pairs(name):
        a, b = mesh["gears"]
        overlap = min(trial.width(f, a, 0), trial.width(f, b, 0))
        swung = calc.swing(f, (rows[b]["x_mm"] - rows[a]["x_mm"], rows[b]["y_mm"] - rows[a]["y_mm"]))
        e = calc.errors(f, a, b, trial.drop(f, a, 0) + overlap, overlap, swung)
        least, most, share = calc.worst(one, two, mesh["centre_distance_mm"], e)
        assert mesh["backlash_mm"]["min"] == close(least), mesh["gears"]
        assert mesh["backlash_mm"]["max"] == close(most), mesh["gears"]
        assert mesh["backlash_mm"]["rss"] == close(share), mesh["gears"]
        widest = mesh["centre_distance_mm"] + sum(e.shifts) + e.reach * math.tan(e.tilt)
        assert mesh["contact_ratio_min"] == close(calc.contact_ratio(one, two, widest)), mesh["gears"]


@pytest.mark.parametrize("name", NAMES)
def test_phases_put_teeth_opposite_spaces(name: str) -> None:
    rows = gears(name)
    for mesh in reported(name)["meshes"]:
        a, b = (rows[end] for end in mesh["gears"])
        assert abs(calc.tooth_to_space(a, b)) < 1e-6
        # Half a pitch round, a tooth would stand on a tooth.
        assert abs(calc.tooth_to_space(a | {"phase_deg": a["phase_deg"] + 180 / a["teeth"]}, b)) == pytest.approx(0.5, abs=1e-6)


@pytest.mark.parametrize("name", NAMES)
def test_speeds_directions_and_rise(name: str) -> None:
    f, rows, speeds = FIXTURES[name], gears(name), calc.speeds(FIXTURES[name])
    for gear, row in rows.items():
        assert row["turns_per_drive_turn"] == float(abs(speeds[gear]))
        assert row["direction"] == (1 if speeds[gear] > 0 else -1)
    drive = next(gear for gear, held in f.held.items() if held == "drive")
    for foot in reported(name)["feet"]:
        # A right-hand screw turned clockwise, seen from above, goes down out of a fixed insert; a nut so turned draws its rod up.
        hand = -1 if foot["gear"] in f.foot.left_hand else 1
        clockwise = hand * (-1 if f.foot.kind == "captured_nut" else 1) * f.foot.lead * speeds[foot["gear"]]
        assert foot["lift_per_drive_turn_mm"] == close(abs(clockwise)) == close(f.per_turn[0])
        assert foot["raises_when"] == ("clockwise" if clockwise > 0 else "anticlockwise") == f.per_turn[1]
        assert foot["zero_step_mm"] == close(f.foot.lead / f.teeth[foot["gear"]])
        assert foot["lead_mm"] == close(f.foot.lead)
    lift = reported(name)["lift"]
    assert lift["per_turn_mm"] == close(f.per_turn[0])
    assert lift["raises_when"] == f.per_turn[1]
    assert lift["turns_for_travel"] == close(lift["travel_mm"] / f.per_turn[0])
    assert lift["per_drive_tooth_mm"] == close(f.per_turn[0] / f.teeth[drive])


@pytest.mark.parametrize("name", NAMES)
def test_stroke_and_heights(name: str) -> None:
    f, lift = FIXTURES[name], reported(name)["lift"]
    mean = trial.stroke(f, trial.MEAN)
    assert lift["travel_mm"] == pytest.approx(mean.ends[1] - mean.ends[0], abs=STROKE_MM)
    assert lift["travel_to_parting_mm"] == pytest.approx(mean.parting[1] - mean.parting[0], abs=STROKE_MM)
    assert (lift["height_min_mm"], lift["height_max_mm"]) == pytest.approx(mean.heights, abs=STROKE_MM)


def cause_of(row: dict[str, Any]) -> str:
    """The trial's name of a limit: one bench for all that may reach it, the teeth of each mate apart."""
    cause = row["cause"]
    return "bench" if cause.startswith("bench_") else f"{cause} {row['parts'][-1]}" if cause == "teeth_part" else cause


@pytest.mark.parametrize("name", NAMES)
def test_every_limit(name: str) -> None:
    """Each cause of each end, comfortable and hard, at mean sheets and at the worst of all extremes.

    Where several mates part, the report gives the first at mean sheets, with that mate's own worst.
    """
    f = FIXTURES[name]
    mean, every = trial.edges(f, trial.MEAN), [trial.edges(f, corner) for corner in trial.EVERY]
    rows = {(row["end"], cause_of(row), row["hard"]): row for row in reported(name)["lift"]["limits"]}
    for (end, cause, hard), row in rows.items():
        tightest = max if end == "least" else min
        alike = [at for (e, c, h), at in mean.items() if (e, c.split()[0], h) == (end, cause.split()[0], hard)]
        assert row["extension_mm"] == pytest.approx(mean[end, cause, hard], abs=STROKE_MM), cause
        assert row["extension_mm"] == pytest.approx(tightest(alike), abs=STROKE_MM), cause
        assert row["extension_worst_mm"] == pytest.approx(tightest(item[end, cause, hard] for item in every), abs=STROKE_MM), cause
    assert {(end, cause.split()[0], hard) for end, cause, hard in rows} == {
        (end, cause.split()[0], hard) for end, cause, hard in mean
    }


def worst(f: Fixture) -> tuple[float, float, float]:
    """(travel, greatest lowest height, least greatest height) over all extremes."""
    every = [trial.stroke(f, corner) for corner in trial.EVERY]
    return (
        min(item.ends[1] - item.ends[0] for item in every),
        max(item.heights[0] for item in every),
        min(item.heights[1] for item in every),
    )


def said_worst(name: str) -> tuple[float, float, float]:
    lift = reported(name)["lift"]
    sure = lift["height_every_sheet_mm"]
    return lift["travel_worst_mm"], sure["min"], sure["max"]


@pytest.mark.parametrize("name", NAMES)
def test_stroke_and_heights_at_the_worst(name: str) -> None:
    assert said_worst(name) == pytest.approx(worst(FIXTURES[name]), abs=STROKE_MM)


@pytest.mark.parametrize("name", NAMES)
def test_engagement_and_overlap_at_both_ends(name: str) -> None:
    f = FIXTURES[name]
    ends = np.array(trial.stroke(f, trial.MEAN).ends)
    for foot in reported(name)["feet"]:
        engaged = trial.at(f, foot["gear"], trial.MEAN, ends).engaged
        said = foot["engagement_mm"]
        assert (said["at_least"], said["at_most"]) == pytest.approx(tuple(engaged), abs=STROKE_MM)
    places = {gear: [item.rest, item.rest] for gear, item in trial.hung(f, trial.MEAN).items()}
    for gear, held in f.held.items():
        if held == "foot" and f.foot.kind == "riding":
            places[gear] = [(-e - trial.width(f, gear, 0), -e) for e in ends]
    for mesh in reported(name)["meshes"]:
        a, b = mesh["gears"]
        shared = [float(trial.overlap(one, two)) for one, two in zip(places[a], places[b], strict=True)]
        said = mesh["face_overlap_mm"]
        assert (said["at_least"], said["at_most"]) == pytest.approx(shared, abs=STROKE_MM)
    for gear, row in gears(name).items():
        bottom, top = places[gear][0]
        assert (row["z_bottom_mm_at_least"], row["z_top_mm_at_least"]) == pytest.approx((bottom, top), abs=STROKE_MM)


@pytest.mark.parametrize("name", NAMES)
def test_rings_close(name: str) -> None:
    loops = reported(name)["loops"]
    assert {frozenset(loop["gears"]) for loop in loops} == {frozenset(ring) for ring in FIXTURES[name].rings}
    for loop in loops:
        rows = [gears(name)[gear] for gear in loop["gears"]]
        assert loop["residual_mm"] == pytest.approx(ring_residual(rows), abs=1e-5)
        least = [mesh["backlash_mm"]["min"] for mesh in reported(name)["meshes"] if set(mesh["gears"]) <= set(loop["gears"])]
        # Each mesh gives half its least backlash either way: derived; simulated for a ring of four.
        assert loop["allowed_mm"] == close(sum(least) / 2)


def ring_residual(rows: list[dict[str, Any]]) -> float:
    """Alternating sum of the pitches each gear spans between its two mates, less the nearest whole number, as an arc."""
    total = 0.0
    for index, row in enumerate(rows):
        before, after = rows[index - 1], rows[(index + 1) % len(rows)]
        angles = [math.atan2(other["y_mm"] - row["y_mm"], other["x_mm"] - row["x_mm"]) for other in (before, after)]
        total += (-1) ** index * ((angles[1] - angles[0]) % (2 * math.pi)) / (2 * math.pi) * row["teeth"]
    return abs(total - round(total)) * math.pi * float(rows[0]["module_mm"])
