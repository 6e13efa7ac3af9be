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
from trivet.units import length_text, two_lengths

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
        words = f"{allowed} is the largest for {'them' if many else 'it'}: {first.cutter_limit}"
        if largest <= 0.0:
            words = f"none is thin enough for {'them' if many else 'it'}: {first.cutter_limit.replace('a larger one', 'even the thinnest', 1)}"
            remedy = _too_close(derived, {state.id for state in states}, design.units) or f"{coarser}, or more teeth"
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            f"`{cutter.name}`, {has}, cuts {named(state.id for state in states)}; {words}",
            place(first.gear.cutter.origin, first.gear.name.origin),
            related(
                (f"`{cutter.name}` is declared here", cutter.diameter.origin if cutter.diameter is not None else None),
                *(
                    (f"{named(item.id for item in alike)} {'have' if len(alike) > 1 else 'has'} {teeth} teeth", alike[0].gear.name.origin)
                    for teeth, alike in _by_teeth(states).items()
                ),
            ),
            remedy,
            # One acceptance covers the whole group, so a gear's name is enough only where the group is one gear.
            (cutter.name.text,) if many else (cutter.name.text, first.id),
        )


def _by_teeth(states: list[GearState]) -> dict[int, list[GearState]]:
    """The gears of each tooth count."""
    found: dict[int, list[GearState]] = {}
    for state in states:
        found.setdefault(state.gear.z, []).append(state)
    return found


def _too_close(derived: Derived, names: set[str], unit: str) -> str:
    """Where a stated distance presses the gears into each other: the one that follows without it."""
    for mesh in derived.train.meshes:
        tight = mesh.tight_centre_distance_mm
        if mesh.mesh.centre_distance is not None and {mesh.a, mesh.b} <= names and mesh.centre_distance_mm < tight:
            more = length_text(tight - mesh.centre_distance_mm, unit)
            return f"leave `centre_distance` of `{mesh.a}` and `{mesh.b}` out: {length_text(tight, unit)} follows, {more} more"
    return ""


def _place_key(origin: Origin | None, name: str) -> object:
    span = place(origin)
    return (span.file.name, span.start) if span is not None else name
