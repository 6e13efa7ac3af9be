"""The table "to raise by … turn …"."""

from __future__ import annotations

import math

from trivet.model.design import Design
from trivet.solve.derived import Derived, Lift
from trivet.tables.rows import Cell, Column, Rows
from trivet.tables.wording import inch_text
from trivet.units import length_text

# Steps that a maker asks for, mm and parts of an inch (common practice, no source).
STEPS_MM = (0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0)
STEPS_INCH = (1 / 64, 1 / 32, 1 / 16, 1 / 8, 1 / 4, 1 / 2, 1.0, 2.0)
EIGHTHS = 8
SAME_MM = 1e-9


def raise_steps(lift: Lift, unit: str) -> tuple[tuple[float, float], ...]:
    """(rise in mm, drive turns) for round steps within the travel, and for the whole travel."""
    steps = tuple(step * 25.4 for step in STEPS_INCH) if unit == "in" else STEPS_MM
    rises = [step for step in steps if step < lift.travel_mm - SAME_MM]
    if lift.travel_mm > 0.0:
        rises.append(lift.travel_mm)
    return tuple((rise, rise / lift.per_turn_mm) for rise in rises)


def raise_rows(design: Design, derived: Derived) -> Rows:
    """Rise, drive turns, and whole turns with eighths to the nearest eighth; empty where there is no stroke."""
    columns = (Column("to raise by"), Column("turn", "turns"), Column("to the nearest eighth"))
    lift = derived.lift
    if lift is None:
        return Rows("To raise", columns, (), ("No stroke could be computed.",))
    unit = design.units
    rows: tuple[tuple[Cell, ...], ...] = tuple(
        (rise_text(rise, unit), round(turns, 3), eighths_text(turns)) for rise, turns in raise_steps(lift, unit)
    )
    if not rows:
        return Rows("To raise", columns, (), ("No travel is left.",))
    eighth = lift.per_turn_mm / EIGHTHS
    notes = [
        f"Turn {lift.raises_when}, seen from above, to raise.",
        f"A turn raises by {length_text(lift.per_turn_mm, unit, 4)}, an eighth of a turn by {length_text(eighth, unit, 4)}.",
    ]
    tooth = per_tooth_mm(derived)
    if tooth is not None:
        notes.append(f"A tooth of the drive gear raises by {length_text(tooth, unit, 4)}.")
    notes.append("End each setting by raising, so that play is taken up.")
    return Rows("To raise", columns, rows, tuple(notes))


def per_tooth_mm(derived: Derived) -> float | None:
    """Rise for one tooth of the drive gear, mm."""
    lift, name = derived.lift, derived.train.drive_gear
    if lift is None or name is None:
        return None
    return lift.per_turn_mm / derived.train.gear(name).gear.z


def rise_text(mm: float, unit: str) -> str:
    """A rise as a maker says it: `1/16 in` or `0.5 mm`."""
    return inch_text(mm) if unit == "in" else length_text(mm)


def eighths_text(turns: float) -> str:
    """Turns to the nearest eighth: `2 and 3/8`, `1/4`, `3`; `under 1/8` where that is nothing."""
    whole, rest = divmod(math.floor(turns * EIGHTHS + 0.5), EIGHTHS)
    if not rest:
        return str(whole) if whole else "under 1/8"
    shared = math.gcd(rest, EIGHTHS)
    fraction = f"{rest // shared}/{EIGHTHS // shared}"
    return f"{whole} and {fraction}" if whole else fraction
