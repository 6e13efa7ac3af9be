"""Cuts about one axis from both faces of a part, with less room round what passes them than the second face may lie off."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place, related
from trivet.checks._cuts import quoted
from trivet.checks._round import down_text, up_told
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.solve.nest_registration import SLIDE_MM
from trivet.solve.split_faces import Split, split_faces
from trivet.units import two_lengths

RULE = Rule(
    "split-between-faces",
    "warning",
    "a hole and the recess or second hole about its axis are cut from opposite faces, and what passes both has less room to either side"
    " than the second face may lie off the first: twice the machine's hole position and half the play round the index dowels",
    "the head, flange or nut does not go in, or the screw binds between guide and insert",
    "derived: sum of half the diametral rooms; that a flip doubles the machine's error is common practice, no source",
    failing="""
- insert my_insert, driven_from topside, flush underside
+   insert my_insert, driven_from topside, flush topside
+   guide clearance 0.3 mm, length 2 mm
""",
    passing="""
- insert my_insert, driven_from topside, flush underside
+   insert my_insert, driven_from topside, flush topside
+   guide clearance 0.6 mm, length 2 mm
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for equal cuts of one set of feet, pivots or drives in one board or in gears."""
    groups: dict[tuple[str, str, float, str], list[Split]] = {}
    for split in split_faces(design, derived):
        if split.wander_mm > split.room_mm + 1e-6:
            key = (split.owner.partition(".")[0], split.what, round(split.room_mm, 4), split.hole.face)
            groups.setdefault(key, []).append(split)
    for items in groups.values():
        split, unit = items[0], design.units
        off, room = two_lengths(split.wander_mm, max(split.room_mm, 0.0), unit)
        hole, recess = (quoted(feature.title.partition(", ")[0]) for feature in (split.hole, split.recess))
        more = f", and {len(items) - 1} more like it" if len(items) > 1 else ""
        first = split.part.datum if split.hole.through else split.hole.face
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            f"the {hole} is cut from the {first} of `{split.part.part}` and the {recess} from the other face{more}: they may lie {off} off"
            f" each other, and {split.what} has {room} to either side",
            place(split.origin, design.origin),
            related((f"the {hole}", split.hole.origin)),
            _remedy(split, unit),
            (*dict.fromkeys(item.owner for item in items), split.part.belongs_to or split.part.part),
        )


def _remedy(split: Split, unit: str) -> str:
    ways = []
    if split.guide:
        ways.append(f"an insert driven from the {split.part.datum}, or `datum {split.recess.face}`, cuts both from one face")
        ways.append(f"a guide clearance {up_told(2.0 * (split.wander_mm - split.room_mm), unit)} larger")
    elif split.part.kind == "board":
        ways.append(f"`datum {split.recess.face}` cuts both from one face")
    else:
        ways.append(f"ease the recess by {up_told(2.0 * (split.wander_mm - split.room_mm), unit)} across, by hand")
    machine = (split.room_mm - SLIDE_MM / 2.0) / 2.0
    if machine >= 0.05:
        ways.append(f"a hole position of +/- {down_text(machine, unit)} or better")
    return "; ".join(ways)
