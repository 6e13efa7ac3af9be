"""Drawings without arcs: the same edges within the chords' tolerance, and no bulge left."""

from __future__ import annotations

import math

from tests.fixture_text import compiled

from trivet.checks._examples import BASE
from trivet.drawing.chords import CHORD_MM, without_arcs
from trivet.drawing.parts import part_sheets
from trivet.drawing.shapes import Circle, Path
from trivet.outputs import Wanted, outputs


def test_arcs_become_chords_close_to_them() -> None:
    found = compiled(BASE)
    assert found.design is not None and found.derived is not None
    for sheet in part_sheets(found.design, found.derived):
        plain = without_arcs(sheet)
        for before, after in zip(sheet.layers, plain.layers, strict=True):
            for one, other in zip(before.shapes, after.shapes, strict=True):
                if isinstance(one, Circle):
                    assert other == one
                if isinstance(one, Path) and isinstance(other, Path):
                    assert all(bulge == 0.0 for _, _, bulge in other.vertices)
                    _lies_on(one, other)


def _lies_on(one: Path, other: Path) -> None:
    """Every vertex is a point of the arcs, and no chord is longer than its sagitta allows: c = 2 sqrt(2 r s - s^2)."""
    arcs = [(*_circle(x0, y0, x1, y1, bulge), bulge) for x0, y0, x1, y1, bulge in one.segments() if bulge]
    points = [(x, y) for x, y, _ in one.vertices]
    for x, y, _ in other.vertices:
        near = min([math.dist((x, y), point) for point in points] + [abs(math.dist((x, y), (cx, cy)) - r) for cx, cy, r, _ in arcs])
        assert near < 2e-4
    if arcs:
        widest = max(r for _, _, r, _ in arcs)
        longest = 2 * math.sqrt(2 * widest * CHORD_MM - CHORD_MM**2)
        straight = max((math.dist((a, b), (c, d)) for a, b, c, d, bulge in one.segments() if not bulge), default=0.0)
        chords = [math.dist((a, b), (c, d)) for a, b, c, d, _ in other.segments()]
        assert max(chords) <= max(longest, straight) + 1e-3


def _circle(x0: float, y0: float, x1: float, y1: float, bulge: float) -> tuple[float, float, float]:
    angle = 4 * math.atan(bulge)
    offset = 1 / (2 * math.tan(angle / 2))
    cx, cy = (x0 + x1) / 2 - (y1 - y0) * offset, (y0 + y1) / 2 + (x1 - x0) * offset
    return cx, cy, math.dist((cx, cy), (x0, y0))


def test_the_option_reaches_the_files() -> None:
    found = compiled(BASE)
    assert found.design is not None and found.derived is not None
    made = outputs(found.design, found.derived, (), {}, {}, Wanted(polyline=True))
    curved = outputs(found.design, found.derived, (), {}, {}, Wanted())
    gear = "cut/hub.underside.svg"
    assert b" A " in curved[gear] or b"A" in curved[gear].split(b' d="')[1].split(b'"')[0]
    assert not any(b"A" in part.split(b'"')[0] for part in made[gear].split(b' d="')[1:])


def test_a_draft_says_so_on_every_file() -> None:
    found = compiled(BASE)
    assert found.design is not None and found.derived is not None
    made = outputs(found.design, found.derived, (), {}, {}, Wanted(draft=True))
    for path, data in made.items():
        if path != "manifest.json":
            assert "DRAFT" in path and (b"DRAFT, not for cutting" in data or path.endswith((".json", ".csv"))), path
    assert b'"draft": true' in made["DRAFT-report.json"]
