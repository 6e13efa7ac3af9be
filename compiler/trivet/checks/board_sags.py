"""A board that gives under a stated load between its feet."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place, related
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.solve.library_figures import BENDING_SOURCE
from trivet.solve.sag import sags
from trivet.units import length_text, two_lengths

# Sag that spoils a flush setting, mm.
ALLOWED_MM = 0.1
# Sheets that a board may be glued from.
MOST_LAYERS = 6

RULE = Rule(
    "board-sags",
    "note",
    "a board that sags by more than 0.1 mm under a stated load between its feet",
    "a board set flush without its load stands low with it; an estimate, which certifies no load",
    "derived: a thin plate on its feet, Ritz's method (Timoshenko & Woinowsky-Krieger, Theory of Plates and Shells, from memory) with "
    "the library's stiffness of plywood; 0.1 mm is common practice, no source",
    failing="""
- size 1220 by 610 mm
+   size 1220 by 610 mm
+   material birch_plywood
+ 
+ load clamp
+   force 500 N at deck.centre, down
""",
    passing="""
- size 1220 by 610 mm
+   size 1220 by 610 mm
+   material birch_plywood
+ 
+ load plank
+   force 20 N at deck.centre, down
""",
)

# Solves for the bending of a plate, which is slow: `compile` and `check --full` run it.
FULL_ONLY = True


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for each load."""
    for sag in sags(design, derived):
        if sag.sag_mm <= ALLOWED_MM:
            continue
        load, board = sag.load, sag.board
        measured, allowed = two_lengths(sag.sag_mm, ALLOWED_MM, design.units)
        ways = f"{sag.modulus_x:.0f} N/mm2 along x and {sag.modulus_y:.0f} along y"
        known = board.grain is not None or any(
            sheet.name.text == board.stock.text and sheet.face_grain is not None for sheet in design.sheets
        )
        lowest = "" if known else ", the lower one both ways, since it is not stated how the grain runs"
        more = min(board.layers + 1, MOST_LAYERS)
        left = length_text(sag.sag_mm * (board.layers / more) ** 3, design.units)
        thicker = f", or `layers {more}` in `{board.name}`, which leaves about {left}" if more > board.layers else ""
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            f"`{load.name}` makes `{board.name}` sag by about {measured}; {allowed} is usual",
            place(load.origin, load.name.origin),
            related((f"its stiffness in bending is taken as {ways}{lowest} ({BENDING_SOURCE})", board.name.origin)),
            f"feet nearer to the load{thicker}; or set it flush under its load",
            (load.name.text, board.name.text),
        )
