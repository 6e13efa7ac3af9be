"""A part with work on both faces that fills its sheet, so that no holes for index dowels find room beside it."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.record import replace
from trivet.solve.derived import Derived
from trivet.solve.nest import sheets_of
from trivet.solve.nest_job import jobs_of, margin_mm, on_machine, spacing_mm, stocks_of, turns_deg
from trivet.solve.nest_place import Bench, lay
from trivet.solve.nest_records import Job, Piece, Stock
from trivet.solve.part_features import PartFeatures
from trivet.solve.work_area import boxes_of, fits, machines_of
from trivet.units import length_text

RULE = Rule(
    "no-room-for-registration",
    "warning",
    "a part is cut from both faces and fills its sheet, so that no three holes for index dowels stand in the waste beside it",
    "the second face is then lined up by the sheet's edges, which are seldom true, and nothing keeps the sheet from being turned over the"
    " wrong way",
    "common practice, no source: two dowels at least, as far apart as the sheet allows, outside the part",
    failing="""
-   size 1220 by 610 mm
+   size 482 by 352 mm
+   edge_margin 1 mm
""",
    passing="""
-   size 1220 by 610 mm
+   size 560 by 352 mm
+   edge_margin 1 mm
""",
)
# With this much beside a part along either way there is room, whatever its outline; less is looked at more closely, mm.
_AMPLE_MM = 80.0


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding a part."""
    names = [*(board.name for board in design.boards), *(gear.name for gear in design.gears)]
    origins = {name.text: name.origin for name in names}
    machines = machines_of(design)
    narrow = {
        part.part: part
        for part in derived.parts
        if len(part.faces) > 1 and not _ample(part, on_machine(stocks_of(part.sheet), machines.get(part.belongs_to or part.part), [part]))
    }
    said: set[str] = set()
    for job in jobs_of(design, derived).jobs if narrow else ():
        for piece in job.pieces:
            whole = narrow[piece.part].belongs_to or piece.part if piece.part in narrow else ""
            if not whole or whole in said or not _full(job, piece):
                continue
            said.add(whole)
            part, unit = narrow[piece.part], design.units
            (x0, y0, x1, y1), stock = part.outline.bounds, job.stocks[-1]
            sizes = ((x1 - x0, y1 - y0), (stock.width_mm, stock.height_mm))
            box, sheet = (f"{length_text(a, unit)} by {length_text(b, unit)}" for a, b in sizes)
            yield Diagnostic(
                RULE.slug,
                RULE.severity,
                f"`{whole}` takes {box} of a sheet of {sheet} and is cut from both faces: no room is left for index dowels",
                place(origins.get(whole), design.origin), (),
                f"a sheet that is {length_text(_AMPLE_MM, unit)} longer or wider than the part, or all work from one face",
                (whole,),
            )


def _ample(part: PartFeatures, stocks: tuple[Stock, ...]) -> bool:
    """Whether some piece of stock leaves that much beside the part in a way in which it fits."""
    margin = margin_mm(part.sheet)
    beside = _AMPLE_MM + 2.0 * margin + spacing_mm(part.sheet, [part])
    return not stocks or any(
        stock.width_mm - wide >= beside or stock.height_mm - high >= beside
        for wide, high in boxes_of(part, turns_deg(part))
        for stock in stocks
        if fits([(wide, high)], stock, margin)
    )


def _full(job: Job, piece: Piece) -> bool:
    """Whether the piece alone on a sheet leaves no room."""
    alone = replace(job, pieces=(piece,), two_faced=frozenset({piece.part}))
    laid = lay(Bench(alone), [0])
    return any(sheet.no_room for sheet in sheets_of(alone, laid, 0))
