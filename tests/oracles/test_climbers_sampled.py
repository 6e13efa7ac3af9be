"""Idlers that ride a thread: the board's travel by turning the drive in small steps and trying each height, no closed form of a limit.

z is 0 at the underside, up positive; the base fixture with its idlers on screws. Sheets 17.8; foot M8 x 1.25, 30 long, 5.8 deep; inserts
15 long, live from 4 to 15, flush with the underside, driven from the topside: live thread from 0 to 11. Margins as everywhere: 0.5 under
the topside, half the thinner gear of face, 1.0 d of thread (common practice, no source). Steps of 0.001 mm, so 0.005 mm is allowed.
"""

from __future__ import annotations

import itertools
import math

import numpy as np
import pytest
from tests.edited_base import plain, solved
from tests.fixture_text import findings_of

from trivet.checks._examples import example_text
from trivet.tables.hardware_items import hardware_items

G = 17.8
ROWS = "- row M8, 16.0 +/- 0.1, 15, 4, 15, 13.5\n+   row M8, 16.0 +/- 0.1, 15, 4, 15, 13.5\n+   row M8-LH, 16.0 +/- 0.1, 15, 4, 15, 13.5\n"
ROWS += "+   row M10, 18.0 +/- 0.1, 15, 4, 15, 15.5\n+   row M10-LH, 18.0 +/- 0.1, 15, 4, 15, 15.5\n"
LEADS = {"M8": 1.25, "M10": 1.5}
# ISO 4017 heads: 5.3 and 6.4 high; let in flush.
HEADS = {"M8": 5.8, "M10": 6.4}


def edits(thread: str, hand: int, start: float, length: int, idler: int, drop: float) -> str:
    """The whole file."""
    climber = f"""
+ 
+ foot climber
+   kind riding
+   thread {thread}{'-LH' if hand < 0 else ''}
+   screw ISO 4017, length {length} mm, pocket {HEADS[thread]} mm
+   insert my_insert, driven_from topside, flush underside
+   climbs from {start} mm
- turns_on pin
+   carries climber
- pad dome, drop 3 mm
+   pad dome, drop {drop} mm
"""
    text = example_text(climber + ROWS)
    old = "gear west, east\n  teeth 20\n"
    assert text.count(old) == 1
    return text.replace(old, f"gear west, east\n  teeth {idler}\n")


def travelled(thread: str, hand: int, start: float, length: int, idler: int, drop: float) -> tuple[float, float]:
    """(travel, travel of the feet alone), by trying heights."""
    tilt = math.tan(math.radians(0.5))
    low = max(0.7, 3 * 22 * tilt)
    turns = np.arange(-6.0, 14.0, 0.001)
    # Clockwise turns: the hub's go to the idlers backwards and from there to the feet forwards; right-hand screws go down.
    foot = low + 1.25 * turns * 16 / 20
    climber = start + hand * LEADS[thread] * -turns * 16 / idler
    fine = (foot >= low - 1e-9) & (18.0 - foot >= 8.0 - 1e-9)
    alone = foot[fine]
    pocket, major = HEADS[thread], float(thread[1:])
    tip = -G + pocket + length - climber
    fine &= (climber >= 3 * (idler + 2) * tilt - 1e-9) & (tip <= G - 0.5 + 1e-9) & (tip >= min(major, 11.0) - 1e-9)

    def shared(top: np.ndarray, other: np.ndarray | float) -> np.ndarray:
        return np.minimum(top, other) - np.maximum(top - G, other - G)

    fine &= (shared(-climber, -1.7) >= G / 2 - 1e-9) & (shared(-climber, -foot) >= G / 2 - 1e-9)
    fine &= -climber - G >= -foot - G - max(0.0, 5.3 + drop - 5.8) - 1e-9
    left = foot[fine]
    return (float(left[-1] - left[0]) if left.size else 0.0), float(alone[-1] - alone[0])


CASES = list(itertools.product(("M8", "M10"), (1, -1), (0.8, 0.9, 1.0, 1.1, 9.0), (30,), (20, 28), (6.0,)))


@pytest.mark.parametrize("case", CASES, ids=lambda case: "-".join(str(item) for item in case))
def test_travel_with_climbers(case: tuple[str, int, float, int, int, float]) -> None:
    """Travel, and the finding: it speaks where more than 0.5 mm is lost, and only there; where all is lost `no-stroke` does, with the cure."""
    left, alone = travelled(*case)
    design, derived = solved(edits(*case))
    got = derived.lift.travel_mm if derived.lift is not None else 0.0
    assert got == pytest.approx(left, abs=0.005)
    assert [state.kind for state in derived.train.gears if state.id in ("west", "east")] == ["idler", "idler"]
    assert len(derived.feet) == 4 and len(derived.climbers) == 2 and design.name == "base"
    shortens, none = (plain(edits(*case), slug) for slug in ("climber-shortens-travel", "no-stroke"))
    if abs(alone - left - 0.5) > 0.01:
        assert bool(shortens) is (alone - left > 0.5 and not none) and bool(none) is (derived.lift is None or derived.lift.travel_worst_mm <= 0.0)
    for item in none:
        assert "climbs from" in item.remedy or "-LH" in item.remedy


def test_both_sides_of_the_rule_are_tried() -> None:
    lost = [alone - left for left, alone in (travelled(*case) for case in CASES)]
    assert sum(mm > 0.51 for mm in lost) >= 20 and sum(mm < 0.49 for mm in lost) >= 4


@pytest.mark.parametrize(("thread", "hand", "idler"), list(itertools.product(("M8", "M10"), (1, -1), (20, 28))))
def test_shift_per_travel(thread: str, hand: int, idler: int) -> None:
    """|1 + eta (lead_i z_f)/(lead_f z_i)| against the feet, eta +1 for the same hand; against the hub the climber's own rise."""
    _, derived = solved(edits(thread, hand, 4.0, 30, idler, 6.0))
    ratio = LEADS[thread] * 20 / (1.25 * idler)
    for mesh in derived.train.meshes:
        assert mesh.slides == pytest.approx(ratio if "hub" in (mesh.a, mesh.b) else abs(1 + hand * ratio))


def test_what_climbs_stands_on_nothing() -> None:
    """A pad, and kinds that do not ride, are refused; its hole, its pocket and its screw are made and bought as a foot's."""
    case = ("M8", -1, 1.0, 30, 20, 6.0)
    padded = edits(*case).replace("  climbs from 1.0 mm\n", "  climbs from 1.0 mm\n  pad dome, drop 3 mm\n")
    assert findings_of(padded, "facts-exclude")
    design, derived = solved(edits(*case))
    pieces = [item.item for item in hardware_items(design, derived)]
    assert pieces.count("climber-screw") == 2 and pieces.count("climber-insert") == 2 and pieces.count("corner-screw") == 4
    titles = [feature.title for part in derived.parts for feature in part.features]
    assert any("insert of climber.west" in title for title in titles)
