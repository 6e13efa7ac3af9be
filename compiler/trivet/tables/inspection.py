"""The inspection card: what calipers should read, with limits, where these are from, and a place to write."""

from __future__ import annotations

from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.solve.inspection import readings
from trivet.solve.inspection_reading import Reading, printed
from trivet.tables.rows import Cell, Column, Rows
from trivet.tables.wording import metric_text, near_fraction

NOTES = (
    "Measure after sanding and sealing, before anything is glued. Write into `measured`, with a decimal point, in the unit of "
    "the line; "
    "several readings of one line with spaces or semicolons between them.",
    "Spans: close the jaws on the flanks over so many teeth, rock them and take the least reading. It shows the teeth's thickness: "
    "less than expected gives backlash, more takes it.",
    "Centres: stand pins (shanks of drills) that just fill both holes, measure over them, outside to outside; inside jaws over "
    "the far "
    "edges of both holes read the same. The readings of both holes are taken off.",
    "Holes that are narrower than the cutter are marked on the part and drilled; measure them afterwards.",
)


def inspection_rows(design: Design, derived: Derived) -> Rows:
    """One row a reading; figures in the fixture's unit, inches with the nearest 64th and mm beside them."""
    inch, unit = design.units == "in", design.units
    columns = (
        Column("row"), Column("part"), Column("measure"), Column("unit"), Column("expect"),
        *((Column("nearest 64th", "in"), Column("expect", "mm")) if inch else ()),
        Column("least"), Column("most"), Column("measured"), Column("where the limits are from"),
    )  # fmt: skip
    rows = tuple(_row(item, unit) for item in readings(design, derived))
    back = "The way back: `trivet check --measured inspection.csv` and the fixture's file says what these parts will do together."
    return Rows("Inspection card", columns, rows, (*NOTES, back))


def _row(item: Reading, unit: str) -> tuple[Cell, ...]:
    beside = (near_fraction(item.nominal_mm), metric_text(item.nominal_mm).removesuffix(" mm")) if unit == "in" else ()
    return (
        item.row, item.part, item.measure, unit, printed(item.nominal_mm, unit), *beside, printed(item.least_mm, unit),
        printed(item.most_mm, unit), "", item.why,
    )  # fmt: skip
