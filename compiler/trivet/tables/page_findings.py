"""Findings as the page shows them, each with what it is about in the plan."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from trivet.diagnostics import Diagnostic
from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.tables.page_content import PageFinding

Row = Mapping[str, object]


def page_findings(design: Design, derived: Derived, rows: Sequence[Row], found: Sequence[Diagnostic]) -> tuple[PageFinding, ...]:
    """`rows`: the report's findings, in the same order as `found`, which knows the parts."""
    targets = _targets(design, derived)
    made = []
    for number, (row, item) in enumerate(zip(rows, found, strict=True), start=1):
        related = row["related"]
        assert isinstance(related, list)
        made.append(
            PageFinding(
                number=number,
                rule=item.rule,
                severity=item.severity,
                message=item.message,
                place=_place(row),
                remedy=item.remedy,
                accepted=item.accepted,
                because=item.accepted_because,
                related=tuple((str(other["message"]), _place(other)) for other in related),
                targets=tuple(dict.fromkeys(target for part in item.parts for target in targets.get(part, ()))),
            )
        )
    return tuple(made)


def _place(row: Row) -> str:
    return f"{row['file']}:{row['line']}:{row['column']}" if row["file"] is not None else ""


def _targets(design: Design, derived: Derived) -> dict[str, tuple[str, ...]]:
    """Ids of parts to what shows them: a set's name to all of its gears, `pin.west` to the gear, a hole's name to all its places."""
    found: dict[str, list[str]] = {}

    def add(part: str, target: str) -> None:
        found.setdefault(part, []).append(target)

    for state in derived.train.gears:
        gear, target = state.gear, f"gear:{state.id}"
        add(state.id, target)
        for holder in (gear.turned_by, gear.turns_on, gear.carries):
            if holder is not None:
                for part in (holder.text, f"{holder.text}.{state.id}", f"{holder.text}.{state.id}.keeper"):
                    add(part, target)
    for board in design.boards:
        add(board.name.text, f"board:{board.name.text}")
    for nouns in (design.holes, design.pockets, design.magnets, design.dowels, design.engravings):
        for noun in nouns:
            for place in noun.places:
                for part in dict.fromkeys((noun.name.text, place.id)):
                    add(part, f"place:{place.id}")
    return {part: tuple(targets) for part, targets in found.items()}
