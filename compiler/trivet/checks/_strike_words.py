"""Words for a gear or hardware that strikes a board below it."""

from __future__ import annotations

from trivet.checks._clear import solid_words
from trivet.checks._round import up_told
from trivet.solve.board_rooms import AXIAL_MM, RADIAL_MM, TOUCH_MM, Strike
from trivet.units import length_text, two_lengths

# A floor that a deeper pocket is to keep, mm: as thin-pocket-floor wants it.
FLOOR_MM = 3.0


def strike_words(strike: Strike, wood_mm: float, unit: str) -> tuple[str, str]:
    """The message without its place, and what would help with its number. `wood_mm`: the board that is struck, at its thinnest."""
    solid, gear = strike.solid, strike.solid.kind == "gear"
    wanted = (RADIAL_MM if strike.radial_mm is not None else AXIAL_MM) if gear else TOUCH_MM
    gap = strike.radial_mm if strike.radial_mm is not None else strike.axial_mm or 0.0
    who = f"`{solid.part}`" if gear else solid_words(solid)
    has, least = two_lengths(gap, wanted, unit)
    needs = f"; a gap of at least {least} is required" if gear else ", which it must clear"
    short = up_told(wanted - gap, unit, 0.1, 0.005)
    board = f"`{strike.board}`"
    if strike.radial_mm is not None:
        state = f"reaches {length_text(-gap, unit)} into the wall" if gap < 0.0 else f"stands {has} from the wall"
        return f"{who} {state} round it in {board}{needs}", f"a cut {short} larger all round, or in another place"
    floor = "the floor of the pocket under it in" if strike.cutout is not None else "the topside of"
    state = f"reaches {length_text(-gap, unit)} below {floor}" if gap < 0.0 else f"comes within {has} of {floor}"
    remedy = f"an opening round it, or {short} more of `clear`"
    if strike.cutout is not None:
        room = wood_mm - (strike.cutout.depth_mm or 0.0) - FLOOR_MM
        remedy = f"a pocket {short} deeper, or an opening" if wanted - gap <= room else "an opening in place of the pocket"
    return f"{who} {state} {board} at the worst of the sheets{needs}", remedy
