"""Parts to cut again: what differs between the cuts of two versions, and by how much."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING

from trivet.compare.change import PartChange
from trivet.compare.cuts import CutChange, cut_changes, in_words, moved_text
from trivet.record import record, replace
from trivet.solve.deviation import outline_deviation_mm
from trivet.solve.parts import part_features
from trivet.units import two_lengths

if TYPE_CHECKING:
    from trivet.model.design import Design
    from trivet.solve.derived import Derived
    from trivet.solve.part_features import PartFeatures

# The step in which drawings give their coordinates; less is rounding.
SAME_MM = 1e-4


@record
class PartChanges:
    """Changes in the order of the new file, those that went last; `same`: how many parts need no cutting."""

    changes: tuple[PartChange, ...]
    same: int


def part_changes(old: tuple[Design, Derived], new: tuple[Design, Derived]) -> PartChanges:
    """Each part against the one of its name; a gear that is only turned is the same gear, and so is a part that only changed its name."""
    unit = new[0].units
    before, after = _by_name(*old), _by_name(*new)
    gone = {name: part for name, part in before.items() if name not in after}
    found: list[PartChange] = []
    same = 0
    for name, part in after.items():
        if name in before:
            change = _compared(before[name], part, unit, _teeth(old[1], before[name]), _teeth(new[1], part))
            if change is None:
                same += 1
            else:
                found.append(change)
            continue
        twin = next((other for other, candidate in gone.items() if _compared(candidate, part, unit) is None), None)
        if twin is not None:
            del gone[twin]
            same += 1
            found.append(PartChange(name, "another name", (f"was `{twin}`",)))
        else:
            found.append(PartChange(name, "new", ()))
    found += [PartChange(name, "gone", ()) for name in gone]
    return PartChanges(tuple(sorted(found, key=lambda item: _ORDER.index(item.kind))), same)


_ORDER = ("cut again", "new", "gone", "another name")


def drawn_parts(design: Design, derived: Derived) -> Mapping[str, PartFeatures]:
    """Parts by name as they are drawn."""
    return {part.part: part for part in part_features(design, derived)}


def _by_name(design: Design, derived: Derived) -> dict[str, PartFeatures]:
    """Parts by name; gears turned back to where a tooth points to +x."""
    phases = {state.id: state.phase_rad for state in derived.train.gears}
    found = {}
    for name, part in drawn_parts(design, derived).items():
        phase = phases.get(part.belongs_to or name, 0.0) if part.kind == "gear" else 0.0
        found[name] = _turned(part, -phase) if phase else part
    return found


def _turned(part: PartFeatures, angle_rad: float) -> PartFeatures:
    return replace(part, outline=part.outline.rotated(angle_rad), features=tuple(item.turned(angle_rad) for item in part.features))


def _teeth(derived: Derived, part: PartFeatures) -> int:
    """Of a gear or one of its layers, else 0."""
    whole = part.belongs_to or part.part
    return next((state.geometry.teeth for state in derived.train.gears if state.id == whole), 0) if part.kind == "gear" else 0


def _compared(old: PartFeatures, new: PartFeatures, unit: str, old_teeth: int = 0, new_teeth: int = 0) -> PartChange | None:
    edge = outline_deviation_mm(old.outline, new.outline)
    cuts = tuple(
        change
        for change in cut_changes(old.features, new.features, unit)
        if change.deviation_mm > SAME_MM or change.kind != "moved"
    )
    reasons: list[CutChange] = list(cuts)
    if old_teeth != new_teeth:
        reasons.append(CutChange("moved", edge, f"{new_teeth} teeth", f"instead of {old_teeth}"))
    elif edge > SAME_MM:
        reasons.append(CutChange("moved", edge, "the outer edge", f"moves by up to {moved_text(edge, unit)}"))
    words = (*in_words(reasons), *_stock(old, new, unit))
    if not words:
        return None
    return PartChange(new.part, "cut again", words, max((change.deviation_mm for change in reasons), default=0.0))


def _stock(old: PartFeatures, new: PartFeatures, unit: str) -> Iterator[str]:
    if old.sheet.name.text != new.sheet.name.text:
        yield f"comes from the sheet `{new.sheet.name.text}` instead of `{old.sheet.name.text}`"
    if abs(old.thickness.mean - new.thickness.mean) > SAME_MM:
        first, second = two_lengths(old.thickness.mean, new.thickness.mean, unit)
        yield f"is {second} thick instead of {first}"
    if old.grain != new.grain:
        yield f"face grain along {new.grain or 'either side'} instead of {old.grain or 'either side'}"
    if old.quantity != new.quantity:
        yield f"{new.quantity} are cut instead of {old.quantity}"
    if old.datum != new.datum:
        yield f"is cut from the {new.datum} first instead of the {old.datum}"
