"""Whether laid pieces keep their distance, from the outlines themselves: what was searched is looked at again, and so is what was kept."""

from __future__ import annotations

from collections.abc import Sequence

from trivet.solve.contour import Contour
from trivet.solve.nest_place import Laid
from trivet.solve.nest_records import Job, Stock

# Outlines may come this much nearer than the spacing and this far beyond the margin: below what any machine holds, mm.
SLACK_MM = 0.01
_CHORD_MM = 0.005


def nearness(job: Job, stock: Stock, outlines: Sequence[Contour]) -> str:
    """What is wrong with one sheet, in words that follow "the placement"; empty where nothing is."""
    from shapely import Polygon, STRtree

    margin = job.margin_mm - SLACK_MM
    for outline in outlines:
        x0, y0, x1, y1 = outline.bounds
        if not (x0 >= margin and y0 >= margin and x1 <= stock.width_mm - margin and y1 <= stock.height_mm - margin):
            return "lays a part over the edge of its sheet"
    shapes = [Polygon(outline.points(_CHORD_MM)) for outline in outlines]
    near = STRtree(shapes).query(shapes, predicate="dwithin", distance=max(job.spacing_mm - SLACK_MM, 0.0))
    return "lays parts too near to each other" if any(a != b for a, b in near.T) else ""


def keeps_apart(job: Job, laid: Laid) -> bool:
    """Whether every sheet does."""
    return not any(
        nearness(job, stock, [job.pieces[k].at(x, y, turn) for sheet, k, x, y, turn in laid.spots if sheet == number])
        for number, stock in enumerate(laid.stocks)
    )
