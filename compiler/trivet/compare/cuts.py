"""The cuts of two versions of one part, paired, and what differs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Literal

from trivet.record import record
from trivet.solve.deviation import cut_deviation_mm
from trivet.solve.feature import Feature, Round
from trivet.units import length_text, two_lengths

SAME_MM = 1e-4


@record
class CutChange:
    """`deviation_mm`: how far an edge or the floor moves, 0 for cuts that came or went."""

    kind: Literal["moved", "new", "gone"]
    deviation_mm: float
    what: str
    how: str


def in_words(changes: Sequence[CutChange]) -> tuple[str, ...]:
    """The greatest first; cuts that change alike are counted, not named."""
    groups: dict[str, list[CutChange]] = {}
    for change in sorted(changes, key=lambda item: -item.deviation_mm):
        groups.setdefault(change.how, []).append(change)
    found = []
    for how, alike in groups.items():
        more = len(alike) - 1
        rest = f", as {'does' if more == 1 else 'do'} {more} more {'cut' if more == 1 else 'cuts'}" if more else ""
        found.append(f"{alike[0].what} {how}{rest}")
    return tuple(found)


def cut_changes(old: Sequence[Feature], new: Sequence[Feature], unit: str) -> Iterator[CutChange]:
    """Cuts of one operation and title are paired in order of nearness, the rest with what is left of their operation."""
    before, after = list(old), list(new)
    pairs: list[tuple[Feature, Feature]] = []
    for close in (_same, _same_title, _same_work):
        pairs += _taken(before, after, close)
    for first, second in pairs:
        yield from _compared(first, second, unit)
    for item in after:
        yield CutChange("new", 0.0, _what(item), "is new")
    for item in before:
        yield CutChange("gone", 0.0, _what(item), "is gone")


def _taken(before: list[Feature], after: list[Feature], close: object) -> list[tuple[Feature, Feature]]:
    assert callable(close)
    found = []
    for second in tuple(after):
        candidates = [first for first in before if close(first, second)]
        if not candidates:
            continue
        first = min(candidates, key=lambda item: _distance(item, second))
        before.remove(first)
        after.remove(second)
        found.append((first, second))
    return found


def _same(first: Feature, second: Feature) -> bool:
    return first.shape == second.shape and _same_work(first, second) and first.depth_mm == second.depth_mm


def _same_title(first: Feature, second: Feature) -> bool:
    return first.title == second.title and _same_work(first, second) and _distance(first, second) < float("inf")


def _same_work(first: Feature, second: Feature) -> bool:
    same_face = first.face == second.face or (first.through and second.through)
    alike = type(first.shape) is type(second.shape) and first.operation == second.operation
    return alike and same_face and first.through == second.through and _distance(first, second) < float("inf")


def _distance(first: Feature, second: Feature) -> float:
    apart = cut_deviation_mm(first.shape, second.shape)
    return float("inf") if apart is None else apart


def _compared(old: Feature, new: Feature, unit: str) -> Iterator[CutChange]:
    what = _what(new)
    if isinstance(old.shape, Round) and isinstance(new.shape, Round):
        grown = abs(new.shape.diameter_mm - old.shape.diameter_mm)
        if grown > SAME_MM:
            first, second = two_lengths(old.shape.diameter_mm, new.shape.diameter_mm, unit)
            yield CutChange("moved", grown / 2.0, what, f"has a diameter of {second} instead of {first}")
        moved = ((new.shape.x_mm - old.shape.x_mm) ** 2 + (new.shape.y_mm - old.shape.y_mm) ** 2) ** 0.5
        if moved > SAME_MM:
            yield CutChange("moved", moved, what, f"moves by {moved_text(moved, unit)}")
    else:
        moved = _distance(old, new)
        if moved > SAME_MM:
            yield CutChange("moved", moved, what, f"moves or changes by up to {moved_text(moved, unit)}")
    if old.depth_mm is not None and new.depth_mm is not None and abs(old.depth_mm - new.depth_mm) > SAME_MM:
        first, second = two_lengths(old.depth_mm, new.depth_mm, unit)
        yield CutChange("moved", abs(old.depth_mm - new.depth_mm), what, f"is {second} deep instead of {first}")


def moved_text(mm: float, unit: str) -> str:
    """A distance that something moved by: enough digits for a small one, no more for a large one."""
    return length_text(mm, unit) if mm >= 0.05 else length_text(max(mm, 0.001), unit, 3 if unit == "mm" else 4)


def _what(item: Feature) -> str:
    return f"{item.title or item.operation.replace('_', ' ')}"
