"""Heads and nuts let in so far that no spanner reaches them."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place
from trivet.checks._clear import places_of
from trivet.checks._round import down_told, up_text, up_told
from trivet.checks._train import named
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.solve.spanner import OPEN_SPANNER_MM, Sunk, sunk_hexagons
from trivet.units import length_text, made_text, two_lengths

RULE = Rule(
    "no-room-for-spanner",
    "warning",
    "a hexagon head or nut that has to be turned lies in a recess too narrow for a socket spanner, and too little of it stands out for an"
    " open one; a jam nut in a hexagon recess, which keeps it from being turned at all",
    "it cannot be tightened, or only by a special tool",
    "common practice, no source: a socket spanner is 1.35 times the width across flats and 1.5 mm outside, an open one wants 3 mm of nut",
    failing="""
-   jam_nut ISO 4035, below gear, recessed 6 mm, round 24 mm
+   jam_nut ISO 4035, below gear, recessed 6 mm, round 18 mm
""",
    passing="""
-   jam_nut ISO 4035, below gear, recessed 6 mm, round 24 mm
+   jam_nut ISO 4035, below gear, recessed 6 mm, round 19.5 mm
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for the heads, or the nuts, of a set."""
    unit, places = design.units, places_of(design, derived)
    groups: dict[tuple[str, str], list[Sunk]] = {}
    for item in sunk_hexagons(derived):
        if not item.free:
            groups.setdefault((item.part.partition(".")[0], item.what), []).append(item)
    for (name, what), items in groups.items():
        first = items[0]
        flats, many = _spanner(first.flats_mm), len(dict.fromkeys(item.part for item in items)) > 1
        who = f"the {what}{'s' if many else ''} of {named(dict.fromkeys(item.part for item in items))} {'lie' if many else 'lies'} in"
        if first.recess_mm is None:
            message = f"{who} a hexagon recess, which keeps {'them' if many else 'it'} from being turned"
            remedy = f"`round {up_text(first.socket_mm, unit, 0.5, 0.02)}`, which takes the socket spanner for {flats}"
        else:
            has, needs = two_lengths(first.recess_mm, first.socket_mm, unit)
            message = (
                f"{who} a recess {has} wide; a socket spanner for {flats} is about"
                f" {needs} outside, and an open one finds {length_text(first.out_mm, unit)} of it where"
                f" {length_text(OPEN_SPANNER_MM, unit)} is wanted"
            )
            shallow = first.height_mm - OPEN_SPANNER_MM
            wide = f"a recess {up_told(first.socket_mm, unit, 0.5, 0.02)} wide or more"
            remedy = wide if what != "hexagon head" else "a head with a socket for a key"
            remedy += f", or a recess no deeper than {down_told(shallow, unit)}, out of which it then stands" if shallow > 0.0 else ""
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            message,
            place(first.origin, places.get(name), design.origin),
            (),
            remedy,
            tuple(dict.fromkeys(item.part for item in items)),
        )


def _spanner(flats_mm: float) -> str:
    """A spanner's size as it is stamped: whole millimetres, else inches."""
    return made_text(flats_mm, "mm" if abs(flats_mm - round(flats_mm)) < 1e-6 else "in")
