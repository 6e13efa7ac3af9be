"""A drive whose nuts hold less than three times what turns it, the way that parts them."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place, related
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.solve.locking import SAFETY, TIGHTENED_SOURCE, nut_hold
from trivet.solve.torque import SOURCES

RULE = Rule(
    "jam-nut-may-slip",
    "note",
    "under the stated loads the drive's nuts hold less than three times the torque that turns it, the way that parts them; an estimate",
    "the bolt then screws through its nuts instead of turning the gear, and the head lifts or the gear jams under the board",
    "derived: screw and ring friction at middling values; how hard a nut is drawn on wood is assumed, no source; three times: common practice",
    failing="""
+ 
+ load vice
+   force 400 N at deck.centre, down
""",
    passing="""
+ 
+ load plank
+   force 60 N at deck.centre, down
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for each drive with a jam nut, where loads are stated and the drive turns every foot."""
    for state in derived.drives:
        found = nut_hold(design, derived, state)
        jam = state.drive.jam_nut
        if jam is None or found.holds_nmm is None or found.turns_nmm is None or found.turns_nmm * SAFETY <= found.holds_nmm + 1e-9:
            continue
        holds, turns = found.holds_nmm / 1000.0, found.turns_nmm / 1000.0
        wider = "" if state.drive.washer is not None and jam.side in state.drive.washer_places else ", or a washer under the jam nut"
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            f"the nuts of `{state.drive.name}` hold about {holds:.2f} Nm; {SAFETY * turns:.2f} Nm is wanted, {SAFETY:g} times the"
            f" {turns:.2f} Nm of {found.loosens_while} the stated loads, {found.loosens}, which parts them",
            place(jam.origin, state.drive.origin),
            related(
                (f"the jam nut is drawn with about {found.tightened_nmm / 1000.0:.2f} Nm: {TIGHTENED_SOURCE}", jam.origin),
                (f"the torque: {'; '.join(SOURCES)}", design.loads[0].origin),
            ),
            f"thread locker on both nuts{wider}",
            (state.drive.name.text, *dict.fromkeys(load.name.text for load in design.loads)),
        )
