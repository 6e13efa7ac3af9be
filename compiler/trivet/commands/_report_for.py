"""The report as `compile` writes it, its slow parts only where an explanation is about them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from trivet.model.design import Design
    from trivet.solve.derived import Derived
    from trivet.tables.explanation import Entry


def report_for(design: Design, derived: Derived, entries: Sequence[Entry]) -> dict[str, object]:
    """Only meshes that are asked about are turned as cut; trains are drawn and sheets laid where their numbers are."""
    from trivet import __version__
    from trivet.solve.as_cut_proofs import as_cut_proofs
    from trivet.solve.binding import binding
    from trivet.tables.report import report

    paths = [entry.path for entry in entries if entry.path]
    roots = {path[0] for path in paths}
    turned = {path[1] for path in paths if path[0] == "meshes" and str(path[2]).startswith("as_cut")}
    meshes = [state for index, state in enumerate(derived.train.meshes) if index in turned]
    whole = report(
        design,
        derived,
        findings=(),
        status="clean",
        version=__version__,
        as_cut=as_cut_proofs(derived, meshes),
        binding=binding(design, derived) if "train" in roots else None,
    )
    if roots & {"sheets", "nest"}:
        from trivet.solve.nest import nest
        from trivet.tables.report_sheets import nest_record, sheet_records

        laid = nest(design, derived)
        whole["sheets"], whole["nest"] = sheet_records(laid), nest_record(laid)
    return whole
