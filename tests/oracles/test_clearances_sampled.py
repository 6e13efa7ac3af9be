"""Gears against hardware, keepers and riding feet, by walking round every rim at every height of the travel.

Rays and slices, no formula of distance: points on the rim of each gear, at heights a fraction of a millimetre apart, at many heights of
the board, are looked for in the bodies of other shafts, grown by 1 mm. Places and sizes come from the text and from what each
part is (z = 0 at the board's underside): a riding gear hangs from −e to −e − g, its foot to −e − g − max(0, k + drop − p); a gear
on a pivot hangs under its washer and play. The travel and the least extension are taken from the solver; other tests recompute
those.
"""

from __future__ import annotations

import math

import pytest
from tests.quick_solve import findings_alone, solved

from trivet.checks._examples import BASE

# A text without tolerances, so that every sheet is the mean one.
GEAR, WASHER, PLAY = 18.0, 1.8, 0.3
HEAD, FLATS = 5.45, 13.0  # ISO 4017 M8: greatest height of the head, and across flats
RAYS, SLICE, STEPS = 360, 0.3, 12
LEAST = 1.0


def text_of(low: int, diameter: float, drop: float, pocket: float, angle: float) -> str:
    """The base with a gear of `low` teeth under `west`, feet on discs, and `nw` at an angle."""
    text = BASE
    for old, new in (
        ("thickness 17.8 +/- 0.2 mm", "thickness 18 mm"),
        ("  inserts guide_block", "  inserts guide_block\n  depth +/- 0 mm\n  bore_clearance 0.2 mm"),
        ("gear west, east", f"gear low_w\n  teeth {low}\n  on_shaft_with west, below\n\ngear west, east"),
        ("length 30 mm, pocket 5.8 mm", f"length 30 mm, pocket {pocket} mm"),
        ("pad dome, drop 3 mm", f"pad disc diameter {diameter} mm, drop {drop} mm"),
        ("with nw at 118 deg", f"with nw at {angle} deg"),
        ("with sw at 242 deg", f"with sw at {360 - angle} deg"),
        ("outline rectangle 480 by 350 mm", "outline rectangle 520 by 420 mm"),
    ):
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    return text


def walked(low: int, diameter: float, drop: float, pocket: float, angle: float, least: float, travel: float) -> tuple[float, float]:
    """(how deep the rim of `low_w` comes into the foot of `nw` grown by 1 mm, mm of height that it does so): 0, 0 where it never does."""
    away = 120.0  # 6 · (20 + 20) / 2
    foot = (away * math.cos(math.radians(angle)), away * math.sin(math.radians(angle)))
    tip = 3.0 * low + 6.0
    rim = [(r * math.cos(a), r * math.sin(a)) for k in range(RAYS) for a in [2 * math.pi * k / RAYS] for r in (tip, 0.9 * tip)]
    top = -WASHER - PLAY - GEAR  # of `low_w`, right under `west`
    deepest = tallest = 0.0
    for step in range(STEPS + 1):
        e = least + travel * step / STEPS
        face = -e - GEAR
        plane = face - max(0.0, HEAD + drop - pocket)
        bodies = [(plane, min(plane + drop, face), diameter / 2), (min(plane + drop, face), face, FLATS * 0.57735)]
        shared = 0.0
        slices = int(GEAR / SLICE)
        for k in range(slices):
            z = top - GEAR * (k + 0.5) / slices
            into = 0.0
            for floor, roof, radius in bodies:
                if floor <= z <= roof:
                    into = max(into, max(radius + LEAST - math.dist(point, foot) for point in rim))
            if into > 0.0:
                shared += GEAR / slices
                deepest = max(deepest, into)
        tallest = max(tallest, shared)
    return deepest, tallest


CASES = [
    (low, diameter, drop, pocket, angle)
    for index, (low, diameter) in enumerate((z, d) for z in (18, 22, 25, 27, 29) for d in (25, 50, 70, 80, 95, 108))
    for drop, pocket, angle in [((14, 1, 118), (9, 3, 130), (2, 5.8, 118), (14, 1, 112), (1, 5, 118))[index % 5]]
]


@pytest.mark.parametrize("case", CASES)
def test_what_the_walk_meets_is_found_and_nothing_else(case: tuple[int, float, float, float, float]) -> None:
    """Shared heights of 3 mm or less between levels count as none (common practice); within the walk's own coarseness nothing is said."""
    text = text_of(*case)
    _, derived = solved(text)
    lift = derived.lift
    assert lift is not None
    foot = next(item for item in derived.feet if item.id == "corner.nw")
    least = lift.height_min_mm - foot.height_at_zero_mm
    deep, tall = walked(*case, least, lift.travel_mm)
    found = [item for item in findings_alone(text, "gear-hits-hardware") if "low_w" in item.parts and "corner.nw" in item.parts]
    if deep > 0.1 and tall > 3.6:
        assert found, (deep, tall)
    elif deep == 0.0 or tall < 2.4:
        assert not found, (deep, tall, found)


def test_the_walk_meets_some_and_not_others() -> None:
    met = [walked(*case, 0.7, 9.0) for case in CASES]
    assert sum(deep > 0.1 and tall > 3.6 for deep, tall in met) >= 8
    assert sum(deep == 0.0 for deep, _ in met) >= 8
    assert sum(deep > 0.1 and tall < 2.4 for deep, tall in met) >= 2
