"""A workpiece whose thicknesses the board does not all match flush."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place, related
from trivet.checks._round import down_text, up_text
from trivet.checks._stroke import crossing, ends
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.solve.matching import BLOCK_OVERLAP_MM
from trivet.units import decimal_beside, length_text

RULE = Rule(
    "workpiece-not-met",
    "warning",
    "a stated range of workpiece thickness that the stroke does not match flush throughout",
    "a workpiece thinner than the lowest height stands below the board unless it lies on a riser, a thicker one needs blocks under the feet",
    "derived: riser + thickness against the heights at mean thickness",
    failing="""
+ workpiece plank
+   thickness 18..22 mm
""",
    passing="""
+ workpiece plank
+   thickness 18..22 mm
+   on riser 24 mm
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for each workpiece that is not matched throughout."""
    lift, bounds = derived.lift, ends(derived)
    if lift is None or bounds is None or crossing(derived) is not None:
        return
    risers, blocks, unit = dict(lift.riser_mm), dict(lift.foot_blocks), design.units
    met = {name: (low, high) for name, low, high, _ in lift.workpieces}
    for piece in design.workpieces:
        name = piece.name.text
        low, high = met[name]
        if low <= piece.least_mm + 1e-9 and high >= piece.most_mm - 1e-9 and high > 0.0:
            continue
        said = f"`{name}` of {length_text(piece.least_mm, unit)}"
        said += f" to {length_text(piece.most_mm, unit)}" if piece.most_mm > piece.least_mm else ""
        said += f" on a riser of {length_text(piece.riser_mm, unit)}" if piece.riser_mm else ""
        matched = (
            f"is matched flush only from {length_text(low, unit)} to {length_text(high, unit)}" if high else "is not matched flush"
        )
        heights = f"the board stands at {length_text(lift.height_min_mm, unit)} to {length_text(lift.height_max_mm, unit)} at mean thickness"
        riser = up_text(risers[name], unit) if name in risers else ""
        cures = [f"`on riser {riser}`{decimal_beside(riser)}"] if riser else []
        many, used = blocks.get(name), risers.get(name, piece.riser_mm)
        # One block lifts all of it into reach where the range is no longer than the travel.
        thinnest, thickest = used + piece.least_mm - lift.height_min_mm, used + piece.most_mm - lift.height_max_mm
        if many and thickest <= thinnest:
            block = up_text(thickest, unit)
            cures.append(f"a foot block of {block}{decimal_beside(block)} under each foot")
        elif many:
            most = down_text(lift.height_max_mm - lift.height_min_mm - BLOCK_OVERLAP_MM, unit)
            each = f"{many} foot blocks under each foot for the thickest, of {most} each at most"
            cures.append(each if many > 1 else f"a foot block of {most} at most under each foot for the thickest")
        elif many is None:
            cures.append("more travel: the thickest is out of reach even with foot blocks")
        over = piece.riser_mm + piece.most_mm > lift.height_max_mm + 1e-9
        blame = bounds[1] if over else bounds[0]
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            f"{said} {matched}; {heights}",
            place(piece.origin, piece.name.origin),
            related=related((blame.sentence, blame.origin)),
            remedy=" and ".join(cures),
            parts=(name,),
        )
