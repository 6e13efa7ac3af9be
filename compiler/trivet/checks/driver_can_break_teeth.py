"""A drive that is turned with more than its train's teeth bear when a foot jams."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place, related
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.solve.library_figures import TOOTH_SOURCE
from trivet.solve.tooth_strength import LEWIS_SOURCE, clutch_words, strength_of
from trivet.units import length_text

RULE = Rule(
    "driver-can-break-teeth",
    "note",
    "a stated driver, or a stated torque by hand, under which a foot that jams would break teeth; an estimate",
    "trains like this break by jamming, not by lifting: at the end of its thread a foot stops and all of the torque goes into one tooth",
    "Lewis: force / (face x module x form factor); form factors from memory; what plywood teeth bear is an assumption, no published figure "
    "is known",
    failing="""
- play 0.2 mm
+   play 0.2 mm
+   turned_with driver
""",
    passing="""
- play 0.2 mm
+   play 0.2 mm
+   turned_with driver, torque 2 Nm
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for the fixture, at what turns its drive; none where the file does not say what turns it."""
    drive = next((state.drive for state in derived.drives), None)
    if drive is None or drive.turned_with is None or (drive.turned_with == "hand" and drive.driver_torque is None):
        return
    found = strength_of(design, derived)
    if found is None or found.torque_nmm <= found.clutch_nmm + 1e-9:
        return
    tooth = found.teeth[0]
    bends = tooth.bending / tooth.bending_allowed >= tooth.shear / tooth.shear_allowed
    measured, allowed = (tooth.bending, tooth.bending_allowed) if bends else (tooth.shear, tooth.shear_allowed)
    gear = derived.train.gear(tooth.gear)
    clutch = clutch_words(found.clutch_nmm)
    by_hand = drive.turned_with == "hand"
    who = "a hand" if by_hand else "a driver"
    cure = "turn it with" if by_hand else "turn it by hand, or set the clutch to"
    left_out = f"; {', '.join(f'`{name}`' for name in found.not_judged)} could not be judged" if found.not_judged else ""
    yield Diagnostic(
        RULE.slug,
        RULE.severity,
        f"{who} that turns `{drive.name}` with {found.torque_nmm / 1000.0:.3g} Nm when a foot jams loads the teeth of `{tooth.gear}` to about "
        f"{measured:.3g} N/mm2 in {'bending' if bends else 'shear'}; {allowed:.3g} N/mm2 is taken as the most",
        place(found.torque_origin, drive.turned_with_origin, drive.origin),
        related(
            (
                "its torque is stated here" if found.torque_source == "stated" else f"its torque: {found.torque_source}",
                found.torque_origin or drive.turned_with_origin,
            ),
            (
                f"`{tooth.gear}`, counted as {tooth.material}, shares {length_text(tooth.face_mm, design.units)} of face with `{tooth.mate}` ({TOOTH_SOURCE}; "
                f"{LEWIS_SOURCE})",
                gear.gear.name.origin,
            )
        ),
        f"{cure} {clutch} or less: an estimate, try it on waste{left_out}",
        (drive.name.text, tooth.gear, tooth.mate),
    )
