"""report.json: everything computed, as plain data. Lengths mm, angles degrees, at mean sheet thickness unless the key says otherwise."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Literal

from trivet.model.design import Design
from trivet.solve.as_cut_proofs import AsCutProof
from trivet.solve.binding import Binding
from trivet.solve.derived import Derived
from trivet.solve.torque import drive_torque
from trivet.tables.cut_list import cut_parts
from trivet.tables.hardware_schedule import hardware_records
from trivet.tables.report_keepers import keeper_records, shaft_records
from trivet.tables.report_lift import foot_record, lift_record, load_record
from trivet.tables.report_steady import bench_records, climber_records, flush_record, locking_record, stop_records, strength_record
from trivet.tables.report_train import gear_record, loop_record, mesh_record, train_record
from trivet.tables.report_zones import zone_records

Record = dict[str, object]


def report(
    design: Design,
    derived: Derived,
    *,
    findings: Sequence[Mapping[str, object]],
    status: Literal["clean", "findings", "failed"],
    version: str,
    outputs: Sequence[Mapping[str, object]] = (),
    as_cut: Mapping[str, AsCutProof] | None = None,
    binding: Binding | None = None,
) -> Record:
    """Plain data for the JSON writer, keys in the order of the contract.

    `findings` are rows already made by the report; `outputs` come from `outputs_index`; `as_cut` maps mesh ids to what was
    measured on the cut outlines, None where they were not turned; `binding` is None where no trains were drawn.
    """
    proofs = as_cut or {}
    torque = drive_torque(design, derived)
    by_foot = {item.foot: item for item in torque.feet} if torque is not None else {}
    return {
        "fixture": {
            "name": design.name,
            "title": design.title,
            "revision": design.revision,
            "version": version,
            "parameters": {item.name.text: item.text for item in design.parameters},
        },
        "status": status,
        "findings": [dict(row) for row in findings],
        "gears": [gear_record(state) for state in derived.train.gears],
        "meshes": [mesh_record(state, proofs.get(state.id)) for state in derived.train.meshes],
        "loops": [loop_record(state) for state in derived.train.loops],
        "train": train_record(binding),
        "lift": lift_record(design, derived),
        "feet": [foot_record(state, by_foot.get(state.id)) for state in derived.feet],
        "hardware": hardware_records(design, derived),
        "cut_list": [
            {
                "part": part.part,
                "quantity": part.quantity,
                "sheet": part.sheet,
                "width_mm": part.width_mm,
                "height_mm": part.height_mm,
                "thickness_mm": part.thickness.mean * part.layers,
                "face_grain": None if part.grain == "any" else part.grain.removeprefix("along "),
                "ids": list(part.ids),
                "layers": part.layers,
                "sheet_thickness_mm": {"mean": part.thickness.mean, "least": part.thickness.least, "most": part.thickness.most},
            }
            for part in cut_parts(design, derived)
        ],
        "outputs": [dict(row) for row in outputs],
        "load": load_record(torque),
        "flush": flush_record(design, derived),
        "cut_zones": zone_records(design, derived),
        "strength": strength_record(design, derived),
        "locking": locking_record(design, derived),
        "stops": stop_records(derived),
        "bench": bench_records(design, derived),
        "climbers": climber_records(derived),
        "keepers": keeper_records(derived),
        "shafts": shaft_records(derived),
    }
