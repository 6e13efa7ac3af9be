"""Parts that do not fit on the sheets that there are."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.model.shop import Sheet
from trivet.record import replace
from trivet.solve.derived import Derived
from trivet.solve.nest import laid_job, least_sheets
from trivet.solve.nest_job import jobs_of
from trivet.solve.nest_records import Job, Stock
from trivet.solve.work_area import whole_sheets

RULE = Rule(
    "too-few-sheets",
    "error",
    "the parts of a sheet find no place on as many of it as `sheets` says, or on its off-cuts alone",
    "the job stops halfway; parts cut later from another sheet have another thickness and another day's cutter",
    "derived: the outlines as cut, laid with room for the cutter between them",
    failing="""
-   size 1220 by 610 mm
+   size 500 by 610 mm
+   sheets 1
""",
    passing="""
-   size 1220 by 610 mm
+   size 500 by 610 mm
+   sheets 2
""",
)

# Lays all parts, which is slow: `compile` and `check --full` run it.
FULL_ONLY = True


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding a sheet; sheets whose number is not stated are never too few."""
    limited = {
        sheet.name.text: sheet for sheet in design.sheets if sheet.count is not None or (sheet.off_cuts and sheet.width is None)
    }
    if not limited:
        return
    jobs = [job for job in jobs_of(design, derived).jobs if job.sheet in limited]
    for name, sheet in limited.items():
        mine = [job for job in jobs if job.sheet == name]
        left = [job.pieces[k].id for job in mine for k in laid_job(job).left_over]
        used = whole_sheets(stock for job in mine for stock in laid_job(job).stocks)
        stated = sheet.count if sheet.width is not None else None
        if not left and (stated is None or used <= stated):
            continue
        count = whole_sheets(stock for job in mine for stock in _would_do(job))
        if stated is None:
            whole, would = f"its {_cuts(sheet)}", "state the `size` of whole sheets, or larger off-cuts"
        else:
            whole = f"{stated} of it" + (f" and {_cuts(sheet)}" if sheet.off_cuts else "")
            would = f"`sheets {count}` would do; by their area alone the parts need {max(sum(map(least_sheets, mine)), 1)}"
        named = ", ".join(f"`{piece}`" for piece in left[:4]) + (" and more" if len(left) > 4 else "")
        lacking = f"no place for {named}" if left else f"{used} are needed, since each is cut from one face first"
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            f"the parts of `{name}` do not fit on {whole}: {lacking}",
            place(sheet.name.origin, design.origin),
            (),
            would,
            (name,),
        )


def _cuts(sheet: Sheet) -> str:
    return "off-cut" if len(sheet.off_cuts) == 1 else f"{len(sheet.off_cuts)} off-cuts"


def _would_do(job: Job) -> tuple[Stock, ...]:
    """What all pieces take that one sheet takes by itself."""
    free = tuple(replace(stock, count=stock.count if stock.off_cut else None) for stock in job.stocks)
    return laid_job(replace(job, stocks=free)).stocks
