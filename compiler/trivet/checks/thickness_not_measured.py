"""A sheet that is taken to be equally thick everywhere."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place, related
from trivet.checks._train import named
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.board import Board
from trivet.model.design import Design
from trivet.model.train import Gear
from trivet.solve.derived import Derived
from trivet.units import length_text

RULE = Rule(
    "thickness-not-measured",
    "note",
    "the thickness of a sheet in use is stated without a spread",
    "plywood differs by tenths of a millimetre within one sheet; stacks, strokes and bolts are then worked out for one thickness only",
    "common practice, no source; EN 324-1 measures at eight points about 50 mm in from the edges (from memory)",
    failing="""
-   thickness 17.8 +/- 0.2 mm
+   thickness 17.8 mm
""",
    passing="""
-   thickness 17.8 +/- 0.2 mm
+   thickness 17.6..18 mm
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One note a sheet, if anything is cut from it; glued layers add their differences."""
    cut: dict[str, list[str]] = {}
    layered: dict[str, list[Board | Gear]] = {}
    parts: tuple[Board | Gear, ...] = (*design.boards, *design.gears)
    for part in parts:
        cut.setdefault(part.stock.text, []).append(part.name.text)
        if part.layers > 1:
            layered.setdefault(part.stock.text, []).append(part)
    for spacer in design.spacers:
        cut.setdefault(spacer.stock.text, []).append(spacer.name.text)
    for foot in design.feet:
        if foot.keeper is not None:
            cut.setdefault(foot.keeper.stock.text, []).append(foot.name.text)
    for sheet in design.sheets:
        name, thick = sheet.name.text, sheet.thickness
        if name not in cut or thick.spread > 0.0:
            continue
        glued = named(item.name.text for item in layered[name]) if name in layered else ""
        adds = f"; the layers of {glued} add their differences" if glued else ""
        shown = length_text(thick.mean, design.units)
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            f"`{name}` is taken as {shown} thick everywhere{adds}",
            place(thick.origin, sheet.name.origin),
            related(*((f"`{item.name}` has {item.layers} layers", item.name.origin) for item in layered.get(name, ()))),
            f"measure it in eight places and state the spread, such as `thickness {shown.split()[0]} +/- {_example(design.units)}`",
            (name,),
        )


def _example(unit: str) -> str:
    return "0.008 in" if unit == "in" else "0.2 mm"
