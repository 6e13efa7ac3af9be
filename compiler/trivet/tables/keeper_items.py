"""What holds the keepers, in the hardware schedule: screws and stand-offs, counted place by place."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.solve.derived import Derived
from trivet.solve.keeper_state import KeeperState
from trivet.tables.hardware_items import HardwareItem
from trivet.units import length_text

SCREW, STAND_OFF = "keeper_screw", "stand_off"


def keeper_items(derived: Derived, unit: str) -> Iterator[HardwareItem]:
    """A screw and a stand-off for each place of each keeper; nothing where no place was found. Wooden stand-offs stand in the cut list."""
    for held in derived.keepers:
        name = held.foot.partition(".")[0]
        screw = held.screw
        listed = held.length_mm if held.length_mm is not None and _sold(held) else None
        assumed = "" if held.screws.screw_stated else "assumed, since nothing is stated"
        for _ in held.places:
            yield HardwareItem(
                f"{name}-{SCREW}", "screw", held.id, screw.standard, screw.thread.designation, screw.thread, screw,
                length_mm=listed, stated_mm=held.screws.length.mm if held.screws.length is not None else None, fits=held.fits,
                note=assumed, origin=screw.origin,
            )  # fmt: skip
        if held.stand_off.form == "sleeve":
            for _ in held.places:
                yield HardwareItem(
                    f"{name}-{STAND_OFF}", "sleeve", held.id, size_mm=held.stand_off.diameter.mm, inside_mm=screw.thread.major_mm,
                    cut_to_mm=round(held.height_mm, 6),
                    note="between keeper and board, as high as the thickest gears and their play"
                    + ("" if held.screws.stand_off_stated else "; assumed, since nothing is stated"),
                    origin=held.stand_off.diameter.origin,
                )  # fmt: skip


def keeper_notes(derived: Derived, unit: str) -> Iterator[str]:
    """What was assumed for the keepers, and which are not held."""
    assumed: dict[tuple[str, ...], list[str]] = {}
    for held in derived.keepers:
        if held.places and held.assumed:
            assumed.setdefault(held.assumed, []).append(held.id)
    for words, keepers in assumed.items():
        listed = ", ".join(keepers)
        yield f"Not stated, and assumed for {listed}: {'; '.join(words)} (`keeper_screws`, `stand_offs` and `stand_off_at` state them)."
    wooden = [held for held in derived.keepers if held.places and held.stand_off.form == "wood"]
    for held in wooden[:1]:
        high = length_text(held.height_mm, unit)
        yield f"Stand-offs of wood are in the cut list; stack them with shims of card to {high} (of {held.id}), whatever the sheets measure."
    loose = [f"{state.id}.keeper" for state in derived.feet if state.foot.keeper is not None]
    fixed = {held.id for held in derived.keepers if held.places}
    if any(name not in fixed for name in loose):
        missing = ", ".join(name for name in loose if name not in fixed)
        yield f"What fixes {missing} to the board is not known and not counted."


def _sold(held: KeeperState) -> bool:
    return any(abs(mm - (held.length_mm or 0.0)) < 1e-6 for mm in held.screw.stock_mm)
