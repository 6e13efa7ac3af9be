"""Keepers' screws that come through the board, hold in too little of it, or are not sold so long."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import related
from trivet.checks._clear import places_of, where
from trivet.checks._round import down_fine
from trivet.checks.keeper_overlaps import KEPT
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.bolt_length import stock_text
from trivet.solve.derived import Derived
from trivet.solve.keeper_state import KeeperState
from trivet.solve.stack_pivot import TIP_BELOW_TOPSIDE_MM
from trivet.units import length_text, two_lengths

RULE = Rule(
    "keeper-screw-unfit",
    "error",
    "a keeper's screw whose point comes within 1 mm of the topside, that has less than 1.5 of its diameters of thread in the board, or that"
    " no shop sells so long; or with less than 6 mm of wood under its head, half of a thinner keeper",
    "a point in the work surface scratches the work; a keeper that tears off drops its gear out of mesh",
    "derived: keeper under the head, stand-off and board at both extremes of the sheets; 1 mm, 1.5 d and 6 mm are common practice, no source",
    failing=KEPT.format("170 by 70 mm\n+   keeper_screws ISO 7049 ST4.2, length 50"),
    passing=KEPT.format("170 by 70 mm\n+   keeper_screws ISO 7049 ST4.2, length 45"),
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for the keepers of a set with the same lengths."""
    places, unit = places_of(design, derived), design.units
    groups: dict[tuple[str, float, float], list[KeeperState]] = {}
    for held in derived.keepers:
        groups.setdefault((held.foot.partition(".")[0], round(held.least_mm, 6), round(held.most_mm, 6)), []).append(held)
    for items in groups.values():
        held = items[0]
        at = held.screws.length.origin if held.screws.length is not None else held.screws.origin or held.keeper.origin
        message, remedy = _length(design, held) if not held.fits else _head(design, held)
        if message:
            yield Diagnostic(
                RULE.slug, RULE.severity, message, where({"": at, **places}, design, "", held.id),
                related((f"the stand-offs are {length_text(held.height_mm, unit)} high, over `{held.gear}`", places.get(held.gear))),
                remedy, tuple(item.foot for item in items),
            )  # fmt: skip


def _length(design: Design, held: KeeperState) -> tuple[str, str]:
    unit, name = design.units, f"{held.screw.standard} {held.screw.thread.designation}"
    good = [mm for mm in held.screw.stock_mm if held.least_mm - 1e-6 <= mm <= held.most_mm + 1e-6]
    remedy = f"`length {stock_text(held.screw, max(good))}` fits" if good else _other(held)
    if held.length_mm is None or held.screws.length is None:
        least, most = two_lengths(held.least_mm, held.most_mm, unit)
        longest = max(held.screw.stock_mm, default=0.0)
        if held.least_mm > held.most_mm:
            return f"no {name} holds the keeper of `{held.foot}`: {least} is needed, and only {most} stays in the board", remedy
        sold = stock_text(held.screw, longest)
        return f"no {name} holds the keeper of `{held.foot}`: {least} to {most} is wanted, the longest sold is {sold}", remedy
    long = held.length_mm
    if long > held.most_mm:
        measured, allowed = two_lengths(long, held.most_mm, unit)
        out = long - held.most_mm - TIP_BELOW_TOPSIDE_MM
        comes = f"comes {length_text(out, unit)} through" if out > 0.0 else f"comes within {length_text(-out, unit)} of"
        return f"the screw of the keeper of `{held.foot}` is {measured} long and {comes} the topside; at most {allowed} stays inside", remedy
    measured, allowed = two_lengths(long, held.least_mm, unit)
    return f"the screw of the keeper of `{held.foot}` is {measured} long; at least {allowed} holds in the wood", remedy


def _other(held: KeeperState) -> str:
    if held.least_mm > held.most_mm:
        return "a thicker board, or thinner screws"
    return "deeper recesses for the heads, a thinner keeper, or a standard that is sold longer, such as ASME B18.6.1"


def _head(design: Design, held: KeeperState) -> tuple[str, str]:
    """Wood under a head whose recess is stated."""
    if held.screws.recessed is None or held.screw.head.form != "pan":
        return "", ""
    from trivet.solve.keeper_holds import UNDER_HEAD_MM

    least = min(UNDER_HEAD_MM, (held.under_head_mm + held.recess_mm) / 2.0)
    if held.under_head_mm >= least - 1e-9:
        return "", ""
    measured, allowed = two_lengths(max(held.under_head_mm, 0.0), least, design.units)
    shallow = down_fine(max(held.recess_mm - (least - held.under_head_mm), 0.0), design.units)
    return (
        f"{measured} of wood is left under the screw heads of the keeper of `{held.foot}`; at least {allowed} is required",
        f"`head recessed {shallow}` leaves it",
    )
