"""A large gear close under the board: when it warps, it rubs."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place, related
from trivet.checks._round import up_told
from trivet.checks._train import named
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived, GearState
from trivet.source import Origin
from trivet.units import two_lengths

RULE = Rule(
    "gear-warp-rubs",
    "note",
    "between an idler or a drive gear and the board over it there is less than 1 mm for each 150 mm of the gear's diameter, at the"
    " thinnest washers and with all play taken up; gears on feet leave the board as it rises and are not judged",
    "plywood warps with the seasons, and the rim of a large gear comes up against the board",
    "common practice, no source",
    failing="""
- washers ISO 7093-1 M6, above and below
+   washers ISO 7093-1 M6, below
""",
    passing="""
- washers ISO 7093-1 M6, above and below
+   washers ISO 7093-1 M6, above
""",
)

CLEAR_PER_DIAMETER = 1.0 / 150.0


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One note for gears alike on one pivot or drive. Gears on lower levels are clear of the board by the level above."""
    if derived.lift is None or derived.train.faults:
        return
    # Heights are known from the board on whose underside the feet's extensions count.
    level = {item.board.name.text for item in derived.boards if abs(item.z_under_mm) < 1e-9}
    names = (*(drive.name for drive in design.drives), *(pivot.name for pivot in design.pivots))
    holders: dict[str, Origin | None] = {name.text: name.origin for name in names}
    groups: dict[tuple[str, float, float], list[GearState]] = {}
    for state in derived.train.gears:
        holder = state.gear.turned_by or state.gear.turns_on
        if holder is None or state.level > 0 or state.gear.under.text not in level:
            continue
        clear, wanted = -state.z_top.most, 2.0 * state.tip_radius_mm * CLEAR_PER_DIAMETER
        if clear < wanted - 1e-9:
            groups.setdefault((holder.text, round(clear, 6), round(wanted, 6)), []).append(state)
    for (name, clear, wanted), states in groups.items():
        has, least = two_lengths(max(clear, 0.0), wanted, design.units)
        across = two_lengths(2.0 * states[0].tip_radius_mm, 0.0, design.units)[0]
        many = len(states) > 1
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            f"{named(state.id for state in states)}, {across} across, {'clear' if many else 'clears'} the board by {has};"
            f" at least {least} leaves room for warp",
            place(states[0].gear.name.origin, holders[name]),
            related((f"`{name}` holds {'them' if many else 'it'}", holders[name])),
            f"a thicker washer above the gear, or one more: {up_told(wanted - clear, design.units)} more in all",
            (name, *(state.id for state in states)) if not many else (name,),
        )
