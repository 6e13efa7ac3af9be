"""Figure: how an insert is driven, seen as a section through its hole."""

from __future__ import annotations

from trivet.drawing.figure import Figure, FigureLayer, arrow, box, leader, line, note
from trivet.drawing.shapes import Path, Shape
from trivet.model.design import Design
from trivet.model.hardware import TeeNut
from trivet.solve.derived import Derived, FootState
from trivet.solve.feature import Round
from trivet.units import length_text

# Real sections of thin sheets are hard to read at full size.
SCALE = 2.0
HALF_WIDTH_MM = 34.0
SPACER_MM = 10.0


def insert_figure(design: Design, derived: Derived, state: FootState) -> Figure:
    """The face that it is driven from is up; sizes are real, twice full size."""
    use = state.foot.insert
    assert use is not None and state.insert_z_mm is not None and state.live_z_mm is not None
    board = state.foot.into.text
    level = next(item for item in derived.boards if item.board.name.text == board)
    under, top = level.z_under_mm, level.z_under_mm + level.thickness.mean
    down = use.driven_from == "underside"

    def y(z_mm: float) -> float:
        return SCALE * ((top - z_mm) if down else (z_mm - under))

    hardware = use.hardware
    tee = isinstance(hardware, TeeNut)
    outside = (hardware.barrel_diameter_mm if isinstance(hardware, TeeNut) else hardware.outside.mean) * SCALE / 2.0
    bore, hole, half = state.foot.thread.major_mm * SCALE / 2.0, hardware.hole_mm * SCALE / 2.0, SCALE * HALF_WIDTH_MM
    low, high = sorted(map(y, state.insert_z_mm))
    live = sorted(map(y, state.live_z_mm))
    height = y(under) if down else y(top)
    wood: list[Shape] = [box(-half, 0.0, -min(hole, half), height, "board"), box(min(hole, half), 0.0, half, height, "board")]
    metal: list[Shape] = [box(-outside, low, -bore, high, "insert"), box(bore, low, outside, high, "insert")]
    if tee:
        assert isinstance(hardware, TeeNut)
        flange, thick = hardware.flange_diameter_mm * SCALE / 2.0, hardware.flange_thickness_mm * SCALE
        metal += [box(-flange, high - thick, -outside, high, "flange"), box(outside, high - thick, flange, high, "flange")]
    dead: list[Shape] = []
    for one, two in ((low, live[0]), (live[1], high)):
        if two - one > 0.2:
            dead += [box(-outside, one, -bore, two, "no thread"), box(bore, one, outside, two, "no thread")]
    guide = _guide(derived, state, height)
    tip = max([high, *(shape.vertices[2][1] for shape in guide)])
    lines: list[Shape] = list(arrow(0.0, tip + 24.0, 0.0, tip + 3.0, "drive it in from here"))
    lines += [line(side * bore, live[0] + step, side * (bore + 1.6), live[0] + step + 0.8, "thread")
              for side in (-1.0, 1.0) for step in _steps(live[1] - live[0])]  # fmt: skip
    unit = design.units
    sunk = height - high
    end = "flush" if abs(sunk) < 0.02 else f"{length_text(abs(sunk) / SCALE, unit)} {'under' if sunk > 0.0 else 'out of'} the face"
    right = half + 6.0
    # Words stand apart, whatever the heights are.
    heights = _apart([high, (live[0] + live[1]) / 2.0, low])
    texts = (f"{'flange' if tee else 'slot'} end: {end}", "live thread", "far end" + (": flush" if abs(low) < 0.02 else ""))
    notes: list[Shape] = [note(right, at, text) for at, text in zip(heights, texts, strict=True)]
    lines += [
        leader(right - 1.0, at, outside, to, "what is named")
        for at, to in zip(heights, (high, (live[0] + live[1]) / 2.0, low), strict=True)
    ]
    notes += [
        note(4.0, tip + 20.0, f"driven from the {use.driven_from}"),
        note(-half, min(low, 0.0) - 5.0, f"{use.driven_from} up"),
    ]
    if guide:
        notes.append(note(right, tip - 3.0, "guide block, clamped"))
    below: list[Shape] = []
    if low < -0.02:
        far = low - 4.0
        below = [box(-half, far, -half + SPACER_MM * SCALE, 0.0, "spacer"), box(half - SPACER_MM * SCALE, far, half, 0.0, "spacer")]
        notes.append(note(0.0, far - 8.0, "on spacers: the far end stands out", "middle"))
    layers = (FigureLayer("wood", (*wood, *below, *guide)), FigureLayer("metal", tuple(metal)), FigureLayer("dead", tuple(dead)),
              FigureLayer("line", tuple(lines)), FigureLayer("note", tuple(notes)))  # fmt: skip
    words = (
        f"Section through {board}: the {'tee nut' if tee else 'insert'} goes in from the {use.driven_from}, {texts[0]}. "
        "Dashed: no thread."
    )
    return Figure(
        f"Driving the {'tee nut' if tee else 'insert'} of {state.foot.name.text}",
        words,
        tuple(item for item in layers if item.shapes),
    )


def _guide(derived: Derived, state: FootState, height: float) -> tuple[Path, ...]:
    """The guide block over the hole, where one is cut with the parts."""
    names = ("helper.guide_block", f"helper.guide_block.{state.foot.name.text}")
    part = next((part for part in derived.parts if part.part in names), None)
    bore = next((item.shape for item in part.features if isinstance(item.shape, Round)), None) if part is not None else None
    if part is None or bore is None:
        return ()
    radius, tall, half = bore.diameter_mm * SCALE / 2.0, part.thickness.mean * part.quantity * SCALE, part.outline.bounds[2] * SCALE
    return tuple(
        box(min(side * radius, side * half), height, max(side * radius, side * half), height + tall, "guide block")
        for side in (-1.0, 1.0)
    )


def _steps(length: float) -> tuple[float, ...]:
    return tuple(1.6 * index for index in range(int(length / 1.6)))


def _apart(heights: list[float], least: float = 6.0) -> list[float]:
    """Heights from the top down, moved apart to at least `least`."""
    found = [heights[0]]
    for at in heights[1:]:
        found.append(min(at, found[-1] - least))
    return found
