"""Workpieces against the heights that the board can take: what is matched flush, which riser would do, how many foot blocks."""

from __future__ import annotations

import math
from collections.abc import Sequence

from trivet.model.board import Workpiece
from trivet.record import record
from trivet.units import length_text

# How far the strokes on two foot blocks overlap, mm (common practice, no source).
BLOCK_OVERLAP_MM = 1.0


@record
class Match:
    """One workpiece: thicknesses matched flush (None: none), riser to use instead of the stated one (None: none needed), foot blocks."""

    name: str
    flush_from_mm: float | None
    flush_to_mm: float | None
    riser_mm: float | None
    blocks: int | None
    text: str


def foot_blocks(range_mm: float, travel_mm: float, overlap_mm: float = BLOCK_OVERLAP_MM) -> int | None:
    """ceil((range − travel)/(travel − overlap)), at least 0; None where the travel is no more than the overlap wanted (derived)."""
    if range_mm <= travel_mm:
        return 0
    if travel_mm <= overlap_mm:
        return None
    # The sum of floats may stand a hair above a whole number of blocks.
    return math.ceil((range_mm - travel_mm) / (travel_mm - overlap_mm) - 1e-9)


def match(workpiece: Workpiece, height_min_mm: float, height_max_mm: float, unit: str) -> Match:
    """Heights wanted are the riser plus the thickness; the board's run from `height_min_mm` to `height_max_mm`."""
    riser, least, most = workpiece.riser_mm, workpiece.least_mm, workpiece.most_mm
    low, high = max(least, height_min_mm - riser), min(most, height_max_mm - riser)
    flush = low <= high + 1e-9
    needed = height_min_mm - least if riser + least < height_min_mm - 1e-9 else None
    used = needed if needed is not None else riser
    travel = height_max_mm - height_min_mm
    blocks = foot_blocks(used + most - height_min_mm, travel)
    said = [
        f"`{workpiece.name.text}` is matched flush from {length_text(low, unit)} to {length_text(high, unit)}"
        if flush
        else f"no thickness of `{workpiece.name.text}` is matched flush"
    ]
    if needed is not None:
        said.append(f"a riser of {length_text(needed, unit)} brings its least thickness to the lowest height")
    if blocks is None:
        said.append("its tallest is out of reach: the travel is too short for foot blocks")
    elif blocks:
        said.append(
            f"its tallest needs {blocks} foot block{'s' if blocks > 1 else ''} under each foot, "
            f"of {length_text(travel - BLOCK_OVERLAP_MM, unit)} each at most"
        )
    return Match(workpiece.name.text, low if flush else None, high if flush else None, needed, blocks, "; ".join(said))


def match_all(workpieces: Sequence[Workpiece], height_min_mm: float, height_max_mm: float, unit: str) -> tuple[Match, ...]:
    """Every workpiece, in the order of the file."""
    return tuple(match(item, height_min_mm, height_max_mm, unit) for item in workpieces)
