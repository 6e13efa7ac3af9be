"""The requirement on how far the board may stand off flush: the ranked parts, and what would bring them down."""

from __future__ import annotations

import math
from collections.abc import Iterator

from trivet.checks._check import place, related
from trivet.checks._require import SLUG, required, side_of, too_great, too_small, unit_of
from trivet.checks._round import up_text
from trivet.checks.gear_rubs_bench import STANDS_OUT_MM
from trivet.diagnostics import Diagnostic
from trivet.model.design import Design
from trivet.model.intent import Require
from trivet.solve.derived import Derived, Lift
from trivet.solve.flush import Flush, FlushPart, flush_of
from trivet.units import length_text, two_lengths

# More marks than this are not read round a bolt's head (common practice, no source).
MOST_MARKS = 36
DIAL_MM = 40.0


def unmet_flush(
    require: Require, design: Design, derived: Derived, lift: Lift, with_sag: bool = False
) -> Iterator[Diagnostic]:
    """`flush within …`: the sum of all parts. Without `with_sag` the sag, which is slow, is left out."""
    flush = flush_of(design, derived, with_sag)
    if flush is None or not (too_great(require, flush.worst_mm) or too_small(require, flush.worst_mm)):
        return
    unit = unit_of(require, design)
    upper = too_great(require, flush.worst_mm)
    bound = side_of(require, upper)
    measured, allowed = two_lengths(flush.worst_mm, bound, unit)
    likely = length_text(flush.rss_mm, unit, 3)
    spot = place(require.origin)
    labels = related(
        *((f"{length_text(part.mm, unit, 3)} is {part.words} ({part.source})", part.origin or require.origin) for part in flush.parts)
    )
    yield Diagnostic(
        SLUG,
        "error",
        f"the board may stand {measured} off flush when all adds up, likely {likely}; {required(require, allowed, upper)}",
        spot,
        labels,
        _remedy(design, derived, lift, flush, bound, unit) if upper else "a board that is more off flush is not wanted by anyone: state an upper bound",
        ("flush", *dict.fromkeys(name for part in flush.parts for name in part.where)),
    )


def unmet_flush_with_sag(require: Require, design: Design, derived: Derived, lift: Lift) -> Iterator[Diagnostic]:
    """The same with the sag under stated loads."""
    yield from unmet_flush(require, design, derived, lift, True)


def _remedy(design: Design, derived: Derived, lift: Lift, flush: Flush, bound: float, unit: str) -> str:
    """The one change that would do; else the largest changes together until they do, or what they leave."""
    excess = flush.worst_mm - bound
    told = [(part, *found) for part in flush.parts if (found := _change(design, derived, lift, part, excess, unit)) is not None]
    for _, words, gain in told:
        if gain >= excess - 1e-9:
            return f"{words} would do"
    picked: list[str] = []
    left = excess
    for _, words, gain in sorted(told, key=lambda item: -item[2]):
        picked.append(words)
        left -= gain
        if left <= 1e-9:
            return f"{_listed(picked)} together would do"
    if not picked:
        return f"`require flush within {length_text(flush.worst_mm, unit, 3)}` is what it reaches"
    leaves = f"together leave {length_text(bound + left, unit, 3)}" if len(picked) > 1 else f"leaves {length_text(bound + left, unit, 3)}"
    return f"{_listed(picked)} {leaves}, which is still more"


def _listed(words: list[str]) -> str:
    return " and ".join(filter(None, (", ".join(words[:-1]), words[-1])))


def _change(
    design: Design, derived: Derived, lift: Lift, part: FlushPart, excess: float, unit: str
) -> tuple[str, float] | None:
    """What changes one part by at least `excess` where it can, else by as much as it can: words, and mm gained."""
    wanted = part.mm - excess
    if part.key == "setting":
        marks = MOST_MARKS if wanted <= 0.0 else min(MOST_MARKS, math.ceil(lift.per_turn_mm / (2.0 * wanted) - 1e-9))
        gain = part.mm - lift.per_turn_mm / (2.0 * marks)
        wide = up_text(DIAL_MM, design.units, 1.0, 1 / 4)
        return (f"`dial marks {marks}, diameter {wide}` on the drive", gain) if gain > 1e-9 else None
    if part.key == "zeroing":
        foot = next(item for item in derived.feet if item.id == part.where[0])
        gain = part.mm - foot.lead_mm / foot.zero_clockings / 2.0
        form = foot.foot.screw.head.form if foot.foot.screw is not None else ""
        return (f"`zeroed before_gluing` on `{foot.foot.name}`", gain) if gain > 1e-9 and form == "hexagon" and foot.foot.kind == "riding" else None
    if part.key == "pad_rock":
        standing = next(item for item in derived.feet if item.id == part.where[0])
        head = standing.foot.screw.head.height_mm if standing.foot.screw is not None else 0.0
        out = (standing.pocket_mm or 0.0) - head + STANDS_OUT_MM
        drop = max(standing.foot.pad.drop.mm if standing.foot.pad.drop is not None else 0.0, out)
        return f"`pad dome, drop {up_text(drop, design.units, 0.5, 1 / 32)}`", part.mm
    if part.key == "bow":
        flat = f"to {length_text(math.floor(wanted * 1000) / 1000, unit, 3)}" if wanted > 0.0005 else "out"
        return f"planing the bow {flat}", part.mm - max(wanted, 0.0)
    if part.key == "sag":
        return "setting it flush under its load", part.mm
    return None
