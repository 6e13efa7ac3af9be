"""What the page's script needs to move its drawings: plain data, at the lowest height of the travel."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from trivet.drawing.section_view import SectionView
from trivet.emit.numbers import number
from trivet.tables.page_content import Motion, PageContent

# Positions of the control in a turn of the drive.
STEPS_PER_TURN = 64
DECIMALS = 6


def motion_facts(page: PageContent, motion: Motion, sections: Sequence[SectionView], tokens: dict[str, str]) -> Any:
    """Heights in mm, turns from the lowest height, degrees for each turn; intervals as [low, high, rises]. Rounded, as the report is."""
    return _rounded({
        "unit": page.unit,
        "low": motion.height_min_mm,
        "high": motion.height_max_mm,
        "perTurn": motion.per_turn_mm,
        "turns": motion.turns,
        "stepsPerTurn": STEPS_PER_TURN,
        "raisesWhen": motion.raises_when,
        "gears": [{"token": tokens[f"gear:{name}"], "name": name, "degrees": degrees} for name, degrees in motion.turned_deg],
        "sections": [
            {
                "overlaps": [
                    {"one": item.one, "other": item.other, "a": [*item.one_mm, item.one_rises], "b": [*item.other_mm, item.other_rises]}
                    for item in view.overlaps
                ],
                "screw": [*view.screw_mm, False],
                "live": [*view.live_mm, True] if view.live_mm is not None else None,
            }
            for view in sections
        ],
    })  # fmt: skip


def _rounded(value: Any) -> Any:
    """Last digits differ between computers, so none is written that means nothing."""
    if isinstance(value, float):
        return round(value, DECIMALS) + 0.0
    if isinstance(value, dict):
        return {key: _rounded(item) for key, item in value.items()}
    return [_rounded(item) for item in value] if isinstance(value, list) else value


def steps(motion: Motion) -> int:
    """The last position of the control: the highest height, reached exactly."""
    return max(1, -int(-motion.turns * STEPS_PER_TURN // 1))


def shared(a: tuple[float, float], a_rises: bool, b: tuple[float, float], b_rises: bool, rise: float) -> tuple[float, float]:
    """From where to where two intervals share height when the board has risen so far, mm; the second not above the first when apart."""
    a_up, b_up = rise * a_rises, rise * b_rises
    return max(a[0] + a_up, b[0] + b_up), min(a[1] + a_up, b[1] + b_up)


def n(value: float) -> str:
    """A figure in a drawing, to a thousandth."""
    return number(value, 3)
