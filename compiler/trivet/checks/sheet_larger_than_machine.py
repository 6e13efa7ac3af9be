"""A sheet that a machine takes only in panels."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place, related
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.solve.nest_job import jobs_of
from trivet.solve.nest_records import Stock
from trivet.solve.work_area import area_of, machines_of
from trivet.units import length_text

RULE = Rule(
    "sheet-larger-than-machine",
    "note",
    "a sheet is larger than the `work_area` of the machine that cuts parts of it; parts are then laid on panels that the machine takes",
    "who buys and carries the sheet has to saw it first, and each panel is set up by itself",
    "derived: the sizes of sheet and work area, 4 mm lost in each saw cut (common practice, no source)",
    failing="""
- teeth 16
+   teeth 16
+   machine small
- backlash 0.5 mm
+   backlash 0.5 mm
+ 
+ machine small
+   work_area 600 by 400 mm
""",
    passing="""
- teeth 16
+   teeth 16
+   machine large
- backlash 0.5 mm
+   backlash 0.5 mm
+ 
+ machine large
+   work_area 1220 by 2440 mm
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One note for a sheet and a machine."""
    machines = {machine.name.text: machine for machine in machines_of(design).values()}
    sheets = {sheet.name.text: sheet for sheet in design.sheets}
    said: set[tuple[str, str]] = set()
    for job in jobs_of(design, derived).jobs if machines else ():
        stock = next((item for item in job.stocks if item.cut_from_mm is not None and not item.off_cut), None)
        if stock is None or stock.cut_from_mm is None or (job.sheet, job.machine) in said:
            continue
        said.add((job.sheet, job.machine))
        machine, sheet, unit = machines[job.machine], sheets[job.sheet], design.units
        assert machine.work_area_width is not None
        size, area = (" by ".join(length_text(side, unit) for side in sides) for sides in (stock.cut_from_mm, area_of(machine)))
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            f"the sheet `{job.sheet}` is {size}; the work area of `{job.machine}` is {area}, so its parts are laid on panels cut from it",
            place(machine.work_area_width.origin, machine.name.origin),
            related((f"the size of `{job.sheet}` is stated here", sheet.width.origin if sheet.width is not None else None)),
            f"saw it into {_pieces(stock, unit)} first",
            (job.sheet, job.machine),
        )


def _pieces(stock: Stock, unit: str) -> str:
    size = f"{length_text(stock.width_mm, unit)} by {length_text(stock.height_mm, unit)}"
    return f"{stock.per_sheet} panels of {size}" if stock.per_sheet > 1 else f"a panel of {size}"
