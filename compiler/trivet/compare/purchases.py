"""What to buy or return, and which screws are cut to another length."""

from __future__ import annotations

from typing import TYPE_CHECKING

from trivet.compare.change import Change, PurchaseChange
from trivet.tables.hardware_schedule import schedule
from trivet.tables.hardware_words import description
from trivet.units import length_text

if TYPE_CHECKING:
    from trivet.model.design import Design
    from trivet.solve.derived import Derived

Counted = dict[str, tuple[int, tuple[str, ...]]]


def purchase_changes(old: tuple[Design, Derived], new: tuple[Design, Derived]) -> tuple[PurchaseChange, ...]:
    """Pieces counted by what one asks for in a store; unchanged ones are left out."""
    unit = new[0].units
    before, after = _counted(*old, unit), _counted(*new, unit)
    found = []
    for words in [*before, *(words for words in after if words not in before)]:
        first, second = before.get(words, (0, ())), after.get(words, (0, ()))
        if first[0] != second[0]:
            # The sets that the difference is about, where they are other sets; else those that the pieces serve now.
            more, less = (second[1], first[1]) if second[0] > first[0] else (first[1], second[1])
            items = tuple(item for item in more if item not in less) or second[1] or first[1]
            found.append(PurchaseChange(words, items, first[0], second[0]))
    return tuple(found)


def cut_lengths(old: tuple[Design, Derived], new: tuple[Design, Derived]) -> tuple[Change, ...]:
    """Items that are cut to another length than before."""
    unit = new[0].units
    before = {line.item: line.piece for line in schedule(*old).lines}
    found: list[Change] = []
    for line in schedule(*new).lines:
        first, second = before.get(line.item), line.piece
        if first is not None and (first.cut_to_mm is not None or second.cut_to_mm is not None):
            words = [
                "as bought" if piece.cut_to_mm is None else f"cut to {length_text(piece.cut_to_mm, unit)}"
                for piece in (first, second)
            ]
            if words[0] != words[1]:
                found.append(Change(f"length of {line.item}", *words))
    return tuple(found)


def _counted(design: Design, derived: Derived, unit: str) -> Counted:
    found: Counted = {}
    for line in schedule(design, derived).lines:
        words = description(line.piece, unit)
        count, items = found.get(words, (0, ()))
        found[words] = count + line.quantity, (*items, line.item)
    return found
