"""The sections of the page under the drawings, in order; each is one function, so that another is one line."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.solve.gear_measure import span_mm, span_teeth
from trivet.tables.assembly import bench_steps
from trivet.tables.cautions import DEFERENCE, building_cautions, cutting_cautions, use_cautions
from trivet.tables.cut_list import cut_list_rows
from trivet.tables.hardware_schedule import hardware_tables
from trivet.tables.inspection import inspection_rows
from trivet.tables.page_content import PageSection
from trivet.tables.page_lengths import own
from trivet.tables.prose_page import Item
from trivet.tables.raise_table import EIGHTHS, eighths_text, per_tooth_mm, raise_steps, rise_text
from trivet.tables.rows import Cell, Column, Rows
from trivet.units import length_text

UNTRIED = (
    "No fixture has been cut from these files by the authors of the compiler. A clean check means only that no known failure mode was"
    " found within the stated tolerances, and no more."
)

Make = Callable[[Design, Derived, Mapping[str, object]], PageSection | None]


def to_raise(design: Design, derived: Derived, facts: Mapping[str, object]) -> PageSection | None:
    """How far to turn for a rise, in both systems; None where there is no travel."""
    lift = derived.lift
    if lift is None or lift.travel_mm <= 0.0:
        return None
    units = ("in", "mm") if design.units == "in" else ("mm", "in")
    columns = (Column("to raise by"), Column("turn", "turns"), Column("to the nearest eighth"))
    tables = []
    for unit in units:
        rows: list[tuple[Cell, ...]] = [
            (rise_text(rise, unit), f"{turns:.3f}", eighths_text(turns)) for rise, turns in raise_steps(lift, unit)
        ]
        eighth, tooth = length_text(lift.per_turn_mm / EIGHTHS, unit, 4), per_tooth_mm(derived)
        notes = [f"An eighth of a turn raises by {eighth}."]
        if tooth is not None:
            notes.append(f"A tooth of the drive gear raises by {length_text(tooth, unit, 4)}.")
        tables.append(Rows("In inches" if unit == "in" else "In millimetres", columns, tuple(rows), tuple(notes)))
    words = (
        f"Turn the drive {lift.raises_when}, seen from above, to raise. End each setting by raising, so that play is taken up.",
        "The last row of each table is the whole travel.",
    )
    return PageSection("to-raise", "To raise", words, tables=tuple(tables))


def hardware(design: Design, derived: Derived, facts: Mapping[str, object]) -> PageSection | None:
    """What to buy, and what the shop needs."""
    return PageSection("hardware", "Hardware and tools", tables=hardware_tables(design, derived))


def cut_list(design: Design, derived: Derived, facts: Mapping[str, object]) -> PageSection | None:
    """What is cut from which sheet."""
    words = ("The drawings are in the folder `cut`, 1:1. Measure the 100 mm (3.937 in) square on each before cutting.",)
    return PageSection("cut-list", "Cut list", words, tables=(cut_list_rows(design, derived),))


def to_measure(design: Design, derived: Derived, facts: Mapping[str, object]) -> PageSection | None:
    """Where each gear stands and what calipers should read over its teeth; None without gears."""
    if not derived.train.gears:
        return None
    unit = design.units
    columns = tuple(map(Column, ("gear", "x", "y", "teeth", "over the tips", "calipers over", "calipers read")))
    rows = []
    for state in derived.train.gears:
        shape = state.geometry
        count = span_teeth(shape)
        rows.append(
            (
                state.id, own(state.x_mm, unit), own(state.y_mm, unit), shape.teeth, own(2.0 * shape.reached_tip_radius_mm, unit),
                f"{count} teeth", own(span_mm(shape, count), unit),
            )
        )  # fmt: skip
    meshes = tuple((f"{mesh.a} and {mesh.b}", own(mesh.centre_distance_mm, unit)) for mesh in derived.train.meshes)
    return PageSection(
        "to-measure",
        "To measure",
        ("Places count from the near left corner of the first board, x to the right and y away from you, seen from above.",),
        tables=(
            Rows("Gears", columns, tuple(rows)),
            Rows("Centre distances", (Column("gears in mesh"), Column("centre to centre")), meshes),
        ),
    )


def inspection(design: Design, derived: Derived, facts: Mapping[str, object]) -> PageSection | None:
    """The inspection card, to write on when printed."""
    rows = inspection_rows(design, derived)
    return PageSection("inspection", "Inspection", tables=(rows,)) if rows.rows else None


def together(design: Design, derived: Derived, facts: Mapping[str, object]) -> PageSection | None:
    """The steps at the bench, without their figures; None where no order could be worked out."""
    steps = tuple(Item(step.text, step.details) for step in bench_steps(design, derived))
    words = ("Figures, trials and what to do when it binds are in `assembly.md`.",)
    return PageSection("together", "Putting it together", words, steps=steps) if steps else None


def to_mind(design: Design, derived: Derived, facts: Mapping[str, object]) -> PageSection | None:
    """Cautions."""
    points = (*cutting_cautions(), *building_cautions(design, derived), *use_cautions(design, derived))
    return PageSection("cautions", "Cautions", (UNTRIED, DEFERENCE.replace("this sheet", "this page")), points)


SECTIONS: tuple[Make, ...] = (to_raise, hardware, cut_list, to_measure, inspection, together, to_mind)


def page_sections(design: Design, derived: Derived, facts: Mapping[str, object]) -> tuple[PageSection, ...]:
    """All sections that have something to say."""
    made = (make(design, derived, facts) for make in SECTIONS)
    return tuple(section for section in made if section is not None)
