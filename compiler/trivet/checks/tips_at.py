"""Which load, pressed down at a board's edge, lifts the feet across."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place, related
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.solve.library_figures import DENSITY_SOURCE
from trivet.solve.tipping import TipEdge, tip_edges, weight_of
from trivet.source import Origin
from trivet.units import length_text

# Other edges that a note lists.
MOST_SHOWN = 5

RULE = Rule(
    "tips-at",
    "note",
    "the least load that tips the unloaded board over an edge of the polygon that its feet stand on, where a load is stated",
    "a hand or a tool at the rim lifts the feet across before anything breaks; an estimate, which certifies no load",
    "derived: moments about each edge from the boards' own weight, outline area times thickness times the library's density; gears and "
    "screws are left out",
    failing="""
+ 
+ load plank
+   force 60 N at deck.centre, down
""",
    passing="""
+ # Without a load nothing is said.
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One note for the fixture, at its first load: the edge that gives way first, the others beside it."""
    if not design.loads or len(derived.feet) < 3:
        return
    load = design.loads[0]
    spot = place(load.origin, load.name.origin, design.origin)
    weight, sheet = weight_of(design)
    if weight is None and not sheet:
        return
    if weight is None:
        message = f"what tips the board is not known: no density is known for the sheet `{sheet}`"
        remedy = "state its `material`, such as `birch_plywood` or `mdf`"
        yield Diagnostic(RULE.slug, RULE.severity, message, spot, (), remedy, (load.name.text,))
        return
    edges = sorted(
        (edge for edge in tip_edges(design, derived, weight) if edge.lifts_n is not None),
        key=lambda edge: (edge.lifts_n, edge.feet),
    )
    if not edges:
        return
    first, *others = edges
    yield Diagnostic(
        RULE.slug,
        RULE.severity,
        f"the board alone, about {weight[0]:.0f} N, tips {_words(first, design.units)}",
        spot,
        related(*((f"it tips {_words(edge, design.units)}", _place(derived, edge)) for edge in others[:MOST_SHOWN])),
        f"a wider stance; what lies on the board between the feet holds it down too: an estimate, no promise ({DENSITY_SOURCE})",
        (load.name.text, *dict.fromkeys(name for edge in edges for name in edge.feet)),
    )


def _place(derived: Derived, edge: TipEdge) -> Origin | None:
    foot = next(item for item in derived.feet if item.id == edge.feet[0])
    return derived.train.gear(foot.gear).gear.name.origin


def _words(edge: TipEdge, unit: str) -> str:
    one, other = edge.feet
    return f"over `{one}` and `{other}` under about {edge.lifts_n:.0f} N pressed down {length_text(edge.reach_mm, unit, 0 if unit == 'mm' else 1)} beyond them"
