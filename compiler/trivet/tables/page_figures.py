"""The key figures of the page, each with the findings that concern it."""

from __future__ import annotations

from collections.abc import Sequence

from trivet.model.design import Design
from trivet.solve.binding_words import chance_words
from trivet.solve.derived import Derived, Lift
from trivet.tables.page_content import Figure, PageFinding
from trivet.tables.page_lengths import both, own
from trivet.tables.raise_table import EIGHTHS, per_tooth_mm

# Findings that speak of a figure, by rule; those of `require` name the figure themselves.
_RULES = {
    "lift": ("feet-turn-opposite", "feet-rise-differently", "coarse-step", "foot-not-driven", "thread-runs-back"),
    "travel": (
        "no-stroke", "short-engagement", "low-face-overlap", "teeth-part", "thread-leaves-insert", "hex-leaves-socket",
        "insert-wrong-way", "tip-through-board", "shank-in-insert",
    ),
    "height": ("workpiece-not-met",),
    "turns": ("many-turns",),
    "backlash": ("mesh-may-bind", "mesh-binds", "loose-mesh", "train-binds", "closed-ring", "ring-out-of-phase"),
}  # fmt: skip
_REQUIRED = {
    "travel": "travel", "height_covers": "height", "lift_per_turn": "lift", "flush_within": "height",
    "face_overlap": "travel", "turns_for_travel": "turns", "binding": "backlash",
}  # fmt: skip


def figures(
    design: Design, derived: Derived, findings: Sequence[PageFinding], parts: Sequence[tuple[str, ...]], chance: float | None
) -> tuple[Figure, ...]:
    """Lift, travel, heights, turns and backlash; `parts`: of each finding; `chance`: that the train binds, None where it was not drawn."""
    unit, about = design.units, _about(findings, parts)
    found = _lift_figures(derived, derived.lift, unit, about) if derived.lift is not None else []
    meshes = derived.train.meshes
    if meshes:
        tight = min(meshes, key=lambda mesh: (mesh.backlash.min_mm, mesh.id))
        detail = f"{own(tight.backlash.min_mm, unit)} with every error at its worst, between {tight.a} and {tight.b}"
        if chance is not None:
            detail += f"; binds: {chance_words(chance)}"
        found.append(Figure("Backlash", both(tight.backlash.nominal_mm, unit), detail, about["backlash"]))
    return tuple(found)


def _lift_figures(derived: Derived, lift: Lift, unit: str, about: dict[str, tuple[int, ...]]) -> list[Figure]:
    tooth = per_tooth_mm(derived)
    eighth = f"{both(lift.per_turn_mm / EIGHTHS, unit, 3)} per eighth of a turn"
    per_tooth = f"; {both(tooth, unit, 3)} per tooth of the drive gear" if tooth is not None else ""
    way = f"raises when turned {lift.raises_when}, seen from above"
    low, high = lift.height_every_sheet
    every = f"{own(low, unit)} to {own(high, unit)} with every sheet" if low < high else "no height is reached with every sheet"
    return [
        Figure("Lift", f"{both(lift.per_turn_mm, unit, 3)} per turn", f"{eighth}{per_tooth}; {way}", about["lift"]),
        Figure(
            "Travel",
            both(lift.travel_mm, unit) if lift.travel_mm > 0.0 else "none is left",
            f"{own(lift.travel_worst_mm, unit)} with the worst sheets; {own(lift.travel_to_parting_mm, unit)} until something parts or jams",
            about["travel"],
        ),
        Figure("Lowest", both(lift.height_min_mm, unit), "from the bench to the work surface", about["height"]),
        Figure("Highest", both(lift.height_max_mm, unit), every, about["height"]),
        Figure("Turns", f"{lift.turns_for_travel:.1f}", "turns of the drive for the whole travel", about["turns"]),
    ]  # fmt: skip


def _about(findings: Sequence[PageFinding], parts: Sequence[tuple[str, ...]]) -> dict[str, tuple[int, ...]]:
    by_rule = {rule: figure for figure, rules in _RULES.items() for rule in rules}
    found: dict[str, list[int]] = {figure: [] for figure in _RULES}
    for finding, about in zip(findings, parts, strict=True):
        figure = by_rule.get(finding.rule)
        if finding.rule.startswith("require-"):
            figure = next((_REQUIRED[part] for part in about if part in _REQUIRED), None)
        if figure is not None:
            found[figure].append(finding.number)
    return {figure: tuple(numbers) for figure, numbers in found.items()}
