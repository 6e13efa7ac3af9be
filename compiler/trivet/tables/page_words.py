"""Sentences of the page: what the fixture is, its status and what its gears do."""

from __future__ import annotations

from collections.abc import Sequence

from trivet.model.design import Design
from trivet.solve.derived import Derived, GearState
from trivet.tables.page_content import PageFinding, PartRow
from trivet.tables.page_lengths import own

KINDS = {
    "riding": "each screw is fixed in its gear, and both slide out of mesh as the board rises",
    "captured_nut": "each gear carries a nut that moves its rod, and stays in full mesh",
    "sliding_hex": "each gear's socket turns a screw whose head slides in it, and stays in full mesh",
}


def about(design: Design, derived: Derived) -> str:
    """One paragraph: boards, gears, feet and how it moves."""
    unit = design.units
    boards = [
        f"{level.board.name.text} ({own(level.board.outline.width_mm, unit)} by {own(level.board.outline.height_mm, unit)},"
        f" {own(level.thickness.mean, unit)} thick)"
        for level in derived.boards
    ]
    text = f"A fixture of {_count(len(boards), 'board')}, {' and '.join(boards)}" if boards else "A fixture without a board"
    if derived.feet:
        text += f", on {_count(len(derived.feet), 'screw foot', 'screw feet')}"
    if derived.train.gears:
        text += f", with {_count(len(derived.train.gears), 'gear')} that one drive turns"
    kinds = dict.fromkeys(state.foot.kind for state in derived.feet)
    return ". ".join([text, *(KINDS[kind].capitalize() for kind in kinds)]) + "."


def status_words(findings: Sequence[PageFinding], failed: bool) -> str:
    """The outcome of the checks in a sentence."""
    if failed:
        return "The checks could not be finished."
    open_ones = [item for item in findings if not item.accepted]
    accepted = len(findings) - len(open_ones)
    more = f"; {accepted} accepted" if accepted else ""
    if not open_ones:
        return f"Checked: no known failure mode was found{more}."
    counts = {word: sum(item.severity == word for item in open_ones) for word in ("error", "warning", "note")}
    listed = ", ".join(_count(count, word) for word, count in counts.items() if count)
    return f"Checked: {listed}{more}."


def part_rows(derived: Derived, findings: Sequence[PageFinding]) -> tuple[PartRow, ...]:
    """The gears with what they do and the findings about them."""
    rows = []
    for state in derived.train.gears:
        target = f"gear:{state.id}"
        numbers = tuple(item.number for item in findings if target in item.targets)
        rows.append(PartRow(target, state.id, _what(state), numbers))
    return tuple(rows)


def _what(state: GearState) -> str:
    words = {"drive": "drive", "idler": "idler", "foot": "foot"}[state.kind]
    if state.shaft and state.shaft != state.id:
        words = f"on the shaft of {state.shaft}"
    speed = ""
    if state.speed is not None and state.direction:
        way = "the same way" if state.direction > 0 else "the other way"
        turns = "1 turn" if state.speed == 1 else f"{float(state.speed):.4g} turns"
        speed = "" if state.kind == "drive" and state.speed == 1 else f"; {turns} for one of the drive, {way}"
    return f"{words}, {state.geometry.teeth} teeth{speed}"


def _count(count: int, one: str, many: str = "") -> str:
    return f"{count} {one if count == 1 else many or one + 's'}"
