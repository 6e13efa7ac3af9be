"""Gears, meshes and loops of report.json."""

from __future__ import annotations

import math

from trivet.solve.as_cut_mesh import AsCutMesh
from trivet.solve.as_cut_proofs import AsCutProof
from trivet.solve.binding import Binding
from trivet.solve.binding_words import remedies_words, risk_words
from trivet.solve.derived import GearState, LoopState, MeshState
from trivet.solve.gear_measure import span_mm, span_teeth

Record = dict[str, object]


def gear_record(state: GearState) -> Record:
    """One gear. `phase_deg`: a tooth centre from +x, anticlockwise, in [0, 360/z). Speed and direction are null at a gear that nothing turns.

    `tip_diameter_mm`: where the teeth end, below the design's circle where they are pointed. `kind` is that of its shaft.
    """
    shape = state.geometry
    teeth = span_teeth(shape)
    z_top = state.z_top.mean
    return {
        "id": state.id,
        "teeth": shape.teeth,
        "module_mm": shape.module_mm,
        "pressure_angle_deg": math.degrees(shape.pressure_angle_rad),
        "profile_shift": shape.profile_shift,
        "thinning_mm": shape.thinning_mm,
        "face_width_mm": state.face_width.mean,
        "x_mm": state.x_mm,
        "y_mm": state.y_mm,
        "phase_deg": phase_deg(state.phase_rad, shape.teeth),
        "direction": state.direction or None,
        "turns_per_drive_turn": float(state.speed) if state.speed is not None else None,
        "kind": state.kind,
        "pitch_diameter_mm": 2.0 * shape.pitch_radius_mm,
        "base_diameter_mm": 2.0 * shape.base_radius_mm,
        "tip_diameter_mm": 2.0 * shape.reached_tip_radius_mm,
        "root_diameter_mm": 2.0 * shape.root_radius_mm,
        "tooth_thickness_mm": shape.thickness_mm,
        "tip_land_mm": shape.tip_land_mm,
        "span_teeth": teeth,
        "span_mm": span_mm(shape, teeth),
        "cutter_diameter_mm": state.cutter_diameter_mm,
        "largest_cutter_mm": state.largest_cutter_mm,
        "z_top_mm_at_least": z_top,
        "z_bottom_mm_at_least": z_top - state.face_width.mean,
    }


def mesh_record(state: MeshState, proof: AsCutProof | None) -> Record:
    """One mesh. Backlash is circumferential on the working circle; a face overlap is null where no foot slides there or no stroke is left.

    `as_cut`: measured on the outlines; null where they were not turned.
    """
    return {
        "gears": [state.a, state.b],
        "centre_distance_mm": state.centre_distance_mm,
        "standard_centre_distance_mm": state.standard_centre_distance_mm,
        "working_pressure_angle_deg": state.working_pressure_angle_deg,
        "contact_ratio": state.contact_ratio,
        "contact_ratio_min": state.contact_ratio_min,
        "backlash_mm": {
            "nominal": state.backlash.nominal_mm,
            "min": state.backlash.min_mm,
            "max": state.backlash.max_mm,
            "rss": state.backlash.rss_mm,
        },
        "tip_clearance_mm": state.tip_clearance_mm,
        "as_cut_overlap_mm2": proof.nominal.overlap_mm2 if proof is not None else None,
        "face_overlap_mm": {"at_least": state.overlap_at_least_mm, "at_most": state.overlap_at_most_mm},
        "as_cut": _as_cut(proof) if proof is not None else None,
    }


def _as_cut(proof: AsCutProof) -> Record:
    return {
        "nominal": _measured(proof.nominal),
        "tightest": _measured(proof.tightest),
        "loosest": _measured(proof.loosest),
    }


def _measured(found: AsCutMesh) -> Record:
    return {
        "centre_distance_mm": found.centre_distance_mm,
        "overlap_mm2": found.overlap_mm2,
        "backlash_mm": found.backlash_mm,
        "contact_ratio": found.contact_ratio,
    }


def loop_record(state: LoopState) -> Record:
    """One closed ring of meshes; `locks` where its number of meshes is odd."""
    return {"gears": list(state.gears), "residual_mm": state.residual_mm, "allowed_mm": state.allowed_mm, "locks": state.odd}


def phase_deg(phase_rad: float, teeth: int) -> float:
    """The first tooth centre at or after +x, degrees, in [0, 360/z); rounding must not give 360/z itself."""
    pitch = 360.0 / teeth
    phase = math.degrees(phase_rad) % pitch
    return 0.0 if pitch - phase < 1e-9 else phase


def train_record(found: Binding | None) -> Record:
    """The chance that the train binds, 0..1, with draws and seed; null where it was not drawn, or no gears mesh. `meshes`, `rings`: each one
    alone. `words`: what carries the risk and what would ease it, as a maker reads it.
    """
    if found is None:
        return {"binding_probability": None, "draws": None, "seed": None}
    return {
        "binding_probability": found.chance,
        "draws": found.draws,
        "seed": found.seed,
        "meshes": [{"id": name, "binding_probability": chance} for name, chance in found.meshes],
        "contributors": [
            {"error": what, "binding_probability_without": without, "share_of_risk": round(found.share(without), 3)}
            for what, without in found.contributors
        ],
        "remedies": [{"remedy": what, "binding_probability": chance} for what, chance, _ in found.remedies],
        "rings": [{"gears": list(gears), "binding_probability": chance} for gears, chance in found.rings],
        "words": [line for line in (risk_words(found), *remedies_words(found)) if line],
    }
