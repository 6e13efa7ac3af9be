"""A cutter that leaves too much in the tooth spaces."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place, related
from trivet.checks._round import down_told
from trivet.checks._train import down_to, named
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived, GearState
from trivet.source import Origin
from trivet.units import two_lengths

RULE = Rule(
    "cutter-too-fat",
    "error",
    "the cutter of a gear is larger than its tooth spaces allow",
    "a round cutter leaves a fillet at the root; where it reaches into the flank that the mate uses, or fills the bottom of the"
    " space, the mate's tips ride on it and the train binds however wide the centres are",
    "derived, and checked by turning as-cut outlines against each other: the flank must be whole down to the start of contact, the"
    " bottom 0.1 mm clear of the mate's tip",
    failing="""
-   diameter 6 mm
+   diameter 8 mm
""",
    passing="""
-   diameter 6 mm
+   diameter 7 mm
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for all gears that one statement gives the cutter and one limit holds."""
    groups: dict[tuple[object, float], list[GearState]] = {}
    cutters = {cutter.name.text: cutter for cutter in design.cutters}
    for state in derived.train.gears:
        if state.cutter_diameter_mm > state.largest_cutter_mm + 1e-9:
            key = (_place_key(state.gear.cutter.origin, state.id), round(state.largest_cutter_mm, 4))
            groups.setdefault(key, []).append(state)
    for states in groups.values():
        first = states[0]
        cutter = cutters[first.gear.cutter.text]
        has, allowed = two_lengths(first.cutter_diameter_mm, first.largest_cutter_mm, design.units)
        many = len(states) > 1
        largest = down_to(first.largest_cutter_mm, 0.01)
        coarser = "a smaller diametral pitch" if design.units == "in" else "a larger module"
        remedy = f"a cutter of {down_told(largest, design.units)} or less, or {coarser}"
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            f"`{cutter.name}`, {has}, cuts {named(state.id for state in states)}; {allowed} is the largest for"
            f" {'them' if many else 'it'}: {first.cutter_limit}",
            place(first.gear.cutter.origin, first.gear.name.origin),
            related(
                (f"`{cutter.name}` is declared here", cutter.diameter.origin if cutter.diameter is not None else None),
                *((f"`{state.id}` has {state.gear.z} teeth", state.gear.name.origin) for state in states),
            ),
            remedy if largest > 0 else f"{coarser}, or more teeth",
            # One acceptance covers the whole group, so a gear's name is enough only where the group is one gear.
            (cutter.name.text,) if many else (cutter.name.text, first.id),
        )


def _place_key(origin: Origin | None, name: str) -> object:
    span = place(origin)
    return (span.file.name, span.start) if span is not None else name
