"""All files of a compiled fixture as bytes, by their path in the output folder."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from trivet import __version__
from trivet.diagnostics import Diagnostic
from trivet.products.product import Context, Product, Wanted
from trivet.record import replace

if TYPE_CHECKING:
    from trivet.model.design import Design
    from trivet.solve.derived import Derived

__all__ = ["Files", "Wanted", "outputs"]

Files = dict[str, bytes]


def outputs(
    design: Design,
    derived: Derived,
    findings: tuple[Diagnostic, ...],
    inputs: Mapping[str, str],
    settings: Mapping[str, str],
    wanted: Wanted,
) -> Files:
    """The files: drawings, schedules, pages, report and manifest. Same arguments, same bytes."""
    from trivet.emit.json import json
    from trivet.products.all import PRODUCTS, PRODUCTS_FROM_REPORT
    from trivet.solve.nest import nest
    from trivet.substitutes import substitutes
    from trivet.tables.manifest import manifest
    from trivet.tables.outputs_index import outputs_index

    # Several products show where the parts lie; it is worked out once.
    wanted = wanted if wanted.nest is not None else replace(wanted, nest=nest(design, derived))
    context = Context(design, derived, findings, settings, wanted, substitutes=substitutes(design, derived, inputs), inputs=inputs)
    made = [product for make in PRODUCTS for product in make(context)]
    facts = _facts(context)
    context = replace(context, facts=facts)
    made += [product for make in PRODUCTS_FROM_REPORT for product in make(context)]
    report_path = f"{context.mark}report.json"
    listed = [(item.path, item.kind, item.part, item.face, item.layers) for item in (*made, Product(report_path, "report", b""))]
    files = {product.path: product.data for product in made}
    files[report_path] = json(facts | {"outputs": outputs_index(listed)})
    parameters = {parameter.name.text: parameter.text for parameter in design.parameters} | dict(settings)
    files["manifest.json"] = json(manifest(files, inputs=inputs, parameters=parameters, version=__version__))
    return files


def _facts(context: Context) -> dict[str, object]:
    """The report's content, its list of outputs still empty."""
    from trivet.report.json import finding_rows, status
    from trivet.solve.as_cut_proofs import as_cut_proofs
    from trivet.solve.binding import binding
    from trivet.tables.report import report
    from trivet.tables.report_sheets import nest_record, sheet_records
    from trivet.tables.substitutes import substitute_records

    facts = report(
        context.design,
        context.derived,
        findings=finding_rows(context.findings),
        status=status(context.findings),
        version=__version__,
        outputs=[],
        as_cut=as_cut_proofs(context.derived),
        binding=binding(context.design, context.derived),
    )
    facts["sheets"], facts["nest"] = sheet_records(context.nest), nest_record(context.nest)
    facts["substitutes"] = substitute_records(context.substitutes)
    return {"draft": True, **facts} if context.wanted.draft else dict(facts)
